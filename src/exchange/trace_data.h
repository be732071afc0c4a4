/*
 * trace_data.h - the chain for programs.  Private to src/exchange.
 */
#ifndef EXCHANGE_TRACE_DATA_H
#define EXCHANGE_TRACE_DATA_H

#include "exchange/stock_out.h"

void trace_json(struct buf *out, const struct trace_report *r);
void trace_csv(struct buf *out, const struct trace_report *r);

/* trace_text_why - the stored use-by decision, a line a limit. */
void trace_text_why(struct buf *out, const char *why);

/* Servings; with what is left they are what was made. */
struct portion_sums {
	int64_t used, discarded;
	int64_t missing; /* less what was found again */
};
void portion_sums(struct portion_sums *s, const struct traced_portion *t);

#endif /* EXCHANGE_TRACE_DATA_H */
