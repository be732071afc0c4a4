/*
 * weighed.h - fish weighed one by one, at goods in and when they are taken.
 * Private to src/ops.  Rules: docs/rules.md R-I1 to R-I4.
 */
#ifndef OPS_WEIGHED_H
#define OPS_WEIGHED_H

#include "ops/breakdown.h"
#include "store/batches.h"

#define WEIGHED_MAX 300

/* Mean weights outside these say that count or unit is wrong. */
#define FISH_MIN_G 2
#define FISH_MAX_G 700000

/* Weights of a batch, or numbers of fish taken from one. */
struct weighed {
	int64_t items[WEIGHED_MAX];
	size_t count;
};

/* weighed_parse - "2100,1950": whole grams of each fish.  RC_OK, RC_INVALID. */
enum rc weighed_parse(
    struct weighed *out, const char *text, struct err *err) MUST_CHECK;

/*
 * weighed_fill - count and weight of the batch from its fish; what was keyed
 * already (not 0) must agree.  RC_OK, RC_INVALID with both figures.
 */
enum rc weighed_fill(
    struct batch *b, const struct weighed *w, struct err *err) MUST_CHECK;

/* weighed_which - "3,5": numbers of fish, none twice.  RC_OK, RC_INVALID. */
enum rc weighed_which(
    struct weighed *out, const char *text, struct err *err) MUST_CHECK;

/*
 * weighed_choose - before a breakdown is recorded: which fish it takes.
 * `which` is as named (empty: not named) and becomes what to take: as named, or
 * all that are left when all are taken.  *lost: the fish left are no longer
 * known one by one.
 * RC_OK, RC_NOTFOUND when one is not here, RC_REFUSED when the batch's fish are
 * not known one by one, or their weights are not what was weighed in.
 */
enum rc weighed_choose(struct weighed *which, bool *lost, struct store *st,
    const struct batch *b, const struct breakdown_in *in,
    struct err *err) MUST_CHECK;

#endif /* OPS_WEIGHED_H */
