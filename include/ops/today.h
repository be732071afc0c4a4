/*
 * ops/today.h - the day at a glance: services, what must be emptied, holds,
 * printers, clock, file.
 *
 * Reads only, through indexes that hold what is open, so that it costs the same
 * after ten years as on the first day; what takes longer is today_work().
 */
#ifndef OPS_TODAY_H
#define OPS_TODAY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/day.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/station.h"
#include "ops/watch.h"
#include "store/today.h"

#define TODAY_SERVICES_MAX 6
#define TODAY_AHEAD_DAYS 7 /* looked for a next service */
#define TODAY_ROWS_MAX 40  /* of each list */

enum today_stage {
	TODAY_COMING,
	TODAY_RUNNING, /* between start and end */
	TODAY_OVER,    /* its end is past, and nobody has closed it */
	TODAY_CLOSED,
};

#define TODAY_NOT_ASKED (-1)
#define TODAY_UNKNOWN (-2) /* too far ahead, or it cannot be forecast */

struct today_service {
	day_no day;
	char name[SERVICE_NAME_SIZE];
	int64_t covers;             /* booked */
	int64_t start_utc, end_utc; /* 0: not a sitting of the settings */
	enum today_stage stage;
	/* Filled by today_work(): portions its guests are expected to order
	 * and that are neither used nor on hand; parts of a dish count each.
	 * Else TODAY_NOT_ASKED or TODAY_UNKNOWN. */
	int64_t to_make;
};

struct today_printer {
	const char *name;       /* of the settings, borrowed */
	int64_t queued, unsure; /* labels; up to STOP_COUNTING */
	char why[200];          /* why the first one waits; may be empty */
};

/* A recall that is open: it stands above everything until it is closed. */
#define TODAY_RECALLS_MAX 3
struct today_recall {
	int64_t id, pull, missing;
};

struct today {
	int64_t now_utc;
	day_no day;
	char doubt[WATCH_DOUBT_SIZE]; /* against the clock; empty: believed */

	/* Today's, one of yesterday that nobody closed, and the next. */
	struct today_service services[TODAY_SERVICES_MAX];
	int service_count;

	/* Past its use-by, and until the end of today. */
	struct expiring_count expired_count, today_count;
	struct expiring_list expired, expiring; /* TODAY_ROWS_MAX of each */
	struct held_list held;                  /* newest first */
	int64_t held_count;
	struct today_recall recalls[TODAY_RECALLS_MAX]; /* newest first */
	int recall_count;                               /* of them */
	int64_t complaints; /* that are not closed */
	struct begun begun;

	struct today_printer printers[CONFIG_PRINTERS_MAX];
	int printer_count;
	/* Labels of all printers, and of others; of the unsure ones those that
	 * somebody will look for later. */
	int64_t queued, unsure, later;
	bool scale; /* one is set */

	const char *path;          /* of the file, borrowed */
	int64_t bytes, free_bytes; /* of it with its log; of its file system */
	int schema;
	int64_t last_utc; /* of the last record; 0: none */
};

/* today_load - RC_OK, the caller frees with today_fini(); or a failure of the
 * file, with nothing to free. */
enum rc today_load(
    struct today *out, struct station *sn, struct err *err) MUST_CHECK;
void today_fini(struct today *t);

/* today_labels - only the printers and the counts of labels.  RC_OK; nothing
 * to free. */
enum rc today_labels(
    struct today *out, struct station *sn, struct err *err) MUST_CHECK;

/*
 * today_work - how many portions are left to make for the first services of
 * `t` that are not over, two days' at most.  No cut plan is made, but a
 * forecast of each, which takes some tens of milliseconds: a screen has it done
 * beside (today_page).  RC_OK, also when one cannot be forecast.
 */
enum rc today_work(
    struct today *t, struct station *sn, struct err *err) MUST_CHECK;

/*
 * today_page - append all of it as text or JSON; as CSV the services alone, a
 * line for each: service,covers,stage,to_make (empty: not known).
 */
enum rc today_page(struct buf *out, struct station *sn, enum format format,
    struct err *err) MUST_CHECK;

/* today_stage_word - "coming", "running", "over", "closed". */
const char *today_stage_word(enum today_stage s);

/*
 * today_fault - the gravest thing that stands against working now, in one line:
 * the clock, a printer that waits, labels nobody has looked for; "" for none.
 * Cheap enough to ask every second.
 */
struct today_fault {
	enum today_fault_kind {
		FAULT_NONE,
		FAULT_CLOCK,   /* text: the doubt */
		FAULT_PRINTER, /* printer, text: why; count: labels waiting */
		FAULT_UNSURE,  /* count: labels */
		FAULT_SPACE,   /* count: bytes left for the file */
		FAULT_HOME,    /* the file worked on another computer */
	} kind;
	char printer[PRINTER_NAME_SIZE];
	char text[WATCH_DOUBT_SIZE];
	int64_t count;
};
enum rc today_fault(
    struct today_fault *out, struct station *sn, struct err *err) MUST_CHECK;

/* Less free space than this is a fault: a busy kitchen's record of years. */
#define TODAY_SPACE_LOW ((int64_t)200 * 1024 * 1024)

#endif /* OPS_TODAY_H */
