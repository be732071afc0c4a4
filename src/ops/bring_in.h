/*
 * bring_in.h - bookings and dishes as text, recorded inside a transaction.
 * Private to src/ops.
 */
#ifndef OPS_BRING_IN_INNER_H
#define OPS_BRING_IN_INNER_H

#include "base/buf.h"
#include "base/err.h"
#include "ops/bring_in.h"
#include "ops/station.h"

/* bring_bookings - as import_bookings() reads them; `name` for messages. */
enum rc bring_bookings(struct import_result *r, struct station *sn,
    const char *name, const struct buf *text, struct err *err) MUST_CHECK;

/* bring_dishes - the dishes of a menu file, without taking others off. */
enum rc bring_dishes(struct import_result *r, struct station *sn,
    const char *name, const struct buf *text, struct err *err) MUST_CHECK;

#endif /* OPS_BRING_IN_INNER_H */
