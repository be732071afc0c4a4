/*
 * core/useby.h - the last moment a food may be served, and why.
 *
 * The earliest of every limit that applies wins; every limit considered is
 * kept, with its source, so that the answer can say why.  Days are civil days;
 * a limit is the end of its day.  Rule numbers are those of docs/rules.md.
 * Pure: knows no clock and no zone.
 */
#ifndef CORE_USEBY_H
#define CORE_USEBY_H

#include <stdbool.h>

#include "base/day.h"
#include "base/err.h"

/* State of the food when it is labelled. */
enum food_state {
	STATE_RAW,    /* raw, to be cooked */
	STATE_COOKED, /* cooked or ready to eat */
	STATE_LIVE,   /* live shellfish */
	STATE_COUNT
};

const char *food_state_word(enum food_state s);
/* RC_OK or RC_INVALID listing the words; "served-raw" is RC_REFUSED: it needs
 * a parasite-freeze record, which this station cannot yet hold. */
enum rc food_state_parse(
    enum food_state *out, const char *s, struct err *err) MUST_CHECK;

/* House lives in days; the day of preparation or receipt is day 1. */
struct house_life {
	int batch_days;      /* a batch without a supplier's date */
	int live_batch_days; /* the same for live shellfish */
	int state_days[STATE_COUNT];
};

struct useby_in {
	bool live_batch;      /* bought live */
	day_no received;      /* day the batch came in */
	day_no supplier_date; /* supplier's use-by, or DAY_NONE */
	day_no prepared;      /* day of the breakdown; DAY_NONE for the batch */
	enum food_state state; /* of the portion; ignored for the batch */
};

#define USEBY_LIMITS_MAX 4

struct useby_limit {
	const char *name;   /* "supplier's date" */
	const char *source; /* where the figure stands */
	day_no day;         /* may be served until the end of this day */
};

struct useby {
	struct useby_limit limits[USEBY_LIMITS_MAX];
	int count;
	int bound; /* index of the limit that decides: the earliest */
};

/*
 * useby_decide - the limits of a batch (prepared == DAY_NONE) or of a portion
 * made from it.  A portion's limits include its batch's, so it is never later.
 */
void useby_decide(struct useby *out, const struct useby_in *in,
    const struct house_life *house);

/* useby_day - the day of the deciding limit. */
day_no useby_day(const struct useby *u);

#endif /* CORE_USEBY_H */
