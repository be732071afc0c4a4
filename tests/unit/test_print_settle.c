/*
 * test_print_settle.c - when does what a scale says become a weight?  Each row
 * is a story: what it said and when, and the weights that were taken.  Rules:
 * docs/rules.md R-K.
 */
#include "unit.h"

#include <string.h>

#include "src/print/settle.h"

/* Milliseconds after opening; WAIT is a look at the clock while it is silent.
 */
struct event {
	int64_t ms;
	enum { WAIT, SAID } kind;
	enum scale_state state;
	int64_t mg;
	grams taken; /* 0: none */
};

#define SAYS(ms, state, mg)                                                    \
	{                                                                      \
		ms, SAID, SCALE_##state, mg, 0                                 \
	}
#define TAKES(ms, state, mg, g)                                                \
	{                                                                      \
		ms, SAID, SCALE_##state, mg, g                                 \
	}
#define QUIET(ms, g)                                                           \
	{                                                                      \
		ms, WAIT, SCALE_NONE, 0, g                                     \
	}
#define STORY_MAX 16

static const struct {
	const char *why;
	struct event e[STORY_MAX];
} stories[] = {
	{ "three of the same, then it is a weight",
	    { SAYS(700, STABLE, 850000), SAYS(800, STABLE, 850000),
		TAKES(900, STABLE, 850000, 850) } },
	{ "what comes right after opening may be old",
	    { SAYS(10, STABLE, 850000), SAYS(20, STABLE, 850000),
		SAYS(30, STABLE, 850000), SAYS(599, STABLE, 850000),
		SAYS(600, STABLE, 850000), SAYS(700, STABLE, 850000),
		TAKES(800, STABLE, 850000, 850) } },
	{ "an old one and silence is no weight",
	    { SAYS(10, STABLE, 850000), SAYS(599, STABLE, 850000),
		QUIET(1700, 0), QUIET(9000, 0) } },
	{ "one new one and a second of silence",
	    { SAYS(700, ZERO, 0), SAYS(900, IN_MOTION, 400000),
		SAYS(1500, STABLE, 850000), QUIET(1700, 0), QUIET(2499, 0),
		QUIET(2500, 850) } },
	{ "silence counts from the last report",
	    { SAYS(700, STABLE, 850000), SAYS(1600, STABLE, 850000),
		QUIET(2599, 0), QUIET(2600, 850) } },
	{ "silence after motion is none",
	    { SAYS(700, STABLE, 850000), SAYS(800, IN_MOTION, 850000),
		QUIET(3000, 0) } },
	{ "motion begins again",
	    { SAYS(700, STABLE, 850000), SAYS(800, STABLE, 850000),
		SAYS(900, IN_MOTION, 850000), SAYS(1000, STABLE, 850000),
		SAYS(1100, STABLE, 850000),
		TAKES(1200, STABLE, 850000, 850) } },
	{ "another weight begins again",
	    { SAYS(700, STABLE, 850000), SAYS(800, STABLE, 850000),
		SAYS(900, STABLE, 861000), SAYS(1000, STABLE, 861000),
		TAKES(1100, STABLE, 861000, 861) } },
	{ "a tenth of a gram is the same gram",
	    { SAYS(700, STABLE, 850100), SAYS(800, STABLE, 850000),
		TAKES(900, STABLE, 849900, 850) } },
	{ "states that are no weight",
	    { SAYS(700, OVER_LIMIT, 9000000), SAYS(800, FAULT, 9000000),
		SAYS(900, CALIBRATE, 9000000), SAYS(1000, REZERO, 9000000),
		SAYS(1100, NONE, 9000000), SAYS(1200, UNDER_ZERO, 9000000),
		QUIET(5000, 0) } },
	{ "zero is no weight, whatever it is called",
	    { SAYS(700, ZERO, 0), SAYS(800, STABLE, 0), SAYS(900, STABLE, 0),
		SAYS(1000, STABLE, 0), SAYS(1100, STABLE, 499),
		SAYS(1200, STABLE, 499), SAYS(1300, STABLE, 499),
		QUIET(5000, 0) } },
	{ "half a gram is one",
	    { SAYS(700, STABLE, 500), SAYS(800, STABLE, 500),
		TAKES(900, STABLE, 500, 1) } },
	{ "less than nothing is no weight",
	    { SAYS(700, STABLE, -850000), SAYS(800, STABLE, -850000),
		SAYS(900, STABLE, -850000), QUIET(5000, 0) } },
	{ "the same fish is not taken twice",
	    { SAYS(700, STABLE, 850000), SAYS(800, STABLE, 850000),
		TAKES(900, STABLE, 850000, 850), SAYS(1000, STABLE, 850000),
		SAYS(1100, STABLE, 850000), SAYS(1200, STABLE, 850000),
		QUIET(5000, 0) } },
	{ "nor when it is only moved",
	    { SAYS(700, STABLE, 850000), SAYS(800, STABLE, 850000),
		TAKES(900, STABLE, 850000, 850), SAYS(1000, IN_MOTION, 3000),
		SAYS(1100, STABLE, 850000), SAYS(1200, STABLE, 850000),
		SAYS(1300, STABLE, 850000), QUIET(5000, 0) } },
	{ "nor when another is put on top",
	    { SAYS(700, STABLE, 850000), SAYS(800, STABLE, 850000),
		TAKES(900, STABLE, 850000, 850), SAYS(1000, STABLE, 1700000),
		SAYS(1100, STABLE, 1700000), SAYS(1200, STABLE, 1700000),
		QUIET(5000, 0) } },
	{ "empty in between, and the next is taken",
	    { SAYS(700, STABLE, 850000), SAYS(800, STABLE, 850000),
		TAKES(900, STABLE, 850000, 850), SAYS(1000, ZERO, 0),
		SAYS(1100, STABLE, 850000), SAYS(1200, STABLE, 850000),
		TAKES(1300, STABLE, 850000, 850) } },
	{ "a tared box taken off is empty too",
	    { SAYS(700, STABLE, 850000), SAYS(800, STABLE, 850000),
		TAKES(900, STABLE, 850000, 850),
		SAYS(1000, UNDER_ZERO, -200000), SAYS(1100, STABLE, 700000),
		SAYS(1200, STABLE, 700000),
		TAKES(1300, STABLE, 700000, 700) } },
	/* 2 % of 850 g is 17 g */
	{ "drip stays behind: 17 g are empty, and no weight",
	    { SAYS(700, STABLE, 850000), SAYS(800, STABLE, 850000),
		TAKES(900, STABLE, 850000, 850), SAYS(1000, STABLE, 17000),
		SAYS(1100, STABLE, 17000), SAYS(1200, STABLE, 17000),
		QUIET(4000, 0), SAYS(4100, STABLE, 18000),
		SAYS(4200, STABLE, 18000), TAKES(4300, STABLE, 18000, 18) } },
	{ "18 g are not empty",
	    { SAYS(700, STABLE, 850000), SAYS(800, STABLE, 850000),
		TAKES(900, STABLE, 850000, 850), SAYS(1000, STABLE, 18000),
		SAYS(1100, STABLE, 700000), SAYS(1200, STABLE, 700000),
		SAYS(1300, STABLE, 700000), QUIET(4000, 0) } },
	{ "of 10 kg 20 g are empty, not 200",
	    { SAYS(700, STABLE, 10000000), SAYS(800, STABLE, 10000000),
		TAKES(900, STABLE, 10000000, 10000), SAYS(1000, STABLE, 21000),
		SAYS(1100, STABLE, 700000), SAYS(1200, STABLE, 700000),
		SAYS(1300, STABLE, 700000), SAYS(1400, STABLE, 20000),
		SAYS(1500, STABLE, 700000), SAYS(1600, STABLE, 700000),
		TAKES(1700, STABLE, 700000, 700) } },
	{ "of 10 g 2 g are empty",
	    { SAYS(700, STABLE, 10000), SAYS(800, STABLE, 10000),
		TAKES(900, STABLE, 10000, 10), SAYS(1000, STABLE, 3000),
		SAYS(1100, STABLE, 10000), SAYS(1200, STABLE, 2000),
		SAYS(1300, STABLE, 10000), SAYS(1400, STABLE, 10000),
		TAKES(1500, STABLE, 10000, 10) } },
	{ "silence, twice",
	    { SAYS(700, STABLE, 850000), QUIET(1700, 850), QUIET(2700, 0),
		SAYS(3000, ZERO, 0), SAYS(3500, STABLE, 700000),
		QUIET(4500, 700), QUIET(9000, 0) } },
};

START_TEST(story_rows)
{
	struct scale_reading r;
	const struct event *e;
	struct settle s;
	grams g;
	bool taken;
	size_t i;

	settle_begin(&s, 5000);
	for (i = 0; i < STORY_MAX && stories[_i].e[i].ms > 0; i++) {
		e = &stories[_i].e[i];
		r.state = e->state;
		r.weight_mg = e->mg;
		g = 0;
		taken = e->kind == SAID
		    ? settle_report(&g, &s, &r, 5000 + e->ms)
		    : settle_silence(&g, &s, 5000 + e->ms);
		ck_assert_msg(taken == (e->taken > 0) && g == e->taken,
		    "%s: after %lld ms %lld g", stories[_i].why,
		    (long long)e->ms, (long long)g);
	}
	ck_assert_uint_gt(i, 1);
}
END_TEST

START_TEST(rounding)
{
	static const int64_t rows[][2] = { { 0, 0 }, { 499, 0 }, { 500, 1 },
		{ 1499, 1 }, { 1500, 2 }, { -499, 0 }, { -500, -1 },
		{ -1500, -2 }, { INT64_C(453592370), 453592 } };
	size_t i;

	for (i = 0; i < NELEM(rows); i++)
		ck_assert_int_eq(settle_grams(rows[i][0]), rows[i][1]);
}
END_TEST

Suite *
suite_print_settle(void)
{
	Suite *s = suite_create("print_settle");
	TCase *tc = tcase_create("settle");

	tcase_add_loop_test(tc, story_rows, 0, (int)NELEM(stories));
	tcase_add_test(tc, rounding);
	suite_add_tcase(s, tc);
	return s;
}
