/*
 * ops/breakdown.h - a batch worked into portions, trim, frames and waste.
 */
#ifndef OPS_BREAKDOWN_H
#define OPS_BREAKDOWN_H

#include <stddef.h>

#include "base/err.h"
#include "ops/station.h"
#include "ops/work_mark.h"
#include "ops/yields.h"
#include "store/batches.h"
#include "store/pace.h"
#include "store/portions.h"
#include "store/preps.h"

#define BREAKDOWN_MAKES_MAX 16
#define BREAKDOWN_MINUTES_MAX 1440 /* a day */

/* Portions of one dish out of a breakdown. */
struct make {
	const char *dish; /* code */
	int64_t portions;
	grams weight_g;    /* of all of them */
	int64_t per_label; /* servings on one label, 1..portions */
};

/* What goes in of another batch beside the first. */
struct breakdown_with {
	const char *batch; /* code as keyed or scanned */
	int64_t fish;      /* taken; 0 for a batch that was not counted */
	grams weight_g;    /* weighed in */
};

#define BREAKDOWN_WITH_MAX (PREP_INPUTS_MAX - 1)

struct breakdown_in {
	const char *batch; /* code as keyed or scanned */
	int64_t fish;      /* taken; 0 for a batch that was not counted */
	grams weight_g;    /* weighed in */
	/* The same of other batches, of the same species and presentation:
	 * what comes out is made of all of them. */
	struct breakdown_with with[BREAKDOWN_WITH_MAX];
	size_t with_count;
	struct make makes[BREAKDOWN_MAKES_MAX];
	size_t make_count;
	grams loss_g[LOSS_COUNT];
	const char *which; /* "3,5": fish of the first batch weighed one by
			      one; may be NULL, and `fish` may then be 0 */
	bool yield_ok;     /* record a yield outside the gate, set aside */
	const char *note;  /* may be NULL */
	/* For dishes served raw; texts as typed, NULL where not given.  Of
	 * several batches it must hold for all: the oldest freezing. */
	const char *frozen, *thawed, *freeze_c, *feed_statement;
	int64_t minutes; /* it took; 0: nobody said */
	bool minutes_ok; /* keep them, do not learn from them */
	const char *by;
	/* With it, in the same transaction: a task that is done by it, unless
	 * it is ticked already, and the half-typed form (ops/draft.h) it was.
	 * NULL: none. */
	const struct work_say *task;
	const char *draft;
};

/* What was refused only because nobody said that it is right. */
enum breakdown_doubt {
	DOUBT_NOTHING,
	DOUBT_YIELD,   /* yield_ok records it: `yield` has both figures */
	DOUBT_MINUTES, /* minutes_ok keeps them: `pace` has what was expected */
};

struct breakdown {
	struct prep prep;
	struct history history; /* what its use-by dates rest on */
	struct batch batch;     /* the first, after it */
	/* The others, after it. */
	struct batch with[BREAKDOWN_WITH_MAX];
	size_t with_count;
	struct portion *portions; /* labelled units made; owned */
	size_t portion_count;
	grams unexplained_g; /* in less everything out; may be 0 */
	struct yield_taught yield;
	bool weights_lost; /* the fish left are no longer known one by one */
	struct prep_minutes pace;   /* minutes is 0 when nobody said */
	enum breakdown_doubt doubt; /* of what was refused */
	/* Dishes whose mean portion is outside the menu's weights, or "". */
	char caution[200];
};

/* The parts of a weighing may differ by this much from the batch's record. */
#define OVERWEIGHT_BP 200   /* 2 % of what came in */
#define OVERWEIGHT_MIN_G 20 /* or this, if more */

/*
 * breakdown_record - record it whole, with a code and use-by for every unit.
 * RC_OK; the caller frees with breakdown_fini()
 * RC_INVALID   fields that do not fit together (named)
 * RC_NOTFOUND  batch, dish or a fish named not known
 * RC_REFUSED   a batch refused, on hold, expired, with less left than taken, or
 *              not the same fish in the same presentation as the others;
 *              more out than in; a yield outside the gate; fish named that
 *              weighed something else; minutes that cannot be believed;
 *              out->doubt, yield and pace tell of it
 */
enum rc breakdown_record(struct breakdown *out, struct station *sn,
    const struct breakdown_in *in, struct err *err) MUST_CHECK;

void breakdown_fini(struct breakdown *b);

/* breakdown_may_open - RC_OK, or RC_REFUSED: the batch was refused, is on hold
 * or expired at `now_utc` (docs/rules.md R-B1). */
enum rc breakdown_may_open(
    const struct batch *b, int64_t now_utc, struct err *err) MUST_CHECK;

/* breakdown_total - of all batches: grams; fish, 0 when one is not counted. */
grams breakdown_total_g(const struct breakdown_in *in);
int64_t breakdown_total_fish(const struct breakdown_in *in);

/*
 * with_parse - "BATCH:FISH:WEIGHT" or, of a batch that was not counted,
 * "BATCH:WEIGHT".  `text` is cut up and kept by the result.
 */
enum rc with_parse(
    struct breakdown_with *out, char *text, struct err *err) MUST_CHECK;

/*
 * make_parse - "DISH:PORTIONS:WEIGHT[:PER_LABEL]" as keyed.  `text` is cut up
 * and kept by the result.
 */
enum rc make_parse(struct make *out, char *text, struct err *err) MUST_CHECK;

#endif /* OPS_BREAKDOWN_H */
