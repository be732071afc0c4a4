/*
 * aside.h - an answer worked out in a thread of its own, with a connection of
 * its own to the station file: docs/decisions/0011.  Private to src/ops.
 */
#ifndef OPS_ASIDE_H
#define OPS_ASIDE_H

#include "base/err.h"
#include "ops/station.h"

struct aside;

/* Works on `sn`, which is the thread's own, and on `arg`, which is its own
 * until aside_wait() gave its result.  Never prints. */
typedef enum rc aside_fn(struct station *sn, void *arg, struct err *err);

/*
 * aside_start - `arg` outlives the thread.  RC_OK *out is owned by the caller
 * (aside_free); RC_FAILED, or an error of the file.
 */
enum rc aside_start(struct aside **out, struct station *sn, aside_fn *work,
    void *arg, struct err *err) MUST_CHECK;

/* aside_wait - at most `wait_ms` (-1: to its end).  RC_END: not done yet; else
 * what the work returned. */
enum rc aside_wait(struct aside *a, int wait_ms, struct err *err) MUST_CHECK;

/* aside_free - NULL is accepted.  Waits for work that is not done yet. */
void aside_free(struct aside *a);

#endif /* OPS_ASIDE_H */
