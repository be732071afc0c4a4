/*
 * exchange/cut_in.h - a board of fish, the dishes they are for and the trim
 * wanted, from CSV files.
 *
 * A species is any word here, upper and lower case alike: no table is asked.
 * Every mistake is RC_INVALID with file, line and column and what to do.
 */
#ifndef EXCHANGE_CUT_IN_H
#define EXCHANGE_CUT_IN_H

#include <stddef.h>

#include "base/err.h"
#include "core/cutplan.h"

#define BOARD_NAME_SIZE 64 /* of a fish, dish, pool or species, with NUL */

struct board_name {
	char text[BOARD_NAME_SIZE];
};

struct cut_board {
	struct board_name species[CUT_SPECIES_MAX];
	int species_count;
	struct cut_fish *fish;         /* owned */
	struct board_name *fish_names; /* owned; one for each fish */
	size_t *fish_order;            /* owned; by name, to find one twice */
	size_t fish_count, fish_cap;
	struct cut_dish dishes[CUT_DISHES_MAX];
	struct board_name dish_names[CUT_DISHES_MAX];
	size_t dish_count;
	struct cut_pool pools[CUT_POOLS_MAX];
	struct board_name pool_names[CUT_POOLS_MAX];
	size_t pool_count;
};

/*
 * board_fish - add the rows of a file: fish, species, bought_g, usable_g (of
 * each piece), pieces, cost, keep (credit for a piece left whole),
 * byproduct_g; money in thousandths of the smallest coin.  Refused: a name
 * twice, pieces and by-product heavier than the fish, nothing usable, no fish,
 * more than CUT_FISH_MAX.  RC_OK, RC_INVALID.
 */
enum rc board_fish(struct cut_board *b, const char *name, const char *data,
    size_t len, struct err *err) MUST_CHECK;

/*
 * board_dishes - the same: dish, species (a list joined by |), wanted, low_g,
 * target_g, high_g, short_cost, whole (0 or 1); optional under_price.
 */
enum rc board_dishes(struct cut_board *b, const char *name, const char *data,
    size_t len, struct err *err) MUST_CHECK;

/*
 * board_trim - the same: pool, species (a list), wanted_g, price_per_g.  A
 * file without rows wants no trim.
 */
enum rc board_trim(struct cut_board *b, const char *name, const char *data,
    size_t len, struct err *err) MUST_CHECK;

/*
 * board_problem - what there is to solve, for a proof; borrows from the board.
 * Every fish may be cut for every dish not served whole.
 */
struct cut_problem board_problem(struct cut_board *b);

void board_fini(struct cut_board *b);

#endif /* EXCHANGE_CUT_IN_H */
