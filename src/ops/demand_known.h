/*
 * demand_known.h - the menu and the record as the core wants them.  Private to
 * src/ops.
 */
#ifndef OPS_DEMAND_KNOWN_H
#define OPS_DEMAND_KNOWN_H

#include "base/day.h"
#include "base/err.h"
#include "core/demand.h"
#include "ops/station.h"
#include "store/sales.h"

/* All that is known before a service. */
struct known {
	int64_t newest; /* id of the last service of the record; 0: none */
	struct dish_sold *dishes; /* on the menu of some sitting */
	size_t count;
	int *share_bp; /* [sitting x count + dish] */
	struct demand_past *past;
	struct demand_sold *sold;
	size_t past_count;
	struct demand_dish *values;
};

/*
 * known_load - what is known before `sitting` of `day`; every life is 1.  The
 * caller frees with known_fini(), also after an error.
 * RC_OK, RC_INVALID when the menu has more dishes than a forecast takes.
 */
enum rc known_load(struct known *k, struct station *sn, day_no day, int sitting,
    struct err *err) MUST_CHECK;
void known_fini(struct known *k);

/*
 * known_newest - id and day of the last closed service before `sitting` of
 * `day`; 0 when there is none.  As long as it is the same, so is the record.
 */
enum rc known_newest(int64_t *id, day_no *newest, struct station *sn,
    day_no day, int sitting, struct err *err) MUST_CHECK;

/* known_record - the same for the core; borrowed from `k`. */
struct demand_record known_record(const struct known *k);

/* sitting_of - place of a service in the settings, or -1. */
int sitting_of(const struct config *cfg, const char *name);

/* sizes_of - party sizes one by one, *count of them; owned, NULL for none. */
int *sizes_of(size_t *count, const struct parties *p);

#endif /* OPS_DEMAND_KNOWN_H */
