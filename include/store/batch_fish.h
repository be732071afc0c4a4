/*
 * store/batch_fish.h - fish of a batch that were weighed one by one.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_BATCH_FISH_H
#define STORE_BATCH_FISH_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"
#include "core/fishweights.h"

struct store;

struct batch_fish {
	int64_t number; /* from 1, as they came off the scale */
	grams weight_g;
};

struct batch_fish_list {
	struct batch_fish *items; /* by number; owned */
	size_t count;
};

/* batch_fish_insert - the weights of a batch just recorded, numbered from 1. */
enum rc batch_fish_insert(struct store *st, int64_t batch_id,
    const grams *weights, size_t n, struct err *err) MUST_CHECK;

/*
 * batch_fish_left - the fish still here with their own weights.
 * Empty when the batch was not weighed one by one, and also when fish left it
 * without being named: then nobody knows which are still here, and the rest is
 * estimated (core/fishweights.h) like any counted batch.
 * RC_OK; the caller frees with batch_fish_fini().
 */
enum rc batch_fish_left(struct batch_fish_list *out, struct store *st,
    int64_t batch_id, struct err *err) MUST_CHECK;
void batch_fish_fini(struct batch_fish_list *l);

/* batch_fish_take - fish `number` went into breakdown `prep_id`.
 * RC_OK, RC_NOTFOUND when it is not among those still here. */
enum rc batch_fish_take(struct store *st, int64_t batch_id, int64_t number,
    int64_t prep_id, struct err *err) MUST_CHECK;

/* batch_fish_cv - how much fish of a species differ in weight, 1/10 000,
 * learned from the fish weighed last (at most BATCH_FISH_CV_MAX, of the newest
 * BATCH_FISH_CV_BATCHES batches of it). */
#define BATCH_FISH_CV_MAX 400
#define BATCH_FISH_CV_BATCHES 300
enum rc batch_fish_cv(int *cv_bp, struct store *st, const char *species,
    struct err *err) MUST_CHECK;

#endif /* STORE_BATCH_FISH_H */
