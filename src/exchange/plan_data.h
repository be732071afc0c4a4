/*
 * plan_data.h - the plan for programs.  Private to src/exchange.
 */
#ifndef EXCHANGE_PLAN_DATA_H
#define EXCHANGE_PLAN_DATA_H

#include "exchange/plan_out.h"

void plan_write_json(struct buf *out, const struct plan_report *r);
void plan_write_csv(struct buf *out, const struct plan_report *r);

/* plan_reason_word - "taken", "held" and so on. */
const char *plan_reason_word(const struct plan_take *t);

#endif /* EXCHANGE_PLAN_DATA_H */
