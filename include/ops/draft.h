/*
 * ops/draft.h - a half-typed form, kept in the station file.
 *
 * Not a record of anything that happened: no audit row, no initials needed, and
 * it is kept also while the clock is in doubt.  What is kept survives the
 * program's end, however it comes.
 */
#ifndef OPS_DRAFT_H
#define OPS_DRAFT_H

#include "base/err.h"
#include "ops/station.h"
#include "store/drafts.h"

#define DRAFT_BODY_MAX 16384 /* bytes */

/* Names of the forms that are kept. */
#define DRAFT_BREAKDOWN "breakdown"

/*
 * draft_keep - in place of what was kept under the name; `by` may be empty.
 * RC_OK, RC_INVALID (name, title or body too long), RC_RETRY, RC_FAILED.
 */
struct draft_in {
	const char *name, *title, *body, *by;
};
enum rc draft_keep(
    struct station *sn, const struct draft_in *in, struct err *err) MUST_CHECK;

/* draft_open - what is kept.  RC_OK, the caller frees with draft_fini();
 * RC_NOTFOUND. */
enum rc draft_open(struct draft *out, struct station *sn, const char *name,
    struct err *err) MUST_CHECK;

/* draft_clear - forget it; RC_OK also when there is none. */
enum rc draft_clear(
    struct station *sn, const char *name, struct err *err) MUST_CHECK;

/*
 * draft_waiting - is a form kept under this name?  *out has its title, when and
 * by whom, and no body: nothing to free.  RC_OK, RC_NOTFOUND.
 */
enum rc draft_waiting(struct draft *out, struct station *sn, const char *name,
    struct err *err) MUST_CHECK;

#endif /* OPS_DRAFT_H */
