/*
 * test_store_file.c - the station file itself: made, opened, refused, rolled
 * back; links kept; the audit trail never changed, whoever asks.
 */
#include "unit.h"

#include <dirent.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "kitchen.h"
#include "store/audit.h"
#include "store/deliveries.h"
#include "store/store.h"
#include "trail_rig.h"

static struct kitchen k;
static const struct moment at = { 1795600000, 0, "AB" };

static void
setup(void)
{
	kitchen_make(&k, true);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static struct store *
opened(void)
{
	struct store *st;
	struct err err = { 0 };

	if (!file_exists(k.db))
		ck_assert_msg(
		    store_create(k.db, &err) == RC_OK, "%s", err.text);
	ck_assert_msg(store_open(&st, k.db, &err) == RC_OK, "%s", err.text);
	store_check_plans(st, true);
	return st;
}

/* Open that must fail, leaving the file byte for byte as it was. */
static void
refused(const char *path, enum rc want, const char *says)
{
	struct buf before, after;
	struct store *st = NULL;
	struct err err = { 0 };

	buf_init(&before, FILE_READ_MAX);
	buf_init(&after, FILE_READ_MAX);
	ck_assert_int_eq(file_read(&before, path, NULL), RC_OK);
	ck_assert_msg(store_open(&st, path, &err) == want, "%s", err.text);
	ck_assert_ptr_null(st);
	ck_assert_msg(strstr(err.text, says) != NULL, "%s", err.text);
	ck_assert_ptr_nonnull(strstr(err.text, path));
	ck_assert_int_eq(file_read(&after, path, NULL), RC_OK);
	ck_assert_uint_eq(before.len, after.len);
	if (before.len > 0)
		ck_assert_int_eq(
		    memcmp(before.data, after.data, before.len), 0);
	buf_fini(&before);
	buf_fini(&after);
}

START_TEST(made_and_opened)
{
	struct store *st = opened();
	char text[16];

	ck_assert_str_eq(store_path(st), k.db);
	ck_assert_int_eq(
	    store_fact_get(text, sizeof(text), st, "kitchen", NULL),
	    RC_NOTFOUND);
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	ck_assert_int_eq(store_fact_set(st, "kitchen", "One", NULL), RC_OK);
	ck_assert_int_eq(store_fact_set(st, "kitchen", "Two", NULL), RC_OK);
	rig_commit(st);
	store_close(st);
	st = opened();
	ck_assert_int_eq(
	    store_fact_get(text, sizeof(text), st, "kitchen", NULL), RC_OK);
	ck_assert_str_eq(text, "Two");
	store_close(st);
	/* "Pinb"; docs and code must agree with the file's own bytes. */
	ck_assert_int_eq(
	    kitchen_count(&k, "PRAGMA application_id"), 0x50696e62);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT journal_mode = 'wal' FROM"
			     " pragma_journal_mode"),
	    1);
}
END_TEST

START_TEST(never_overwrites)
{
	struct err err = { 0 };
	char path[320];

	kitchen_touched();
	kitchen_write(path, &k, "station.db", "somebody's file");
	ck_assert_int_eq(store_create(k.db, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "already there"));
	refused(k.db, RC_INVALID, "not a Pinbone station file");
}
END_TEST

START_TEST(cannot_be_made)
{
	struct err err = { 0 };
	char path[400];

	str_fmt(path, sizeof(path), "%s/none/station.db", k.folder);
	ck_assert_int_eq(store_create(path, &err), RC_FAILED);
	ck_assert(!file_exists(path));
}
END_TEST

START_TEST(not_there)
{
	struct store *st;
	struct err err = { 0 };

	ck_assert_int_eq(store_open(&st, k.db, &err), RC_NOTFOUND);
	ck_assert_ptr_nonnull(strstr(err.text, "pinbone init"));
	ck_assert(!file_exists(k.db));
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	const char *text; /* the file, or NULL to run sql */
	const char *sql;
	enum rc rc;
	const char *says;
} strangers[] = {
	{ "empty", "", NULL, RC_INVALID, "not a Pinbone station file" },
	{ "a text file", "date,service,covers\n", NULL, RC_INVALID,
	    "not a Pinbone station file" },
	{ "the start of SQLite's header only", "SQLite format 3", NULL,
	    RC_INVALID, "not a Pinbone station file" },
	{ "another program's database", NULL,
	    "PRAGMA application_id = 4711; CREATE TABLE a (b)", RC_INVALID,
	    "not a Pinbone station file" },
	{ "no application id", NULL, "CREATE TABLE batch (b)", RC_INVALID,
	    "not a Pinbone station file" },
	{ "ours, of a later program", NULL,
	    "PRAGMA application_id = 1349086818; PRAGMA user_version = 99",
	    RC_REFUSED, "newer program" },
};
/* clang-format on */

START_TEST(stranger_rows)
{
	char path[320];

	kitchen_touched();
	ck_assert_int_eq(STORE_APPLICATION_ID, 1349086818);
	if (strangers[_i].text != NULL)
		kitchen_write(path, &k, "station.db", strangers[_i].text);
	else
		ck_assert_int_eq(
		    kitchen_sql(k.db, strangers[_i].sql), SQLITE_OK);
	refused(k.db, strangers[_i].rc, strangers[_i].says);
}
END_TEST

/* A file of ours that says it is newer than this program. */
START_TEST(newer)
{
	char sql[64];
	struct store *st = opened();

	str_fmt(
	    sql, sizeof(sql), "PRAGMA user_version = %d", store_schema(st) + 1);
	store_close(st);
	ck_assert_int_eq(kitchen_sql(k.db, sql), SQLITE_OK);
	refused(k.db, RC_REFUSED, "install that program");
}
END_TEST

/* --- schema ----------------------------------------------------------------*/

/* A file of schema 1 is copied beside itself, upgraded, and keeps its rows. */
START_TEST(upgrade)
{
	char backup[400], facts[16];
	struct store *st = NULL;
	struct buf script;
	struct err err = { 0 };

	buf_init(&script, FILE_READ_MAX);
	ck_assert_int_eq(
	    file_read(&script, "src/store/sql/0001_first.sql", NULL), RC_OK);
	buf_printf(&script,
	    "PRAGMA application_id = %d; PRAGMA user_version = 1;"
	    "INSERT INTO station VALUES ('kitchen', 'Old');",
	    STORE_APPLICATION_ID);
	kitchen_make(&k, true);
	ck_assert_int_eq(kitchen_sql(k.db, buf_text(&script)), SQLITE_OK);
	buf_fini(&script);
	ck_assert_msg(store_open(&st, k.db, &err) == RC_OK, "%s", err.text);
	ck_assert_int_ge(store_schema(st), 2);
	ck_assert_int_eq(
	    store_fact_get(facts, sizeof(facts), st, "kitchen", NULL), RC_OK);
	ck_assert_str_eq(facts, "Old");
	ck_assert_int_eq(
	    store_fact_get(facts, sizeof(facts), st, "zone", NULL), RC_OK);
	str_fmt(backup, sizeof(backup), "%s.before-schema-%d", k.db,
	    store_schema(st));
	store_close(st);
	ck_assert_msg(file_exists(backup), "no copy before the upgrade");
	ck_assert_int_eq(kitchen_sql(backup, "SELECT 1 FROM audit"), SQLITE_OK);
	ck_assert_int_ne(
	    kitchen_sql(backup, "SELECT 1 FROM clock_check"), SQLITE_OK);
}
END_TEST

/* Scripts 0001, 0002, ... without a gap, and the file has run them all. */
START_TEST(migrations)
{
	struct store *st = opened();
	struct dirent *e;
	bool seen[100] = { false };
	int n = 0, v, i;
	DIR *d = opendir("src/store/sql");

	ck_assert_ptr_nonnull(d);
	while ((e = readdir(d)) != NULL) {
		if (e->d_name[0] == '.')
			continue;
		for (v = 0, i = 0; i < 4; i++) {
			ck_assert_msg(
			    e->d_name[i] >= '0' && e->d_name[i] <= '9', "%s",
			    e->d_name);
			v = v * 10 + e->d_name[i] - '0';
		}
		ck_assert(v >= 1 && v < 100 && !seen[v]);
		seen[v] = true;
		n++;
	}
	closedir(d);
	ck_assert_int_gt(n, 0);
	for (v = 1; v <= n; v++)
		ck_assert_msg(seen[v], "no script %d", v);
	ck_assert_int_eq(store_schema(st), n);
	store_close(st);
	ck_assert_int_eq(kitchen_count(&k, "PRAGMA user_version"), n);
}
END_TEST

/* Every table refuses a value of the wrong type, and the file is sound. */
START_TEST(tables)
{
	store_close(opened());
	ck_assert_int_gt(kitchen_count(&k,
			     "SELECT count(*) FROM pragma_table_list"
			     " WHERE type = 'table' AND strict"),
	    15);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM pragma_table_list"
			     " WHERE type = 'table' AND NOT strict"
			     " AND name NOT LIKE 'sqlite_%'"),
	    0);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM pragma_integrity_check"
			     " WHERE integrity_check <> 'ok'"),
	    0);
}
END_TEST

/* --- transactions
 * ------------------------------------------------------------*/

static void
note(struct store *st, const char *action)
{
	struct err err = { 0 };

	ck_assert_msg(audit_add(st, &at, action, "x", "y", &err) == RC_OK, "%s",
	    err.text);
}

START_TEST(rollback_undoes)
{
	struct store *st = opened();
	struct supplier s = { .code = "a", .name = "A", .address = "B" };
	enum change c;

	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	note(st, "kept");
	ck_assert_int_eq(store_commit(st, NULL), RC_OK);
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	note(st, "lost");
	ck_assert_int_eq(supplier_put(&c, st, &s, NULL), RC_OK);
	store_rollback(st);
	store_rollback(st);
	ck_assert_int_eq(supplier_find(&s, st, "a", NULL), RC_NOTFOUND);
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	note(st, "open at the end");
	store_close(st);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM audit"), 1);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT action = 'kept' FROM audit"), 1);
}
END_TEST

/* Another program is writing: told so, nothing changed, works afterwards. */
START_TEST(busy)
{
	struct store *st = opened();
	struct err err = { 0 };
	sqlite3 *other;

	ck_assert_int_eq(sqlite3_open(k.db, &other), SQLITE_OK);
	ck_assert_int_eq(
	    sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL),
	    SQLITE_OK);
	ck_assert_int_eq(store_begin(st, &err), RC_RETRY);
	ck_assert_ptr_nonnull(strstr(err.text, "another program"));
	sqlite3_close(other);
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	note(st, "after");
	ck_assert_int_eq(store_commit(st, NULL), RC_OK);
	store_close(st);
}
END_TEST

START_TEST(links_are_kept)
{
	struct store *st = opened();
	struct err err = { 0 };
	int64_t id;

	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	ck_assert_int_ne(
	    delivery_put(&id, st, 4711, "DN 1", 20000, &err), RC_OK);
	ck_assert_msg(strstr(err.text, "FOREIGN KEY") != NULL, "%s", err.text);
	store_rollback(st);
	store_close(st);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM delivery"), 0);
}
END_TEST

/* --- the audit trail
 * ---------------------------------------------------------*/

/* clang-format off */
static const struct {
	const char *why;
	const char *sql;
} tampers[] = {
	{ "change one row", "UPDATE audit SET by = 'XX' WHERE id = 1" },
	{ "change all", "UPDATE audit SET at_utc = 0" },
	{ "delete one row", "DELETE FROM audit WHERE id = 2" },
	{ "delete all", "DELETE FROM audit" },
	{ "replace a row",
	    "PRAGMA recursive_triggers = ON; REPLACE INTO audit"
	    " (id, at_utc, offset_min, by, action, subject, detail) VALUES"
	    " (1, 0, 0, 'XX', 'a', 'b', 'c')" },
	{ "update by upsert",
	    "INSERT INTO audit (id, at_utc, offset_min, by, action, subject,"
	    " detail) VALUES (1, 0, 0, 'XX', 'a', 'b', 'c')"
	    " ON CONFLICT (id) DO UPDATE SET by = 'XX'" },
};
/* clang-format on */

/* By a program that is not ours, without our guard. */
START_TEST(audit_is_never_changed)
{
	struct store *st = opened();

	rig_note(st, &at);
	rig_note(st, &at);
	store_close(st);
	ck_assert_msg(kitchen_sql(k.db, tampers[_i].sql) == SQLITE_CONSTRAINT,
	    "%s", tampers[_i].why);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit WHERE by = 'AB'"
			     " AND at_utc = 1795600000"),
	    2);
}
END_TEST

/* REPLACE fires delete triggers only where the connection asks for it; the
 * program that does not ask must be stopped too. */
START_TEST(audit_is_never_replaced)
{
	struct store *st = opened();

	rig_note(st, &at);
	store_close(st);
	kitchen_sql(k.db,
	    "REPLACE INTO audit (id, at_utc, offset_min, by, action,"
	    " subject, detail) VALUES (1, 0, 0, 'XX', 'a', 'b', 'c')");
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM audit WHERE by = 'AB'"), 1);
}
END_TEST

START_TEST(audit_listed)
{
	struct store *st = opened();
	struct audit_list l;
	int64_t last = -1;
	char action[8];
	int i;

	ck_assert_int_eq(audit_last_utc(&last, st, NULL), RC_OK);
	ck_assert_int_eq(last, 0);
	for (i = 0; i < 7; i++) {
		str_fmt(action, sizeof(action), "a%d", i);
		ck_assert_int_eq(store_begin(st, NULL), RC_OK);
		note(st, action);
		ck_assert_int_eq(store_commit(st, NULL), RC_OK);
	}
	ck_assert_int_eq(audit_last_utc(&last, st, NULL), RC_OK);
	ck_assert_int_eq(last, at.utc);
	ck_assert_int_eq(audit_list_open(&l, st, 3, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 3);
	ck_assert_str_eq(l.items[0].action, "a4");
	ck_assert_str_eq(l.items[2].action, "a6");
	ck_assert_str_eq(l.items[2].at.by, "AB");
	audit_list_fini(&l);
	ck_assert_int_eq(audit_list_open(&l, st, 100, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 7);
	audit_list_fini(&l);
	store_close(st);
}
END_TEST

Suite *
suite_store_file(void)
{
	Suite *s = suite_create("store_file");
	TCase *tc = tcase_create("file");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 15);
	tcase_add_test(tc, made_and_opened);
	tcase_add_test(tc, never_overwrites);
	tcase_add_test(tc, cannot_be_made);
	tcase_add_test(tc, not_there);
	tcase_add_loop_test(tc, stranger_rows, 0, (int)NELEM(strangers));
	tcase_add_test(tc, newer);
	tcase_add_test(tc, upgrade);
	tcase_add_test(tc, migrations);
	tcase_add_test(tc, tables);
	tcase_add_test(tc, rollback_undoes);
	tcase_add_test(tc, busy);
	tcase_add_test(tc, links_are_kept);
	tcase_add_loop_test(tc, audit_is_never_changed, 0, (int)NELEM(tampers));
	tcase_add_test(tc, audit_is_never_replaced);
	tcase_add_test(tc, audit_listed);
	suite_add_tcase(s, tc);
	return s;
}
