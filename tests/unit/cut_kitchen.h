/*
 * cut_kitchen.h - problems for the cut plan that several suites use.
 */
#ifndef CUT_KITCHEN_H
#define CUT_KITCHEN_H

#include "core/cutplan.h"

struct cut_kitchen {
	struct cut_dish dishes[CUT_DISHES_MAX];
	struct cut_pool pools[CUT_POOLS_MAX];
	struct cut_fish *fish; /* owned */
	struct cut_problem p;  /* points at the above */
};

/* All zero, with room for `fish` fish; proved means to the last thousandth. */
void cut_kitchen_init(struct cut_kitchen *k, size_t fish);
void cut_kitchen_fini(struct cut_kitchen *k);

/* cut_kitchen_fish - the next fish, with one way that gives every dish. */
struct cut_fish *cut_kitchen_fish(struct cut_kitchen *k, int species,
    grams whole_g, int64_t cost, int pieces, grams piece_g);

/* cut_kitchen_dish - the next dish, cut to portions. */
struct cut_dish *cut_kitchen_dish(struct cut_kitchen *k, int64_t wanted,
    grams low_g, grams target_g, grams high_g, int64_t short_cost);

struct cut_pool *cut_kitchen_pool(
    struct cut_kitchen *k, grams wanted_g, int64_t price, uint32_t species);

/* Invented: the same seed gives the same kitchen. */
struct cut_random {
	unsigned seed;
	int species, dishes, pools;
	int percent; /* of the stock that is wanted */
	bool under;  /* under prices */
	bool shared; /* the last dish is made of any species */
	bool thick;  /* every other dish only from 60 % of a piece */
};
void cut_kitchen_random(
    struct cut_kitchen *k, const struct cut_random *r, size_t fish);

/* cut_kitchen_solve - a plan that passed cut_check; the caller frees it. */
void cut_kitchen_solve(struct cut_plan *out, const struct cut_kitchen *k);

#endif /* CUT_KITCHEN_H */
