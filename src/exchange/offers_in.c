/* offers_in.c - what suppliers sell, from a CSV file. */
#include "exchange/offers_in.h"

#include <stdlib.h>
#include <string.h>

#include "base/csv.h"
#include "base/mem.h"
#include "base/str.h"

static enum rc
what(struct plan_offer *o, const struct csv *c,
    const struct species_table *species, struct err *err)
{
	const struct species *sp;
	enum rc rc;

	rc = species_get(&sp, species, csv_get(c, "species"), err);
	if (rc != RC_OK)
		return csv_fail(c, "species", RC_INVALID, err);
	str_copy(o->species, sizeof(o->species), sp->code);
	rc = presentation_parse(
	    &o->presentation, csv_get(c, "presentation"), err);
	if (rc == RC_OK && !species_sold_as(sp, o->presentation))
		rc = err_set(err, RC_INVALID, 0, "%s is not bought %s",
		    sp->name, presentation_word(o->presentation));
	return rc == RC_OK ? RC_OK : csv_fail(c, "presentation", rc, err);
}

static enum rc
offer_row(struct plan_offer *o, const struct csv *c,
    const struct species_table *species, struct err *err)
{
	enum rc rc;

	if ((rc = csv_text(o->supplier, sizeof(o->supplier), c, "supplier",
		 false, err)) != RC_OK ||
	    (rc = what(o, c, species, err)) != RC_OK)
		return rc;
	rc = price_parse(&o->price, "price", csv_get(c, "price"), err);
	if (rc == RC_OK && o->price == 0)
		rc = err_set(err, RC_INVALID, 0, "fish that costs nothing");
	if (rc != RC_OK)
		return csv_fail(c, "price", rc, err);
	rc = weight_parse(&o->step_g, "step", csv_get(c, "step"), err);
	if (rc != RC_OK)
		return csv_fail(c, "step", rc, err);
	if (csv_get(c, "fish")[0] == '\0')
		return RC_OK;
	rc = weight_parse(&o->fish_g, "fish", csv_get(c, "fish"), err);
	return rc == RC_OK ? RC_OK : csv_fail(c, "fish", rc, err);
}

enum rc
offers_parse(struct plan_offer **out, int **lines, size_t *count,
    const char *name, const char *data, size_t len,
    const struct species_table *species, struct err *err)
{
	static const char *const columns[] = {
		"supplier",
		"species",
		"presentation",
		"price",
		"step",
		NULL,
	};
	static const char *const optional[] = { "fish", NULL };
	struct plan_offer *items = NULL;
	struct csv *c = NULL;
	size_t n = 0, cap = 0, line_cap = 0;
	int *at = NULL;
	enum rc rc;

	*out = NULL;
	*lines = NULL;
	*count = 0;
	rc = csv_open(&c, name, data, len, columns, optional, err);
	while (rc == RC_OK && (rc = csv_next(c, err)) == RC_OK) {
		items = grow(items, &cap, n, sizeof(*items));
		at = grow(at, &line_cap, n, sizeof(*at));
		memset(&items[n], 0, sizeof(*items));
		at[n] = csv_line(c);
		if ((rc = offer_row(&items[n], c, species, err)) != RC_OK)
			break;
		n++;
	}
	csv_close(c);
	if (rc != RC_END) {
		free(items);
		free(at);
		return rc;
	}
	*out = items;
	*lines = at;
	*count = n;
	return RC_OK;
}
