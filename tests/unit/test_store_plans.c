/*
 * test_store_plans.c - every SQL statement of the program, found in its source,
 * is prepared on a file of the newest schema and its query plan looked at: no
 * table is read whole, no index is made on the fly and no set without a bound
 * is sorted, but where the statement says so itself.
 */
#include "unit.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "kitchen.h"
#include "sql_text.h"

#define TEXT_MAX (64u * 1024 * 1024)

static struct kitchen k;
static struct sql_texts texts;
static sqlite3 *db;

/* Made by this program from the three in formatted[], of store.c and stmt.c. */
static const char *const made[] = { "version", "pragma", "explain", NULL };

static void
setup(void)
{
	struct buf b;
	struct err err = { 0 };

	kitchen_open(&k);
	ck_assert_int_eq(sqlite3_open(k.db, &db), SQLITE_OK);
	buf_init(&b, TEXT_MAX);
	ck_assert_msg(file_read(&b, STORE_TEXT, &err) == RC_OK, "%s", err.text);
	sql_texts_find(&texts, buf_text(&b), "src/store/", made);
	buf_fini(&b);
}

static void
teardown(void)
{
	sql_texts_fini(&texts);
	sqlite3_close(db);
	kitchen_close(&k);
}

/* Formatted from constants of the program and names of the schema alone, which
 * are looked at first, and bound nowhere. */
static const char *const formatted[] = {
	"PRAGMA user_version = %d",
	"PRAGMA application_id = %d;",
	"EXPLAIN QUERY PLAN %s",
	"SELECT * /*scan-ok*/ FROM \"%s\" ORDER BY ",
};

static bool seen[NELEM(formatted)];

static bool
is_formatted(const char *sql)
{
	size_t i;

	for (i = 0; i < NELEM(formatted); i++)
		if (str_eq(formatted[i], sql))
			return seen[i] = true;
	return false;
}

/* Each string that begins like SQL is one that is handed to SQLite, and
 * nothing else is. */
START_TEST(all_are_found)
{
	size_t i;

	ck_assert_msg(texts.wrong[0] == '\0', "%s", texts.wrong);
	for (i = 0; i < texts.count; i++) {
		if (texts.items[i].handed)
			continue;
		ck_assert_msg(is_formatted(texts.items[i].sql),
		    "%s:%d: SQL that no function is handed: %.80s",
		    texts.items[i].file, texts.items[i].line,
		    texts.items[i].sql);
	}
	for (i = 0; i < NELEM(formatted); i++)
		ck_assert_msg(seen[i], "no longer there: %s", formatted[i]);
	/* The finder finds. */
	ck_assert_uint_gt(texts.count, 180);
	ck_assert_uint_gt(texts.calls, 150);
}
END_TEST

/* None is made with a format, but those. */
START_TEST(none_is_formatted)
{
	const char *p;
	size_t i;

	for (i = 0; i < texts.count; i++) {
		if (is_formatted(texts.items[i].sql))
			continue;
		for (p = texts.items[i].sql; (p = strchr(p, '%')) != NULL; p++)
			/* The remainder of a division stands between blanks. */
			ck_assert_msg(p[1] == ' ', "%s:%d: %.80s",
			    texts.items[i].file, texts.items[i].line,
			    texts.items[i].sql);
	}
}
END_TEST

/* --- plans -----------------------------------------------------------------*/

/* What is wrong with a line of a plan; NULL: nothing. */
static const char *
fault(const char *detail, const char *sql)
{
	bool scans = strstr(sql, "scan-ok") != NULL;

	if (strncmp(detail, "SCAN ", 5) == 0 &&
	    strstr(detail, "CONSTANT ROW") == NULL &&
	    strstr(detail, "subquery") == NULL &&
	    strstr(detail, "SUBQUERY") == NULL && !scans)
		return "reads a whole table";
	if (strstr(detail, "AUTOMATIC") != NULL)
		return "makes an index on the fly";
	if (strstr(detail, "TEMP B-TREE") != NULL && !scans &&
	    strstr(sql, "sort-ok") == NULL)
		return "sorts";
	return NULL;
}

/* Of the file itself, not of a table. */
static bool
has_plan(const char *sql)
{
	return strncmp(sql, "SELECT ", 7) == 0 ||
	    strncmp(sql, "WITH ", 5) == 0 || strncmp(sql, "INSERT ", 7) == 0 ||
	    strncmp(sql, "UPDATE ", 7) == 0 || strncmp(sql, "DELETE ", 7) == 0;
}

static size_t
look(const struct sql_text *t)
{
	char explain[32768];
	sqlite3_stmt *s = NULL;
	const char *detail, *wrong;
	size_t faults = 0;

	if (sqlite3_prepare_v2(db, t->sql, -1, &s, NULL) != SQLITE_OK) {
		fprintf(stderr, "%s:%d: %s: %.100s\n", t->file, t->line,
		    sqlite3_errmsg(db), t->sql);
		return 1;
	}
	sqlite3_finalize(s);
	if (!has_plan(t->sql))
		return 0;
	ck_assert(
	    str_fmt(explain, sizeof(explain), "EXPLAIN QUERY PLAN %s", t->sql));
	ck_assert_int_eq(
	    sqlite3_prepare_v2(db, explain, -1, &s, NULL), SQLITE_OK);
	while (sqlite3_step(s) == SQLITE_ROW) {
		detail = (const char *)sqlite3_column_text(s, 3);
		if ((wrong = fault(detail, t->sql)) == NULL)
			continue;
		fprintf(stderr, "%s:%d: %s (%s): %s\n", t->file, t->line, wrong,
		    detail, t->sql);
		faults++;
	}
	sqlite3_finalize(s);
	return faults;
}

START_TEST(every_plan_has_its_index)
{
	size_t i, faults = 0;

	for (i = 0; i < texts.count; i++)
		if (!is_formatted(texts.items[i].sql))
			faults += look(&texts.items[i]);
	ck_assert_msg(faults == 0, "%zu, named above", faults);
}
END_TEST

/* A mark that nothing needs is taken away. */
START_TEST(no_idle_marks)
{
	char bare[32768], *mark;
	struct sql_text t;
	size_t i, idle = 0;
	sqlite3_stmt *s;
	bool needed;

	for (i = 0; i < texts.count; i++) {
		t = texts.items[i];
		if (is_formatted(t.sql) ||
		    (strstr(t.sql, "scan-ok") == NULL &&
			strstr(t.sql, "sort-ok") == NULL))
			continue;
		ck_assert(str_fmt(
		    bare, sizeof(bare), "EXPLAIN QUERY PLAN %s", t.sql));
		ck_assert_int_eq(
		    sqlite3_prepare_v2(db, bare, -1, &s, NULL), SQLITE_OK);
		while ((mark = strstr(bare, "n-ok")) != NULL ||
		    (mark = strstr(bare, "t-ok")) != NULL)
			mark[0] = '_';
		needed = false;
		while (sqlite3_step(s) == SQLITE_ROW)
			needed = needed ||
			    fault((const char *)sqlite3_column_text(s, 3),
				bare) != NULL;
		sqlite3_finalize(s);
		if (!needed)
			fprintf(stderr,
			    "%s:%d: its mark is not needed: %.150s\n", t.file,
			    t.line, t.sql);
		idle += !needed;
	}
	ck_assert_msg(idle == 0, "%zu, named above", idle);
}
END_TEST

/* --- the finder itself
 * ------------------------------------------------------*/

#define HEAD                                                                   \
	"# 1 \"src/store/x.c\"\n"                                              \
	"enum rc stmt_open(struct stmt *q, struct store *st,"                  \
	" const char *sql, struct err *err);\n"

/* clang-format off */
static const struct {
	const char *why, *text;
	size_t count, calls, loose;
	bool wrong;
} finder[] = {
	{ "nothing", HEAD, 0, 0, 0, false },
	{ "one, in pieces", HEAD
	    "int f(void) { stmt_open(&q, st, \"SELECT 1\" \" FROM t\", err); }",
	    1, 1, 0, false },
	{ "either of two", HEAD
	    "int f(void) { stmt_open(&q, st, a ? \"SELECT 1\" : \"SELECT 2\","
	    " err); }", 2, 1, 0, false },
	{ "of another folder", "# 1 \"src/ops/x.c\"\n"
	    "int f(void) { stmt_open(&q, st, \"SELECT 1\", err); }",
	    0, 0, 0, false },
	{ "a constant", HEAD "static const char text[] = \"SELECT 1\";\n"
	    "int f(void) { stmt_open(&q, st, text, err); }", 1, 1, 0, false },
	{ "a table of them", HEAD
	    "static const char *const sql[] = { \"SELECT 1\", \"SELECT 2\" };\n"
	    "int f(void) { stmt_open(&q, st, sql[i], err); }", 2, 1, 0, false },
	{ "handed on", HEAD
	    "static int g(struct store *st, const char *sql) {"
	    " return stmt_open(&q, st, sql, err); }\n"
	    "int f(void) { g(st, \"SELECT 1\"); }", 1, 2, 0, false },
	{ "made with a format", HEAD
	    "int f(void) { char made[9]; str_fmt(made, 9, \"SELECT %s\", x);"
	    " stmt_open(&q, st, made, err); }", 1, 1, 1, true },
	{ "what somebody gave", HEAD
	    "int f(char *given) { stmt_open(&q, st, given, err); }",
	    0, 1, 0, true },
	{ "in a variable", HEAD
	    "int f(void) { char *v = \"DELETE FROM t\";"
	    " stmt_open(&q, st, v, err); }", 1, 1, 1, true },
};
/* clang-format on */

START_TEST(finder_rows)
{
	struct sql_texts t;
	size_t i, loose = 0;

	sql_texts_find(&t, finder[_i].text, "src/store/", NULL);
	for (i = 0; i < t.count; i++)
		loose += !t.items[i].handed;
	ck_assert_msg(t.count == finder[_i].count &&
		t.calls == finder[_i].calls && loose == finder[_i].loose &&
		(t.wrong[0] != '\0') == finder[_i].wrong,
	    "%s: %zu %zu %zu %s", finder[_i].why, t.count, t.calls, loose,
	    t.wrong);
	sql_texts_fini(&t);
}
END_TEST

Suite *
suite_store_plans(void)
{
	Suite *s = suite_create("store_plans");
	TCase *tc = tcase_create("all"), *own = tcase_create("finder");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, all_are_found);
	tcase_add_test(tc, none_is_formatted);
	tcase_add_test(tc, every_plan_has_its_index);
	tcase_add_test(tc, no_idle_marks);
	suite_add_tcase(s, tc);
	tcase_add_loop_test(own, finder_rows, 0, NELEM(finder));
	suite_add_tcase(s, own);
	return s;
}
