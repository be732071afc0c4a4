/*
 * ops/forecast.h - the page of coming services, or the record tested.
 */
#ifndef OPS_FORECAST_H
#define OPS_FORECAST_H

#include <stdbool.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/station.h"

struct forecast_wish {
	const char *service; /* "DATE/NAME"; NULL: those of the book to come */
	bool backtest;       /* instead, how good forecasts were up to it */
	enum format format;
};

/*
 * forecast - append the page.  Reads only.
 * RC_OK, RC_INVALID, RC_NOTFOUND when the service has no bookings.
 */
enum rc forecast(struct buf *out, struct station *sn,
    const struct forecast_wish *wish, struct err *err) MUST_CHECK;

#endif /* OPS_FORECAST_H */
