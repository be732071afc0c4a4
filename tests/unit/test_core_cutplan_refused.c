/*
 * test_core_cutplan_refused.c - what a plan and a problem may not be,
 * and the largest numbers they may hold.
 */
#include "unit.h"

#include <string.h>

#include "cut_kitchen.h"

static struct cut_kitchen k;

static void
setup(void)
{
	cut_kitchen_init(&k, 50);
}

static void
teardown(void)
{
	cut_kitchen_fini(&k);
}

/* --- what a plan may not be ------------------------------------------------*/

/* Fish 1 cut, fish 2 whole, fish 3 closed; each row breaks one thing. */
static const struct {
	const char *why;
	const char *said;
} plans[] = {
	{ "as it is", NULL },
	{ "fewer fish", "the plan is for 2 fish, there are 3" },
	{ "below the band", "fish 1, piece 1: a portion outside its weights" },
	{ "weight lost", "fish 1, piece 1: portions and trim are not" },
	{ "kept and cut", "fish 1, piece 1: left whole, and cut" },
	{ "no dish", "fish 1, piece 1: a portion of no dish" },
	{ "other species", "fish 1, piece 1: a portion of a dish of other" },
	{ "not from this way", "fish 1, piece 1: a portion that this way" },
	{ "thick part", "fish 1, piece 1: more than the thick part" },
	{ "a way it has not", "fish 1: is opened in a way it does not have" },
	{ "pinned", "fish 1: is opened, but must stay closed" },
	{ "must open", "fish 3: stays closed, but must be opened" },
	{ "must be whole", "fish 1: must be served whole" },
	{ "too heavy", "fish 2: is served whole for a dish that does not" },
	{ "whole in pieces", "fish 1, piece 1: a portion of a dish served" },
	{ "negative trim", "fish 1, piece 1: portions and trim are not" },
	{ "a piece cut", "fish 1, piece 1: a piece served as it is that" },
	{ "no such mode", "fish 2: is neither closed, whole nor cut" },
};

static void
break_plan(int row, struct cut_plan *p)
{
	struct cut_piece *piece = &p->fish[0].pieces[0];

	switch (row) {
	case 1:
		p->fish_count = 2;
		break;
	case 2:
		piece->cuts[0].portion_g = 89;
		piece->trim_g += 6;
		break;
	case 3:
		piece->trim_g++;
		break;
	case 4:
		piece->kept = true;
		break;
	case 5:
		piece->cuts[0].dish = 3;
		break;
	case 6:
		k.dishes[0].species = 2;
		break;
	case 7:
		k.fish[0].ways[0].dishes = 4;
		break;
	case 8:
		k.fish[0].ways[0].thick_g = 89;
		break;
	case 9:
		p->fish[0].way = 1;
		break;
	case 10:
		k.fish[0].pin = PIN_CLOSED;
		break;
	case 11:
		k.fish[2].pin = PIN_OPEN;
		break;
	case 12:
		k.fish[0].pin = PIN_WHOLE;
		break;
	case 13:
		k.fish[1].whole_g = 551;
		break;
	case 14:
		piece->cuts[0].dish = 1;
		break;
	case 15:
		piece->trim_g = -1;
		piece->cuts[0].portion_g++;
		break;
	case 16:
		piece->cuts[0].dish = 2;
		break;
	case 17:
		p->fish[1].mode = (enum cut_mode)7;
		break;
	default:
		break;
	}
}

START_TEST(plan_rows)
{
	struct cut_portion cut = { 0, 95 };
	struct cut_piece piece = { &cut, 1, 0, false };
	struct cut_choice choices[3];
	struct cut_plan p;
	struct err err;
	enum rc rc;

	err_clear(&err);
	cut_kitchen_dish(&k, 1, 90, 100, 110, 9000)->under_price = 2;
	k.dishes[0].thick = true;
	cut_kitchen_dish(&k, 2, 450, 500, 550, 5000)->serve = SERVE_WHOLE;
	cut_kitchen_dish(&k, 1, 90, 100, 110, 300)->serve = SERVE_PIECE;
	cut_kitchen_pool(&k, 50, 3, 1);
	cut_kitchen_fish(&k, 0, 500, 1000, 1, 95);
	cut_kitchen_fish(&k, 0, 500, 700, 1, 95);
	cut_kitchen_fish(&k, 0, 500, 700, 1, 95);
	memset(choices, 0, sizeof(choices));
	memset(&p, 0, sizeof(p));
	p.fish = choices;
	p.fish_count = 3;
	choices[0].mode = MODE_CUT;
	choices[0].pieces = &piece;
	choices[1].mode = MODE_WHOLE;
	choices[1].dish = 1;
	break_plan(_i, &p);
	if (_i == 16)
		k.fish[0].ways[0].piece_g = 96, piece.trim_g = 1;
	rc = cut_check(&p, &k.p, &err);
	if (plans[_i].said == NULL) {
		ck_assert_msg(rc == RC_OK, "%s", err.text);
		/* 5 g under at 2, a whole fish and a piece short, trim 50 g */
		ck_assert_int_eq(p.cost, 1000 + 700 + 10 + 5000 + 300 + 150);
		ck_assert_int_eq(p.made[0], 1);
		ck_assert_int_eq(p.short_of[1], 1);
		ck_assert_int_eq(p.trim_short_g[0], 50);
		return;
	}
	ck_assert_msg(rc == RC_INVALID, "%s", plans[_i].why);
	ck_assert_msg(
	    strncmp(err.text, plans[_i].said, strlen(plans[_i].said)) == 0,
	    "%s: %s", plans[_i].why, err.text);
}
END_TEST

/* --- what a problem may not be ---------------------------------------------*/

static const struct {
	const char *why;
	const char *said;
} problems[] = {
	{ "dishes", "25 dishes, at most 24" },
	{ "pools", "9 trim pools, at most 8" },
	{ "fish", "10001 fish, at most 10000" },
	{ "gap", "the gap that counts as proved" },
	{ "wanted", "dish 1: portions wanted are not 0 to 10000" },
	{ "band", "dish 1: weights are not 0 < low" },
	{ "no weight", "dish 1: weights are not 0 < low" },
	{ "price", "dish 1: a price is below 0 or above 10^11" },
	{ "species", "dish 1: a species is above 16" },
	{ "served", "dish 1: it is served neither" },
	{ "pool grams", "trim pool 1: grams wanted are out of range" },
	{ "pool price", "trim pool 1: the price is below 0" },
	{ "fish species", "fish 2: its species is not 0 to 15" },
	{ "fish weight", "fish 2: its weight is not 0 to 200 kg" },
	{ "fish cost", "fish 2: its cost is below 0" },
	{ "pin", "fish 2: the pin is none of the four" },
	{ "ways", "fish 2: ways to open it are not 0 to 2" },
	{ "pieces", "fish 2: pieces are not 1 to 8" },
	{ "piece", "fish 2: a piece is not 0 to 20 kg" },
	{ "thick", "fish 2: the thick part is heavier than the piece" },
	{ "keep", "fish 2: the credit for a piece is below 0" },
	{ "byproduct", "fish 2: the trim beside the pieces" },
	{ "pinned open", "fish 2: must be opened, but has no way" },
	{ "sum", "the costs add up beyond 2^61" },
};

static void
break_asked(int row)
{
	switch (row) {
	case 0:
		k.p.dish_count = 25;
		break;
	case 1:
		k.p.pool_count = 9;
		break;
	case 2:
		k.p.fish_count = 10001;
		break;
	case 3:
		k.p.within = 0;
		break;
	case 4:
		k.dishes[0].wanted = 10001;
		break;
	case 5:
		k.dishes[0].high_g = 99;
		break;
	case 6:
		k.dishes[0].low_g = 0;
		break;
	case 7:
		k.dishes[0].under_price = -1;
		break;
	case 8:
		k.dishes[0].species = 1u << 16;
		break;
	case 9:
		k.dishes[0].serve = (enum cut_serve)3;
		break;
	case 10:
		k.pools[0].wanted_g = -1;
		break;
	case 11:
		k.pools[0].price = CUT_MONEY_MAX + 1;
		break;
	default:
		break;
	}
}

static void
break_fish(int row)
{
	struct cut_way *way = &k.fish[1].ways[0];

	switch (row) {
	case 12:
		k.fish[1].species = 16;
		break;
	case 13:
		k.fish[1].whole_g = CUT_FISH_MAX_G + 1;
		break;
	case 14:
		k.fish[1].cost = -1;
		break;
	case 15:
		k.fish[1].pin = (enum cut_pin)4;
		break;
	case 16:
		k.fish[1].way_count = 3;
		break;
	case 17:
		way->pieces = 9;
		break;
	case 18:
		way->piece_g = 20001;
		break;
	case 19:
		way->thick_g = 96;
		break;
	case 20:
		way->keep = CUT_MONEY_MAX + 1;
		break;
	case 21:
		way->byproduct_g = -1;
		break;
	case 22:
		k.fish[1].pin = PIN_OPEN;
		k.fish[1].way_count = 0;
		break;
	case 23:
		/* 10^4 portions of 10^11, and 2e9 g of trim at 10^11 */
		k.dishes[0].wanted = 10000;
		k.dishes[0].short_cost = CUT_MONEY_MAX;
		k.pools[0].wanted_g = 2000000000;
		k.pools[0].price = CUT_MONEY_MAX;
		break;
	default:
		break;
	}
}

START_TEST(problem_rows)
{
	struct cut_plan plan;
	struct err err;

	err_clear(&err);
	cut_kitchen_dish(&k, 1, 90, 100, 110, 9000);
	cut_kitchen_pool(&k, 50, 3, 1);
	cut_kitchen_fish(&k, 0, 500, 1000, 1, 95);
	cut_kitchen_fish(&k, 0, 500, 700, 1, 95);
	ck_assert_int_eq(cut_problem_check(&k.p, &err), RC_OK);
	break_asked(_i);
	break_fish(_i);
	ck_assert_msg(
	    cut_solve(&plan, &k.p, &err) == RC_INVALID, "%s", problems[_i].why);
	ck_assert_msg(strncmp(err.text, problems[_i].said,
			  strlen(problems[_i].said)) == 0,
	    "%s: %s", problems[_i].why, err.text);
	ck_assert_ptr_null(plan.fish);
}
END_TEST

/* Every number at its limit at once, as far as the sums allow. */
START_TEST(largest_numbers)
{
	struct cut_plan plan;
	struct cut_fish *f;
	int i;

	for (i = 0; i < 3; i++)
		cut_kitchen_dish(&k, CUT_WANTED_MAX, 1000, 2000, CUT_FISH_MAX_G,
		    CUT_MONEY_MAX)
		    ->under_price = 100000;
	cut_kitchen_pool(&k, 1000000, 1000000, 1);
	for (i = 0; i < 50; i++) {
		f = cut_kitchen_fish(&k, 0, CUT_FISH_MAX_G, CUT_MONEY_MAX,
		    CUT_PIECES_MAX, CUT_PIECE_MAX_G);
		f->ways[0].byproduct_g = CUT_FISH_MAX_G;
		f->ways[0].keep = CUT_MONEY_MAX;
	}
	cut_kitchen_solve(&plan, &k);
	/* 8 pieces of 20 portions of a kilogram, each worth 10^11 less 10^8. */
	ck_assert_int_ge(plan.made[0] + plan.made[1] + plan.made[2], 50 * 160);
	cut_plan_fini(&plan);
}
END_TEST

/* A priced band so wide that its tables would take minutes. */
START_TEST(band_too_wide)
{
	struct cut_dish *d = cut_kitchen_dish(&k, 5, 1, 101, 200, 900);
	struct err err = { 0 };

	cut_kitchen_fish(&k, 0, 5000, 100, 2, 1001);
	ck_assert_int_eq(cut_problem_check(&k.p, &err), RC_OK);
	d->under_price = 1;
	ck_assert_int_eq(cut_problem_check(&k.p, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "dish 1: from 1 to 101 g"));
	k.fish[0].ways[0].piece_g = k.fish[0].ways[0].thick_g = 1000;
	ck_assert_int_eq(cut_problem_check(&k.p, &err), RC_OK);
}
END_TEST

Suite *
suite_core_cutplan_refused(void)
{
	Suite *s = suite_create("core_cutplan_refused");
	TCase *tc = tcase_create("refused");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, plan_rows, 0, (int)NELEM(plans));
	tcase_add_loop_test(tc, problem_rows, 0, (int)NELEM(problems));
	tcase_add_test(tc, largest_numbers);
	tcase_add_test(tc, band_too_wide);
	suite_add_tcase(s, tc);
	return s;
}
