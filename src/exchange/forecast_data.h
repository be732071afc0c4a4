/*
 * forecast_data.h - the forecast for programs.  Private to src/exchange.
 */
#ifndef EXCHANGE_FORECAST_DATA_H
#define EXCHANGE_FORECAST_DATA_H

#include "base/jsonw.h"
#include "exchange/forecast_out.h"

void forecast_write_json(struct buf *out, const struct forecast_page *p);
void forecast_write_csv(struct buf *out, const struct forecast_page *p);

/* forecast_json - one service as an object under `key`. */
void forecast_json(
    struct jsonw *w, const char *key, const struct demand_report *r);

#endif /* EXCHANGE_FORECAST_DATA_H */
