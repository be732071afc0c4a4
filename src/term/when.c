/* when.c - dates as people type them. */
#include "term/when.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "says_term.h"

#define SPAN_DAYS 3650 /* "+N" at most */

/* The nearest day on the asked side for which fits() holds. */
static day_no
towards(day_no today, bool past, bool (*fits)(day_no d, const int *want),
    const int *want)
{
	day_no d;
	int i;

	for (i = 0; i <= 366 * 8; i++) {
		d = past ? today - i : today + i;
		if (fits(d, want))
			return d;
	}
	return DAY_NONE;
}

static bool
on_weekday(day_no d, const int *want)
{
	return day_weekday(d) == want[0];
}

static bool
on_day(day_no d, const int *want)
{
	return day_civil(d).day == want[0];
}

static bool
on_day_and_month(day_no d, const int *want)
{
	struct civil c = day_civil(d);

	return c.day == want[0] && c.month == want[1];
}

/* Is `text` a name, or at least three letters of its beginning? */
static bool
begins(const char *name, const char *text)
{
	char a[64], b[64];
	size_t n;

	str_fmt(a, sizeof(a), "%s", name);
	str_fmt(b, sizeof(b), "%s", text);
	str_lower(a);
	str_lower(b);
	n = strlen(b);
	return n >= 3 && strncmp(a, b, n) == 0;
}

static bool
by_word(day_no *out, const char *text, day_no today, bool past)
{
	static const struct {
		const char *word;
		int add;
	} words[] = { { SAY_WORD_TODAY, 0 }, { SAY_WORD_TOMORROW, 1 },
		{ SAY_WORD_YESTERDAY, -1 } };
	size_t i;
	int day;

	for (i = 0; i < sizeof(words) / sizeof(words[0]); i++)
		if (begins(words[i].word, text) ||
		    begins(tr(words[i].word), text)) {
			*out = today + words[i].add;
			return true;
		}
	for (day = 0; day < 7; day++)
		if (begins(weekday_name(day), text) ||
		    begins(tr(weekday_name(day)), text)) {
			*out = towards(today, past, on_weekday, &day);
			return true;
		}
	return false;
}

/* "27", "27.11", "27.11.2026" with . / - or blanks; the parts read. */
static int
numbers(int part[3], const char *text)
{
	int n = 0;

	while (*text != '\0') {
		if (!isdigit((unsigned char)*text) || n == 3)
			return 0;
		for (part[n] = 0; isdigit((unsigned char)*text); text++)
			if (part[n] < 100000)
				part[n] = part[n] * 10 + (*text - '0');
		n++;
		if (*text != '\0' && strchr("./- ", *text) != NULL)
			text++;
	}
	return n;
}

static enum rc
by_numbers(
    day_no *out, const char *text, day_no today, bool past, struct err *err)
{
	int part[3] = { 0 }, n = numbers(part, text);

	if (n == 0)
		return err_set(err, RC_INVALID, 0, "%s", tr(SAY_DATE_HOW));
	if (n >= 2 && part[1] > 12)
		return err_set(
		    err, RC_INVALID, 0, tr(SAY_DATE_MONTH_FIRST), part[1]);
	*out = DAY_NONE;
	if (n == 1)
		*out = towards(today, past, on_day, part);
	else if (n == 2)
		*out = towards(today, past, on_day_and_month, part);
	else if (!day_from_civil(out, part[2] < 100 ? 2000 + part[2] : part[2],
		     part[1], part[0]))
		*out = DAY_NONE;
	if (*out == DAY_NONE)
		return err_set(err, RC_INVALID, 0, tr(SAY_DATE_NO_DAY), text);
	return RC_OK;
}

enum rc
when_parse(
    day_no *out, const char *text, day_no today, bool past, struct err *err)
{
	char clean[64], *s, *end;
	long n;

	if (!str_copy(clean, sizeof(clean), text))
		return err_set(err, RC_INVALID, 0, "%s", tr(SAY_DATE_HOW));
	s = str_trim(clean);
	if ((s[0] == '+' || s[0] == '-') && isdigit((unsigned char)s[1])) {
		n = strtol(s, &end, 10);
		if (*end != '\0' || n > SPAN_DAYS || n < -SPAN_DAYS)
			return err_set(
			    err, RC_INVALID, 0, "%s", tr(SAY_DATE_HOW));
		*out = today + (day_no)n;
		return RC_OK;
	}
	if (strlen(s) == 10 && s[4] == '-' && s[7] == '-')
		return day_parse(out, "date", s, err);
	if (by_word(out, s, today, past))
		return RC_OK;
	return by_numbers(out, s, today, past, err);
}

char *
when_words(char *dst, size_t size, day_no d, day_no today)
{
	struct civil c = day_civil(d), now = day_civil(today);
	char date[80], far[80];
	int n = d - today;

	if (c.year == now.year)
		str_fmt(date, sizeof(date), "%s %d %s",
		    tr(weekday_short(day_weekday(d))), c.day,
		    tr(month_name(c.month)));
	else
		str_fmt(date, sizeof(date), "%s %d %s %d",
		    tr(weekday_short(day_weekday(d))), c.day,
		    tr(month_name(c.month)), c.year);
	if (n >= -1 && n <= 1)
		str_copy(far, sizeof(far),
		    tr(n == 0        ? SAY_WORD_TODAY
			    : n == 1 ? SAY_WORD_TOMORROW
				     : SAY_WORD_YESTERDAY));
	else if (n > 0)
		str_fmt(far, sizeof(far), trn(SAY_IN_DAYS, n), n);
	else
		str_fmt(far, sizeof(far), trn(SAY_DAYS_AGO, -n), -n);
	str_fmt(dst, size, tr(SAY_DATE_AND), date, far);
	return dst;
}

char *
when_instant(char *dst, size_t size, int64_t utc)
{
	struct local_time t = local_from_utc(utc);
	struct civil c = day_civil(t.day);

	str_fmt(dst, size, tr(SAY_INSTANT),
	    tr(weekday_short(day_weekday(t.day))), c.day,
	    tr(month_short(c.month)), t.hour, t.minute);
	return dst;
}
