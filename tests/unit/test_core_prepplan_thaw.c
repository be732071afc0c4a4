/*
 * test_core_prepplan_thaw.c - frozen trays in a plan: only when they can be
 * thawed in time, once, and after the chilled ones (R-S4).
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
}

static void
teardown(void)
{
	rig_close(&k);
}

static void
cod_dish(size_t service, int want)
{
	rig_dish(&k, service,
	    &(struct rig_dish){
		"dish", "COD", CUT_SUPREME, false, 160, 160, 200, want });
}

/* A tray in the freezer; `until` is its use-by thawed for each service. */
static void
frozen_tray(const char *code, int64_t left, int64_t *until)
{
	struct plan_tray *t =
	    rig_tray(&k, code, "dish", "COD", left, RIG_LATER);

	t->frozen = true;
	t->thawed_use_by_utc = until;
}

/* clang-format off */
static const struct {
	const char *why;
	int64_t now, hours, until, use_by;
	enum stock_reason bar;
} frozen[] = {
	/* The service is from 10 000 to 11 000; 2 hours are 7 200 s. */
	{ "thawed to the second", 2800, 2, 11000, RIG_LATER, STOCK_USABLE },
	{ "a second late", 2801, 2, 11000, RIG_LATER, STOCK_FROZEN },
	{ "an hour longer", 2800, 3, 11000, RIG_LATER, STOCK_FROZEN },
	{ "thawed it ends within the service", 2800, 2, 10999, RIG_LATER,
	    STOCK_THAWED },
	{ "no date once thawed", 2800, 2, 0, RIG_LATER, STOCK_THAWED },
	{ "its frozen life is over", 2800, 2, 11000, 10999, STOCK_EXPIRED },
	{ "how long it takes is not known", 2800, 0, 11000, RIG_LATER,
	    STOCK_FROZEN },
};
/* clang-format on */

START_TEST(frozen_rows)
{
	int64_t until[RIG_SERVICES] = { frozen[_i].until };
	const struct plan_take *t;

	frozen_tray("T", 3, until);
	k.trays[0].use_by_utc = frozen[_i].use_by;
	k.problem.now_utc = frozen[_i].now;
	k.problem.thaw_hours = frozen[_i].hours;
	cod_dish(0, 3);
	rig_plan(&k);
	t = rig_take(&k, "dish", "T");
	ck_assert(t->frozen);
	ck_assert_msg(t->portions == (frozen[_i].bar == STOCK_USABLE ? 3 : 0),
	    "%s", frozen[_i].why);
	if (frozen[_i].bar != STOCK_USABLE) {
		ck_assert_int_eq(t->reason, PLAN_BARRED);
		ck_assert_msg(t->bar == frozen[_i].bar, "%s: %s",
		    frozen[_i].why, stock_reason_word(t->bar));
		ck_assert_int_eq(t->thaw_by_utc, 0);
		ck_assert_int_eq(t->use_by_utc, frozen[_i].use_by);
		return;
	}
	ck_assert_int_eq(t->thaw_by_utc, 2800);
	ck_assert_int_eq(t->use_by_utc, 11000);
}
END_TEST

/* Chilled trays first, whatever the frozen one's date. */
START_TEST(frozen_last)
{
	int64_t until[RIG_SERVICES] = { RIG_LATER };

	frozen_tray("F", 3, until);
	rig_tray(&k, "C", "dish", "COD", 3, RIG_LATER);
	k.trays[0].use_by_utc = RIG_LATER + 1;
	k.problem.now_utc = 1;
	k.problem.thaw_hours = 1;
	cod_dish(0, 4);
	rig_plan(&k);
	ck_assert_int_eq(rig_take(&k, "dish", "C")->portions, 3);
	ck_assert_int_eq(rig_take(&k, "dish", "F")->portions, 1);
}
END_TEST

/*
 * A tray is thawed once: what the first service leaves of it must keep for the
 * second, else the second does without.  Thawed for the second alone it would
 * have kept.
 */
START_TEST(thawed_once)
{
	bool keeps = _i == 1;
	int64_t until[RIG_SERVICES] = { keeps ? RIG_END(1) : RIG_END(1) - 1,
		RIG_END(1) };

	frozen_tray("F", 4, until);
	k.problem.now_utc = 1;
	k.problem.thaw_hours = 1;
	cod_dish(0, 2);
	cod_dish(1, 2);
	k.problem.service_count = 2;
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->on_hand, keeps ? 2 : 0);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, keeps ? 0 : 2);
}
END_TEST

/* Two trays: one for each service, since neither keeps for both. */
START_TEST(thawed_one_each)
{
	int64_t one[RIG_SERVICES] = { RIG_END(0), RIG_END(1) };
	int64_t two[RIG_SERVICES] = { RIG_END(0), RIG_END(1) };

	frozen_tray("1", 4, one);
	frozen_tray("2", 4, two);
	k.problem.now_utc = 1;
	k.problem.thaw_hours = 1;
	cod_dish(0, 2);
	cod_dish(1, 2);
	k.problem.service_count = 2;
	rig_plan(&k);
	ck_assert_int_eq(rig_line(&k, "dish")->on_hand, 2);
	ck_assert_int_eq(rig_line(&k, "dish")->short_of, 0);
}
END_TEST

/* No service, no share, no end of looking for one. */
START_TEST(no_service)
{
	int64_t until[RIG_SERVICES] = { RIG_LATER };

	frozen_tray("F", 3, until);
	k.problem.service_count = 0;
	ck_assert_int_eq(plan_make(&k.plan, &k.problem, NULL), RC_OK);
	ck_assert_uint_eq(k.plan.count, 0);
}
END_TEST

Suite *
suite_core_prepplan_thaw(void)
{
	Suite *s = suite_create("core_prepplan_thaw");
	TCase *tc = tcase_create("thaw");

	tcase_add_unchecked_fixture(tc, rig_setup, rig_teardown);
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, frozen_rows, 0, (int)NELEM(frozen));
	tcase_add_test(tc, frozen_last);
	tcase_add_loop_test(tc, thawed_once, 0, 2);
	tcase_add_test(tc, thawed_one_each);
	tcase_add_test(tc, no_service);
	suite_add_tcase(s, tc);
	return s;
}
