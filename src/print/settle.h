/*
 * settle.h - when does what a scale says become a weight?  Pure: the time is
 * handed in.  Private to src/print.  Rules: docs/rules.md R-K.
 *
 * A weight counts when the scale calls it stable SETTLE_SAME times in a row,
 * each the same gram; a scale that speaks only when something changes says it
 * once, and then SETTLE_QUIET_MS of silence do instead.  Reports that arrive
 * right after opening may have waited in the scale since before the fish came,
 * and never count.  Zero is no weight.  After a weight was taken nothing
 * counts until the scale was seen empty.
 */
#ifndef PRINT_SETTLE_H
#define PRINT_SETTLE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/units.h"
#include "driver/scale.h"

/* A stable sign may come at the turning point of a swing, hence more than one;
 * at the five to ten reports a second scales send this is half a second.
 * common practice, no source. */
#define SETTLE_SAME 3
#define SETTLE_QUIET_MS 1000

/* A device may hold two reports back (a double-buffered endpoint), fetched at
 * polling intervals of up to 255 ms (USB 2.0, 5.7.4). */
#define SETTLE_OLD_MS 600

/* Empty is less than 2 % of what lay there, between 2 and 20 g: drip and ice
 * stay behind.  common practice, no source. */
#define SETTLE_EMPTY_BP 200
#define SETTLE_EMPTY_MIN_G 2
#define SETTLE_EMPTY_MAX_G 20

struct settle {
	int64_t began_ms;
	bool loaded;    /* the weight taken last still lies there */
	grams empty_g;  /* up to here it is empty */
	grams run_g;    /* stable weight of the run of reports */
	int run;        /* its length, 0: none */
	int64_t run_ms; /* of its last report */
};

void settle_begin(struct settle *s, int64_t now_ms);

/* settle_report, settle_silence - true: *out is a weight, at least 1 g. */
bool settle_report(grams *out, struct settle *s, const struct scale_reading *r,
    int64_t now_ms);
bool settle_silence(grams *out, struct settle *s, int64_t now_ms);

/* settle_grams - to the nearest gram, half away from zero. */
grams settle_grams(int64_t mg);

#endif /* PRINT_SETTLE_H */
