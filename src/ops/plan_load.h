/*
 * plan_load.h - stock and services as the plan wants them.  Private to src/ops.
 */
#ifndef OPS_PLAN_LOAD_H
#define OPS_PLAN_LOAD_H

#include "core/prepplan.h"
#include "ops/plan.h"
#include "store/menu.h"

/* The services planned, the last the one asked for; owned. */
struct plan_days {
	struct plan_service *services;
	struct menu_cuts *cuts; /* one for each service */
	size_t count, cap, cuts_cap;
	int64_t expected_c; /* covers of the last, 1/100 */
	bool typed;         /* by the chef */
};

/* plan_stock_load - batches and trays on hand, with what the chef said.
 * RC_OK, the caller frees with plan_stock_fini(); RC_NOTFOUND, RC_INVALID. */
enum rc plan_stock_load(struct plan_stock *out, struct station *sn,
    const struct plan_wish *wish, struct err *err) MUST_CHECK;

/* plan_stock_thaw - when each frozen tray would expire, thawed for each
 * service. */
enum rc plan_stock_thaw(struct plan_stock *stock, struct station *sn,
    const struct plan_service *services, size_t count,
    struct err *err) MUST_CHECK;

/* plan_days_load - services of the book that end after now, up to and with
 * day/last.  RC_NOTFOUND when that one has no bookings. */
enum rc plan_days_load(struct plan_days *out, struct station *sn, day_no day,
    const struct service_window *last, struct err *err) MUST_CHECK;
void plan_days_fini(struct plan_days *d);

#endif /* OPS_PLAN_LOAD_H */
