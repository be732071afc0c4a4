/* test_core_allot.c - trays to services: by hand, ranges, the largest size. */
#include "unit.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "allot_case.h"
#include "core/allot.h"

/* --- by hand ---------------------------------------------------------------*/

/* Three trays, three wants at most; units 0 leaves one out. */
static const struct {
	const char *why;
	struct allot_tray tray[3];
	struct allot_want want[3];
	bool fits[9];
	int64_t share[9];
} hand[] = {
#define ALL                                                                    \
	{                                                                      \
		1, 1, 1, 1, 1, 1, 1, 1, 1                                      \
	}
	{ "the oldest that is still good, though listed last",
	    { { 4, 300 }, { 4, 200 }, { 4, 99 } }, { { 1, 3, 100, 5 } }, ALL,
	    { 0, 0, 0, 3 } },
	{ "good to the very second", { { 4, 100 } }, { { 1, 3, 100, 5 } }, ALL,
	    { 3 } },
	{ "one second late", { { 4, 99 } }, { { 1, 3, 100, 5 } }, ALL, { 0 } },
	{ "no date is no date to serve by", { { 4, 0 } }, { { 1, 3, 1, 5 } },
	    ALL, { 0 } },
	{ "what does not fit is left", { { 4, 300 }, { 4, 200 } },
	    { { 1, 3, 100, 5 } }, { 1, 0, 0, 0, 0, 0 }, { 3 } },
	{ "older to the earlier service, newer to the later",
	    { { 3, 300 }, { 3, 200 } }, { { 1, 3, 150, 5 }, { 1, 3, 100, 5 } },
	    ALL, { 3, 0, 0, 0, 3, 0 } },
	{ "a nested fit: the tray that fits both is kept for the other",
	    { { 2, 200 }, { 2, 300 } }, { { 1, 2, 100, 5 }, { 2, 2, 100, 5 } },
	    { 1, 1, 0, 1, 0, 0 }, { 0, 2, 0, 2, 0, 0 } },
	{ "the dear dish does not take the only tray of the cheap one",
	    { { 1, 200 }, { 1, 200 } },
	    { { 1, 1, 100, 900 }, { 2, 1, 100, 1 } }, { 1, 1, 0, 1, 0, 0 },
	    { 0, 1, 0, 1, 0, 0 } },
	{ "the dear dish may take the newer tray",
	    { { 1, 500 }, { 1, 500 }, { 1, 100 } },
	    { { 1, 1, 100, 5 }, { 2, 1, 500, 9 }, { 3, 1, 500, 7 } },
	    { 1, 1, 1, 1, 1, 1, 1, 1, 1 }, { 0, 1, 0, 0, 0, 1, 1, 0, 0 } },
	{ "the dearest of a dish, though the newest tray alone serves it",
	    { { 1, 100 }, { 1, 500 } }, { { 1, 1, 100, 5 }, { 2, 1, 100, 6 } },
	    { 1, 0, 0, 1, 1, 0 }, { 1, 0, 0, 0, 1, 0 } },
	{ "one portion for two dishes: the dearer", { { 1, 500 } },
	    { { 1, 1, 100, 5 }, { 2, 1, 200, 6 } }, ALL, { 0, 1, 0 } },
	{ "of equal value: the earlier service", { { 1, 500 } },
	    { { 1, 1, 200, 5 }, { 2, 1, 100, 5 } }, ALL, { 0, 1, 0 } },
	{ "of equal value and service: the first listed", { { 1, 500 } },
	    { { 1, 1, 100, 5 }, { 2, 1, 100, 5 } }, ALL, { 1, 0, 0 } },
	{ "of equal use-by: the first listed", { { 3, 500 }, { 3, 500 } },
	    { { 1, 3, 100, 5 } }, ALL, { 3, 0, 0, 0, 0, 0 } },
	{ "worth nothing is still served", { { 3, 500 } }, { { 1, 3, 100, 0 } },
	    ALL, { 3 } },
	{ "each dish from one tray, not both from both",
	    { { 3, 500 }, { 2, 500 } }, { { 1, 2, 100, 5 }, { 2, 3, 100, 5 } },
	    ALL, { 0, 3, 0, 2, 0, 0 } },
	{ "one tray that does for all rather than two of the same date",
	    { { 2, 500 }, { 5, 500 } }, { { 1, 5, 100, 5 } }, ALL,
	    { 0, 0, 0, 5, 0, 0 } },
	{ "but never a newer one to save a tray", { { 2, 400 }, { 5, 500 } },
	    { { 1, 5, 100, 5 } }, ALL, { 2, 0, 0, 3, 0, 0 } },
	{ "nothing on hand", { { 0, 500 } }, { { 1, 5, 100, 5 } }, ALL, { 0 } },
	{ "nothing wanted", { { 5, 500 } }, { { 1, 0, 100, 5 } }, ALL, { 0 } },
#undef ALL
};

/* The rows leave out trailing trays and wants; their matrices are 3 wide when
 * there are two or three, and a want with end 0 was left out. */
START_TEST(hand_rows)
{
	struct allot_case s = { 0 };
	struct allot a;
	size_t trays = 3, wants = 3, i, j;

	while (trays > 1 && hand[_i].tray[trays - 1].units == 0)
		trays--;
	while (wants > 1 && hand[_i].want[wants - 1].end_utc == 0)
		wants--;
	memcpy(s.trays, hand[_i].tray, sizeof(hand[_i].tray));
	memcpy(s.wants, hand[_i].want, sizeof(hand[_i].want));
	case_use(&s, trays, wants);
	for (i = 0; i < trays; i++)
		for (j = 0; j < wants; j++)
			s.fits[i * wants + j] = hand[_i].fits[i * 3 + j];
	case_solve(&a, &s.p);
	case_sound(&a, &s.p);
	for (i = 0; i < trays; i++)
		for (j = 0; j < wants; j++)
			ck_assert_msg(
			    case_units(&a, i, j) == hand[_i].share[i * 3 + j],
			    "%s: tray %zu, want %zu: %lld", hand[_i].why, i, j,
			    (long long)case_units(&a, i, j));
	allot_fini(&a);
}
END_TEST

START_TEST(empty)
{
	struct allot_tray tray = { 3, 100 };
	struct allot_want want = { 1, 3, 100, 5 };
	struct allot_problem none = { NULL, 0, NULL, 0, NULL };
	struct allot_problem no_want = { &tray, 1, NULL, 0, NULL };
	struct allot_problem no_tray = { NULL, 0, &want, 1, NULL };
	struct allot a;

	case_solve(&a, &none);
	ck_assert(a.count == 0 && a.items == NULL && a.served == 0);
	case_solve(&a, &no_want);
	ck_assert(a.count == 0 && a.items == NULL);
	case_solve(&a, &no_tray);
	ck_assert(a.count == 0 && a.items == NULL);
	allot_fini(&a);
}
END_TEST

static const struct {
	const char *why;
	struct allot_tray tray;
	struct allot_want want;
	const char *said; /* NULL: taken */
} ranges[] = {
	{ "as large as may be", { COUNT_MAX, INT64_MAX },
	    { -7, COUNT_MAX, INT64_MAX, ALLOT_VALUE_MAX }, NULL },
	{ "fewer than no portions", { -1, 100 }, { 1, 1, 100, 1 },
	    "tray 1: -1 portions are not in 0..100000" },
	{ "too many portions", { COUNT_MAX + 1, 100 }, { 1, 1, 100, 1 },
	    "tray 1: 100001 portions are not in 0..100000" },
	{ "fewer than none wanted", { 1, 100 }, { 1, -1, 100, 1 },
	    "want 1: -1 portions are not in 0..100000" },
	{ "too many wanted", { 1, 100 }, { 1, COUNT_MAX + 1, 100, 1 },
	    "want 1: 100001 portions are not in 0..100000" },
	{ "value below 0", { 1, 100 }, { 1, 1, 100, -1 },
	    "want 1: value -1 is not in 0..100000000000" },
	{ "value too large", { 1, 100 }, { 1, 1, 100, ALLOT_VALUE_MAX + 1 },
	    "want 1: value 100000000001 is not in 0..100000000000" },
	{ "service without an end", { 1, 100 }, { 1, 1, 0, 1 },
	    "want 1: the end of its service is not known" },
};

START_TEST(range_rows)
{
	const bool fits = true;
	struct allot_problem p = { &ranges[_i].tray, 1, &ranges[_i].want, 1,
		&fits };
	struct err err = { 0 };
	struct allot a;
	enum rc rc = allot_solve(&a, &p, &err);

	if (ranges[_i].said == NULL) {
		ck_assert_msg(rc == RC_OK, "%s: %s", ranges[_i].why, err.text);
		ck_assert_int_eq(a.value, COUNT_MAX * ALLOT_VALUE_MAX);
	} else {
		ck_assert_msg(rc == RC_INVALID, "%s", ranges[_i].why);
		ck_assert_str_eq(err.text, ranges[_i].said);
		ck_assert(a.items == NULL && a.count == 0);
	}
	allot_fini(&a);
}
END_TEST

/* --- the largest size ------------------------------------------------------*/

struct large {
	struct allot_tray trays[ALLOT_TRAYS_MAX + 1];
	struct allot_want wants[ALLOT_WANTS_MAX + 1];
	bool fits[(ALLOT_TRAYS_MAX + 1) * (ALLOT_WANTS_MAX + 1)];
	struct allot_problem p;
};

static struct large *
large_new(void)
{
	struct large *l = calloc(1, sizeof(*l));

	ck_assert_ptr_nonnull(l);
	l->p = (struct allot_problem){ l->trays, ALLOT_TRAYS_MAX, l->wants,
		ALLOT_WANTS_MAX, l->fits };
	return l;
}

START_TEST(one_too_many)
{
	struct large *l = large_new();
	struct err err = { 0 };
	struct allot a;

	l->p.tray_count++;
	ck_assert_int_eq(allot_solve(&a, &l->p, &err), RC_INVALID);
	ck_assert_str_eq(err.text,
	    "2001 trays for 200 wants, at most 2000 and 200; plan fewer "
	    "services "
	    "at once");
	l->p.tray_count--;
	l->p.want_count++;
	ck_assert_int_eq(allot_solve(&a, &l->p, NULL), RC_INVALID);
	free(l);
}
END_TEST

/*
 * All dates, services and values different, everything large: the sum of the
 * levels is at its largest.  Every tray fits every want in date, so all trays
 * that outlive some service are used to the last portion.
 */
START_TEST(largest_levels_do_not_overflow)
{
	struct large *l = large_new();
	struct allot a;
	size_t i, j;

	for (i = 0; i < ALLOT_TRAYS_MAX; i++)
		l->trays[i] = (struct allot_tray){ 40, 1000000 + (int64_t)i };
	for (j = 0; j < ALLOT_WANTS_MAX; j++)
		l->wants[j] = (struct allot_want){ (int)j, COUNT_MAX,
			1000000 + (int64_t)j * 2,
			ALLOT_VALUE_MAX - (int64_t)j };
	memset(l->fits, true, sizeof(l->fits));
	case_solve(&a, &l->p);
	case_sound(&a, &l->p);
	ck_assert_int_eq(a.served, ALLOT_TRAYS_MAX * 40);
	/* The dearest want takes all there is. */
	for (i = 0; i < a.count; i++)
		ck_assert_uint_eq(a.items[i].want, 0);
	allot_fini(&a);
	free(l);
}
END_TEST

Suite *
suite_core_allot(void)
{
	Suite *s = suite_create("core_allot");
	TCase *tc = tcase_create("allot");

	tcase_add_loop_test(tc, hand_rows, 0, (int)NELEM(hand));
	tcase_add_test(tc, empty);
	tcase_add_loop_test(tc, range_rows, 0, (int)NELEM(ranges));
	tcase_add_test(tc, one_too_many);
	tcase_add_test(tc, largest_levels_do_not_overflow);
	suite_add_tcase(s, tc);
	return s;
}
