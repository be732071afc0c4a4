/*
 * ops/look.h - look at stock, at one code's chain, and at the audit trail.
 * Nothing here records anything.
 */
#ifndef OPS_LOOK_H
#define OPS_LOOK_H

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/station.h"

/* stock - append what is on hand, first to expire first. */
enum rc stock(struct buf *out, struct station *sn, enum format format,
    struct err *err) MUST_CHECK;

/*
 * trace - append the chain of a code: from a portion back to its delivery and
 * supplier, or from a batch forward to every portion with what became of it.
 * RC_OK, RC_INVALID, RC_NOTFOUND.
 */
enum rc trace(struct buf *out, struct station *sn, const char *code,
    enum format format, struct err *err) MUST_CHECK;

/* audit_trail - append the newest `most` rows, oldest of them first; with
 * `changes` also what each of them changed. */
enum rc audit_trail(struct buf *out, struct station *sn, int64_t most,
    bool changes, enum format format, struct err *err) MUST_CHECK;

#endif /* OPS_LOOK_H */
