/*
 * store/bookings.h - dated services and their booked covers.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_BOOKINGS_H
#define STORE_BOOKINGS_H

#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "core/parties.h"
#include "store/deliveries.h"

struct store;

struct service {
	int64_t id;
	day_no day;
	char name[24];
	int64_t covers;
	int64_t expected;       /* covers the chef typed; -1: none */
	struct parties parties; /* count 0: nobody said */
};

/*
 * service_put - set the booked covers and parties of a service, added when
 * new.  What the chef typed stays.
 */
enum rc service_put(enum change *out, struct store *st, const struct service *s,
    struct err *err) MUST_CHECK;

/* service_get - RC_OK, RC_NOTFOUND. */
enum rc service_get(struct service *out, struct store *st, day_no day,
    const char *name, struct err *err) MUST_CHECK;

struct service_list {
	struct service *items; /* owned */
	size_t count;
};

/* service_list_open - services of the days `from` to `to`, by day. */
enum rc service_list_open(struct service_list *out, struct store *st,
    day_no from, day_no to, struct err *err) MUST_CHECK;
void service_list_fini(struct service_list *l);

/* service_used - portions of a cut's dish and species used for a service. */
enum rc service_used(int64_t *out, struct store *st, int64_t service_id,
    const char *dish, const char *species, struct err *err) MUST_CHECK;

#endif /* STORE_BOOKINGS_H */
