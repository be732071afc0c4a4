/*
 * exchange/offers_in.h - what suppliers sell, from a CSV file.
 */
#ifndef EXCHANGE_OFFERS_IN_H
#define EXCHANGE_OFFERS_IN_H

#include <stddef.h>

#include "base/err.h"
#include "core/prepplan.h"
#include "core/species.h"

/*
 * offers_parse - columns supplier, species, presentation, price (of a
 * kilogram), step (weight it is sold in); optional fish (mean weight of one
 * fish of the grade; empty: sold by weight).  RC_INVALID with line and column.
 * `supplier` is kept as written, its id 0: whether it is known, and whether two
 * lines are one offer, is the caller's to say.
 * *out is owned (free); lines[i] is the line of offer i, owned.
 */
enum rc offers_parse(struct plan_offer **out, int **lines, size_t *count,
    const char *name, const char *data, size_t len,
    const struct species_table *species, struct err *err) MUST_CHECK;

#endif /* EXCHANGE_OFFERS_IN_H */
