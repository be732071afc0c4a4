/*
 * exchange/records_in.h - bookings, menu and suppliers from CSV files.
 *
 * Parsing is apart from recording: a file is read whole, and only when every
 * line is good does anything reach the store.  Errors carry file, line and
 * column.
 */
#ifndef EXCHANGE_RECORDS_IN_H
#define EXCHANGE_RECORDS_IN_H

#include <stddef.h>

#include "base/err.h"
#include "core/prepplan.h"
#include "core/species.h"
#include "store/bookings.h"
#include "store/deliveries.h"

/* Names of the services a file may speak of, lower case. */
struct service_names {
	const char *names[8];
	int count;
};

/*
 * bookings_parse - columns date (YYYY-MM-DD), service, covers (0..5000);
 * optional parties (core/parties.h), adding up to the covers.  A date and
 * service twice in one file is RC_INVALID.  *out is owned (free).
 */
enum rc bookings_parse(struct service **out, size_t *count, const char *name,
    const char *data, size_t len, const struct service_names *services,
    struct err *err) MUST_CHECK;

struct menu_row {
	struct plan_cut cut; /* dish, name, allergens and state included */
	int share_bp[8];     /* by index into service_names; 0 not served */
};

/*
 * menu_parse - columns dish, name, state, species, cut, skin (on, off),
 * bought, low, target, high (weights), mix ("lunch:12 dinner:9.5", percent of
 * covers); optional allergens, yield (percent from bought to cut, the
 * kitchen's own figure), price (of the dish, "24.50"), finish (percent left of
 * a piece after skinning, boning and squaring for this cut), pieces (shellfish
 * by the animal: "6" to a portion, "1/2" of one).  `species` may be a list
 * joined by |: any of them will do, and each gets a row of the same part.  A
 * dish of several lines needs each of them for every portion. *out is owned
 * (free).
 */
enum rc menu_parse(struct menu_row **out, size_t *count, const char *name,
    const char *data, size_t len, const struct service_names *services,
    const struct species_table *species, struct err *err) MUST_CHECK;

/*
 * suppliers_parse - columns code, name, address; optional approval, contact.
 * *out is owned (free).
 */
enum rc suppliers_parse(struct supplier **out, size_t *count, const char *name,
    const char *data, size_t len, struct err *err) MUST_CHECK;

#endif /* EXCHANGE_RECORDS_IN_H */
