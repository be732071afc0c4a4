/* years.c - the whole of it: first day, days, yields learned. */
#include "years.h"

#include <stdio.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "ops/station.h"
#include "ops/yields.h"
#include "store/store.h"
#include "years_parts.h"

/* So long before the others that what was frozen then is out again. */
#define FIRST_DAY_BEFORE 30

/* What the breakdowns taught, worked out as the station would. */
static enum rc
learn(const struct years_wish *w, struct err *err)
{
	char ini[320];
	struct station_options o = {
		.db = w->db, .config = ini, .now = YEARS_NOW
	};
	struct station *sn = NULL;
	struct moment at = { .by = "AK" };
	enum rc rc;

	str_fmt(ini, sizeof(ini), "%s.ini", w->db);
	if ((rc = station_open(&sn, &o, true, err)) != RC_OK)
		return rc;
	at.utc = clock_now(&sn->clock);
	if ((rc = store_begin(sn->st, err)) == RC_OK &&
	    (rc = yields_rebuild(sn, err)) == RC_OK &&
	    (rc = station_audit(
		 sn, &at, err, "learn", "yields", "worked out anew")) == RC_OK)
		rc = store_commit(sn->st, err);
	station_close(sn);
	return rc;
}

static void
count(struct years_made *out, const char *path)
{
	static const char *const tables[] = { "batch", "portion",
		"portion_event", "print_job", "audit" };
	int64_t *const to[] = { &out->batches, &out->portions, &out->events,
		&out->jobs, &out->audit };
	char sql[64];
	sqlite3 *db = NULL;
	size_t i;

	if (sqlite3_open_v2(path, &db, SQLITE_OPEN_READWRITE, NULL) ==
	    SQLITE_OK)
		for (i = 0; i < sizeof(to) / sizeof(to[0]); i++) {
			str_fmt(sql, sizeof(sql), "SELECT count(*) FROM %s",
			    tables[i]);
			*to[i] = rows_number(db, sql);
		}
	sqlite3_close(db);
}

enum rc
years_make(struct years_made *out, const struct years_wish *w, struct err *err)
{
	int64_t days = (int64_t)w->years * 365 + w->years / 4 + w->days;
	static struct first_day first; /* large */
	struct rows r;
	day_no last = 0, from;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if (w->years < 0 || w->years > 12 || w->days < 0 || w->days > 365)
		return err_set(err, RC_INVALID, 0, "0 to 12 years");
	if ((rc = day_parse(&last, "the last day", "2026-12-04", err)) != RC_OK)
		return rc;
	from = (day_no)(last - days + 1);
	rc = first_day_play(
	    &first, w, days == 0 ? last : from - FIRST_DAY_BEFORE, err);
	if (rc != RC_OK || days == 0)
		return rc;
	rows_open(&r, w->db);
	first_day_read(&first, r.db);
	days_play(&r, &first, w, from, last);
	rows_close(&r);
	if ((rc = learn(w, err)) == RC_OK)
		count(out, w->db);
	return rc;
}
