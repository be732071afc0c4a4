/*
 * store/today.h - what wants a decision now: stock by its use-by, holds, and
 * whether the file holds anything yet.
 *
 * Every call reads an index and stops at a number of rows, so that its cost
 * does not grow with the record.  Lists are owned by the caller: free(items).
 */
#ifndef STORE_TODAY_H
#define STORE_TODAY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"
#include "core/code.h"

struct store;

/* A unit on hand or an open batch with the use-by it has. */
struct expiring {
	bool batch;           /* else a labelled unit */
	char code[CODE_SIZE]; /* without hyphen */
	char name[64];        /* of the dish; empty for a batch */
	char species[4];
	int64_t servings; /* left of a unit; 0 for a batch */
	int64_t fish;     /* left of a batch; 0 by weight or for a unit */
	grams weight_g;   /* left of a batch; 0 for a unit */
	int64_t use_by_utc;
	bool frozen;
	bool held; /* itself or its batch */
};

struct expiring_list {
	struct expiring *items;
	size_t count;
};

/* expiring_open - those whose use-by is at least `from_utc` and before
 * `to_utc`: the first `most` of either kind, in order of use-by, units before
 * batches. */
enum rc expiring_open(struct expiring_list *out, struct store *st,
    int64_t from_utc, int64_t to_utc, int64_t most, struct err *err) MUST_CHECK;

/* How many of them there are; each stops at STOP_COUNTING rows. */
#define STOP_COUNTING 1000
struct expiring_count {
	int64_t units, servings, batches;
};
enum rc expiring_count(struct expiring_count *out, struct store *st,
    int64_t from_utc, int64_t to_utc, struct err *err) MUST_CHECK;

struct held {
	bool batch;
	char code[CODE_SIZE];
	char name[64]; /* of a unit's dish; empty for a batch */
	char species[4];
	char reason[200];
	int64_t at_utc;
	char by[16];
};

struct held_list {
	struct held *items;
	size_t count;
};

/* held_open - holds in force, the newest first, `most` of them; *count is how
 * many there are, counted up to STOP_COUNTING. */
enum rc held_open(struct held_list *out, int64_t *count, struct store *st,
    int64_t most, struct err *err) MUST_CHECK;

/* What was ever recorded; a new file has none of it. */
struct begun {
	bool menu, bookings, batches;
};
enum rc begun_get(
    struct begun *out, struct store *st, struct err *err) MUST_CHECK;

#endif /* STORE_TODAY_H */
