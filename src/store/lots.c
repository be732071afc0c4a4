/* lots.c - batches by what a supplier calls them. */
#include "store/lots.h"

#include <stdlib.h>
#include <string.h>

#include "stmt.h"
#include "units_sql.h"

static enum rc
read_lot(void *item, const struct stmt *q, struct err *err)
{
	struct lot_batch *b = item;

	(void)err;
	memset(b, 0, sizeof(*b));
	b->id = col_int(q, 0);
	col_text(b->code, sizeof(b->code), q, 1);
	col_text(b->species, sizeof(b->species), q, 2);
	col_text(b->supplier, sizeof(b->supplier), q, 3);
	col_text(b->document, sizeof(b->document), q, 4);
	col_text(b->lot, sizeof(b->lot), q, 5);
	b->day = col_day(q, 6);
	b->weight_g = col_int(q, 7);
	b->weight_left = col_int(q, 8);
	b->refused = col_int(q, 9) != 0;
	b->held = col_int(q, 10) != 0;
	b->units = col_int(q, 11);
	b->made = col_int(q, 12);
	b->left = col_int(q, 13);
	b->used = col_int(q, 14);
	return RC_OK;
}

/* As the view batch_unit says; asked through it, all units there are would be
 * read for each batch. */
#define ITS_UNITS                                                              \
	"(SELECT w.id FROM portion w WHERE w.batch_id = b.id"                  \
	" UNION ALL SELECT x.portion_id FROM portion_source x"                 \
	" WHERE x.batch_id = b.id)"
#define OF_UNITS(what)                                                         \
	"(SELECT coalesce(sum(" what                                           \
	"), 0) FROM portion p WHERE p.id IN " ITS_UNITS ")"

#define COLUMNS                                                                \
	"SELECT b.id, b.code, b.species, s.name, d.document, b.lot, d.day,"    \
	" b.weight_g, CASE WHEN b.decision = 'refused' OR (b.count > 0"        \
	"  AND l.count <= 0) THEN 0 ELSE max(l.weight_g, 0) END,"              \
	" b.decision = 'refused',"                                             \
	" (SELECT h.held FROM held_batch h WHERE h.batch_id = b.id),"          \
	OF_UNITS("1") "," OF_UNITS("p.servings * (NOT " IS_JOINED ")")         \
	    "," OF_UNITS("p.left")                                             \
	    ", (SELECT coalesce(sum(CASE e.kind WHEN 'used' THEN e.servings"   \
	    "  ELSE -e.servings END), 0) FROM portion_event e"                 \
	    "  WHERE e.portion_id IN " ITS_UNITS                               \
	    " AND (e.kind = 'used' OR (e.kind ="                               \
	    "  'returned' AND (SELECT x.kind FROM portion_event x"             \
	    "  WHERE x.id = e.undoes) = 'used')))"

#define NEWEST " ORDER BY d.day DESC, b.id DESC LIMIT :most" SORT_OK
#define OF_SUPPLIER " AND (:supplier = 0 OR d.supplier_id = :supplier)"

static const char by_lot[] = COLUMNS
    " FROM batch b INDEXED BY batch_lot_said"
    " JOIN batch_left l ON l.batch_id = b.id"
    " JOIN delivery d ON d.id = b.delivery_id"
    " JOIN supplier s ON s.id = d.supplier_id"
    " WHERE b.lot = :text COLLATE NOCASE" OF_SUPPLIER NEWEST;

static const char by_document[] = COLUMNS
    " FROM delivery d INDEXED BY delivery_document"
    " CROSS JOIN batch b ON b.delivery_id = d.id"
    " JOIN batch_left l ON l.batch_id = b.id"
    " JOIN supplier s ON s.id = d.supplier_id"
    " WHERE d.document = :text COLLATE NOCASE" OF_SUPPLIER NEWEST;

static const char by_days[] = COLUMNS
    " FROM delivery d INDEXED BY delivery_day"
    " CROSS JOIN batch b ON b.delivery_id = d.id"
    " JOIN batch_left l ON l.batch_id = b.id"
    " JOIN supplier s ON s.id = d.supplier_id"
    " WHERE d.supplier_id = :supplier AND d.day BETWEEN :from AND :to" NEWEST;

enum rc
lot_list_open(struct lot_list *out, struct store *st, const struct lot_query *w,
    struct err *err)
{
	const char *sql = w->lot != NULL ? by_lot
	    : w->document != NULL        ? by_document
					 : by_days;
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	if (sql == by_days) {
		bind_int(&q, ":from", w->from);
		bind_int(&q, ":to", w->to);
	} else {
		bind_text(&q, ":text", w->lot != NULL ? w->lot : w->document);
	}
	bind_int(&q, ":supplier", w->supplier_id);
	bind_int(&q, ":most", w->most);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_lot, err);
	out->items = rows;
	return rc;
}

void
lot_list_fini(struct lot_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}
