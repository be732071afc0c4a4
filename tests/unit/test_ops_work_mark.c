/* test_ops_work_mark.c - tasks of a prep list started, done, opened again. */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/work_mark.h"

#define DINNER "2026-11-25/dinner"

static struct kitchen k;
static struct batch cod;

static void
setup(void)
{
	struct receive_in in = kitchen_cod();

	kitchen_open(&k);
	cod = kitchen_receive(&k, &in);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static struct work_say
say(const char *dish, const char *step, enum work_said said, const char *by)
{
	struct work_say s = { .service = DINNER, .said = said, .by = by };

	if (dish[0] != '\0')
		memcpy(s.key.batch, cod.code, sizeof(s.key.batch));
	ck_assert(str_copy(s.key.dish, sizeof(s.key.dish), dish));
	ck_assert(str_copy(s.key.step, sizeof(s.key.step), step));
	return s;
}

static void
must(const char *dish, const char *step, enum work_said said, const char *by)
{
	struct work_say s = say(dish, step, said, by);
	struct err err = { 0 };

	ck_assert_msg(
	    work_mark_say(NULL, k.sn, &s, &err) == RC_OK, "%s", err.text);
}

START_TEST(newest_counts)
{
	struct work_mark_list l;

	ck_assert_int_eq(work_marks_open(&l, k.sn, DINNER, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 0);
	must("cod-leeks", "fillet", WORK_STARTED, "AB");
	must("", "clean-down", WORK_DONE, "AB");
	must("cod-leeks", "fillet", WORK_STARTED, "CD");
	must("cod-leeks", "fillet", WORK_DONE, "CD");
	ck_assert_int_eq(work_marks_open(&l, k.sn, DINNER, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	ck_assert_str_eq(l.items[0].key.step, "clean-down");
	ck_assert_str_eq(l.items[0].key.batch, "");
	ck_assert_int_eq(l.items[0].said, WORK_DONE);
	ck_assert_str_eq(l.items[1].key.batch, cod.code);
	ck_assert_str_eq(l.items[1].key.dish, "cod-leeks");
	ck_assert_str_eq(l.items[1].dish_name, "Cod, leeks");
	ck_assert_int_eq(l.items[1].said, WORK_DONE);
	ck_assert_str_eq(l.items[1].at.by, "CD");
	work_mark_list_fini(&l);
	/* Another service knows nothing of it. */
	ck_assert_int_eq(
	    work_marks_open(&l, k.sn, "2026-11-25/lunch", NULL), RC_OK);
	ck_assert_uint_eq(l.count, 0);
	ck_assert_int_eq(
	    work_marks_open(&l, k.sn, "2026-12-25/lunch", NULL), RC_OK);
	ck_assert_uint_eq(l.count, 0);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit"
			     " WHERE action = 'task'"),
	    4);
}
END_TEST

/* A breakdown that did it is named, with what it made of the dish. */
START_TEST(by_breakdown)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };
	struct work_say s = say("cod-leeks", "fillet", WORK_DONE, "CD");
	struct breakdown b = kitchen_break(&k, cod.code, &cut);
	struct work_mark_list l;
	struct work_mark m;

	s.prep_id = b.prep.id;
	ck_assert_int_eq(work_mark_say(&m, k.sn, &s, NULL), RC_OK);
	ck_assert_int_gt(m.id, 0);
	ck_assert_int_eq(work_marks_open(&l, k.sn, DINNER, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 1);
	ck_assert_int_eq(l.items[0].prep_id, b.prep.id);
	ck_assert_int_eq(l.items[0].portions, 12);
	work_mark_list_fini(&l);
	breakdown_fini(&b);
}
END_TEST

static const struct refused {
	const char *dish, *step;
	enum work_said said;
	const char *service, *by;
	enum rc rc;
	const char *says, *why;
} refused[] = {
	{ "cod-leeks", "fillet", WORK_DONE, DINNER, "CD", RC_REFUSED,
	    "done already by AB", "done twice" },
	{ "cod-leeks", "fillet", WORK_STARTED, DINNER, "CD", RC_REFUSED,
	    "done already by AB", "started after it was done" },
	{ "cod-leeks", "portion", WORK_REOPENED, DINNER, "CD", RC_REFUSED,
	    "nobody", "opened again and never started" },
	{ "cod-leeks", "whistle", WORK_DONE, DINNER, "CD", RC_INVALID,
	    "whistle", "no such step" },
	{ "no-dish", "portion", WORK_DONE, DINNER, "CD", RC_NOTFOUND, "no-dish",
	    "no such dish" },
	{ "cod-leeks", "portion", WORK_DONE, "2026-12-25/lunch", "CD",
	    RC_NOTFOUND, "lunch", "no bookings" },
	{ "cod-leeks", "portion", WORK_DONE, "breakfast", "CD", RC_INVALID,
	    "breakfast", "no service" },
	{ "cod-leeks", "portion", WORK_DONE, DINNER, "", RC_INVALID, "initials",
	    "nobody says so" },
};

START_TEST(refuses)
{
	const struct refused *r = &refused[_i];
	struct work_say s = say(r->dish, r->step, r->said, r->by);
	struct err err = { 0 };
	int64_t before;

	must("cod-leeks", "fillet", WORK_DONE, "AB");
	before = kitchen_records(&k);
	s.service = r->service;
	ck_assert_msg(work_mark_say(NULL, k.sn, &s, &err) == r->rc, "%s: %s",
	    r->why, err.text);
	ck_assert_msg(
	    strstr(err.text, r->says) != NULL, "%s: %s", r->why, err.text);
	ck_assert_int_eq(kitchen_records(&k), before);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM work_mark"), 1);
}
END_TEST

START_TEST(opened_again)
{
	struct work_mark_list l;

	must("cod-leeks", "fillet", WORK_DONE, "AB");
	must("cod-leeks", "fillet", WORK_REOPENED, "CD");
	ck_assert_int_eq(work_marks_open(&l, k.sn, DINNER, NULL), RC_OK);
	ck_assert_int_eq(l.items[0].said, WORK_REOPENED);
	work_mark_list_fini(&l);
	must("cod-leeks", "fillet", WORK_DONE, "CD");
}
END_TEST

/* What was said is neither changed nor taken away, by any program. */
START_TEST(rows_stay)
{
	must("cod-leeks", "fillet", WORK_DONE, "AB");
	ck_assert_int_ne(
	    kitchen_sql(k.db, "UPDATE work_mark SET by = 'CD'"), 0);
	ck_assert_int_ne(kitchen_sql(k.db, "DELETE FROM work_mark"), 0);
}
END_TEST

Suite *
suite_ops_work_mark(void)
{
	Suite *s = suite_create("ops_work_mark");
	TCase *tc = tcase_create("marks");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, newest_counts);
	tcase_add_test(tc, by_breakdown);
	tcase_add_loop_test(tc, refuses, 0, (int)NELEM(refused));
	tcase_add_test(tc, opened_again);
	tcase_add_test(tc, rows_stay);
	suite_add_tcase(s, tc);
	return s;
}
