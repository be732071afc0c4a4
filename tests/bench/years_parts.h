/*
 * years_parts.h - what the parts of years.c share.
 */
#ifndef YEARS_PARTS_H
#define YEARS_PARTS_H

#include "src/store/stmt.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/units.h"
#include "years.h"

struct station;

/* --- texts with dates in them ---------------------------------------------*/

#define STENCIL_SIZE 4096
#define STENCIL_DATES 32

/* A text whose dates move with a base day. */
struct stencil {
	char text[STENCIL_SIZE];
	size_t len;
	int count;
	struct {
		size_t at; /* of YYYY-MM-DDTHH:MM:SS+HH:MM */
		int days;  /* after the base day */
	} dates[STENCIL_DATES];
};

/* stencil_cut - find the dates in a text of day `base`. */
void stencil_cut(struct stencil *s, const char *text, day_no base);
/* stencil_put - the text for another day; `dst` of STENCIL_SIZE. */
void stencil_put(char *dst, const struct stencil *s, day_no base);

/* --- what the kitchen works with ------------------------------------------*/

#define KINDS 8

/* A species, the dish it becomes, and how that was recorded the first day. */
struct kind {
	const char *species, *presentation, *dish, *supplier, *area, *method,
	    *gear;
	grams fish_g, target_g; /* a fish; a portion.  fish_g 0: by weight */
	int yield_bp;
	int lunch, dinner; /* share of its portions */

	/* Read back from the first day. */
	int64_t supplier_id, dish_id, cut_id;
	struct stencil batch_why, portion_why;
	char judgement[1024];
	int batch_days, portion_days; /* use-by, days after the first */
	char bought[16], cut[16];     /* of the yield; empty: none */
};

struct frozen_texts {
	struct stencil freeze, thaw;
	int64_t freeze_left, thaw_left;
	int freeze_days, thaw_days;
};

#define THAW_AFTER 7 /* days in the freezer */

struct first_day {
	struct kind kinds[KINDS];
	struct frozen_texts frozen;
	char ticket[8192]; /* a prep list as it was kept */
	day_no day;
};

/* first_day_play - the operations of the first day, on `day`; the station is
 * closed again.  first_day_read - what they left in the file. */
enum rc first_day_play(struct first_day *f, const struct years_wish *w,
    day_no day, struct err *err) MUST_CHECK;
void first_day_read(struct first_day *f, sqlite3 *db);

/* --- rows -----------------------------------------------------------------*/

enum row_kind {
	ROW_DELIVERY,
	ROW_BATCH,
	ROW_FISH,
	ROW_BATCH_EVENT,
	ROW_SHUT,
	ROW_PREP,
	ROW_INPUT,
	ROW_OUTPUT,
	ROW_LOSS,
	ROW_PORTION,
	ROW_EVENT,
	ROW_HOLD,
	ROW_JOB,
	ROW_TICKET,
	ROW_SERVICE,
	ROW_CLOSED,
	ROW_SOLD,
	ROW_YIELD,
	ROW_MINUTES,
	ROW_FREEZING,
	ROW_THAWED,
	ROW_CLOCK,
	ROW_KINDS
};

struct rows {
	struct store st; /* the trail watches it as it would a station's */
	sqlite3 *db;
	sqlite3_stmt *put[ROW_KINDS];
	int64_t next[ROW_KINDS]; /* ids, where a table has them */
	char *guard; /* SQL of a trigger that is away meanwhile; owned */
};

/* rows_open - take the file over, fast and without care: it is not used until
 * rows_close(). */
void rows_open(struct rows *r, const char *path);
void rows_close(struct rows *r);
/* row_put - one row; `types` has a letter for each value: i int64_t, w int, k
 * an id (int64_t; 0 is NULL), t text (const char *), n NULL (no value). */
void row_put(struct rows *r, enum row_kind k, const char *types, ...);
/* rows_audit - a row of the trail, with the changes since the one before;
 * rows_seal - write those so far. */
void rows_audit(struct rows *r, const struct moment *at, const char *action,
    const char *subject, const char *detail);
void rows_seal(struct rows *r);
void rows_run(struct rows *r, const char *sql);
int64_t rows_number(sqlite3 *db, const char *sql);

/* --- a kitchen at work ----------------------------------------------------*/

/* days_play - every day from `from` to the morning of `to`. */
void days_play(struct rows *r, const struct first_day *f,
    const struct years_wish *w, day_no from, day_no to);

#endif /* YEARS_PARTS_H */
