/*
 * test_core_prepplan.c - portions, fish and orders worked out by hand from
 * published yields.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "core/prepplan.h"
#include "kitchen.h"

static struct species_table fish;
static struct yield_table yields;

static void
setup(void)
{
	kitchen_tables(&fish, &yields);
}

static void
teardown(void)
{
	species_fini(&fish);
	yield_fini(&yields);
}

static struct plan
plan_one(struct plan_stock *stock, const struct plan_cut *c, int64_t covers)
{
	return plan_all(stock, c, covers, &fish, &yields);
}

/* clang-format off */
static const struct {
	int64_t covers;
	int mix_bp;
	int64_t want;
} needs[] = {
	{ 40, 1000, 4 }, { 41, 1000, 5 }, { 1, 1, 1 }, { 0, 5000, 0 },
	{ 100, 0, 0 }, { 72, 1400, 11 }, /* 10.08 */
	{ 50, 1800, 9 }, { 3, 3333, 1 }, { 3, 3334, 2 }, /* 0.9999, 1.0002 */
	{ 5000, 10000, 5000 }, { 7, 9999, 7 },
};
/* clang-format on */

START_TEST(need_rows)
{
	ck_assert_int_eq(portions_needed(needs[_i].covers, needs[_i].mix_bp),
	    needs[_i].want);
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	const char *species;
	enum presentation p;
	int want;
	const char *source;
} pieces[] = {
	{ "round", "COD", PRES_WHOLE, 2, "docs/rules.md R-F1" },
	{ "round, gutted", "HAD", PRES_GUTTED, 2, "docs/rules.md R-F1" },
	{ "round, headed", "HKE", PRES_HEADED, 2, "docs/rules.md R-F1" },
	{ "flat", "PLE", PRES_WHOLE, 4, "docs/rules.md R-F2" },
	{ "flat, gutted", "SOL", PRES_GUTTED, 4, "docs/rules.md R-F2" },
	{ "ray", "RJC", PRES_WHOLE, 2, "docs/rules.md R-F4" },
	{ "one fillet is one", "PLE", PRES_FILLET, 1, "arithmetic" },
	{ "skinless too", "COD", PRES_FILLET_SKINLESS, 1, "arithmetic" },
	{ "a loin", "YFT", PRES_LOIN, 1, "arithmetic" },
	{ "a wing", "RJC", PRES_WING, 1, "arithmetic" },
	{ "mussels", "MUS", PRES_LIVE, 0, "docs/rules.md R-F5" },
	{ "squid", "SQR", PRES_WHOLE, 0, "docs/rules.md R-F5" },
	{ "shucked", "SCE", PRES_SHUCKED, 0, "docs/rules.md R-F5" },
};
/* clang-format on */

START_TEST(piece_rows)
{
	const struct species *sp = species_find(&fish, pieces[_i].species);

	ck_assert_ptr_nonnull(sp);
	ck_assert_msg(pieces_per_fish(sp, pieces[_i].p) == pieces[_i].want,
	    "%s (%s)", pieces[_i].why, pieces[_i].source);
}
END_TEST

/*
 * Whole fish to skinless fillet or meat.  Source of the yields: FAO Fisheries
 * Technical Paper 309, Table 1; the rest is done by hand.  A batch, a cut, the
 * portions wanted, and what must come out.
 */
/* clang-format off */
static const struct {
	const char *why;
	const char *species;
	int64_t count; /* 0 by weight */
	grams weight;
	enum cut_kind kind;
	grams low, target, high;
	int64_t want;
	/* expected */
	int64_t make, spare, fish, pieces;
	grams piece_g;
	int64_t per_piece;
	grams taken;
} tp309[] = {
	{ "cod 34 %: 2 kg give 680 g, fillets of 340, two of 160 each",
	    "COD", 10, 20000, CUT_SUPREME, 140, 160, 180, 10,
	    10, 2, 3, 6, 340, 2, 6000 },
	{ "the same, all ten fish", "COD", 10, 20000, CUT_SUPREME, 140, 160,
	    180, 100, 40, 0, 10, 20, 340, 2, 20000 },
	{ "cod: one fillet short of two portions gives one", "COD", 4, 7200,
	    CUT_SUPREME, 140, 160, 180, 8, 8, 0, 4, 8, 306, 1, 7200 },
	{ "mean weight rounded down: 19999 / 10 = 1999 g, 679 g, 339",
	    "COD", 10, 19999, CUT_SUPREME, 140, 160, 180, 4,
	    4, 0, 1, 2, 339, 2, 1999 },
	{ "haddock 35 %: 1 kg gives 350 g, fillets of 175, two of 85",
	    "HAD", 5, 5000, CUT_SUPREME, 80, 85, 95, 7,
	    7, 1, 2, 4, 175, 2, 2000 },
	{ "saithe 34 %", "POK", 3, 9000, CUT_SUPREME, 110, 125, 140, 13,
	    13, 3, 2, 4, 510, 4, 6000 },
	{ "whiting 32 %: 500 g give 160 g", "WHG", 6, 3000, CUT_FILLET, 70,
	    80, 90, 11, 11, 1, 6, 12, 80, 1, 3000 },
	{ "hake 41 %", "HKE", 2, 4000, CUT_SUPREME, 180, 200, 220, 3,
	    3, 1, 1, 2, 410, 2, 2000 },
	{ "mackerel 54 %: 400 g give 216 g, fillets of 108",
	    "MAC", 6, 2400, CUT_FILLET, 90, 100, 110, 5,
	    5, 1, 3, 6, 108, 1, 1200 },
	{ "herring 46 %: 200 g give 92 g, fillets of 46",
	    "HER", 20, 4000, CUT_FILLET, 40, 45, 50, 30,
	    30, 0, 15, 30, 46, 1, 3000 },
	{ "plaice 34 %, four fillets: 600 g give 204 g, 51 each",
	    "PLE", 8, 4800, CUT_FILLET, 45, 50, 60, 9,
	    9, 3, 3, 12, 51, 1, 1800 },
	{ "mussels 24 %: 25 of 60 g are 1500 g of meat",
	    "MUS", 0, 10000, CUT_MEAT, 50, 60, 70, 25,
	    25, 0, 0, 0, 0, 0, 6250 },
	{ "mussels: all 10 kg give 2400 g, 40 portions",
	    "MUS", 0, 10000, CUT_MEAT, 50, 60, 70, 90,
	    40, 0, 0, 0, 0, 0, 10000 },
	{ "squid 67 %: 1920 / 0.67 = 2865.7",
	    "SQR", 0, 3000, CUT_MEAT, 100, 120, 140, 16,
	    16, 0, 0, 0, 0, 0, 2866 },
	{ "cod that was never counted: 3200 / 0.34 = 9411.8",
	    "COD", 0, 10000, CUT_SUPREME, 140, 160, 180, 20,
	    20, 0, 0, 0, 0, 0, 9412 },
};
/* clang-format on */

START_TEST(tp309_rows)
{
	enum presentation p =
	    tp309[_i].kind == CUT_MEAT && str_eq(tp309[_i].species, "MUS")
	    ? PRES_LIVE
	    : PRES_WHOLE;
	struct plan_batch b = plan_batch_of(
	    "B", tp309[_i].species, p, tp309[_i].count, tp309[_i].weight);
	struct plan_stock stock = { .batches = &b, .batch_count = 1 };
	struct plan_cut c = plan_cut_of(tp309[_i].species, tp309[_i].kind,
	    false, tp309[_i].low, tp309[_i].target, tp309[_i].high);
	struct plan plan = plan_one(&stock, &c, tp309[_i].want);
	const struct plan_line *l = plan.lines;
	const struct plan_take *t = l->takes;
	const char *why = tp309[_i].why;

	ck_assert_uint_eq(l->take_count, 1);
	ck_assert_int_eq(t->reason, PLAN_TAKEN);
	ck_assert_msg(
	    l->to_make == tp309[_i].make, "%s: %d made", why, (int)l->to_make);
	ck_assert_int_eq(t->portions, tp309[_i].make);
	ck_assert_int_eq(l->short_of, tp309[_i].want - tp309[_i].make);
	ck_assert_msg(
	    t->spare == tp309[_i].spare, "%s: %d spare", why, (int)t->spare);
	ck_assert_int_eq(t->fish, tp309[_i].fish);
	ck_assert_int_eq(t->pieces, tp309[_i].pieces);
	ck_assert_int_eq(t->piece_g, tp309[_i].piece_g);
	ck_assert_int_eq(t->per_piece, tp309[_i].per_piece);
	ck_assert_msg(
	    t->weight_g == tp309[_i].taken, "%s: %d g", why, (int)t->weight_g);
	ck_assert_int_eq(b.weight_g, tp309[_i].weight - tp309[_i].taken);
	ck_assert_int_eq(b.count, tp309[_i].count - tp309[_i].fish);
	ck_assert_ptr_nonnull(strstr(t->yield.source, "Technical Paper 309"));
	plan_fini(&plan);
}
END_TEST

/*
 * What must be bought for portions nothing is left for.  The same table; the
 * order is the smallest weight whose edible part is enough, checked here in
 * hundredths of a gram.
 */
/* clang-format off */
static const struct {
	const char *why;
	const char *species;
	int percent;
	enum cut_kind kind;
	grams target;
	int64_t want;
	grams order;
	int64_t pieces;
} orders[] = {
	{ "1920 / 0.34 = 5647.06", "COD", 34, CUT_SUPREME, 160, 12, 5648, 0 },
	{ "850 / 0.34 = 2500 exactly", "COD", 34, CUT_SUPREME, 85, 10, 2500,
	    0 },
	{ "1350 / 0.46 = 2934.8", "HER", 46, CUT_FILLET, 45, 30, 2935, 15 },
	{ "31 fillets are 16 fish", "HER", 46, CUT_FILLET, 45, 31, 3033, 16 },
	{ "450 / 0.34; 9 fillets are 3 flat fish", "PLE", 34, CUT_FILLET, 50,
	    9, 1324, 3 },
	{ "500 / 0.54 = 925.9", "MAC", 54, CUT_FILLET, 100, 5, 926, 3 },
	{ "1500 / 0.24 = 6250", "MUS", 24, CUT_MEAT, 60, 25, 6250, 0 },
	{ "120 / 0.67 = 179.1", "SQR", 67, CUT_MEAT, 120, 1, 180, 0 },
	{ "oysters 10 %", "OYG", 10, CUT_MEAT, 30, 7, 2100, 0 },
};
/* clang-format on */

START_TEST(order_rows)
{
	struct plan_stock stock = { 0 };
	struct plan_cut c = plan_cut_of(orders[_i].species, orders[_i].kind,
	    false, orders[_i].target, orders[_i].target, orders[_i].target);
	struct plan plan = plan_one(&stock, &c, orders[_i].want);
	const struct plan_line *l = plan.lines;
	int64_t need = orders[_i].want * orders[_i].target * 100;

	ck_assert_int_eq(l->short_of, orders[_i].want);
	ck_assert(l->order_known);
	ck_assert_msg(l->order_g == orders[_i].order, "%s: %d", orders[_i].why,
	    (int)l->order_g);
	ck_assert(l->order_g * orders[_i].percent >= need);
	ck_assert((l->order_g - 1) * orders[_i].percent < need);
	ck_assert_int_eq(l->order_pieces, orders[_i].pieces);
	plan_fini(&plan);
}
END_TEST

/* Gutted lemon sole served whole, 320 to 450 g: the fish as it is. */
/* clang-format off */
static const struct {
	const char *why;
	grams each;
	enum plan_reason reason;
} bands[] = {
	{ "at the low weight", 320, PLAN_TAKEN },
	{ "a gram under it", 319, PLAN_TOO_SMALL },
	{ "at the high weight", 450, PLAN_TAKEN },
	{ "a gram over it", 451, PLAN_TOO_LARGE },
};
/* clang-format on */

START_TEST(band_rows)
{
	struct plan_batch b =
	    plan_batch_of("B", "LEM", PRES_GUTTED, 4, 4 * bands[_i].each);
	struct plan_stock stock = { .batches = &b, .batch_count = 1 };
	struct plan_cut c = plan_cut_of("LEM", CUT_WHOLE, true, 320, 380, 450);
	struct plan plan;
	bool taken = bands[_i].reason == PLAN_TAKEN;

	c.bought = PRES_GUTTED;
	plan = plan_one(&stock, &c, 3);
	ck_assert_msg(
	    plan.lines->takes->reason == bands[_i].reason, "%s", bands[_i].why);
	ck_assert_int_eq(plan.lines->to_make, taken ? 3 : 0);
	ck_assert_int_eq(plan.lines->takes->piece_g, bands[_i].each);
	ck_assert_int_eq(plan.lines->takes->fish, taken ? 3 : 0);
	ck_assert_int_eq(plan.lines->takes->pieces, taken ? 3 : 0);
	ck_assert_int_eq(b.count, taken ? 1 : 4);
	ck_assert_int_eq(plan.lines->order_pieces, taken ? 0 : 3);
	plan_fini(&plan);
}
END_TEST

/* --- the menu's own figure, and none
 * -----------------------------------------*/

START_TEST(house_yield)
{
	struct plan_batch b[2] = {
		plan_batch_of("1", "COD", PRES_WHOLE, 2, 4000),
		plan_batch_of("2", "COD", PRES_GUTTED, 2, 4000),
	};
	struct plan_stock stock = { .batches = b, .batch_count = 2 };
	struct plan_cut c =
	    plan_cut_of("COD", CUT_SUPREME, false, 140, 160, 180);
	struct plan plan;

	c.house_yield_bp = 3000; /* of whole fish, as it is bought */
	plan = plan_one(&stock, &c, 40);
	ck_assert_int_eq(plan.lines->takes[0].yield.bp, 3000);
	ck_assert_int_eq(plan.lines->takes[0].piece_g, 300);
	/* The house says nothing about gutted fish: 34 / 84.74 %. */
	ck_assert_int_eq(plan.lines->takes[1].yield.bp, 4012);
	ck_assert_int_eq(plan.lines->takes[1].piece_g, 401);
	/* 2 fish x 2 x 1 + 2 x 2 x 2 = 12 made; 28 x 160 / 0.30 */
	ck_assert_int_eq(plan.lines->to_make, 12);
	ck_assert_int_eq(plan.lines->order_g, 14934);
	plan_fini(&plan);
}
END_TEST

START_TEST(unknown_yield)
{
	struct plan_batch b = plan_batch_of("1", "COD", PRES_LOIN, 2, 4000);
	struct plan_stock stock = { .batches = &b, .batch_count = 1 };
	struct plan_cut c =
	    plan_cut_of("COD", CUT_SUPREME, true, 140, 160, 180);
	struct plan_order *o;
	struct plan plan;
	size_t n;

	c.bought = PRES_LOIN;
	plan = plan_one(&stock, &c, 5);
	ck_assert_int_eq(plan.lines->takes[0].reason, PLAN_NO_YIELD);
	ck_assert_int_eq(plan.lines->short_of, 5);
	ck_assert(!plan.lines->order_known);
	ck_assert_int_eq(plan.lines->order_g, 0);
	plan_orders(&o, &n, &plan, 100);
	ck_assert_uint_eq(n, 0);
	free(o);
	plan_fini(&plan);
}
END_TEST

START_TEST(unknown_species)
{
	struct plan_stock stock = { 0 };
	struct plan_cut c[2] = {
		plan_cut_of("COD", CUT_SUPREME, true, 140, 160, 180),
		plan_cut_of("ZZZ", CUT_SUPREME, true, 140, 160, 180),
	};
	struct plan_service s = { 10, PLAN_END, c, 2 };
	struct plan p;
	struct err err = { 0 };

	ck_assert_int_eq(
	    plan_make(&p, &stock, &s, &fish, &yields, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "ZZZ"));
}
END_TEST

START_TEST(order_list)
{
	struct plan_cut c[3] = {
		plan_cut_of("COD", CUT_SUPREME, false, 140, 160, 180),
		plan_cut_of("COD", CUT_MEAT, false, 80, 90, 100),
		plan_cut_of("COD", CUT_SUPREME, false, 140, 160, 180),
	};
	struct plan_service s = { 12, PLAN_END, c, 3 };
	struct plan_stock stock = { 0 };
	struct plan_order *o;
	struct plan p;
	size_t n;

	c[1].house_yield_bp = 5000;
	c[2].bought = PRES_GUTTED;
	ck_assert_int_eq(
	    plan_make(&p, &stock, &s, &fish, &yields, NULL), RC_OK);
	plan_orders(&o, &n, &p, 500);
	ck_assert_uint_eq(n, 2);
	/* whole: 1920 / 0.34 = 5648 and 1080 / 0.5 = 2160 */
	ck_assert_int_eq(o[0].bought, PRES_WHOLE);
	ck_assert_int_eq(o[0].need_g, 5648 + 2160);
	ck_assert_int_eq(o[0].order_g, 8000);
	ck_assert_int_eq(o[0].portions, 24);
	/* gutted: 1920 / 0.4012 = 4785.6 */
	ck_assert_int_eq(o[1].bought, PRES_GUTTED);
	ck_assert_int_eq(o[1].need_g, 4786);
	ck_assert_int_eq(o[1].order_g, 5000);
	free(o);
	plan_fini(&p);
}
END_TEST

Suite *
suite_core_prepplan(void)
{
	Suite *s = suite_create("core_prepplan");
	TCase *tc = tcase_create("prepplan");

	tcase_add_unchecked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, need_rows, 0, (int)NELEM(needs));
	tcase_add_loop_test(tc, piece_rows, 0, (int)NELEM(pieces));
	tcase_add_loop_test(tc, tp309_rows, 0, (int)NELEM(tp309));
	tcase_add_loop_test(tc, order_rows, 0, (int)NELEM(orders));
	tcase_add_loop_test(tc, band_rows, 0, (int)NELEM(bands));
	tcase_add_test(tc, house_yield);
	tcase_add_test(tc, unknown_yield);
	tcase_add_test(tc, unknown_species);
	tcase_add_test(tc, order_list);
	suite_add_tcase(s, tc);
	return s;
}
