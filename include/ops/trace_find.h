/*
 * ops/trace_find.h - the ways back that begin without a code of ours: what a
 * supplier names, what a label says of itself.  Nothing here records anything.
 */
#ifndef OPS_TRACE_FIND_H
#define OPS_TRACE_FIND_H

#include <stdbool.h>
#include <stddef.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "core/code.h"
#include "ops/station.h"
#include "store/lots.h"

#define TRACE_LOTS_MAX 500

/* What is asked for, as typed; one of lot, document or day.  NULL or empty:
 * not said. */
struct lot_wish {
	const char *lot;
	const char *document;
	const char *supplier; /* code or name */
	const char *from;     /* days of arrival, YYYY-MM-DD; with a supplier */
	const char *to;       /* NULL: `from` alone */
};

struct trace_lots {
	char what[200]; /* "lot L-77 of Gannet Fish", for people */
	struct lot_list list;
	bool more; /* than TRACE_LOTS_MAX, which is all that is here */
};

/*
 * trace_lots_load - the batches it may be.  RC_OK, also when there is none: the
 * caller frees with trace_lots_fini(); RC_INVALID, RC_NOTFOUND (supplier).
 */
enum rc trace_lots_load(struct trace_lots *out, struct station *sn,
    const struct lot_wish *w, struct err *err) MUST_CHECK;
void trace_lots_fini(struct trace_lots *t);

/* trace_lots - append them.  RC_NOTFOUND: none. */
enum rc trace_lots(struct buf *out, struct station *sn,
    const struct lot_wish *w, enum format format, struct err *err) MUST_CHECK;

/* --- a label that speaks for itself ---------------------------------------*/

/* What one of our own labels says, and what of that this station knows. */
struct label_said {
	bool unit;             /* of a portion or tray, else of a batch */
	char code[CODE_SIZE];  /* without hyphen */
	char batch[CODE_SIZE]; /* empty: the label does not say */
	int64_t use_by_utc;    /* 0: the label does not say */
	bool known, batch_known;
};

/*
 * label_said - read a scanned or keyed code of ours.  RC_OK; RC_INVALID: it is
 * none, or is damaged.
 */
enum rc label_said(struct label_said *out, struct station *sn, const char *text,
    struct err *err) MUST_CHECK;

/* label_said_put - append what a label of an unknown unit says and what to do
 * about it. */
void label_said_put(
    struct buf *out, const struct label_said *s, enum format format);

#endif /* OPS_TRACE_FIND_H */
