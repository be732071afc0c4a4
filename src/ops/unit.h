/*
 * unit.h - a labelled unit by its code, and a person's reason.  Private to
 * src/ops.
 */
#ifndef OPS_UNIT_H
#define OPS_UNIT_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"
#include "ops/station.h"
#include "store/portions.h"

/* unit_by_code - of a portion or tray as scanned or keyed.
 * RC_OK, RC_INVALID (no code, or a batch's), RC_NOTFOUND, RC_REFUSED (its
 * breakdown was struck out: it never was). */
enum rc unit_by_code(struct portion *out, struct station *sn, const char *text,
    struct err *err) MUST_CHECK;

/* reason_into - a reason as given, NULL for none.  RC_OK, RC_INVALID. */
enum rc reason_into(char *dst, size_t size, const char *reason, bool optional,
    struct err *err) MUST_CHECK;

/* discard_now - discard() inside the caller's transaction; in->by is not
 * looked at. */
struct discarded;
struct discard_in;
enum rc discard_now(struct discarded *out, struct station *sn,
    const struct discard_in *in, const struct moment *at,
    struct err *err) MUST_CHECK;

#endif /* OPS_UNIT_H */
