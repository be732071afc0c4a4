/*
 * offers.h - the part of an import that is about offers.  Private to src/ops.
 */
#ifndef OPS_OFFERS_H
#define OPS_OFFERS_H

#include "base/buf.h"
#include "ops/bring_in.h"
#include "store/moment.h"

/* offers_record - parse `text` and put its offers, in the open transaction;
 * what else those suppliers offered is dropped. */
enum rc offers_record(struct import_result *r, struct station *sn,
    const struct moment *at, const char *path, const struct buf *text,
    struct err *err) MUST_CHECK;

#endif /* OPS_OFFERS_H */
