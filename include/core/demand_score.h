/*
 * core/demand_score.h - how good the forecasts would have been.
 *
 * Every past service is forecast from the services before it and compared with
 * what was sold, beside the rule of thumb "booked x share x 1.1, rounded up"
 * on the same services and with the same learned shares.  A dish that ran out
 * is left out, as nobody knows what was wanted;
 * so is a service without booked covers, which the rule of thumb is blind to.
 * Pure.
 */
#ifndef CORE_DEMAND_SCORE_H
#define CORE_DEMAND_SCORE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "core/demand.h"

/* Nothing is called better on fewer services than this [ours]. */
#define DEMAND_ENOUGH 20

/* Of one rule, over all services and dishes compared. */
struct demand_tally {
	/*
	 * Mean pinball loss, 1/10 000 portions: ratio x what was short plus
	 * (1 - ratio) x what was over, per service and dish.
	 */
	int64_t pinball_bp;
	int64_t stock_outs; /* dishes of a service asked for more */
	int64_t with_any;   /* services with at least one */
	int64_t short_of;   /* portions asked for beyond the target */
	int64_t left;       /* portions beyond what was asked for */
};

struct demand_score {
	int64_t services;      /* compared */
	int64_t dish_services; /* compared */
	int64_t left_out;      /* dishes of a service that ran out */
	bool enough;           /* services >= DEMAND_ENOUGH */
	struct demand_tally ours, flat;
	int in_range_bp; /* sold between low and high, both included */
	int met_bp;      /* sold at most the target */
	int ratio_bp;    /* mean ratio: met_bp should be this or more */
	/* 10 000 x (1 - ours / flat) of pinball; 0 when flat is 0. */
	int skill_bp;
};

/*
 * demand_backtest - the last `most` past services of this sitting (or
 * DEMAND_UNKNOWN: of any) that can be compared, one night at a time: the
 * life of a portion is taken as this service.
 * RC_OK, or RC_INVALID as demand_learn().
 */
enum rc demand_backtest(struct demand_score *out,
    const struct demand_record *record, const struct demand_dish *dishes,
    int sitting, size_t most, struct err *err) MUST_CHECK;

#endif /* CORE_DEMAND_SCORE_H */
