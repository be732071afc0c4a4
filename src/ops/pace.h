/*
 * pace.h - minutes of a breakdown, and what they teach.  Private to src/ops.
 */
#ifndef OPS_PACE_H
#define OPS_PACE_H

#include "base/err.h"
#include "ops/breakdown.h"

/* Minutes believed: between a fifth of what was expected and five times that,
 * and a minute for the watch (docs/rules.md R-W6). */
#define PACE_FACTOR 5

/*
 * pace_record - keep in->minutes (0: nothing to keep) for the breakdown just
 * inserted, inside its transaction, and learn from them unless in->minutes_ok.
 * A breakdown of several tasks is shared out in proportion to their expected
 * seconds.  Fish that was weighed and never counted teaches nothing: how many
 * were filleted is not known.  Sets out->pace.
 * RC_OK, RC_INVALID (no such minutes, or minutes_ok alone), RC_REFUSED when
 * the minutes are not believed, naming what was expected.
 */
enum rc pace_record(struct breakdown *out, struct station *sn,
    const struct batch *b, const struct breakdown_in *in,
    struct err *err) MUST_CHECK;

/*
 * pace_forget - a breakdown was struck out (its counter-record is there): what
 * it taught goes, in the transaction that is open.
 */
enum rc pace_forget(
    struct station *sn, int64_t prep_id, struct err *err) MUST_CHECK;

#endif /* OPS_PACE_H */
