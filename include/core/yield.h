/*
 * core/yield.h - published yields: edible weight over bought weight.
 *
 * As the catering handbooks define them: edible-portion weight = as-purchased
 * weight x yield.  Integers in 1/10 000, rounded down, so that a plan never
 * promises more than the figure says.  Data: config/yields.csv, every row with
 * its source.  Pure.
 */
#ifndef CORE_YIELD_H
#define CORE_YIELD_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"
#include "base/units.h"
#include "core/cut.h"

struct yield_row {
	char species[4];
	enum yield_form from, to;
	int bp;              /* 1/10 000, 1..10 000 */
	int low_bp, high_bp; /* published range; equal to bp when none */
	bool verified;       /* read in the source, not remembered */
	char source[200];
};

struct yield_table {
	struct yield_row *items; /* sorted by species, from, to; owned */
	size_t count;
};

/* A yield and where it came from. */
struct yield {
	int bp, low_bp, high_bp;
	bool verified;
	bool derived; /* ratio of two rows counted from the whole fish */
	char source[420];
};

/*
 * yield_parse - read the table from the bytes of a CSV file.
 * RC_OK or RC_INVALID with line and column; *out is then empty.  A row twice
 * for the same species, from and to is RC_INVALID, so is low > bp > high.
 * Empty low or high stands for the percentage itself.  The species is only
 * checked for its shape: whether the kitchen knows it is the caller's business.
 */
enum rc yield_parse(struct yield_table *out, const char *name, const char *data,
    size_t len, struct err *err) MUST_CHECK;

void yield_fini(struct yield_table *t);

/*
 * yield_find - the yield of a species from one form to another.
 * Same form: 10 000 with source "same form".  Else the row itself; else, when
 * whole -> to and whole -> from are both known, their ratio rounded down
 * (never above 10 000), marked derived with both sources; its range is the
 * lowest over the highest to the highest over the lowest.  Nothing is derived
 * backwards: a gutted fish cannot be had from its fillets, so that is
 * RC_NOTFOUND although a ratio could be worked out.
 * RC_OK, or RC_NOTFOUND with both forms and the species named.
 */
enum rc yield_find(struct yield *out, const struct yield_table *t,
    const char *species, enum yield_form from, enum yield_form to,
    struct err *err) MUST_CHECK;

/* yield_edible - edible grams in a bought weight, rounded down. */
grams yield_edible(grams bought, int bp);

/* yield_bought - bought grams for an edible weight, rounded up. bp > 0. */
grams yield_bought(grams edible, int bp);

#endif /* CORE_YIELD_H */
