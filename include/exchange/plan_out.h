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

/*
 * What a list on paper says in the same words; each appends one paragraph
 * without LF.
 * plan_why, plan_order_why - the reckoning behind a number.
 * plan_opened_words - how an opened fish is cut, piece by piece.
 * plan_task_words - "pin-bone 4 pieces", without whose.
 * plan_take_words - "14 portions from 2 fish", without of which batch.
 * plan_inversion_words - which batch is opened before one that expires first.
 * plan_gap_words - "no plan costs less", or how far it may be from the best.
 */
void plan_why(struct buf *out, const struct plan_line *line);
void plan_order_why(struct buf *out, const struct plan_order *o);
void plan_opened_words(
    struct buf *out, const struct plan_report *r, const struct plan_opened *o);
void plan_task_words(struct buf *out, const struct work_task *t);
void plan_gap_words(struct buf *out, const struct plan *p);
void plan_take_words(struct buf *out, const struct plan_take *t);
void plan_inversion_words(struct buf *out, const struct plan_inversion *v);

/* plan_reason_words - why a batch or tray is left; plan_board_words - whose
 * board it is; plan_cut_words - "supreme skin on, 165 g (150 to 185)". */
const char *plan_reason_words(const struct plan_take *t);
const char *plan_board_words(enum allergen a);
void plan_cut_words(struct buf *out, const struct plan_cut *c);

/* Under every list of weights. */
#define PLAN_CAUTION                                                           \
	"Weights are estimates from yields; weigh before you rely on them."
#define PLAN_RAW_CAUTION                                                       \
	"served raw: only with its freeze record or an exemption"

#endif /* EXCHANGE_PLAN_OUT_H */
