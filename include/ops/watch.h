/*
 * ops/watch.h - a clock that cannot be trusted.
 *
 * Small terminals lose their clock, and a use-by counted from a wrong day can
 * make someone ill.  Before every record the clock is compared with the last
 * one; in doubt nothing is recorded or printed until an operator has read the
 * date and confirmed it.  docs/rules.md R-D6.
 */
#ifndef OPS_WATCH_H
#define OPS_WATCH_H

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/station.h"

/*
 * watch_check - is the clock to be believed at `now_utc`?
 * RC_OK, or RC_REFUSED: it reads a year before this program, an instant before
 * the last record, a jump beyond the settings' span, or another zone than
 * before; err says which and what to do.  A training station whose time is
 * set by --now is believed.
 */
enum rc watch_check(
    struct station *sn, int64_t now_utc, struct err *err) MUST_CHECK;

/*
 * watch_doubt - what speaks against the clock now, as it goes on from "the
 * clock reads ..., "; "" when it is believed.
 */
#define WATCH_DOUBT_SIZE 200
enum rc watch_doubt(
    char out[WATCH_DOUBT_SIZE], struct station *sn, struct err *err) MUST_CHECK;

/*
 * watch_moment - now, for what must never wait for a clock: a backup, a
 * restore.  `doubt` is what speaks against it; then watch_keep() belongs in the
 * same transaction, since the row written would end the doubt unasked.
 * RC_OK, RC_INVALID initials, or what the file said.
 * watch_keep - "" forgets.
 */
enum rc watch_moment(struct moment *out, char doubt[WATCH_DOUBT_SIZE],
    struct station *sn, const char *by, struct err *err) MUST_CHECK;
enum rc watch_keep(
    struct station *sn, const char *doubt, struct err *err) MUST_CHECK;

/* watch_show - append what the clock reads, in words, and the doubt if any. */
enum rc watch_show(struct buf *out, struct station *sn, enum format format,
    struct err *err) MUST_CHECK;

/*
 * watch_confirm - the operator has read the date: `date` (YYYY-MM-DD) is what
 * they say it is.  Recorded, and the doubt is over.
 * RC_OK, RC_INVALID, RC_REFUSED when it is not the day the clock reads, or
 * when there is no doubt.
 */
enum rc watch_confirm(struct buf *out, struct station *sn, const char *date,
    const char *by, struct err *err) MUST_CHECK;

/*
 * watch_vouch - the same without a doubt, before something that a wrong clock
 * would do great harm with; `why` names it.
 * RC_OK, RC_INVALID; RC_REFUSED: another day, or the clock is in doubt.
 */
enum rc watch_vouch(struct station *sn, const char *date, const char *by,
    const char *why, struct err *err) MUST_CHECK;

#endif /* OPS_WATCH_H */
