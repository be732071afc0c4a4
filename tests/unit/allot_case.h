/*
 * allot_case.h - a small case for allot_solve() and what must hold for every
 * answer.  Shared by test_core_allot.c and test_core_allot_prop.c.
 */
#ifndef ALLOT_CASE_H
#define ALLOT_CASE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "core/allot.h"

#define CASE_MAX 12 /* trays and wants */

/* A case that owns its arrays. */
struct allot_case {
	struct allot_tray trays[CASE_MAX];
	struct allot_want wants[CASE_MAX];
	bool fits[CASE_MAX * CASE_MAX];
	struct allot_problem p;
};

/* case_use - point `p` at the first `trays` and `wants`. */
void case_use(struct allot_case *c, size_t trays, size_t wants);

/* case_solve - RC_OK asserted. */
void case_solve(struct allot *out, const struct allot_problem *p);

/* case_units - units of one tray for one want. */
int64_t case_units(const struct allot *a, size_t tray, size_t want);

/* case_sound - nothing promised twice, nothing past its date, order and sums
 * as said. */
void case_sound(const struct allot *a, const struct allot_problem *p);

#endif /* ALLOT_CASE_H */
