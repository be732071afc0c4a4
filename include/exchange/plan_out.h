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
#include "core/plan_list.h"
#include "core/work.h"

struct plan_report {
	const char *kitchen;
	day_no day;
	const char *service;
	int64_t covers;     /* booked */
	int64_t expected_c; /* covers expected, 1/100 */
	bool typed;         /* by the chef */
	int64_t made_utc;
	int64_t start_utc, end_utc; /* of the service */
	int earlier; /* services before it that took their share first */
	struct plan plan;
	struct work_job *jobs; /* owned by the report */
	size_t job_count;
	struct work work;
	grams round_up_g;
	int bench_minutes;
	const struct species_table *species;
	bool want_prep, want_order; /* which lists to write */
	bool why;                   /* the reckoning behind every number */
};

/* plan_write - append the lists. */
void plan_write(
    struct buf *out, const struct plan_report *r, enum format format);

#endif /* EXCHANGE_PLAN_OUT_H */
