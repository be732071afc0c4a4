/*
 * test_core_useby.c - no date later than a limit that applies, days counted as
 * the food codes count them.
 */
#include "unit.h"

#include <stdio.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "core/useby.h"
#include "ops/station.h"

static day_no
day(const char *s)
{
	day_no d = DAY_NONE;

	if (s != NULL)
		ck_assert_int_eq(day_parse(&d, "day", s, NULL), RC_OK);
	return d;
}

/* Lives long enough never to bind. */
#define LONG 400

/* clang-format off */
static const struct {
	const char *why;
	const char *received, *supplier, *prepared; /* NULL: none */
	enum food_state state;
	bool live;
	struct house_life house;
	const char *want;
	const char *bound;
	const char *source;
} rows[] = {
	{ "7 days, the day of preparation is day 1",
	    "2026-04-01", NULL, "2026-04-01", STATE_COOKED, false,
	    { LONG, LONG, { LONG, 7, LONG } }, "2026-04-07", "cooked portion",
	    "US FDA Food Code 3-501.17; Southern Nevada Health District, TCS "
	    "date questions: prepared 1 April, last day 7 April" },
	{ "the earliest ingredient's day counts",
	    "2026-06-01", NULL, "2026-06-03", STATE_COOKED, false,
	    { 7, LONG, { LONG, 7, LONG } }, "2026-06-07", "house life, batch",
	    "the same page: made 1 June, used in another dish 3 June, last "
	    "day 7 June" },
	{ "never past the maker's date",
	    "2026-04-01", "2026-04-05", "2026-04-01", STATE_COOKED, false,
	    { LONG, LONG, { LONG, 7, LONG } }, "2026-04-05",
	    "supplier's date",
	    "US FDA Food Code 3-501.17 (B), as explained by Minnesota 2024" },
	{ "a life of one day ends today",
	    "2026-11-25", NULL, "2026-11-25", STATE_LIVE, true,
	    { LONG, 3, { LONG, LONG, 1 } }, "2026-11-25",
	    "live shellfish portion", "day of preparation is day 1" },
	{ "raw portion",
	    "2026-11-25", NULL, "2026-11-26", STATE_RAW, false,
	    { 9, LONG, { 2, LONG, LONG } }, "2026-11-27", "raw portion",
	    "day of preparation is day 1" },
	{ "the batch alone",
	    "2026-11-25", NULL, NULL, STATE_RAW, false,
	    { 4, 1, { 1, 1, 1 } }, "2026-11-28", "house life, batch",
	    "day of receipt is day 1" },
	{ "the batch alone, live",
	    "2026-11-25", NULL, NULL, STATE_RAW, true,
	    { 1, 3, { 1, 1, 1 } }, "2026-11-27", "live batch",
	    "day of receipt is day 1" },
	{ "supplier's date today",
	    "2026-11-25", "2026-11-25", NULL, STATE_RAW, false,
	    { 4, 3, { 2, 3, 1 } }, "2026-11-25", "supplier's date",
	    "common practice, no source" },
	{ "a later supplier's date lengthens nothing",
	    "2026-11-25", "2026-12-30", NULL, STATE_RAW, false,
	    { 4, 3, { 2, 3, 1 } }, "2026-11-28", "house life, batch",
	    "common practice, no source" },
	{ "old batch, new portion",
	    "2026-11-25", NULL, "2026-11-28", STATE_RAW, false,
	    { 4, 3, { 2, 3, 1 } }, "2026-11-28", "house life, batch",
	    "a portion is never later than its batch" },
	{ "over a leap day",
	    "2028-02-28", NULL, "2028-02-28", STATE_COOKED, false,
	    { LONG, LONG, { LONG, 3, LONG } }, "2028-03-01",
	    "cooked portion", "Gregorian calendar" },
	{ "no leap day that year",
	    "2027-02-28", NULL, "2027-02-28", STATE_COOKED, false,
	    { LONG, LONG, { LONG, 3, LONG } }, "2027-03-02",
	    "cooked portion", "Gregorian calendar" },
	{ "ends on a leap day",
	    "2028-02-27", NULL, "2028-02-27", STATE_COOKED, false,
	    { LONG, LONG, { LONG, 3, LONG } }, "2028-02-29",
	    "cooked portion", "Gregorian calendar" },
	{ "over the year's end",
	    "2026-12-30", NULL, "2026-12-30", STATE_COOKED, false,
	    { LONG, LONG, { LONG, 3, LONG } }, "2027-01-01",
	    "cooked portion", "Gregorian calendar" },
	{ "over the night clocks go back",
	    "2026-10-24", NULL, "2026-10-24", STATE_COOKED, false,
	    { LONG, LONG, { LONG, 2, LONG } }, "2026-10-25",
	    "cooked portion", "a day is a day of the calendar" },
};
/* clang-format on */

START_TEST(decided)
{
	struct useby_in in = {
		.live_batch = rows[_i].live,
		.received = day(rows[_i].received),
		.supplier_date = day(rows[_i].supplier),
		.prepared = day(rows[_i].prepared),
		.state = rows[_i].state,
	};
	struct useby u;
	char text[16];

	useby_decide(&u, &in, &rows[_i].house);
	day_print(text, sizeof(text), useby_day(&u));
	ck_assert_msg(str_eq(text, rows[_i].want), "%s: %s, not %s (%s)",
	    rows[_i].why, text, rows[_i].want, rows[_i].source);
	ck_assert_msg(strstr(u.limits[u.bound].name, rows[_i].bound) != NULL,
	    "%s: bound by %s", rows[_i].why, u.limits[u.bound].name);
}
END_TEST

/* --- any input: the same numbers in every run
 * -------------------------------*/

static uint64_t seed;

static int
any(int below)
{
	seed = seed * 6364136223846793005u + 1442695040888963407u;
	return (int)((seed >> 33) % (uint64_t)below);
}

static void
any_in(struct useby_in *in, struct house_life *h)
{
	int i;

	in->live_batch = any(3) == 0;
	in->received = DAY_MIN + any(36525);
	in->supplier_date = any(3) == 0 ? DAY_NONE : in->received + any(20) - 3;
	in->prepared = any(4) == 0 ? DAY_NONE : in->received + any(8);
	in->state = (enum food_state)any(STATE_COUNT);
	h->batch_days = 1 + any(10);
	h->live_batch_days = 1 + any(10);
	for (i = 0; i < STATE_COUNT; i++)
		h->state_days[i] = 1 + any(10);
}

/* The earliest of what applies, worked out beside the code under test. */
static day_no
earliest(const struct useby_in *in, const struct house_life *h)
{
	day_no d, least;

	least = in->received - 1 +
	    (in->live_batch ? h->live_batch_days : h->batch_days);
	if (in->supplier_date != DAY_NONE && in->supplier_date < least)
		least = in->supplier_date;
	if (in->prepared != DAY_NONE) {
		d = in->prepared - 1 + h->state_days[in->state];
		least = d < least ? d : least;
	}
	return least;
}

START_TEST(never_later)
{
	struct useby_in in, batch;
	struct house_life h;
	struct useby u, of_batch;
	int i, k;

	seed = 501;
	for (i = 0; i < 50000; i++) {
		any_in(&in, &h);
		useby_decide(&u, &in, &h);
		ck_assert_int_eq(useby_day(&u), earliest(&in, &h));
		ck_assert_int_eq(u.count,
		    1 + (in.supplier_date != DAY_NONE) +
			(in.prepared != DAY_NONE));
		for (k = 0; k < u.count; k++) {
			ck_assert_int_le(useby_day(&u), u.limits[k].day);
			ck_assert(u.limits[k].name[0] != '\0');
			ck_assert(u.limits[k].source[0] != '\0');
		}
		batch = in;
		batch.prepared = DAY_NONE;
		useby_decide(&of_batch, &batch, &h);
		ck_assert_int_le(useby_day(&u), useby_day(&of_batch));
	}
}
END_TEST

/* A shorter life, or an earlier day, never gives a later date. */
START_TEST(tighter_is_never_later)
{
	struct useby_in in;
	struct house_life h;
	struct useby u, v;
	int i;

	seed = 1717;
	for (i = 0; i < 20000; i++) {
		any_in(&in, &h);
		useby_decide(&u, &in, &h);
		switch (any(4)) {
		case 0:
			h.state_days[in.state]--;
			break;
		case 1:
			h.batch_days--;
			h.live_batch_days--;
			break;
		case 2:
			in.received--;
			break;
		default:
			in.supplier_date = useby_day(&u);
			break;
		}
		useby_decide(&v, &in, &h);
		ck_assert_int_le(useby_day(&v), useby_day(&u));
	}
}
END_TEST

/* Zones and their clock changes move neither the day nor its last second. */
static const char *const zones[] = {
	"Europe/London",
	"America/New_York",
	"Australia/Lord_Howe", /* changes by half an hour */
	"Pacific/Apia",
	"Asia/Kathmandu",
};

START_TEST(zone_does_not_matter)
{
	struct useby_in in = { .supplier_date = DAY_NONE,
		.state = STATE_COOKED };
	struct house_life h = { LONG, LONG, { LONG, 3, LONG } };
	struct local_time end;
	struct useby u;
	day_no d, first = day("2026-01-01");

	ck_assert_int_eq(zone_set(zones[_i], NULL), RC_OK);
	for (d = first; d < first + 800; d++) {
		in.received = in.prepared = d;
		useby_decide(&u, &in, &h);
		ck_assert_int_eq(useby_day(&u), d + 2);
		end = local_from_utc(use_by_instant(useby_day(&u)));
		ck_assert_int_eq(end.day, d + 2);
		ck_assert_int_eq(end.hour, 23);
		ck_assert_int_eq(end.minute, 59);
		ck_assert_int_eq(end.second, 59);
	}
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	const char *word;
	enum rc rc;
	enum food_state state;
	const char *says;
} states[] = {
	{ "to be cooked", "raw", RC_OK, STATE_RAW, "" },
	{ "any case", "COOKED", RC_OK, STATE_COOKED, "" },
	{ "live", "Live", RC_OK, STATE_LIVE, "" },
	{ "no freeze record can be held", "served-raw", RC_REFUSED, STATE_RAW,
	    "parasite-freeze" },
	{ "nor in capitals", "Served-Raw", RC_REFUSED, STATE_RAW,
	    "parasite-freeze" },
	{ "no word", "", RC_INVALID, STATE_RAW, "raw, cooked or live" },
	{ "part of a word", "ra", RC_INVALID, STATE_RAW,
	    "raw, cooked or live" },
	{ "another word", "cured", RC_INVALID, STATE_RAW, "\"cured\"" },
};
/* clang-format on */

START_TEST(state_rows)
{
	enum food_state st = STATE_COUNT;
	struct err err = { 0 };

	ck_assert_msg(
	    food_state_parse(&st, states[_i].word, &err) == states[_i].rc, "%s",
	    states[_i].why);
	if (states[_i].rc == RC_OK) {
		ck_assert_int_eq(st, states[_i].state);
		ck_assert(str_eq_nocase(food_state_word(st), states[_i].word));
		return;
	}
	ck_assert_int_eq(st, STATE_COUNT);
	ck_assert_msg(
	    strstr(err.text, states[_i].says) != NULL, "%s", err.text);
}
END_TEST

Suite *
suite_core_useby(void)
{
	Suite *s = suite_create("core_useby");
	TCase *tc = tcase_create("useby");

	tcase_add_loop_test(tc, decided, 0, (int)NELEM(rows));
	tcase_add_test(tc, never_later);
	tcase_add_test(tc, tighter_is_never_later);
	tcase_add_loop_test(tc, zone_does_not_matter, 0, (int)NELEM(zones));
	tcase_add_loop_test(tc, state_rows, 0, (int)NELEM(states));
	suite_add_tcase(s, tc);
	return s;
}
