/*
 * yields_page.h - learned yields on the page of a species.  Private to src/ops.
 */
#ifndef OPS_YIELDS_PAGE_H
#define OPS_YIELDS_PAGE_H

#include "base/buf.h"
#include "base/jsonw.h"
#include "core/species.h"
#include "ops/station.h"

/* yields_text - learned against published, by form and supplier; nothing
 * without a station file or before the first breakdown.  RC_OK, RC_FAILED. */
enum rc yields_text(struct buf *out, const struct station *sn,
    const struct species *sp, struct err *err) MUST_CHECK;

/* yields_json - the same as the members "learned" and "fish_cv_per_10000". */
enum rc yields_json(struct jsonw *w, const struct station *sn,
    const struct species *sp, struct err *err) MUST_CHECK;

#endif /* OPS_YIELDS_PAGE_H */
