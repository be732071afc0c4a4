/*
 * teach.h - a breakdown teaches its yield.  Private to src/ops.
 */
#ifndef OPS_TEACH_H
#define OPS_TEACH_H

#include "ops/yields.h"
#include "store/batches.h"

/*
 * yields_teach - learn from breakdown `prep_id` of batch `b` in the transaction
 * that is open.  `ok`: a yield outside the gate is recorded and set aside.
 * `may_learn` false: one inside it is set aside as well.
 * RC_OK, or RC_REFUSED with both yields named when it is outside and not ok.
 */
enum rc yields_teach(struct yield_taught *out, struct station *sn,
    const struct batch *b, const struct yield_work *w, int64_t prep_id, bool ok,
    bool may_learn, struct err *err) MUST_CHECK;

#endif /* OPS_TEACH_H */
