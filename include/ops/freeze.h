/*
 * ops/freeze.h - units into the freezer and out of it; rules R-D11, R-D17 and
 * R-D18 of docs/rules.md.
 */
#ifndef OPS_FREEZE_H
#define OPS_FREEZE_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "core/useby.h"
#include "ops/station.h"
#include "store/freezing.h"
#include "store/portions.h"

#define FREEZE_UNITS_MAX 64

struct freeze_in {
	const char *const *codes; /* portions or trays, as scanned or keyed */
	size_t count;             /* 1..FREEZE_UNITS_MAX */
	const char *temp;         /* reached, core or freezer; freeze only */
	const char *reason;       /* may be NULL */
	const char *by;
};

/* A unit afterwards, and what was done to its date. */
struct kept {
	struct portion portion;
	struct freezing record;
	struct useby useby;
};

/*
 * freeze, thaw - all of the units or none, in one transaction.  Into the
 * freezer: the clock of the use-by stops, and the days left are kept.  Out of
 * it, to thaw: the clock goes on.  Either way the label on the unit is void.
 * out[i] is the unit of codes[i].
 * RC_OK
 * RC_REFUSED   used up, on hold, expired, frozen or thawed before, not frozen,
 *              or as date_frozen() and date_thawed() say; err names the unit
 * RC_INVALID, RC_NOTFOUND
 */
enum rc freeze(struct kept *out, struct station *sn, const struct freeze_in *in,
    struct err *err) MUST_CHECK;
enum rc thaw(struct kept *out, struct station *sn, const struct freeze_in *in,
    struct err *err) MUST_CHECK;

/*
 * frozen_life_of - what was recorded when a unit went into the freezer here.
 * RC_OK, RC_NOTFOUND when it did not.
 */
enum rc frozen_life_of(struct frozen_life *out, struct station *sn,
    const struct portion *p, struct err *err) MUST_CHECK;

#endif /* OPS_FREEZE_H */
