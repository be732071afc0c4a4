/*
 * test_base_day.c - civil days, against ISO 8601, RFC 3339 and the calendar
 * of the C library (gmtime_r) on every single day of the believed range.
 */
#include "unit.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>
#include <time.h>

#include "base/day.h"

#define RFC3339_C "RFC 3339 appendix C: leap years, from memory"
#define ISO8601 "ISO 8601 calendar date YYYY-MM-DD"

static const struct parse_row {
	const char *text;
	const char *back; /* NULL: RC_INVALID */
	const char *why, *source;
} parse_rows[] = {
	{ "2026-11-25", "2026-11-25", "a plain date", ISO8601 },
	{ "2000-02-29", "2000-02-29", "divisible by 400: leap", RFC3339_C },
	{ "2024-02-29", "2024-02-29", "divisible by 4: leap", RFC3339_C },
	{ "2100-02-28", "2100-02-28", "last of February", RFC3339_C },
	{ "2100-02-29", NULL, "divisible by 100 only: not leap", RFC3339_C },
	{ "2026-02-29", NULL, "not leap",
	    "reference/conventions.md section 10" },
	{ "2026-13-01", NULL, "month 13",
	    "reference/conventions.md section 10" },
	{ "2000-01-01", "2000-01-01", "the first day believed", "base/day.h" },
	{ "2199-12-31", "2199-12-31", "the last day believed", "base/day.h" },
	{ "1999-12-31", NULL, "before the range", "base/day.h" },
	{ "2200-01-01", NULL, "after the range", "base/day.h" },
	{ "0000-00-00", NULL, "what an unset field holds", ISO8601 },
	{ "2026-00-10", NULL, "month 0", ISO8601 },
	{ "2026-01-00", NULL, "day 0", ISO8601 },
	{ "2026-01-32", NULL, "day 32", ISO8601 },
	{ "2026-04-31", NULL, "April has 30", RFC3339_C },
	{ "2026-06-31", NULL, "June has 30", RFC3339_C },
	{ "2026-09-31", NULL, "September has 30", RFC3339_C },
	{ "2026-11-31", NULL, "November has 30", RFC3339_C },
	{ "2026-12-31", "2026-12-31", "December has 31", RFC3339_C },
	{ "26-11-25", NULL, "two-digit year", ISO8601 },
	{ "25-11-2026", NULL, "day first", ISO8601 },
	{ "25/11/2026", NULL, "slashes", ISO8601 },
	{ "2026/11/25", NULL, "slashes", ISO8601 },
	{ "20261125", NULL, "basic format: not taken", "base/day.h" },
	{ "2026-W48-3", NULL, "week date: not taken", "base/day.h" },
	{ "2026-329", NULL, "ordinal date: not taken", "base/day.h" },
	{ "2026-1-5", NULL, "single digits", ISO8601 },
	{ "2026-11-25T", NULL, "text behind", "base/day.h" },
	{ "2026-11-25 ", NULL, "a blank behind", "base/day.h" },
	{ " 2026-11-25", NULL, "a blank before", "base/day.h" },
	{ "+2026-11-2", NULL, "a sign", "base/day.h" },
	{ "2026-11", NULL, "no day", "base/day.h" },
	{ "2026", NULL, "a year", "base/day.h" },
	{ "tomorrow", NULL, "a word", "base/day.h" },
	{ "", NULL, "nothing", "base/day.h" },
};

START_TEST(parse_row)
{
	const struct parse_row *r = &parse_rows[_i];
	struct err err = { .rc = RC_OK };
	day_no d = DAY_NONE;
	char s[16];
	enum rc rc = day_parse(&d, "use-by", r->text, &err);

	if (r->back == NULL) {
		ck_assert_msg(rc == RC_INVALID, "\"%s\" taken: %s (%s)",
		    r->text, r->why, r->source);
		ck_assert_int_eq(d, DAY_NONE);
		ck_assert_msg(
		    strncmp(err.text, "use-by ", 7) == 0, "%s", err.text);
		return;
	}
	ck_assert_msg(
	    rc == RC_OK, "\"%s\": %s (%s)", r->text, err.text, r->source);
	ck_assert_str_eq(day_print(s, sizeof(s), d), r->back);
}
END_TEST

/*
 * Day counts known from outside: POSIX seconds since the Epoch, 946684800 for
 * 2000-01-01T00:00Z and 2^31 on 2038-01-19.  Weekdays: ISO 8601 counts weeks
 * from 2000-01-01 being a Saturday (from memory).  Every row was also worked
 * with Python's datetime.date before it was written down.
 */
static const struct known_row {
	int year, month, day;
	day_no d;
	int weekday; /* 0 Monday */
	int of_year;
	const char *why;
} known_rows[] = {
	{ 2000, 1, 1, 10957, 5, 1, "POSIX: 946684800 / 86400" },
	{ 2038, 1, 19, 24855, 1, 19, "POSIX: 2147483648 / 86400, rounded" },
	{ 2001, 9, 9, 11574, 6, 252, "POSIX: 1000000000 / 86400, rounded" },
	{ 2000, 2, 29, 11016, 1, 60, "leap day of a century" },
	{ 2000, 12, 31, 11322, 6, 366, "last of a leap year" },
	{ 2024, 12, 31, 20088, 1, 366, "last of a leap year" },
	{ 2026, 11, 25, 20782, 2, 329, "a Wednesday" },
	{ 2026, 1, 1, 20454, 3, 1, "first of the year" },
	{ 2100, 3, 1, 47541, 0, 60, "no leap day before it" },
	{ 2199, 12, 31, DAY_MAX, 1, 365, "the last day" },
};

START_TEST(known_row)
{
	const struct known_row *r = &known_rows[_i];
	day_no d;

	ck_assert(day_from_civil(&d, r->year, r->month, r->day));
	ck_assert_msg(d == r->d, "%s: %d", r->why, (int)d);
	ck_assert_msg(
	    day_weekday(d) == r->weekday, "%s: %d", r->why, day_weekday(d));
	ck_assert_msg(
	    day_of_year(d) == r->of_year, "%s: %d", r->why, day_of_year(d));
}
END_TEST

/* Every day of 200 years, against the C library's calendar. */
START_TEST(every_day)
{
	struct civil c;
	struct tm tm;
	time_t t;
	day_no d, back;

	for (d = DAY_MIN; d <= DAY_MAX; d++) {
		t = (time_t)d * 86400;
		ck_assert_ptr_nonnull(gmtime_r(&t, &tm));
		c = day_civil(d);
		if (c.year != tm.tm_year + 1900 || c.month != tm.tm_mon + 1 ||
		    c.day != tm.tm_mday || day_of_year(d) != tm.tm_yday + 1 ||
		    day_weekday(d) != (tm.tm_wday + 6) % 7)
			ck_abort_msg("day %d differs", (int)d);
		if (!day_from_civil(&back, c.year, c.month, c.day) || back != d)
			ck_abort_msg("day %d does not come back", (int)d);
	}
	ck_assert_int_eq(DAY_MAX - DAY_MIN + 1, 73049);
}
END_TEST

START_TEST(impossible_civil)
{
	day_no d = DAY_NONE;

	ck_assert(!day_from_civil(&d, 2026, 0, 1));
	ck_assert(!day_from_civil(&d, 2026, 13, 1));
	ck_assert(!day_from_civil(&d, 2026, -1, 1));
	ck_assert(!day_from_civil(&d, 2026, 1, -1));
	ck_assert(!day_from_civil(&d, -2026, 1, 1));
	ck_assert(!day_from_civil(&d, 1999, 12, 31));
	ck_assert_int_eq(d, DAY_NONE);
}
END_TEST

START_TEST(words)
{
	char s[40];
	int i;

	/* 2026-11-27 is a Friday: known_rows, two days later. */
	ck_assert_str_eq(
	    day_words(s, sizeof(s), 20784), "Friday 27 November 2026");
	ck_assert_str_eq(
	    day_words(s, sizeof(s), 20454), "Thursday 1 January 2026");
	ck_assert_str_eq(day_print(s, sizeof(s), 20454), "2026-01-01");
	for (i = 0; i < 7; i++)
		ck_assert_int_eq(
		    strncmp(weekday_name(i), weekday_short(i), 3), 0);
	for (i = 1; i <= 12; i++)
		ck_assert_int_eq(strncmp(month_name(i), month_short(i), 3), 0);
	/* The longest there is fits the size the header promises. */
	ck_assert_uint_eq(
	    strlen(day_words(s, sizeof(s), 20726)), 27); /* 30 September */
}
END_TEST

Suite *
suite_base_day(void)
{
	Suite *s = suite_create("base_day");
	TCase *t = tcase_create("all");

	tcase_add_loop_test(t, parse_row, 0, (int)NELEM(parse_rows));
	tcase_add_loop_test(t, known_row, 0, (int)NELEM(known_rows));
	tcase_add_test(t, every_day);
	tcase_add_test(t, impossible_civil);
	tcase_add_test(t, words);
	suite_add_tcase(s, t);
	return s;
}
