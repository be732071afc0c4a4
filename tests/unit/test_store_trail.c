/*
 * test_store_trail.c - no change without a row of the trail, and what our own
 * connection is kept from, whatever SQL it is given.
 */
#include "unit.h"

#include "src/store/stmt.h"

#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "base/str.h"
#include "kitchen.h"
#include "store/audit.h"
#include "store/deliveries.h"
#include "store/salvage.h"
#include "store/trail.h"
#include "trail_rig.h"

static struct kitchen k;
static struct store *st;
static const struct moment at = { .utc = 1795600000, .by = "AB" };

static void
setup(void)
{
	struct err err = { 0 };

	kitchen_make(&k, true);
	ck_assert_msg(store_create(k.db, &err) == RC_OK, "%s", err.text);
	ck_assert_msg(store_open(&st, k.db, &err) == RC_OK, "%s", err.text);
}

static void
teardown(void)
{
	store_close(st);
	kitchen_close(&k);
}

static int
sql(const char *text)
{
	return sqlite3_exec(st->db, text, NULL, NULL, NULL);
}

static void
put_supplier(const char *code)
{
	struct supplier s = { .name = "A", .address = "B" };
	enum change c;

	str_copy(s.code, sizeof(s.code), code);
	ck_assert_int_eq(supplier_put(&c, st, &s, NULL), RC_OK);
}

static void
add(const char *action)
{
	ck_assert_int_eq(audit_add(st, &at, action, "x", "y", NULL), RC_OK);
}

START_TEST(nothing_without_a_row)
{
	struct err err = { 0 };

	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	put_supplier("a");
	ck_assert_int_eq(store_commit(st, &err), RC_FATAL);
	ck_assert_ptr_nonnull(strstr(err.text, "no row of the audit trail"));
	ck_assert_ptr_nonnull(strstr(err.text, "+supplier 1"));
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM supplier"), 0);
	/* nor outside a transaction, by whatever statement */
	ck_assert_int_eq(sql("INSERT INTO supplier VALUES (1, 'a', 'A', 'B',"
			     " '', '')"),
	    SQLITE_CONSTRAINT);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM supplier"), 0);
	/* a transaction that only looks needs none */
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	ck_assert_int_eq(store_commit(st, NULL), RC_OK);
}
END_TEST

static char *
changes(int64_t row)
{
	char *text;

	ck_assert_int_eq(audit_changes(&text, st, row, NULL), RC_OK);
	return text;
}

/* Before the first row: its; between two: the second's; behind the last: the
 * last's. */
START_TEST(changes_go_to_their_row)
{
	struct trail_head head;
	char *one, *two;
	int64_t id;

	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	put_supplier("a");
	add("one");
	ck_assert_int_eq(audit_last_id(&id, st, NULL), RC_OK);
	ck_assert_int_eq(id, 1);
	put_supplier("b");
	add("two");
	ck_assert_int_eq(audit_last_id(&id, st, NULL), RC_OK);
	ck_assert_int_eq(id, 2);
	put_supplier("c");
	ck_assert_int_eq(store_commit(st, NULL), RC_OK);
	one = changes(1);
	two = changes(2);
	ck_assert_ptr_nonnull(strstr(one, "+supplier 1 "));
	ck_assert_ptr_null(strstr(one, "+supplier 2 "));
	ck_assert_ptr_nonnull(strstr(two, "+supplier 2 "));
	ck_assert_ptr_nonnull(strstr(two, "+supplier 3 "));
	free(one);
	free(two);
	ck_assert_int_eq(trail_head(&head, st, NULL), RC_OK);
	ck_assert_int_eq(head.row, 2);
	rig_whole(k.db);
}
END_TEST

/* A statement that fails, a transaction taken back, REPLACE, a delete without
 * WHERE, a key that moves: each is told of as it went. */
START_TEST(odd_statements)
{
	struct err err = { 0 };

	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	put_supplier("lost");
	add("lost");
	store_rollback(st);
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	ck_assert_int_eq(
	    sql("INSERT INTO supplier VALUES (1, 'a', 'A', 'B', '', ''),"
		" (2, 'b', 'A', 'B', '', ''), (3, 'c', 'A', 'B', '', '')"),
	    SQLITE_OK);
	ck_assert_int_eq(sql("REPLACE INTO supplier VALUES (1, 'd', 'D', 'B',"
			     " '', '')"),
	    SQLITE_OK);
	ck_assert_int_eq(
	    sql("UPDATE supplier SET id = 9 WHERE id = 3"), SQLITE_OK);
	ck_assert_int_eq(
	    sql("INSERT INTO pace VALUES ('fillet', 'COD', 0, 1, 1),"
		" ('fillet', 'COD', 9, 1, 1)"),
	    SQLITE_OK);
	ck_assert_int_eq(
	    sql("UPDATE pace SET from_g = 5 WHERE from_g = 9"), SQLITE_OK);
	ck_assert_int_eq(
	    sql("INSERT INTO mix SELECT 1, 'x', 1 WHERE 0"), SQLITE_OK);
	add("odd");
	ck_assert_msg(store_commit(st, &err) == RC_OK, "%s", err.text);
	rig_whole(k.db);
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	ck_assert_int_eq(sql("DELETE FROM pace"), SQLITE_OK);
	ck_assert_int_eq(sql("DELETE FROM supplier WHERE id = 2"), SQLITE_OK);
	add("gone");
	ck_assert_msg(store_commit(st, &err) == RC_OK, "%s", err.text);
	rig_whole(k.db);
}
END_TEST

/* One of several rows of a statement breaks a rule: none is told of. */
START_TEST(failed_statement)
{
	struct stmt q;

	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	put_supplier("a");
	ck_assert_int_eq(
	    stmt_open(&q, st,
		"INSERT INTO supplier SELECT 5, 'b', 'B', 'B', '', ''"
		" UNION ALL SELECT 6, 'a', 'A', 'B', '', ''",
		NULL),
	    RC_OK);
	ck_assert_int_ne(stmt_run(&q, NULL), RC_OK);
	add("half");
	ck_assert_int_eq(store_commit(st, NULL), RC_OK);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM supplier"), 1);
	rig_whole(k.db);
}
END_TEST

/* Two copies in which the same was written down of different things part where
 * the digests do. */
START_TEST(parted_by_digest)
{
	struct salvage *a, *b;
	struct store *other;
	struct buf bytes;
	int64_t row;
	char copy[400];
	size_t i;

	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	put_supplier("a");
	rig_commit(st);
	store_close(st);
	buf_init(&bytes, FILE_READ_MAX);
	ck_assert_int_eq(file_read(&bytes, k.db, NULL), RC_OK);
	str_fmt(copy, sizeof(copy), "%s/copy.db", k.folder);
	ck_assert_int_eq(file_write(copy, bytes.data, bytes.len, NULL), RC_OK);
	buf_fini(&bytes);
	ck_assert_int_eq(store_open(&st, copy, NULL), RC_OK);
	other = st;
	ck_assert_int_eq(store_open(&st, k.db, NULL), RC_OK);
	for (i = 0; i < 3; i++) { /* rows 2, 3, 4 */
		ck_assert_int_eq(store_begin(st, NULL), RC_OK);
		put_supplier(i == 1 ? "b" : i == 2 ? "c" : "d");
		rig_commit(st);
		ck_assert_int_eq(store_begin(other, NULL), RC_OK);
		ck_assert_int_eq(sqlite3_exec(other->db,
				     i == 1 ? "INSERT INTO supplier VALUES"
					      " (9, 'b', 'A', 'B', '', '')"
					    : "UPDATE supplier SET name = name",
				     NULL, NULL, NULL),
		    SQLITE_OK);
		rig_commit(other);
	}
	store_close(other);
	ck_assert_int_eq(salvage_open(&a, k.db, NULL), RC_OK);
	ck_assert_int_eq(salvage_open(&b, copy, NULL), RC_OK);
	ck_assert_int_eq(salvage_fork(&row, a, b, NULL), RC_OK);
	ck_assert_int_eq(row, 1);
	salvage_close(b);
	/* one from before there were digests: by its words */
	ck_assert_int_eq(
	    kitchen_sql(copy, "ALTER TABLE audit DROP COLUMN digest"), 0);
	ck_assert_int_eq(salvage_open(&b, copy, NULL), RC_OK);
	ck_assert_int_eq(salvage_fork(&row, a, b, NULL), RC_OK);
	ck_assert_int_eq(row, 4);
	salvage_close(a);
	salvage_close(b);
}
END_TEST

static const char *const denied[] = {
	"INSERT INTO audit (at_utc, offset_min, by, action, subject, detail)"
	" VALUES (0, 0, 'x', 'x', 'x', 'x')",
	"UPDATE audit SET by = 'x'",
	"DELETE FROM audit",
	"REPLACE INTO audit (id, at_utc, offset_min, by, action, subject,"
	" detail) VALUES (1, 0, 0, 'x', 'x', 'x', 'x')",
	"UPDATE trail_head SET last_id = 0",
	"DELETE FROM trail_head",
	"INSERT INTO adopted (name, keys, digests) VALUES ('x', '', x'')",
	"DROP TABLE audit",
	"DROP TABLE portion",
	"DROP TRIGGER audit_no_update",
	"DROP INDEX portion_batch",
	"DROP VIEW batch_left",
	"ALTER TABLE audit RENAME TO other",
	"ALTER TABLE portion ADD COLUMN x TEXT",
	"CREATE TABLE x (id INTEGER PRIMARY KEY)",
	"CREATE TEMP TABLE x (id INTEGER PRIMARY KEY)",
	"CREATE TRIGGER x AFTER INSERT ON hold BEGIN SELECT 1; END",
	"CREATE TEMP TRIGGER x AFTER INSERT ON hold BEGIN SELECT 1; END",
	"CREATE VIEW x AS SELECT 1",
	"CREATE INDEX x ON hold (by)",
	"CREATE VIRTUAL TABLE x USING fts5(y)",
	"ATTACH ':memory:' AS x",
	"SELECT load_extension('x')",
	"PRAGMA writable_schema = ON",
	"PRAGMA foreign_keys = OFF",
	"PRAGMA journal_mode = OFF",
	"PRAGMA synchronous = OFF",
	"PRAGMA ignore_check_constraints = ON",
	"PRAGMA trusted_schema = ON",
	"PRAGMA user_version = 1",
	"PRAGMA application_id = 1",
	"UPDATE sqlite_schema SET sql = ''",
	"DELETE FROM sqlite_schema",
	"SAVEPOINT x",
	"REINDEX",
	"ANALYZE",
	"VACUUM",
};

START_TEST(denied_to_ourselves)
{
	int code = sql(denied[_i]);

	ck_assert_msg(code == SQLITE_AUTH || code == SQLITE_ERROR, "%s: %d",
	    denied[_i], code);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM audit"), 0);
	rig_whole(k.db);
}
END_TEST

Suite *
suite_store_trail(void)
{
	Suite *s = suite_create("store_trail");
	TCase *tc = tcase_create("trail");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_test(tc, nothing_without_a_row);
	tcase_add_test(tc, changes_go_to_their_row);
	tcase_add_test(tc, odd_statements);
	tcase_add_test(tc, failed_statement);
	tcase_add_test(tc, parted_by_digest);
	tcase_add_loop_test(tc, denied_to_ourselves, 0, (int)NELEM(denied));
	suite_add_tcase(s, tc);
	return s;
}
