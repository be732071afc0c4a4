/*
 * core/allot.h - prepared portions to services and dishes.
 *
 * Portions are interchangeable units, so this is a transportation problem and
 * solved exactly; raw fish are not (core/cutplan.h).  Eligibility is the
 * caller's, by core/stock.h; here only the use-by is looked at once more.
 *
 * Portions, UTC seconds, money in thousandths of the smallest coin.  Integers
 * only, no ties: the same input gives the same shares.  Pure.
 */
#ifndef CORE_ALLOT_H
#define CORE_ALLOT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"

#define ALLOT_TRAYS_MAX 2000
#define ALLOT_WANTS_MAX 200
#define ALLOT_VALUE_MAX 100000000000 /* one portion: 10^11 thousandths */

struct allot_tray {
	int64_t units;      /* portions, 0..COUNT_MAX */
	int64_t use_by_utc; /* past it the tray serves nothing, whatever fits */
};

struct allot_want {
	int dish;        /* any number; "fewest trays" is counted by it */
	int64_t units;   /* 0..COUNT_MAX */
	int64_t end_utc; /* of the service */
	int64_t value;   /* of one portion, 0..ALLOT_VALUE_MAX */
};

struct allot_problem {
	const struct allot_tray *trays;
	size_t tray_count; /* up to ALLOT_TRAYS_MAX */
	const struct allot_want *wants;
	size_t want_count; /* up to ALLOT_WANTS_MAX */
	const bool *fits;  /* [tray * want_count + want] */
};

struct allot_share {
	size_t tray, want;
	int64_t units; /* above 0 */
};

struct allot {
	struct allot_share *items; /* by tray, then want; owned */
	size_t count;
	int64_t served; /* portions */
	int64_t value;
};

/*
 * allot_solve - which tray serves which want.  Best in this order (R-S6):
 *   1 most portions served      2 greatest value
 *   3 oldest: the earliest use-by used up as far as 1 allows
 *   4 wants of equal value: the earlier service, then the lower index
 *   5 trays of equal use-by: the lower index
 *   6 the older tray to the earlier service
 *   7 fewest trays per dish: best effort, by swaps that leave 1 to 4 and 6 as
 *     they are (the fewest are a fixed-charge problem, which no flow solves)
 * 1 to 6 are exact, by minimum-cost maximum flow (core/flow.h); 1 to 5 never
 * stand in each other's way (src/core/allot.c).
 * RC_OK, the caller frees with allot_fini(); or RC_INVALID naming what is out
 * of range, or too many trays or wants.
 */
enum rc allot_solve(struct allot *out, const struct allot_problem *p,
    struct err *err) MUST_CHECK;

void allot_fini(struct allot *a);

#endif /* CORE_ALLOT_H */
