/*
 * exchange/drill_out.h - a recall in play: what was found, and how fast.
 */
#ifndef EXCHANGE_DRILL_OUT_H
#define EXCHANGE_DRILL_OUT_H

#include <stdbool.h>

#include "base/buf.h"
#include "base/err.h"
#include "core/code.h"
#include "core/mass.h"
#include "store/moment.h"

/* The goal: found within a second, on a file of ten years. */
#define DRILL_GOAL_US 1000000

/* Texts are what stood on record then, so that an old report says the same. */
struct drill_report {
	int64_t id; /* 0: not recorded yet */
	char kitchen[64];
	char batch[CODE_SIZE]; /* without hyphen */
	bool has_seed;
	int64_t seed; /* above 0 */
	int64_t took_us;
	char species[64], supplier[80], contact[64], lot[48], document[48];
	int64_t received_utc;
	bool held;
	int64_t breakdowns, services; /* that it went to */
	int64_t units;                /* labelled, found forward */
	int64_t back; /* of those led back to the batch, its supplier and
			 document */
	int64_t units_on_hand;
	int64_t on_hand, used, discarded, missing; /* servings */
	struct mass mass;
	char gap[300]; /* where grams are unexplained; empty: nowhere */
	int64_t at_utc;
	char by[16];
};

/* drill_found - were all units led back, and every gram has its place or its
 * reason? */
bool drill_found(const struct drill_report *r);

/* drill_json - append it; drill_read - a report that was kept, back.
 * RC_OK, RC_FAILED: it is damaged. */
void drill_json(struct buf *out, const struct drill_report *r);
enum rc drill_read(
    struct drill_report *out, const char *json, struct err *err) MUST_CHECK;

/* drill_time - "0.004 s"; `size` 32 is enough. */
char *drill_time(char *dst, size_t size, int64_t us);

#endif /* EXCHANGE_DRILL_OUT_H */
