/*
 * test_store_sales.c - closed services in the file: as they were put, changed
 * only by a correction, and read back within bounds.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/fate.h"
#include "store/audit.h"
#include "store/bookings.h"
#include "store/sales.h"
#include "store/store.h"
#include "trail_rig.h"

static struct kitchen k;
static struct store *st;
static struct moment at = { 1795600000, 0, "AB" };
static struct service dinner;

static void
setup(void)
{
	day_no d;

	kitchen_open(&k);
	st = k.sn->st;
	ck_assert(day_from_civil(&d, 2026, 11, 25));
	ck_assert_int_eq(service_get(&dinner, st, d, "dinner", NULL), RC_OK);
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static void
audit(void)
{
	ck_assert_int_eq(audit_add(st, &at, "correct", "x", "y", NULL), RC_OK);
}

START_TEST(closed_by_correction_only)
{
	struct closing c = { dinner.id, 60, 55, 4, at }, got;
	struct sale s = { .service_id = dinner.id,
		.dish_id = 1,
		.sold = 11,
		.ran_out_at = 40 };
	struct sale_list l;

	ck_assert_int_eq(closing_get(&got, st, dinner.id, NULL), RC_NOTFOUND);
	ck_assert_int_eq(closing_add(st, &c, NULL), RC_OK);
	ck_assert_int_eq(sale_add(st, &s, NULL), RC_OK);
	ck_assert_int_ne(closing_add(st, &c, NULL), RC_OK);
	ck_assert_int_ne(sale_add(st, &s, NULL), RC_OK);
	audit();
	c.seated = 54;
	ck_assert_int_eq(closing_correct(st, &c, NULL), RC_OK);
	/* The same audit row does not cover a second change. */
	c.seated = 53;
	ck_assert_int_ne(closing_correct(st, &c, NULL), RC_OK);
	ck_assert_int_eq(closing_get(&got, st, dinner.id, NULL), RC_OK);
	ck_assert_int_eq(got.booked, 60);
	ck_assert_int_eq(got.seated, 54);
	ck_assert_int_eq(got.walk_ins, 4);
	ck_assert_str_eq(got.at.by, "AB");
	s.sold = 12;
	s.ran_out_at = RAN_OUT_SOME_TIME;
	ck_assert_int_eq(sale_correct(st, &s, NULL), RC_OK);
	ck_assert_int_ne(sale_correct(st, &s, NULL), RC_OK);
	audit();
	s.ran_out_at = SOLD_ON;
	ck_assert_int_eq(sale_correct(st, &s, NULL), RC_OK);
	ck_assert_int_eq(sale_list_open(&l, st, dinner.id, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 1);
	ck_assert_int_eq(l.items[0].sold, 12);
	ck_assert_int_eq(l.items[0].ran_out_at, SOLD_ON);
	sale_list_fini(&l);
}
END_TEST

/* More came than booked: the file says no, whoever asks. */
START_TEST(seated_within_booked)
{
	struct closing c = { dinner.id, 60, 61, 4, at };

	ck_assert_int_ne(closing_add(st, &c, NULL), RC_OK);
}
END_TEST

/*
 * 2000 days with a lunch and a dinner each: the last 400 services, newest day
 * first, each with its own sales; and two years of dinners only at most.
 */
#define TEN_YEARS                                                              \
	"WITH RECURSIVE n(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n"       \
	" WHERE i < 1999) INSERT INTO service (day, name, covers)"             \
	" SELECT 18000 + i, 'lunch', 40 FROM n UNION ALL"                      \
	" SELECT 18000 + i, 'dinner', 60 FROM n;"                              \
	"INSERT INTO closed SELECT id, covers, covers - 1, day % 7, 0, 0, "    \
	"'X',"                                                                 \
	" NULL FROM service WHERE day < 20000;"                                \
	"INSERT INTO sold SELECT id, 1, day % 50, NULL, NULL FROM service"     \
	" WHERE day < 20000;"                                                  \
	"INSERT INTO sold SELECT id, 2, covers, NULL, NULL FROM service"       \
	" WHERE day < 20000 AND name = 'dinner';"

START_TEST(record_bounded)
{
	const struct past_service *p;
	struct sales_record r;
	size_t i;

	rig_commit(st);
	ck_assert_int_eq(kitchen_sql(k.db, TEN_YEARS), 0);
	ck_assert_int_eq(sales_record_open(&r, st, 19000, 19990, NULL), RC_OK);
	ck_assert_uint_eq(r.count, RECORD_SERVICES_MAX);
	ck_assert_int_eq(r.items[0].day, 19990);
	ck_assert_int_eq(r.items[399].day, 19791);
	for (i = 0; i < r.count; i++) {
		p = &r.items[i];
		ck_assert_int_eq(p->seated, p->booked - 1);
		ck_assert_int_eq(p->walk_ins, p->day % 7);
		ck_assert_uint_eq(p->count, str_eq(p->name, "dinner") ? 2 : 1);
		ck_assert_int_eq(r.sales[p->first].service_id, p->id);
		ck_assert_int_eq(r.sales[p->first].sold, p->day % 50);
		if (p->count == 2)
			ck_assert_int_eq(r.sales[p->first + 1].sold, 60);
	}
	sales_record_fini(&r);
	/* Nothing older than the window, however little is in it. */
	ck_assert_int_eq(sales_record_open(&r, st, 19999, 21000, NULL), RC_OK);
	ck_assert_uint_eq(r.count, 2);
	sales_record_fini(&r);
	ck_assert_int_eq(sales_record_open(&r, st, 20001, 21000, NULL), RC_OK);
	ck_assert_uint_eq(r.count, 0);
	sales_record_fini(&r);
	ck_assert_int_eq(sales_record_newest(&r, st, 19990, NULL), RC_OK);
	ck_assert_uint_eq(r.count, RECORD_NEWEST_MAX);
	ck_assert_int_eq(r.items[0].day, 19990);
	ck_assert_int_eq(r.items[15].day, 19983);
	ck_assert_uint_eq(r.sale_count, 0);
	sales_record_fini(&r);
}
END_TEST

/* Fish that stand in for each other add up; of parts that belong together the
 * one used most counts. */
START_TEST(used_counts_dishes)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct receive_in rin = kitchen_cod();
	struct use_in in = { .service = "2026-11-25/dinner", .by = "EF" };
	struct breakdown d;
	struct portion p;
	struct sale_list l;
	struct batch b;
	int64_t servings[] = { 4, 1, 2 };
	int i;

	rig_commit(st);
	b = kitchen_receive(&k, &rin);
	d = kitchen_break(&k, b.code, &cut);
	for (i = 0; i < 3; i++) {
		in.code = d.portions[i].code;
		in.servings = servings[i];
		in.reason = "as asked";
		ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
	}
	ck_assert_int_eq(sale_list_used(&l, st, dinner.id, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 1);
	ck_assert_str_eq(l.items[0].dish, "cod-leeks");
	ck_assert_int_eq(l.items[0].sold, 7);
	sale_list_fini(&l);
	ck_assert_int_eq(
	    kitchen_sql(k.db,
		"INSERT INTO cut (dish_id, species, kind, skin_on, bought,"
		" low_g, target_g, high_g, current, part) SELECT dish_id,"
		" 'HAD', kind, skin_on, bought, low_g, target_g, high_g, 1,"
		" part FROM cut"
		" WHERE id = (SELECT cut_id FROM portion LIMIT 1);"
		"UPDATE portion SET cut_id = (SELECT max(id) FROM cut)"
		" WHERE id = (SELECT min(id) FROM portion)"),
	    0);
	ck_assert_int_eq(sale_list_used(&l, st, dinner.id, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 1);
	ck_assert_int_eq(l.items[0].sold, 7);
	sale_list_fini(&l);
	ck_assert_int_eq(kitchen_sql(k.db,
			     "UPDATE cut SET part = part + 1"
			     " WHERE species = 'HAD'"),
	    0);
	ck_assert_int_eq(sale_list_used(&l, st, dinner.id, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 1);
	ck_assert_int_eq(l.items[0].sold, 4);
	sale_list_fini(&l);
	breakdown_fini(&d);
}
END_TEST

START_TEST(typed_round_trip)
{
	struct typed t = { dinner.id, 1, 5, -1, -1 };
	struct typed_list l;
	struct service s;

	ck_assert_int_eq(typed_put(st, &t, NULL), RC_OK);
	t.ceiling = 9;
	t.fixed = 0;
	t.floor = -1;
	ck_assert_int_eq(typed_put(st, &t, NULL), RC_OK);
	ck_assert_int_eq(typed_list_open(&l, st, dinner.id, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 1);
	ck_assert_int_eq(l.items[0].floor, -1);
	ck_assert_int_eq(l.items[0].ceiling, 9);
	ck_assert_int_eq(l.items[0].fixed, 0);
	typed_list_fini(&l);
	t.ceiling = t.fixed = -1;
	ck_assert_int_eq(typed_put(st, &t, NULL), RC_OK);
	ck_assert_int_eq(typed_list_open(&l, st, dinner.id, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 0);
	t.floor = 9;
	t.ceiling = 8;
	ck_assert_int_ne(typed_put(st, &t, NULL), RC_OK);
	ck_assert_int_eq(expected_put(st, dinner.id, 0, NULL), RC_OK);
	ck_assert_int_eq(
	    service_get(&s, st, dinner.day, "dinner", NULL), RC_OK);
	ck_assert_int_eq(s.expected, 0);
	ck_assert_int_eq(expected_put(st, dinner.id, -1, NULL), RC_OK);
	ck_assert_int_eq(
	    service_get(&s, st, dinner.day, "dinner", NULL), RC_OK);
	ck_assert_int_eq(s.expected, -1);
}
END_TEST

/* Bookings keep what the chef typed, and know their parties. */
START_TEST(booked_parties)
{
	struct service s = dinner, got;
	enum change change;

	ck_assert_int_eq(expected_put(st, dinner.id, 44, NULL), RC_OK);
	ck_assert_int_eq(parties_parse(&s.parties, "2x10 4x10", NULL), RC_OK);
	ck_assert_int_eq(service_put(&change, st, &s, NULL), RC_OK);
	ck_assert_int_eq(change, CHANGE_CHANGED);
	ck_assert_int_eq(service_put(&change, st, &s, NULL), RC_OK);
	ck_assert_int_eq(change, CHANGE_NONE);
	ck_assert_int_eq(
	    service_get(&got, st, dinner.day, "dinner", NULL), RC_OK);
	ck_assert_uint_eq(got.parties.count, 2);
	ck_assert_int_eq(parties_covers(&got.parties), 60);
	ck_assert_int_eq(got.expected, 44);
}
END_TEST

Suite *
suite_store_sales(void)
{
	Suite *s = suite_create("store_sales");
	TCase *tc = tcase_create("sales");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, closed_by_correction_only);
	tcase_add_test(tc, seated_within_booked);
	tcase_add_test(tc, record_bounded);
	tcase_add_test(tc, used_counts_dishes);
	tcase_add_test(tc, typed_round_trip);
	tcase_add_test(tc, booked_parties);
	suite_add_tcase(s, tc);
	return s;
}
