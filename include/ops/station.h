/*
 * ops/station.h - the open station: settings, tables, file, clock.
 *
 * Every ops call takes a station and does one thing a cook does, in one
 * transaction with its audit row.  Screens and commands call only ops.
 */
#ifndef OPS_STATION_H
#define OPS_STATION_H

#include <stdbool.h>
#include <stdint.h>

#include "base/clock.h"
#include "base/err.h"
#include "config/config.h"
#include "core/area.h"
#include "core/freshness.h"
#include "core/gear.h"
#include "core/icelife.h"
#include "core/landing.h"
#include "core/minutes.h"
#include "core/quality_index.h"
#include "core/species.h"
#include "core/yield.h"
#include "ops/rules.h"
#include "store/moment.h"

struct store;
struct fonts;

struct station {
	struct config cfg;
	struct clock clock;
	struct species_table species;
	struct yield_table yields;
	struct area_table areas;
	struct gear_table gears;
	struct freshness_table freshness;
	struct freshness_species_table freshness_species;
	struct qi_table quality;
	struct size_table sizes;
	struct season_table seasons;
	struct icelife_table icelife;
	struct minutes_table minutes;
	struct rules rules;
	struct store *st; /* NULL for commands that need no file */
	char
	    file[CONFIG_PATH_SIZE]; /* meant while none is open; may be empty */
	struct fonts *fonts;        /* opened by the first label */
	int unsure_labels;          /* found in mid-air at start */
};

struct station_options {
	const char *db;     /* NULL: the default place */
	const char *config; /* NULL: the default places */
	const char *now;    /* training stations only; NULL: real time */
};

/*
 * station_init - make a new station file at the options' place.
 * `path` (PATH size CONFIG_PATH_SIZE) receives it.
 * RC_OK, RC_REFUSED when a file is there, RC_INVALID, RC_FAILED.
 */
enum rc station_init(char path[CONFIG_PATH_SIZE],
    const struct station_options *o, struct err *err) MUST_CHECK;

/*
 * station_open - settings, tables, and with `with_store` the file.
 * RC_OK *out is owned by the caller; RC_NOTFOUND, RC_INVALID, RC_REFUSED,
 * RC_FAILED.
 */
enum rc station_open(struct station **out, const struct station_options *o,
    bool with_store, struct err *err) MUST_CHECK;

/* station_file - which file the options and settings mean, there or not.
 * RC_OK, RC_INVALID. */
enum rc station_file(char path[CONFIG_PATH_SIZE],
    const struct station_options *o, const struct station *sn,
    struct err *err) MUST_CHECK;

/* station_path - of the file that is open, else of the one that is meant.
 * Borrowed. */
const char *station_path(const struct station *sn);

/* station_set_aside - opening the file finished a restore that a cut had
 * stopped: where the file before is; NULL: no.  Borrowed. */
const char *station_set_aside(const struct station *sn);

void station_close(struct station *sn);

/*
 * station_moment - now, for a record by `by` (1 to 15 bytes of initials).
 * The clock is checked first (ops/watch.h): RC_REFUSED while it is in doubt, or
 * on another computer than before (ops/home.h).
 */
enum rc station_moment(struct moment *out, struct station *sn, const char *by,
    struct err *err) MUST_CHECK;

/*
 * station_version - a number that changes when another program has recorded
 * something in the file; cheap enough to ask every second.
 * RC_OK; RC_FATAL somebody saw that the file is damaged; RC_FAILED.
 */
enum rc station_version(
    int64_t *out, struct station *sn, struct err *err) MUST_CHECK;

/* station_audit - one audit row for `subject`, inside the transaction. */
enum rc station_audit(struct station *sn, const struct moment *at,
    struct err *err, const char *action, const char *subject, const char *fmt,
    ...) __attribute__((format(printf, 6, 7))) MUST_CHECK;

/* service_begins, service_ends - the instants of a sitting on a day. */
int64_t service_begins(const struct service_window *w, day_no day);
int64_t service_ends(const struct service_window *w, day_no day);

/* use_by_instant - the last second of a civil day in the kitchen's zone. */
int64_t use_by_instant(day_no day);

#endif /* OPS_STATION_H */
