/* watch.c - a clock that cannot be trusted. */
#include "ops/watch.h"

#include <string.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "store/audit.h"
#include "store/clock_checks.h"
#include "store/store.h"

/* A clock that reads an earlier year has lost its battery. */
#define EARLIEST_YEAR 2026

/*
 * What was written while the clock was in doubt is the last row now, and would
 * end the doubt unasked: what was doubted then is kept until it is confirmed.
 */
static enum rc
kept_doubt(char doubt[WATCH_DOUBT_SIZE], struct station *sn, struct err *err)
{
	struct err none = { 0 };
	enum rc rc = store_fact_get(
	    doubt, WATCH_DOUBT_SIZE, sn->st, "clock_doubt", &none);

	if (rc == RC_OK)
		return RC_OK;
	doubt[0] = '\0';
	return rc == RC_NOTFOUND ? RC_OK
				 : err_set(err, rc, none.lib, "%s", none.text);
}

enum rc
watch_keep(struct station *sn, const char *doubt, struct err *err)
{
	char kept[WATCH_DOUBT_SIZE];
	enum rc rc = kept_doubt(kept, sn, err);

	if (rc != RC_OK || str_eq(kept, doubt))
		return rc;
	return store_fact_set(sn->st, "clock_doubt", doubt, err);
}

/* Why the clock is in doubt; "" when it is not. */
static enum rc
find_doubt(char doubt[WATCH_DOUBT_SIZE], struct station *sn, int64_t now,
    struct err *err)
{
	char text[48], zone[64] = "";
	int64_t last = 0;
	enum rc rc;

	if ((rc = kept_doubt(doubt, sn, err)) != RC_OK || doubt[0] != '\0' ||
	    sn->clock.fixed)
		return rc;
	if ((rc = audit_last_utc(&last, sn->st, err)) != RC_OK ||
	    (rc = store_fact_get(zone, sizeof(zone), sn->st, "zone", err)) !=
		RC_OK)
		return rc;
	time_minute(text, sizeof(text), last);
	if (day_civil(local_from_utc(now).day).year < EARLIEST_YEAR)
		str_fmt(doubt, WATCH_DOUBT_SIZE,
		    "a time before this program was made; the last record is "
		    "of %s",
		    text);
	else if (now < last)
		str_fmt(doubt, WATCH_DOUBT_SIZE, "before the last record of %s",
		    text);
	else if (last > 0 &&
	    now - last > (int64_t)sn->cfg.jump_days * 24 * 3600)
		str_fmt(doubt, WATCH_DOUBT_SIZE,
		    "more than %d days after the last record of %s",
		    sn->cfg.jump_days, text);
	else if (zone[0] != '\0' && !str_eq(zone, sn->cfg.timezone))
		str_fmt(doubt, WATCH_DOUBT_SIZE,
		    "in the zone %s, and the last record was in %s, at %s here",
		    sn->cfg.timezone, zone, text);
	return RC_OK;
}

enum rc
watch_moment(struct moment *out, char doubt[WATCH_DOUBT_SIZE],
    struct station *sn, const char *by, struct err *err)
{
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->utc = clock_now(&sn->clock);
	out->offset_min = local_from_utc(out->utc).offset_min;
	if ((rc = find_doubt(doubt, sn, out->utc, err)) != RC_OK ||
	    (rc = text_check("--by (initials)", by, sizeof(out->by) - 1, false,
		 err)) != RC_OK)
		return rc;
	str_copy(out->by, sizeof(out->by), by);
	return RC_OK;
}

enum rc
watch_doubt(char out[WATCH_DOUBT_SIZE], struct station *sn, struct err *err)
{
	return find_doubt(out, sn, clock_now(&sn->clock), err);
}

/* "Friday 4 December 2026, 08:00 (Europe/London)" */
static void
in_words(char *dst, size_t size, const struct station *sn, int64_t now)
{
	struct local_time lt = local_from_utc(now);
	char day[48];

	str_fmt(dst, size, "%s, %02d:%02d (%s)",
	    day_words(day, sizeof(day), lt.day), lt.hour, lt.minute,
	    sn->cfg.timezone);
}

enum rc
watch_check(struct station *sn, int64_t now_utc, struct err *err)
{
	char doubt[WATCH_DOUBT_SIZE], words[160], day[16];
	enum rc rc;

	if ((rc = find_doubt(doubt, sn, now_utc, err)) != RC_OK)
		return rc;
	if (doubt[0] == '\0')
		return RC_OK;
	in_words(words, sizeof(words), sn, now_utc);
	return err_set(err, RC_REFUSED, 0,
	    "the clock reads %s, %s: if that is right, pinbone clock confirm "
	    "%s --by INITIALS; else set the clock or its zone first",
	    words, doubt,
	    day_print(day, sizeof(day), local_from_utc(now_utc).day));
}

enum rc
watch_show(
    struct buf *out, struct station *sn, enum format format, struct err *err)
{
	int64_t now = clock_now(&sn->clock);
	char doubt[WATCH_DOUBT_SIZE], words[160];
	struct jsonw *w;
	enum rc rc;

	if ((rc = find_doubt(doubt, sn, now, err)) != RC_OK)
		return rc;
	in_words(words, sizeof(words), sn, now);
	if (format != FORMAT_JSON) {
		buf_printf(out, "the clock reads %s%s%s\n", words,
		    doubt[0] == '\0' ? "" : ", ", doubt);
		return RC_OK;
	}
	w = jsonw_new_object();
	jsonw_time(w, "now", now);
	jsonw_str(w, "words", words);
	jsonw_str(w, "zone", sn->cfg.timezone);
	jsonw_str(w, "doubt", doubt);
	jsonw_dump(out, w, true);
	jsonw_free(w);
	return RC_OK;
}

static enum rc
record(struct station *sn, const struct moment *at, const char *words,
    const char *doubt, struct err *err)
{
	enum rc rc;

	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = clock_check_add(
		 sn->st, at, sn->cfg.timezone, words, doubt, err)) == RC_OK &&
	    (rc = store_fact_set(sn->st, "zone", sn->cfg.timezone, err)) ==
		RC_OK &&
	    (rc = watch_keep(sn, "", err)) == RC_OK &&
	    (rc = station_audit(sn, at, err, "clock", "confirmed", "%s: %s",
		 words, doubt)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

/* The day somebody says it is, against the one the clock reads. */
static enum rc
vouch(struct station *sn, struct moment *at, const char *words,
    const char *date, const char *doubt, struct err *err)
{
	struct local_time lt = local_from_utc(at->utc);
	day_no day;
	enum rc rc;

	if ((rc = day_parse(&day, "the date", date, err)) != RC_OK)
		return rc;
	if (day != lt.day)
		return err_set(err, RC_REFUSED, 0,
		    "you say %.20s, the clock reads %s: set the clock", date,
		    words);
	at->offset_min = lt.offset_min;
	return record(sn, at, words, doubt, err);
}

enum rc
watch_confirm(struct buf *out, struct station *sn, const char *date,
    const char *by, struct err *err)
{
	char doubt[WATCH_DOUBT_SIZE], words[160];
	struct moment at = { .utc = clock_now(&sn->clock) };
	day_no day;
	enum rc rc;

	if ((rc = text_check("--by (initials)", by, sizeof(at.by) - 1, false,
		 err)) != RC_OK ||
	    (rc = day_parse(&day, "the date", date, err)) != RC_OK ||
	    (rc = find_doubt(doubt, sn, at.utc, err)) != RC_OK)
		return rc;
	str_copy(at.by, sizeof(at.by), by);
	in_words(words, sizeof(words), sn, at.utc);
	if (doubt[0] == '\0')
		return err_set(err, RC_REFUSED, 0,
		    "the clock reads %s and nothing speaks against it", words);
	if ((rc = vouch(sn, &at, words, date, doubt, err)) == RC_OK)
		buf_printf(out, "confirmed: %s\n", words);
	return rc;
}

enum rc
watch_vouch(struct station *sn, const char *date, const char *by,
    const char *why, struct err *err)
{
	char words[160];
	struct moment at;
	enum rc rc;

	if ((rc = station_moment(&at, sn, by, err)) != RC_OK)
		return rc;
	in_words(words, sizeof(words), sn, at.utc);
	return vouch(sn, &at, words, date, why, err);
}
