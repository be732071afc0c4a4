/*
 * test_core_cutplan.c - plans with a known optimum, each thing a plan may do,
 * and whole kitchens.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "cut_kitchen.h"

static struct cut_kitchen k;
static struct cut_plan plan;

static void
setup(void)
{
	cut_kitchen_init(&k, 100);
	memset(&plan, 0, sizeof(plan));
}

static void
teardown(void)
{
	cut_plan_fini(&plan);
	cut_kitchen_fini(&k);
}

/* Solve, to the proved optimum. */
static void
best(int64_t cost)
{
	cut_plan_fini(&plan);
	cut_kitchen_solve(&plan, &k);
	ck_assert_int_eq(plan.cost, cost);
	ck_assert(plan.proved);
}

/* --- files with a known optimum -------------------------------------------*/

static int64_t
number(const char **s)
{
	char *end;
	int64_t v = strtoll(*s, &end, 10);

	ck_assert_ptr_ne(end, *s);
	*s = end;
	return v;
}

static void
vector_read(const char *path)
{
	struct cut_dish *d;
	struct cut_fish *f;
	struct buf b;
	struct err err;
	const char *s;
	int64_t n, i, v[4];
	int j;

	err_clear(&err);
	buf_init(&b, 100000);
	ck_assert_msg(file_read(&b, path, &err) == RC_OK, "%s", err.text);
	s = b.data;
	n = number(&s);
	number(&s);
	for (i = 0; i < n; i++) {
		for (j = 0; j < 4; j++)
			v[j] = number(&s);
		d = cut_kitchen_dish(&k, v[0], v[1], v[2], v[3], number(&s));
		d->species = (uint32_t)number(&s);
		d->serve = number(&s) != 0 ? SERVE_WHOLE : SERVE_CUT;
	}
	v[0] = number(&s);
	v[1] = number(&s);
	cut_kitchen_pool(&k, v[0], v[1], (uint32_t)number(&s));
	n = number(&s);
	for (i = 0; i < n; i++) {
		for (j = 0; j < 4; j++)
			v[j] = number(&s);
		f = cut_kitchen_fish(
		    &k, (int)v[0], v[1], number(&s), (int)v[3], v[2]);
		f->ways[0].keep = number(&s);
		f->ways[0].byproduct_g = number(&s);
	}
	buf_fini(&b);
}

/* Where each optimum is from: tests/fixtures/cut/README.md */
static const struct {
	const char *file;
	int64_t optimum;
} vectors[] = {
	{ "tests/fixtures/cut/hand1.txt", 550000 },
	{ "tests/fixtures/cut/two_species_12_fish.txt", 4677980 },
	{ "tests/fixtures/cut/plaice_10_fish_whole_and_quarter.txt", 7775438 },
};

START_TEST(vector_rows)
{
	vector_read(vectors[_i].file);
	best(vectors[_i].optimum);
}
END_TEST

/*
 * By hand: two hake, fillets of 240 g, two portions of 160 g and two of 90 g.
 * Who cuts 160 first has 80 g left and opens the second fish; 155 + 85 twice
 * takes one.
 */
START_TEST(hake_by_hand)
{
	const struct cut_choice *c;
	int i;

	cut_kitchen_dish(&k, 2, 150, 160, 170, 900000);
	cut_kitchen_dish(&k, 2, 82, 90, 98, 600000);
	cut_kitchen_fish(&k, 0, 1000, 550000, 2, 240);
	cut_kitchen_fish(&k, 0, 1000, 550000, 2, 240);
	best(550000);
	ck_assert_int_eq(plan.fish[0].mode, MODE_CUT);
	ck_assert_int_eq(plan.fish[1].mode, MODE_CLOSED);
	c = &plan.fish[0];
	for (i = 0; i < 2; i++) {
		ck_assert_uint_eq(c->pieces[i].cut_count, 2);
		/* 10 g short, as even as it goes. */
		ck_assert_int_eq(c->pieces[i].cuts[0].portion_g, 155);
		ck_assert_int_eq(c->pieces[i].cuts[1].portion_g, 85);
		ck_assert_int_eq(c->pieces[i].trim_g, 0);
	}
	ck_assert_int_eq(plan.made[0], 2);
	ck_assert_int_eq(plan.made[1], 2);
}
END_TEST

/* --- one thing at a time ---------------------------------------------------*/

START_TEST(nothing_asked)
{
	best(0);
	cut_kitchen_dish(&k, 3, 100, 100, 100, 70);
	best(210);
	ck_assert_int_eq(plan.short_of[0], 3);
	cut_kitchen_pool(&k, 10, 4, 1);
	best(250);
	ck_assert_int_eq(plan.trim_short_g[0], 10);
	cut_kitchen_fish(&k, 0, 500, 100, 1, 99);
	/* 40 of trim saved for 100: left alone. */
	best(250);
	ck_assert_int_eq(plan.fish[0].mode, MODE_CLOSED);
}
END_TEST

/* The first of two that cost the same goes: it expires first. */
START_TEST(first_fish_first)
{
	cut_kitchen_dish(&k, 1, 100, 100, 100, 5000);
	cut_kitchen_fish(&k, 0, 300, 1000, 1, 100);
	cut_kitchen_fish(&k, 0, 300, 1000, 1, 100);
	cut_kitchen_fish(&k, 0, 300, 1000, 1, 100);
	best(1000);
	ck_assert_int_eq(plan.fish[0].mode, MODE_CUT);
}
END_TEST

START_TEST(piece_as_it_is)
{
	struct cut_dish *d = cut_kitchen_dish(&k, 3, 180, 200, 220, 5000);

	d->serve = SERVE_PIECE;
	cut_kitchen_pool(&k, 1000, 1, 1);
	cut_kitchen_fish(&k, 0, 700, 1000, 2, 185);
	cut_kitchen_fish(&k, 0, 900, 900, 2, 221); /* too heavy, trim alone */
	best(1000 + 5000 + 1000);
	ck_assert_int_eq(plan.fish[0].pieces[1].cuts[0].portion_g, 185);
	/* 15 g under each: charged as if cut so. */
	d->under_price = 100;
	best(1000 + 2 * 15 * 100 + 5000 + 1000);
	ck_assert_int_eq(plan.trim_g[0], 0);
	/* Lighter fish: no portion fits. */
	k.fish[0].ways[0].piece_g = k.fish[0].ways[0].thick_g = 179;
	best(15000 + 1000);
}
END_TEST

START_TEST(whole_fish)
{
	struct cut_dish *d = cut_kitchen_dish(&k, 2, 450, 500, 550, 5000);

	d->serve = SERVE_WHOLE;
	cut_kitchen_fish(&k, 0, 449, 100, 1, 200);
	cut_kitchen_fish(&k, 0, 450, 300, 1, 200);
	cut_kitchen_fish(&k, 0, 550, 200, 1, 200)->way_count = 0;
	cut_kitchen_fish(&k, 0, 551, 100, 1, 200);
	cut_kitchen_fish(&k, 1, 500, 100, 1, 200);
	d->species = 1;
	best(500);
	d->under_price = 2; /* 450 g are 50 under */
	best(500 + 50 * 2);
	ck_assert_int_eq(plan.fish[1].mode, MODE_WHOLE);
	ck_assert_int_eq(plan.fish[2].mode, MODE_WHOLE);
	ck_assert_int_eq(plan.fish[2].dish, 0);
}
END_TEST

START_TEST(thick_part)
{
	struct cut_dish *d = cut_kitchen_dish(&k, 2, 100, 110, 120, 5000);

	d->thick = true;
	cut_kitchen_dish(&k, 2, 80, 90, 100, 3000);
	cut_kitchen_fish(&k, 0, 900, 1000, 1, 220)->ways[0].thick_g = 199;
	cut_kitchen_fish(&k, 0, 900, 1000, 1, 220)->ways[0].thick_g = 199;
	/* One loin from each, and a tail beside it. */
	best(2000);
	ck_assert_int_eq(plan.made[0], 2);
	/* Two at 100 g are just 200. */
	k.fish[0].ways[0].thick_g = 200;
	k.dishes[1].wanted = 0;
	best(1000);
	k.fish[0].ways[0].thick_g = k.fish[1].ways[0].thick_g = 99;
	best(10000);
}
END_TEST

START_TEST(two_ways)
{
	struct cut_fish *f;

	cut_kitchen_dish(&k, 2, 200, 200, 200, 4000); /* fillets */
	cut_kitchen_dish(&k, 3, 150, 150, 150, 3000); /* steaks */
	f = cut_kitchen_fish(&k, 0, 900, 1000, 2, 200);
	f->ways[0].dishes = 1;
	f->way_count = 2;
	f->ways[1].pieces = 1;
	f->ways[1].piece_g = f->ways[1].thick_g = 500;
	f->ways[1].dishes = 2;
	/* 8000 of fillets or 9000 of steaks. */
	best(1000 + 8000);
	ck_assert_int_eq(plan.fish[0].way, 1);
	ck_assert_int_eq(plan.made[1], 3);
	k.dishes[1].wanted = 2;
	best(1000 + 6000);
	ck_assert_int_eq(plan.fish[0].way, 0);
}
END_TEST

START_TEST(pins)
{
	struct cut_dish *d;

	cut_kitchen_dish(&k, 1, 100, 100, 100, 9000);
	d = cut_kitchen_dish(&k, 0, 300, 300, 300, 0);
	d->serve = SERVE_WHOLE;
	cut_kitchen_fish(&k, 0, 300, 1000, 1, 100);
	cut_kitchen_fish(&k, 0, 300, 2000, 1, 100);
	k.fish[0].pin = PIN_CLOSED;
	best(2000);
	ck_assert_int_eq(plan.fish[0].mode, MODE_CLOSED);
	k.fish[0].pin = PIN_NONE;
	k.fish[1].pin = PIN_OPEN;
	best(2000);
	ck_assert_int_ne(plan.fish[1].mode, MODE_CLOSED);
	k.fish[1].pin = PIN_WHOLE; /* nobody wants it whole; it is decided */
	best(3000);
	ck_assert_int_eq(plan.fish[1].mode, MODE_WHOLE);
	ck_assert_int_eq(plan.made[1], 1);
	k.fish[1].whole_g = 301; /* no dish takes it: not pinned */
	best(1000);
	ck_assert_int_eq(plan.fish[1].mode, MODE_CLOSED);
}
END_TEST

START_TEST(under_price)
{
	const struct cut_piece *piece;

	cut_kitchen_dish(&k, 1, 90, 100, 110, 9000)->under_price = 7;
	cut_kitchen_dish(&k, 1, 95, 100, 110, 9000)->under_price = 3;
	cut_kitchen_fish(&k, 0, 500, 1000, 1, 192);
	/* 8 g short: 5 at 3 from the second, then 3 at 7 from the first. */
	best(1000 + 15 + 21);
	piece = &plan.fish[0].pieces[0];
	ck_assert_int_eq(piece->cuts[0].portion_g, 97);
	ck_assert_int_eq(piece->cuts[1].portion_g, 95);
	/* A gram dearer than the portion: one is left short instead. */
	k.dishes[0].under_price = k.dishes[1].under_price = 2000;
	best(1000 + 9000);
}
END_TEST

START_TEST(shortfall_is_shared)
{
	static const grams want[] = { 97, 97, 97, 98 };
	int i;

	cut_kitchen_dish(&k, 4, 90, 100, 110, 9000);
	cut_kitchen_fish(&k, 0, 1000, 1000, 1, 389);
	best(1000);
	for (i = 0; i < 4; i++)
		ck_assert_int_eq(
		    plan.fish[0].pieces[0].cuts[i].portion_g, want[i]);
}
END_TEST

/* A rest no pool takes goes to the guests, as far as the band allows. */
START_TEST(rest_to_the_portions)
{
	cut_kitchen_dish(&k, 2, 90, 100, 110, 9000);
	cut_kitchen_fish(&k, 0, 1000, 1000, 1, 213);
	best(1000);
	ck_assert_int_eq(plan.fish[0].pieces[0].cuts[0].portion_g, 107);
	ck_assert_int_eq(plan.fish[0].pieces[0].cuts[1].portion_g, 106);
	ck_assert_int_eq(plan.fish[0].pieces[0].trim_g, 0);
	k.fish[0].ways[0].piece_g = k.fish[0].ways[0].thick_g = 225;
	best(1000);
	ck_assert_int_eq(plan.fish[0].pieces[0].cuts[0].portion_g, 110);
	ck_assert_int_eq(plan.fish[0].pieces[0].trim_g, 5);
	cut_kitchen_pool(&k, 100, 1, 1);
	best(1075);
	ck_assert_int_eq(plan.fish[0].pieces[0].cuts[0].portion_g, 100);
	ck_assert_int_eq(plan.fish[0].pieces[0].trim_g, 25);
	ck_assert_int_eq(plan.trim_g[0], 25);
}
END_TEST

/* Trim beside the pieces counts; a portion cut short makes none. */
START_TEST(trim_counts)
{
	cut_kitchen_dish(&k, 1, 90, 100, 110, 9000);
	cut_kitchen_pool(&k, 100, 2, 1);
	cut_kitchen_fish(&k, 0, 1000, 1000, 1, 95)->ways[0].byproduct_g = 30;
	best(1000 + 140);
	ck_assert_int_eq(plan.trim_g[0], 30);
	ck_assert_int_eq(plan.trim_short_g[0], 70);
}
END_TEST

START_TEST(kept_piece)
{
	cut_kitchen_dish(&k, 1, 100, 100, 100, 9000);
	cut_kitchen_pool(&k, 100, 2, 1);
	cut_kitchen_fish(&k, 0, 500, 1000, 2, 100)->ways[0].keep = 300;
	best(1000 - 300 + 200);
	ck_assert(plan.fish[0].pieces[0].kept != plan.fish[0].pieces[1].kept);
	k.fish[0].ways[0].keep = 100; /* as trim it is worth 200 */
	best(1000);
	ck_assert(!plan.fish[0].pieces[0].kept);
	ck_assert(!plan.fish[0].pieces[1].kept);
	/* A credit above the price is earned. */
	k.fish[0].ways[0].keep = 20000;
	best(1000 - 40000 + 9000 + 200);
}
END_TEST

/*
 * Species 0 feeds both pools, species 1 the dear one alone.  The dear pool must
 * leave species 0 to the other.
 */
START_TEST(trim_of_two_pools)
{
	cut_kitchen_pool(&k, 100, 3, 1);
	cut_kitchen_pool(&k, 100, 5, 3);
	cut_kitchen_fish(&k, 0, 500, 10, 1, 100);
	cut_kitchen_fish(&k, 1, 500, 10, 1, 60);
	best(20 + 40 * 3);
	ck_assert_int_eq(plan.trim_g[0], 60);
	ck_assert_int_eq(plan.trim_g[1], 100);
	ck_assert_int_eq(plan.trim_short_g[0], 40);
}
END_TEST

/* One dish of two species; each alone would leave a portion short. */
START_TEST(dish_of_two_species)
{
	cut_kitchen_dish(&k, 3, 100, 100, 100, 9000)->species = 3;
	cut_kitchen_fish(&k, 0, 500, 1000, 2, 100);
	cut_kitchen_fish(&k, 1, 500, 1000, 2, 100);
	cut_kitchen_fish(&k, 2, 500, 10, 2, 100);
	best(2000);
	ck_assert_int_eq(plan.fish[2].mode, MODE_CLOSED);
}
END_TEST

/* --- kitchens --------------------------------------------------------------*/

static const struct {
	const char *why;
	struct cut_random r;
	size_t fish;
} kitchens[] = {
	{ "no pool", { 1, 5, 12, 0, 60, false, false, false }, 60 },
	{ "a pool", { 2, 5, 12, 1, 60, false, false, false }, 60 },
	{ "two pools", { 3, 5, 12, 2, 60, true, false, false }, 60 },
	{ "under price", { 4, 5, 12, 1, 60, true, false, false }, 60 },
	{ "more wanted than there is", { 5, 5, 12, 1, 120, true, false, false },
	    60 },
	{ "a shared dish", { 6, 5, 12, 1, 60, true, true, false }, 60 },
	{ "half", { 7, 5, 12, 1, 60, true, false, false }, 30 },
	{ "twice", { 8, 5, 12, 1, 60, true, false, false }, 120 },
	{ "thick parts", { 10, 5, 12, 1, 60, true, false, true }, 60 },
	{ "one species", { 9, 1, 3, 1, 60, true, false, false }, 40 },
};

START_TEST(kitchen_rows)
{
	teardown();
	cut_kitchen_random(&k, &kitchens[_i].r, kitchens[_i].fish);
	cut_kitchen_solve(&plan, &k);
	ck_assert_msg(plan.proved, "%s: %d, bound %d", kitchens[_i].why,
	    (int)plan.cost, (int)plan.bound);
	ck_assert(!plan.capped);
}
END_TEST

static bool
same(const struct cut_plan *a, const struct cut_plan *b)
{
	const struct cut_choice *x, *y;
	size_t i;
	int j;

	if (a->cost != b->cost || a->bound != b->bound)
		return false;
	for (i = 0; i < a->fish_count; i++) {
		x = &a->fish[i];
		y = &b->fish[i];
		if (x->mode != y->mode || x->dish != y->dish ||
		    x->way != y->way)
			return false;
		for (j = 0;
		     x->mode == MODE_CUT && j < k.fish[i].ways[x->way].pieces;
		     j++)
			if (x->pieces[j].kept != y->pieces[j].kept ||
			    x->pieces[j].trim_g != y->pieces[j].trim_g ||
			    x->pieces[j].cut_count != y->pieces[j].cut_count ||
			    memcmp(x->pieces[j].cuts, y->pieces[j].cuts,
				x->pieces[j].cut_count *
				    sizeof(struct cut_portion)) != 0)
				return false;
	}
	return true;
}

START_TEST(same_again)
{
	struct cut_random r = { 11, 2, 8, 1, 80, true, true, false };
	struct cut_plan again;

	teardown();
	cut_kitchen_random(&k, &r, 50);
	cut_kitchen_solve(&plan, &k);
	cut_kitchen_solve(&again, &k);
	ck_assert(same(&plan, &again));
	cut_plan_fini(&again);
}
END_TEST

/*
 * What a cap on memory takes away is the proof, never the plan.  Each bound
 * holds for the plans of all the others.
 */
START_TEST(little_memory)
{
	struct cut_random r = { 12, 1, 5, 1, 80, true, false, false };
	static const size_t caps[] = { 1, 100000, 1000000, 8000000, 0 };
	int64_t bound = INT64_MIN, cost = INT64_MAX;
	size_t i;

	teardown();
	cut_kitchen_random(&k, &r, 40);
	for (i = 0; i < NELEM(caps); i++) {
		k.p.memory_max = caps[i];
		cut_plan_fini(&plan);
		cut_kitchen_solve(&plan, &k);
		ck_assert(plan.proved || plan.capped);
		if (i == 0)
			ck_assert(plan.capped && !plan.proved);
		if (plan.bound > bound)
			bound = plan.bound;
		if (plan.cost < cost)
			cost = plan.cost;
		ck_assert_int_le(bound, cost);
	}
}
END_TEST

/*
 * Hard ones, where labels are cut off: plans of these costs exist (found by
 * this solver, passed by cut_check), so no bound may be above.
 */
static const struct {
	unsigned seed;
	int64_t exists;
} hard[] = { { 1, 24516480 }, { 2, 26472893 } };

START_TEST(hard_rows)
{
	struct cut_random r = { hard[_i].seed, 1, 5, 1, 60, true, false,
		false };

	teardown();
	cut_kitchen_random(&k, &r, 60);
	cut_kitchen_solve(&plan, &k);
	ck_assert_int_le(plan.bound, hard[_i].exists);
	ck_assert_int_le(plan.cost - plan.bound, plan.cost / 100);
}
END_TEST

START_TEST(thousands_of_fish)
{
	struct cut_random r = { 13, 5, 12, 1, 60, true, false, false };

	teardown();
	cut_kitchen_random(&k, &r, CUT_FISH_MAX);
	cut_kitchen_solve(&plan, &k);
	ck_assert_int_le(plan.cost - plan.bound, plan.cost / 100);
}
END_TEST

/* More state than a label's key holds: a plan and its gap all the same. */
START_TEST(key_too_long)
{
	int i;

	for (i = 0; i < CUT_DISHES_MAX; i++)
		cut_kitchen_dish(&k, CUT_WANTED_MAX, 50 + 3 * i, 55 + 3 * i,
		    60 + 3 * i, 1000 + 70 * i);
	for (i = 0; i < 20; i++)
		cut_kitchen_fish(&k, 0, 2000, 3000 + i, 2, 400 + 7 * i);
	cut_kitchen_solve(&plan, &k);
	ck_assert_int_le(plan.cost - plan.bound, plan.cost / 100);
}
END_TEST

/* More sets of dishes than there are tables: the same. */
START_TEST(many_sets_of_dishes)
{
	int i;

	for (i = 0; i < 8; i++)
		cut_kitchen_dish(
		    &k, 5, 50 + 9 * i, 55 + 9 * i, 60 + 9 * i, 9000);
	for (i = 0; i < 100; i++)
		cut_kitchen_fish(&k, 0, 900, 3000, 2, 300)->ways[0].dishes =
		    (uint32_t)i + 156;
	cut_kitchen_solve(&plan, &k);
	for (i = 0; i < 8; i++)
		ck_assert_int_eq(plan.short_of[i], 0);
}
END_TEST

static void
add_things(TCase *tc)
{
	tcase_add_loop_test(tc, vector_rows, 0, (int)NELEM(vectors));
	tcase_add_test(tc, hake_by_hand);
	tcase_add_test(tc, nothing_asked);
	tcase_add_test(tc, first_fish_first);
	tcase_add_test(tc, piece_as_it_is);
	tcase_add_test(tc, whole_fish);
	tcase_add_test(tc, thick_part);
	tcase_add_test(tc, two_ways);
	tcase_add_test(tc, pins);
	tcase_add_test(tc, under_price);
	tcase_add_test(tc, shortfall_is_shared);
	tcase_add_test(tc, rest_to_the_portions);
	tcase_add_test(tc, trim_counts);
	tcase_add_test(tc, kept_piece);
	tcase_add_test(tc, trim_of_two_pools);
	tcase_add_test(tc, dish_of_two_species);
}

Suite *
suite_core_cutplan(void)
{
	Suite *s = suite_create("core_cutplan");
	TCase *tc = tcase_create("known optimum");

	tcase_add_checked_fixture(tc, setup, teardown);
	add_things(tc);
	suite_add_tcase(s, tc);
	tc = tcase_create("kitchens");
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 20);
	tcase_add_loop_test(tc, kitchen_rows, 0, (int)NELEM(kitchens));
	tcase_add_loop_test(tc, hard_rows, 0, (int)NELEM(hard));
	tcase_add_test(tc, same_again);
	tcase_add_test(tc, little_memory);
	tcase_add_test(tc, thousands_of_fish);
	tcase_add_test(tc, key_too_long);
	tcase_add_test(tc, many_sets_of_dishes);
	suite_add_tcase(s, tc);
	return s;
}
