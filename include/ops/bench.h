/*
 * ops/bench.h - a batch on the bench: what a breakdown of it has to know
 * before it is recorded (ops/breakdown.h).  Records nothing.
 */
#ifndef OPS_BENCH_H
#define OPS_BENCH_H

#include <stddef.h>

#include "base/err.h"
#include "core/caution.h"
#include "core/prepplan.h"
#include "ops/breakdown.h"
#include "ops/station.h"
#include "store/batch_fish.h"
#include "store/batches.h"

#define BENCH_DISHES_MAX 9

/* A dish of the menu that wants this species. */
struct bench_dish {
	struct plan_cut cut;
	int mean_bp;     /* yield of this batch to it; 0: not known */
	int64_t learned; /* breakdowns behind it; 0: published */
};

struct bench {
	struct batch batch;
	const struct species *species;
	struct batch_fish_list fish; /* weighed one by one, still here; owned */
	struct bench_dish dishes[BENCH_DISHES_MAX]; /* by dish code */
	size_t dish_count;
	size_t left_out; /* dishes beyond that */
	const char *cautions[CAUTIONS_MAX];
	int caution_count;
	struct err refused; /* rc RC_OK: it may be opened */
};

/*
 * bench_open - a batch by its code as keyed or scanned.
 * RC_OK, the caller frees with bench_fini(); RC_INVALID (no code, or a
 * portion's), RC_NOTFOUND.
 */
enum rc bench_open(struct bench *out, struct station *sn, const char *code,
    struct err *err) MUST_CHECK;
void bench_fini(struct bench *b);

/*
 * bench_with - another batch that may go onto the same board: the same species
 * in the same presentation, not on hold and in date.
 * RC_OK, RC_INVALID (no code, a portion's), RC_NOTFOUND, RC_REFUSED.
 */
enum rc bench_with(struct batch *out, const struct bench *b, struct station *sn,
    const char *code, struct err *err) MUST_CHECK;

/* bench_batches - accepted and not used up, first to expire first; the caller
 * frees with batch_list_fini(). */
enum rc bench_batches(
    struct batch_list *out, struct station *sn, struct err *err) MUST_CHECK;

/*
 * bench_yield - the yield of what is typed so far as a breakdown would teach
 * it (R-Y11), in 1/10 000; 0 when it teaches none.  *expected_bp is what is
 * expected of that cut, 0 when nothing is known.
 */
int bench_yield(
    int *expected_bp, const struct bench *b, const struct breakdown_in *in);

/* bench_unexplained - in, of all batches, less everything out; below 0 when
 * more came out. */
grams bench_unexplained(const struct breakdown_in *in);

#endif /* OPS_BENCH_H */
