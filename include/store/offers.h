/*
 * store/offers.h - what suppliers sell: species, presentation, grade, price.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_OFFERS_H
#define STORE_OFFERS_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"
#include "core/prepplan.h"
#include "store/deliveries.h"

struct store;

/*
 * offer_put - add an offer of its supplier, or change the price and step of
 * the one with the same species, presentation and grade, and make it current;
 * sets o->id.
 */
enum rc offer_put(enum change *out, struct store *st, struct plan_offer *o,
    struct err *err) MUST_CHECK;

/*
 * offers_keep - take every other offer of a supplier off the list; `kept` names
 * the ids that stay as ",3,7,".  Rows stay for the record; *dropped counts.
 */
enum rc offers_keep(int *dropped, struct store *st, int64_t supplier_id,
    const char *kept, struct err *err) MUST_CHECK;

struct offer_list {
	struct plan_offer *items; /* owned */
	size_t count;
};

/* offer_list_open - current offers, by species, presentation, price, supplier.
 */
enum rc offer_list_open(
    struct offer_list *out, struct store *st, struct err *err) MUST_CHECK;
void offer_list_fini(struct offer_list *l);

#endif /* STORE_OFFERS_H */
