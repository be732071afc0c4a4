/*
 * trace_data.h - the chain for programs.  Private to src/exchange.
 */
#ifndef EXCHANGE_TRACE_DATA_H
#define EXCHANGE_TRACE_DATA_H

#include "exchange/stock_out.h"

void trace_json(struct buf *out, const struct trace_report *r);
void trace_csv(struct buf *out, const struct trace_report *r);

/* trace_label_words - "use-by, reprint 1, unsure". */
void trace_label_words(struct buf *out, const struct print_job *j);

#endif /* EXCHANGE_TRACE_DATA_H */
