/*
 * exchange/close_out.h - a closed service beside what was forecast for it.
 */
#ifndef EXCHANGE_CLOSE_OUT_H
#define EXCHANGE_CLOSE_OUT_H

#include "base/buf.h"
#include "base/format.h"
#include "exchange/forecast_out.h"
#include "store/sales.h"

enum sold_from {
	SOLD_TOLD,    /* whoever closed it said so */
	SOLD_SCANNED, /* portions scanned out for it */
	SOLD_BEFORE,  /* recorded earlier, not corrected now */
	SOLD_UNKNOWN, /* nobody counted */
};

struct close_row {
	struct sale sale; /* `sold` is meaningless when SOLD_UNKNOWN */
	enum sold_from from;
};

struct close_report {
	const char *kitchen;
	day_no day;
	const char *service;
	bool corrected; /* it had been closed before */
	int changed;    /* facts corrected */
	struct closing now;
	struct close_row *rows; /* owned by the caller; by dish code */
	size_t count;
	const struct demand_report *forecast; /* from before the service */
	const char *no_forecast;              /* why there is none, or "" */
};

/* close_write - append the comparison. */
void close_write(
    struct buf *out, const struct close_report *r, enum format format);

#endif /* EXCHANGE_CLOSE_OUT_H */
