/*
 * core/dist.h - chances of a count: 0, 1, 2 ... portions, covers, parties.
 *
 * A `struct dist` holds the chance of every count from 0 to n - 1 and of none
 * beyond.  Each is built outwards from its mode by the ratio of neighbours and
 * then divided by the sum, so that nothing underflows, however far the mode is
 * from 0, and no gamma function is needed.
 *
 * Floating point stays in here and in core/demand: whoever stores or prints
 * takes counts and shares in 1/10 000.  Parameters out of range are mistakes of
 * the program and asserted.  The caller frees every dist with dist_fini().
 * Pure.
 */
#ifndef CORE_DIST_H
#define CORE_DIST_H

#include <stddef.h>

/* No count above this is believed. */
#define DIST_COUNT_MAX 100000

struct dist {
	double *p; /* chance of 0..n - 1; owned */
	size_t n;  /* at least 1 */
};

/* Infinite size of a negative binomial: Poisson. */
#define DIST_POISSON (1.0 / 0.0)

/* dist_point - always x. */
struct dist dist_point(int x);

/* dist_two - `high` with this chance in [0, 1], else 0. */
struct dist dist_two(int high, double chance);

/* dist_binomial - n tries, chance in [0, 1] each. */
struct dist dist_binomial(int n, double chance);

/*
 * dist_beta_binomial - n tries whose common chance is Beta(a, b); a, b >= 0,
 * not both 0.  a = 0 is always 0, b = 0 always n.  Mean n a / (a + b), variance
 * n s (1 - s) (a + b + n) / (a + b + 1) with s = a / (a + b).
 */
struct dist dist_beta_binomial(int n, double a, double b);

/*
 * dist_neg_binomial - mean >= 0, size k > 0: variance mean + mean^2 / k.
 * Cut off where less than 10^-15 remains.
 */
struct dist dist_neg_binomial(double mean, double k);

/* dist_sum - of two independent counts. */
struct dist dist_sum(const struct dist *x, const struct dist *y);

/*
 * dist_parties - guests who come when each party comes whole or not at all,
 * with the same chance, independently.  sizes 1 and up.
 */
struct dist dist_parties(const int *sizes, size_t count, double chance);

/* dist_blend - x with weight w in [0, 1], else y. */
struct dist dist_blend(const struct dist *x, const struct dist *y, double w);

/*
 * dist_orders - dishes ordered by a number of guests that is itself uncertain:
 * the sum over c of P(guests = c) x BetaBinomial(c, a, b).  Cut off where less
 * than 10^-15 remains.
 */
struct dist dist_orders(const struct dist *guests, double a, double b);

void dist_fini(struct dist *d);

double dist_mean(const struct dist *d);
double dist_variance(const struct dist *d);

/* dist_cdf - P(X <= x); 0 below 0. */
double dist_cdf(const struct dist *d, int x);

/*
 * dist_quantile - smallest x with P(X <= x) >= tau - 10^-12, tau in [0, 1].
 * The allowance is there because P(X <= x) may equal tau exactly, and rounding
 * must not move the answer by one.
 */
int dist_quantile(const struct dist *d, double tau);

#endif /* CORE_DIST_H */
