/* station.c - open and close a station; who and when. */
#include "ops/station.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "labels/font.h"
#include "ops/home.h"
#include "ops/queue.h"
#include "ops/watch.h"
#include "store/audit.h"
#include "store/damage.h"
#include "store/jobs.h"
#include "store/store.h"
#include "tables.h"

int64_t
use_by_instant(day_no day)
{
	return utc_from_local(day, 23, 59, 59);
}

/* 24:00 is the first minute of the next day. */
static int64_t
minute_of(day_no day, int minute)
{
	return utc_from_local(
	    day + minute / 1440, minute % 1440 / 60, minute % 60, 0);
}

int64_t
service_begins(const struct service_window *w, day_no day)
{
	return minute_of(day, w->starts_min);
}

int64_t
service_ends(const struct service_window *w, day_no day)
{
	return minute_of(day, w->ends_min);
}

/* The machine's own settings and record; the service of the installed station
 * has no others. */
#ifndef PINBONE_SYSCONFDIR
#define PINBONE_SYSCONFDIR "/etc"
#endif
#define MACHINE_CONFIG PINBONE_SYSCONFDIR "/pinbone/station.ini"
#define MACHINE_DB "/var/lib/pinbone/pinbone.db"

/* Settings: as told, else the user's, else the machine's. */
static enum rc
find_config(char path[CONFIG_PATH_SIZE], const struct station_options *o,
    struct err *err)
{
	const char *xdg = getenv("XDG_CONFIG_HOME"), *home = getenv("HOME");
	bool fits = false;

	if (o->config != NULL) {
		if (!str_copy(path, CONFIG_PATH_SIZE, o->config))
			return err_set(err, RC_INVALID, 0,
			    "the settings path is too long");
		return RC_OK;
	}
	/* The XDG rules ignore a relative path. */
	if (xdg != NULL && xdg[0] == '/')
		fits = str_fmt(
		    path, CONFIG_PATH_SIZE, "%s/pinbone/station.ini", xdg);
	else if (home != NULL)
		fits = str_fmt(path, CONFIG_PATH_SIZE,
		    "%s/.config/pinbone/station.ini", home);
	if (fits && file_exists(path))
		return RC_OK;
	str_copy(path, CONFIG_PATH_SIZE, MACHINE_CONFIG);
	if (file_exists(path))
		return RC_OK;
	return err_set(err, RC_NOTFOUND, 0,
	    "no settings: name them with --config FILE, or put a copy of "
	    "config/station.ini at ~/.config/pinbone/station.ini or %s",
	    path);
}

/* The file: as told, else the machine's when it is there or its settings are
 * the ones in use, else the user's. */
enum rc
station_file(char path[CONFIG_PATH_SIZE], const struct station_options *o,
    const struct station *sn, struct err *err)
{
	const char *xdg = getenv("XDG_DATA_HOME"), *home = getenv("HOME");
	bool fits;

	if (o->db != NULL)
		fits = str_copy(path, CONFIG_PATH_SIZE, o->db);
	else if (str_eq(sn->cfg.path, MACHINE_CONFIG) ||
	    file_exists(MACHINE_DB))
		fits = str_copy(path, CONFIG_PATH_SIZE, MACHINE_DB);
	else if (xdg != NULL && xdg[0] == '/')
		fits = str_fmt(
		    path, CONFIG_PATH_SIZE, "%s/pinbone/pinbone.db", xdg);
	else
		fits = str_fmt(path, CONFIG_PATH_SIZE,
		    "%s/.local/share/pinbone/pinbone.db",
		    home == NULL ? "" : home);
	if (!fits)
		return err_set(
		    err, RC_INVALID, 0, "the station file's path is too long");
	return RC_OK;
}

static enum rc
set_clock(struct station *sn, const struct station_options *o, struct err *err)
{
	if (o->now == NULL)
		return RC_OK;
	if (!sn->cfg.training)
		return err_set(err, RC_REFUSED, 0,
		    "--now is for training stations only: set the computer's "
		    "clock");
	sn->clock.fixed = true;
	return time_parse(&sn->clock.fixed_utc, "--now", o->now, err);
}

/* Settings, zone, tables, clock. */
static enum rc
load(struct station *sn, const struct station_options *o, struct err *err)
{
	char path[CONFIG_PATH_SIZE];
	enum rc rc;

	if ((rc = find_config(path, o, err)) != RC_OK ||
	    (rc = config_load(&sn->cfg, path, err)) != RC_OK)
		return rc;
	if ((rc = zone_set(sn->cfg.timezone, err)) != RC_OK) {
		err_prefix(err, "%s: [station] timezone: ", path);
		return rc;
	}
	if ((rc = tables_load(sn, err)) != RC_OK ||
	    (rc = rules_load(&sn->rules, &sn->cfg, NULL, err)) != RC_OK ||
	    (rc = rules_check_species(
		 &sn->rules, &sn->species, &sn->cfg, err)) != RC_OK)
		return rc;
	return set_clock(sn, o, err);
}

/* A training file is never opened as a real one, nor the other way round. */
static enum rc
check_training(struct station *sn, struct err *err)
{
	char value[8];
	enum rc rc;

	rc = store_fact_get(value, sizeof(value), sn->st, "training", err);
	if (rc != RC_OK)
		return rc;
	if (str_eq(value, sn->cfg.training ? "yes" : "no"))
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "%s is a %s station file, but %s says training = %s",
	    store_path(sn->st), str_eq(value, "yes") ? "training" : "real",
	    sn->cfg.path, sn->cfg.training ? "yes" : "no");
}

enum rc
station_open(struct station **out, const struct station_options *o,
    bool with_store, struct err *err)
{
	char path[CONFIG_PATH_SIZE];
	struct station *sn;
	enum rc rc;

	*out = NULL;
	sn = xcalloc(1, sizeof(*sn));
	if ((rc = load(sn, o, err)) != RC_OK)
		goto done;
	if (with_store &&
	    ((rc = station_file(path, o, sn, err)) != RC_OK ||
		(rc = store_open(&sn->st, path, err)) != RC_OK ||
		(rc = check_training(sn, err)) != RC_OK ||
		(rc = home_adopt(sn, err)) != RC_OK ||
		(rc = queue_start(sn, err)) != RC_OK))
		goto done;
	*out = sn;
	sn = NULL;
done:
	station_close(sn);
	return rc;
}

static enum rc
write_facts(struct station *sn, struct err *err)
{
	struct moment at = { .utc = clock_now(&sn->clock), .by = "init" };
	char text[48], branch[HOME_BRANCH_SIZE];
	enum rc rc;

	at.offset_min = local_from_utc(at.utc).offset_min;
	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = store_fact_set(sn->st, "kitchen", sn->cfg.kitchen, err)) !=
		RC_OK ||
	    (rc = store_fact_set(sn->st, "training",
		 sn->cfg.training ? "yes" : "no", err)) != RC_OK ||
	    (rc = store_fact_set(sn->st, "zone", sn->cfg.timezone, err)) !=
		RC_OK ||
	    (rc = store_fact_set(sn->st, "created",
		 time_rfc3339(text, sizeof(text), at.utc), err)) != RC_OK ||
	    (rc = home_set(branch, sn, err)) != RC_OK ||
	    (rc = station_audit(sn, &at, err, "init", sn->cfg.kitchen,
		 "station file made, schema %d", store_schema(sn->st))) !=
		RC_OK)
		goto done;
	rc = store_commit(sn->st, err);
done:
	store_rollback(sn->st);
	return rc;
}

enum rc
station_init(char path[CONFIG_PATH_SIZE], const struct station_options *o,
    struct err *err)
{
	struct station *sn;
	enum rc rc;

	sn = xcalloc(1, sizeof(*sn));
	if ((rc = load(sn, o, err)) != RC_OK ||
	    (rc = station_file(path, o, sn, err)) != RC_OK)
		goto done;
	/* Only the default place may lack its folder: a slip in --db shows. */
	if (o->db == NULL && (rc = file_make_folder(path, err)) != RC_OK)
		goto done;
	if ((rc = store_new(&sn->st, path, err)) != RC_OK)
		goto done;
	if ((rc = write_facts(sn, err)) == RC_OK)
		rc = store_name(sn->st, path, err);
	else
		store_drop(sn->st);
	sn->st = NULL;
done:
	station_close(sn);
	return rc;
}

const char *
station_path(const struct station *sn)
{
	return sn->st != NULL ? store_path(sn->st) : sn->file;
}

const char *
station_set_aside(const struct station *sn)
{
	return sn->st == NULL ? NULL : store_set_aside(sn->st);
}

void
station_close(struct station *sn)
{
	if (sn == NULL)
		return;
	tables_fini(sn);
	store_close(sn->st);
	fonts_free(sn->fonts);
	free(sn);
}

enum rc
station_moment(
    struct moment *out, struct station *sn, const char *by, struct err *err)
{
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->utc = clock_now(&sn->clock);
	if ((rc = home_check(sn, err)) != RC_OK ||
	    (rc = watch_check(sn, out->utc, err)) != RC_OK)
		return rc;
	out->offset_min = local_from_utc(out->utc).offset_min;
	rc = text_check("--by (initials)", by, sizeof(out->by) - 1, false, err);
	if (rc != RC_OK)
		return rc;
	str_copy(out->by, sizeof(out->by), by);
	return RC_OK;
}

enum rc
station_version(int64_t *out, struct station *sn, struct err *err)
{
	/* Another program may have seen damage: nothing more is written. */
	enum rc rc = damage_look(store_path(sn->st), err);

	return rc != RC_OK ? rc : job_file_version(out, sn->st, err);
}

enum rc
station_audit(struct station *sn, const struct moment *at, struct err *err,
    const char *action, const char *subject, const char *fmt, ...)
{
	char detail[512];
	va_list ap;

	va_start(ap, fmt);
	vsnprintf(detail, sizeof(detail), fmt, ap);
	va_end(ap);
	utf8_clean(detail); /* cut text must still be text */
	return audit_add(sn->st, at, action, subject, detail, err);
}
