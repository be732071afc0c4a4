/*
 * base/day.h - civil days in the proleptic Gregorian calendar.
 *
 * A day_no counts days; day 0 is 1970-01-01.  Adding days is adding integers,
 * so clock changes, leap days and year ends need no care anywhere else.
 */
#ifndef BASE_DAY_H
#define BASE_DAY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"

typedef int32_t day_no;

/* The station believes years 2000 to 2199 only. */
#define DAY_MIN 10957 /* 2000-01-01 */
#define DAY_MAX 84005 /* 2199-12-31 */
#define DAY_NONE INT32_MIN

struct civil {
	int year, month, day; /* month 1..12, day 1..31 */
};

/* day_from_civil - false when the date does not exist or is out of range. */
bool day_from_civil(day_no *out, int year, int month, int day);

/* day_civil and all below that take a day: d >= 0, asserted, so that DAY_NONE
 * is never shown as some date. */
struct civil day_civil(day_no d);

/* day_of_year - 1..366. */
int day_of_year(day_no d);

/* day_weekday - 0 Monday .. 6 Sunday, as ISO 8601 orders them. */
int day_weekday(day_no d);

/* "Friday", "Fri", "November", "Nov"; index as above, month 1..12. */
const char *weekday_name(int weekday);
const char *weekday_short(int weekday);
const char *month_name(int month);
const char *month_short(int month);

/* day_parse - "YYYY-MM-DD" only (ISO 8601 calendar date). RC_OK, RC_INVALID. */
enum rc day_parse(
    day_no *out, const char *what, const char *s, struct err *err) MUST_CHECK;

/* day_print - "2026-11-25"; `size` 16 suffices.  Returns `dst`. */
char *day_print(char *dst, size_t size, day_no d);

/* day_words - "Friday 27 November 2026"; `size` 40 suffices. */
char *day_words(char *dst, size_t size, day_no d);

#endif /* BASE_DAY_H */
