/*
 * base/clock.h - the only source of "now", and the kitchen's time zone.
 *
 * Instants are UTC seconds since 1970.  A local time is a civil day and a
 * time of day in the kitchen's zone, with the offset that held then.
 * Threads: the zone is process-wide and is set once at start.
 */
#ifndef BASE_CLOCK_H
#define BASE_CLOCK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"

struct clock {
	bool fixed;        /* a training station may set its own time */
	int64_t fixed_utc; /* used when fixed */
};

struct local_time {
	day_no day;
	int hour, minute, second; /* 0..23, 0..59, 0..59 */
	int offset_min;           /* minutes east of UTC that held then */
};

/* clock_now - UTC seconds: the fixed time, or the computer's. */
int64_t clock_now(const struct clock *c);

/*
 * clock_ticks_ms - milliseconds that only ever go forward, for deadlines; says
 * nothing about the time of day, and setting the clock does not move it.
 */
int64_t clock_ticks_ms(void);
/* clock_ticks_us - the same in microseconds, for what takes less. */
int64_t clock_ticks_us(void);

/*
 * zone_set - use an IANA zone such as "Europe/Dublin" from now on.
 * RC_OK, or RC_INVALID when the zone data of that name is not installed: the C
 * library would silently take UTC for it.  A folder of zones is not a zone.
 */
enum rc zone_set(const char *name, struct err *err) MUST_CHECK;

/*
 * local_from_utc - the civil day and time people in the kitchen read.  An
 * instant outside the believed years gives the nearest day inside them.
 */
struct local_time local_from_utc(int64_t utc);

/*
 * utc_from_local - the instant of a local time; second 0..59.
 * A time that happens twice (clocks go back) gives the first; one that does
 * not happen (clocks go forward) gives the moment of the change: the earlier
 * instant, so that a limit is never late.
 */
int64_t utc_from_local(day_no day, int hour, int minute, int second);

/*
 * time_parse - "YYYY-MM-DD", "YYYY-MM-DDTHH:MM[:SS]" local, or the same with
 * "Z" or "+HH:MM" (RFC 3339).  A bare date means 00:00.  RC_OK, RC_INVALID.
 */
enum rc time_parse(
    int64_t *out, const char *what, const char *s, struct err *err) MUST_CHECK;

/* Text forms of an instant; `size` 48 suffices.  Return `dst`. */
char *time_rfc3339(char *dst, size_t size, int64_t utc);
/* time_rfc3339_at - at an offset that was kept, whatever the zone says now. */
char *time_rfc3339_at(char *dst, size_t size, int64_t utc, int offset_min);
char *time_short(char *dst, size_t size, int64_t utc);  /* Fri 27 Nov 23:59 */
char *time_minute(char *dst, size_t size, int64_t utc); /* 2026-11-27 23:59 */

#endif /* BASE_CLOCK_H */
