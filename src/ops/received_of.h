/*
 * received_of.h - a batch as a row of the receiving table.  Private to
 * src/ops.
 */
#ifndef OPS_RECEIVED_OF_H
#define OPS_RECEIVED_OF_H

#include "exchange/received.h"
#include "ops/station.h"

enum rc received_of(struct received *out, struct station *sn,
    const struct batch *b, struct err *err) MUST_CHECK;

#endif /* OPS_RECEIVED_OF_H */
