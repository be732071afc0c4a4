/*
 * prefill.h - a supplier's label fills in the goods-in form.  Private to
 * src/ops.
 */
#ifndef OPS_PREFILL_H
#define OPS_PREFILL_H

#include "core/gs1.h"
#include "ops/receive.h"

/* Room for the texts the form then points at. */
struct prefill {
	struct gs1_prefill got;
	char weight[24], count[24], use_by[16], caught[16];
	day_no last_day; /* the label's use-by as a whole day, or DAY_NONE */
};

/*
 * prefill - read in->scans as symbols of one item and fill what was not typed:
 * species, lot, weight, count, use-by, area, gear, day of harvest.
 * RC_OK, or RC_INVALID with the first problem of a scan that is wrong.  A
 * missing partner (a GTIN on another symbol) is no problem here.
 */
enum rc prefill(struct receive_in *in, struct prefill *room,
    const struct station *sn, struct err *err) MUST_CHECK;

#endif /* OPS_PREFILL_H */
