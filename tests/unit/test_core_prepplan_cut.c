/*
 * test_core_prepplan_cut.c - counted fish cut piece by piece: cuts of one
 * species on one scale, trim, whole fish, estimates.
 * Every kitchen is worked out by hand.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "plan_rig.h"

static struct rig k;

static void
setup(void)
{
	rig_open_hake(&k);
}

static void
teardown(void)
{
	rig_close(&k);
}

/* --- one fish where the eye opens two --------------------------------------*/

START_TEST(by_hand)
{
	struct plan_batch *b = rig_fish(&k, "B", "HKE", 2, 1000);
	grams least, most;
	size_t p;

	rig_hake(&k, "large", CUT_SUPREME, true, 150, 160, 170, 2);
	rig_hake(&k, "small", CUT_SUPREME, true, 82, 90, 98, 2);
	rig_plan(&k);
	ck_assert_uint_eq(k.plan.opened_count, 1);
	ck_assert_int_eq(b->count, 1);
	ck_assert_int_eq(rig_line(&k, "large")->to_make, 2);
	ck_assert_int_eq(rig_line(&k, "small")->to_make, 2);
	for (p = 0; p < 2; p++)
		ck_assert_uint_eq(k.plan.opened[0].pieces[p].cut_count, 2);
	ck_assert_int_eq(rig_cut_g(&k, "large", &least, &most), 2);
	ck_assert(least >= 150 && most <= 158);
	ck_assert_int_eq(rig_cut_g(&k, "small", &least, &most), 2);
	ck_assert(least >= 82 && most <= 90);
	ck_assert_uint_eq(k.plan.head_fish, 2);
	ck_assert_int_eq(k.plan.head_opened_g, 2000);
	ck_assert_int_eq(k.plan.opened_g, 1000);
	ck_assert_int_le(k.plan.cost, k.plan.head_cost);
	ck_assert_uint_eq(k.plan.fish_seen, 2);
	ck_assert(k.plan.proved);
}
END_TEST

/* A portion more than wanted is none, and a fillet nobody needs stays whole
 * while it keeps. */
START_TEST(no_more_than_wanted)
{
	const struct plan_opened *o;
	int64_t n = 0;
	size_t p;
	grams least, most;

	rig_fish(&k, "B", "HKE", 3, 1000);
	rig_hake(&k, "dish", CUT_SUPREME, true, 110, 120, 130, 1 + _i);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 1 + _i);
	ck_assert_int_eq(rig_cut_g(&k, "dish", &least, &most), 1 + _i);
	ck_assert(least >= 120 && most <= 130);
	o = k.plan.opened;
	for (p = 0; p < o->piece_count; p++)
		n += o->pieces[p].kept;
	ck_assert_int_eq(n, _i < 2 ? 1 : 0);
}
END_TEST

/* --- cuts on one scale -----------------------------------------------------*/

/*
 * Skin on and skin off out of one fish.  A fillet of 240 g with skin gives one
 * of 120 g skin on and one of 108 g skin off, which is 120 g with its skin.
 */
START_TEST(skin_on_and_off)
{
	grams least, most;

	rig_fish(&k, "B", "HKE", 1, 1000);
	rig_hake(&k, "on", CUT_SUPREME, true, 120, 120, 120, 2);
	rig_hake(&k, "off", CUT_SUPREME, false, 108 + _i, 108 + _i, 109, 2);
	rig_plan(&k);
	ck_assert_int_eq(
	    rig_line(&k, "off")->to_make + rig_line(&k, "on")->to_make,
	    _i == 0 ? 4 : 3);
	rig_cut_g(&k, "off", &least, &most);
	if (_i == 0)
		ck_assert(least >= 108 && most <= 109);
}
END_TEST

/*
 * Rounded against the kitchen: 101 g skin off are 112.2 g with skin, which is
 * 113, and 128 + 113 is a gram more than the fillet has.
 */
START_TEST(scale_rounds_up)
{
	rig_fish(&k, "B", "HKE", 1, 1000);
	rig_hake(&k, "on", CUT_SUPREME, true, 128, 128, 128, 2);
	rig_hake(&k, "off", CUT_SUPREME, false, 101, 101, 101, 2);
	rig_plan(&k);
	ck_assert_int_eq(
	    rig_line(&k, "off")->to_make + rig_line(&k, "on")->to_make, 3);
}
END_TEST

/* A gram on a coarse scale is two of the cut: never over the menu's high. */
START_TEST(scale_coarse)
{
	grams least, most;

	rig_fish(&k, "B", "HKE", 1, 1000);
	rig_hake(&k, "a", CUT_SUPREME, true, 40, 40, 45, 1)->finish_bp = 5000;
	rig_hake(&k, "b", CUT_SUPREME, true, 101, 101, 101, 2);
	rig_plan(&k);
	ck_assert_int_eq(rig_cut_g(&k, "b", &least, &most), 2);
	ck_assert_int_eq(least, 101);
	ck_assert_int_eq(most, 101);
}
END_TEST

/* A fillet served as it is: 244 g with skin are 219.6 g, over 219. */
START_TEST(fillet_too_large)
{
	rig_yield(&k, "", PRES_WHOLE, CUT_FILLET, false, 4320, 4000);
	rig_fish(&k, "B", "HKE", 1, 1017);
	rig_hake(&k, "on", CUT_SUPREME, true, 300, 300, 310, 1);
	rig_hake(&k, "off", CUT_FILLET, false, 200, 210, 219 + _i, 2);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "off")->to_make, _i == 0 ? 0 : 2);
	if (_i == 0)
		ck_assert_int_eq(
		    rig_take(&k, "off", "B")->reason, PLAN_TOO_LARGE);
}
END_TEST

/* 242 g with skin are 217.8 without: 217 are promised. */
START_TEST(scale_rounds_down)
{
	grams least, most;

	rig_fish(&k, "B", "HKE", 1, 1010);
	rig_hake(&k, "on", CUT_SUPREME, true, 300, 300, 310, 1);
	rig_hake(&k, "off", CUT_SUPREME, false, 217, 217, 230, 2);
	rig_plan(&k);
	ck_assert_int_eq(rig_cut_g(&k, "off", &least, &most), 2);
	ck_assert_int_eq(least, 217);
	ck_assert_int_eq(most, 217);
}
END_TEST

/* What finishing takes is in the scale: 100 g out of 125 g. */
START_TEST(finishing)
{
	struct plan_cut *c;
	grams least, most;

	rig_fish(&k, "B", "HKE", 4, 1000); /* fillets of 240 g */
	c = rig_hake(&k, "dish", CUT_SUPREME, true, 100, 100, 110, 8);
	c->finish_bp = 8000; /* 192 g of the 240: one each */
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 8);
	ck_assert_uint_eq(k.plan.opened_count, 4);
	rig_cut_g(&k, "dish", &least, &most);
	ck_assert(least >= 100 && most <= 110);
}
END_TEST

/* A supreme that loses nothing and one that is trimmed, on one fish. */
START_TEST(two_finishes)
{
	grams least, most;

	rig_fish(&k, "B", "HKE", 1, 1000);
	rig_hake(&k, "plain", CUT_SUPREME, true, 115, 115, 120, 2);
	rig_hake(&k, "square", CUT_SUPREME, true, 100, 100, 110, 2)->finish_bp =
	    8000;
	rig_plan(&k);
	ck_assert_uint_eq(k.plan.opened_count, 1);
	ck_assert_int_eq(rig_line(&k, "plain")->to_make, 2);
	ck_assert_int_eq(rig_line(&k, "square")->to_make, 2);
	rig_cut_g(&k, "square", &least, &most);
	ck_assert(least >= 100 && most <= 110);
}
END_TEST

/*
 * Loin is the thick half of a skinless fillet: of 216 g there are 108 g for it,
 * one portion of 100 g and not two; the tail end is for the other dish.
 */
START_TEST(thick_part)
{
	rig_fish(&k, "B", "HKE", 1, 1000);
	rig_hake(&k, "loin", CUT_LOIN, false, 100, 100, 105, 4);
	if (_i == 1)
		rig_hake(&k, "end", CUT_SUPREME, false, 100, 100, 110, 2);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "loin")->to_make, 2);
	ck_assert_int_eq(rig_line(&k, "loin")->short_of, 2);
	ck_assert(!rig_line(&k, "loin")->by_choice);
	if (_i == 1)
		ck_assert_int_eq(rig_line(&k, "end")->to_make, 2);
}
END_TEST

/* Steaks across the bone: only with the house's own yield. */
START_TEST(troncon)
{
	struct plan_cut *c;
	const struct plan_opened *o;

	rig_fish(&k, "B", "HKE", 2, 1000);
	c = rig_hake(&k, "steak", CUT_TRONCON, true, 200, 200, 220, 3);
	c->house_yield_bp = _i == 0 ? 6000 : 0;
	rig_plan(&k);
	if (_i == 1) {
		ck_assert_int_eq(
		    rig_take(&k, "steak", "B")->reason, PLAN_NO_YIELD);
		ck_assert(!rig_line(&k, "steak")->order_known);
		return;
	}
	ck_assert_int_eq(rig_line(&k, "steak")->to_make, 3);
	ck_assert_uint_eq(k.plan.opened_count, 1);
	o = k.plan.opened;
	ck_assert(o->troncon);
	ck_assert_uint_eq(o->piece_count, 1);
	ck_assert_int_eq(o->pieces[0].cuts[0].portion_g, 200);
}
END_TEST

/* A fish is filleted or steaked, not both. */
START_TEST(fillet_or_steak)
{
	size_t i;

	rig_fish(&k, "B", "HKE", 2, 1000);
	rig_hake(&k, "steak", CUT_TRONCON, true, 200, 200, 220, 3)
	    ->house_yield_bp = 6000;
	rig_hake(&k, "fillet", CUT_FILLET, true, 230, 240, 250, 2);
	rig_plan(&k);
	ck_assert_uint_eq(k.plan.opened_count, 2);
	ck_assert_int_eq(rig_line(&k, "steak")->to_make, 3);
	ck_assert_int_eq(rig_line(&k, "fillet")->to_make, 2);
	for (i = 0; i < 2; i++)
		ck_assert_uint_eq(k.plan.opened[i].piece_count,
		    k.plan.opened[i].troncon ? 1 : 2);
	ck_assert(k.plan.opened[0].troncon != k.plan.opened[1].troncon);
}
END_TEST

/* A dish of two species: cod lasts longer, hake does four of the six. */
START_TEST(two_species)
{
	struct plan_batch *hake = rig_fish(&k, "H", "HKE", 1, 1000);

	rig_fish(&k, "C", "COD", 3, 1000);
	rig_ends(hake, 1);
	rig_hake(&k, "stew", CUT_SUPREME, false, 100, 100, 108, 6);
	rig_or(&k, 0, "COD");
	rig_plan(&k);
	ck_assert_int_eq(rig_take(&k, "stew", "H")->portions, 4);
	ck_assert_int_eq(rig_take(&k, "stew", "C")->portions, 2);
	ck_assert_str_eq(rig_take(&k, "stew", "C")->species, "COD");
	ck_assert_int_eq(rig_line(&k, "stew")->species_count, 2);
	ck_assert_int_eq(rig_line(&k, "stew")->short_of, 0);
}
END_TEST

/* Fillets of 190 g: two of 95 g would do for hake, not for cod. */
START_TEST(species_narrows)
{
	rig_fish(&k, "C", "COD", 1, 880);
	rig_hake(&k, "stew", CUT_SUPREME, false, 90, 100, 110, 4);
	rig_or(&k, 0, "COD")->low_g = 98;
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "stew")->to_make, 2);
}
END_TEST

/* A species whose own portions cannot meet the dish's is left out of it. */
START_TEST(species_misses)
{
	struct plan_cut *c;

	rig_fish(&k, "C", "COD", 3, 1000);
	rig_hake(&k, "stew", CUT_SUPREME, false, 100, 100, 108, 6);
	c = rig_or(&k, 0, "COD");
	c->low_g = c->target_g = 150;
	c->high_g = 160;
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "stew")->to_make, 0);
	ck_assert_int_eq(rig_line(&k, "stew")->short_of, 6);
}
END_TEST

/*
 * Trim: fillets of 216 g skinless, one of 150 g from each leaves 66 g.  Two
 * fish leave 264 g: two cakes of 100 g, and a third has to be bought.
 */
START_TEST(trim_pool)
{
	const struct plan_take *t;

	rig_fish(&k, "B", "HKE", 2, 1000);
	rig_hake(&k, "dish", CUT_SUPREME, false, 150, 150, 155, 4);
	rig_hake(&k, "cakes", CUT_TRIM, false, 80, 100, 110, 3);
	rig_plan(&k);
	t = rig_take(&k, "cakes", "B");
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 4);
	ck_assert_int_eq(rig_line(&k, "cakes")->to_make, 2);
	ck_assert_int_eq(rig_line(&k, "cakes")->short_of, 1);
	ck_assert_int_eq(t->reason, PLAN_TAKEN);
	ck_assert_int_eq(t->weight_g, 264);
	ck_assert_int_eq(t->fish, 2);
	ck_assert_int_eq(k.plan.trim_g, 264);
}
END_TEST

/* --- served whole ----------------------------------------------------------*/

START_TEST(whole_fish)
{
	grams g[4] = { 500, 450, 400, 300 };
	struct plan_batch *b = rig_batch(&k, "B", "HKE", PRES_WHOLE, 4, 0);
	size_t i;

	rig_weigh(b, g);
	/* 90 % of 500, 450, 400: 450, 405, 360.  The last is under. */
	rig_hake(&k, "whole", CUT_WHOLE, true, 360, 400, 450, 4);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "whole")->to_make, 3);
	ck_assert_int_eq(rig_line(&k, "whole")->short_of, 1);
	for (i = 0; i < k.plan.opened_count; i++)
		ck_assert_int_eq(k.plan.opened[i].number, (int)i + 1);
	ck_assert_int_eq(b->count, 1);
	ck_assert_int_eq(b->fish_g[0], 300);
	ck_assert_int_eq(b->fish_number[0], 4);
}
END_TEST

/* --- estimates -------------------------------------------------------------*/

/* Fish nobody weighed differ: not every one gives what the mean would. */
START_TEST(estimated)
{
	struct plan_batch *b = rig_batch(&k, "B", "HKE", PRES_WHOLE, 10, 10000);
	size_t i;

	b->cv_bp = 2000;
	/* Two of 240 g from the mean fish. */
	rig_hake(&k, "dish", CUT_FILLET, true, 240, 240, 400, 20);
	rig_plan(&k);
	ck_assert(k.plan.estimated);
	ck_assert(rig_take(&k, "dish", "B")->estimated);
	ck_assert_int_ge(rig_line(&k, "dish")->to_make, 8);
	ck_assert_int_le(rig_line(&k, "dish")->to_make, 10);
	for (i = 0; i < k.plan.opened_count; i++)
		ck_assert_int_eq(k.plan.opened[i].number, 0);
	ck_assert_int_eq(b->count, 10 - (int64_t)k.plan.opened_count);
}
END_TEST

START_TEST(weighed)
{
	rig_fish(&k, "B", "HKE", 10, 1000);
	rig_hake(&k, "dish", CUT_FILLET, true, 240, 240, 400, 20);
	rig_plan(&k);
	ck_assert(!k.plan.estimated);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 20);
	ck_assert_int_eq(k.plan.opened[9].number, 10);
}
END_TEST

/* Fry of a gram or less must not stop the plan of everything else. */
START_TEST(fry)
{
	rig_batch(&k, "fry", "HKE", PRES_WHOLE, 50, 10)->cv_bp = 2000;
	rig_batch(&k, "none", "HKE", PRES_WHOLE, 3, 0)->cv_bp = 2000;
	rig_fish(&k, "B", "HKE", 1, 1000);
	rig_hake(&k, "dish", CUT_SUPREME, true, 110, 120, 130, 4);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 4);
	ck_assert_int_eq(rig_take(&k, "dish", "B")->portions, 4);
}
END_TEST

/* Nor must a fish beyond what is cut fish by fish. */
START_TEST(giant)
{
	rig_batch(&k, "giant", "HKE", PRES_WHOLE, 1, 600000);
	rig_batch(&k, "big", "HKE", PRES_WHOLE, 1, 90000);
	rig_fish(&k, "B", "HKE", 1, 1000);
	rig_hake(&k, "dish", CUT_SUPREME, true, 110, 120, 130, 4);
	rig_hake(&k, "whole", CUT_WHOLE, true, 360, 400, 450, 1);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 4);
	ck_assert_int_eq(
	    rig_take(&k, "whole", "giant")->reason, PLAN_TOO_HEAVY);
	rig_hake(&k, "more", CUT_SUPREME, true, 110, 120, 130, 9);
	rig_plan(&k);
	ck_assert_int_eq(rig_take(&k, "more", "giant")->reason, PLAN_TOO_HEAVY);
	ck_assert_int_eq(rig_take(&k, "more", "big")->reason, PLAN_TOO_HEAVY);
}
END_TEST

/* --- what is taken in hand -------------------------------------------------*/

/*
 * Two dishes out of one fish are two jobs: it is filleted for the one that gets
 * more of it, the other finds the fillets.  Mussels are a job by weight.
 */
START_TEST(jobs)
{
	struct work_job *w;
	size_t n;

	rig_yield(&k, "", PRES_LIVE, CUT_MEAT, false, 2500, 2000);
	rig_ends(rig_fish(&k, "B", "HKE", 3, 1000), 0);
	rig_batch(&k, "M", "MUS", PRES_LIVE, 0, 5000);
	rig_hake(&k, "large", CUT_SUPREME, true, 150, 160, 170, 2);
	rig_hake(&k, "small", CUT_SUPREME, false, 70, 70, 72, 1);
	rig_dish(&k, 0,
	    &(struct rig_dish){
		"toast", "MUS", CUT_MEAT, false, 50, 50, 60, 4 });
	rig_plan(&k);
	plan_jobs(&w, &n, &k.plan, &k.problem);
	ck_assert_uint_eq(n, 3);
	ck_assert_str_eq(w[0].batch, "B");
	ck_assert_int_eq(w[0].fish, 1);
	ck_assert_int_eq(w[0].pieces, 2);
	ck_assert_int_eq(w[0].fish_g, 1000);
	ck_assert_int_eq(w[0].weight_g, 1000);
	ck_assert_int_eq(w[0].bought, PRES_WHOLE);
	ck_assert_int_eq(w[0].portions, 2);
	ck_assert(w[0].today);
	ck_assert_int_eq(w[0].deadline_utc, RIG_END(0) - 1000);
	ck_assert_int_eq(w[1].bought, PRES_FILLET_SKINLESS);
	ck_assert_int_eq(w[1].portions, 1);
	ck_assert_str_eq(w[2].batch, "M");
	ck_assert_int_eq(w[2].fish, 0);
	ck_assert_int_eq(w[2].weight_g, 800);
	ck_assert(!w[2].today);
	free(w);
}
END_TEST

Suite *
suite_core_prepplan_cut(void)
{
	Suite *s = suite_create("core_prepplan_cut");
	TCase *tc = tcase_create("cut");

	tcase_add_unchecked_fixture(tc, rig_setup, rig_teardown);
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, by_hand);
	tcase_add_loop_test(tc, no_more_than_wanted, 0, 4);
	tcase_add_loop_test(tc, skin_on_and_off, 0, 2);
	tcase_add_test(tc, scale_rounds_up);
	tcase_add_test(tc, scale_rounds_down);
	tcase_add_test(tc, scale_coarse);
	tcase_add_loop_test(tc, fillet_too_large, 0, 2);
	tcase_add_test(tc, jobs);
	tcase_add_test(tc, finishing);
	tcase_add_test(tc, two_finishes);
	tcase_add_loop_test(tc, thick_part, 0, 2);
	tcase_add_loop_test(tc, troncon, 0, 2);
	tcase_add_test(tc, fillet_or_steak);
	tcase_add_test(tc, two_species);
	tcase_add_test(tc, species_narrows);
	tcase_add_test(tc, species_misses);
	tcase_add_test(tc, trim_pool);
	tcase_add_test(tc, whole_fish);
	tcase_add_test(tc, estimated);
	tcase_add_test(tc, weighed);
	tcase_add_test(tc, fry);
	tcase_add_test(tc, giant);
	suite_add_tcase(s, tc);
	return s;
}
