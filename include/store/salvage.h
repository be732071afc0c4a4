/*
 * store/salvage.h - what can still be read of a station file beside another,
 * with nothing written to either: for what a restore would lose.
 *
 * A damaged file gives what comes before the damage; `cut` says that there may
 * be more.  Lists stop at SALVAGE_MOST and say how many there are.
 */
#ifndef STORE_SALVAGE_H
#define STORE_SALVAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "core/code.h"
#include "store/copy.h"

#define SALVAGE_MOST 2000

struct salvage; /* a file opened to read; opaque */

/* salvage_open - RC_OK *out is owned by the caller; RC_NOTFOUND, RC_INVALID (it
 * cannot be read at all), RC_FAILED. */
enum rc salvage_open(
    struct salvage **out, const char *path, struct err *err) MUST_CHECK;
void salvage_close(struct salvage *s);

/*
 * salvage_fork - the last row of the audit trail both have: 0 none.  Every row
 * up to it is the same in both, since a trail only grows.  RC_OK, RC_INVALID.
 */
enum rc salvage_fork(int64_t *row, struct salvage *a, struct salvage *b,
    struct err *err) MUST_CHECK;

/* A row of the trail, as far as it tells time. */
struct salvage_kind {
	char action[40];
	int64_t count, first_utc, last_utc;
};
struct salvage_batch {
	char code[CODE_SIZE]; /* without hyphen */
	char species[8];
	int64_t weight_g, received_utc;
};
struct salvage_unit {
	char code[CODE_SIZE];
	char dish[64];
	int64_t left, servings, made_utc, use_by_utc;
};
struct salvage_hold {
	char code[CODE_SIZE]; /* of a batch or portion; empty: of neither */
	bool is_batch;
	char reason[200], by[16];
	int64_t at_utc;
};
struct salvage_number {
	day_no day;     /* of batch codes */
	int64_t number; /* the highest running number */
};

/* What `from` has and the older file has not. */
struct lost {
	int64_t after_row; /* the last row both have */
	int64_t rows, first_utc, last_utc;
	struct salvage_kind *kinds; /* all of these are owned */
	size_t kind_count;
	struct salvage_batch *batches;
	size_t batch_count;
	struct salvage_unit *units;
	size_t unit_count;
	int64_t labels;             /* printed, or perhaps */
	struct salvage_hold *holds; /* in force there, not in the older */
	size_t hold_count;
	struct salvage_number *numbers; /* of the days since */
	size_t number_count;
	int64_t serial; /* the highest of all portions, 0: none */
	bool cut;       /* something could not be read, or was too much */
};

/*
 * salvage_lost - compare.  RC_OK whatever could be read; RC_INVALID nothing at
 * all can be.  Freed with lost_fini().
 */
enum rc salvage_lost(struct lost *out, struct salvage *from,
    struct salvage *older, struct err *err) MUST_CHECK;
void lost_fini(struct lost *l);

/*
 * salvage_bytes - the highest running number of batch codes of `day` that
 * stands anywhere in the bytes of a file or its log, for one that no program
 * can read: 0 none.  A code with its check character is rarely there by chance,
 * and then the number is only too high.
 */
int64_t salvage_bytes(const char *path, day_no day);

#endif /* STORE_SALVAGE_H */
