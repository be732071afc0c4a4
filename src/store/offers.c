/* offers.c - what suppliers sell. */
#include "store/offers.h"

#include <stdlib.h>
#include <string.h>

#include "stmt.h"

enum rc
offers_keep(int *dropped, struct store *st, int64_t supplier_id,
    const char *kept, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE offer SET current = 0"
	    " WHERE supplier_id = :supplier AND current = 1"
	    " AND instr(:kept, ',' || id || ',') = 0",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":supplier", supplier_id);
	bind_text(&q, ":kept", kept);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		*dropped = rows_changed(st);
	return rc;
}

/* What was there before: whether the same offer is known, and as it is. */
static enum rc
offer_same(bool *same, struct store *st, struct plan_offer *o, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT id, price, step_g, current FROM offer WHERE supplier_id = "
	    ":supplier"
	    " AND species = :species AND presentation = :presentation"
	    " AND fish_g = :fish",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":supplier", o->supplier_id);
	bind_text(&q, ":species", o->species);
	bind_text(&q, ":presentation", presentation_word(o->presentation));
	bind_int(&q, ":fish", o->fish_g);
	rc = stmt_step(&q, err);
	if (rc == RC_OK) {
		o->id = col_int(&q, 0);
		*same = col_int(&q, 1) == o->price &&
		    col_int(&q, 2) == o->step_g && col_int(&q, 3) == 1;
	}
	stmt_close(&q);
	return rc;
}

enum rc
offer_put(
    enum change *out, struct store *st, struct plan_offer *o, struct err *err)
{
	struct stmt q;
	bool same = false;
	enum rc rc;

	rc = offer_same(&same, st, o, err);
	if (rc != RC_OK && rc != RC_END)
		return rc;
	*out = rc == RC_END ? CHANGE_ADDED
	    : same          ? CHANGE_NONE
			    : CHANGE_CHANGED;
	rc = stmt_open(&q, st,
	    "INSERT INTO offer (supplier_id, species, presentation, fish_g,"
	    " price, step_g, current) VALUES (:supplier, :species,"
	    " :presentation, :fish, :price, :step, 1)"
	    " ON CONFLICT (supplier_id, species, presentation, fish_g)"
	    " DO UPDATE SET price = :price, step_g = :step, current = 1",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":supplier", o->supplier_id);
	bind_text(&q, ":species", o->species);
	bind_text(&q, ":presentation", presentation_word(o->presentation));
	bind_int(&q, ":fish", o->fish_g);
	bind_int(&q, ":price", o->price);
	bind_int(&q, ":step", o->step_g);
	if ((rc = stmt_run(&q, err)) == RC_OK && *out == CHANGE_ADDED)
		o->id = last_id(st);
	return rc;
}

static enum rc
read_offer(void *item, const struct stmt *q, struct err *err)
{
	struct plan_offer *o = item;
	char word[24];

	memset(o, 0, sizeof(*o));
	o->id = col_int(q, 0);
	o->supplier_id = col_int(q, 1);
	col_text(o->supplier, sizeof(o->supplier), q, 2);
	col_text(o->species, sizeof(o->species), q, 3);
	col_text(word, sizeof(word), q, 4);
	o->fish_g = col_in(q, 5, 0, WEIGHT_MAX_G);
	o->price = col_in(q, 6, 0, COL_INT_MAX);
	o->step_g = col_in(q, 7, 1, WEIGHT_MAX_G);
	return presentation_parse(&o->presentation, word, err);
}

enum rc
offer_list_open(struct offer_list *out, struct store *st, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT o.id, o.supplier_id, s.code, o.species, o.presentation,"
	    " o.fish_g, o.price, o.step_g"
	    " FROM offer o JOIN supplier s ON s.id = o.supplier_id" SCAN_OK
	    "WHERE o.current = 1"
	    " ORDER BY o.species, o.presentation, o.price, s.code, o.fish_g",
	    err);
	if (rc != RC_OK)
		return rc;
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_offer, err);
	out->items = rows;
	return rc;
}

void
offer_list_fini(struct offer_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}
