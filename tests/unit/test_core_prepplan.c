/*
 * test_core_prepplan.c - portions, fish and orders worked out by hand from
 * published yields, and what a plan refuses.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "plan_rig.h"

static struct rig k;

static void
setup(void)
{
	rig_open(&k);
	k.published = true;
}

static void
teardown(void)
{
	rig_close(&k);
}

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
	{ "a tail", "MON", PRES_TAIL, 1, "arithmetic" },
	{ "a wing", "RJC", PRES_WING, 1, "arithmetic" },
	{ "mussels", "MUS", PRES_LIVE, 0, "docs/rules.md R-F5" },
	{ "squid", "SQR", PRES_WHOLE, 0, "docs/rules.md R-F5" },
	{ "shucked", "SCE", PRES_SHUCKED, 0, "docs/rules.md R-F5" },
};
/* clang-format on */

START_TEST(piece_rows)
{
	const struct species *sp =
	    species_find(rig_species(), pieces[_i].species);

	ck_assert_ptr_nonnull(sp);
	ck_assert_msg(pieces_per_fish(sp, pieces[_i].p) == pieces[_i].want,
	    "%s (%s)", pieces[_i].why, pieces[_i].source);
}
END_TEST

/*
 * Whole fish to skinless fillet.  Source of the yields: FAO Fisheries Technical
 * Paper 309, Table 1; the rest is done by hand.  Fish of one weight, portions
 * never under the target, and what must come out.
 */
/* clang-format off */
static const struct {
	const char *why;
	const char *species;
	int64_t count;
	grams each;
	enum cut_kind kind;
	grams target, high;
	int want;
	/* expected */
	int64_t make;
	size_t fish, pieces;
	grams piece_g; /* a portion when a piece is one, else the target */
} tp309[] = {
	{ "cod 34 %: 2 kg give 680 g, fillets of 340, two of 160 each",
	    "COD", 10, 2000, CUT_SUPREME, 160, 180, 10, 10, 3, 2, 160 },
	{ "the same, all ten fish", "COD", 10, 2000, CUT_SUPREME, 160, 180, 100,
	    40, 10, 2, 160 },
	{ "cod of 1882 g: 639 g, fillets of 319 give one of 160, not two",
	    "COD", 4, 1882, CUT_SUPREME, 160, 180, 8, 8, 4, 2, 160 },
	{ "cod of 1883 g: 640 g, 320 give two", "COD", 4, 1883,
	    CUT_SUPREME, 160, 180, 8, 8, 2, 2, 160 },
	{ "haddock 35 %: 1 kg gives 350 g, fillets of 175, two of 85",
	    "HAD", 5, 1000, CUT_SUPREME, 85, 95, 7, 7, 2, 2, 85 },
	{ "saithe 34 %: 3 kg give 1020 g, fillets of 510, four of 125",
	    "POK", 3, 3000, CUT_SUPREME, 125, 140, 13, 13, 2, 2, 125 },
	{ "whiting 32 %: 500 g give 160 g", "WHG", 6, 500, CUT_FILLET, 80, 90,
	    11, 11, 6, 2, 80 },
	{ "hake 41 %: 2 kg give 820 g", "HKE", 2, 2000, CUT_SUPREME, 200, 220,
	    3, 3, 1, 2, 200 },
	{ "mackerel 54 %: 400 g give 216 g, fillets of 108",
	    "MAC", 6, 400, CUT_FILLET, 100, 110, 5, 5, 3, 2, 108 },
	{ "herring 46 %: 200 g give 92 g, fillets of 46",
	    "HER", 20, 200, CUT_FILLET, 45, 50, 30, 30, 15, 2, 46 },
	{ "plaice 34 %, four fillets: 600 g give 204 g, 51 each",
	    "PLE", 8, 600, CUT_FILLET, 50, 60, 9, 9, 3, 4, 51 },
	{ "fillets over the band do not count", "PLE", 8, 600, CUT_FILLET, 40,
	    50, 9, 0, 0, 4, 0 },
};
/* clang-format on */

START_TEST(tp309_rows)
{
	const char *why = tp309[_i].why;
	struct plan_batch *b = rig_batch(&k, "B", tp309[_i].species, PRES_WHOLE,
	    tp309[_i].count, tp309[_i].count * tp309[_i].each);
	const struct plan_line *l;
	grams g[20], least, most;
	size_t i;

	for (i = 0; i < NELEM(g); i++)
		g[i] = tp309[_i].each;
	rig_weigh(b, g);
	rig_dish(&k, 0,
	    &(struct rig_dish){ "dish", tp309[_i].species, tp309[_i].kind,
		false, tp309[_i].target, tp309[_i].target, tp309[_i].high,
		tp309[_i].want });
	rig_plan(&k);
	l = rig_line(&k, "dish");
	ck_assert_msg(
	    l->to_make == tp309[_i].make, "%s: %d made", why, (int)l->to_make);
	ck_assert_int_eq(l->short_of, tp309[_i].want - tp309[_i].make);
	ck_assert_msg(k.plan.opened_count == tp309[_i].fish, "%s: %zu fish",
	    why, k.plan.opened_count);
	ck_assert_int_eq(b->count, tp309[_i].count - (int64_t)tp309[_i].fish);
	ck_assert_int_eq(b->weight_g, b->count * tp309[_i].each);
	ck_assert_int_eq(rig_cut_g(&k, "dish", &least, &most), l->to_make);
	ck_assert_msg(least >= tp309[_i].piece_g && most <= tp309[_i].high,
	    "%s: %d to %d g", why, (int)least, (int)most);
	if (tp309[_i].kind == CUT_FILLET)
		ck_assert_int_eq(least, tp309[_i].piece_g);
	for (i = 0; i < k.plan.opened_count; i++)
		ck_assert_uint_eq(
		    k.plan.opened[i].piece_count, tp309[_i].pieces);
	if (tp309[_i].make > 0)
		ck_assert_ptr_nonnull(strstr(
		    l->takes[0].yield.published.source, "Technical Paper 309"));
}
END_TEST

/* The same table by weight: a batch nobody counted, and meat. */
/* clang-format off */
static const struct {
	const char *why;
	const char *species;
	enum presentation p;
	grams weight;
	enum cut_kind kind;
	grams target;
	int want;
	int64_t make;
	grams taken;
} weighed[] = {
	{ "mussels 24 %: 25 of 60 g are 1500 g of meat",
	    "MUS", PRES_LIVE, 10000, CUT_MEAT, 60, 25, 25, 6250 },
	{ "all 10 kg give 2400 g, 40 portions",
	    "MUS", PRES_LIVE, 10000, CUT_MEAT, 60, 90, 40, 10000 },
	{ "a gram less is one portion less",
	    "MUS", PRES_LIVE, 9999, CUT_MEAT, 60, 90, 39, 9750 },
	{ "squid 67 %: 1920 / 0.67 = 2865.7",
	    "SQR", PRES_WHOLE, 3000, CUT_MEAT, 120, 16, 16, 2866 },
	{ "cod that was never counted: 3200 / 0.34 = 9411.8",
	    "COD", PRES_WHOLE, 10000, CUT_SUPREME, 160, 20, 20, 9412 },
	{ "too little for one", "COD", PRES_WHOLE, 470, CUT_SUPREME, 160, 2, 0,
	    0 },
};
/* clang-format on */

START_TEST(weighed_rows)
{
	struct plan_batch *b = rig_batch(
	    &k, "B", weighed[_i].species, weighed[_i].p, 0, weighed[_i].weight);
	const struct plan_take *t;

	rig_dish(&k, 0,
	    &(struct rig_dish){ "dish", weighed[_i].species, weighed[_i].kind,
		false, weighed[_i].target, weighed[_i].target,
		weighed[_i].target, weighed[_i].want });
	rig_plan(&k);
	t = rig_take(&k, "dish", "B");
	ck_assert_msg(rig_line(&k, "dish")->to_make == weighed[_i].make,
	    "%s: %d made", weighed[_i].why, (int)rig_line(&k, "dish")->to_make);
	ck_assert_int_eq(t->portions, weighed[_i].make);
	ck_assert(!t->opened);
	ck_assert_int_eq(
	    t->reason, weighed[_i].make > 0 ? PLAN_TAKEN : PLAN_TOO_SMALL);
	ck_assert_msg(t->weight_g == weighed[_i].taken, "%s: %d g",
	    weighed[_i].why, (int)t->weight_g);
	ck_assert_int_eq(b->weight_g, weighed[_i].weight - weighed[_i].taken);
	ck_assert_uint_eq(k.plan.opened_count, 0);
}
END_TEST

/*
 * What must be bought for portions nothing is left for: edible portion = as
 * purchased x yield, as the catering handbooks define it.  The same table; the
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
	int want;
	grams order;
	int64_t at_least;
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
	int64_t need = orders[_i].want * orders[_i].target * 100;
	const struct plan_order *o;

	k.problem.step_g = 1;
	rig_dish(&k, 0,
	    &(struct rig_dish){ "dish", orders[_i].species, orders[_i].kind,
		false, orders[_i].target, orders[_i].target, orders[_i].target,
		orders[_i].want });
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, orders[_i].want);
	ck_assert(rig_line(&k, "dish")->order_known);
	ck_assert_uint_eq(k.plan.order_count, 1);
	o = k.plan.orders;
	ck_assert_str_eq(o->species, orders[_i].species);
	ck_assert_str_eq(o->supplier, "");
	ck_assert_int_eq(o->portions, orders[_i].want);
	ck_assert_int_eq(o->price, -1);
	ck_assert_int_eq(o->cost, 0);
	ck_assert_msg(o->order_g == orders[_i].order, "%s: %d", orders[_i].why,
	    (int)o->order_g);
	ck_assert_int_eq(o->need_g, o->order_g);
	ck_assert(o->order_g * orders[_i].percent >= need);
	ck_assert((o->order_g - 1) * orders[_i].percent < need);
	ck_assert_int_eq(o->at_least, orders[_i].at_least);
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
	struct plan_batch *b =
	    rig_batch(&k, "B", "LEM", PRES_GUTTED, 4, 4 * bands[_i].each);
	grams g[4] = { bands[_i].each, bands[_i].each, bands[_i].each,
		bands[_i].each };
	bool taken = bands[_i].reason == PLAN_TAKEN;
	struct plan_cut *c = rig_dish(&k, 0,
	    &(struct rig_dish){
		"dish", "LEM", CUT_WHOLE, true, 320, 380, 450, 3 });
	size_t i;

	c->bought = PRES_GUTTED;
	rig_weigh(b, g);
	rig_plan(&k);
	ck_assert_msg(rig_take(&k, "dish", "B")->reason == bands[_i].reason,
	    "%s", bands[_i].why);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, taken ? 3 : 0);
	ck_assert_int_eq(rig_take(&k, "dish", "B")->fish, taken ? 3 : 0);
	ck_assert_uint_eq(k.plan.opened_count, taken ? 3 : 0);
	for (i = 0; i < k.plan.opened_count; i++) {
		ck_assert_int_eq(k.plan.opened[i].whole_line, 0);
		ck_assert_uint_eq(k.plan.opened[i].piece_count, 0);
	}
	ck_assert_int_eq(b->count, taken ? 1 : 4);
	if (!taken)
		ck_assert_int_eq(k.plan.orders[0].at_least, 3);
}
END_TEST

/* --- the menu's own figure, and none ---------------------------------------*/

START_TEST(house_yield)
{
	struct plan_batch *whole, *gutted;
	struct plan_cut *c;
	grams g[2] = { 2000, 2000 };

	whole = rig_batch(&k, "1", "COD", PRES_WHOLE, 2, 4000);
	gutted = rig_batch(&k, "2", "COD", PRES_GUTTED, 2, 4000);
	rig_weigh(whole, g);
	rig_weigh(gutted, g);
	c = rig_dish(&k, 0,
	    &(struct rig_dish){
		"dish", "COD", CUT_SUPREME, false, 160, 160, 180, 40 });
	c->house_yield_bp = 3000; /* of whole fish, as it is bought */
	rig_plan(&k);
	ck_assert_int_eq(rig_take(&k, "dish", "1")->yield.mean_bp, 3000);
	/* The house says nothing about gutted fish: 34 / 84.74 %. */
	ck_assert_int_eq(rig_take(&k, "dish", "2")->yield.mean_bp, 4012);
	/* 2 fish x 2 of 300 g, one each, and 2 x 2 of 401 g, two each. */
	ck_assert_int_eq(rig_take(&k, "dish", "1")->portions, 4);
	ck_assert_int_eq(rig_take(&k, "dish", "2")->portions, 8);
	/* 28 x 160 / 0.30 = 14933.3, in steps of 100 g */
	ck_assert_int_eq(k.plan.orders[0].need_g, 14934);
	ck_assert_int_eq(k.plan.orders[0].order_g, 15000);
}
END_TEST

START_TEST(unknown_yield)
{
	struct plan_cut *c;

	rig_batch(&k, "1", "COD", PRES_LOIN, 2, 4000);
	c = rig_dish(&k, 0,
	    &(struct rig_dish){
		"dish", "COD", CUT_SUPREME, true, 140, 160, 180, 5 });
	c->bought = PRES_LOIN;
	rig_plan(&k);
	ck_assert_int_eq(rig_take(&k, "dish", "1")->reason, PLAN_NO_YIELD);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, 5);
	ck_assert(!rig_line(&k, "dish")->order_known);
	ck_assert_uint_eq(k.plan.order_count, 0);
}
END_TEST

/* A yield of next to nothing is not one to plan with, whatever asks for it. */
START_TEST(absurd_yield)
{
	static const enum cut_kind kinds[] = { CUT_SUPREME, CUT_MEAT,
		CUT_FILLET, CUT_WHOLE };
	struct plan_cut *c;

	rig_batch(&k, "1", "COD", PRES_WHOLE, 0, 4000)->price = 1000000;
	rig_batch(&k, "2", "COD", PRES_WHOLE, 3, 9000)->price = 10000000;
	c = rig_dish(&k, 0,
	    &(struct rig_dish){
		"dish", "COD", kinds[_i], false, 140, 160, 180, 5 });
	c->house_yield_bp = 1;
	c->finish_bp = 1;
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, 5);
	c->finish_bp = BP_ONE;
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, 5);
}
END_TEST

/* --- refusals --------------------------------------------------------------*/

static enum rc
fails(struct err *err)
{
	enum rc rc;

	err_clear(err);
	rc = plan_make(&k.plan, &k.problem, err);
	ck_assert_uint_eq(k.plan.count, 0);
	ck_assert_ptr_null(k.plan.lines);
	return rc;
}

START_TEST(unknown_species)
{
	struct err err = { 0 };

	rig_dish(&k, 0,
	    &(struct rig_dish){
		"cod", "COD", CUT_SUPREME, true, 140, 160, 180, 5 });
	rig_dish(&k, 0,
	    &(struct rig_dish){
		"odd", "ZZZ", CUT_SUPREME, true, 140, 160, 180, 5 });
	ck_assert_int_eq(fails(&err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "odd"));
	ck_assert_ptr_nonnull(strstr(err.text, "ZZZ"));
}
END_TEST

START_TEST(too_many_species)
{
	static const char *const more[] = { "HAD", "POK", "WHG", "HKE", "MAC",
		"HER", "PLE", "LEM" };
	struct err err = { 0 };
	size_t i;

	rig_dish(&k, 0,
	    &(struct rig_dish){
		"stew", "COD", CUT_SUPREME, false, 140, 160, 180, 5 });
	for (i = 0; i + 1 < NELEM(more); i++)
		rig_or(&k, 0, more[i]);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "stew")->species_count, 8);
	plan_fini(&k.plan);
	rig_or(&k, 0, more[i]);
	ck_assert_int_eq(fails(&err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "more than 8 species"));
}
END_TEST

/* A yield that cannot be read is no yield that is not known. */
START_TEST(yield_failure)
{
	static const enum cut_kind kinds[] = { CUT_SUPREME, CUT_MEAT };
	struct err err = { 0 };

	rig_batch(&k, "1", "COD", PRES_WHOLE, 2, 4000);
	rig_dish(&k, 0,
	    &(struct rig_dish){
		"dish", "COD", kinds[_i], false, 140, 160, 180, 5 });
	k.yield_fails = RC_FAILED;
	ck_assert_int_eq(fails(&err), RC_FAILED);
	ck_assert_str_eq(err.text, "the yields are gone");
	k.stock.batch_count = 0;
	ck_assert_int_eq(fails(&err), RC_FAILED);
	k.stock.batch_count = 1;
}
END_TEST

Suite *
suite_core_prepplan(void)
{
	Suite *s = suite_create("core_prepplan");
	TCase *tc = tcase_create("prepplan");

	tcase_add_unchecked_fixture(tc, rig_setup, rig_teardown);
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, piece_rows, 0, (int)NELEM(pieces));
	tcase_add_loop_test(tc, tp309_rows, 0, (int)NELEM(tp309));
	tcase_add_loop_test(tc, weighed_rows, 0, (int)NELEM(weighed));
	tcase_add_loop_test(tc, order_rows, 0, (int)NELEM(orders));
	tcase_add_loop_test(tc, band_rows, 0, (int)NELEM(bands));
	tcase_add_test(tc, house_yield);
	tcase_add_test(tc, unknown_yield);
	tcase_add_loop_test(tc, absurd_yield, 0, 4);
	tcase_add_test(tc, unknown_species);
	tcase_add_test(tc, too_many_species);
	tcase_add_loop_test(tc, yield_failure, 0, 2);
	suite_add_tcase(s, tc);
	return s;
}
