/*
 * test_core_shellfish.c - portions of shellfish to pieces and grams, against
 * published portions and by hand, and what must hold for all of them.
 */
#include "unit.h"

#include <stdlib.h>

#include "core/shellfish.h"

/* clang-format off */
static const struct {
	const char *why;
	struct shell_dish dish;
	int64_t portions;
	struct shell_amount take, step, buy;
} rows[] = {
	/* Source: ntro.it.com, "How many mussels are in one serving": a pound
	 * (about 500 g) in the shell for each of ten guests is 10 lb; a
	 * starter is half a pound each, 5 lb for ten. */
	{ "mussels, main course for ten, 1 lb each", { .by = SHELL_WEIGHT,
	    .portion_g = 454 }, 10, { 0, 4540 }, { 0, 1 }, { 0, 4540 } },
	{ "mussels, starter for ten, half a pound each", { .by = SHELL_WEIGHT,
	    .portion_g = 227 }, 10, { 0, 2270 }, { 0, 500 }, { 0, 2500 } },
	/* Source: ntro.it.com, "What is a portion size for mussels": 500 g in
	 * the shell give about 150 g of meat. */
	{ "a mussel portion as meat", { .by = SHELL_MEAT, .portion_g = 150,
	    .yield_bp = 3000 }, 1, { 0, 500 }, { 0, 1 }, { 0, 500 } },
	/* Source of the yield: FAO CWP Handbook Annex I.1 (2004), lobsters,
	 * factor 3.86, 25.9 %; by hand 400 / 0.259 = 1544.4, three of 600 g. */
	{ "lobster meat for four", { .by = SHELL_MEAT, .portion_g = 100,
	    .yield_bp = 2590, .piece_g = 600 }, 4, { 3, 1800 }, { 1, 1 },
	    { 3, 1800 } },
	/* By hand from here. */
	{ "oysters, six each, sold by the dozen", { .by = SHELL_PIECE,
	    .pieces = 6, .portions = 1 }, 7, { 42, 0 }, { 12, 1 }, { 48, 0 } },
	{ "one in twenty dead: 42 / 0.95 = 44.2", { .by = SHELL_PIECE,
	    .pieces = 6, .portions = 1, .dead_bp = 500 }, 7, { 45, 0 },
	    { 12, 1 }, { 48, 0 } },
	{ "and that takes a further dozen: 48 / 0.95 = 50.5", { .by =
	    SHELL_PIECE, .pieces = 6, .portions = 1, .dead_bp = 500 }, 8,
	    { 51, 0 }, { 12, 1 }, { 60, 0 } },
	{ "half a lobster each, five guests", { .by = SHELL_PIECE,
	    .pieces = 1, .portions = 2, .piece_g = 550 }, 5, { 3, 1650 },
	    { 1, 1 }, { 3, 1650 } },
	{ "sold by weight though by piece", { .by = SHELL_PIECE, .pieces = 1,
	    .portions = 1, .piece_g = 450 }, 3, { 3, 1350 }, { 0, 1000 },
	    { 4, 2000 } },
	{ "mussels with an allowance: 5000 / 0.95 = 5263.2", { .by =
	    SHELL_WEIGHT, .portion_g = 500, .dead_bp = 500 }, 10, { 0, 5264 },
	    { 0, 1000 }, { 0, 6000 } },
	{ "crab meat, one dead in ten: 12 x 90 / 0.1666 / 0.9", { .by =
	    SHELL_MEAT, .portion_g = 90, .yield_bp = 1666, .piece_g = 1200,
	    .dead_bp = 1000 }, 12, { 7, 8400 }, { 1, 1 }, { 7, 8400 } },
	{ "nobody", { .by = SHELL_PIECE, .pieces = 6, .portions = 1,
	    .dead_bp = 500 }, 0, { 0, 0 }, { 12, 100 }, { 0, 0 } },
};
/* clang-format on */

START_TEST(worked_examples)
{
	struct shell_amount take =
	    shell_take(&rows[_i].dish, rows[_i].portions);
	struct shell_amount buy =
	    shell_buy(&rows[_i].dish, &take, &rows[_i].step);

	ck_assert_msg(take.pieces == rows[_i].take.pieces &&
		take.weight_g == rows[_i].take.weight_g,
	    "%s: take %lld, %lld g", rows[_i].why, (long long)take.pieces,
	    (long long)take.weight_g);
	ck_assert_msg(buy.pieces == rows[_i].buy.pieces &&
		buy.weight_g == rows[_i].buy.weight_g,
	    "%s: buy %lld, %lld g", rows[_i].why, (long long)buy.pieces,
	    (long long)buy.weight_g);
}
END_TEST

/* By hand: 50 oysters, one in twenty dead: 47 alive, 7 portions of six. */
START_TEST(stock_gives)
{
	struct shell_dish d = {
		.by = SHELL_PIECE, .pieces = 6, .portions = 1, .dead_bp = 500
	};
	struct shell_amount stock = { 50, 0 };

	ck_assert_int_eq(shell_portions(&d, &stock), 7);
	d.dead_bp = 0;
	ck_assert_int_eq(shell_portions(&d, &stock), 8);
	d.by = SHELL_MEAT;
	d.portion_g = 100;
	d.yield_bp = 2590;
	stock.weight_g = 1800;
	ck_assert_int_eq(shell_portions(&d, &stock), 4);
}
END_TEST

static unsigned seed;

static int
up_to(int n)
{
	seed = seed * 1103515245u + 12345u;
	return (int)((seed >> 8) % (unsigned)n);
}

/* What is taken is enough for the portions, by one gram or piece less it is
 * not; what is bought is never less than needed. */
START_TEST(enough_and_no_more)
{
	struct shell_amount take, less, buy, step;
	struct shell_dish d;
	int64_t n;
	int i;

	seed = 4;
	for (i = 0; i < 20000; i++) {
		d.by = (enum shell_by)up_to(3);
		d.pieces = 1 + up_to(12);
		d.portions = 1 + up_to(4);
		d.portion_g = 1 + up_to(700);
		d.yield_bp = 500 + up_to(9501);
		d.piece_g = up_to(3) == 0 ? 0 : 1 + up_to(2000);
		d.dead_bp = up_to(4) == 0 ? 0 : up_to(SHELL_DEAD_MAX_BP + 1);
		n = 1 + up_to(200);
		take = shell_take(&d, n);
		ck_assert_int_ge(shell_portions(&d, &take), n);
		less = take;
		if (d.by == SHELL_PIECE || d.piece_g > 0)
			less.pieces--;
		less.weight_g -= d.piece_g > 0 ? d.piece_g : 1;
		ck_assert_int_lt(shell_portions(&d, &less), n);
		step.pieces = 1 + up_to(24);
		step.weight_g = 1 + up_to(5000);
		if (d.piece_g > 0 && up_to(2) == 0)
			step.pieces = 0;
		buy = shell_buy(&d, &take, &step);
		ck_assert_int_ge(buy.pieces, take.pieces);
		ck_assert_int_ge(buy.weight_g, take.weight_g);
		ck_assert_int_ge(shell_portions(&d, &buy), n);
	}
}
END_TEST

/* The largest of everything does not overflow. */
START_TEST(largest)
{
	struct shell_dish d = { .by = SHELL_PIECE,
		.pieces = SHELL_PIECES_MAX,
		.portions = 1,
		.piece_g = WEIGHT_MAX_G,
		.dead_bp = SHELL_DEAD_MAX_BP };
	struct shell_amount a = shell_take(&d, COUNT_MAX);

	ck_assert_int_eq(a.pieces, (int64_t)COUNT_MAX * SHELL_PIECES_MAX * 2);
	ck_assert_int_eq(a.weight_g, a.pieces * WEIGHT_MAX_G);
	d.by = SHELL_MEAT;
	d.portion_g = WEIGHT_MAX_G;
	d.yield_bp = 100;
	d.piece_g = 0;
	a = shell_take(&d, COUNT_MAX);
	ck_assert_int_eq(
	    a.weight_g, (int64_t)COUNT_MAX * WEIGHT_MAX_G * 100 * 2);
}
END_TEST

Suite *
suite_core_shellfish(void)
{
	Suite *s = suite_create("core_shellfish");
	TCase *t = tcase_create("all");

	tcase_add_loop_test(t, worked_examples, 0, NELEM(rows));
	tcase_add_test(t, stock_gives);
	tcase_add_test(t, enough_and_no_more);
	tcase_add_test(t, largest);
	suite_add_tcase(s, t);
	return s;
}
