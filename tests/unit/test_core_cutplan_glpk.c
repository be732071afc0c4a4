/*
 * test_core_cutplan_glpk.c - cut plans of invented boards against an integer
 * programming solver written by others: glpsol of GLPK, Debian package
 * glpk-utils (5.0 in Debian 12).  Its plan is judged in integers and compared
 * exactly.  A larger set, with times, is in tests/bench.
 */
#include "unit.h"

#include <inttypes.h>

#include "cut_glpk.h"
#include "cut_judge.h"
#include "cut_boards.h"

#define LIMIT_S 20 /* each takes it well under a second */

static const struct row {
	struct board_recipe r;
	uint64_t seed;
} rows[] = {
	{ { "hake only", 10, 1, 3, 60, .tolerance = TOLERANCE_ALL }, 1 },
	{ { "at target or above", 12, 2, 5, 70, .tolerance = TOLERANCE_NONE },
	    2 },
	{ { "plaice whole and in quarters", 10, 3, 6, 70, .whole = true }, 3 },
	{ { "five species and trim", 12, 5, 10, 60, .pools = 1, .whole = true },
	    4 },
	{ { "three trim pools", 14, 5, 8, 60, .pools = 3 }, 5 },
	{ { "a stew of all", 9, 3, 4, 60, .stew = true }, 6 },
	{ { "from the thick part", 10, 2, 6, 70, .thick = true }, 7 },
	{ { "fillets as they are", 12, 4, 6, 60, .piece = true }, 8 },
	{ { "fillets or tronçons", 12, 2, 4, 60, .ways = true }, 9 },
	{ { "a price under target", 12, 5, 9, 70, .under = true, .pools = 1 },
	    10 },
	{ { "decided by hand", 14, 3, 6, 70, .whole = true, .pins = true,
	      .pools = 1 },
	    11 },
	{ { "thirty fish and a stew", 30, 5, 8, 60, .pools = 2, .whole = true,
	      .stew = true, .under = true },
	    5 },
	{ { "more than there is, all at once", 10, 5, 7, 120, .pools = 2,
	      .whole = true, .stew = true, .thick = true, .piece = true,
	      .ways = true, .under = true },
	    12 },
};

START_TEST(same_optimum)
{
	static struct board b; /* too large for a stack, and pointed into */
	const struct row *row = &rows[_i];
	const char *why = row->r.why;
	struct glpk_result g;
	struct cut_plan plan = { 0 };
	struct judgement j;
	struct err err = { 0 };

	board_make(&b, &row->r, row->seed);
	ck_assert_msg(
	    cut_solve(&plan, &b.p, &err) == RC_OK, "%s: %s", why, err.text);
	ck_assert_msg(judge_plan(&j, &b.p, &plan), "%s: %s", why, j.why);
	ck_assert_int_eq(j.cost, plan.cost);
	ck_assert_msg(
	    glpk_solve(&g, &b.p, plan.cost, LIMIT_S), "%s: %s", why, g.why);
	ck_assert_msg(
	    g.status == 'o', "%s: glpsol found no proof in %d s", why, LIMIT_S);
	ck_assert_msg(plan.bound <= g.cost,
	    "%s: bound %" PRId64 ", but glpsol has a plan of %" PRId64, why,
	    plan.bound, g.cost);
	ck_assert_msg(plan.cost == g.cost && plan.proved,
	    "%s: cost %" PRId64 ", proved %d, glpsol %" PRId64, why, plan.cost,
	    plan.proved, g.cost);
	cut_plan_fini(&plan);
}
END_TEST

/* A solver that answers wrongly would be noticed: it is asked about one piece
 * whose plan is plain. */
START_TEST(asked_right)
{
	const struct cut_dish dish = { 2, 90, 100, 110, 1000, 0, 1, SERVE_CUT,
		false };
	const struct cut_fish fish = { 0, 500, 700, PIN_NONE, 1,
		{ { 1, 250, 250, 0, 0, 1 } } };
	struct cut_problem p = { .dishes = &dish,
		.dish_count = 1,
		.fish = &fish,
		.fish_count = 1,
		.within = 1 };
	struct glpk_result g;

	/* Open it for 700, or be two short for 2000. */
	ck_assert_msg(glpk_solve(&g, &p, 0, LIMIT_S), "%s", g.why);
	ck_assert_int_eq(g.status, 'o');
	ck_assert_int_eq(g.cost, 700);
}
END_TEST

Suite *
suite_core_cutplan_glpk(void)
{
	Suite *s = suite_create("core_cutplan_glpk");
	TCase *tc = tcase_create("glpsol");

	tcase_set_timeout(tc, 60);
	tcase_add_test(tc, asked_right);
	tcase_add_loop_test(tc, same_optimum, 0, NELEM(rows));
	suite_add_tcase(s, tc);
	return s;
}
