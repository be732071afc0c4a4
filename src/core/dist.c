/* dist.c - chances of a count, built outwards from the mode. */
#include "core/dist.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"

/* A weight this far under the mode's adds nothing that a double could hold. */
#define NEGLIGIBLE 1e-19
/* Where the tail of an endless distribution is cut off. */
#define TAIL 1e-15
/* A double may lie this much under the tie it stands for. */
#define TIE 1e-12

static struct dist
zeros(int max)
{
	struct dist d;

	assert(max >= 0 && max <= DIST_COUNT_MAX);
	d.n = (size_t)max + 1;
	d.p = xcalloc(d.n, sizeof(d.p[0]));
	return d;
}

static void
scale(struct dist *d, double by)
{
	size_t i;

	for (i = 0; i < d->n; i++)
		d->p[i] *= by;
}

/* Drop a tail that adds up to less than TAIL. */
static void
trim(struct dist *d)
{
	double tail = 0;

	while (d->n > 1 && (tail += d->p[d->n - 1]) < TAIL)
		d->n--;
}

struct dist
dist_point(int x)
{
	struct dist d = zeros(x);

	d.p[x] = 1;
	return d;
}

struct dist
dist_two(int high, double chance)
{
	struct dist d = zeros(high);

	assert(chance >= 0 && chance <= 1);
	d.p[high] += chance;
	d.p[0] += 1 - chance;
	return d;
}

struct dist
dist_binomial(int n, double chance)
{
	struct dist d;
	double odds, w, sum = 1;
	int mode, x;

	assert(chance >= 0 && chance <= 1);
	d = zeros(n);
	mode = (int)floor((n + 1) * chance);
	mode = mode > n ? n : mode;
	odds = chance < 1 ? chance / (1 - chance) : 0;
	d.p[mode] = 1;
	for (x = mode, w = 1; x < n && w > NEGLIGIBLE; x++)
		sum += d.p[x + 1] = w *= (n - x) * odds / (x + 1);
	for (x = mode, w = 1; x > 0 && w > NEGLIGIBLE && chance < 1; x--)
		sum += d.p[x - 1] = w *= x / ((n - x + 1) * odds);
	scale(&d, 1 / sum);
	return d;
}

/* The weights of one beta-binomial between two counts that matter. */
struct row {
	int low, high;
	double sum;
};

static int
row_mode(int n, double a, double b)
{
	double mode;

	if (a < 1 || b < 1)
		return a <= b ? 0 : n;
	if (a + b <= 2)
		return 0; /* a = b = 1, all counts alike */
	mode = floor((n + 1) * ((a - 1) / (a + b - 2)));
	return mode > n ? n : (int)mode;
}

/* Set w[low..high] for a, b > 0; the mode weighs 1. */
static struct row
row_fill(double *w, int n, double a, double b)
{
	int mode = row_mode(n, a, b);
	/* With two ends higher than the middle, little is not the end yet. */
	double least = a < 1 && b < 1 ? 0 : NEGLIGIBLE;
	struct row r = { mode, mode, 1 };
	double v;
	int x;

	w[mode] = v = 1;
	for (x = mode; x < n && v > least; x++) {
		v *= (n - x) * (x + a) / ((x + 1) * (n - x - 1 + b));
		r.sum += w[x + 1] = v;
		r.high = x + 1;
	}
	for (x = mode, v = 1; x > 0 && v > least; x--) {
		v *= x * (n - x + b) / ((n - x + 1) * (x - 1 + a));
		r.sum += w[x - 1] = v;
		r.low = x - 1;
	}
	return r;
}

struct dist
dist_beta_binomial(int n, double a, double b)
{
	struct dist d;
	struct row r;

	assert(a >= 0 && b >= 0 && a + b > 0);
	if (a <= 0 || n == 0)
		return dist_point(0);
	if (b <= 0)
		return dist_point(n);
	d = zeros(n);
	r = row_fill(d.p, n, a, b);
	scale(&d, 1 / r.sum);
	return d;
}

/* p(x + 1) / p(x) */
static double
nb_ratio(int x, double mean, double k)
{
	if (isinf(k))
		return mean / (x + 1);
	return (x + k) / (x + 1) * (mean / (mean + k));
}

struct dist
dist_neg_binomial(double mean, double k)
{
	struct dist d = { NULL, 0 };
	size_t room = 0;
	double w, q, sum = 1;
	int mode, x;

	assert(mean >= 0 && mean < DIST_COUNT_MAX && k > 0);
	if (mean <= 0)
		return dist_point(0);
	mode = (int)(isinf(k) ? mean : k > 1 ? mean * (k - 1) / k : 0);
	d = zeros(mode);
	room = d.n;
	d.p[mode] = 1;
	for (x = mode, w = 1; x > 0 && w > NEGLIGIBLE; x--)
		sum += d.p[x - 1] = w /= nb_ratio(x - 1, mean, k);
	for (x = mode, w = 1; x < DIST_COUNT_MAX; x++) {
		/* Later ratios are nearer to their limit, for k < 1 above. */
		q = nb_ratio(x, mean, k);
		if (k < 1)
			q = mean / (mean + k);
		if (q < 1 && w * q / (1 - q) < TAIL * sum)
			break;
		w *= nb_ratio(x, mean, k);
		d.p = grow(d.p, &room, d.n, sizeof(d.p[0]));
		sum += d.p[d.n++] = w;
	}
	scale(&d, 1 / sum);
	return d;
}

struct dist
dist_sum(const struct dist *x, const struct dist *y)
{
	struct dist d = zeros((int)(x->n + y->n - 2));
	size_t i, j;

	for (i = 0; i < x->n; i++) {
		if (x->p[i] <= 0)
			continue;
		for (j = 0; j < y->n; j++)
			d.p[i + j] += x->p[i] * y->p[j];
	}
	return d;
}

struct dist
dist_parties(const int *sizes, size_t count, double chance)
{
	struct dist d;
	size_t i;
	int all = 0, so_far = 0, x;

	assert(chance >= 0 && chance <= 1);
	for (i = 0; i < count; i++) {
		assert(sizes[i] > 0 && all <= DIST_COUNT_MAX - sizes[i]);
		all += sizes[i];
	}
	d = zeros(all);
	d.p[0] = 1;
	for (i = 0; i < count; i++) {
		so_far += sizes[i];
		for (x = so_far; x >= 0; x--)
			d.p[x] = d.p[x] * (1 - chance) +
			    (x >= sizes[i] ? d.p[x - sizes[i]] * chance : 0);
	}
	return d;
}

struct dist
dist_blend(const struct dist *x, const struct dist *y, double w)
{
	struct dist d = zeros((int)((x->n > y->n ? x->n : y->n) - 1));
	size_t i;

	assert(w >= 0 && w <= 1);
	for (i = 0; i < x->n; i++)
		d.p[i] += w * x->p[i];
	for (i = 0; i < y->n; i++)
		d.p[i] += (1 - w) * y->p[i];
	return d;
}

struct dist
dist_orders(const struct dist *guests, double a, double b)
{
	struct dist d;
	struct row r;
	double *w, weight, sum = 0;
	size_t c;
	int x;

	assert(a >= 0 && b >= 0 && a + b > 0);
	if (a <= 0)
		return dist_point(0);
	d = zeros((int)guests->n - 1);
	if (b <= 0) {
		memcpy(d.p, guests->p, d.n * sizeof(d.p[0]));
		return d;
	}
	w = xcalloc(d.n, sizeof(w[0]));
	for (c = 0; c < guests->n; c++) {
		if (guests->p[c] < NEGLIGIBLE)
			continue;
		r = row_fill(w, (int)c, a, b);
		weight = guests->p[c] / r.sum;
		for (x = r.low; x <= r.high; x++)
			d.p[x] += weight * w[x];
		sum += guests->p[c];
	}
	free(w);
	scale(&d, 1 / sum);
	trim(&d);
	return d;
}

void
dist_fini(struct dist *d)
{
	free(d->p);
	d->p = NULL;
	d->n = 0;
}

double
dist_mean(const struct dist *d)
{
	double s = 0;
	size_t i;

	for (i = 0; i < d->n; i++)
		s += d->p[i] * (double)i;
	return s;
}

double
dist_variance(const struct dist *d)
{
	double mean = dist_mean(d), s = 0;
	size_t i;

	for (i = 0; i < d->n; i++)
		s += d->p[i] * ((double)i - mean) * ((double)i - mean);
	return s;
}

double
dist_cdf(const struct dist *d, int x)
{
	double s = 0;
	size_t i;

	for (i = 0; i < d->n && x >= 0 && i <= (size_t)x; i++)
		s += d->p[i];
	return s < 1 ? s : 1;
}

int
dist_quantile(const struct dist *d, double tau)
{
	double s = 0;
	size_t i;

	for (i = 0; i + 1 < d->n; i++) {
		s += d->p[i];
		if (s >= tau - TIE)
			return (int)i;
	}
	return (int)d->n - 1;
}
