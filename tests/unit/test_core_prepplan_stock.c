/*
 * test_core_prepplan_stock.c - which stock a plan draws on and in which order:
 * trays over services, batches by weight, shellfish.
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
	rig_yield(&k, "", PRES_WHOLE, CUT_SUPREME, false, 4000, 3500);
	rig_yield(&k, "", PRES_TAIL, CUT_TAIL, false, 8000, 8000);
	rig_yield(&k, "", PRES_TAIL, CUT_SUPREME, false, 7000, 7000);
	rig_yield(&k, "", PRES_LIVE, CUT_SHELL, false, 10000, 10000);
	rig_yield(&k, "", PRES_LIVE, CUT_MEAT, false, 2500, 2500);
	rig_yield(&k, "", PRES_SHUCKED, CUT_MEAT, false, 10000, 10000);
}

static void
teardown(void)
{
	rig_close(&k);
}

/* Cod of which each fish gives two fillets of 400 g: four of 200. */
static struct plan_batch *
cod(const char *code, int64_t count)
{
	return rig_batch(&k, code, "COD", PRES_WHOLE, count, count * 2000);
}

static struct plan_cut *
cod_dish(size_t service, int want)
{
	return rig_dish(&k, service,
	    &(struct rig_dish){
		"dish", "COD", CUT_SUPREME, false, 160, 160, 200, want });
}

/* --- what may not be served ------------------------------------------------*/

/* clang-format off */
static const struct {
	const char *why;
	bool held;
	int64_t use_by;
	enum plan_pin pin;
	enum plan_reason reason;
	enum stock_reason bar;
} bars[] = {
	{ "in date, to the second", false, RIG_END(0), PLAN_FREE, PLAN_TAKEN,
	    STOCK_USABLE },
	{ "a second too old", false, RIG_END(0) - 1, PLAN_FREE, PLAN_BARRED,
	    STOCK_EXPIRED },
	{ "no use-by at all", false, 0, PLAN_FREE, PLAN_BARRED, STOCK_UNDATED },
	{ "on hold", true, RIG_LATER, PLAN_FREE, PLAN_BARRED, STOCK_HELD },
	{ "on hold and too old", true, RIG_END(0) - 1, PLAN_FREE, PLAN_BARRED,
	    STOCK_HELD },
	{ "the chef leaves it", false, RIG_END(0), PLAN_LEAVE, PLAN_LEFT,
	    STOCK_USABLE },
	{ "left and too old: the rule is said", false, RIG_END(0) - 1,
	    PLAN_LEAVE, PLAN_BARRED, STOCK_EXPIRED },
	{ "no pin opens what is on hold", true, RIG_LATER, PLAN_FIRST,
	    PLAN_BARRED, STOCK_HELD },
	{ "nor what is too old", false, RIG_END(0) - 1, PLAN_FIRST,
	    PLAN_BARRED, STOCK_EXPIRED },
};
/* clang-format on */

/* A batch, counted or not; behind it one that would do. */
static void
bar_row(size_t row, bool by_weight)
{
	struct plan_batch *b =
	    rig_batch(&k, "1", "COD", PRES_WHOLE, by_weight ? 0 : 4, 8000);
	struct plan_batch *next = cod("2", 4);
	bool taken = bars[row].reason == PLAN_TAKEN;
	const struct plan_take *t;

	b->held = bars[row].held;
	b->use_by_utc = bars[row].use_by;
	b->use_by_day = RIG_DAY;
	b->pin = bars[row].pin;
	cod_dish(0, 4);
	rig_plan(&k);
	t = rig_take(&k, "dish", "1");
	ck_assert_msg(t->reason == bars[row].reason, "%s: %d", bars[row].why,
	    (int)t->reason);
	if (t->reason == PLAN_BARRED)
		ck_assert_int_eq(t->bar, bars[row].bar);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 4);
	if (taken) {
		ck_assert_ptr_null(rig_take(&k, "dish", "2"));
		ck_assert_int_eq(next->count, 4);
		return;
	}
	ck_assert_int_eq(t->portions, 0);
	ck_assert_int_eq(b->count, by_weight ? 0 : 4);
	ck_assert_int_eq(b->weight_g, 8000);
	ck_assert_int_eq(rig_take(&k, "dish", "2")->portions, 4);
	ck_assert_int_eq(next->count, 3);
}

START_TEST(barred_counted)
{
	bar_row((size_t)_i, false);
}
END_TEST

START_TEST(barred_by_weight)
{
	bar_row((size_t)_i, true);
}
END_TEST

START_TEST(barred_tray)
{
	struct plan_tray *t = rig_tray(&k, "T", "dish", "COD", 3, 0);

	if (bars[_i].pin != PLAN_FREE)
		return;
	t->held = bars[_i].held;
	t->use_by_utc = bars[_i].use_by;
	cod_dish(0, 4);
	rig_plan(&k);
	ck_assert_msg(rig_take(&k, "dish", "T")->reason == bars[_i].reason,
	    "%s", bars[_i].why);
	if (bars[_i].reason == PLAN_BARRED)
		ck_assert_int_eq(rig_take(&k, "dish", "T")->bar, bars[_i].bar);
	ck_assert_int_eq(rig_line(&k, "dish")->on_hand,
	    bars[_i].reason == PLAN_TAKEN ? 3 : 0);
}
END_TEST

/* --- trays -----------------------------------------------------------------*/

START_TEST(trays_before_batches)
{
	const struct plan_line *l;

	rig_tray(&k, "1", "dish", "COD", 3, RIG_END(0));
	rig_tray(&k, "other", "other-dish", "COD", 9, RIG_LATER);
	rig_tray(&k, "kind", "dish", "HAD", 9, RIG_LATER);
	rig_tray(&k, "2", "dish", "COD", 4, RIG_LATER);
	cod("B", 4);
	cod_dish(0, 14);
	k.wants[0][0].used = 2;
	rig_plan(&k);
	l = rig_line(&k, "dish");
	ck_assert_int_eq(l->to_have, 12);
	ck_assert_int_eq(l->on_hand, 7);
	ck_assert_int_eq(l->to_make, 5);
	ck_assert_int_eq(l->short_of, 0);
	ck_assert_uint_eq(l->take_count, 3);
	ck_assert_int_eq(rig_take(&k, "dish", "1")->portions, 3);
	ck_assert_int_eq(rig_take(&k, "dish", "2")->portions, 4);
	ck_assert_int_eq(rig_take(&k, "dish", "B")->portions, 5);
}
END_TEST

START_TEST(oldest_tray_first)
{
	rig_tray(&k, "1", "dish", "COD", 3, RIG_END(0));
	rig_tray(&k, "2", "dish", "COD", 3, RIG_LATER);
	cod_dish(0, 3);
	rig_plan(&k);
	ck_assert_int_eq(rig_take(&k, "dish", "1")->portions, 3);
	ck_assert_int_eq(rig_take(&k, "dish", "2")->portions, 0);
	ck_assert_int_eq(rig_take(&k, "dish", "2")->reason, PLAN_NOT_NEEDED);
}
END_TEST

START_TEST(more_used_than_needed)
{
	rig_tray(&k, "1", "dish", "COD", 3, RIG_LATER);
	cod_dish(0, 4);
	k.wants[0][0].used = 9;
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_have, 0);
	ck_assert_int_eq(rig_line(&k, "dish")->on_hand, 0);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, 0);
	ck_assert_uint_eq(k.plan.order_count, 0);
}
END_TEST

/*
 * Three trays over two services.  The first service may use all, the second
 * only the two that last: 4 and 4 wanted, 3 + 2 + 3 on hand, all served.
 */
START_TEST(trays_over_services)
{
	rig_tray(&k, "1", "dish", "COD", 3, RIG_END(0));
	rig_tray(&k, "2", "dish", "COD", 2, RIG_END(1));
	rig_tray(&k, "3", "dish", "COD", 3, RIG_LATER);
	cod_dish(0, 4);
	cod_dish(1, 4);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->on_hand, 4);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, 0);
	ck_assert_int_eq(rig_take(&k, "dish", "1")->reason, PLAN_BARRED);
	ck_assert_int_eq(rig_take(&k, "dish", "2")->portions, 1);
	ck_assert_int_eq(rig_take(&k, "dish", "3")->portions, 3);
}
END_TEST

/* The earlier service took it all. */
START_TEST(tray_elsewhere)
{
	rig_tray(&k, "1", "dish", "COD", 3, RIG_END(1));
	cod_dish(0, 5);
	cod_dish(1, 4);
	k.problem.service_count = 2;
	rig_plan(&k);
	ck_assert_int_eq(rig_take(&k, "dish", "1")->reason, PLAN_ELSEWHERE);
	ck_assert_int_eq(rig_line(&k, "dish")->on_hand, 0);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, 4);
}
END_TEST

/* --- batches over services -------------------------------------------------*/

START_TEST(first_expired_first)
{
	struct plan_batch *soon = cod("1", 1), *late = cod("2", 5);

	soon->use_by_day = RIG_DAY + 1;
	soon->use_by_utc = RIG_END(1);
	rig_batch(&k, "x", "HAD", PRES_WHOLE, 9, 9000);
	cod_dish(0, 6);
	rig_plan(&k);
	ck_assert_int_eq(rig_take(&k, "dish", "1")->portions, 4);
	ck_assert_int_eq(rig_take(&k, "dish", "2")->portions, 2);
	ck_assert_int_eq(soon->count, 0);
	ck_assert_int_eq(soon->weight_g, 0);
	ck_assert_int_eq(late->count, 4);
	ck_assert_uint_eq(k.plan.inversion_count, 0);
}
END_TEST

START_TEST(earlier_service_first)
{
	struct plan_batch *b = cod("B", 3);

	cod_dish(0, 8);
	cod_dish(1, 10);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 4);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, 6);
	ck_assert_int_eq(b->count, 0);
	/* 6 x 160 / 0.35, the low yield, in steps of 100 g: the last service's
	 * need alone. */
	ck_assert_uint_eq(k.plan.order_count, 1);
	ck_assert_int_eq(k.plan.orders[0].need_g, 2743);
	ck_assert_int_eq(k.plan.orders[0].order_g, 2800);
}
END_TEST

/* Uncounted fish goes before counted fish that lasts longer, and after it when
 * it lasts longer itself. */
START_TEST(uncounted_and_counted)
{
	struct plan_batch *loose =
			      rig_batch(&k, "1", "COD", PRES_WHOLE, 0, 4000),
			  *fish = cod("2", 2);
	bool loose_first = _i == 0;

	(loose_first ? loose : fish)->use_by_utc = RIG_END(1);
	(loose_first ? loose : fish)->use_by_day = RIG_DAY + 1;
	if (!loose_first) { /* first to expire first */
		struct plan_batch t = *loose;

		*loose = *fish;
		*fish = t;
	}
	cod_dish(0, 10);
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 10);
	/* 4 kg x 0.4 = 1600 g, ten of 160; two fish give eight. */
	ck_assert_int_eq(
	    rig_take(&k, "dish", "1")->portions, loose_first ? 10 : 2);
	if (loose_first)
		ck_assert_int_eq(fish->count, 2);
	else
		ck_assert_int_eq(rig_take(&k, "dish", "2")->portions, 8);
}
END_TEST

/* What the chef puts first goes before what expires first. */
START_TEST(uncounted_pinned)
{
	struct plan_batch *b[2];

	b[0] = rig_batch(&k, "1", "COD", PRES_WHOLE, 0, 4000);
	b[1] = rig_batch(&k, "2", "COD", PRES_WHOLE, 0, 4000);
	b[1]->pin = PLAN_FIRST;
	cod_dish(0, 12);
	rig_plan(&k);
	ck_assert_int_eq(rig_take(&k, "dish", "2")->portions, 10);
	ck_assert_int_eq(rig_take(&k, "dish", "1")->portions, 2);
}
END_TEST

/* Weighed tails taken by weight: which ones they were is not known after. */
START_TEST(weighed_taken_by_weight)
{
	grams g[4] = { 1400, 1000, 900, 700 };
	struct plan_batch *b = rig_batch(&k, "B", "MON", PRES_TAIL, 4, 0);
	int64_t n = 0;
	size_t i;

	rig_weigh(b, g);
	/* 800 g of tail: 1000 g as bought, which is one mean tail. */
	rig_dish(&k, 0,
	    &(struct rig_dish){
		"tail", "MON", CUT_TAIL, false, 200, 200, 200, 4 });
	rig_dish(&k, 1,
	    &(struct rig_dish){
		"cut", "MON", CUT_SUPREME, false, 100, 100, 110, 90 });
	rig_plan(&k);
	ck_assert_int_eq(b->count, 0);
	ck_assert_int_eq(b->weight_g, 0);
	for (i = 0; i < k.plan.opened_count; i++) {
		n += k.plan.opened[i].weight_g;
		ck_assert_int_eq(k.plan.opened[i].number, 0);
	}
	ck_assert_uint_eq(k.plan.opened_count, 3);
	ck_assert_int_eq(n, 3000);
}
END_TEST

/* --- shellfish -------------------------------------------------------------*/

/* clang-format off */
static const struct {
	const char *why;
	const char *species;
	enum presentation p;
	int64_t count;
	grams weight;
	enum cut_kind kind;
	int animals, make;
	grams target;
	int want;
	int dead_shell_bp, dead_crustacean_bp;
	/* expected */
	int64_t portions, fish;
	grams taken;
	int dead_bp;
} shells[] = {
	{ "oysters, 6 a portion, 1 in 10 dead: 30 / 0.9 = 33.3",
	    "OYG", PRES_LIVE, 50, 5000, CUT_SHELL, 6, 1, 500, 5, 1000, 0,
	    5, 34, 3400, 1000 },
	{ "50 oysters, 45 alive, are 7 portions",
	    "OYG", PRES_LIVE, 50, 5000, CUT_SHELL, 6, 1, 500, 90, 1000, 0,
	    7, 47, 4700, 1000 },
	{ "none dead: 8", "OYG", PRES_LIVE, 50, 5000, CUT_SHELL, 6, 1, 500, 90,
	    0, 1000, 8, 48, 4800, 0 },
	{ "half lobsters: five are three animals",
	    "LBE", PRES_LIVE, 4, 2400, CUT_SHELL, 1, 2, 300, 5, 1000, 0,
	    5, 3, 1800, 0 },
	{ "one in four lobsters dead: six are four",
	    "LBE", PRES_LIVE, 4, 2400, CUT_SHELL, 1, 2, 300, 6, 0, 2500,
	    6, 4, 2400, 2500 },
	{ "mussels in the shell, 500 g: 2000 / 0.9",
	    "MUS", PRES_LIVE, 0, 5000, CUT_SHELL, 0, 0, 500, 4, 1000, 0,
	    4, 0, 2223, 1000 },
	{ "5 kg, 4.5 alive, are 9",
	    "MUS", PRES_LIVE, 0, 5000, CUT_SHELL, 0, 0, 500, 40, 1000, 0,
	    9, 0, 5000, 1000 },
	{ "oysters never counted go by the portion's weight",
	    "OYG", PRES_LIVE, 0, 5000, CUT_SHELL, 6, 1, 500, 4, 0, 0,
	    4, 0, 2000, 0 },
	{ "meat: 4 x 60 = 240 / 0.25 / 0.9 = 1066.7",
	    "MUS", PRES_LIVE, 0, 5000, CUT_MEAT, 0, 0, 60, 4, 1000, 0,
	    4, 0, 1067, 1000 },
	{ "shucked is not alive",
	    "MUS", PRES_SHUCKED, 0, 5000, CUT_MEAT, 0, 0, 60, 4, 1000, 0,
	    4, 0, 240, 0 },
};
/* clang-format on */

START_TEST(shell_rows)
{
	struct plan_batch *b = rig_batch(&k, "B", shells[_i].species,
	    shells[_i].p, shells[_i].count, shells[_i].weight);
	const struct plan_take *t;
	struct plan_cut *c = rig_dish(&k, 0,
	    &(struct rig_dish){ "dish", shells[_i].species, shells[_i].kind,
		false, shells[_i].target, shells[_i].target, shells[_i].target,
		shells[_i].want });

	c->animals = shells[_i].animals;
	c->animals_make = shells[_i].make;
	k.problem.dead_shell_bp = shells[_i].dead_shell_bp;
	k.problem.dead_crustacean_bp = shells[_i].dead_crustacean_bp;
	rig_plan(&k);
	t = rig_take(&k, "dish", "B");
	ck_assert_msg(t->portions == shells[_i].portions, "%s: %d portions",
	    shells[_i].why, (int)t->portions);
	ck_assert_msg(t->fish == shells[_i].fish, "%s: %d animals",
	    shells[_i].why, (int)t->fish);
	ck_assert_msg(t->weight_g == shells[_i].taken, "%s: %d g",
	    shells[_i].why, (int)t->weight_g);
	ck_assert_int_eq(t->dead_bp, shells[_i].dead_bp);
	ck_assert_int_eq(b->count, shells[_i].count - shells[_i].fish);
	ck_assert_int_eq(b->weight_g, shells[_i].weight - shells[_i].taken);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of,
	    shells[_i].want - shells[_i].portions);
}
END_TEST

/* The last fish of a batch takes all of its weight. */
START_TEST(last_animal)
{
	struct plan_batch *b = rig_batch(&k, "B", "LBE", PRES_LIVE, 3, 2000);
	struct plan_cut *c = rig_dish(&k, 0,
	    &(struct rig_dish){
		"dish", "LBE", CUT_SHELL, false, 300, 300, 300, 3 });

	c->animals = c->animals_make = 1;
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->to_make, 3);
	ck_assert_int_eq(b->count, 0);
	ck_assert_int_eq(b->weight_g, 0);
}
END_TEST

START_TEST(trim_dish_by_weight)
{
	rig_batch(&k, "B", "COD", PRES_WHOLE, 0, 8000);
	rig_yield(&k, "", PRES_WHOLE, CUT_TRIM, false, 4000, 4000);
	rig_dish(&k, 0,
	    &(struct rig_dish){
		"cakes", "COD", CUT_TRIM, false, 80, 90, 100, 5 });
	rig_plan(&k);
	/* No fish is cut up by weight for its trim. */
	ck_assert_int_eq(rig_line(&k, "cakes")->to_make, 0);
	ck_assert_int_eq(rig_line(&k, "cakes")->short_of, 5);
}
END_TEST

/* --- the list --------------------------------------------------------------*/

START_TEST(parasite_record)
{
	struct plan_batch *b = cod("B", 3);

	b->parasite_free = _i == 2;
	cod_dish(0, 4)->state = _i > 0 ? STATE_SERVED_RAW : STATE_RAW;
	rig_plan(&k);
	ck_assert(rig_take(&k, "dish", "B")->ask_parasites == (_i == 1));
}
END_TEST

/* Fish before crustaceans before molluscs, then by name, then by dish; a dish
 * that is not offered is no line. */
START_TEST(working_order)
{
	static const char *const want[] = { "COD", "HAD", "PLE", "CRE", "MUS",
		"SQR" };
	static const char *const given[] = { "SQR", "CRE", "PLE", "MUS", "HAD",
		"COD", "LEM" };
	size_t i;

	for (i = 0; i < NELEM(given); i++)
		rig_dish(&k, 0,
		    &(struct rig_dish){
			given[i], given[i], CUT_MEAT, false, 50, 60, 70, 1 });
	k.wants[0][NELEM(given) - 1].demand.why = WHY_NOT_OFFERED;
	rig_plan(&k);
	ck_assert_uint_eq(k.plan.count, NELEM(want));
	for (i = 0; i < 4; i++)
		ck_assert_str_eq(k.plan.lines[i].cut.species, want[i]);
	ck_assert_int_eq(
	    species_find(rig_species(), k.plan.lines[4].cut.species)->allergen,
	    ALLERGEN_MOLLUSCS);
}
END_TEST

Suite *
suite_core_prepplan_stock(void)
{
	Suite *s = suite_create("core_prepplan_stock");
	TCase *tc = tcase_create("stock");

	tcase_add_unchecked_fixture(tc, rig_setup, rig_teardown);
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, barred_counted, 0, (int)NELEM(bars));
	tcase_add_loop_test(tc, barred_by_weight, 0, (int)NELEM(bars));
	tcase_add_loop_test(tc, barred_tray, 0, (int)NELEM(bars));
	tcase_add_test(tc, trays_before_batches);
	tcase_add_test(tc, oldest_tray_first);
	tcase_add_test(tc, more_used_than_needed);
	tcase_add_test(tc, trays_over_services);
	tcase_add_test(tc, tray_elsewhere);
	tcase_add_test(tc, first_expired_first);
	tcase_add_test(tc, earlier_service_first);
	tcase_add_loop_test(tc, uncounted_and_counted, 0, 2);
	tcase_add_test(tc, uncounted_pinned);
	tcase_add_test(tc, weighed_taken_by_weight);
	tcase_add_loop_test(tc, shell_rows, 0, (int)NELEM(shells));
	tcase_add_test(tc, last_animal);
	tcase_add_test(tc, trim_dish_by_weight);
	tcase_add_loop_test(tc, parasite_record, 0, 3);
	tcase_add_test(tc, working_order);
	suite_add_tcase(s, tc);
	return s;
}
