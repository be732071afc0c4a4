/*
 * term/when.h - dates as people type them.
 */
#ifndef TERM_WHEN_H
#define TERM_WHEN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"

/*
 * when_parse - "today", "tomorrow", "yesterday", "+2", "-1", "fri", "friday",
 * "27" (of the month), "27.11", "27.11.2026", "27/11", "2026-11-27".
 * Without a year or with a weekday alone it is the next such day, today
 * included; with `past` the last one, today included.  Day before month, as
 * everywhere but in the United States; a month over 12 is refused, never
 * swapped.
 * RC_OK, RC_INVALID.
 */
enum rc when_parse(day_no *out, const char *text, day_no today, bool past,
    struct err *err) MUST_CHECK;

/* when_words - "Fri 27 November, in 2 days"; `dst` of 80 bytes. */
char *when_words(char *dst, size_t size, day_no d, day_no today);

/* when_instant - "Fri 27 Nov 23:59" in the language of the screens; `dst` of 48
 * bytes. */
char *when_instant(char *dst, size_t size, int64_t utc);

#endif /* TERM_WHEN_H */
