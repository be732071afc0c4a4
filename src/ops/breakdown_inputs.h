/*
 * breakdown_inputs.h - the batches that go into a breakdown.  Private to
 * src/ops.
 */
#ifndef OPS_BREAKDOWN_INPUTS_H
#define OPS_BREAKDOWN_INPUTS_H

#include "mix.h"
#include "ops/breakdown.h"
#include "store/batch_fish.h"
#include "weighed.h"

struct inputs {
	struct mix mix; /* as they were before it; the first is the first */
	struct breakdown_with taken[PREP_INPUTS_MAX];
};

/*
 * inputs_take - every batch named, looked up and judged, in the transaction
 * that is open.  Returns as breakdown_record().
 */
enum rc inputs_take(struct inputs *out, struct station *sn,
    const struct breakdown_in *in, int64_t now_utc, struct err *err) MUST_CHECK;

/* inputs_fish - which fish weighed one by one go: `which` has one for each
 * batch, the first as named.  Sets out->weights_lost. */
enum rc inputs_fish(struct breakdown *out, struct station *sn,
    const struct inputs *inputs, struct weighed *which,
    struct err *err) MUST_CHECK;

/* inputs_record - after prep_insert(): the other inputs, the fish, batches
 * that are used up.  inputs_after - the batches as they are then. */
enum rc inputs_record(struct station *sn, const struct inputs *inputs,
    const struct weighed *which, int64_t prep_id, struct err *err) MUST_CHECK;
enum rc inputs_after(struct breakdown *out, struct station *sn,
    const struct inputs *inputs, struct err *err) MUST_CHECK;

/* inputs_one_supplier - do all batches come from the same? */
bool inputs_one_supplier(const struct inputs *inputs);

#endif /* OPS_BREAKDOWN_INPUTS_H */
