/*
 * ops/on_hand.h - what is on hand, first to expire first, a window at a time.
 *
 * Batches that are not used up and labelled units with something left.  Only
 * what is on hand is read, so that the cost does not grow with the record.
 * Reads only.
 */
#ifndef OPS_ON_HAND_H
#define OPS_ON_HAND_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "base/units.h"
#include "core/code.h"
#include "core/cut.h"
#include "core/useby.h"
#include "ops/station.h"
#include "store/places.h"
#include "store/portions.h"

enum on_hand_what {
	ON_HAND_BOTH,
	ON_HAND_BATCHES,
	ON_HAND_UNITS, /* portions and trays */
	ON_HAND_WHAT_COUNT
};

/*
 * Raw, cooked, live, frozen and thawed part everything on hand between them:
 * a unit that was ever frozen is frozen or thawed, a batch is live or raw.
 * The others lie across: a frozen tray may be on hold, and expired too.
 */
enum on_hand_state {
	ON_HAND_ANY,
	ON_HAND_RAW, /* to be cooked, served raw, or in a pack */
	ON_HAND_COOKED,
	ON_HAND_LIVE,
	ON_HAND_FROZEN,
	ON_HAND_THAWED,
	ON_HAND_HELD,
	ON_HAND_EXPIRED,
	ON_HAND_TODAY, /* expires today, later than now */
	ON_HAND_STATE_COUNT
};

struct on_hand_filter {
	enum on_hand_what what;
	enum on_hand_state state;
	char species[4]; /* 3-alpha; empty: any */
	char dish[32];   /* code; empty: any, batches too */
};

struct on_hand_row {
	enum code_kind kind;
	char code[CODE_SIZE];  /* without hyphen */
	char batch[CODE_SIZE]; /* the batch, or the one a unit was made of */
	int others;            /* further batches a unit is made of */
	char name[64];         /* dish, or species of a batch */
	char dish[32];         /* code; empty for a batch */
	char species[4];
	char species_name[48];
	int64_t count;  /* servings left; fish left, 0 of a batch by weight */
	int64_t made;   /* servings as made; fish as received */
	grams weight_g; /* of what is left */
	int64_t use_by_utc;
	day_no use_by;
	int days_left; /* whole days after today; below 0: days ago */
	bool expired, held;
	char hold_reason[200];  /* its own, its breakdown's or a batch's */
	char place[PLACE_SIZE]; /* where somebody put it; empty: where its
				   kind lies */
	bool own_hold;          /* it has one itself: release names it */
	bool prep_hold;         /* the hold is its breakdown's */
	enum presentation presentation; /* batch */
	enum food_state state;          /* unit, as made */
	enum portion_keep keep;         /* a batch is chilled */
	enum on_hand_state is;          /* RAW to THAWED */
};

struct on_hand_sum {
	size_t rows, batches, units;
	int64_t servings; /* in units */
	grams weight_g;   /* of batches and units together */
};

/* A species or a dish with something on hand. */
struct on_hand_group {
	char code[32];
	char name[64];
	struct on_hand_sum sum;
};

struct on_hand_wish {
	struct on_hand_filter filter;
	size_t offset, limit; /* of what the filter leaves */
	const char *code;     /* move the window to this one; NULL: stay */
};

struct on_hand_page {
	int64_t now_utc;
	day_no today;
	struct on_hand_filter filter;
	struct on_hand_sum all;          /* without a filter, as the next two */
	size_t expired_rows, today_rows; /* past it; expiring today */
	struct on_hand_sum sum;          /* of the filter */
	struct on_hand_sum states[ON_HAND_STATE_COUNT]; /* were the filter's
							   state this one */
	struct on_hand_group
	    *species; /* owned; by name, were its species any */
	size_t species_count;
	struct on_hand_group *dishes; /* owned; the same with its dish */
	size_t dish_count;
	struct on_hand_row *rows; /* owned: the window */
	size_t offset, count;     /* of the window */
	int64_t found; /* row of the wish's code, from 0; -1 not among them */
};

/*
 * on_hand_load - RC_OK, the caller frees with on_hand_fini(); an error of the
 * file.  An offset beyond the end gives the last window.
 */
enum rc on_hand_load(struct on_hand_page *out, struct station *sn,
    const struct on_hand_wish *wish, struct err *err) MUST_CHECK;
void on_hand_fini(struct on_hand_page *p);

#endif /* OPS_ON_HAND_H */
