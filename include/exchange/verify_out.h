/*
 * exchange/verify_out.h - what a look through the record found.
 */
#ifndef EXCHANGE_VERIFY_OUT_H
#define EXCHANGE_VERIFY_OUT_H

#include <stdbool.h>

#include "base/buf.h"
#include "base/format.h"
#include "store/verify.h"

/* verify_write - append it; `paper`: a code was compared. */
void verify_write(struct buf *out, const struct trail_report *r, bool paper,
    enum format format);

#endif /* EXCHANGE_VERIFY_OUT_H */
