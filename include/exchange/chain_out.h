/*
 * exchange/chain_out.h - what happened to food as a table: a row a thing it
 * happened to, in order of time.  docs/files.md has the columns.
 */
#ifndef EXCHANGE_CHAIN_OUT_H
#define EXCHANGE_CHAIN_OUT_H

#include "base/buf.h"
#include "store/happenings.h"

void chain_head(struct buf *out);
/* chain_rows - of one happening; `sides` of a breakdown or a tray put together,
 * NULL else. */
void chain_rows(
    struct buf *out, const struct happening *h, const struct prep_sides *sides);

#endif /* EXCHANGE_CHAIN_OUT_H */
