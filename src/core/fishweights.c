/* fishweights.c - weights of fish nobody weighed one by one. */
#include "core/fishweights.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "base/mem.h"

/* What was left over by rounding one weight down. */
struct rest {
	double part;
	int64_t index;
};

static int
by_rest(const void *a, const void *b)
{
	const struct rest *x = a, *y = b;

	if (x->part > y->part)
		return -1;
	if (x->part < y->part)
		return 1;
	/* Of equals the larger first, or a smaller fish would outweigh it. */
	return x->index > y->index ? -1 : x->index < y->index;
}

/*
 * x with Phi(x) = p, 0.5 <= p < 1.  Newton from 0: Phi is concave above 0, so
 * the steps come from below and never overshoot.
 */
static double
normal_quantile(double p)
{
	const double root_half = sqrt(0.5), density0 = 1 / sqrt(8 * atan(1));
	double x = 0, step;
	int i;

	for (i = 0; i < 200; i++) {
		step = (p - 0.5 * erfc(-x * root_half)) /
		    (density0 * exp(-0.5 * x * x));
		x += step;
		if (fabs(step) < 1e-12)
			break;
	}
	return x;
}

/* Shares in proportion to the quantile mid-points; returns their sum. */
static double
mid_points(double *z, int64_t n, int cv_bp)
{
	double cv = (double)cv_bp / BP_ONE, s = sqrt(log1p(cv * cv));
	double x, sum = 0;
	int64_t j;

	/* Symmetric around the median: the upper half is enough. */
	for (j = 0; j < n - j; j++) {
		x = normal_quantile(((double)(n - j) - 0.5) / (double)n);
		if (2 * j + 1 == n)
			x = 0;
		z[n - 1 - j] = exp(s * x);
		z[j] = exp(-s * x);
	}
	for (j = 0; j < n; j++)
		sum += z[j];
	return sum;
}

void
fish_weights(grams *out, int64_t n, grams total, int cv_bp)
{
	struct rest *rest;
	double *z, sum, share;
	grams left = total;
	int64_t j;

	assert(n >= 1 && n <= COUNT_MAX && total >= 0);
	assert(cv_bp >= 0 && cv_bp <= FISH_CV_MAX_BP);
	z = xcalloc((size_t)n, sizeof(*z));
	rest = xcalloc((size_t)n, sizeof(*rest));
	sum = mid_points(z, n, cv_bp);
	for (j = 0; j < n; j++) {
		share = (double)total * (z[j] / sum);
		out[j] = (grams)floor(share);
		rest[j].part = share - floor(share);
		rest[j].index = j;
		left -= out[j];
	}
	qsort(rest, (size_t)n, sizeof(*rest), by_rest);
	/* A share that is whole but for rounding may be a gram over: take it
	 * from the largest. */
	for (; left < 0; left++)
		out[n - 1]--;
	for (j = 0; j < left; j++)
		out[rest[j % n].index]++;
	free(z);
	free(rest);
}

void
fish_spread_add(struct fish_spread *s, const grams *weights, size_t n)
{
	double mean = 0, d;
	size_t i;

	if (n < 2)
		return;
	for (i = 0; i < n; i++)
		mean += (double)weights[i] / (double)n;
	for (i = 0; i < n; i++) {
		d = (double)weights[i] / mean - 1;
		s->squares += d * d;
	}
	s->freedom += (int64_t)n - 1;
}

int
fish_spread_cv(const struct fish_spread *s)
{
	double start = (double)FISH_CV_START_BP / BP_ONE;
	double cv = sqrt((s->squares + FISH_CV_START_WEIGHT * start * start) /
	    (double)(s->freedom + FISH_CV_START_WEIGHT));
	int bp = (int)lround(cv * BP_ONE);

	return bp > FISH_CV_MAX_BP ? FISH_CV_MAX_BP : bp;
}
