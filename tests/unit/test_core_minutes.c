/*
 * test_core_minutes.c - start values of the work, the pace that learns, and
 * files to be refused.
 */
#include "unit.h"

#include <math.h>
#include <string.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "core/minutes.h"

static struct minutes_table real;
static struct pace_book book;

static void
load_real(void)
{
	struct buf b;
	struct err err = { 0 };

	buf_init(&b, FILE_READ_MAX);
	ck_assert_msg(
	    file_read(&b, "config/minutes.csv", &err) == RC_OK, "%s", err.text);
	ck_assert_msg(
	    minutes_parse(&real, "minutes", b.data, b.len, &err) == RC_OK, "%s",
	    err.text);
	buf_fini(&b);
	book.table = &real;
	book.learned = NULL;
	book.learned_count = 0;
}

static void
drop_real(void)
{
	minutes_fini(&real);
}

/*
 * Source: the planning contract, part B 6: all from memory, house estimates;
 * no published time standard for restaurant work was found.  -1: no row, or
 * not done.
 */
/* clang-format off */
static const struct {
	const char *why;
	enum task_kind task;
	const char *species;
	enum body_form form;
	int size_g, seconds;
} rows[] = {
	{ "under a kilogram", TASK_SCALE, "BSS", FORM_ROUND, 999, 60 },
	{ "a kilogram", TASK_SCALE, "BSS", FORM_ROUND, 1000, 120 },
	{ "no scales", TASK_SCALE, "MON", FORM_ROUND, 2000, -1 },
	{ "flat fish", TASK_SCALE, "PLE", FORM_FLAT, 500, -1 },
	{ "size not known", TASK_GUT, "HKE", FORM_ROUND, 0, 45 },
	{ "larger", TASK_GUT, "HKE", FORM_ROUND, 1500, 90 },
	{ "a ray", TASK_GUT, "RJC", FORM_CARTILAGINOUS, 1500, 90 },
	{ "small", TASK_FILLET, "HKE", FORM_ROUND, 700, 90 },
	{ "middle", TASK_FILLET, "HKE", FORM_ROUND, 2999, 150 },
	{ "large", TASK_FILLET, "HKE", FORM_ROUND, 3000, 180 },
	{ "salmon", TASK_FILLET, "SAL", FORM_ROUND, 3500, 180 },
	{ "small salmon as any", TASK_FILLET, "SAL", FORM_ROUND, 2000, 150 },
	{ "in lower case", TASK_PINBONE, "sal", FORM_ROUND, 4000, 240 },
	{ "flat", TASK_FILLET, "PLE", FORM_FLAT, 550, 180 },
	{ "pin-bones", TASK_PINBONE, "COD", FORM_ROUND, 2500, 45 },
	{ "a salmon side", TASK_PINBONE, "SAL", FORM_ROUND, 4000, 240 },
	{ "none in a flat fish", TASK_PINBONE, "PLE", FORM_FLAT, 500, -1 },
	{ "none in a monkfish", TASK_PINBONE, "MON", FORM_ROUND, 500, -1 },
	{ "skin", TASK_SKIN, "PLE", FORM_FLAT, 500, 20 },
	{ "skin of a side", TASK_SKIN, "SAL", FORM_ROUND, 4000, 45 },
	{ "whole plaice", TASK_TRIM, "PLE", FORM_FLAT, 500, 90 },
	{ "squid", TASK_CLEAN, "SQR", FORM_CEPHALOPOD, 300, 120 },
	{ "prawn", TASK_PEEL, "PNV", FORM_CRUSTACEAN, 20, 15 },
	{ "a lobster is no prawn", TASK_PEEL, "LBE", FORM_CRUSTACEAN, 600, -1 },
	{ "crab", TASK_DRESS, "CRE", FORM_CRUSTACEAN, 800, 900 },
	{ "oyster", TASK_OPEN, "OYG", FORM_BIVALVE, 90, 30 },
	{ "scallop", TASK_OPEN, "SCE", FORM_BIVALVE, 200, 45 },
	{ "a mussel is not opened", TASK_OPEN, "MUS", FORM_BIVALVE, 0, -1 },
	{ "mussels", TASK_SCRUB, "MUS", FORM_BIVALVE, 0, 300 },
	{ "oysters are opened", TASK_SCRUB, "OYF", FORM_BIVALVE, 0, -1 },
	{ "cockles", TASK_SCRUB, "COC", FORM_BIVALVE, 0, 300 },
	{ "portion", TASK_PORTION, "COD", FORM_ROUND, 2000, 20 },
	{ "tray", TASK_TRAY, "MUS", FORM_BIVALVE, 0, 45 },
	{ "board", TASK_CHANGE, "", FORM_ROUND, 0, 120 },
	{ "clean-down", TASK_CLEANDOWN, "", FORM_ROUND, 0, 420 },
};
/* clang-format on */

START_TEST(start_values)
{
	struct pace p;
	bool found = pace_find(&p, &book, rows[_i].task, rows[_i].species,
	    rows[_i].form, rows[_i].size_g);

	ck_assert_msg(found == (rows[_i].seconds > 0), "%s: row", rows[_i].why);
	if (!found)
		return;
	ck_assert_msg(pace_ms(&p) == rows[_i].seconds * 1000, "%s: %lld ms",
	    rows[_i].why, (long long)pace_ms(&p));
	ck_assert(!p.learned);
}
END_TEST

/* Nothing here was measured or read in a standard, and every row says so. */
START_TEST(marked_as_estimates)
{
	const char *s;
	size_t i;

	ck_assert_uint_gt(real.count, 40);
	for (i = 0; i < real.count; i++) {
		s = real.items[i].source;
		ck_assert_msg(!real.items[i].verified, "row %zu", i + 1);
		ck_assert_msg(real.items[i].seconds == 0
			? strstr(s, "common practice, no source") != NULL
			: strstr(s,
			      "from memory, unverified: house "
			      "estimate") != NULL,
		    "row %zu: %s", i + 1, s);
	}
}
END_TEST

/*
 * Source: smokehouse.ie, about-us/process/filleting: a trained hand filleter
 * does 40 to 50 salmon of 3 to 4 kg an hour, pin-boning apart; 1news.co.nz,
 * 2023-06-20: record for filleting and portioning one of 10 lb 60.3 s.  A
 * kitchen's cook is expected slower than both, by no more than three times.
 */
START_TEST(slower_than_the_trade)
{
	const struct minutes_row *r =
	    minutes_find(&real, TASK_FILLET, "SAL", FORM_ROUND, 3500);

	ck_assert_int_ge(r->seconds, 3600 / 40);
	ck_assert_int_le(r->seconds, 3 * 3600 / 50);
	ck_assert_int_ge(r->seconds * 10, 603);
	ck_assert_ptr_nonnull(strstr(r->source, "smokehouse.ie"));
}
END_TEST

/* Worked by hand from spec 5: shape 0.9 x 20 + 10 = 28, scale
 * 0.9 x 20 x 90 + 1200 = 2820 s, 2820 / 28 = 100.7143 s. */
START_TEST(learns)
{
	struct pace p;

	ck_assert(pace_find(&p, &book, TASK_FILLET, "HKE", FORM_ROUND, 700));
	pace_learn(&p, 10, 1200000);
	ck_assert(p.learned);
	ck_assert_int_eq(p.shape, 28000);
	ck_assert_int_eq(p.scale, 2820000);
	ck_assert_int_eq(pace_ms(&p), 100715);
}
END_TEST

/* A kitchen that needs 60 s, told so thirty times, is believed. */
START_TEST(forgets_the_estimate)
{
	struct pace p;
	int i;

	ck_assert(pace_find(&p, &book, TASK_FILLET, "HKE", FORM_ROUND, 700));
	for (i = 0; i < 30; i++)
		pace_learn(&p, 10, 600000);
	ck_assert_int_ge(pace_ms(&p), 60000);
	ck_assert_int_le(pace_ms(&p), 60300);
	/* Ten a day for ever is worth a hundred units, no more. */
	ck_assert_int_le(p.shape, 100000);
}
END_TEST

START_TEST(learned_is_found_for_its_band_alone)
{
	struct pace own, p;
	struct pace_book with = book;

	ck_assert(pace_find(&own, &book, TASK_FILLET, "HKE", FORM_ROUND, 700));
	pace_learn(&own, 10, 1200000);
	with.learned = &own;
	with.learned_count = 1;
	ck_assert(pace_find(&p, &with, TASK_FILLET, "hke", FORM_ROUND, 999));
	ck_assert(p.learned);
	ck_assert_int_eq(pace_ms(&p), 100715);
	ck_assert(pace_find(&p, &with, TASK_FILLET, "HKE", FORM_ROUND, 1000));
	ck_assert(!p.learned);
	ck_assert(pace_find(&p, &with, TASK_FILLET, "COD", FORM_ROUND, 700));
	ck_assert(!p.learned);
	ck_assert(pace_find(&p, &with, TASK_GUT, "HKE", FORM_ROUND, 700));
	ck_assert(!p.learned);
}
END_TEST

/* P(Gamma(k) <= x) for whole k: the Erlang distribution, summed out. */
static double
erlang(int k, double x)
{
	double term = 1.0, sum = 1.0;
	int i;

	for (i = 1; i < k; i++) {
		term *= x / i;
		sum += term;
	}
	return 1.0 - exp(-x) * sum;
}

/*
 * The slow pace is the mean over the 20 % point of the rate.  Lower 20 %
 * points of chi-square with 2k degrees of freedom, as statistical tables give
 * them (from memory; the exact sum beside it checks them): 10 6.179, 20
 * 14.578, 40 32.345, 100 87.945.
 */
START_TEST(slow_pace)
{
	static const struct {
		int k;
		double chi2;
	} t[] = { { 5, 6.179 }, { 10, 14.578 }, { 20, 32.345 },
		{ 50, 87.945 } };
	struct pace p = { .task = TASK_FILLET };
	double point;
	size_t i;

	for (i = 0; i < NELEM(t); i++) {
		p.shape = t[i].k * 1000;
		p.scale = p.shape * 90;
		point = t[i].k * (double)pace_ms(&p) / (double)pace_slow_ms(&p);
		ck_assert_double_eq_tol(point, t[i].chi2 / 2, 0.01);
		ck_assert_double_eq_tol(erlang(t[i].k, point), 0.2, 0.0015);
	}
}
END_TEST

/* Never faster than expected; nearer to it the more is known. */
START_TEST(slow_pace_narrows)
{
	struct pace p = { .task = TASK_FILLET };
	int64_t shape, last = INT64_MAX;

	for (shape = 1000; shape < 100000000; shape = shape * 3 / 2) {
		p.shape = shape;
		p.scale = shape * 90;
		ck_assert_int_eq(pace_ms(&p), 90000);
		ck_assert_int_gt(pace_slow_ms(&p), 90000);
		ck_assert_int_le(pace_slow_ms(&p), last);
		last = pace_slow_ms(&p);
	}
	p.shape = 1;
	p.scale = 90;
	ck_assert_int_eq(pace_slow_ms(&p), 270000);
}
END_TEST

#define HEAD "task,group,from_g,below_g,seconds,unit,source,verified\n"
#define TAIL                                                                   \
	"change,any,,,120,time,x,no\n"                                         \
	"clean-down,any,,,420,time,x,no\n"

static const struct {
	const char *csv, *says;
} bad[] = {
	{ HEAD, "m:1:1: no tasks in it" },
	{ HEAD "gut,round,,,45,each,x,no\n", "no row of change for any" },
	{ HEAD "change,any,,,9,time,x,no\n", "no row of clean-down for any" },
	{ HEAD TAIL "scal,round,,,60,each,x,no\n",
	    "m:4:1: task \"scal\" is not one of scrub, scale" },
	{ HEAD TAIL "gut,rund,,,60,each,x,no\n",
	    "m:4:5: group \"rund\" is not a species code, a body form or any" },
	{ HEAD TAIL "gut,round,,,60,piece,x,no\n",
	    "the unit of gut is each, not piece" },
	{ HEAD TAIL "gut,round,,,60,day,x,no\n", "unit \"day\" is not one" },
	{ HEAD TAIL "gut,round,,,-1,each,x,no\n", "seconds -1 is outside" },
	{ HEAD TAIL "gut,round,,,7201,each,x,no\n", "seconds 7201 is outside" },
	{ HEAD TAIL "gut,round,,,1.5,each,x,no\n", "m:4:13: " },
	{ HEAD TAIL "gut,round,9,9,60,each,x,no\n",
	    "m:4:13: below_g 9 is not above from_g 9" },
	{ HEAD TAIL "gut,round,0,9,60,each,x,no\n", "from_g 0 is outside" },
	{ HEAD TAIL "gut,round,,,60,each,,no\n", "source" },
	{ HEAD TAIL "gut,round,,,60,each,x,maybe\n", "verified \"maybe\"" },
	{ HEAD TAIL "gut,round,,9,60,each,x,no\ngut,round,8,,9,each,x,no\n",
	    "m:5:11: a second row of gut for round holds these sizes" },
	{ HEAD TAIL "tray,any,,,60,tray,x,no\ntray,any,5,6,9,tray,x,no\n",
	    "m:5:10: a second row of tray for any" },
	{ HEAD TAIL "gut,COD,,,60,each,x,no\ngut,COD,,,9,each,x,no\n",
	    "a second row of gut for COD" },
};

START_TEST(bad_files)
{
	struct minutes_table t;
	struct err err = { 0 };

	ck_assert_int_eq(
	    minutes_parse(&t, "m", bad[_i].csv, strlen(bad[_i].csv), &err),
	    RC_INVALID);
	ck_assert_msg(strstr(err.text, bad[_i].says) != NULL, "%s", err.text);
	ck_assert_ptr_null(t.items);
	ck_assert_uint_eq(t.count, 0);
}
END_TEST

/* The species' own before its form before any, in whatever order they stand;
 * bands that meet do not overlap. */
START_TEST(closest_row_wins)
{
	static const char csv[] = HEAD
	    "gut,any,,,1,each,x,no\n"
	    "gut,COD,,500,3,each,x,no\n"
	    "gut,COD,500,,4,each,x,no\n"
	    "gut,round,,,2,each,x,no\n" TAIL;
	struct minutes_table t;
	struct err err = { 0 };

	ck_assert_msg(minutes_parse(&t, "m", csv, strlen(csv), &err) == RC_OK,
	    "%s", err.text);
	ck_assert_int_eq(
	    minutes_find(&t, TASK_GUT, "COD", FORM_ROUND, 499)->seconds, 3);
	ck_assert_int_eq(
	    minutes_find(&t, TASK_GUT, "COD", FORM_ROUND, 500)->seconds, 4);
	ck_assert_int_eq(
	    minutes_find(&t, TASK_GUT, "HAD", FORM_ROUND, 9)->seconds, 2);
	ck_assert_int_eq(
	    minutes_find(&t, TASK_GUT, "PLE", FORM_FLAT, 9)->seconds, 1);
	ck_assert_ptr_null(minutes_find(&t, TASK_SKIN, "COD", FORM_ROUND, 9));
	minutes_fini(&t);
}
END_TEST

START_TEST(words)
{
	enum task_kind k, back;
	struct err err = { 0 };

	for (k = 0; k < TASK_COUNT; k++) {
		ck_assert_int_eq(task_parse(&back, task_word(k), NULL), RC_OK);
		ck_assert_int_eq(back, k);
		ck_assert_uint_gt(strlen(task_unit_word(task_unit(k))), 0);
	}
	ck_assert_int_eq(task_parse(&back, "Pin-Bone", NULL), RC_OK);
	ck_assert_int_eq(back, TASK_PINBONE);
	ck_assert_int_eq(task_parse(&back, "bone", &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "clean-down"));
}
END_TEST

Suite *
suite_core_minutes(void)
{
	Suite *s = suite_create("core_minutes");
	TCase *t = tcase_create("real");

	tcase_add_checked_fixture(t, load_real, drop_real);
	tcase_add_loop_test(t, start_values, 0, NELEM(rows));
	tcase_add_test(t, marked_as_estimates);
	tcase_add_test(t, slower_than_the_trade);
	tcase_add_test(t, learns);
	tcase_add_test(t, forgets_the_estimate);
	tcase_add_test(t, learned_is_found_for_its_band_alone);
	suite_add_tcase(s, t);
	t = tcase_create("pure");
	tcase_add_test(t, slow_pace);
	tcase_add_test(t, slow_pace_narrows);
	tcase_add_loop_test(t, bad_files, 0, NELEM(bad));
	tcase_add_test(t, closest_row_wins);
	tcase_add_test(t, words);
	suite_add_tcase(s, t);
	return s;
}
