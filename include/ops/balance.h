/*
 * ops/balance.h - every gram of a batch, a day or a supplier accounted for,
 * and the grams nobody has explained yet.
 */
#ifndef OPS_BALANCE_H
#define OPS_BALANCE_H

#include "exchange/balance_out.h"
#include "ops/station.h"

#define BALANCE_BATCHES_MAX 2000
#define BALANCE_GAPS_MAX 500
#define BALANCE_GAP_DAYS 90 /* back from today, when nobody says */
#define BALANCE_SUPPLIER_DAYS 28

struct balance_ask {
	const char *what;      /* a code, or "DATE"; NULL with a supplier */
	const char *supplier;  /* code or name, or NULL */
	const char *from, *to; /* of a supplier or of gaps; NULL: the last
				  weeks */
};

/*
 * balance_load - a batch (of a unit's code: its batch) with its breakdowns; a
 * day, with the batches that came in and the breakdowns made on it; or what a
 * supplier brought in some days, first BALANCE_BATCHES_MAX of it.  Records
 * nothing.
 * RC_OK: the caller frees with balance_fini(); RC_INVALID, RC_NOTFOUND.
 */
enum rc balance_load(struct balance_report *out, struct station *sn,
    const struct balance_ask *ask, struct err *err) MUST_CHECK;
void balance_fini(struct balance_report *r);

/* balance_batch - of a batch alone, by its code without hyphen. */
enum rc balance_batch(struct mass *out, struct station *sn, const char *code,
    struct err *err) MUST_CHECK;

/* balance - load and append. */
enum rc balance(struct buf *out, struct station *sn,
    const struct balance_ask *ask, enum format format,
    struct err *err) MUST_CHECK;

/* balance_gaps_load - what is unexplained in those days; RC_OK: the caller
 * frees gaps.items.  balance_gaps - load and append. */
enum rc balance_gaps_load(struct gaps_report *out, struct station *sn,
    const struct balance_ask *ask, struct err *err) MUST_CHECK;
enum rc balance_gaps(struct buf *out, struct station *sn,
    const struct balance_ask *ask, enum format format,
    struct err *err) MUST_CHECK;

/*
 * balance_explain - say what became of the unexplained grams of a breakdown
 * (its number) or of a batch that is used up (its code).  No figure changes;
 * when one does later, by an undo say, the line is open again.
 * *gap is what was explained.
 * RC_OK, RC_INVALID, RC_NOTFOUND, RC_REFUSED: nothing is unexplained.
 */
enum rc balance_explain(grams *gap, struct station *sn, const char *what,
    const char *reason, const char *by, struct err *err) MUST_CHECK;

#endif /* OPS_BALANCE_H */
