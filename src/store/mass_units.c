/* mass_units.c - grams of units, followed from tray to tray. */
#include "mass_units.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stmt.h"
#include "store/sources.h"
#include "units_sql.h"

struct unit {
	int64_t id;
	struct mass_unit is;
};

/* Servings of a kind, less what was taken back of it. */
#define NET(kind)                                                              \
	"coalesce(sum(CASE WHEN coalesce(u.kind, e.kind) = '" kind             \
	"' THEN"                                                               \
	" CASE WHEN e.undoes IS NULL THEN e.servings ELSE -e.servings END"     \
	" END), 0)"

#define UNIT_COLUMNS                                                           \
	"SELECT p.id, p.weight_g, p.servings, p.left, p.frozen_utc IS NOT"     \
	" NULL AND p.thawed_utc IS NULL, " NET("used") ", " NET(               \
	    "discarded") ", " NET("missing") " - " NET("found") ", " NET(      \
	    "combined")
#define EVENTS                                                                 \
	" LEFT JOIN portion_event e ON e.portion_id = p.id"                    \
	" LEFT JOIN portion_event u ON u.id = e.undoes"

static enum rc
read_unit(void *item, const struct stmt *q, struct err *err)
{
	struct unit *u = item;

	(void)err;
	memset(u, 0, sizeof(*u));
	u->id = col_int(q, 0);
	u->is.weight_g = col_int(q, 1);
	u->is.servings = col_int(q, 2);
	u->is.left = col_int(q, 3);
	u->is.frozen = col_int(q, 4) != 0;
	u->is.used = col_int(q, 5);
	u->is.discarded = col_int(q, 6);
	u->is.missing = col_int(q, 7);
	u->is.combined = col_int(q, 8);
	return RC_OK;
}

static enum rc put_unit(
    struct mass *m, struct store *st, struct unit *u, struct err *err);

/* A tray as a sum of its own. */
static enum rc
tray_mass(struct mass *out, struct store *st, int64_t id, struct err *err)
{
	struct unit u = { 0 };
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    UNIT_COLUMNS " FROM portion p" EVENTS
			 " WHERE p.id = :portion GROUP BY p.id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":portion", id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		rc = read_unit(&u, &q, err);
	stmt_close(&q);
	if (rc != RC_OK)
		return rc == RC_END ? RC_OK : rc;
	out->in = u.is.weight_g;
	rc = put_unit(out, st, &u, err);
	mass_close(out);
	return rc;
}

/* What of a tray came from one unit. */
static enum rc
put_share(struct mass *m, struct store *st, int64_t tray, int64_t from,
    struct err *err)
{
	struct portion_part_list l;
	struct mass whole, *shares;
	grams *in;
	size_t i;
	int k;
	enum rc rc;

	if ((rc = portion_parts_open(&l, st, tray, err)) != RC_OK)
		return rc;
	shares = xcalloc(l.count, sizeof(*shares));
	in = xcalloc(l.count, sizeof(*in));
	rc = tray_mass(&whole, st, tray, err);
	whole.in = 0;
	for (i = 0; i < l.count; i++)
		whole.in += in[i] = l.items[i].weight_g;
	mass_close(&whole);
	if (rc == RC_OK && l.count > 0)
		mass_split(shares, &whole, in, l.count);
	for (i = 0; i < l.count; i++)
		for (k = 0; l.items[i].id == from && k < MASS_PARTS; k++)
			m->part[k] += shares[i].part[k];
	free(in);
	free(shares);
	portion_parts_fini(&l);
	return rc;
}

/* A tray is always younger than what went onto it, so this comes to an end. */
static enum rc
put_unit(struct mass *m, struct store *st, struct unit *u, struct err *err)
{
	struct portion_part_list went = { 0 };
	size_t i;
	enum rc rc = RC_OK;

	if (u->is.combined != 0)
		rc = portion_went_open(&went, st, u->id, err);
	for (i = 0; i < went.count && rc == RC_OK; i++) {
		u->is.combined_g += went.items[i].weight_g;
		rc = put_share(m, st, went.items[i].id, u->id, err);
	}
	portion_parts_fini(&went);
	if (rc == RC_OK)
		mass_put_unit(m, &u->is);
	return rc;
}

enum rc
mass_put_units(
    struct mass *m, struct store *st, int64_t prep_id, struct err *err)
{
	struct unit *units;
	struct stmt q;
	void *rows;
	size_t i, count;
	enum rc rc;

	rc = stmt_open(&q, st,
	    UNIT_COLUMNS
	    " FROM prep_output o"
	    " CROSS JOIN portion p ON p.prep_output_id = o.id" EVENTS
	    " WHERE o.prep_id = :prep AND NOT " IS_JOINED
	    " GROUP BY p.id" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	rc = stmt_rows(&rows, &count, sizeof(*units), &q, read_unit, err);
	units = rows;
	for (i = 0; i < count && rc == RC_OK; i++)
		rc = put_unit(m, st, &units[i], err);
	free(units);
	return rc;
}
