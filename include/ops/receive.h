/*
 * ops/receive.h - goods in: one batch of a delivery, judged and recorded.
 */
#ifndef OPS_RECEIVE_H
#define OPS_RECEIVE_H

#include "base/err.h"
#include "ops/judge.h"
#include "ops/station.h"
#include "store/batches.h"

#define RECEIVE_SCANS_MAX 4

/* What was keyed; fields left out are taken from the scans, if any.  Texts as
 * typed; NULL where nothing was given. */
struct receive_in {
	const char *supplier; /* code or name */
	const char *document; /* number of the delivery note */
	const char *species;  /* code or name */
	const char *presentation;
	const char *count;        /* fish; may be NULL for goods by weight */
	const char *weight;       /* of all of them, never of one */
	const char *fish_weights; /* "2100,1950", grams of each; may be NULL */
	const char *price;        /* of a kilogram, two decimals; may be NULL */
	const char *lot;
	const char *temp;
	const char *area, *method, *gear;
	const char *caught;        /* date, may be NULL */
	const char *supplier_date; /* supplier's use-by, may be NULL */
	const char *dispatched;    /* date, may be NULL */
	const char *vessel;        /* vessel or farm, may be NULL */
	const char *scans[RECEIVE_SCANS_MAX]; /* of the supplier's label */
	size_t scan_count;
	struct judge_in seen;
	enum decision decision;
	const char *note; /* the note, or the reason for a refusal */
	const char *by;
};

/*
 * receive - judge and record a batch; *out is what was recorded, *judged what
 * was found (may be NULL).
 * RC_OK
 * RC_INVALID   a field is missing or wrong (named)
 * RC_NOTFOUND  supplier or species not known
 * RC_REFUSED   a kitchen rule forbids this decision: too warm to accept,
 *              warm enough to need a note, past the supplier's use-by, caught
 *              or sent in the future, or against what the scanned label says
 */
enum rc receive(struct batch *out, struct judgement *judged, struct station *sn,
    const struct receive_in *in, struct err *err) MUST_CHECK;

#endif /* OPS_RECEIVE_H */
