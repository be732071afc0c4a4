/*
 * hand.h - batches and labelled units on hand as one list.  Private to
 * src/ops.
 */
#ifndef OPS_HAND_H
#define OPS_HAND_H

#include <stddef.h>

#include "base/err.h"
#include "exchange/stock_out.h"
#include "ops/station.h"

struct hand {
	struct batch_list batches;
	struct portion_list portions;
	struct stock_item *items; /* first to expire first */
	size_t count;
};

/* hand_load - RC_OK, the caller frees with hand_fini() whatever is returned. */
enum rc hand_load(
    struct hand *out, struct station *sn, struct err *err) MUST_CHECK;
void hand_fini(struct hand *h);

#endif /* OPS_HAND_H */
