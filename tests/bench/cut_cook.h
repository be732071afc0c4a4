/*
 * cut_cook.h - how a cook without a plan opens and cuts the same board: from
 * the head, first expired first.
 */
#ifndef CUT_COOK_H
#define CUT_COOK_H

#include "core/cutplan.h"
#include "tests/unit/cut_boards.h"

/*
 * cook_by_dish - one dish after the other, the largest portion first: every
 * portion at target, first from pieces not yet touched, then from the next
 * fish; what a piece has left over is trim.
 */
void cook_by_dish(struct cut_plan *out, const struct board *b);

/*
 * cook_by_fish - one fish after the other while anything is still wanted of
 * it: every piece filled with the largest portion still wanted that fits at
 * target, the last one inside its band; the rest is trim.
 */
void cook_by_fish(struct cut_plan *out, const struct board *b);

#endif /* CUT_COOK_H */
