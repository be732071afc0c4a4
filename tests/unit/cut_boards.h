/*
 * cut_boards.h - invented boards of fish from a seed, for tests and bench.
 *
 * Weights, yields and prices are made up in the range of a small kitchen; the
 * cost of opening a fish falls with the days it has left, so that what expires
 * first is opened first unless its size forbids it.
 */
#ifndef CUT_BOARDS_H
#define CUT_BOARDS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/buf.h"
#include "core/cutplan.h"

#define BOARD_SPECIES 5

/* How much of the band under target may be used. */
enum board_tolerance { TOLERANCE_ALL, TOLERANCE_HALF, TOLERANCE_NONE };

struct board_recipe {
	const char *why;
	int fish;    /* 1..CUT_FISH_MAX */
	int species; /* 1..BOARD_SPECIES; with 1 all is hake */
	int dishes;  /* cut dishes, 1..12, dealt to the species in turn */
	int load;    /* percent of the usable flesh that is wanted */
	int pools;   /* 0..3 trim pools */
	bool whole;  /* and a plaice served whole */
	bool stew;   /* and a dish of any species */
	bool thick;  /* every other dish from the thick part only */
	bool piece;  /* and fillets served as they are */
	bool ways;   /* and tronçons, the second way to open */
	bool under;  /* a price on grams under target */
	bool pins;   /* some fish are decided already */
	bool strict; /* first expired first, at almost any cost */
	enum board_tolerance tolerance;
};

struct board {
	struct cut_problem p; /* of the arrays below */
	struct cut_fish fish[CUT_FISH_MAX];
	struct cut_dish dishes[CUT_DISHES_MAX];
	struct cut_pool pools[CUT_POOLS_MAX];
	int days_left[CUT_FISH_MAX]; /* 0..3 */
	uint64_t seed;
};

/* board_make - the same board for the same recipe and seed.  *b must not be
 * moved afterwards: b->p points into it. */
void board_make(struct board *b, const struct board_recipe *r, uint64_t seed);

/* board_draw - 0..n-1, from the board's own seed. */
int board_draw(struct board *b, int n);

/* board_write - the problem in words and numbers, to keep a failing one. */
void board_write(struct buf *out, const struct cut_problem *p);

/*
 * board_csv - the three files of `pinbone cut`; fish and dishes are named by
 * their number from 1.  Only what the files can say: dishes cut or whole, one
 * way, no thick part, no pins.
 */
void board_csv(struct buf *fish, struct buf *dishes, struct buf *trim,
    const struct cut_problem *p);

#endif /* CUT_BOARDS_H */
