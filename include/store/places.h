/*
 * store/places.h - where batches and units were put, in the kitchen's words.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_PLACES_H
#define STORE_PLACES_H

#include "base/err.h"
#include "store/holds.h"

#define PLACE_SIZE 48

struct store;

/* place_get - where somebody put it last; a unit that was frozen or thawed
 * since is there no more.  RC_OK, RC_NOTFOUND: nobody said. */
enum rc place_get(char dst[PLACE_SIZE], struct store *st,
    const struct subject *s, struct err *err) MUST_CHECK;

/* place_set - of a batch or a unit. */
enum rc place_set(struct store *st, const struct subject *s, const char *place,
    const struct moment *at, struct err *err) MUST_CHECK;

#endif /* STORE_PLACES_H */
