/*
 * work_done.h - a task done by a breakdown.  Private to src/ops.
 */
#ifndef OPS_WORK_DONE_H
#define OPS_WORK_DONE_H

#include "ops/work_mark.h"

/*
 * work_mark_done - tick `task` off as done by breakdown `prep_id`, inside the
 * caller's transaction; one that is ticked already stays as it is.
 * RC_OK, RC_INVALID, RC_NOTFOUND.
 */
enum rc work_mark_done(struct station *sn, const struct work_say *task,
    int64_t prep_id, const struct moment *at, struct err *err) MUST_CHECK;

#endif /* OPS_WORK_DONE_H */
