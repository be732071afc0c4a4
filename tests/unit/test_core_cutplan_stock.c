/*
 * test_core_cutplan_stock.c - cutting-stock problems with a published answer.
 *
 * A bar is a fish of one piece, a width a dish of one exact weight: the cut
 * plan then is the one-dimensional cutting-stock problem of Gilmore and Gomory
 * (1961), and opens as few bars as it can.
 */
#include "unit.h"

#include "cut_kitchen.h"

#define BAR 1000000 /* cost of one */

struct stock {
	const char *why;
	grams bar;
	int bars;
	int64_t best, most; /* bars: the known optimum, and what we accept */
	int64_t bound;      /* thousandths of a bar, linear programme */
	struct {
		grams width;
		int64_t wanted;
	} widths[14];
};

/* clang-format off */
static const struct stock stocks[] = {
	/* miro.gams.com/gallery/app_direct/cutstock; the optimum 453 and the
	 * bound 452.25 are Gilmore and Gomory's example, from memory, and an
	 * integer programming solver gives the same. */
	{ "100 inches, four widths", 100, 470, 453, 453, 452250,
	    { { 14, 211 }, { 31, 395 }, { 36, 610 }, { 45, 97 } } },
	/* A textbook's example with other demands; 18.31 and 19 by an integer
	 * programming solver. */
	{ "17 feet, three widths", 17, 25, 19, 19, 18313,
	    { { 3, 25 }, { 5, 20 }, { 9, 15 } } },
	/* graphsearch.epfl.ch/en/concept/826868 and
	 * math.stackexchange.com/questions/374156: bound 72.7, optimum 73. */
	{ "5600 mm, thirteen widths", 5600, 90, 73, 74, 72839,
	    { { 1380, 22 }, { 1520, 25 }, { 1560, 12 }, { 1710, 14 },
		{ 1820, 18 }, { 1880, 18 }, { 1930, 20 }, { 2000, 10 },
		{ 2050, 12 }, { 2100, 14 }, { 2140, 16 }, { 2150, 18 },
		{ 2200, 20 } } },
};
/* clang-format on */

START_TEST(stock_rows)
{
	const struct stock *s = &stocks[_i];
	struct cut_kitchen k;
	struct cut_plan plan;
	size_t i;
	int64_t opened = 0;
	int j;

	cut_kitchen_init(&k, (size_t)s->bars);
	k.p.within = BAR;
	for (i = 0; s->widths[i].width > 0; i++)
		cut_kitchen_dish(&k, s->widths[i].wanted, s->widths[i].width,
		    s->widths[i].width, s->widths[i].width, 100 * BAR);
	for (j = 0; j < s->bars; j++)
		cut_kitchen_fish(&k, 0, s->bar, BAR, 1, s->bar);
	cut_kitchen_solve(&plan, &k);
	for (i = 0; i < k.p.dish_count; i++)
		ck_assert_int_eq(plan.short_of[i], 0);
	for (i = 0; i < k.p.fish_count; i++)
		opened += plan.fish[i].mode != MODE_CLOSED;
	ck_assert_int_eq(plan.cost, opened * BAR);
	ck_assert_msg(opened >= s->best && opened <= s->most,
	    "%s: %d bars, %d known", s->why, (int)opened, (int)s->best);
	/* The bound is the linear programme's, and no better than the truth. */
	ck_assert_msg(plan.bound / (BAR / 1000) >= s->bound - 1 &&
		plan.bound <= s->best * BAR,
	    "%s: bound %d", s->why, (int)plan.bound);
	ck_assert_int_eq(plan.proved, opened == s->best);
	cut_plan_fini(&plan);
	cut_kitchen_fini(&k);
}
END_TEST

Suite *
suite_core_cutplan_stock(void)
{
	Suite *s = suite_create("core_cutplan_stock");
	TCase *tc = tcase_create("published answers");

	tcase_add_loop_test(tc, stock_rows, 0, (int)NELEM(stocks));
	suite_add_tcase(s, tc);
	return s;
}
