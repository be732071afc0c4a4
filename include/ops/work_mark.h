/*
 * ops/work_mark.h - a task of a prep list started, done, or opened again.
 */
#ifndef OPS_WORK_MARK_H
#define OPS_WORK_MARK_H

#include "base/err.h"
#include "ops/station.h"
#include "store/work_marks.h"

struct work_say {
	const char *service; /* "DATE/NAME" */
	struct work_key key;
	enum work_said said;
	int64_t prep_id; /* breakdown that did it; 0: ticked by hand */
	const char *by;
};

/*
 * work_mark_say - record it, with its audit row.  `out` may be NULL.  A task
 * somebody started may be started by another.
 * RC_OK
 * RC_INVALID   no such step, service or initials
 * RC_NOTFOUND  service, batch or dish is not in the file
 * RC_REFUSED   done already (by whom and when), nothing to open again, or the
 *              clock is in doubt
 */
enum rc work_mark_say(struct work_mark *out, struct station *sn,
    const struct work_say *in, struct err *err) MUST_CHECK;

/*
 * work_marks_open - the newest of each task of "DATE/NAME"; empty when the
 * service is not in the file.  The caller frees with work_mark_list_fini().
 */
enum rc work_marks_open(struct work_mark_list *out, struct station *sn,
    const char *service, struct err *err) MUST_CHECK;

/* work_key_same - do they name one task? */
bool work_key_same(const struct work_key *a, const struct work_key *b);

#endif /* OPS_WORK_MARK_H */
