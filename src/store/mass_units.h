/*
 * mass_units.h - grams of the units a breakdown made, wherever they lie now.
 * Private to src/store.
 */
#ifndef STORE_MASS_UNITS_H
#define STORE_MASS_UNITS_H

#include <stdint.h>

#include "base/err.h"
#include "core/mass.h"

struct store;

/*
 * mass_put_units - add to the parts of `m` what the units of a breakdown weigh.
 * What went onto a tray that was put together shares, by its weight, in what
 * became of that tray; the tray itself is counted nowhere else.
 */
enum rc mass_put_units(struct mass *m, struct store *st, int64_t prep_id,
    struct err *err) MUST_CHECK;

#endif /* STORE_MASS_UNITS_H */
