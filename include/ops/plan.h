/*
 * ops/plan.h - the prep list and order list of a service.
 */
#ifndef OPS_PLAN_H
#define OPS_PLAN_H

#include <stdbool.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/station.h"

struct plan_wish {
	const char *service; /* "DATE/NAME" */
	bool prep, order;    /* which lists */
	enum format format;
};

/*
 * plan - append the lists of a service.  Services between now and then take
 * their share of the stock first.  Records nothing.
 * RC_OK, RC_INVALID, RC_NOTFOUND when it has no bookings, RC_REFUSED when it
 * is over.
 */
enum rc plan(struct buf *out, struct station *sn, const struct plan_wish *wish,
    struct err *err) MUST_CHECK;

#endif /* OPS_PLAN_H */
