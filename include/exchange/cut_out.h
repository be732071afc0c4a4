/*
 * exchange/cut_out.h - a cut plan as a list for the board, as JSON and as CSV.
 */
#ifndef EXCHANGE_CUT_OUT_H
#define EXCHANGE_CUT_OUT_H

#include "base/buf.h"
#include "base/format.h"
#include "core/cutplan.h"
#include "exchange/cut_in.h"

/*
 * cut_gap - how far the plan's cost may be above the least there is, as a
 * share of the cost; 0 when the cost is 0.
 */
double cut_gap(const struct cut_plan *p);

/*
 * cut_write - append the plan of a board.  JSON: cost, bound, proved, gap,
 * fish[] (fish, mode closed, whole or cut, dish of a whole one, pieces[] of
 * cuts[] {dish, grams}, trim_g, kept), dishes[] (dish, made, short), trim[]
 * (pool, made_g, short_g).  CSV: one row a portion, trim, piece left whole or
 * fish left closed.  Cost, bound and gap stand in the text always.
 */
void cut_write(struct buf *out, const struct cut_board *b,
    const struct cut_plan *p, enum format format);

#endif /* EXCHANGE_CUT_OUT_H */
