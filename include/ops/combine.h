/*
 * ops/combine.h - what is left of several trays put onto one.
 */
#ifndef OPS_COMBINE_H
#define OPS_COMBINE_H

#include <stddef.h>

#include "base/err.h"
#include "ops/station.h"
#include "store/portions.h"
#include "store/sources.h"

#define COMBINE_UNITS_MAX 24

struct combine_in {
	const char *const *codes; /* units, as keyed or scanned */
	size_t count;             /* 2..COMBINE_UNITS_MAX */
	const char *by;
};

struct combined {
	struct portion tray; /* the new one, with its own code */
	/* What came from which unit: their labels are void. */
	struct portion_part from[COMBINE_UNITS_MAX];
	size_t count;
};

/*
 * combine - everything that is left of the units goes onto one new tray, which
 * keeps all their batches and breakdowns, the earliest use-by, the earliest
 * preparation, and of thawed food the oldest freezing (docs/rules.md R-M7 to
 * R-M9).  The units are empty after it: neither used nor lost.
 * RC_OK
 * RC_INVALID  fewer than two, or one of them twice
 * RC_NOTFOUND one is not known
 * RC_REFUSED  one is used up, expired, on hold or frozen; not all of one dish,
 *             species, cut and state; or of too many batches
 */
enum rc combine(struct combined *out, struct station *sn,
    const struct combine_in *in, struct err *err) MUST_CHECK;

/* combine_look - what the tray would be: servings, weight, use-by, preparation.
 * Records nothing, and returns as combine(); in->by is not looked at. */
enum rc combine_look(struct portion *tray, struct station *sn,
    const struct combine_in *in, struct err *err) MUST_CHECK;

#endif /* OPS_COMBINE_H */
