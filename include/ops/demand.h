/*
 * ops/demand.h - how many portions of each dish a service will ask for.
 */
#ifndef OPS_DEMAND_H
#define OPS_DEMAND_H

#include "base/day.h"
#include "base/err.h"
#include "exchange/forecast_out.h"
#include "ops/station.h"

/*
 * demand_desk - what was learned, kept while one command asks of several
 * services.  Only as long as nothing is recorded.
 */
struct demand_desk; /* opaque */
struct demand_desk *demand_desk_new(struct station *sn);
void demand_desk_free(struct demand_desk *d);

/*
 * demand_at, and demand_of for a single service - forecast one service from
 * the closed services before it, the menu, the book and what the chef typed.
 * One that is over is forecast from what was known before it.  Portions are
 * taken to be made on its day, and to keep for the services of the book within
 * the house life of the dish.  Reads only.
 * RC_OK        the caller frees with demand_report_fini()
 * RC_NOTFOUND  it has no bookings
 * RC_INVALID   more dishes or covers than the forecast takes
 */
enum rc demand_at(struct demand_report *out, struct demand_desk *d, day_no day,
    const struct service_window *w, struct err *err) MUST_CHECK;
enum rc demand_of(struct demand_report *out, struct station *sn, day_no day,
    const struct service_window *w, struct err *err) MUST_CHECK;

/*
 * demand_test - the record up to a service (before `day`; of one sitting with
 * `w`, else of all) forecast again, each service from those before it.
 * RC_OK, RC_INVALID.
 */
enum rc demand_test(struct demand_score *out, struct station *sn, day_no day,
    const struct service_window *w, struct err *err) MUST_CHECK;

#endif /* OPS_DEMAND_H */
