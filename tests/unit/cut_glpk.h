/*
 * cut_glpk.h - the same cut plan problem put to another solver: glpsol of GLPK
 * (Debian package glpk-utils, 5.0 in Debian 12), as a program of its own.
 *
 * Pattern form: one whole-number column for every pattern worth cutting from
 * pieces of one weight, yes-or-no columns for opening a fish, shortages as
 * they come.  The file is free MPS, the one format every solver reads alike.
 */
#ifndef CUT_GLPK_H
#define CUT_GLPK_H

#include <stdbool.h>
#include <stdint.h>

#include "core/cutplan.h"
#include "cut_child.h"

struct glpk_result {
	char status;  /* o optimal, f feasible, n no plan in time, u unknown */
	int64_t cost; /* of its plan, by cut_judge; when o or f */
	size_t rows, columns; /* of what it was given */
	struct child_use use;
	char why[200]; /* what went wrong, or "" */
};

/*
 * glpk_solve - at most `seconds`.  `near` is subtracted from the cost it sees:
 * glpsol stops within a share of the cost it sees (10^-7, fixed in the
 * program), so with a number near the optimum it is exact to the thousandth.
 * False, with why, when it cannot be run or answers what is no plan.
 */
bool glpk_solve(struct glpk_result *out, const struct cut_problem *p,
    int64_t near, int seconds);

#endif /* CUT_GLPK_H */
