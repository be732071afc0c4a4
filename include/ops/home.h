/*
 * ops/home.h - the computer a station file works on.
 *
 * Two stations on copies of one file would give the same code to two trays.
 * The file remembers the computer it works on (a digest of /etc/machine-id,
 * never the id itself); on another one nothing is recorded until somebody says
 * that it was moved.  Reading stays possible.  A computer without a machine-id
 * cannot be told from others, and nothing is asked there: docs/files.md.
 */
#ifndef OPS_HOME_H
#define OPS_HOME_H

#include "base/digest.h"
#include "base/err.h"
#include "ops/station.h"

enum home {
	HOME_HERE,
	HOME_UNKNOWN,  /* this computer cannot be told from others */
	HOME_NEW,      /* the file does not say where it works yet */
	HOME_ELSEWHERE /* it worked on another computer */
};

/* home_of - where the open file works.  RC_OK, or what the file said. */
enum rc home_of(enum home *out, struct station *sn, struct err *err) MUST_CHECK;

/* home_check - RC_OK, or RC_REFUSED on another computer; err says what to do.
 */
enum rc home_check(struct station *sn, struct err *err) MUST_CHECK;

/*
 * home_set - this computer, and a branch of its own for what is recorded from
 * now on, in the open transaction; the caller writes the audit row, whose
 * detail ends with the branch.  `branch` of HOME_BRANCH_SIZE.
 */
#define HOME_BRANCH_SIZE 33
enum rc home_set(char branch[HOME_BRANCH_SIZE], struct station *sn,
    struct err *err) MUST_CHECK;

/* home_adopt - a file that does not say where it works yet works here from now
 * on; nothing while the clock is in doubt.  RC_OK, or what the file said. */
enum rc home_adopt(struct station *sn, struct err *err) MUST_CHECK;

/*
 * home_moved - somebody says that the file was moved here, and that no station
 * works on with the other one.  Recorded.
 * RC_OK; RC_REFUSED: it works here already; RC_INVALID initials.
 */
enum rc home_moved(
    struct station *sn, const char *by, struct err *err) MUST_CHECK;

#endif /* OPS_HOME_H */
