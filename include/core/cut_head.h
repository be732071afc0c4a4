/*
 * core/cut_head.h - the cut a good cook makes by eye, to compare a plan with.
 *
 * Fish in the order given, which is first to expire first; a fish that fits a
 * dish served whole goes there; every piece is filled with the largest portion
 * still wanted that fits at its target, the last one cut down to its band when
 * it does not; the rest is trim.  A fish nothing is wanted from stays closed.
 * common practice, no source.  Pure.
 */
#ifndef CORE_CUT_HEAD_H
#define CORE_CUT_HEAD_H

#include "core/cutplan.h"

/*
 * cut_by_head - the cook's plan, its cost by cut_check(); bound is 0.
 * RC_OK, RC_INVALID as cut_problem_check().  The caller frees with
 * cut_plan_fini().
 */
enum rc cut_by_head(struct cut_plan *out, const struct cut_problem *p,
    struct err *err) MUST_CHECK;

#endif /* CORE_CUT_HEAD_H */
