/*
 * ops/keeping.h - how long records must be kept, and what may go.
 *
 * Nothing of which any part is younger than the longest duty (core/keeping.h)
 * ever goes, nor what is on hand, on hold, waiting for a printer, or spoken of
 * in a recall or complaint.  Chains go whole.  The audit trail stays for ever.
 * Why it is done this way: docs/decisions/0020-keeping.md.
 */
#ifndef OPS_KEEPING_H
#define OPS_KEEPING_H

#include <stdbool.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "core/keeping.h"
#include "ops/station.h"
#include "store/prune.h"

/* Before a pruning the station must have recorded on so many of so many days:
 * a clock that jumped ahead has no yesterday. */
#define KEEPING_DAYS_SEEN 5
#define KEEPING_DAYS_OF 14
/* A backup before a pruning is not older than this. */
#define KEEPING_BACKUP_S (24 * 3600)

struct keeping {
	struct keep_rule rule;
	day_no today;
	day_no latest; /* nothing of this day or later may go; DAY_NONE: no
			  duty is known, so nothing may */
	day_no before; /* the day asked about, at most `latest` */
	struct prune_sum may;       /* what may go */
	int64_t stays[PRUNE_STAYS]; /* chains from before it that stay */
	bool more;                  /* not all chains were looked at */
	struct pruning_list done;   /* the newest, owned */
};

/*
 * keeping_look - what may go of what is older than `before` (DAY_NONE: the
 * latest day there is).  Looks at the chains of at most `most` batches, oldest
 * first (0: of all; a file of ten years takes seconds).  Freed with
 * keeping_fini(), whatever is returned.
 * RC_OK; RC_REFUSED: `before` is younger than the longest duty.
 */
enum rc keeping_look(struct keeping *out, struct station *sn, day_no before,
    int64_t most, struct err *err) MUST_CHECK;
void keeping_fini(struct keeping *k);

struct keeping_wish {
	day_no before;     /* or DAY_NONE */
	const char *today; /* YYYY-MM-DD, as the person reads it elsewhere */
	const char *by;
	bool (*tell)(void *arg, const struct prune_sum *sum); /* or NULL; false
								 stops */
	void *arg;
};

/*
 * keeping_prune - remove it: a few chains to a transaction, each with its row
 * of the audit trail, so that a power cut loses nothing that stays and the next
 * call goes on.  *sum is what went, also on failure.
 * RC_OK, also when nothing was to go; RC_INVALID; RC_RETRY;
 * RC_REFUSED: younger than the longest duty; the clock is in doubt, is not at
 * the day said, or was not in use before; no backup of the last day.
 */
enum rc keeping_prune(struct prune_sum *sum, struct station *sn,
    const struct keeping_wish *wish, struct err *err) MUST_CHECK;

/* keeping_show - append it as text or JSON. */
void keeping_show(struct buf *out, const struct keeping *k, enum format format);
/* prune_sum_show - the same of what went. */
void prune_sum_show(
    struct buf *out, const struct prune_sum *s, enum format format);

/* prune_stay_word - "something of them is on hand". */
const char *prune_stay_word(enum prune_stay why);

#endif /* OPS_KEEPING_H */
