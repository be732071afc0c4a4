/*
 * mix.h - food of several batches: every one of them dates it.  Private to
 * src/ops.  Rules: docs/rules.md R-M1 to R-M6.
 */
#ifndef OPS_MIX_H
#define OPS_MIX_H

#include "base/buf.h"
#include "base/err.h"
#include "ops/rules.h"
#include "ops/station.h"
#include "store/batches.h"
#include "store/portions.h"

#define MIX_WHY_MAX 65536 /* bytes of a decision as the store keeps it */

/* The batches a food is made of. */
struct mix {
	struct batch batches[PORTION_BATCHES_MAX];
	size_t count; /* 1: not mixed */
};

/* What each of them alone would allow. */
struct mix_dates {
	struct useby each[PORTION_BATCHES_MAX];
	size_t first; /* the batch whose date is the earliest: it binds */
};

/* mix_of_unit - every batch a unit is made of, the one it is filed under
 * first. */
enum rc mix_of_unit(struct mix *out, struct station *sn,
    const struct portion *p, struct err *err) MUST_CHECK;

/* mix_add - one more; RC_REFUSED: not the same species and presentation as the
 * others, one of them already, or too many. */
enum rc mix_add(
    struct mix *m, const struct batch *b, struct err *err) MUST_CHECK;

/* mix_portion, mix_frozen, mix_thawed - as date_portion() and its neighbours,
 * for each batch; refused when one of them is refused, which is named. */
enum rc mix_portion(struct mix_dates *out, const struct station *sn,
    const struct mix *m, enum food_state state, const struct history *h,
    struct err *err) MUST_CHECK;
enum rc mix_frozen(struct mix_dates *out, struct frozen_life *life,
    const struct station *sn, const struct mix *m, const struct portion *p,
    struct err *err) MUST_CHECK;
enum rc mix_thawed(struct mix_dates *out, const struct station *sn,
    const struct mix *m, const struct portion *p,
    const struct frozen_life *life, int64_t thawed_utc,
    struct err *err) MUST_CHECK;

/* mix_json - append the decision as the store keeps it: that of the batch that
 * binds, with its code, then what each of the others would have allowed.  Of
 * one batch as useby_json(). */
void mix_json(struct buf *out, const struct mix *m, const struct mix_dates *d,
    const struct rules *rules, const struct history *h);

/* mix_origins_differ - do the batches come from more than one area, method or
 * gear? */
bool mix_origins_differ(const struct mix *m);

#endif /* OPS_MIX_H */
