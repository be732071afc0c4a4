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
/* docs/rules.md R-G7: colder than this, tenths of a degree, it is frozen. */
#define RECEIVE_FROZEN_BELOW_DC (-30)

/* What a refusal, or a supplier's label, is about. */
enum receive_field {
	RECEIVE_WHOLE, /* no field alone */
	RECEIVE_SCAN,
	RECEIVE_SUPPLIER,
	RECEIVE_DOCUMENT,
	RECEIVE_SPECIES,
	RECEIVE_PRESENTATION,
	RECEIVE_COUNT,
	RECEIVE_WEIGHT,
	RECEIVE_FISH_WEIGHTS,
	RECEIVE_PRICE,
	RECEIVE_LOT,
	RECEIVE_TEMP,
	RECEIVE_AREA,
	RECEIVE_METHOD,
	RECEIVE_GEAR,
	RECEIVE_CAUGHT,
	RECEIVE_SUPPLIER_DATE,
	RECEIVE_DISPATCHED,
	RECEIVE_VESSEL,
	RECEIVE_MARKS,
	RECEIVE_POINTS,
	RECEIVE_CONDITION, /* berried, soft-shelled, notched */
	RECEIVE_SIZE,
	RECEIVE_NOTE,
	RECEIVE_FIELD_COUNT
};

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

/* receive_at - the same; *at is the field that stopped it. */
enum rc receive_at(struct batch *out, enum receive_field *at,
    struct station *sn, const struct receive_in *in,
    struct err *err) MUST_CHECK;

/*
 * receive_prefill - what scans of one supplier's label would fill in, as the
 * texts receive() takes; "" where the label says nothing.
 * RC_OK, or RC_INVALID with the first problem of a scan that is wrong.
 */
#define RECEIVE_VALUE_SIZE 24
struct receive_label {
	char value[RECEIVE_FIELD_COUNT][RECEIVE_VALUE_SIZE];
	day_no first_freeze, best_before; /* or DAY_NONE: they fill no field */
};
enum rc receive_prefill(struct receive_label *out, const struct station *sn,
    const char *const *scans, size_t scan_count, struct err *err) MUST_CHECK;

/* What receive() would say, before the person decides. */
struct receive_view {
	struct batch batch; /* as it would be recorded; no code yet */
	struct judgement judged;
	enum decision mildest;  /* that may stand; later ones may, too */
	enum decision proposed; /* no milder */
	/* Why a plain acceptance may not stand, and which field that concerns;
	 * "" when accepting is proposed. */
	char why[ERR_TEXT_MAX];
	enum receive_field why_at;
	/* The use-by if it is taken in; not when it may only be refused, nor
	 * while the clock is in doubt. */
	bool dated;
	struct useby_limit bound; /* the limit that decides */
	char doubt[ERR_TEXT_MAX]; /* of the clock; "" when it is believed */
};

/*
 * receive_look - parse and judge as receive() does, and record nothing.
 * in->decision, note and by are not looked at.
 * RC_OK, or as receive() for what is wrong whatever is decided; *at (may be
 * NULL) is then the field.
 */
enum rc receive_look(struct receive_view *out, enum receive_field *at,
    struct station *sn, const struct receive_in *in,
    struct err *err) MUST_CHECK;

/*
 * received_on - the newest batches of a day, refused ones too, at most `most`.
 * suppliers_known - in order of their codes, at most `most`.
 * RC_OK; the caller frees with batch_list_fini(), supplier_list_fini().
 */
enum rc received_on(struct batch_list *out, struct station *sn, day_no day,
    size_t most, struct err *err) MUST_CHECK;
enum rc suppliers_known(struct supplier_list *out, struct station *sn,
    size_t most, struct err *err) MUST_CHECK;

#endif /* OPS_RECEIVE_H */
