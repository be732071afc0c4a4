/* test_core_fishweights.c - weights of fish nobody weighed one by one. */
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "chance.h"
#include "core/fishweights.h"
#include "unit.h"

#define FISH 20

/* Portions out of n fish: each of `pieces` a fish yields floor(u / low). */
static int64_t
portions(const grams *w, int64_t n, int yield_bp, int pieces, grams low)
{
	int64_t sum = 0, j;

	for (j = 0; j < n; j++)
		sum += pieces * (w[j] * yield_bp / BP_ONE / pieces / low);
	return sum;
}

/*
 * The behaviour table of our prototype: portions out of 20 fish of known total,
 * promised by equal fish, by mid-points, and the mean of 5000 true draws.  It
 * is a simulation of ours, nothing published, and did not write down its yields
 * and low weights: those here give its figures back, but for hake of 900 g,
 * whose row (40 / 36 / 37.7) they give as 40 / 38 / 38.4.
 */
static const struct {
	const char *why;
	grams mean;
	int cv_bp, yield_bp, pieces;
	grams low;
	int64_t equal, mid;
	double truth;
} behaviour[] = {
	{ "hake 1500 g", 1500, 2500, 4700, 2, 150, 80, 74, 73.9 },
	{ "hake 1500 g, alike", 1500, 1500, 4700, 2, 150, 80, 76, 75.4 },
	{ "hake 900 g", 900, 2500, 4700, 2, 150, 40, 38, 38.4 },
	{ "bass 700 g", 700, 2800, 4600, 2, 120, 40, 36, 35.5 },
	{ "salmon 4.2 kg", 4200, 1200, 6200, 2, 140, 360, 352, 352.1 },
	{ "plaice 550 g in quarters", 550, 2500, 4200, 4, 75, 0, 8, 9.0 },
};

static double
true_mean(int row, int draws)
{
	double cv = behaviour[row].cv_bp / 1e4, s = sqrt(log(1 + cv * cv));
	double z[FISH], sum, total = 0;
	grams w[FISH];
	uint64_t seed = 5 + (uint64_t)row;
	int i, j;

	for (i = 0; i < draws; i++) {
		sum = 0;
		for (j = 0; j < FISH; j++)
			sum += z[j] = exp(s * chance_normal(&seed));
		for (j = 0; j < FISH; j++)
			w[j] = (grams)((double)(behaviour[row].mean * FISH) *
			    z[j] / sum);
		total += (double)portions(w, FISH, behaviour[row].yield_bp,
		    behaviour[row].pieces, behaviour[row].low);
	}
	return total / draws;
}

START_TEST(behaviour_rows)
{
	grams w[FISH], equal[FISH];
	double truth = true_mean(_i, 5000);
	int64_t by_equal, by_mid;
	int j;

	for (j = 0; j < FISH; j++)
		equal[j] = behaviour[_i].mean;
	fish_weights(w, FISH, behaviour[_i].mean * FISH, behaviour[_i].cv_bp);
	by_equal = portions(equal, FISH, behaviour[_i].yield_bp,
	    behaviour[_i].pieces, behaviour[_i].low);
	by_mid = portions(w, FISH, behaviour[_i].yield_bp, behaviour[_i].pieces,
	    behaviour[_i].low);
	ck_assert_msg(by_equal == behaviour[_i].equal, "%s: equal %d",
	    behaviour[_i].why, (int)by_equal);
	ck_assert_msg(by_mid == behaviour[_i].mid, "%s: mid-points %d",
	    behaviour[_i].why, (int)by_mid);
	ck_assert_msg(fabs(truth - behaviour[_i].truth) < 0.6, "%s: truth %f",
	    behaviour[_i].why, truth);
	ck_assert(
	    fabs((double)by_mid - truth) < fabs((double)by_equal - truth));
}
END_TEST

/* Quartile of the normal table 0.674490, sextile 0.967422; ln(1.04) =
 * 0.0392207.  Two fish: 1 : exp(2 x 0.674490 x 0.198042) = 1 : 1.30624. */
START_TEST(by_hand)
{
	grams w[3];

	fish_weights(w, 1, 1234, 2000);
	ck_assert_int_eq(w[0], 1234);
	fish_weights(w, 2, 1000000, 2000);
	ck_assert_int_eq(w[0], 433606);
	ck_assert_int_eq(w[1], 566394);
	/* 0.825645 : 1 : 1.211174 of 3.036819 */
	fish_weights(w, 3, 1000000, 2000);
	ck_assert_int_eq(w[0], 271878);
	ck_assert_int_eq(w[1], 329292);
	ck_assert_int_eq(w[2], 398830);
}
END_TEST

/* Any count, total and spread: sums are exact, smallest first. */
START_TEST(sums_are_exact)
{
	static grams w[COUNT_MAX];
	uint64_t seed = 3;
	int64_t n, j, sum;
	grams total;
	int i, cv;

	for (i = 0; i < 2000; i++) {
		n = 1 + (int64_t)(chance_next(&seed) % 150);
		total = (grams)(chance_next(&seed) % WEIGHT_MAX_G);
		cv = (int)(chance_next(&seed) % (FISH_CV_MAX_BP + 1));
		fish_weights(w, n, total, cv);
		for (sum = j = 0; j < n; j++) {
			sum += w[j];
			ck_assert_int_ge(w[j], j == 0 ? 0 : w[j - 1]);
		}
		ck_assert_int_eq(sum, total);
	}
	fish_weights(w, COUNT_MAX, WEIGHT_MAX_G, 2000);
	for (sum = j = 0; j < COUNT_MAX; j++)
		sum += w[j];
	ck_assert_int_eq(sum, WEIGHT_MAX_G);
}
END_TEST

START_TEST(no_spread_is_equal)
{
	grams w[7];
	int j, more = 0;

	fish_weights(w, 7, 1000, 0);
	for (j = 0; j < 7; j++) {
		ck_assert(w[j] == 142 || w[j] == 143);
		more += w[j] == 143;
	}
	ck_assert_int_eq(more, 6);
}
END_TEST

/* Many mid-points have the mean and nearly the spread they were made for. */
START_TEST(spread_is_kept)
{
	static grams w[1000];
	struct fish_spread s = { 0, 0 };
	int cv;

	for (cv = 500; cv <= 4000; cv += 500) {
		s.squares = 0;
		s.freedom = 0;
		fish_weights(w, 1000, 900000, cv);
		fish_spread_add(&s, w, 1000);
		ck_assert_int_le(
		    abs((int)lround(1e4 * sqrt(s.squares / 999)) - cv),
		    cv / 50);
	}
}
END_TEST

/* 800, 1000, 1200 g: squares 0.04 + 0 + 0.04 over 2; with the start's 10 of
 * 0.04: sqrt(0.48 / 12) = 0.2 as before; alike fish pull it down. */
START_TEST(learned_spread)
{
	static const grams three[] = { 800, 1000, 1200 };
	static const grams alike[] = { 1000, 1000, 1000, 1000, 1000, 1000, 1000,
		1000, 1000, 1000, 1000 };
	struct fish_spread s = { 0, 0 };

	ck_assert_int_eq(fish_spread_cv(&s), FISH_CV_START_BP);
	fish_spread_add(&s, three, 1);
	ck_assert_int_eq(s.freedom, 0);
	fish_spread_add(&s, three, 3);
	ck_assert_int_eq(s.freedom, 2);
	ck_assert_int_eq(fish_spread_cv(&s), 2000);
	fish_spread_add(&s, alike, NELEM(alike));
	/* sqrt(0.48 / 22) = 0.147710 */
	ck_assert_int_eq(fish_spread_cv(&s), 1477);
}
END_TEST

Suite *
suite_core_fishweights(void)
{
	Suite *s = suite_create("core_fishweights");
	TCase *tc = tcase_create("fishweights");

	tcase_add_loop_test(tc, behaviour_rows, 0, (int)NELEM(behaviour));
	tcase_add_test(tc, by_hand);
	tcase_add_test(tc, sums_are_exact);
	tcase_add_test(tc, no_spread_is_equal);
	tcase_add_test(tc, spread_is_kept);
	tcase_add_test(tc, learned_spread);
	suite_add_tcase(s, tc);
	return s;
}
