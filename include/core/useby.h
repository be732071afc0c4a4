/*
 * core/useby.h - the last moment a food may be served, and why.
 *
 * The earliest of every limit that applies wins; every limit considered is
 * kept, with its source, so that the answer can say why.  A limit counted in
 * days is the end of a civil day in the kitchen's zone; one counted in hours is
 * an instant.  Rule numbers are those of docs/rules.md.  Pure: the zone comes
 * in as a function, the time as facts.
 */
#ifndef CORE_USEBY_H
#define CORE_USEBY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "core/ruleset.h"
#include "core/species.h"

/* State of the food when it is dated. */
enum food_state {
	STATE_RAW,        /* raw, to be cooked */
	STATE_SERVED_RAW, /* raw or undercooked on the plate */
	STATE_COOKED,     /* cooked or otherwise ready to eat */
	STATE_LIVE,       /* live shellfish */
	STATE_VACUUM,     /* reduced-oxygen pack, raw */
	STATE_THAWED,     /* frozen and thawed again */
	STATE_COUNT
};

const char *food_state_word(enum food_state s); /* "served-raw" */
/* RC_OK or RC_INVALID listing the words. */
enum rc food_state_parse(
    enum food_state *out, const char *s, struct err *err) MUST_CHECK;

/* An instant and the civil day it falls on in the kitchen. */
struct when {
	bool set;
	int64_t utc;
	day_no day;
};

/* One limit from outside the rule set: a house life, the life left in ice. */
struct useby_extra {
	const char *name, *source;
	bool verified;
	day_no day; /* last day */
};

#define USEBY_INGREDIENTS_MAX 16
#define USEBY_EXTRAS_MAX 6

struct useby_in {
	enum food_state state;
	const struct species *species; /* NULL: not known */
	struct when prepared;          /* cut, cooked, opened or packed */
	struct when received, caught;
	struct when frozen, thawed;
	day_no supplier_date;                      /* or DAY_NONE */
	day_no ingredients[USEBY_INGREDIENTS_MAX]; /* their own use-by days */
	size_t ingredient_count;
	bool storage_set;
	int storage_dc; /* tenths of a degree it is kept at */
	bool freeze_set;
	int freeze_dc;      /* tenths of a degree it was frozen at */
	bool farmed;        /* farmed with a feed statement: an exemption */
	bool spoils_faster; /* measured to spoil faster than the rate says */
	bool freezing_day_counts; /* the disputed day, R-D11 */
	struct useby_extra extras[USEBY_EXTRAS_MAX];
	size_t extra_count;
	/* The last instant of a civil day in the kitchen's zone. */
	int64_t (*day_end)(day_no day);
};

#define USEBY_LIMITS_MAX 32
#define USEBY_CAUTIONS_MAX 8

struct useby_limit {
	char name[64];
	char source[220];
	bool verified;
	int64_t utc; /* may be served until then */
};

struct useby {
	struct useby_limit limits[USEBY_LIMITS_MAX];
	size_t count;
	size_t bound; /* index of the limit that decides: the earliest */
	char cautions[USEBY_CAUTIONS_MAX][200];
	size_t caution_count;
};

/*
 * useby_decide - every limit that applies.
 * RC_OK       out->limits[out->bound] decides
 * RC_INVALID  facts that cannot be: thawed before frozen, prepared after
 *             frozen, thawed without frozen, no fact to count from
 * RC_REFUSED  a rule forbids the food: served raw without a freeze record that
 *             meets it, vacuum-packed fish that was not frozen, kept too warm,
 *             frozen or prepared after a limit; err names the rule
 */
enum rc useby_decide(struct useby *out, const struct useby_in *in,
    const struct ruleset *rules, struct err *err) MUST_CHECK;

/*
 * useby_days_left - days left of a life in chill that ends on `last`, for food
 * frozen on `frozen`; the day it is thawed will be the first of them.  0 or
 * less: none (R-D11).
 */
int useby_days_left(day_no last, day_no frozen, bool freezing_day_counts);

/*
 * useby_frozen - how long a food may stay frozen, and whether it may be at all.
 * The clock of every limit in chill stands still: only the extras bind.  `in`
 * has when it was frozen and the temperature it reached (R-D17).
 * RC_OK
 * RC_INVALID  one of those is not set
 * RC_REFUSED  not cold enough, live, frozen before, a pack that the rule set
 *             wants frozen before it is made, no extra; err names the rule
 */
enum rc useby_frozen(struct useby *out, const struct useby_in *in,
    const struct ruleset *rules, struct err *err) MUST_CHECK;

/* useby_caution - one more caution, when there is room. */
void useby_caution(struct useby *u, const char *text);

/* useby_utc - the instant of the deciding limit. */
int64_t useby_utc(const struct useby *u);

#endif /* CORE_USEBY_H */
