/*
 * test_store_stmt.c - statements that stay prepared, and those that cannot.
 */
#include "unit.h"

#include "base/str.h"
#include "kitchen.h"
#include "src/store/stmt.h"
#include "store/store.h"

static struct kitchen k;
static struct store *st;

static void
setup(void)
{
	kitchen_open(&k);
	st = k.sn->st;
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static void
open_ok(struct stmt *q, const char *sql)
{
	struct err err = { 0 };

	ck_assert_msg(stmt_open(q, st, sql, &err) == RC_OK, "%s", err.text);
}

static const char three[] =
    "WITH t (n) AS (VALUES (1), (2), (3)) SELECT n FROM t /*scan-ok*/";

/* The same text open twice: two places in it, not one. */
START_TEST(one_text_open_twice)
{
	struct stmt a, b;

	open_ok(&a, three);
	ck_assert_int_eq(stmt_step(&a, NULL), RC_OK);
	open_ok(&b, three);
	ck_assert_int_eq(stmt_step(&b, NULL), RC_OK);
	ck_assert_int_eq(stmt_step(&b, NULL), RC_OK);
	ck_assert_int_eq(stmt_step(&a, NULL), RC_OK);
	ck_assert_int_eq(col_int(&a, 0), 2);
	stmt_close(&b);
	ck_assert_int_eq(stmt_step(&a, NULL), RC_OK);
	ck_assert_int_eq(col_int(&a, 0), 3);
	stmt_close(&a);
}
END_TEST

/* Closed half-way: opened again, it begins at its first row. */
START_TEST(begins_anew)
{
	struct stmt q;
	int i;

	for (i = 0; i < 3; i++) {
		open_ok(&q, three);
		ck_assert_int_eq(stmt_step(&q, NULL), RC_OK);
		ck_assert_int_eq(col_int(&q, 0), 1);
		stmt_close(&q);
	}
}
END_TEST

/* What was bound does not stay bound. */
START_TEST(forgets_what_was_bound)
{
	static const char sql[] = "SELECT :a IS NULL /*scan-ok*/";
	struct stmt q;

	open_ok(&q, sql);
	bind_int(&q, ":a", 7);
	ck_assert_int_eq(stmt_step(&q, NULL), RC_OK);
	ck_assert_int_eq(col_int(&q, 0), 0);
	stmt_close(&q);
	open_ok(&q, sql);
	ck_assert_int_eq(stmt_step(&q, NULL), RC_OK);
	ck_assert_int_eq(col_int(&q, 0), 1);
	stmt_close(&q);
}
END_TEST

/* More texts than there is room for are prepared and dropped as before. */
START_TEST(more_than_there_is_room_for)
{
	struct stmt q;
	char sql[64];
	int i, round;

	for (round = 0; round < 2; round++)
		for (i = 0; i < 3 * KEPT_SLOTS; i++) {
			str_fmt(sql, sizeof(sql), "SELECT %d /*scan-ok*/", i);
			open_ok(&q, sql);
			ck_assert_int_eq(stmt_step(&q, NULL), RC_OK);
			ck_assert_int_eq(col_int(&q, 0), i);
			stmt_close(&q);
		}
}
END_TEST

/* A statement seen before plans were looked at is looked at all the same. */
START_TEST(kept_ones_are_checked_too)
{
	static const char scan[] = "SELECT note FROM prep";
	struct stmt q;
	struct err err = { 0 };

	store_check_plans(st, false);
	open_ok(&q, scan);
	stmt_close(&q);
	store_check_plans(st, true);
	ck_assert_int_eq(stmt_open(&q, st, scan, &err), RC_FATAL);
	ck_assert_ptr_nonnull(strstr(err.text, "unmarked scan"));
	stmt_close(&q);
}
END_TEST

/* An error of one run is not that of the next. */
START_TEST(fails_once)
{
	static const char sql[] =
	    "INSERT INTO station (key, value) VALUES (:key, 'x')";
	struct stmt q;
	struct err err = { 0 };
	int i;

	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	for (i = 0; i < 3; i++) {
		open_ok(&q, sql);
		bind_text(&q, ":key", i < 2 ? "stmt-a" : "stmt-b");
		err_clear(&err);
		if (i == 1)
			ck_assert_int_ne(stmt_run(&q, &err), RC_OK);
		else
			ck_assert_int_eq(stmt_run(&q, &err), RC_OK);
	}
	store_rollback(st);
}
END_TEST

Suite *
suite_store_stmt(void)
{
	Suite *s = suite_create("store_stmt");
	TCase *t = tcase_create("kept");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, one_text_open_twice);
	tcase_add_test(t, begins_anew);
	tcase_add_test(t, forgets_what_was_bound);
	tcase_add_test(t, more_than_there_is_room_for);
	tcase_add_test(t, kept_ones_are_checked_too);
	tcase_add_test(t, fails_once);
	suite_add_tcase(s, t);
	return s;
}
