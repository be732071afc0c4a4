/*
 * core/mass.h - where grams went: units, breakdowns and batches as sums that
 * add up to the gram.
 *
 * Whole grams only.  What is shared is shared by largest remainder, so that
 * the shares of a whole are the whole.  Reg. (EC) 178/2002 Art. 18 asks who a
 * food came from; that all of it is accounted for is common practice of a
 * recall, no source.  Pure.
 */
#ifndef CORE_MASS_H
#define CORE_MASS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/units.h"

/* X(id, word in files, words for people) */
#define MASS_LIST(X)                                                           \
	X(MASS_RETURNED, "returned", "refused, sent back")                     \
	X(MASS_STRUCK, "struck", "struck out as a mistake")                    \
	X(MASS_DISCARDED, "discarded_whole", "discarded unopened")             \
	X(MASS_WHOLE, "whole", "still whole")                                  \
	X(MASS_CHILLED, "on_hand", "in portions, on hand")                     \
	X(MASS_FROZEN, "frozen", "in portions, in the freezer")                \
	X(MASS_USED, "used", "in portions, served")                            \
	X(MASS_THROWN, "discarded_portions", "in portions, discarded")         \
	X(MASS_MISSING, "missing", "in portions, missing at a count")          \
	X(MASS_TRIM, "trim", "trim kept")                                      \
	X(MASS_FRAMES, "frames", "frames")                                     \
	X(MASS_WASTE, "waste", "waste")

enum mass_part {
#define MASS_ENUM(id, word, words) id,
	MASS_LIST(MASS_ENUM)
#undef MASS_ENUM
	    MASS_PARTS
};

const char *mass_word(enum mass_part p);  /* "frozen" */
const char *mass_words(enum mass_part p); /* "in portions, in the freezer" */

/* in = sum of part[] + unexplained, always. */
struct mass {
	grams in;
	grams part[MASS_PARTS];
	grams unexplained; /* below 0: more came out than went in */
	grams explained;   /* of it, what a person gave a reason for */
};

/* mass_close - unexplained becomes what the parts leave of `in`. */
void mass_close(struct mass *m);
/* mass_open - grams nobody has explained yet. */
grams mass_open(const struct mass *m);
/* mass_add - sums of sums. */
void mass_add(struct mass *sum, const struct mass *m);
/* mass_adds_up - does it?  What is loaded from a record always must. */
bool mass_adds_up(const struct mass *m);

/* A labelled unit: servings, and what became of them. */
struct mass_unit {
	grams weight_g;
	int64_t servings, left, used, discarded, missing;
	bool frozen; /* what is left of it */
	/* Put onto other trays, whose parts they are; grams as recorded. */
	int64_t combined;
	grams combined_g;
};

/*
 * mass_put_unit - add its weight, serving by serving, to the parts.  `missing`
 * is below 0 where a count found more than was missed: those count as not
 * served, then as not discarded.  What went onto another tray is left to that
 * tray.  A unit whose servings do not add up is put nowhere: its grams stay
 * unexplained.
 */
void mass_put_unit(struct mass *m, const struct mass_unit *u);

/*
 * mass_share - `total` >= 0 grams by weights, largest remainder first, the
 * earlier one of equals: sum(out) = total.  The weights are >= 0 and sum up to
 * more than 0; their sum times total is below 2^63.
 */
void mass_share(grams *out, grams total, const grams *weights, size_t count);

/*
 * mass_split - a breakdown of several inputs as one of each: out[i].in =
 * in[i], and every part and the unexplained grams sum up over the inputs to
 * those of `whole`, whose `in` is the sum of in[], each above 0.
 */
void mass_split(
    struct mass *out, const struct mass *whole, const grams *in, size_t count);

#endif /* CORE_MASS_H */
