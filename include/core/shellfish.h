/*
 * core/shellfish.h - portions of shellfish to pieces or grams, and back.
 *
 * Shellfish is bought and served three ways: by the piece (oysters, whole or
 * half crustaceans), by its weight in the shell (mussels), or as meat picked
 * out of it.  Live shellfish is sorted before use: an allowance says how much
 * of it is dead or broken.  Needs and orders are rounded up, what stock gives
 * is rounded down (docs/rules.md R-W8).  Integers only.  Pure.
 */
#ifndef CORE_SHELLFISH_H
#define CORE_SHELLFISH_H

#include <stdint.h>

#include "base/units.h"

enum shell_by {
	SHELL_PIECE,  /* so many animals to a portion */
	SHELL_WEIGHT, /* so many grams in the shell to a portion */
	SHELL_MEAT,   /* so many grams of meat to a portion */
};

#define SHELL_PIECES_MAX 1000 /* animals to a portion */
#define SHELL_DEAD_MAX_BP 5000
#define SHELL_YIELD_MIN_BP 100 /* less is a slip, not a yield */

struct shell_dish {
	enum shell_by by;
	/* SHELL_PIECE: `pieces` animals make `portions` portions, as 6 oysters
	 * make 1 and 1 lobster makes 2; both 1..SHELL_PIECES_MAX. */
	int pieces, portions;
	grams
	    portion_g; /* SHELL_WEIGHT in the shell, SHELL_MEAT of meat; > 0 */
	int yield_bp;  /* SHELL_MEAT: meat over live weight,
			  SHELL_YIELD_MIN_BP..10 000 */
	grams piece_g; /* mean live animal; 0 when it is not known */
	int dead_bp;   /* found dead or broken, 0..SHELL_DEAD_MAX_BP */
};

/* Live animals or live weight; a side that is not known is 0. */
struct shell_amount {
	int64_t pieces;
	grams weight_g;
};

/*
 * shell_take - what `portions` (0..COUNT_MAX) need, allowance in it, rounded
 * up.  By piece: pieces, and their weight when piece_g is known.  By weight and
 * as meat: grams; with piece_g known also whole animals, whose weight the grams
 * then are.
 */
struct shell_amount shell_take(const struct shell_dish *d, int64_t portions);

/*
 * shell_buy - an amount rounded up to how it is sold: in steps of `pieces` (a
 * dozen is 12) when it has pieces and step->pieces > 0, else in steps of
 * `weight_g` grams (> 0).  Never less than the amount.
 */
struct shell_amount shell_buy(const struct shell_dish *d,
    const struct shell_amount *need, const struct shell_amount *step);

/*
 * shell_portions - portions an amount in stock gives for certain, allowance
 * taken off, rounded down: by piece from the pieces, else from the grams.
 */
int64_t shell_portions(
    const struct shell_dish *d, const struct shell_amount *stock);

#endif /* CORE_SHELLFISH_H */
