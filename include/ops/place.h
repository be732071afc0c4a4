/*
 * ops/place.h - where stock is, in the kitchen's own words ([places] of the
 * settings): what a recall is pulled by.
 *
 * A place is what somebody said last.  Where nobody did, a unit lies where its
 * kind lies: frozen in [places] frozen, all else in [places] chilled.
 */
#ifndef OPS_PLACE_H
#define OPS_PLACE_H

#include <stddef.h>

#include "base/err.h"
#include "ops/station.h"
#include "store/places.h"
#include "store/portions.h"

#define PLACES_MAX 24
#define MOVE_CODES_MAX 64

/* place_words - the words of the settings, `words` of PLACES_MAX; returns how
 * many.  The places of chilled and frozen goods are among them. */
size_t place_words(char (*words)[PLACE_SIZE], const struct config *cfg);

/* place_check - the settings' own spelling of a place.  RC_OK, RC_INVALID: no
 * such place; err lists them. */
enum rc place_check(char dst[PLACE_SIZE], const struct config *cfg,
    const char *text, struct err *err) MUST_CHECK;

enum rc place_of_unit(char dst[PLACE_SIZE], struct station *sn,
    const struct portion *p, struct err *err) MUST_CHECK;
enum rc place_of_batch(char dst[PLACE_SIZE], struct station *sn,
    int64_t batch_id, struct err *err) MUST_CHECK;

struct move_in {
	const char *const *codes; /* of batches and units, as keyed */
	size_t count;             /* 1..MOVE_CODES_MAX */
	const char *place;
	const char *by;
};

/*
 * move - put them there, all or none, in one transaction.  What is on hold may
 * be moved: it has to be set apart.  `place` (may be NULL) is its name as the
 * settings write it.
 * RC_OK, RC_INVALID, RC_NOTFOUND, RC_REFUSED (nothing of it is left).
 */
enum rc move(char place[PLACE_SIZE], struct station *sn,
    const struct move_in *in, struct err *err) MUST_CHECK;

#endif /* OPS_PLACE_H */
