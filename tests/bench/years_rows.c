/* years_rows.c - rows straight into the tables, and texts with dates. */
#include <assert.h>
#include <ctype.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/str.h"
#include "store/audit.h"
#include "years_parts.h"

/* --- texts ----------------------------------------------------------------*/

#define STAMP "dddd-dd-ddTdd:dd:dd+dd:dd"

static bool
is_stamp(const char *s)
{
	const char *p;

	for (p = STAMP; *p != '\0'; p++, s++)
		if (*p == 'd' ? !isdigit((unsigned char)*s) : *p != *s)
			return false;
	return true;
}

void
stencil_cut(struct stencil *s, const char *text, day_no base)
{
	bool fits = str_copy(s->text, sizeof(s->text), text);
	char date[16];
	day_no day = 0;
	size_t i;

	assert(fits);
	(void)fits;
	s->len = strlen(s->text);
	s->count = 0;
	for (i = 0; i + strlen(STAMP) <= s->len; i++) {
		if (!is_stamp(s->text + i))
			continue;
		assert(s->count < STENCIL_DATES);
		str_fmt(date, sizeof(date), "%.10s", s->text + i);
		if (day_parse(&day, "date", date, NULL) != RC_OK)
			abort();
		s->dates[s->count].at = i;
		s->dates[s->count++].days = day - base;
	}
}

void
stencil_put(char *dst, const struct stencil *s, day_no base)
{
	char text[48];
	int i;

	memcpy(dst, s->text, s->len + 1);
	for (i = 0; i < s->count; i++) {
		/* The hour stays, the zone's offset is the new day's. */
		const char *old = s->text + s->dates[i].at;
		char hour[4] = { old[11], old[12], '\0' };
		int64_t utc = utc_from_local(
		    base + s->dates[i].days, (int)strtol(hour, NULL, 10), 0, 0);

		time_rfc3339(text, sizeof(text), utc);
		memcpy(dst + s->dates[i].at, text, 10);
		memcpy(dst + s->dates[i].at + 19, text + 19, 6);
	}
}

/* --- rows -----------------------------------------------------------------*/

static void
check(struct rows *r, int code, int want, const char *sql)
{
	if (code == want)
		return;
	fprintf(stderr, "years: %s in: %.200s\n", sqlite3_errmsg(r->db), sql);
	exit(1);
}

static void
check_rc(enum rc rc, const struct err *err)
{
	if (rc == RC_OK)
		return;
	fprintf(stderr, "years: %s\n", err->text);
	exit(1);
}

void
rows_run(struct rows *r, const char *sql)
{
	check(r, sqlite3_exec(r->db, sql, NULL, NULL, NULL), SQLITE_OK, sql);
}

int64_t
rows_number(sqlite3 *db, const char *sql)
{
	sqlite3_stmt *s = NULL;
	int64_t n;

	if (sqlite3_prepare_v2(db, sql, -1, &s, NULL) != SQLITE_OK ||
	    sqlite3_step(s) != SQLITE_ROW) {
		fprintf(stderr, "years: %s in: %s\n", sqlite3_errmsg(db), sql);
		exit(1);
	}
	n = sqlite3_column_int64(s, 0);
	sqlite3_finalize(s);
	return n;
}

/* Table, columns and their count; with `id` the first column is an id. */
static const struct {
	const char *table, *sql;
} puts_[ROW_KINDS] = {
	[ROW_DELIVERY] = { "delivery", "INSERT INTO delivery VALUES(?,?,?,?)" },
	[ROW_BATCH] = { "batch",
	    "INSERT INTO batch (id, code, delivery_id, species, presentation,"
	    " count, weight_g, lot, temp_dc, area, method, gear, caught_day,"
	    " supplier_use_by_day, decision, open, note, received_utc,"
	    " received_offset_min, use_by_utc, use_by_why, by, vessel,"
	    " judgement, price) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,"
	    "?,?,?,?,?,?)" },
	[ROW_FISH] = { NULL,
	    "INSERT INTO batch_fish (batch_id, number, weight_g, prep_id)"
	    " VALUES (?,?,?,?)" },
	[ROW_BATCH_EVENT] = { "batch_event",
	    "INSERT INTO batch_event (id, batch_id, kind, fish, weight_g,"
	    " reason, at_utc, offset_min, by)"
	    " VALUES (?,?,'discarded',?,?,?,?,?,?)" },
	[ROW_SHUT] = { NULL, "UPDATE batch SET open = 0 WHERE id = ?" },
	[ROW_PREP] = { "prep",
	    "INSERT INTO prep (id, at_utc, offset_min, by, note)"
	    " VALUES (?,?,?,?,?)" },
	[ROW_INPUT] = { "prep_input",
	    "INSERT INTO prep_input (id, prep_id, batch_id, fish, weight_g)"
	    " VALUES (?,?,?,?,?)" },
	[ROW_OUTPUT] = { "prep_output",
	    "INSERT INTO prep_output (id, prep_id, cut_id, portions, weight_g)"
	    " VALUES (?,?,?,?,?)" },
	[ROW_LOSS] = { NULL,
	    "INSERT INTO prep_loss (prep_id, kind, weight_g)"
	    " VALUES (?,?,?)" },
	[ROW_PORTION] = { "portion",
	    "INSERT INTO portion (id, serial, code, prep_output_id, batch_id,"
	    " cut_id, servings, left, weight_g, made_utc, made_offset_min,"
	    " use_by_utc, use_by_why, by, frozen_utc)"
	    " VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)" },
	[ROW_EVENT] = { "portion_event",
	    "INSERT INTO portion_event (id, portion_id, kind, servings,"
	    " service_id, reason, at_utc, offset_min, by)"
	    " VALUES (?,?,?,?,?,?,?,?,?)" },
	[ROW_HOLD] = { "hold",
	    "INSERT INTO hold (id, batch_id, portion_id, reason, at_utc, by,"
	    " released_utc, released_by, released_reason)"
	    " VALUES (?,?,NULL,?,?,?,?,?,?)" },
	[ROW_JOB] = { "print_job",
	    "INSERT INTO print_job (id, batch_id, portion_id, ticket_id, page,"
	    " says, copy, state, language, printer, printer_name, picture,"
	    " error, at_utc, changed_utc, by) VALUES (?,?,?,?,?,?,?,"
	    "'confirmed','zpl','usb:any',?,?,'',?,?,?)" },
	[ROW_TICKET] = { "ticket",
	    "INSERT INTO ticket (id, kind, title, body, at_utc, offset_min,"
	    " by) VALUES (?,?,?,?,?,?,?)" },
	[ROW_SERVICE] = { "service",
	    "INSERT INTO service (id, day, name, covers, parties, expected)"
	    " VALUES (?,?,?,?,?,?)" },
	[ROW_CLOSED] = { NULL,
	    "INSERT INTO closed (service_id, booked, seated, walk_ins, at_utc,"
	    " offset_min, by) VALUES (?,?,?,?,?,?,?)" },
	[ROW_SOLD] = { NULL,
	    "INSERT INTO sold (service_id, dish_id, sold, ran_out_at)"
	    " VALUES (?,?,?,?)" },
	[ROW_YIELD] = { NULL,
	    "INSERT INTO yield_seen (prep_id, species, bought, cut,"
	    " supplier_id, fish, in_g, out_g, learned)"
	    " VALUES (?,?,?,?,?,?,?,?,1)" },
	[ROW_MINUTES] = { NULL,
	    "INSERT INTO prep_minutes (prep_id, minutes, expected_s, taught)"
	    " VALUES (?,?,?,0)" },
	[ROW_FREEZING] = { "freezing",
	    "INSERT INTO freezing (id, portion_id, kind, temp_dc, days_left,"
	    " use_by_before_utc, use_by_utc, why, reason, at_utc, offset_min,"
	    " by) VALUES (?,?,?,?,?,?,?,?,'',?,?,?)" },
	[ROW_THAWED] = { NULL,
	    "UPDATE portion SET left = 0, use_by_utc = ?, thawed_utc = ?"
	    " WHERE id = ?" },
	[ROW_CLOCK] = { "clock_check",
	    "INSERT INTO clock_check (id, at_utc, offset_min, by, zone, words,"
	    " doubt) VALUES (?,?,?,?,?,?,?)" },
};

/* The trigger that looks for a row of the same id at each audit row: away
 * while every id is new, then back as it was. */
static void
guard_away(struct rows *r)
{
	sqlite3_stmt *s = NULL;
	static const char sql[] =
	    "SELECT sql FROM sqlite_schema WHERE name = 'audit_no_replace'";

	check(r, sqlite3_prepare_v2(r->db, sql, -1, &s, NULL), SQLITE_OK, sql);
	check(r, sqlite3_step(s), SQLITE_ROW, sql);
	r->guard = xstrdup((const char *)sqlite3_column_text(s, 0));
	sqlite3_finalize(s);
	rows_run(r, "DROP TRIGGER audit_no_replace");
}

void
rows_open(struct rows *r, const char *path)
{
	struct err err = { 0 };
	char sql[128];
	int i;

	memset(r, 0, sizeof(*r));
	check(r,
	    sqlite3_open_v2(path, &r->db,
		SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX, NULL),
	    SQLITE_OK, path);
	/* Links and columns are checked by the test; a power cut here costs a
	 * fresh run. */
	rows_run(r,
	    "PRAGMA locking_mode = EXCLUSIVE; PRAGMA journal_mode = OFF;"
	    "PRAGMA synchronous = OFF; PRAGMA foreign_keys = OFF;"
	    "PRAGMA cache_size = -262144; PRAGMA ignore_check_constraints = ON;"
	    "BEGIN");
	guard_away(r);
	r->st.db = r->db;
	r->st.path = xstrdup(path);
	r->st.in_txn = true;
	check_rc(trail_watch(&r->st, &err), &err);
	for (i = 0; i < ROW_KINDS; i++) {
		check(r,
		    sqlite3_prepare_v3(r->db, puts_[i].sql, -1,
			SQLITE_PREPARE_PERSISTENT, &r->put[i], NULL),
		    SQLITE_OK, puts_[i].sql);
		if (puts_[i].table == NULL)
			continue;
		str_fmt(sql, sizeof(sql),
		    "SELECT coalesce(max(id), 0) + 1 FROM %s", puts_[i].table);
		r->next[i] = rows_number(r->db, sql);
	}
}

void
rows_close(struct rows *r)
{
	int i;

	for (i = 0; i < ROW_KINDS; i++)
		sqlite3_finalize(r->put[i]);
	rows_seal(r);
	rows_run(r, r->guard);
	free(r->guard);
	rows_run(r, "COMMIT");
	rows_run(r, "PRAGMA journal_mode = WAL");
	stmt_drop_kept(&r->st);
	trail_unwatch(&r->st);
	free(r->st.path);
	sqlite3_close(r->db);
}

void
rows_audit(struct rows *r, const struct moment *at, const char *action,
    const char *subject, const char *detail)
{
	struct err err = { 0 };

	check_rc(audit_add(&r->st, at, action, subject, detail, &err), &err);
}

void
rows_seal(struct rows *r)
{
	struct err err = { 0 };

	check_rc(trail_seal(&r->st, &err), &err);
}

void
row_put(struct rows *r, enum row_kind k, const char *types, ...)
{
	sqlite3_stmt *s = r->put[k];
	va_list ap;
	int64_t id;
	int i;

	va_start(ap, types);
	for (i = 1; types[i - 1] != '\0'; i++) {
		switch (types[i - 1]) {
		case 'i':
			sqlite3_bind_int64(s, i, va_arg(ap, int64_t));
			break;
		case 'w':
			sqlite3_bind_int(s, i, va_arg(ap, int));
			break;
		case 'k':
			if ((id = va_arg(ap, int64_t)) != 0)
				sqlite3_bind_int64(s, i, id);
			else
				sqlite3_bind_null(s, i);
			break;
		case 't':
			sqlite3_bind_text(
			    s, i, va_arg(ap, const char *), -1, SQLITE_STATIC);
			break;
		default:
			sqlite3_bind_null(s, i);
			break;
		}
	}
	va_end(ap);
	assert(i - 1 == sqlite3_bind_parameter_count(s));
	check(r, sqlite3_step(s), SQLITE_DONE, puts_[k].sql);
	sqlite3_reset(s);
}
