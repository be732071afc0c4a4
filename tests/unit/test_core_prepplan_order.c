/*
 * test_core_prepplan_order.c - what is missing, as suppliers sell it: by grade,
 * by weight, by hand.  Always by the low yield.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "plan_rig.h"

static struct rig k;

/* Mean 48 %, low 40 % of whole fish; 90 % and 80 % of fillets. */
static void
setup(void)
{
	rig_open(&k);
	rig_yield(&k, "", PRES_WHOLE, CUT_SUPREME, true, 4800, 4000);
	rig_yield(&k, "", PRES_FILLET, CUT_SUPREME, true, 9000, 8000);
	rig_yield(&k, "", PRES_WHOLE, CUT_FILLET, true, 4800, 4000);
	rig_yield(&k, "", PRES_WHOLE, CUT_WHOLE, true, 9000, 9000);
	rig_yield(&k, "", PRES_WHOLE, CUT_TRIM, false, 4800, 4000);
	rig_yield(&k, "", PRES_LIVE, CUT_MEAT, false, 2500, 2000);
	rig_yield(&k, "", PRES_LIVE, CUT_SHELL, false, 10000, 10000);
}

static void
teardown(void)
{
	rig_close(&k);
}

static struct plan_cut *
dish(const char *name, enum cut_kind kind, grams target, grams high, int want)
{
	return rig_dish(&k, 0,
	    &(struct rig_dish){
		name, "HKE", kind, true, target, target, high, want });
}

static struct plan_offer *
offer(int64_t supplier, enum presentation p, grams fish_g, int64_t price,
    grams step)
{
	struct plan_offer o = { .id = (int64_t)k.problem.offer_count + 1,
		.supplier_id = supplier,
		.species = "HKE",
		.presentation = p,
		.fish_g = fish_g,
		.price = price,
		.step_g = step };

	o.supplier[0] = (char)('a' + supplier);
	return rig_offer(&k, &o);
}

static const struct plan_order *
only_order(void)
{
	rig_plan(&k);
	ck_assert_uint_eq(k.plan.order_count, 1);
	return k.plan.orders;
}

/* --- by weight -------------------------------------------------------------*/

/* clang-format off */
static const struct {
	const char *why;
	int want;
	grams target;
	int finish_bp;
	grams step;
	grams need, order;
} steps[] = {
	{ "10 x 120 / 0.40 is 3000 exactly", 10, 120, 10000, 500, 3000, 3000 },
	{ "a gram more is a step more", 10, 121, 10000, 500, 3025, 3500 },
	{ "steps of a gram", 10, 121, 10000, 1, 3025, 3025 },
	{ "finishing leaves 80 %: 1200 / 0.32", 10, 120, 8000, 1000, 3750,
	    4000 },
	{ "one portion, one box", 1, 120, 10000, 5000, 300, 5000 },
};
/* clang-format on */

/* Without an offer in the kitchen's own step, with one in the supplier's. */
START_TEST(step_rows)
{
	const struct plan_order *o;
	int offered = _i % 2;
	size_t row = (size_t)_i / 2;

	k.problem.step_g = offered ? 7 : steps[row].step;
	if (offered)
		offer(1, PRES_WHOLE, 0, 1250, steps[row].step);
	dish("dish", CUT_SUPREME, steps[row].target, steps[row].target,
	    steps[row].want)
	    ->finish_bp = steps[row].finish_bp;
	o = only_order();
	ck_assert_msg(o->need_g == steps[row].need, "%s: %d", steps[row].why,
	    (int)o->need_g);
	ck_assert_int_eq(o->order_g, steps[row].order);
	ck_assert_int_eq(o->step_g, steps[row].step);
	ck_assert_int_eq(o->portions, steps[row].want);
	ck_assert_int_eq(o->fish, 0);
	ck_assert_int_eq(o->yield.low_bp, 4000);
	ck_assert_str_eq(o->supplier, offered ? "b" : "");
	ck_assert_int_eq(o->cost, offered ? 1250 * steps[row].order : 0);
	ck_assert(rig_line(&k, "dish")->order_known);
}
END_TEST

/*
 * Of offers by weight the one whose usable gram is cheapest: whole at 10.00 and
 * 40 % is 25.00 a kilogram of flesh, fillets at 80 % are cheaper below 20.00.
 */
START_TEST(cheapest_gram)
{
	static const int64_t price[] = { 1999, 2001 };

	offer(1, PRES_WHOLE, 0, 1000, 100);
	offer(2, PRES_FILLET, 0, price[_i], 100);
	offer(3, PRES_WHOLE, 0, 1001, 100);
	dish("dish", CUT_SUPREME, 120, 130, 10);
	only_order();
	ck_assert_str_eq(k.plan.orders->supplier, _i == 0 ? "c" : "b");
	ck_assert_int_eq(
	    k.plan.orders->bought, _i == 0 ? PRES_FILLET : PRES_WHOLE);
	ck_assert_int_eq(k.plan.orders->need_g, _i == 0 ? 1500 : 3000);
}
END_TEST

/* A supplier's own learned yield can make the dearer fish cheaper. */
START_TEST(supplier_yield)
{
	offer(1, PRES_WHOLE, 0, 1000, 100);
	offer(2, PRES_WHOLE, 0, 1100, 100);
	k.yields[0].supplier_id = 1;
	rig_yield(&k, "", PRES_WHOLE, CUT_SUPREME, true, 4800, 4600)
	    ->supplier_id = 2;
	dish("dish", CUT_SUPREME, 120, 130, 10);
	only_order();
	ck_assert_str_eq(k.plan.orders->supplier, "c");
	ck_assert_int_eq(k.plan.orders->yield.low_bp, 4600);
}
END_TEST

/* Lines of one kind are one order; the animals it must hold add up. */
START_TEST(summed_up)
{
	struct plan_cut *c;

	k.problem.dead_shell_bp = 1000;
	rig_dish(&k, 0,
	    &(struct rig_dish){
		"six", "OYG", CUT_SHELL, false, 600, 600, 600, 5 });
	c = rig_dish(&k, 0,
	    &(struct rig_dish){
		"nine", "OYG", CUT_SHELL, false, 900, 900, 900, 2 });
	k.cuts[0].animals = 6;
	c->animals = 9;
	k.cuts[0].animals_make = c->animals_make = 1;
	k.cuts[0].bought = c->bought = PRES_LIVE;
	only_order();
	/* 30 and 18 alive: 33.3 and 20; 3000 and 1800 g over 0.9. */
	ck_assert_int_eq(k.plan.orders->at_least, 34 + 20);
	ck_assert_int_eq(k.plan.orders->need_g, 3334 + 2000);
	ck_assert_int_eq(k.plan.orders->order_g, 5400);
	ck_assert_int_eq(k.plan.orders->portions, 7);
}
END_TEST

/* --- by grade --------------------------------------------------------------*/

/*
 * Ten portions of 120 g by the low yield: a fish of 1200 g gives two fillets of
 * 240 g, four portions; of 800 g, two of 160 g, two portions.
 */
/* clang-format off */
static const struct {
	const char *why;
	int64_t large_price, small_price; /* 0: not sold */
	grams grade;
	int64_t fish, price;
	grams order;
} grades[] = {
	{ "one grade: three fish", 1000, 0, 1200, 3, 1000, 3600 },
	{ "1100 g give two of 132 g by the mean, one by the low yield", 0,
	    1000, 1100, 5, 1000, 5500 },
	{ "the other alone: five", 0, 1000, 800, 5, 1000, 4000 },
	{ "at one price both: no gram too much", 1000, 1000, 0, 0, 0, 0 },
	{ "28.00 against 29.60 mixed: the small ones", 1000, 700, 800, 5,
	    700, 4000 },
};
/* clang-format on */

START_TEST(grade_rows)
{
	const struct plan_order *o;

	if (grades[_i].large_price > 0)
		offer(1, PRES_WHOLE, 1200, grades[_i].large_price, 100);
	if (grades[_i].small_price > 0)
		offer(2, PRES_WHOLE, _i == 1 ? 1100 : 800,
		    grades[_i].small_price, 100);
	dish("dish", CUT_SUPREME, 120, 160, 10);
	rig_plan(&k);
	if (_i == 3) { /* 2 x 1200 + 800 does it for less than 3 x 1200 */
		ck_assert_uint_eq(k.plan.order_count, 2);
		ck_assert_int_eq(
		    k.plan.orders[0].order_g + k.plan.orders[1].order_g, 3200);
		return;
	}
	ck_assert_uint_eq(k.plan.order_count, 1);
	o = k.plan.orders;
	ck_assert_msg(o->fish_g == grades[_i].grade, "%s: %d g", grades[_i].why,
	    (int)o->fish_g);
	ck_assert_int_eq(o->fish, grades[_i].fish);
	ck_assert_int_eq(o->price, grades[_i].price);
	ck_assert_int_eq(o->order_g, grades[_i].order);
	ck_assert_int_eq(o->need_g, o->order_g);
	ck_assert_int_eq(o->cost, o->price * o->order_g);
	ck_assert_int_eq(o->portions, 10);
	ck_assert_int_eq(o->yield.low_bp, 4000);
}
END_TEST

/* Dear fish is bought all the same: that is what the list is for. */
START_TEST(dear_fish)
{
	dish("dish", CUT_SUPREME, 120, 160, 1)->price = 100;
	offer(1, PRES_WHOLE, 5000, 9000, 100);
	only_order();
	ck_assert_int_eq(k.plan.orders->fish, 1);
	ck_assert_int_eq(k.plan.orders->portions, 1);
}
END_TEST

/* Served whole: as many fish as guests, of the grade that fits. */
START_TEST(whole_grade)
{
	dish("whole", CUT_WHOLE, 400, 450, 6);
	offer(1, PRES_WHOLE, 1000, 100, 100);
	offer(2, PRES_WHOLE, 480, 3000, 500);
	only_order();
	ck_assert_int_eq(k.plan.orders->fish_g, 480);
	ck_assert_int_eq(k.plan.orders->fish, 6);
	ck_assert_int_eq(k.plan.orders->need_g, 2880);
	ck_assert_int_eq(k.plan.orders->order_g, 3000);
}
END_TEST

/* No grade fits: by weight, with the fish it must hold. */
START_TEST(no_grade_fits)
{
	dish("whole", CUT_WHOLE, 400, 450, 6);
	offer(1, PRES_WHOLE, 1000, 100, 100);
	only_order();
	ck_assert_int_eq(k.plan.orders->fish, 0);
	ck_assert_str_eq(k.plan.orders->supplier, "");
	ck_assert_int_eq(k.plan.orders->at_least, 6);
	ck_assert_int_eq(k.plan.orders->need_g, 2667);
}
END_TEST

/* Only for trim: the yield shown is that of the trim dish. */
START_TEST(trim_grade)
{
	rig_dish(&k, 0,
	    &(struct rig_dish){
		"cakes", "HKE", CUT_TRIM, false, 100, 100, 100, 4 });
	rig_dish(&k, 0,
	    &(struct rig_dish){
		"cod", "COD", CUT_SUPREME, true, 100, 100, 110, 1 });
	offer(1, PRES_WHOLE, 1000, 1000, 100);
	rig_plan(&k);
	ck_assert_uint_eq(k.plan.order_count, 2);
	ck_assert_int_eq(k.plan.orders[0].fish, 1);
	ck_assert_int_eq(k.plan.orders[0].yield.low_bp, 4000);
	ck_assert(rig_line(&k, "cakes")->order_known);
}
END_TEST

/* --- by hand ---------------------------------------------------------------*/

/* A fish of another dish on offer does not make this one known. */
START_TEST(no_yield)
{
	struct plan_cut *c;

	rig_yield(&k, "", PRES_HEADED, CUT_SUPREME, false, 5000, 5000);
	c = rig_dish(&k, 0,
	    &(struct rig_dish){
		"off", "HKE", CUT_SUPREME, false, 100, 100, 110, 3 });
	c->bought = PRES_GUTTED;
	if (_i == 1) {
		dish("dish", CUT_SUPREME, 120, 160, 4);
		offer(1, PRES_WHOLE, 1200, 1000, 100);
	}
	rig_plan(&k);
	ck_assert(!rig_line(&k, "off")->order_known);
	ck_assert_int_eq(rig_line(&k, "off")->short_of, 3);
	ck_assert_uint_eq(k.plan.order_count, (size_t)_i);
}
END_TEST

/* More than a grade is planned for: the rest by weight, nothing lost. */
START_TEST(huge_demand)
{
	int64_t portions = 0;
	size_t i;

	dish("dish", CUT_SUPREME, 120, 160, 600);
	offer(1, PRES_WHOLE, 1200, 1000, 100);
	rig_plan(&k);
	for (i = 0; i < k.plan.order_count; i++)
		portions += k.plan.orders[i].portions;
	ck_assert_uint_eq(k.plan.order_count, 2);
	ck_assert_int_eq(portions, 600);
	ck_assert(rig_line(&k, "dish")->order_known);
}
END_TEST

/* The order is for what stock and trays leave missing. */
START_TEST(after_stock)
{
	grams g[2] = { 1000, 1000 };

	rig_weigh(rig_batch(&k, "B", "HKE", PRES_WHOLE, 2, 0), g);
	rig_tray(&k, "T", "dish", "HKE", 3, RIG_LATER);
	dish("dish", CUT_SUPREME, 120, 130, 15);
	only_order();
	/* 3 of trays, 2 x 2 x 2 of fish: 4 are short. */
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, 4);
	ck_assert_int_eq(k.plan.orders->portions, 4);
	ck_assert_int_eq(k.plan.orders->need_g, 1200);
}
END_TEST

START_TEST(nothing_short)
{
	rig_tray(&k, "T", "dish", "HKE", 30, RIG_LATER);
	dish("dish", CUT_SUPREME, 120, 130, 15);
	offer(1, PRES_WHOLE, 1200, 1000, 100);
	rig_plan(&k);
	ck_assert_uint_eq(k.plan.order_count, 0);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, 0);
}
END_TEST

Suite *
suite_core_prepplan_order(void)
{
	Suite *s = suite_create("core_prepplan_order");
	TCase *tc = tcase_create("order");

	tcase_add_unchecked_fixture(tc, rig_setup, rig_teardown);
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, step_rows, 0, 2 * (int)NELEM(steps));
	tcase_add_loop_test(tc, cheapest_gram, 0, 2);
	tcase_add_test(tc, supplier_yield);
	tcase_add_test(tc, summed_up);
	tcase_add_loop_test(tc, grade_rows, 0, (int)NELEM(grades));
	tcase_add_test(tc, dear_fish);
	tcase_add_test(tc, whole_grade);
	tcase_add_test(tc, no_grade_fits);
	tcase_add_test(tc, trim_grade);
	tcase_add_loop_test(tc, no_yield, 0, 2);
	tcase_add_test(tc, huge_demand);
	tcase_add_test(tc, after_stock);
	tcase_add_test(tc, nothing_short);
	suite_add_tcase(s, tc);
	return s;
}
