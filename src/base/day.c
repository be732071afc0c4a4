/* day.c - civil days in the proleptic Gregorian calendar. */
#include "base/day.h"

#include <assert.h>

#include "base/say.h"
#include "base/str.h"

static bool
is_leap(int year)
{
	return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

static int
days_in_month(int year, int month)
{
	static const int n[] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30,
		31 };

	return n[month - 1] + (month == 2 && is_leap(year) ? 1 : 0);
}

/* Days from 1970-01-01 to 1 January of `year`, year >= 1970. */
static int
days_before_year(int year)
{
	int y = year - 1;

	return y * 365 + y / 4 - y / 100 + y / 400 - 719162;
}

bool
day_from_civil(day_no *out, int year, int month, int day)
{
	int d, m;

	if (year < 2000 || year > 2199 || month < 1 || month > 12 || day < 1 ||
	    day > days_in_month(year, month))
		return false;
	d = days_before_year(year) + day - 1;
	for (m = 1; m < month; m++)
		d += days_in_month(year, m);
	*out = d;
	return true;
}

struct civil
day_civil(day_no d)
{
	struct civil c;
	int left;

	assert(d >= 0); /* DAY_NONE has no date to show */
	c.year = 1970 + d / 366;
	while (days_before_year(c.year + 1) <= d)
		c.year++;
	left = d - days_before_year(c.year);
	for (c.month = 1; left >= days_in_month(c.year, c.month); c.month++)
		left -= days_in_month(c.year, c.month);
	c.day = left + 1;
	return c;
}

int
day_of_year(day_no d)
{
	return d - days_before_year(day_civil(d).year) + 1;
}

int
day_weekday(day_no d)
{
	assert(d >= 0);
	return (d + 3) % 7; /* 1970-01-01 was a Thursday */
}

static const char *const weekdays[] = {
	N_("Monday"),
	N_("Tuesday"),
	N_("Wednesday"),
	N_("Thursday"),
	N_("Friday"),
	N_("Saturday"),
	N_("Sunday"),
};

static const char *const weekdays_short[] = {
	N_("Mon"),
	N_("Tue"),
	N_("Wed"),
	N_("Thu"),
	N_("Fri"),
	N_("Sat"),
	N_("Sun"),
};

static const char *const months[] = {
	N_("January"),
	N_("February"),
	N_("March"),
	N_("April"),
	N_("May"),
	N_("June"),
	N_("July"),
	N_("August"),
	N_("September"),
	N_("October"),
	N_("November"),
	N_("December"),
};

static const char *const months_short[] = {
	N_("Jan"),
	N_("Feb"),
	N_("Mar"),
	N_("Apr"),
	N_("May"),
	N_("Jun"),
	N_("Jul"),
	N_("Aug"),
	N_("Sep"),
	N_("Oct"),
	N_("Nov"),
	N_("Dec"),
};

const char *
weekday_name(int weekday)
{
	return weekdays[weekday];
}

const char *
weekday_short(int weekday)
{
	return weekdays_short[weekday];
}

const char *
month_name(int month)
{
	return months[month - 1];
}

const char *
month_short(int month)
{
	return months_short[month - 1];
}

/* `n` digits at `s` as a number, or -1. */
static int
digits(const char *s, int n)
{
	int v = 0;

	for (; n > 0; n--, s++) {
		if (*s < '0' || *s > '9')
			return -1;
		v = v * 10 + (*s - '0');
	}
	return v;
}

enum rc
day_parse(day_no *out, const char *what, const char *s, struct err *err)
{
	int y, m, d;

	y = digits(s, 4);
	m = y < 0 || s[4] != '-' ? -1 : digits(s + 5, 2);
	d = m < 0 || s[7] != '-' ? -1 : digits(s + 8, 2);
	if (d < 0 || s[10] != '\0')
		return err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" is not a date: write it as YYYY-MM-DD", what,
		    s);
	if (!day_from_civil(out, y, m, d))
		return err_set(err, RC_INVALID, 0,
		    "%s %.10s is a day that does not exist (or not in 2000 to "
		    "2199)",
		    what, s);
	return RC_OK;
}

char *
day_print(char *dst, size_t size, day_no d)
{
	struct civil c = day_civil(d);

	str_fmt(dst, size, "%04d-%02d-%02d", c.year, c.month, c.day);
	return dst;
}

char *
day_words(char *dst, size_t size, day_no d)
{
	struct civil c = day_civil(d);

	str_fmt(dst, size, "%s %d %s %d", weekday_name(day_weekday(d)), c.day,
	    month_name(c.month), c.year);
	return dst;
}
