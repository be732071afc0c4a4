/*
 * plan_text.h - parts of the plan's text.  Private to src/exchange.
 */
#ifndef EXCHANGE_PLAN_TEXT_H
#define EXCHANGE_PLAN_TEXT_H

#include "exchange/plan_out.h"

/* plan_text_cuts - opened fish, piece by piece, with the bound on the cost. */
void plan_text_cuts(struct buf *out, const struct plan_report *r);

/* plan_text_work - tasks in working order with their minutes. */
void plan_text_work(struct buf *out, const struct plan_report *r);

/* plan_text_order - what is missing, as suppliers sell it. */
void plan_text_order(struct buf *out, const struct plan_report *r);

/* yield_text - "yield 43 % learned from 6 breakdowns; published ...". */
void yield_text(struct buf *out, const struct plan_yield *y);

/* money_text - thousandths of a coin as "12.50". */
char *money_text(char *dst, size_t size, int64_t thousandths);

#endif /* EXCHANGE_PLAN_TEXT_H */
