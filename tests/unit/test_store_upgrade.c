/*
 * test_store_upgrade.c - what an older station file with a record in it
 * becomes.
 */
#include "unit.h"

#include "src/store/stmt.h"

#include <sqlite3.h>
#include <string.h>

#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "kitchen.h"
#include "store/copy.h"
#include "store/store.h"
#include "trail_rig.h"

static struct kitchen k;

static void
teardown(void)
{
	kitchen_close(&k);
}

/* The scripts up to a version, as a file of that time ran them, and enough for
 * three portions of one breakdown. */
static void
schema_old(struct buf *script, int version)
{
	static const char *const names[] = { "first", "clock", "goods_in",
		"plan", "printing" };
	char path[80];
	struct err err = { 0 };
	int i;

	for (i = 0; i < version; i++) {
		str_fmt(path, sizeof(path), "src/store/sql/%04d_%s.sql", i + 1,
		    names[i]);
		ck_assert_msg(
		    file_read(script, path, &err) == RC_OK, "%s", err.text);
	}
	buf_printf(script,
	    "PRAGMA application_id = %d; PRAGMA user_version = %d;"
	    "INSERT INTO supplier VALUES (1, 's', 'S', 'x', '', '');"
	    "INSERT INTO delivery VALUES (1, 1, 'd', 20000);"
	    "INSERT INTO batch (id, code, delivery_id, species, presentation,"
	    " count, weight_g, lot, temp_dc, area, method, gear, decision,"
	    " open, note, received_utc, received_offset_min, use_by_utc,"
	    " use_by_why, by) VALUES (1, 'B', 1, 'COD', 'gutted', 10, 20000, "
	    "'l',"
	    " 10, 'a', 'caught', '', 'accepted', 1, '', 1, 0, 2, '{}', 'AB');"
	    "INSERT INTO dish (id, code, name, state, allergens, on_menu)"
	    " VALUES (1, 'd', 'D', 'raw', '', 1);"
	    "INSERT INTO cut (id, dish_id, species, kind, skin_on, bought,"
	    " low_g, target_g, high_g, current)"
	    " VALUES (1, 1, 'COD', 'fillet', 1, 'gutted', 1, 1, 1, 1);"
	    "INSERT INTO prep VALUES (1, 1, 0, 'AB', '');"
	    "INSERT INTO prep_output VALUES (1, 1, 1, 3, 300);",
	    STORE_APPLICATION_ID, version);
}

/* What was made of thawed fish stood in its reasons alone; a reason nobody can
 * read, or an event without one, stops no upgrade. */
START_TEST(upgrade_to_thawed)
{
	struct store *old = NULL;
	struct buf script;
	struct err err = { 0 };
	size_t i;

	buf_init(&script, FILE_READ_MAX);
	schema_old(&script, 4);
	for (i = 1; i <= 3; i++)
		buf_printf(&script,
		    "INSERT INTO portion VALUES (%zu, %zu, 'P%zu', 1, 1, 1, 1,"
		    " 1, 100, 1, 0, 2, '%s', 'AB');",
		    i, i, i,
		    i == 1       ? "not JSON"
			: i == 2 ? "{\"use_by\": \"2026-11-25\"}"
				 : "{\"history\": {\"frozen\":"
				   " \"2026-11-01T10:00:00+02:00\","
				   " \"thawed\": \"2026-11-25T09:00:00Z\"}}");
	buf_printf(&script,
	    "INSERT INTO portion_event VALUES (1, 1, 'discarded', 1, NULL, '',"
	    " 1, 0, 'AB');"
	    "INSERT INTO portion_event VALUES (2, 2, 'used', 1, NULL, '', 1, 0,"
	    " 'AB');");
	kitchen_make(&k, true);
	ck_assert_int_eq(kitchen_sql(k.db, buf_text(&script)), SQLITE_OK);
	buf_fini(&script);
	ck_assert_msg(store_open(&old, k.db, &err) == RC_OK, "%s", err.text);
	store_close(old);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM portion"
			     " WHERE frozen_utc IS NULL AND id < 3"),
	    2);
	/* date -u -d 2026-11-01T10:00:00+02:00 +%s, and of the other */
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT frozen_utc FROM portion WHERE id = 3"),
	    1793520000);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT thawed_utc FROM portion WHERE id = 3"),
	    1795597200);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM portion_event"), 2);
	ck_assert_int_eq(
	    kitchen_count(&k,
		"SELECT count(*) FROM portion_event"
		" WHERE kind = 'discarded' AND reason = '(not said)'"),
	    1);
}
END_TEST

/* --- schema 5 to 6: two tables and a view made anew ------------------------*/

static const char five[] =
    "INSERT INTO station VALUES ('kitchen', 'Old');"
    "INSERT INTO service VALUES (1, 20001, 'lunch', 40, '2x8 4x6', NULL);"
    "INSERT INTO closed VALUES (1, 40, 38, 2, 9, 60, 'AB', NULL);"
    "INSERT INTO sold VALUES (1, 1, 3, 31, NULL);"
    "INSERT INTO prep_input VALUES (1, 1, 1, 2, 4000);"
    "INSERT INTO prep_loss VALUES (1, 'frames', 1500);"
    "INSERT INTO prep_minutes VALUES (1, 20, 1100, 1);"
    "INSERT INTO pace VALUES ('fillet', 'COD', 0, 2000, 500000);"
    "INSERT INTO yield_seen (prep_id, species, bought, cut, supplier_id, fish,"
    " in_g, out_g, learned) VALUES (1, 'COD', 'gutted', 'fillet', 1, 2, 4000,"
    " 2000, 1);"
    "INSERT INTO batch_fish VALUES (1, 1, 2010, 1), (1, 2, 1990, NULL);"
    "INSERT INTO batch_event VALUES (3, 1, 'discarded', 1, 1500, 'dropped', 5,"
    " 60, 'AB'), (8, 1, 'discarded', 0, 500, 'belly burst', 6, 0, 'CD');"
    "INSERT INTO portion VALUES (1, 1, 'P1', 1, 1, 1, 2, 1, 100, 1, 0, 2,"
    " '{}', 'AB', NULL, NULL), (2, 2, 'P2', 1, 1, 1, 3, 0, 100, 1, 0, 2,"
    " '{}', 'AB', 10, 20);"
    "INSERT INTO portion_event VALUES (2, 1, 'used', 1, 1, '', 5, 60, 'AB'),"
    " (4, 2, 'missing', 3, NULL, 'counted', 6, 0, 'AB'),"
    " (5, 2, 'found', 2, NULL, 'behind', 7, 0, 'CD'),"
    " (9, 2, 'discarded', 2, NULL, 'soft', 8, -60, 'CD');"
    "INSERT INTO freezing VALUES (1, 2, 'frozen', -203, 2, 9, 8, '{}', '', 5,"
    " 0, 'AB');"
    "INSERT INTO hold VALUES (1, 1, NULL, 'smell', 4, 'AB', 5, 'CD', 'fine'),"
    " (2, NULL, 1, 'label', 6, 'AB', NULL, NULL, NULL);"
    "INSERT INTO ticket VALUES (1, 'day', 'T', 'x', 5, 0, 'AB');"
    "INSERT INTO print_job (id, ticket_id, page, copy, state, language,"
    " printer, picture, error, at_utc, changed_utc, by) VALUES"
    " (1, 1, 1, 0, 'sent', 'zpl', 'usb:any', 'd', '', 5, 6, 'AB');"
    "INSERT INTO audit VALUES (1, 5, 0, 'AB', 'use', 'P1', '1 left');";

static void
dump_rows(struct buf *out, sqlite3 *db, const char *table)
{
	char sql[200];
	sqlite3_stmt *q;
	const char *s;
	int i, n;

	/* the row that says so is new, and so are columns behind the others;
	 * a column that followed from others is gone */
	str_fmt(sql, sizeof(sql), "SELECT %s FROM \"%s\"%s ORDER BY 1, 2",
	    str_eq(table, "audit")
		? "id, at_utc, offset_min, by, action, subject, detail"
		: str_eq(table, "yield_seen")
		? "prep_id, species, bought, cut, supplier_id, fish, in_g,"
		  " out_g, learned"
		: "*",
	    table, str_eq(table, "audit") ? " WHERE action <> 'adopt'" : "");
	ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &q, NULL), SQLITE_OK);
	n = sqlite3_column_count(q);
	if (n == 10 &&
	    (str_eq(table, "portion_event") || str_eq(table, "batch_event")))
		n = 9; /* undoes is new */
	if (n == 17 && str_eq(table, "portion"))
		n = 16; /* prepared_utc is new */
	if (n == 10 && str_eq(table, "hold"))
		n = 9; /* prep_id is new */
	while (sqlite3_step(q) == SQLITE_ROW) {
		buf_puts(out, table);
		for (i = 0; i < n; i++) {
			s = (const char *)sqlite3_column_text(q, i);
			buf_printf(out, "|%s", s == NULL ? "NULL" : s);
		}
		buf_putc(out, '\n');
	}
	sqlite3_finalize(q);
}

/* Every row of the tables of schema 5, and what is left of each batch. */
static void
dump(struct buf *out, const char *path)
{
	static const char *const tables[] = { "audit", "batch", "batch_event",
		"batch_fish", "batch_left", "closed", "cut", "delivery", "dish",
		"freezing", "hold", "pace", "portion", "portion_event", "prep",
		"prep_input", "prep_loss", "prep_minutes", "prep_output",
		"print_job", "service", "sold", "station", "supplier", "ticket",
		"yield_seen" };
	sqlite3 *db;
	size_t i;

	ck_assert_int_eq(
	    sqlite3_open_v2(path, &db, SQLITE_OPEN_READONLY, NULL), SQLITE_OK);
	for (i = 0; i < NELEM(tables); i++)
		dump_rows(out, db, tables[i]);
	sqlite3_close(db);
}

static void
make_five(void)
{
	struct buf script;

	buf_init(&script, FILE_READ_MAX);
	schema_old(&script, 5);
	buf_puts(&script, five);
	kitchen_make(&k, true);
	ck_assert_int_eq(kitchen_sql(k.db, buf_text(&script)), SQLITE_OK);
	buf_fini(&script);
}

START_TEST(five_keeps_its_rows)
{
	struct store *st = NULL;
	struct buf before, after, copied;
	struct err err = { 0 };
	char copy[400];

	make_five();
	buf_init(&before, FILE_READ_MAX);
	buf_init(&after, FILE_READ_MAX);
	buf_init(&copied, FILE_READ_MAX);
	dump(&before, k.db);
	ck_assert_ptr_nonnull(
	    strstr(buf_text(&before), "batch_left|1|14000|7\n"));
	ck_assert_msg(store_open(&st, k.db, &err) == RC_OK, "%s", err.text);
	store_close(st);
	dump(&after, k.db);
	ck_assert_str_eq(buf_text(&before), buf_text(&after));
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM pragma_foreign_key_check"),
	    0);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM pragma_integrity_check"
			     " WHERE integrity_check <> 'ok'"),
	    0);
	str_fmt(copy, sizeof(copy), "%s.before-schema-7", k.db);
	ck_assert_msg(file_exists(copy), "no copy before the upgrade");
	dump(&copied, copy);
	ck_assert_str_eq(buf_text(&before), buf_text(&copied));
	buf_fini(&before);
	buf_fini(&after);
	buf_fini(&copied);
}
END_TEST

/* What happened before the upgrade can be taken back after it, once. */
START_TEST(five_takes_back)
{
	static const struct {
		const char *why, *sql;
		int want;
	} rows[] = {
		{ "discard of a batch taken back",
		    "INSERT INTO batch_event VALUES (9, 1, 'returned', 1, 1500,"
		    " 'slip', 9, 0, 'AB', 3)",
		    SQLITE_OK },
		{ "of no event there is",
		    "INSERT INTO batch_event VALUES (NULL, 1, 'returned', 1, "
		    "1500,"
		    " 'slip', 9, 0, 'AB', 4)",
		    SQLITE_CONSTRAINT },
		{ "twice",
		    "INSERT INTO batch_event VALUES (NULL, 1, 'returned', 0, "
		    "500,"
		    " 's', 9, 0, 'AB', 8), (NULL, 1, 'returned', 0, 500, 's', "
		    "9,"
		    " 0, 'AB', 8)",
		    SQLITE_CONSTRAINT },
		{ "a return that names nothing",
		    "INSERT INTO batch_event VALUES (NULL, 1, 'returned', 1, "
		    "1500,"
		    " 'slip', 9, 0, 'AB', NULL)",
		    SQLITE_CONSTRAINT },
		{ "a use of the old file",
		    "INSERT INTO portion_event VALUES (10, 1, 'returned', 1, 1,"
		    " 'slip', 9, 0, 'AB', 2)",
		    SQLITE_OK },
		{ "of no event there is",
		    "INSERT INTO portion_event VALUES (NULL, 1, 'returned', 1, "
		    "1,"
		    " 'slip', 9, 0, 'AB', 3)",
		    SQLITE_CONSTRAINT },
		{ "without a reason",
		    "INSERT INTO portion_event VALUES (NULL, 1, 'returned', 1, "
		    "1,"
		    " '', 9, 0, 'AB', 2)",
		    SQLITE_CONSTRAINT },
	};
	struct store *st = NULL;
	struct err err = { 0 };
	char sql[400];
	size_t i;

	make_five();
	ck_assert_msg(store_open(&st, k.db, &err) == RC_OK, "%s", err.text);
	store_close(st);
	for (i = 0; i < NELEM(rows); i++) {
		str_fmt(sql, sizeof(sql), "PRAGMA foreign_keys = ON; %s",
		    rows[i].sql);
		ck_assert_msg(
		    kitchen_sql(k.db, sql) == rows[i].want, "%s", rows[i].why);
	}
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT weight_g FROM batch_left"), 15500);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count FROM batch_left"), 8);
}
END_TEST

/* What was there is proven from the upgrade on, row by row, and may be changed
 * by the station; rows of the old audit trail too. */
START_TEST(five_is_taken_into_the_trail)
{
	static const struct {
		const char *why, *sql, *table, *key;
		enum tamper_kind kind;
	} rows[] = {
		{ "a use-by of before",
		    "UPDATE portion SET use_by_utc = 99"
		    " WHERE id = 2",
		    "portion", "2", TAMPER_ROW_CHANGED },
		{ "a column that was not there then",
		    "UPDATE batch SET vessel = 'x'", "batch", "1",
		    TAMPER_ROW_CHANGED },
		{ "one row of several",
		    "DELETE FROM portion_event WHERE id = 4", "portion_event",
		    "4", TAMPER_ROW_MISSING },
		{ "a key in words", "UPDATE prep_loss SET weight_g = 1",
		    "prep_loss", "1/frames", TAMPER_ROW_CHANGED },
		{ "a row of the old trail",
		    "UPDATE audit SET by = 'ZZ' WHERE id = 1", "audit", "1",
		    TAMPER_ROW_CHANGED },
		{ "a row of the old trail gone",
		    "DELETE FROM audit WHERE id = 1", "audit", "1",
		    TAMPER_ROW_MISSING },
		{ "what was taken in",
		    "UPDATE adopted SET keys = '1-1'"
		    " WHERE name = 'portion'",
		    "portion", "2", TAMPER_ROW_UNKNOWN },
	};
	struct store *st = NULL;
	struct trail_report r;
	struct err err = { 0 };
	size_t i, j;
	bool seen;

	for (i = 0; i <= NELEM(rows); i++) {
		make_five();
		ck_assert_msg(
		    store_open(&st, k.db, &err) == RC_OK, "%s", err.text);
		ck_assert_int_eq(store_begin(st, NULL), RC_OK);
		ck_assert_int_eq(
		    store_fact_set(st, "kitchen", "New", NULL), RC_OK);
		rig_commit(st);
		store_close(st);
		rig_whole(k.db);
		if (i == NELEM(rows))
			break;
		ck_assert_msg(rig_tamper(k.db, rows[i].sql) == SQLITE_OK, "%s",
		    rows[i].why);
		r = rig_verify(k.db);
		seen = false;
		for (j = 0; j < r.fault_count; j++)
			seen |= r.faults[j].kind == rows[i].kind &&
			    str_eq(r.faults[j].table, rows[i].table) &&
			    str_eq(r.faults[j].key, rows[i].key);
		ck_assert_msg(seen, "%s: %s", rows[i].why,
		    r.found == 0 ? "nothing found" : r.faults[0].text);
		trail_report_fini(&r);
		kitchen_close(&k);
	}
}
END_TEST

/* The copy of an earlier try is no copy of what was recorded since. */
START_TEST(copy_of_another_day)
{
	struct store *st = NULL;
	struct file_head head;
	struct buf old;
	char copy[320];
	int64_t last;

	make_five();
	buf_init(&old, FILE_READ_MAX);
	ck_assert_int_eq(file_read(&old, k.db, NULL), RC_OK);
	str_fmt(copy, sizeof(copy), "%s.before-schema-7", k.db);
	ck_assert_int_eq(file_write(copy, old.data, old.len, NULL), RC_OK);
	buf_fini(&old);
	ck_assert_int_eq(kitchen_sql(k.db,
			     "INSERT INTO audit SELECT max(id) + 1, at_utc,"
			     " offset_min, by, action, subject, detail"
			     " FROM audit"),
	    SQLITE_OK);
	ck_assert_int_eq(store_open(&st, k.db, NULL), RC_OK);
	store_close(st);
	ck_assert_int_eq(file_head_read(&head, copy, NULL), RC_OK);
	str_fmt(copy, sizeof(copy), "%s.before-schema-7-2", k.db);
	last = head.last_row;
	ck_assert_int_eq(file_head_read(&head, copy, NULL), RC_OK);
	ck_assert_int_eq(head.last_row, last + 1);
	ck_assert_int_eq(head.schema, 5);
}
END_TEST

/* Rows from before hold no value for a column added since; a change of one says
 * what those who adopted it read. */
START_TEST(every_old_row_changes)
{
	const struct trail_table *t;
	struct store *st = NULL;
	struct err err = { 0 };
	char sql[200];
	size_t i, tables = 0;
	int code;

	make_five();
	ck_assert_msg(store_open(&st, k.db, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
	for (i = 0; i < st->trail.tables.count; i++) {
		t = &st->trail.tables.items[i];
		if (!t->covered || str_eq(t->name, "adopted"))
			continue;
		str_fmt(sql, sizeof(sql), "UPDATE %s SET %s = %s", t->name,
		    t->columns[0].name, t->columns[0].name);
		code = sqlite3_exec(st->db, sql, NULL, NULL, NULL);
		tables += code == SQLITE_OK && sqlite3_changes(st->db) > 0;
	}
	ck_assert_int_eq(store_fact_set(st, "kitchen", "New", NULL), RC_OK);
	rig_commit(st);
	store_close(st);
	ck_assert_uint_gt(tables, 8);
	rig_whole(k.db);
}
END_TEST

Suite *
suite_store_upgrade(void)
{
	Suite *s = suite_create("store_upgrade");
	TCase *tc = tcase_create("upgrade");

	tcase_add_checked_fixture(tc, NULL, teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_test(tc, upgrade_to_thawed);
	tcase_add_test(tc, five_keeps_its_rows);
	tcase_add_test(tc, five_takes_back);
	tcase_add_test(tc, five_is_taken_into_the_trail);
	tcase_add_test(tc, copy_of_another_day);
	tcase_add_test(tc, every_old_row_changes);
	suite_add_tcase(s, tc);
	return s;
}
