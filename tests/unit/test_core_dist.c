/*
 * test_core_dist.c - chances of a count, against a general reference library.
 *
 * "SciPy": computed with SciPy 1.10.1 (scipy.stats betabinom, nbinom, poisson,
 * binom), which works by gamma functions, unlike ours.
 */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include "core/dist.h"
#include "unit.h"

static const double levels[] = { .50, .75, .80, .90, .95, .99 };

enum kind { BETA_BINOMIAL, NEG_BINOMIAL, BINOMIAL };

/* clang-format off */
static const struct quantile_row {
	enum kind kind;
	int n;
	double a, b; /* NEG_BINOMIAL: mean, k; BINOMIAL: chance */
	int x[NELEM(levels)];
} quantiles[] = {
	/* SciPy, all but the one marked */
	{ BETA_BINOMIAL, 100, 12, 88, { 12, 15, 16, 18, 20, 24 } },
	{ BETA_BINOMIAL, 80, 6, 54, { 8, 10, 11, 13, 15, 19 } },
	{ BETA_BINOMIAL, 120, 30, 90, { 30, 34, 36, 39, 41, 47 } },
	{ BETA_BINOMIAL, 60, 3, 17, { 8, 12, 13, 16, 19, 25 } },
	{ BETA_BINOMIAL, 150, 45, 105, { 45, 50, 52, 55, 58, 64 } },
	{ BETA_BINOMIAL, 100, 2, 18, { 9, 14, 15, 20, 24, 32 } },
	{ BETA_BINOMIAL, 900, 40, 60, { 359, 391, 399, 420, 437, 470 } },
	{ BETA_BINOMIAL, 40, .3, .6, { 8, 25, 29, 36, 39, 40 } },
	{ BETA_BINOMIAL, 200, .5, 20, { 2, 7, 8, 14, 19, 32 } },
	{ BETA_BINOMIAL, 1000, 400, .7,
	    { 999, 1000, 1000, 1000, 1000, 1000 } },
	{ NEG_BINOMIAL, 0, 12, 4, { 11, 16, 17, 21, 25, 33 } },
	/* F(7) is 1/2 exactly (negative binomial of 8 successes at 1/2, by
	 * symmetry); SciPy falls into the trap and says 8 */
	{ NEG_BINOMIAL, 0, 8, 8, { 7, 10, 11, 13, 15, 19 } },
	{ NEG_BINOMIAL, 0, 20, 5, { 19, 26, 28, 33, 39, 50 } },
	{ NEG_BINOMIAL, 0, 3, .5, { 1, 4, 5, 9, 12, 21 } },
	{ NEG_BINOMIAL, 0, .2, 1, { 0, 0, 0, 1, 1, 2 } },
	{ NEG_BINOMIAL, 0, 900, 4, { 826, 1150, 1242, 1505, 1746, 2263 } },
	{ NEG_BINOMIAL, 0, 900, 1, { 624, 1248, 1449, 2073, 2697, 4146 } },
	{ NEG_BINOMIAL, 0, 900, DIST_POISSON,
	    { 900, 920, 925, 939, 950, 971 } },
	{ BINOMIAL, 900, .93, 0, { 837, 842, 843, 847, 849, 854 } },
};

static const struct pmf_row {
	enum kind kind;
	int n;
	double a, b;
	int x;
	double p;
} pmfs[] = {
	/* SciPy, twelve figures */
	{ BETA_BINOMIAL, 100, 12, 88, 7, 0.0579170316794 },
	{ BETA_BINOMIAL, 40, .3, .6, 3, 0.0365192882996 },
	{ BETA_BINOMIAL, 40, .3, .6, 40, 0.0389975090681 },
	{ BETA_BINOMIAL, 900, 40, 60, 500, 0.000104208938542 },
	{ BETA_BINOMIAL, 100, 2, 18, 15, 0.0312650728244 },
	{ NEG_BINOMIAL, 0, 900, 4, 400, 0.000704242207951 },
	/* mean 900: started at 0, e^-900 is no number of this machine */
	{ NEG_BINOMIAL, 0, 900, DIST_POISSON, 900, 0.0132968447671 },
	{ NEG_BINOMIAL, 0, 900, DIST_POISSON, 1100, 1.18545183159e-11 },
	{ NEG_BINOMIAL, 0, 900, DIST_POISSON, 700, 5.25462298246e-13 },
	/* at 0 this one is 2^-2000: no number either */
	{ NEG_BINOMIAL, 0, 2000, 2000, 2000, 0.006307437077918 },
	{ NEG_BINOMIAL, 0, 2000, 2000, 1800, 3.524126115366e-05 },
	/* discrete uniform: Beta(1, 1) */
	{ BETA_BINOMIAL, 9, 1, 1, 4, .1 },
	/* urn of Polya, 1 red 1 white, drawn and doubled 3 times: 1/4 each */
	{ BETA_BINOMIAL, 3, 1, 1, 0, .25 },
	/* two coins */
	{ BINOMIAL, 2, .5, 0, 1, .5 },
	/* e^-1 */
	{ NEG_BINOMIAL, 0, 1, DIST_POISSON, 0, 0.367879441171442 },
	/* geometric, mean 1: 1/2, 1/4 ... */
	{ NEG_BINOMIAL, 0, 1, 1, 3, 1.0 / 16 },
};
/* clang-format on */

static struct dist
make(enum kind kind, int n, double a, double b)
{
	switch (kind) {
	case BETA_BINOMIAL:
		return dist_beta_binomial(n, a, b);
	case NEG_BINOMIAL:
		return dist_neg_binomial(a, b);
	case BINOMIAL:
		return dist_binomial(n, a);
	}
	abort();
}

static double
variance(enum kind kind, int n, double a, double b)
{
	double s = a / (a + b);

	switch (kind) {
	case BETA_BINOMIAL:
		return n * s * (1 - s) * (a + b + n) / (a + b + 1);
	case NEG_BINOMIAL:
		return a + a * a / b;
	case BINOMIAL:
		return n * a * (1 - a);
	}
	abort();
}

START_TEST(test_quantile)
{
	const struct quantile_row *r = &quantiles[_i];
	struct dist d = make(r->kind, r->n, r->a, r->b);
	size_t i;

	for (i = 0; i < NELEM(levels); i++)
		ck_assert_msg(dist_quantile(&d, levels[i]) == r->x[i],
		    "level %.2f: %d, not %d", levels[i],
		    dist_quantile(&d, levels[i]), r->x[i]);
	dist_fini(&d);
}
END_TEST

START_TEST(test_pmf)
{
	const struct pmf_row *r = &pmfs[_i];
	struct dist d = make(r->kind, r->n, r->a, r->b);

	ck_assert_uint_gt(d.n, (size_t)r->x);
	ck_assert_double_eq_tol(d.p[r->x] / r->p, 1, 1e-9);
	dist_fini(&d);
}
END_TEST

/* Sum, mean and variance are those of the formulas; quantiles never fall. */
START_TEST(test_moments)
{
	const struct quantile_row *r = &quantiles[_i];
	struct dist d = make(r->kind, r->n, r->a, r->b);
	double mean, var = variance(r->kind, r->n, r->a, r->b), sum = 0;
	size_t i;
	int t, q, last = 0;

	mean = r->kind == BETA_BINOMIAL ? r->n * r->a / (r->a + r->b)
	    : r->kind == BINOMIAL       ? r->n * r->a
					: r->a;
	for (i = 0; i < d.n; i++) {
		ck_assert(d.p[i] >= 0 && d.p[i] <= 1);
		sum += d.p[i];
	}
	ck_assert_double_eq_tol(sum, 1, 1e-12);
	ck_assert_double_eq_tol(dist_mean(&d), mean, 1e-8 * (1 + mean));
	ck_assert_double_eq_tol(dist_variance(&d), var, 1e-8 * (1 + var));
	for (t = 0; t <= 1000; t++) {
		q = dist_quantile(&d, t / 1000.0);
		ck_assert_int_ge(q, last);
		ck_assert(dist_cdf(&d, q) >= t / 1000.0 - 1e-11);
		ck_assert(q == 0 || dist_cdf(&d, q - 1) < t / 1000.0 + 1e-11);
		last = q;
	}
	dist_fini(&d);
}
END_TEST

/* cdf(2; n 4, a .5, b .4) = 0.5056: tests of the R package fitODBOD
 * (repository Amalan-ConStat/fitODBOD). */
START_TEST(test_published_cdf)
{
	struct dist d = dist_beta_binomial(4, .5, .4);

	ck_assert_double_eq_tol(dist_cdf(&d, 2), .5056, .00005);
	ck_assert_double_eq_tol(dist_cdf(&d, 2), 0.50556098469, 1e-11);
	ck_assert(dist_cdf(&d, -1) <= 0);
	ck_assert_double_eq_tol(dist_cdf(&d, 4000), 1, 1e-15);
	dist_fini(&d);
}
END_TEST

/*
 * 110 booked, show rate Beta(93, 7), walk-ins NB(13, 4), dish Beta(20, 130).
 * SciPy: convolution and mixture by its own mass functions.
 */
START_TEST(test_mixture)
{
	static const int x[] = { 15, 19, 19, 22, 24, 28 };
	struct dist shows = dist_beta_binomial(110, 93, 7);
	struct dist walk = dist_neg_binomial(13, 4);
	struct dist covers = dist_sum(&shows, &walk);
	struct dist dish = dist_orders(&covers, 20, 130);
	size_t i;

	ck_assert_double_eq_tol(dist_mean(&covers), 115.30, 1e-9);
	ck_assert_double_eq_tol(sqrt(dist_variance(&covers)), 8.37, .005);
	ck_assert_double_eq_tol(dist_mean(&dish), 115.3 * 20 / 150, 1e-9);
	ck_assert_double_eq_tol(dish.p[0], .0000070937, 5e-11);
	ck_assert_double_eq_tol(dish.p[10], .0522287981, 5e-11);
	ck_assert_double_eq_tol(dish.p[15], .0806749170, 5e-11);
	ck_assert_double_eq_tol(dish.p[30], .0022267019, 5e-11);
	for (i = 0; i < NELEM(levels); i++)
		ck_assert_int_eq(dist_quantile(&dish, levels[i]), x[i]);
	dist_fini(&shows);
	dist_fini(&walk);
	dist_fini(&covers);
	dist_fini(&dish);
}
END_TEST

static void
check_same(struct dist x, struct dist y)
{
	size_t i, n = x.n > y.n ? x.n : y.n;

	for (i = 0; i < n; i++)
		ck_assert_double_eq_tol(
		    i < x.n ? x.p[i] : 0, i < y.n ? y.p[i] : 0, 1e-13);
	dist_fini(&x);
	dist_fini(&y);
}

/* Binomials of one chance add up; so do negative binomials of one ratio. */
START_TEST(test_sums_known)
{
	struct dist a = dist_binomial(30, .3), b = dist_binomial(12, .3);
	struct dist c = dist_neg_binomial(6, 2), d = dist_neg_binomial(9, 3);

	check_same(dist_sum(&a, &b), dist_binomial(42, .3));
	check_same(dist_sum(&c, &d), dist_neg_binomial(15, 5));
	dist_fini(&a);
	dist_fini(&b);
	dist_fini(&c);
	dist_fini(&d);
}
END_TEST

/* Of 50 guests known to come, or of Poisson many: both have closed forms. */
START_TEST(test_orders_known)
{
	struct dist fifty = dist_point(50);
	struct dist poisson = dist_neg_binomial(40, DIST_POISSON);

	check_same(dist_orders(&fifty, 3, 17), dist_beta_binomial(50, 3, 17));
	/* a share known for certain thins a Poisson to a Poisson */
	check_same(dist_orders(&poisson, 2.5e14, 7.5e14),
	    dist_neg_binomial(10, DIST_POISSON));
	check_same(dist_orders(&fifty, 0, 5), dist_point(0));
	check_same(dist_orders(&fifty, 5, 0), dist_point(50));
	dist_fini(&fifty);
	dist_fini(&poisson);
}
END_TEST

/* Eight tenths, added up one by one, fall short of .8 by a rounding. */
START_TEST(test_tie)
{
	struct dist d = dist_point(9);
	int x;

	for (x = 0; x < 10; x++)
		d.p[x] = .1;
	ck_assert(.1 + .1 + .1 + .1 + .1 + .1 + .1 + .1 < .8);
	for (x = 1; x <= 10; x++)
		ck_assert_int_eq(dist_quantile(&d, x / 10.0), x - 1);
	dist_fini(&d);
}
END_TEST

/* 95 % of lunch and 95 % of dinner is more than 95 % of both. */
START_TEST(test_sum_of_quantiles)
{
	struct dist lunch = dist_neg_binomial(12, 4);
	struct dist dinner = dist_neg_binomial(20, 5);
	struct dist both = dist_sum(&lunch, &dinner);
	int apart = dist_quantile(&lunch, .95) + dist_quantile(&dinner, .95);

	ck_assert_int_eq(apart, 25 + 39);
	ck_assert_int_lt(dist_quantile(&both, .95), apart);
	ck_assert_double_eq_tol(dist_mean(&both), 32, 1e-9);
	ck_assert_double_eq_tol(dist_variance(&both), 48 + 100, 1e-7);
	dist_fini(&lunch);
	dist_fini(&dinner);
	dist_fini(&both);
}
END_TEST

/* Far out both ways from mean 900, and nothing in between is 0. */
START_TEST(test_far_tails)
{
	struct dist d = dist_neg_binomial(900, DIST_POISSON);
	struct dist b = dist_beta_binomial(1800, 5000, 5000);
	int x;

	for (x = 700; x < 1140; x++)
		ck_assert(d.p[x] > 0);
	/* log p(700) = -28.2744979517: SciPy */
	ck_assert_double_eq_tol(log(d.p[700]), -28.2744979517, 1e-8);
	for (x = 700; x < 1100; x++)
		ck_assert_double_eq_tol(b.p[x] / b.p[1800 - x], 1, 1e-9);
	dist_fini(&d);
	dist_fini(&b);
}
END_TEST

/* A 2 and a 3 at one half: 0, 2, 3 or 5 guests, a quarter each. */
START_TEST(test_parties)
{
	static const int two[] = { 2, 3 };
	static const int ones[] = { 1, 1, 1, 1, 1, 1 };
	struct dist d = dist_parties(two, 2, .5);
	int x;

	ck_assert_uint_eq(d.n, 6);
	for (x = 0; x < 6; x++)
		ck_assert_double_eq_tol(
		    d.p[x], x == 1 || x == 4 ? 0 : .25, 1e-15);
	dist_fini(&d);
	check_same(dist_parties(ones, 6, .93), dist_binomial(6, .93));
	check_same(dist_parties(NULL, 0, .5), dist_point(0));
}
END_TEST

START_TEST(test_ends)
{
	struct dist two = dist_two(7, .25), none = dist_point(0), d;

	ck_assert_double_eq_tol(two.p[0], .75, 1e-15);
	ck_assert_double_eq_tol(two.p[7], .25, 1e-15);
	d = dist_blend(&two, &none, .4);
	ck_assert_double_eq_tol(d.p[7], .1, 1e-15);
	ck_assert_double_eq_tol(d.p[0], .9, 1e-15);
	dist_fini(&d);
	check_same(dist_binomial(9, 0), dist_point(0));
	check_same(dist_binomial(9, 1), dist_point(9));
	check_same(dist_binomial(0, .5), dist_point(0));
	check_same(dist_beta_binomial(9, 0, 3), dist_point(0));
	check_same(dist_beta_binomial(9, 3, 0), dist_point(9));
	check_same(dist_beta_binomial(0, 3, 3), dist_point(0));
	check_same(dist_neg_binomial(0, 4), dist_point(0));
	/* very sure of the chance: a binomial */
	check_same(dist_beta_binomial(60, 3e14, 7e14), dist_binomial(60, .3));
	check_same(dist_two(0, .3), dist_point(0));
	dist_fini(&two);
	dist_fini(&none);
}
END_TEST

Suite *
suite_core_dist(void)
{
	Suite *s = suite_create("core_dist");
	TCase *tc = tcase_create("dist");

	tcase_add_loop_test(tc, test_quantile, 0, NELEM(quantiles));
	tcase_add_loop_test(tc, test_moments, 0, NELEM(quantiles));
	tcase_add_loop_test(tc, test_pmf, 0, NELEM(pmfs));
	tcase_add_test(tc, test_published_cdf);
	tcase_add_test(tc, test_mixture);
	tcase_add_test(tc, test_sums_known);
	tcase_add_test(tc, test_orders_known);
	tcase_add_test(tc, test_tie);
	tcase_add_test(tc, test_sum_of_quantiles);
	tcase_add_test(tc, test_far_tails);
	tcase_add_test(tc, test_parties);
	tcase_add_test(tc, test_ends);
	suite_add_tcase(s, tc);
	return s;
}
