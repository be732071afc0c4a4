/*
 * today_inner.h - what Today keeps, and its drawing.  Private to src/screens.
 */
#ifndef SCREENS_TODAY_INNER_H
#define SCREENS_TODAY_INNER_H

#include "ops/draft.h"
#include "ops/today.h"
#include "screens/beside.h"
#include "screens/desk.h"
#include "term/list.h"

enum today_row_kind {
	TODAY_ROW_UNSURE, /* labels: one row for all of them */
	TODAY_ROW_CLOSE,  /* services[i] */
	TODAY_ROW_HALF,   /* a half-typed breakdown */
	TODAY_ROW_EXPIRED,
	TODAY_ROW_TODAY,
	TODAY_ROW_HELD,
};

struct today_row {
	enum today_row_kind kind;
	size_t i;
};

#define TODAY_SCREEN_ROWS (2 + TODAY_SERVICES_MAX + 3 * TODAY_ROWS_MAX)

struct today_screen {
	struct today t;
	bool loaded;
	int64_t minute; /* since 1970, when it was loaded: a computer that slept
			   for hours wakes at the same one of the hour */
	bool work_due;  /* what is left to make is not reckoned since */
	int64_t work_next_ms;
	struct beside *work; /* `today`, while it reckons */
	struct today_row rows[TODAY_SCREEN_ROWS];
	struct list list;
	struct draft half; /* name empty: nothing is half typed */
	char date[16];     /* as typed to confirm the clock, YYYY-MM-DD */
};

/* today_draw - all of the screen. */
void today_draw(struct desk *d, void *state, const struct pane *p);

/* today_reckon - each tick: start it when it is due, take its answer. */
void today_reckon(struct desk *d, struct today_screen *s);

/* bytes_words - "640 MB", "1.4 GB"; `dst` of 32. */
char *bytes_words(char *dst, size_t size, int64_t bytes);

/* fault_foot - d->foot from the record: what stands against working now. */
void fault_foot(struct desk *d);

#endif /* SCREENS_TODAY_INNER_H */
