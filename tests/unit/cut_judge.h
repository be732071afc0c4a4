/*
 * cut_judge.h - a second opinion on cut plans, written from the words of
 * core/cutplan.h alone: what a plan costs, whether it is allowed, and for a
 * few fish the best plan there is, by trying everything.
 */
#ifndef CUT_JUDGE_H
#define CUT_JUDGE_H

#include <stdbool.h>

#include "core/cutplan.h"

#define JUDGE_TEXT_MAX 200

struct judgement {
	int64_t cost;
	int64_t made[CUT_DISHES_MAX], short_of[CUT_DISHES_MAX];
	int64_t trim_short;       /* money for all pools */
	grams trim_used;          /* by all pools together */
	char why[JUDGE_TEXT_MAX]; /* what is wrong; "" when allowed */
};

/*
 * judge_plan - look at the portions of a plan and nothing else of it.  True
 * when it is allowed.
 */
bool judge_plan(struct judgement *out, const struct cut_problem *p,
    const struct cut_plan *plan);

/* judge_trim - what the trim still short costs, when each species gave so
 * much: the least over all ways to share it out. */
int64_t judge_trim(
    const struct cut_problem *p, const grams given[CUT_SPECIES_MAX]);

/*
 * judge_brute - the least cost of all plans of at most 4 fish, every choice
 * and every pattern tried; patterns beyond what is wanted are left out, for
 * they cannot help.  Dies when there are too many states to hold.
 */
int64_t judge_brute(const struct cut_problem *p);

/*
 * judge_pattern - the least to pay for grams under target when a piece of
 * `piece_g` is cut into n[d] portions of each dish, the portions' weights in
 * *portions when not NULL (sum of n of them, dish after dish).  -1 when they
 * do not fit at their low weights.
 */
int64_t judge_pattern(struct cut_portion *portions, const struct cut_problem *p,
    grams piece_g, const int n[CUT_DISHES_MAX]);

/* judge_may - can fish `f`, opened that way, be cut for dish `d`? */
bool judge_may(
    const struct cut_problem *p, const struct cut_fish *f, int way, size_t d);

/* judge_die - end the program with a line: a fault of the test itself. */
void judge_die(const char *what) __attribute__((noreturn));

/* judge_under - what a portion served as it is costs for what it lacks. */
int64_t judge_under(const struct cut_dish *d, grams g);

#endif /* CUT_JUDGE_H */
