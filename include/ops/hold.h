/*
 * ops/hold.h - block a batch, a breakdown or a portion, note what is found out
 * about it, and let it go.
 *
 * From the instant it is recorded what is blocked is neither used, broken down,
 * frozen, thawed, planned nor labelled as usable; labels that were queued do
 * not come out.  docs/rules.md R-H.
 */
#ifndef OPS_HOLD_H
#define OPS_HOLD_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"
#include "core/code.h"
#include "ops/station.h"
#include "store/holds.h"

#define HOLD_NAME_SIZE 48

struct hold_in {
	const char *code; /* of a batch or a unit, as keyed or scanned */
	bool breakdown;   /* of a unit: the breakdown that made it */
	const char *reason;
	const char *by;
};

/* What was blocked or let go. */
struct hold_done {
	char name[HOLD_NAME_SIZE]; /* "26338-01U", "breakdown 12" */
	int64_t prep_id;           /* a breakdown; else 0 */
	/* hold: queued labels that will not come out.  release: labels it
	 * stopped and that are wanted again; their codes as people read them,
	 * with commas, as many as fit. */
	int64_t labels;
	char codes[400];
};

/*
 * hold_set, hold_lift - RC_OK, RC_INVALID, RC_NOTFOUND; RC_REFUSED: it is held
 * already, has no hold of its own, or an open recall rests on it.
 */
enum rc hold_set(struct hold_done *out, struct station *sn,
    const struct hold_in *in, struct err *err) MUST_CHECK;
enum rc hold_lift(struct hold_done *out, struct station *sn,
    const struct hold_in *in, struct err *err) MUST_CHECK;

/* hold_note - in->reason is the text, kept with the time at the hold in force
 * on it.  RC_OK, RC_INVALID, RC_NOTFOUND, RC_REFUSED (it has none). */
enum rc hold_note(struct hold_done *out, struct station *sn,
    const struct hold_in *in, struct err *err) MUST_CHECK;

/* hold, release - the same without the answer; `shown` (may be NULL) is the
 * code as people read it. */
enum rc hold(char shown[CODE_SIZE], struct station *sn, const char *code,
    const char *reason, const char *by, struct err *err) MUST_CHECK;
enum rc release(char shown[CODE_SIZE], struct station *sn, const char *code,
    const char *reason, const char *by, struct err *err) MUST_CHECK;

/* hold_subject - what a code is about.  RC_OK, RC_INVALID, RC_NOTFOUND. */
enum rc hold_subject(struct subject *s, char name[HOLD_NAME_SIZE],
    struct station *sn, const char *code, bool breakdown,
    struct err *err) MUST_CHECK;

#endif /* OPS_HOLD_H */
