/* undo_rig.c - a kitchen whose steps are taken back. */
#include "undo_rig.h"

#include <check.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "ops/fate.h"
#include "unit.h"

struct kitchen uk;
struct batch uk_cod;

void
undo_setup(void)
{
	struct receive_in in = kitchen_cod();

	kitchen_open(&uk);
	kitchen_at(&uk, "2026-11-25T09:00");
	uk_cod = kitchen_receive(&uk, &in);
	kitchen_at(&uk, "2026-11-25T10:05");
}

void
undo_teardown(void)
{
	kitchen_close(&uk);
}

/*
 * Everything anybody plans, cuts, serves or counts from, as text: it may not
 * know of a step that was taken back.  What happened stays in its own tables.
 */
char *
undo_state(void)
{
	static const char *const parts[] = {
		"SELECT batch_id, weight_g, count FROM batch_left"
		" WHERE weight_g <> 0 ORDER BY 1",
		"SELECT id FROM batch WHERE open = 1 ORDER BY 1",
		"SELECT code, left, use_by_utc FROM portion WHERE left > 0"
		" ORDER BY 1",
		"SELECT batch_id, number, weight_g FROM batch_fish"
		" WHERE prep_id IS NULL ORDER BY 1, 2",
		"SELECT * FROM yield_learned ORDER BY 1, 2, 3, 4",
		"SELECT * FROM pace ORDER BY 1, 2, 3",
		"SELECT batch_id, portion_id, reason FROM hold"
		" WHERE released_utc IS NULL ORDER BY 1, 2",
		"SELECT portion_id, batch_id FROM print_job"
		" WHERE state IN ('queued', 'sending') ORDER BY 1, 2",
		"SELECT e.service_id, sum(CASE e.kind WHEN 'used' THEN"
		" e.servings ELSE -e.servings END) AS n FROM portion_event e"
		" WHERE e.kind IN ('used', 'returned')"
		" AND e.service_id IS NOT NULL GROUP BY 1"
		" HAVING n <> 0",
	};
	sqlite3 *db = NULL;
	sqlite3_stmt *q = NULL;
	struct buf b;
	char *text;
	size_t i;
	int c;

	buf_init(&b, 1 << 20);
	ck_assert_int_eq(sqlite3_open(uk.db, &db), SQLITE_OK);
	for (i = 0; i < NELEM(parts); i++) {
		ck_assert_msg(
		    sqlite3_prepare_v2(db, parts[i], -1, &q, NULL) == SQLITE_OK,
		    "%s", sqlite3_errmsg(db));
		buf_printf(&b, "-- %zu\n", i);
		while (sqlite3_step(q) == SQLITE_ROW) {
			for (c = 0; c < sqlite3_column_count(q); c++)
				buf_printf(&b, "%s|",
				    sqlite3_column_type(q, c) == SQLITE_NULL
					? "-"
					: (const char *)sqlite3_column_text(
					      q, c));
			buf_putc(&b, '\n');
		}
		sqlite3_finalize(q);
	}
	sqlite3_close(db);
	text = strdup(buf_text(&b));
	buf_fini(&b);
	return text;
}

void
undo_same_state(char *before)
{
	char *after = undo_state();

	ck_assert_str_eq(before, after);
	free(before);
	free(after);
}

/* What the last step of EF would be; must be offered. */
struct undo_offer
undo_offered(const char *of)
{
	struct undo_offer o;
	struct err err = { 0 };
	int64_t records = kitchen_records(&uk);

	ck_assert_msg(undo_last(&o, uk.sn, of, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(kitchen_records(&uk), records);
	return o;
}

/* It stays: with these words. */
void
undo_stays(const char *of, const char *says)
{
	struct undo_offer o;
	struct err err = { 0 };
	struct undo_in in = { .of = of, .by = "EF" };
	int64_t records = kitchen_records(&uk);

	ck_assert_int_eq(undo_last(&o, uk.sn, of, &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text, says) != NULL, "%s", err.text);
	ck_assert_str_ne(o.what, "");
	in.step = o.step;
	err_clear(&err);
	ck_assert_int_eq(undo_do(&o, uk.sn, &in, &err), RC_REFUSED);
	ck_assert_int_eq(kitchen_records(&uk), records);
}

void
undo_nothing(const char *of)
{
	struct undo_offer o;
	struct err err = { 0 };

	ck_assert_int_eq(undo_last(&o, uk.sn, of, &err), RC_NOTFOUND);
	ck_assert_int_eq(o.step, 0);
}

struct undo_offer
undo_take_back(const char *of, enum undo_kind kind)
{
	struct undo_offer o = undo_offered(of);
	struct undo_in in = { .step = o.step, .of = of, .by = "GH" };
	int64_t audits = kitchen_count(&uk, "SELECT count(*) FROM audit");
	struct err err = { 0 };

	ck_assert_int_eq(o.kind, kind);
	ck_assert_msg(undo_do(&o, uk.sn, &in, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(
	    kitchen_count(&uk, "SELECT count(*) FROM audit"), audits + 1);
	ck_assert_int_eq(kitchen_count(&uk,
			     "SELECT count(*) FROM audit WHERE id ="
			     " (SELECT max(id) FROM audit)"
			     " AND action = 'undo' AND by = 'GH'"
			     " AND detail LIKE '%entered by mistake'"),
	    1);
	return o;
}

struct breakdown
undo_trays(void)
{
	struct kitchen_cut cut = { "cod-leeks", 12, 4, 1980, 10000, 5 };

	return kitchen_break(&uk, uk_cod.code, &cut);
}

void
undo_use_of(const char *code, int64_t n, const char *by)
{
	struct use_in in = {
		.code = code, .servings = n, .reason = "test", .by = by
	};
	struct portion p;
	struct err err = { 0 };

	ck_assert_msg(use(&p, uk.sn, &in, &err) == RC_OK, "%s", err.text);
}

void
undo_discard_of(const char *code, const char *by)
{
	struct discard_in in = { .code = code, .reason = "dropped", .by = by };
	struct discarded d;
	struct err err = { 0 };

	ck_assert_msg(discard(&d, uk.sn, &in, &err) == RC_OK, "%s", err.text);
}

void
undo_count_of(const char *code, int64_t n, const char *by)
{
	struct count_in in = {
		.code = code, .servings = n, .reason = "counted", .by = by
	};
	struct counted c;
	struct err err = { 0 };

	ck_assert_msg(
	    count_unit(&c, uk.sn, &in, &err) == RC_OK, "%s", err.text);
}

/* The balance of the batch still sums up, and so do the units. */
void
undo_sums(void)
{
	struct batch b;

	ck_assert_int_eq(batch_get(&b, uk.sn->st, uk_cod.code, NULL), RC_OK);
	kitchen_balance(&uk, &b);
	ck_assert_int_eq(
	    kitchen_count(&uk,
		"SELECT count(*) FROM portion p WHERE p.left <> p.servings"
		" - (SELECT coalesce(sum(CASE WHEN kind IN ('found',"
		" 'returned') THEN -servings ELSE servings END), 0)"
		" FROM portion_event e WHERE e.portion_id = p.id)"),
	    0);
}

/* --- breakdowns ----------------------------------------------------------- */

struct breakdown
undo_cut_by(const char *by, int64_t fish, const char *which, int64_t minutes)
{
	struct breakdown_in in = {
		.batch = uk_cod.code,
		.fish = fish,
		.weight_g = 2000 * fish,
		.makes = { { "cod-leeks", 5 * fish, 825 * fish, 5 } },
		.make_count = 1,
		.which = which,
		.minutes = minutes,
		.by = by,
	};
	struct breakdown out;
	struct err err = { 0 };

	ck_assert_msg(
	    breakdown_record(&out, uk.sn, &in, &err) == RC_OK, "%s", err.text);
	return out;
}

struct breakdown
undo_cut_with(int64_t fish, const char *which, int64_t minutes)
{
	return undo_cut_by("EF", fish, which, minutes);
}
