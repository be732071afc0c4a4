/*
 * ops/undo.h - take the last recorded step back, where it is safe.
 *
 * Nothing is deleted or changed: a counter-record says that a step was a
 * mistake, and whoever reads the record leaves both out.  Steps follow the
 * audit trail, newest first; what was taken back is passed over, so that asking
 * again offers the step before it.  docs/rules.md R-Z.
 */
#ifndef OPS_UNDO_H
#define OPS_UNDO_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "core/code.h"
#include "ops/station.h"
#include "store/moment.h"

/* A mistake is noticed at once or it is put right by a step of its own. */
#define UNDO_MINUTES 30

enum undo_kind {
	UNDO_NOTHING,
	UNDO_USE,       /* the servings come back */
	UNDO_DISCARD,   /* of a portion or a batch: it comes back */
	UNDO_COUNT,     /* what a count found or missed */
	UNDO_HOLD,      /* released: the caller asks as for a release */
	UNDO_RELEASE,   /* held again */
	UNDO_LABEL,     /* a label still queued: cancelled */
	UNDO_BREAKDOWN, /* struck out: its batches have their fish back */
	UNDO_COMBINE,   /* struck out: the trays have their portions back */
	UNDO_GOODS_IN,  /* struck out */
	UNDO_NEVER,     /* a step with no way back; the error says what to do */
	UNDO_KIND_COUNT
};

struct undo_offer {
	enum undo_kind kind;
	int64_t step;         /* its row of the audit trail; 0: none */
	struct moment at;     /* when it was recorded, by whom */
	char code[CODE_SIZE]; /* of the batch or unit, without hyphen */
	/* One line each: the step ("use of 2 cod-leeks, 000-01U, at 10:05 by
	 * AB") and what taking it back does ("4 of 4 are on hand again"). */
	char what[240];
	char does[240];
	/* What a person has to do as well, such as keeping what was thrown
	 * away out of the fridge; may be empty. */
	char care[240];
	/* Labels that may lie around and have to be collected; how many, and
	 * their codes as people read them, as many as fit. */
	size_t collect_count;
	char collect[400];
};

/*
 * undo_last - what would be taken back: the newest step of `of` (initials), or
 * of anybody when NULL, of the last UNDO_MINUTES.  Records nothing.
 * RC_OK        *out can be taken back
 * RC_NOTFOUND  nothing was recorded in that time
 * RC_REFUSED   *out tells the step; err why it stays, and what to do instead
 */
enum rc undo_last(struct undo_offer *out, struct station *sn, const char *of,
    struct err *err) MUST_CHECK;

struct undo_in {
	int64_t step;       /* as offered, so that nothing else is taken back */
	const char *of;     /* as asked */
	const char *reason; /* NULL: "entered by mistake" */
	const char *by;
};

/*
 * undo_do - take it back, in one transaction with its row of the audit trail.
 * *out is what was done.
 * RC_OK, RC_NOTFOUND, RC_INVALID; RC_REFUSED: no longer safe, or another step
 * was recorded since it was offered.
 */
enum rc undo_do(struct undo_offer *out, struct station *sn,
    const struct undo_in *in, struct err *err) MUST_CHECK;

const char *undo_kind_word(enum undo_kind k); /* "use", for programs */

#endif /* OPS_UNDO_H */
