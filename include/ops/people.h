/*
 * ops/people.h - who works here, and what asks a chef's PIN.
 *
 * Everybody has initials, which stand on records and labels.  Nobody is ever
 * deleted, since old records name them; who leaves is no longer offered.  What
 * the house marks as the chef's asks the PIN of somebody marked chef.  While no
 * chef has a PIN nothing asks for one: docs/decisions/0010-people.md.
 */
#ifndef OPS_PEOPLE_H
#define OPS_PEOPLE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "ops/station.h"
#include "store/people.h"

/* What the house may mark as the chef's. */
enum duty {
	DUTY_ANYONE,
	DUTY_RELEASE,       /* lift a hold */
	DUTY_CLOCK,         /* confirm the date */
	DUTY_CANCEL_UNSURE, /* say no more of an unsure label */
	DUTY_DISCARD_BATCH,
	DUTY_RESTORE, /* put a backup in place of the file */
	DUTY_PRUNE,   /* remove records that are old enough */
	DUTY_PEOPLE,  /* change who works here */
	DUTY_COUNT
};

/* duty_words - "lift a hold"; for the audit trail and refusals. */
const char *duty_words(enum duty duty);

/*
 * people_list - as person_list_open(); freed with person_list_fini().
 * people_get - RC_OK, RC_NOTFOUND.
 */
enum rc people_list(struct person_list *out, struct station *sn, bool all,
    int64_t skip, int64_t most, struct err *err) MUST_CHECK;
enum rc people_get(struct person *out, struct station *sn, const char *initials,
    struct err *err) MUST_CHECK;

/* Text as typed; NULL leaves it as it is. */
struct person_in {
	const char *initials; /* 1 to PERSON_INITIALS_MAX bytes, no blanks */
	const char *name;     /* 1 to PERSON_NAME_MAX bytes */
	const char *chef;     /* "yes" or "no"; new: no */
	const char *active;   /* the same; new: yes, and cannot be said */
	const char *by;
};

/*
 * people_add - somebody new.  `out` may be NULL.
 * RC_OK, RC_INVALID; RC_REFUSED: those initials are somebody's already, also of
 * one who left, or the clock is in doubt.
 */
enum rc people_add(struct person *out, struct station *sn,
    const struct person_in *in, struct err *err) MUST_CHECK;

/*
 * people_change - name, chef or not, here or gone.
 * RC_OK, RC_INVALID, RC_NOTFOUND; RC_REFUSED: the only chef with a PIN stays
 * one, else every door would stand open.
 */
enum rc people_change(struct person *out, struct station *sn,
    const struct person_in *in, struct err *err) MUST_CHECK;

/* people_works - these initials were chosen: they are offered first from now
 * on.  RC_OK, RC_NOTFOUND, RC_REFUSED when they left, RC_RETRY. */
enum rc people_works(
    struct station *sn, const char *initials, struct err *err) MUST_CHECK;

#define PIN_MIN 4
#define PIN_MAX 12 /* digits */

/* people_pin_good - may this be a PIN?  RC_OK, RC_INVALID. */
enum rc people_pin_good(const char *pin, struct err *err) MUST_CHECK;

/* people_pin_set - RC_OK, RC_INVALID (digits only, 4 to 12), RC_NOTFOUND,
 * RC_REFUSED (the clock is in doubt, or they left).  The caller wipes `pin`
 * (secret_wipe). */
enum rc people_pin_set(struct station *sn, const char *initials,
    const char *pin, const char *by, struct err *err) MUST_CHECK;

/*
 * people_pin_check - is it theirs?  Every try counts before it is looked at.
 * After PIN_FREE wrong ones the next has to wait: 30 seconds, then twice as
 * long each time, up to 15 minutes.  The wait is kept in the file and counts
 * on a clock that nobody sets (clock_ticks_ms), so a wrong date neither
 * shortens nor prolongs it and a chef may confirm the date.  After the
 * computer was started again at least the time since counts.
 * RC_OK; RC_REFUSED: wrong, or wait (err says how long), or no PIN, or left;
 * RC_NOTFOUND, RC_INVALID, RC_RETRY.  The caller wipes `pin` (secret_wipe).
 */
#define PIN_FREE 3
#define PIN_WAIT_FIRST_S 30
#define PIN_WAIT_MOST_S 900
enum rc people_pin_check(struct station *sn, const char *initials,
    const char *pin, struct err *err) MUST_CHECK;

/*
 * people_wait_s - seconds until they may try again; 0: now.
 * pin_wait_s - the same of `wrong` tries, the last at `tried_ms`, when the
 * computer's clock of milliseconds reads `now_ms`; pure.
 */
int64_t people_wait_s(const struct person *p);
int64_t pin_wait_s(int64_t wrong, int64_t tried_ms, int64_t now_ms);

enum pin_need {
	PIN_NOT_NEEDED,   /* the house does not ask */
	PIN_NEEDED,       /* a chef's */
	PIN_NOBODY_HAS_IT /* the house asks, but no chef has a PIN yet */
};

/* people_duty_needs_pin - RC_OK, or what the file said. */
enum rc people_duty_needs_pin(enum pin_need *out, struct station *sn,
    enum duty duty, struct err *err) MUST_CHECK;

/*
 * people_allow - a chef allows `duty` to be done by `by`: checks the PIN, that
 * they are a chef and work here, and records it.  While the clock is in doubt
 * it is not recorded (that would end the doubt unasked): the confirmation names
 * the chef instead, as its `by`.
 * RC_OK, and as people_pin_check(); RC_REFUSED also for who is no chef.
 */
enum rc people_allow(struct station *sn, enum duty duty, const char *initials,
    const char *pin, const char *by, struct err *err) MUST_CHECK;

#endif /* OPS_PEOPLE_H */
