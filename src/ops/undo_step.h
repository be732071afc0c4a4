/*
 * undo_step.h - one step that may be taken back, kind by kind.  Private to
 * src/ops.
 */
#ifndef OPS_UNDO_STEP_H
#define OPS_UNDO_STEP_H

#include "ops/hold.h"
#include "ops/undo.h"
#include "store/audit.h"
#include "store/batches.h"
#include "store/holds.h"
#include "store/jobs.h"
#include "store/portions.h"

struct undo_step {
	/* Everybody's rows of the last minutes, newest first, and which of
	 * them is the step; so many rows from there on are one step. */
	struct audit_list rows;
	size_t at, rows_of_step;
	const struct audit_row *row;

	enum code_kind kind; /* of the subject, if it is a code */
	char code[CODE_SIZE], shown[HOLD_NAME_SIZE];
	struct batch batch;
	struct portion portion;
	struct subject subject;

	/* What the kinds found, each what it needs. */
	struct portion_event event;
	struct batch_discarded gone;
	struct hold hold;
	int64_t prep_id;
	struct portion_list units; /* owned, as are the jobs */
	struct job_list jobs;      /* labels to cancel and to collect */
	char extra[160];           /* for the audit row, set by go */
};

/*
 * look - is it there, and safe to take back?  Fills the offer's what (kept also
 * when refused), does and care.
 * RC_OK; RC_REFUSED; RC_NOTFOUND: nothing of it is left to take back, and the
 * step before it is the one.
 * go - write the counter-records, in the transaction that is open.
 */
typedef enum rc undo_look_fn(struct undo_offer *o, struct undo_step *s,
    struct station *sn, struct err *err);
typedef enum rc undo_go_fn(struct undo_step *s, struct station *sn,
    const char *reason, const struct moment *at, struct err *err);

undo_look_fn undo_look_use, undo_look_discard, undo_look_count;
undo_look_fn undo_look_hold, undo_look_release, undo_look_label;
undo_look_fn undo_look_prep, undo_look_goods_in, undo_look_combine;
undo_go_fn undo_go_event, undo_go_discard, undo_go_hold, undo_go_release;
undo_go_fn undo_go_label, undo_go_prep, undo_go_goods_in, undo_go_combine;

/* undo_when - ", at 10:05 by AB": what every step ends with. */
#define UNDO_WHEN_SIZE 48
char *undo_when(char dst[UNDO_WHEN_SIZE], const struct undo_step *s);

/* undo_untouched - docs/rules.md R-Z3: a unit as it was made, seen by nobody
 * since.  RC_OK, RC_REFUSED. */
enum rc undo_untouched(const struct undo_step *s, const struct portion *p,
    struct err *err) MUST_CHECK;

/* undo_later - the newest row after the step with this action on this subject
 * (as shown), or NULL. */
const struct audit_row *undo_later(
    const struct undo_step *s, const char *action, const char *shown);

/*
 * undo_labels - of s->jobs: those that are `says` (JOB_SAYS_COUNT: any) and not
 * older than the step.  Those that may be out are listed in the offer.
 * RC_OK, RC_REFUSED: one is being sent just now.
 */
enum rc undo_labels(struct undo_offer *o, const struct undo_step *s,
    enum job_says says, struct err *err) MUST_CHECK;
/* undo_labels_cancel - cancel those of them that are still queued. */
enum rc undo_labels_cancel(const struct undo_step *s, struct station *sn,
    enum job_says says, const struct moment *at, struct err *err) MUST_CHECK;

#endif /* OPS_UNDO_STEP_H */
