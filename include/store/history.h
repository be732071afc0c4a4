/*
 * store/history.h - breakdowns and losses over weeks, for charts.
 *
 * Every call reads rows whose instant is at least `from_utc` and before
 * `to_utc` through an index on it, oldest first, so that it costs as much as
 * those weeks held.  What was struck or taken back is left out.  Lists are
 * owned by the caller: free(items).
 */
#ifndef STORE_HISTORY_H
#define STORE_HISTORY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"
#include "core/yieldlearn.h"

struct store;

/* A breakdown that could teach a yield. */
struct yield_past {
	int64_t at_utc;
	struct yield_key key;
	grams in_g, out_g;
	bool learned; /* false: outside the gate, set aside */
};

struct yield_past_list {
	struct yield_past *items;
	size_t count;
};

enum rc yield_past_open(struct yield_past_list *out, struct store *st,
    int64_t from_utc, int64_t to_utc, struct err *err) MUST_CHECK;

/* A breakdown with what was not served of it, or something lost later. */
struct loss_past {
	int64_t at_utc;
	bool prep;      /* a breakdown; else a loss of what was on hand */
	grams worked_g; /* went into it */
	grams waste_g, trim_g, frames_g;
	grams discarded_g;
	grams missing_g; /* counted as gone; below 0: found again */
};

struct loss_past_list {
	struct loss_past *items;
	size_t count;
};

enum rc loss_past_open(struct loss_past_list *out, struct store *st,
    int64_t from_utc, int64_t to_utc, struct err *err) MUST_CHECK;

#endif /* STORE_HISTORY_H */
