/*
 * ops/plan.h - the prep list and order list of a service.
 */
#ifndef OPS_PLAN_H
#define OPS_PLAN_H

#include <stdbool.h>
#include <stddef.h>

#include "base/buf.h"
#include "base/err.h"
#include "base/format.h"
#include "ops/station.h"

/* What the chef says about batches, fish and fillets, for one plan only. */
struct plan_say {
	enum plan_word {
		PLAN_SAY_FIRST, /* "BATCH" or "BATCH:FISH": before all others */
		PLAN_SAY_LEAVE, /* the same: leave it closed */
		PLAN_SAY_WHOLE, /* the same: serve it whole */
		PLAN_SAY_BOARD, /* "BATCH:240,236": pieces weighed on the board,
				   of fish still counted as closed */
	} word;
	const char *text;
};

struct plan_wish {
	const char *service; /* "DATE/NAME" */
	bool prep, order;    /* which lists */
	bool why;            /* where every number came from */
	bool strict;         /* first to expire first, whatever it costs */
	const struct plan_say *says;
	size_t say_count;
	enum format format;
};

/*
 * plan - append the lists of a service.  Services between now and then take
 * their share of the stock first.  Records nothing.
 * RC_OK, RC_INVALID, RC_NOTFOUND when it has no bookings or a batch is not
 * there, RC_REFUSED when it is over.
 */
enum rc plan(struct buf *out, struct station *sn, const struct plan_wish *wish,
    struct err *err) MUST_CHECK;

#endif /* OPS_PLAN_H */
