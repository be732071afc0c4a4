/*
 * exchange/plan_out.h - the prep list and the order list of one service.
 */
#ifndef EXCHANGE_PLAN_OUT_H
#define EXCHANGE_PLAN_OUT_H

#include <stdbool.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/day.h"
#include "base/format.h"
#include "core/prepplan.h"

struct plan_report {
	const char *kitchen;
	day_no day;
	const char *service;
	int64_t covers;
	int64_t made_utc;
	int64_t end_utc; /* of the service */
	int earlier;     /* services before it that took their share first */
	struct plan plan;
	struct plan_order *orders;
	size_t order_count;
	grams round_up_g;
	const struct species_table *species;
	bool want_prep, want_order; /* which lists to write */
};

/* plan_write - append the lists.  Every figure says where it came from. */
void plan_write(
    struct buf *out, const struct plan_report *r, enum format format);

#endif /* EXCHANGE_PLAN_OUT_H */
