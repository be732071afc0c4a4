/*
 * ops/inspect.h - is the station file whole, and whose eyes may see it?
 */
#ifndef OPS_INSPECT_H
#define OPS_INSPECT_H

#include <stdbool.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/station.h"
#include "store/damage.h"

/* What the first look at a start may take. */
#define INSPECT_QUICK_MS 300
/* A whole check is due again after so long. */
#define INSPECT_DUE_S (20 * 3600)

struct inspected {
	struct whole whole;
	char open_to_world[200]; /* files that others may read or change; may be
				    empty */
};

/*
 * inspect_file - look at the file named, open or not: quickly, within
 * `budget_ms`, or (0) at all of it.  Damage is written down beside it
 * (store/damage.h), and forgotten when all of it is whole again.
 * RC_OK it is whole, as far as out->whole.all says; RC_FATAL it is damaged, err
 * says how and what to do; RC_NOTFOUND, RC_REFUSED (stopped), RC_RETRY,
 * RC_FAILED.
 */
enum rc inspect_file(struct inspected *out, const char *file, int64_t budget_ms,
    bool (*goes_on)(void *arg), void *arg, struct err *err) MUST_CHECK;

/* inspect_words - append what was found. */
void inspect_words(
    struct buf *out, const struct inspected *i, enum format format);

/* inspect_record - all of it was found whole, by the station itself: kept as a
 * fact and in the trail; nothing while the clock is in doubt.  RC_OK, RC_RETRY,
 * RC_FAILED. */
enum rc inspect_record(
    struct station *sn, const struct inspected *i, struct err *err) MUST_CHECK;

/* inspect_last - when all of it was last found whole; 0: never. */
enum rc inspect_last(
    int64_t *utc, struct station *sn, struct err *err) MUST_CHECK;

#endif /* OPS_INSPECT_H */
