/*
 * test_base_clock.c - instants and the kitchen's zone.
 *
 * Source of the changes: the IANA time zone database as Debian's tzdata holds
 * it, read with zdump -v (2026f); instants as UTC text through RFC 3339.
 */
#include "unit.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/str.h"

static int64_t
instant(const char *text)
{
	int64_t utc;

	ck_assert_msg(
	    time_parse(&utc, "time", text, NULL) == RC_OK, "%s", text);
	return utc;
}

static void
set_zone(const char *name)
{
	struct err err = { .rc = RC_OK };

	ck_assert_msg(zone_set(name, &err) == RC_OK, "%s", err.text);
}

/* Each side of each change: zdump -v prints exactly these pairs. */
static const struct change_row {
	const char *zone, *utc, *local;
} change_rows[] = {
	{ "Europe/London", "2026-03-29T00:59:59Z",
	    "2026-03-29T00:59:59+00:00" },
	{ "Europe/London", "2026-03-29T01:00:00Z",
	    "2026-03-29T02:00:00+01:00" },
	{ "Europe/London", "2026-10-25T00:59:59Z",
	    "2026-10-25T01:59:59+01:00" },
	{ "Europe/London", "2026-10-25T01:00:00Z",
	    "2026-10-25T01:00:00+00:00" },
	{ "Europe/Berlin", "2026-03-29T00:59:59Z",
	    "2026-03-29T01:59:59+01:00" },
	{ "Europe/Berlin", "2026-03-29T01:00:00Z",
	    "2026-03-29T03:00:00+02:00" },
	{ "Europe/Berlin", "2026-10-25T00:59:59Z",
	    "2026-10-25T02:59:59+02:00" },
	{ "Europe/Berlin", "2026-10-25T01:00:00Z",
	    "2026-10-25T02:00:00+01:00" },
	{ "America/New_York", "2026-03-08T06:59:59Z",
	    "2026-03-08T01:59:59-05:00" },
	{ "America/New_York", "2026-03-08T07:00:00Z",
	    "2026-03-08T03:00:00-04:00" },
	{ "America/New_York", "2026-11-01T05:59:59Z",
	    "2026-11-01T01:59:59-04:00" },
	{ "America/New_York", "2026-11-01T06:00:00Z",
	    "2026-11-01T01:00:00-05:00" },
	{ "Australia/Lord_Howe", "2026-04-04T14:59:59Z",
	    "2026-04-05T01:59:59+11:00" },
	{ "Australia/Lord_Howe", "2026-04-04T15:00:00Z",
	    "2026-04-05T01:30:00+10:30" },
	{ "Australia/Lord_Howe", "2026-10-03T15:29:59Z",
	    "2026-10-04T01:59:59+10:30" },
	{ "Australia/Lord_Howe", "2026-10-03T15:30:00Z",
	    "2026-10-04T02:30:00+11:00" },
	{ "Asia/Kathmandu", "2026-03-29T01:00:00Z",
	    "2026-03-29T06:45:00+05:45" },
	{ "Asia/Kathmandu", "2026-10-25T18:14:59Z",
	    "2026-10-25T23:59:59+05:45" },
	{ "Asia/Kathmandu", "2026-10-25T18:15:00Z",
	    "2026-10-26T00:00:00+05:45" },
	{ "Pacific/Apia", "2011-12-30T09:59:59Z", "2011-12-29T23:59:59-10:00" },
	{ "Pacific/Apia", "2011-12-30T10:00:00Z", "2011-12-31T00:00:00+14:00" },
	{ "Pacific/Apia", "2021-04-03T13:59:59Z", "2021-04-04T03:59:59+14:00" },
	{ "Pacific/Apia", "2021-04-03T14:00:00Z", "2021-04-04T03:00:00+13:00" },
};

START_TEST(change_row)
{
	const struct change_row *r = &change_rows[_i];
	char s[48];

	set_zone(r->zone);
	ck_assert_str_eq(time_rfc3339(s, sizeof(s), instant(r->utc)), r->local);
	ck_assert_int_eq(instant(r->local), instant(r->utc));
}
END_TEST

/* Local times that happen twice or not at all give the earlier instant. */
static const struct odd_row {
	const char *zone, *local, *utc, *why;
} odd_rows[] = {
	{ "Europe/London", "2026-10-25T01:00:00", "2026-10-25T00:00:00Z",
	    "twice: first of the doubled hour" },
	{ "Europe/London", "2026-10-25T01:30:00", "2026-10-25T00:30:00Z",
	    "twice" },
	{ "Europe/London", "2026-10-25T01:59:59", "2026-10-25T00:59:59Z",
	    "twice: last of the doubled hour" },
	{ "Europe/London", "2026-10-25T02:00:00", "2026-10-25T02:00:00Z",
	    "once, just after" },
	{ "Europe/London", "2026-10-25T00:59:59", "2026-10-24T23:59:59Z",
	    "once, just before" },
	{ "Europe/London", "2026-03-29T01:00:00", "2026-03-29T01:00:00Z",
	    "never: the moment of the change" },
	{ "Europe/London", "2026-03-29T01:30:00", "2026-03-29T01:00:00Z",
	    "never: the moment of the change" },
	{ "Europe/London", "2026-03-29T01:59:59", "2026-03-29T01:00:00Z",
	    "never: the moment of the change" },
	{ "Europe/London", "2026-03-29T02:00:00", "2026-03-29T01:00:00Z",
	    "once, just after" },
	{ "Europe/Berlin", "2026-10-25T02:30:00", "2026-10-25T00:30:00Z",
	    "twice" },
	{ "Europe/Berlin", "2026-03-29T02:30:00", "2026-03-29T01:00:00Z",
	    "never" },
	{ "America/New_York", "2026-11-01T01:30:00", "2026-11-01T05:30:00Z",
	    "twice" },
	{ "America/New_York", "2026-03-08T02:30:00", "2026-03-08T07:00:00Z",
	    "never" },
	{ "Australia/Lord_Howe", "2026-04-05T01:45:00", "2026-04-04T14:45:00Z",
	    "twice: half an hour" },
	{ "Australia/Lord_Howe", "2026-10-04T02:15:00", "2026-10-03T15:30:00Z",
	    "never: half an hour" },
	{ "Pacific/Apia", "2011-12-30", "2011-12-30T10:00:00Z",
	    "never: a whole day" },
	{ "Pacific/Apia", "2011-12-30T12:00:00", "2011-12-30T10:00:00Z",
	    "never: a whole day" },
	{ "Pacific/Apia", "2011-12-30T23:59:59", "2011-12-30T10:00:00Z",
	    "never: a whole day" },
	{ "Pacific/Apia", "2011-12-31", "2011-12-30T10:00:00Z",
	    "once, the day after" },
	{ "Pacific/Apia", "2021-04-04T03:30:00", "2021-04-03T13:30:00Z",
	    "twice" },
	{ "Asia/Kathmandu", "2026-11-25", "2026-11-24T18:15:00Z",
	    "a quarter of an hour" },
};

START_TEST(odd_row)
{
	const struct odd_row *r = &odd_rows[_i];
	int64_t got;

	set_zone(r->zone);
	got = instant(r->local);
	ck_assert_msg(got == instant(r->utc), "%s %s is off by %lld s: %s",
	    r->zone, r->local, (long long)(got - instant(r->utc)), r->why);
}
END_TEST

/*
 * Every half hour of twenty years and both sides of it: utc to local to utc is
 * the same instant, or the first of two with the same local time.
 */
static const struct trip_row {
	const char *zone;
	int second_of_two; /* half hours seen a second time */
} trip_rows[] = {
	{ "Europe/London", 20 * 2 },
	{ "Europe/Berlin", 20 * 2 },
	{ "America/New_York", 20 * 2 },
	{ "Australia/Lord_Howe", 20 },
	{ "Asia/Kathmandu", 0 },
	{ "Pacific/Apia", 11 * 2 }, /* autumns of 2011 to 2021 */
	{ "UTC", 0 },
};

START_TEST(round_trip)
{
	const struct trip_row *r = &trip_rows[_i];
	int64_t t, end, back;
	struct local_time a, b;
	int second = 0;

	set_zone(r->zone);
	end = instant("2030-01-01T00:00:00Z");
	for (t = instant("2010-01-01T00:00:00Z"); t < end; t += 1800) {
		a = local_from_utc(t);
		back = utc_from_local(a.day, a.hour, a.minute, a.second);
		if (back == t)
			continue;
		b = local_from_utc(back);
		if (back > t || t - back > 3600 || a.day != b.day ||
		    a.hour != b.hour || a.minute != b.minute)
			ck_abort_msg("%s %lld comes back as %lld", r->zone,
			    (long long)t, (long long)back);
		second++;
	}
	ck_assert_int_eq(second, r->second_of_two);
}
END_TEST

/* Days are days: no clock change moves a date (reference/dates.md). */
START_TEST(days_across_a_change)
{
	day_no d;

	set_zone("Europe/Berlin");
	ck_assert(day_from_civil(&d, 2026, 10, 24));
	ck_assert_int_eq(
	    local_from_utc(utc_from_local(d + 6, 23, 59, 0)).day, d + 6);
	ck_assert_int_eq(
	    utc_from_local(d + 2, 0, 0, 0) - utc_from_local(d + 1, 0, 0, 0),
	    25 * 3600); /* the day of the change has 25 hours */
}
END_TEST

static const struct zone_row {
	const char *name;
	bool good;
	const char *why;
} zone_rows[] = {
	{ "Europe/Dublin", true, "a zone" },
	{ "UTC", true, "a zone without a folder" },
	{ "America/Argentina/Buenos_Aires", true, "two folders deep" },
	{ "Etc/GMT-3", true, "a fixed offset" },
	{ "Europe/Atlantis", false, "no such zone" },
	{ "Europe", false, "a folder: the C library would take UTC" },
	{ "Europe/", false, "a folder" },
	{ "zone.tab", false, "a list beside the zones" },
	{ "", false, "nothing: the C library would take UTC" },
	{ "/etc/localtime", false, "a path" },
	{ "../zoneinfo/UTC", false, "out of the folder" },
	{ "CET-1CEST", false, "a POSIX rule: not an IANA name" },
	{ ":UTC", false, "the implementation's own form" },
	{ "UTC\n", false, "a line end" },
};

START_TEST(zone_row)
{
	const struct zone_row *r = &zone_rows[_i];
	struct err err = { .rc = RC_OK };
	char s[48];
	enum rc rc;

	set_zone("Asia/Kathmandu");
	rc = zone_set(r->name, &err);
	ck_assert_msg(rc == (r->good ? RC_OK : RC_INVALID), "%s", r->why);
	if (r->good)
		return;
	ck_assert_ptr_nonnull(strstr(err.text, "is not installed here"));
	/* What held before still holds. */
	ck_assert_str_eq(
	    time_rfc3339(s, sizeof(s), 946684800), "2000-01-01T05:45:00+05:45");
}
END_TEST

static const struct parse_row {
	const char *text;
	const char *utc; /* NULL: RC_INVALID */
	const char *why;
} parse_rows[] = {
	/* Zone of these rows: Europe/Berlin. */
	{ "2026-11-25", "2026-11-24T23:00:00Z", "a bare date is 00:00 local" },
	{ "2026-11-25T14:05", "2026-11-25T13:05:00Z", "local, no seconds" },
	{ "2026-11-25T14:05:09", "2026-11-25T13:05:09Z", "local" },
	{ "2026-11-25 14:05", "2026-11-25T13:05:00Z",
	    "RFC 3339 5.6: a blank may stand for T" },
	{ "2026-11-25T14:05Z", "2026-11-25T14:05:00Z", "UTC, no seconds" },
	{ "2026-11-25T14:05:09+05:45", "2026-11-25T08:20:09Z", "offset" },
	{ "2026-11-25T14:05:09-10:00", "2026-11-26T00:05:09Z", "next day" },
	{ "2026-11-25T00:05:09+14:00", "2026-11-24T10:05:09Z", "day before" },
	{ "2026-12-31T23:59:59-00:30", "2027-01-01T00:29:59Z", "next year" },
	{ "2026-11-25T24:00:00Z", NULL, "hour 24 (conventions.md sec. 10)" },
	{ "2026-02-29T10:00Z", NULL, "no such day" },
	{ "2026-11-25T23:60Z", NULL, "minute 60" },
	{ "2016-12-31T23:59:60Z", NULL, "a leap second: no clock here has it" },
	{ "2026-11-25T10:00:00.5Z", NULL, "a fraction: not taken" },
	{ "2026-11-25T10:00:00+15:00", NULL, "no zone is that far" },
	{ "2026-11-25T10:00:00+01", NULL, "offset without minutes" },
	{ "2026-11-25T10:00:00+0100", NULL, "offset without a colon" },
	{ "2026-11-25T10:00:00+01:60", NULL, "offset minute 60" },
	{ "2026-11-25T10:00:00+01:00x", NULL, "text behind" },
	{ "2026-11-25T10:00:00Zx", NULL, "text behind" },
	{ "2026-11-25T10:00x", NULL, "text behind" },
	{ "2026-11-25T10", NULL, "no minutes" },
	{ "2026-11-25T1000", NULL, "no colon" },
	{ "2026-11-25T", NULL, "no time" },
	{ "2026-11-25Z", NULL, "a zone without a time" },
	{ "2026-11-25T-1:00", NULL, "a sign" },
	{ "10:00", NULL, "no date" },
	{ "1999-12-31T23:00Z", NULL, "before the believed years" },
	{ "now", NULL, "a word" },
	{ "", NULL, "nothing" },
};

START_TEST(parse_row)
{
	const struct parse_row *r = &parse_rows[_i];
	struct err err = { .rc = RC_OK };
	int64_t utc = 77;
	enum rc rc;

	set_zone("Europe/Berlin");
	rc = time_parse(&utc, "made", r->text, &err);
	if (r->utc == NULL) {
		ck_assert_msg(
		    rc == RC_INVALID, "\"%s\" taken: %s", r->text, r->why);
		ck_assert_msg(
		    strncmp(err.text, "made ", 5) == 0, "%s", err.text);
		ck_assert_msg(utc == 77, "%s: output touched", r->why);
		return;
	}
	ck_assert_msg(rc == RC_OK, "\"%s\": %s", r->text, err.text);
	ck_assert_msg(utc == instant(r->utc), "%s", r->why);
}
END_TEST

/* POSIX: 946684800 s is 2000-01-01T00:00Z, 2^31 s 2038-01-19T03:14:08Z. */
START_TEST(known_instants)
{
	ck_assert_int_eq(instant("2000-01-01T00:00:00Z"), 946684800);
	ck_assert_int_eq(instant("2001-09-09T01:46:40Z"), 1000000000);
	ck_assert_int_eq(instant("2038-01-19T03:14:08Z"), INT64_C(2147483648));
	/* The same instant (RFC 3339 5.8, moved into the believed years). */
	ck_assert_int_eq(instant("2026-12-19T16:39:57-08:00"),
	    instant("2026-12-20T00:39:57Z"));
}
END_TEST

/* A clock outside the believed years still gives a day inside them, and an
 * offset that some zone could have. */
START_TEST(absurd_clock)
{
	static const char *const zones[] = { "UTC", "Pacific/Apia",
		"America/New_York", "Pacific/Kiritimati" };
	static const int64_t clocks[] = { 0, -1, 946684799 - 14 * 3600,
		INT64_C(7258118400) + 14 * 3600, INT64_MAX / 2, INT64_MIN / 2,
		INT64_MAX, INT64_MIN };
	struct local_time lt;
	char s[48];
	size_t z, i;

	for (z = 0; z < NELEM(zones); z++) {
		set_zone(zones[z]);
		for (i = 0; i < NELEM(clocks); i++) {
			lt = local_from_utc(clocks[i]);
			ck_assert_int_ge(lt.day, DAY_MIN);
			ck_assert_int_le(lt.day, DAY_MAX);
			ck_assert_int_ge(lt.offset_min, -14 * 60);
			ck_assert_int_le(lt.offset_min, 14 * 60);
			/* Early stays early, late stays late. */
			ck_assert_int_eq(lt.day < (DAY_MIN + DAY_MAX) / 2,
			    clocks[i] < INT64_C(4000000000));
			time_rfc3339(s, sizeof(s), clocks[i]);
			ck_assert_uint_eq(strlen(s), 25);
		}
	}
}
END_TEST

/* The first and last day believed come back in the outermost zones too. */
START_TEST(range_ends)
{
	static const char *const zones[] = { "UTC", "America/New_York",
		"Pacific/Kiritimati", "Pacific/Pago_Pago" };
	struct local_time lt;
	size_t z;

	for (z = 0; z < NELEM(zones); z++) {
		set_zone(zones[z]);
		lt = local_from_utc(utc_from_local(DAY_MIN, 0, 0, 0));
		ck_assert_int_eq(lt.day, DAY_MIN);
		ck_assert_int_eq(lt.hour, 0);
		lt = local_from_utc(utc_from_local(DAY_MAX, 23, 59, 59));
		ck_assert_int_eq(lt.day, DAY_MAX);
		ck_assert_int_eq(lt.second, 59);
	}
}
END_TEST

START_TEST(texts)
{
	char s[48];
	int64_t utc;

	set_zone("Europe/Dublin");
	utc = instant("2026-11-27T23:59:30Z");
	ck_assert_str_eq(time_short(s, sizeof(s), utc), "Fri 27 Nov 23:59");
	ck_assert_str_eq(time_minute(s, sizeof(s), utc), "2026-11-27 23:59");
	ck_assert_str_eq(
	    time_rfc3339(s, sizeof(s), utc), "2026-11-27T23:59:30+00:00");
	set_zone("America/St_Johns");
	ck_assert_str_eq(
	    time_rfc3339(s, sizeof(s), utc), "2026-11-27T20:29:30-03:30");
}
END_TEST

START_TEST(now)
{
	struct clock fixed = { .fixed = true, .fixed_utc = 1000000000 };
	struct clock real = { .fixed = false, .fixed_utc = 1000000000 };
	int64_t before, got, after;

	ck_assert_int_eq(clock_now(&fixed), 1000000000);
	before = (int64_t)time(NULL);
	got = clock_now(&real);
	after = (int64_t)time(NULL);
	ck_assert_int_ge(got, before);
	ck_assert_int_le(got, after);
}
END_TEST

START_TEST(ticks)
{
	struct timespec nap = { .tv_sec = 0, .tv_nsec = 20 * 1000000 };
	int64_t before = clock_ticks_ms();

	nanosleep(&nap, NULL);
	ck_assert_int_ge(clock_ticks_ms() - before, 19);
	ck_assert_int_lt(clock_ticks_ms() - before, 20000);
}
END_TEST

Suite *
suite_base_clock(void)
{
	Suite *s = suite_create("base_clock");
	TCase *t = tcase_create("all");

	tcase_set_timeout(t, 30);
	tcase_add_loop_test(t, change_row, 0, (int)NELEM(change_rows));
	tcase_add_loop_test(t, odd_row, 0, (int)NELEM(odd_rows));
	tcase_add_loop_test(t, round_trip, 0, (int)NELEM(trip_rows));
	tcase_add_test(t, days_across_a_change);
	tcase_add_loop_test(t, zone_row, 0, (int)NELEM(zone_rows));
	tcase_add_loop_test(t, parse_row, 0, (int)NELEM(parse_rows));
	tcase_add_test(t, known_instants);
	tcase_add_test(t, absurd_clock);
	tcase_add_test(t, range_ends);
	tcase_add_test(t, texts);
	tcase_add_test(t, now);
	tcase_add_test(t, ticks);
	suite_add_tcase(s, t);
	return s;
}
