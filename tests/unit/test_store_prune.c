/*
 * test_store_prune.c - the schema itself forbids a deletion outside a pruning,
 * and every table that refers to a pruned one is thought of.
 */
#include "unit.h"

#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "kitchen.h"

static struct kitchen k;
static sqlite3 *db;

static void
setup(void)
{
	struct breakdown b;
	struct batch batch;

	kitchen_open(&k);
	kitchen_touched();
	b = kitchen_trays(&batch, &k);
	breakdown_fini(&b);
	ck_assert_int_eq(sqlite3_open(k.db, &db), SQLITE_OK);
	ck_assert_int_eq(
	    sqlite3_exec(db, "PRAGMA foreign_keys = ON", NULL, NULL, NULL),
	    SQLITE_OK);
}

static void
teardown(void)
{
	sqlite3_close(db);
	kitchen_close(&k);
}

static int
sql(const char *text)
{
	return sqlite3_exec(db, text, NULL, NULL, NULL);
}

#define OPEN(before)                                                           \
	"INSERT INTO pruning (before_utc, rule, backup, at_utc, offset_min,"   \
	" by) VALUES (" before ", 'r', 'b', 4102444800, 0, 'AK');"
#define CLOSE                                                                  \
	"INSERT INTO pruned SELECT max(id), 1, 1, 1, 1, 1, 0, 0, 0, 0, 1"      \
	" FROM pruning;"
#define LATE "4102444799" /* 2099: everything is older */
#define EARLY "946684800" /* 2000: nothing is */
#define CHAIN                                                                  \
	"UPDATE portion SET left = 0; UPDATE batch SET open = 0;"              \
	"DELETE FROM pace_seen; DELETE FROM prep_minutes;"

/* clang-format off */
static const struct {
	const char *why, *sql;
	int rc;
} rows[] = {
	{ "a batch outside", "UPDATE batch SET open = 0;"
	    "DELETE FROM prep_input; DELETE FROM batch", SQLITE_CONSTRAINT },
	{ "a breakdown outside", "DELETE FROM prep", SQLITE_CONSTRAINT },
	{ "a portion outside", "UPDATE portion SET left = 0;"
	    "DELETE FROM portion", SQLITE_CONSTRAINT },
	{ "a pruning left open", "BEGIN;" OPEN(LATE) "COMMIT",
	    SQLITE_CONSTRAINT },
	{ "an open one that removes", "BEGIN;" OPEN(LATE)
	    CHAIN "DELETE FROM portion; COMMIT", SQLITE_CONSTRAINT },
	{ "a whole one", "BEGIN;" OPEN(LATE) CHAIN
	    "DELETE FROM portion;" CLOSE "COMMIT", SQLITE_OK },
	{ "what is younger than it says", "BEGIN;" OPEN(EARLY) CHAIN
	    "DELETE FROM portion;" CLOSE "COMMIT", SQLITE_CONSTRAINT },
	{ "a portion on hand", "BEGIN;" OPEN(LATE)
	    "DELETE FROM portion;" CLOSE "COMMIT", SQLITE_CONSTRAINT },
	{ "a batch on hand", "BEGIN;" OPEN(LATE) "DELETE FROM portion;"
	    "DELETE FROM batch;" CLOSE "COMMIT", SQLITE_CONSTRAINT },
	{ "after it was closed", "BEGIN;" OPEN(LATE) CHAIN CLOSE
	    "DELETE FROM portion; COMMIT", SQLITE_CONSTRAINT },
	{ "a second removal under the first", "BEGIN;" OPEN(LATE) CLOSE
	    "COMMIT; BEGIN;" CHAIN "DELETE FROM portion; COMMIT",
	    SQLITE_CONSTRAINT },
	{ "a pruning changed", OPEN(LATE) CLOSE, SQLITE_CONSTRAINT },
	{ "a pruning unwritten", "BEGIN;" OPEN(LATE) CLOSE "COMMIT;"
	    "DELETE FROM pruned", SQLITE_CONSTRAINT },
	{ "a pruning reopened", "BEGIN;" OPEN(LATE) CLOSE "COMMIT;"
	    "UPDATE pruned SET total = 2", SQLITE_CONSTRAINT },
	{ "a pruning removed", "BEGIN;" OPEN(LATE) CLOSE "COMMIT;"
	    "DELETE FROM pruning", SQLITE_CONSTRAINT },
	{ "a pruning put in another's place", "BEGIN;" OPEN(LATE) CLOSE
	    "COMMIT; BEGIN; INSERT OR REPLACE INTO pruning VALUES (1,"
	    " " LATE ", 'r', 'b', 4102444800, 0, 'AK'); COMMIT",
	    SQLITE_CONSTRAINT },
};
/* clang-format on */

START_TEST(deletions)
{
	int rc = sql(rows[_i].sql);

	ck_assert_msg(rc == rows[_i].rc, "%s: %d %s", rows[_i].why, rc,
	    sqlite3_errmsg(db));
	if (rc != SQLITE_OK && sqlite3_get_autocommit(db) == 0)
		ck_assert_int_eq(sql("ROLLBACK"), SQLITE_OK);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM pruning WHERE id NOT IN"
			     " (SELECT pruning_id FROM pruned)"),
	    0);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM portion"),
	    rows[_i].rc == SQLITE_OK ? 0 : 3);
}
END_TEST

/* --- what refers to what ---------------------------------------------------*/

static const char *const parents[] = { "delivery", "batch", "prep",
	"prep_output", "portion", "portion_event", "batch_event", "service",
	"closed", "ticket", "hold", "print_job", "recall", "recall_item",
	"complaint" };

static bool
is_parent(const char *table)
{
	size_t i;

	for (i = 0; i < NELEM(parents); i++)
		if (str_eq(parents[i], table))
			return true;
	return false;
}

/* The text of both files that remove. */
static void
load(struct buf *b)
{
	struct err err = { 0 };
	struct buf more;

	buf_init(b, FILE_READ_MAX);
	buf_init(&more, FILE_READ_MAX);
	ck_assert_msg(
	    file_read(b, "src/store/prune.c", &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(
	    file_read(&more, "src/store/prune_rows.c", &err), RC_OK);
	buf_puts(b, buf_text(&more));
	buf_fini(&more);
}

/* Every reference: child table, column, parent. */
static const char every[] =
    "SELECT t.name, f.\"from\", f.\"table\" FROM sqlite_schema t,"
    " pragma_foreign_key_list(t.name) f WHERE t.type = 'table'";

START_TEST(every_child_is_removed)
{
	char want[160];
	sqlite3_stmt *s;
	struct buf text;
	int n = 0;

	load(&text);
	ck_assert_int_eq(
	    sqlite3_prepare_v2(db, every, -1, &s, NULL), SQLITE_OK);
	while (sqlite3_step(s) == SQLITE_ROW) {
		const char *child = (const char *)sqlite3_column_text(s, 0);

		if (!is_parent((const char *)sqlite3_column_text(s, 2)))
			continue;
		str_fmt(want, sizeof(want), "DELETE FROM %s WHERE", child);
		ck_assert_msg(strstr(buf_text(&text), want) != NULL,
		    "%s refers to %s: say in src/store/prune.c what becomes of "
		    "it",
		    child, (const char *)sqlite3_column_text(s, 2));
		n++;
	}
	sqlite3_finalize(s);
	buf_fini(&text);
	ck_assert_int_ge(n, 25);
}
END_TEST

/* A parent's deletion asks its children: never by reading a whole table. */
START_TEST(every_child_is_indexed)
{
	char ask[300];
	sqlite3_stmt *s, *plan;

	ck_assert_int_eq(
	    sqlite3_prepare_v2(db, every, -1, &s, NULL), SQLITE_OK);
	while (sqlite3_step(s) == SQLITE_ROW) {
		if (!is_parent((const char *)sqlite3_column_text(s, 2)))
			continue;
		str_fmt(ask, sizeof(ask),
		    "EXPLAIN QUERY PLAN SELECT 1 FROM %s WHERE %s = ?1",
		    (const char *)sqlite3_column_text(s, 0),
		    (const char *)sqlite3_column_text(s, 1));
		ck_assert_int_eq(
		    sqlite3_prepare_v2(db, ask, -1, &plan, NULL), SQLITE_OK);
		ck_assert_int_eq(sqlite3_step(plan), SQLITE_ROW);
		ck_assert_msg(
		    strncmp((const char *)sqlite3_column_text(plan, 3),
			"SEARCH", 6) == 0,
		    "%s", ask);
		sqlite3_finalize(plan);
	}
	sqlite3_finalize(s);
}
END_TEST

Suite *
suite_store_prune(void)
{
	Suite *s = suite_create("store_prune");
	TCase *tc = tcase_create("all");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, deletions, 0, NELEM(rows));
	tcase_add_test(tc, every_child_is_removed);
	tcase_add_test(tc, every_child_is_indexed);
	suite_add_tcase(s, tc);
	return s;
}
