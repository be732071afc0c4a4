/*
 * core/fishweights.h - weights of fish nobody weighed one by one.
 *
 * A batch of n fish and total G is not n equal fish: pieces just long enough
 * for a portion on average are too short half of the time.  The n fish stand
 * at the mid-points of n equal shares of a lognormal distribution.  Estimates:
 * they say how many such fish there are, never which fish it is.  Pure.
 */
#ifndef CORE_FISHWEIGHTS_H
#define CORE_FISHWEIGHTS_H

#include <stddef.h>
#include <stdint.h>

#include "base/units.h"

/* Coefficient of variation before any fish was weighed, 1/10 000, and the
 * number of weighed fish it is worth.  From memory, unverified. */
#define FISH_CV_START_BP 2000
#define FISH_CV_START_WEIGHT 10
#define FISH_CV_MAX_BP 10000

/*
 * fish_weights - n weights in grams, smallest first, that sum up to `total`
 * exactly: w_j = total * z_j / sum z, z_j = exp(s * Phi^-1((j - 1/2) / n)),
 * s^2 = ln(1 + cv^2), rounded down, what is left over given to the largest
 * remainders.  `out` has room for n.  1 <= n <= COUNT_MAX, 0 <= total, cv in
 * 0..FISH_CV_MAX_BP.  A weight may be 0 only when the mean is a few grams.
 */
void fish_weights(grams *out, int64_t n, grams total, int cv_bp);

/* How much fish of one batch differ, summed up over weighed batches. */
struct fish_spread {
	double squares; /* of weight / batch mean - 1 */
	int64_t freedom;
};

/* fish_spread_add - one batch of fish weighed one by one; one alone says
 * nothing. */
void fish_spread_add(struct fish_spread *s, const grams *weights, size_t n);

/*
 * fish_spread_cv - coefficient of variation in 1/10 000: the start of 0.20
 * counted as FISH_CV_START_WEIGHT weighed fish, together with those seen.
 */
int fish_spread_cv(const struct fish_spread *s);

#endif /* CORE_FISHWEIGHTS_H */
