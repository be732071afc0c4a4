/*
 * store/mass.h - what sums of grams are made of.
 *
 * Breakdowns that were struck out are in none of it.  Lists are owned by the
 * caller.
 */
#ifndef STORE_MASS_H
#define STORE_MASS_H

#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "core/code.h"
#include "core/mass.h"
#include "store/batches.h"
#include "store/moment.h"

struct store;

struct mass_input {
	int64_t batch_id;
	char batch[CODE_SIZE];
	char species[4];
	grams in_g;
};

/* A breakdown with everything in it summed. */
struct mass_prep {
	int64_t id;
	struct moment at;
	struct mass mass; /* of all inputs; explained as recorded */
	char reason[200]; /* of the explanation; empty: none that holds */
	struct mass_input *inputs; /* owned */
	size_t input_count;
};

struct mass_preps {
	struct mass_prep *items; /* owned */
	size_t count;
};

/* mass_preps_batch - of a batch, oldest first; mass_preps_between - recorded
 * from `from_utc` to before `to_utc`.  The cost is that of their units. */
enum rc mass_preps_batch(struct mass_preps *out, struct store *st,
    int64_t batch_id, struct err *err) MUST_CHECK;
enum rc mass_preps_between(struct mass_preps *out, struct store *st,
    int64_t from_utc, int64_t to_utc, struct err *err) MUST_CHECK;
/* mass_prep_get - one of them, struck out or not.  RC_OK, RC_NOTFOUND. */
enum rc mass_prep_get(struct mass_preps *out, struct store *st, int64_t prep_id,
    struct err *err) MUST_CHECK;
void mass_preps_fini(struct mass_preps *l);

/*
 * mass_of_batch - what was sent back, struck out, thrown away whole and is
 * still there, and what is left of one that is used up: all but what went into
 * breakdowns, whose grams *worked is.  The batch as read.
 */
enum rc mass_of_batch(struct mass *out, grams *worked, char reason[200],
    struct store *st, const struct batch *b, struct err *err) MUST_CHECK;

/* mass_batches - codes of what a supplier delivered from one day to another,
 * both inclusive, oldest first, at most `most`. */
struct mass_codes {
	char (*items)[CODE_SIZE]; /* owned */
	size_t count;
};
enum rc mass_batches(struct mass_codes *out, struct store *st,
    int64_t supplier_id, day_no from, day_no to, size_t most,
    struct err *err) MUST_CHECK;

/* Grams nobody has explained: of a breakdown, or (prep_id 0) what was left of
 * a batch that is used up. */
struct mass_gap {
	int64_t prep_id;
	char batch[CODE_SIZE]; /* the first of its inputs */
	char species[4];
	int64_t inputs; /* of a breakdown */
	grams in_g, gap_g;
	int64_t at_utc; /* of the breakdown, or of goods in */
	char by[16];
};

struct mass_gaps {
	struct mass_gap *items; /* owned */
	size_t count;
};

/*
 * mass_gaps_open - breakdowns of those days and batches received in them,
 * breakdowns first, newest first, at most `most` of each.  Costs as much as
 * those days held; years of it are asked for by name only.
 */
enum rc mass_gaps_open(struct mass_gaps *out, struct store *st, day_no from,
    day_no to, size_t most, struct err *err) MUST_CHECK;

/* mass_explain - needs an open transaction; exactly one id is not 0. */
enum rc mass_explain(struct store *st, int64_t prep_id, int64_t batch_id,
    grams gap, const char *reason, const struct moment *at,
    struct err *err) MUST_CHECK;

#endif /* STORE_MASS_H */
