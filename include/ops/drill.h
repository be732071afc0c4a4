/*
 * ops/drill.h - a recall in play, against the clock, and kept, so that it can
 * be shown that recalls were practised.
 */
#ifndef OPS_DRILL_H
#define OPS_DRILL_H

#include "base/buf.h"
#include "base/format.h"
#include "exchange/drill_out.h"
#include "labels/ticket.h"
#include "ops/label.h"
#include "ops/station.h"
#include "store/complaints.h"

#define DRILLS_SHOWN_MAX 200
#define DRILL_SEED_MAX ((int64_t)1 << 31) /* ten digits a person can key */

struct drill_in {
	const char *code; /* of a batch, or a unit of it; NULL: one is drawn */
	int64_t seed;     /* to draw it with; 0: a new one */
	const char *by;
};

/*
 * drill_run - find a batch back and forward, account for its grams, measure
 * how long that took by clock_ticks_us(), and record it.
 *
 * Drawn batches: as many steps back from the newest as a number with a random
 * count of binary digits, each count as likely; so half of the draws are
 * among the newest few dozen, and any batch may be drawn.  The same seed on
 * the same record draws the same batch.
 * RC_OK, RC_INVALID, RC_NOTFOUND: no such batch, or none at all.
 */
enum rc drill_run(struct drill_report *out, struct station *sn,
    const struct drill_in *in, struct err *err) MUST_CHECK;

/* drill_get - a report that was kept.  RC_OK, RC_NOTFOUND, RC_FAILED. */
enum rc drill_get(struct drill_report *out, struct station *sn, int64_t id,
    struct err *err) MUST_CHECK;

/* drill_ticket - it as a list, owned by the caller.
 * drill_print - keep and queue it, as ticket_print().
 * drill_show - append it as text of a ticket, or JSON. */
struct ticket *drill_ticket(const struct drill_report *r);
enum rc drill_print(struct job_list *out, struct station *sn,
    const struct drill_report *r, const struct label_order *order,
    struct err *err) MUST_CHECK;
void drill_show(
    struct buf *out, const struct drill_report *r, enum format format);

/* drill_rows - held so far, newest first, freed by the caller; drill_list -
 * append them. */
enum rc drill_rows(
    struct drill_list *out, struct station *sn, struct err *err) MUST_CHECK;
enum rc drill_list(struct buf *out, struct station *sn, enum format format,
    struct err *err) MUST_CHECK;

#endif /* OPS_DRILL_H */
