/*
 * test_ops_demand.c - the forecast of a service on a station file: what it
 * learns from, what it must not know, and how long a portion keeps.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/bring_in.h"
#include "ops/close.h"
#include "ops/demand.h"
#include "ops/expect.h"
#include "ops/fate.h"
#include "ops/forecast.h"

static struct kitchen k;

static void
setup(void)
{
	kitchen_open(&k);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static struct demand_report
ask(const char *service)
{
	const struct service_window *w;
	struct demand_report r;
	struct err err = { 0 };
	day_no day;

	ck_assert_int_eq(
	    sitting_parse(&day, &w, &k.sn->cfg, service, NULL), RC_OK);
	ck_assert_msg(
	    demand_of(&r, k.sn, day, w, &err) == RC_OK, "%s", err.text);
	return r;
}

static const struct demand_row *
row_of(const struct demand_report *r, const char *dish)
{
	size_t i;

	for (i = 0; i < r->count; i++)
		if (str_eq(r->items[i].dish, dish))
			return &r->items[i];
	ck_abort_msg("no %s", dish);
	return NULL;
}

static void
bookings(const char *rows)
{
	struct import_result r;
	struct err err = { 0 };
	char path[320], text[4096];

	ck_assert(str_fmt(
	    text, sizeof(text), "date,service,covers,parties\n%s", rows));
	kitchen_write(path, &k, "more.csv", text);
	ck_assert_msg(import_bookings(&r, k.sn, path, "AB", &err) == RC_OK,
	    "%s", err.text);
}

static void
shut(const char *service, int64_t seated, const char *sold, bool correct)
{
	const char *words[] = { sold };
	struct close_in in = { .service = service,
		.seated = seated,
		.walk_ins = correct ? -1 : 6,
		.sold = words,
		.sold_count = 1,
		.correct = correct,
		.by = "AB" };
	struct err err = { 0 };
	struct buf out;

	buf_init(&out, 1 << 20);
	ck_assert_msg(
	    close_service(&out, k.sn, &in, FORMAT_TEXT, &err) == RC_OK, "%s",
	    err.text);
	buf_fini(&out);
}

/* Without a record: the menu, and the house figures of core/demand.h. */
START_TEST(nothing_known)
{
	struct demand_report r = ask("2026-11-25/dinner");
	const struct demand_row *row;

	ck_assert_int_eq(r.services_learned, 0);
	ck_assert_int_eq(r.booked, 60);
	ck_assert_int_eq(r.typed, -1);
	ck_assert(!r.over);
	ck_assert_int_eq(r.show_bp, DEMAND_SHOW_BP);
	ck_assert_int_eq(r.walk_ins_c, 60 * 100 / 10);
	/* 60 x 93 % + 10 % of 60 */
	ck_assert_int_eq(r.covers_c, 5580 + 600);
	ck_assert_uint_eq(r.count, 3);
	ck_assert_str_eq(r.items[0].dish, "cod-leeks");
	ck_assert_str_eq(r.items[1].dish, "mussel-pot");
	ck_assert_str_eq(r.items[2].dish, "sole-bone");
	row = row_of(&r, "cod-leeks");
	ck_assert_int_eq(row->menu_bp, 2000);
	ck_assert_int_eq(row->learned_bp, 2000);
	ck_assert_int_eq(row->expected_c, 1236);
	ck_assert_int_eq(row->tau_bp, DEMAND_RATIO_BP);
	ck_assert_int_eq(row->ratio, RATIO_DEFAULT);
	ck_assert_int_le(row->low80, 12);
	ck_assert_int_ge(row->high80, 13);
	ck_assert_int_eq(row->floor, -1);
	ck_assert_int_eq(row->taught, 0);
	demand_report_fini(&r);
}
END_TEST

/*
 * Today's lunch is known to tonight's forecast, and neither is known to the
 * lunch's own: a page of what was forecast must not read the future.
 */
START_TEST(only_the_past)
{
	struct demand_report before, after;

	bookings("2026-11-24,lunch,40,\n2026-11-24,dinner,60,\n");
	before = ask("2026-11-24/dinner");
	ck_assert(before.over);
	shut("2026-11-24/dinner", 50, "cod-leeks:30", false);
	after = ask("2026-11-24/dinner");
	ck_assert_int_eq(after.services_learned, 0);
	ck_assert_int_eq(after.covers_c, before.covers_c);
	ck_assert_int_eq(after.items[0].expected_c, before.items[0].expected_c);
	demand_report_fini(&after);
	shut("2026-11-24/lunch", 33, "cod-leeks:20", false);
	after = ask("2026-11-24/lunch");
	ck_assert_int_eq(after.services_learned, 0);
	demand_report_fini(&after);
	after = ask("2026-11-24/dinner");
	ck_assert_int_eq(after.services_learned, 1);
	/* Lunch tells of the guests, not of dinner's dishes. */
	ck_assert_int_lt(after.show_bp, before.show_bp);
	ck_assert_int_eq(row_of(&after, "cod-leeks")->taught, 0);
	demand_report_fini(&after);
	after = ask("2026-11-25/dinner");
	ck_assert_int_eq(after.services_learned, 2);
	ck_assert_int_eq(row_of(&after, "cod-leeks")->taught, 1);
	ck_assert_int_gt(row_of(&after, "cod-leeks")->learned_bp, 2500);
	/* A dish nobody counted keeps the menu's share. */
	ck_assert_int_eq(row_of(&after, "sole-bone")->taught, 0);
	ck_assert_int_eq(row_of(&after, "sole-bone")->learned_bp, 900);
	demand_report_fini(&after);
	demand_report_fini(&before);
}
END_TEST

/* Asked of several services in any order, a desk says what each alone says. */
START_TEST(desk_says_the_same)
{
	static const char *const asked[] = { "2026-11-25/lunch",
		"2026-11-25/dinner", "2026-11-24/lunch", "2026-11-24/dinner",
		"2026-11-26/dinner", "2026-11-24/dinner" };
	static const int learned[] = { 2, 2, 0, 1, 2, 1 };
	const struct service_window *w;
	struct demand_report one, many;
	struct demand_desk *d;
	day_no day;
	size_t i;

	bookings("2026-11-24,lunch,40,\n2026-11-24,dinner,60,\n");
	shut("2026-11-24/lunch", 33, "cod-leeks:20", false);
	shut("2026-11-24/dinner", 50, "cod-leeks:30", false);
	d = demand_desk_new(k.sn);
	for (i = 0; i < NELEM(asked); i++) {
		one = ask(asked[i]);
		ck_assert_int_eq(
		    sitting_parse(&day, &w, &k.sn->cfg, asked[i], NULL), RC_OK);
		ck_assert_int_eq(demand_at(&many, d, day, w, NULL), RC_OK);
		ck_assert_int_eq(many.services_learned, learned[i]);
		ck_assert_int_eq(one.services_learned, learned[i]);
		ck_assert_int_eq(many.covers_c, one.covers_c);
		ck_assert_uint_eq(many.count, one.count);
		ck_assert_int_eq(memcmp(many.items, one.items,
				     one.count * sizeof(one.items[0])),
		    0);
		demand_report_fini(&one);
		demand_report_fini(&many);
	}
	demand_desk_free(d);
}
END_TEST

START_TEST(correction_is_learned)
{
	struct demand_report r;
	int wrong, right, out;

	bookings("2026-11-24,dinner,60,\n");
	shut("2026-11-24/dinner", 54, "cod-leeks:40", false);
	r = ask("2026-11-25/dinner");
	wrong = row_of(&r, "cod-leeks")->learned_bp;
	demand_report_fini(&r);
	shut("2026-11-24/dinner", -1, "cod-leeks:4", true);
	r = ask("2026-11-25/dinner");
	right = row_of(&r, "cod-leeks")->learned_bp;
	demand_report_fini(&r);
	ck_assert_int_gt(wrong, 2000);
	ck_assert_int_lt(right, 2000);
	/* Four to the first eight guests and then none left is much wanted. */
	shut("2026-11-24/dinner", -1, "cod-leeks:4:8", true);
	r = ask("2026-11-25/dinner");
	out = row_of(&r, "cod-leeks")->learned_bp;
	demand_report_fini(&r);
	ck_assert_int_gt(out, 2000);
}
END_TEST

/* House life: raw 2 days, cooked 3, live the day itself. */
START_TEST(life_counts_services)
{
	struct demand_report r;

	bookings("2026-11-27,lunch,20,\n2026-11-28,lunch,20,\n");
	/* 25 lunch, 25 dinner, 26 dinner; cooked also 27 lunch */
	r = ask("2026-11-25/lunch");
	ck_assert_int_eq(row_of(&r, "cod-leeks")->life, 3);
	ck_assert_int_eq(row_of(&r, "cod-leeks")->bound, WHY_LIFE);
	ck_assert_int_eq(row_of(&r, "cod-cakes")->life, 4);
	demand_report_fini(&r);
	r = ask("2026-11-25/dinner");
	ck_assert_int_eq(row_of(&r, "cod-leeks")->life, 2);
	ck_assert_int_eq(row_of(&r, "mussel-pot")->life, 1);
	ck_assert_int_eq(row_of(&r, "mussel-pot")->bound, WHY_RATIO);
	demand_report_fini(&r);
	r = ask("2026-11-28/lunch");
	ck_assert_int_eq(row_of(&r, "cod-cakes")->life, 1);
	ck_assert_int_eq(row_of(&r, "cod-cakes")->bound, WHY_RATIO);
	demand_report_fini(&r);
}
END_TEST

/* Alive or served raw: the same night, however long the house says. */
START_TEST(alive_the_same_night)
{
	struct demand_report r;

	k.sn->cfg.live_days = 3;
	r = ask("2026-11-25/dinner");
	ck_assert_int_eq(row_of(&r, "mussel-pot")->life, 1);
	demand_report_fini(&r);
}
END_TEST

/* What keeps may be had more of than what dies the same night. */
START_TEST(longer_life_more_portions)
{
	struct demand_report r = ask("2026-11-25/dinner");
	int64_t keeps = row_of(&r, "cod-leeks")->target, dies;

	demand_report_fini(&r);
	k.sn->cfg.raw_days = 1;
	r = ask("2026-11-25/dinner");
	dies = row_of(&r, "cod-leeks")->target;
	ck_assert_int_eq(row_of(&r, "cod-leeks")->life, 1);
	demand_report_fini(&r);
	ck_assert_int_gt(keeps, dies);
}
END_TEST

/* Two coaches of thirty: one missing is half the house. */
START_TEST(parties_widen)
{
	struct demand_report r = ask("2026-11-25/dinner");

	ck_assert_int_gt(r.covers_low, 45);
	demand_report_fini(&r);
	bookings("2026-11-25,dinner,60,30x2\n");
	r = ask("2026-11-25/dinner");
	ck_assert_int_lt(r.covers_low, 45);
	demand_report_fini(&r);
}
END_TEST

START_TEST(typed_goes_first)
{
	struct expect_in in = { .service = "2026-11-25/dinner",
		.covers = 30,
		.words = { { EXPECT_FIXED, "mussel-pot:0" },
		    { EXPECT_FLOOR, "sole-bone:9" },
		    { EXPECT_CEILING, "cod-leeks:1" } },
		.count = 3,
		.by = "AB" };
	struct demand_report r;
	struct buf out;

	buf_init(&out, 1 << 20);
	ck_assert_int_eq(expect(&out, k.sn, &in, FORMAT_TEXT, NULL), RC_OK);
	buf_fini(&out);
	r = ask("2026-11-25/dinner");
	ck_assert_int_eq(r.typed, 30);
	ck_assert_int_eq(r.covers_c, 3000);
	ck_assert_int_eq(r.covers_low, 30);
	ck_assert_int_eq(r.covers_high, 30);
	ck_assert_int_eq(row_of(&r, "mussel-pot")->target, 0);
	ck_assert_int_eq(row_of(&r, "mussel-pot")->bound, WHY_FIXED);
	ck_assert_int_gt(row_of(&r, "mussel-pot")->out_bp, 9000);
	ck_assert_int_eq(row_of(&r, "sole-bone")->target, 9);
	ck_assert_int_eq(row_of(&r, "sole-bone")->bound, WHY_FLOOR);
	ck_assert_int_eq(row_of(&r, "cod-leeks")->target, 1);
	ck_assert_int_eq(row_of(&r, "cod-leeks")->bound, WHY_CEILING);
	demand_report_fini(&r);
	/* Of this service alone. */
	r = ask("2026-11-26/dinner");
	ck_assert_int_eq(r.typed, -1);
	ck_assert_int_eq(row_of(&r, "cod-leeks")->ceiling, -1);
	demand_report_fini(&r);
}
END_TEST

/* A banquet is refused in one line, and does not spoil other days. */
START_TEST(beyond_the_model)
{
	const struct service_window *w = config_service(&k.sn->cfg, "lunch");
	struct forecast_wish page = { .format = FORMAT_TEXT };
	struct demand_report r;
	struct err err = { 0 };
	struct buf out;
	day_no day;

	bookings("2026-11-24,lunch,3000,\n2026-11-26,lunch,3000,\n");
	ck_assert(day_from_civil(&day, 2026, 11, 26));
	ck_assert_int_eq(demand_of(&r, k.sn, day, w, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "3000"));
	ck_assert_ptr_null(r.items);
	buf_init(&out, 1 << 20);
	ck_assert_int_eq(forecast(&out, k.sn, &page, NULL), RC_OK);
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "no forecast: 3000"));
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "cod-leeks"));
	buf_fini(&out);
	shut("2026-11-24/lunch", 2900, "cod-leeks:300", false);
	r = ask("2026-11-25/dinner");
	ck_assert_int_eq(r.services_learned, 0);
	demand_report_fini(&r);
}
END_TEST

START_TEST(no_dish_on)
{
	struct import_result res;
	struct demand_report r;
	char path[320];

	kitchen_write(path, &k, "m.csv",
	    "dish,name,state,species,cut,skin,bought,low,target,high,mix\n"
	    "a,A,raw,COD,fillet,off,whole,1,2,3,lunch:5\n");
	ck_assert_int_eq(import_menu(&res, k.sn, path, "AB", NULL), RC_OK);
	r = ask("2026-11-25/dinner");
	ck_assert_uint_eq(r.count, 0);
	ck_assert_int_gt(r.covers_c, 0);
	demand_report_fini(&r);
}
END_TEST

Suite *
suite_ops_demand(void)
{
	Suite *s = suite_create("ops_demand");
	TCase *tc = tcase_create("demand");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, nothing_known);
	tcase_add_test(tc, only_the_past);
	tcase_add_test(tc, desk_says_the_same);
	tcase_add_test(tc, correction_is_learned);
	tcase_add_test(tc, life_counts_services);
	tcase_add_test(tc, alive_the_same_night);
	tcase_add_test(tc, longer_life_more_portions);
	tcase_add_test(tc, parties_widen);
	tcase_add_test(tc, typed_goes_first);
	tcase_add_test(tc, beyond_the_model);
	tcase_add_test(tc, no_dish_on);
	suite_add_tcase(s, tc);
	return s;
}
