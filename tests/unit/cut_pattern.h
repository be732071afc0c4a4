/*
 * cut_pattern.h - every way to cut one piece, by plain enumeration.
 */
#ifndef CUT_PATTERN_H
#define CUT_PATTERN_H

#include "core/cutplan.h"

struct pattern {
	int n[CUT_DISHES_MAX]; /* portions of each dish */
	grams trim;            /* that counts */
	int64_t cost;          /* of the grams under target */
};

struct pattern_list {
	struct pattern *items; /* owned (free) */
	size_t count, cap;
};

/*
 * pattern_list - append what one piece of a fish opened that way can become:
 * all portions that fit, none beyond what is wanted; a piece served as it is;
 * all trim.  A piece left whole is not among them.
 */
void pattern_list(struct pattern_list *out, const struct cut_problem *p,
    const struct cut_fish *f, int way);

/*
 * pattern_best - drop every pattern that another one beats: no fewer portions
 * of any dish, no less trim, no more to pay.
 */
void pattern_best(struct pattern_list *l, const struct cut_problem *p);

#endif /* CUT_PATTERN_H */
