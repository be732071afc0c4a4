/* chain.c - sums over a batch's units, and the batches behind a dish. */
#include "store/chain.h"

#include <string.h>

#include "base/str.h"
#include "stmt.h"
#include "units_sql.h"
#include "used.h"

/* Units of the batch, or of one breakdown of it. */
#define OF_CHAIN " WHERE p.id IN " UNITS_OF_BATCH " AND " OF_PREP

static enum rc
open_chain(struct stmt *q, struct store *st, const char *sql, int64_t batch_id,
    int64_t prep_id, struct err *err)
{
	enum rc rc = stmt_open(q, st, sql, err);

	if (rc != RC_OK)
		return rc;
	bind_int(q, ":batch", batch_id);
	bind_int(q, ":prep", prep_id);
	return RC_OK;
}

static enum rc
count_units(struct chain_counts *out, struct store *st, int64_t batch_id,
    int64_t prep_id, int64_t now_utc, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = open_chain(&q, st,
	    "SELECT count(*),"
	    " coalesce(sum(CASE WHEN NOT " IS_JOINED
	    " THEN p.servings END), 0),"
	    " coalesce(sum(p.left), 0), coalesce(sum(CASE WHEN"
	    " p.frozen_utc IS NOT NULL AND p.thawed_utc IS NULL"
	    " THEN p.left END), 0),"
	    " coalesce(sum(CASE WHEN p.use_by_utc < :now THEN p.left END), 0),"
	    " coalesce(sum(p.left > 0 AND (SELECT u.held FROM held_unit u"
	    "  WHERE u.portion_id = p.id)), 0),"
	    " coalesce(sum(CASE WHEN " IS_JOINED
	    " THEN p.servings END), 0)"
	    " FROM portion p" OF_CHAIN,
	    batch_id, prep_id, err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":now", now_utc);
	if ((rc = stmt_step(&q, err)) == RC_OK) {
		out->units = col_int(&q, 0);
		out->made = col_int(&q, 1);
		out->left = col_int(&q, 2);
		out->frozen = col_int(&q, 3);
		out->expired = col_int(&q, 4);
		out->held = col_int(&q, 5);
		out->brought = col_int(&q, 6);
	}
	stmt_close(&q);
	return rc;
}

enum rc
chain_count(struct chain_counts *out, struct store *st, int64_t batch_id,
    int64_t prep_id, int64_t now_utc, struct err *err)
{
	char kind[16];
	struct stmt q;
	int64_t n;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = count_units(out, st, batch_id, prep_id, now_utc, err);
	if (rc != RC_OK)
		return rc;
	rc = open_chain(&q, st,
	    "SELECT coalesce(u.kind, e.kind), sum(CASE WHEN e.undoes IS NULL"
	    " THEN e.servings ELSE -e.servings END),"
	    " coalesce(sum(CASE WHEN " IS_JOINED
	    " THEN e.servings END), 0) FROM portion p"
	    " CROSS JOIN portion_event e ON e.portion_id = p.id"
	    " LEFT JOIN portion_event u ON u.id = e.undoes" OF_CHAIN
	    " GROUP BY 1" SORT_OK,
	    batch_id, prep_id, err);
	if (rc != RC_OK)
		return rc;
	while ((rc = stmt_step(&q, err)) == RC_OK) {
		col_text(kind, sizeof(kind), &q, 0);
		n = col_int(&q, 1);
		if (str_eq(kind, "used"))
			out->used = n;
		else if (str_eq(kind, "discarded"))
			out->discarded = n;
		else if (str_eq(kind, "missing"))
			out->missing += n;
		else if (str_eq(kind, "found"))
			out->missing -= n;
		else if (str_eq(kind, "combined"))
			out->brought -= n;
		else if (str_eq(kind, "struck")) {
			out->struck = n - col_int(&q, 2);
			out->brought -= col_int(&q, 2);
		}
	}
	stmt_close(&q);
	out->made -= out->struck;
	return rc == RC_END ? RC_OK : rc;
}

/* --- behind a dish ---------------------------------------------------------*/

static enum rc
read_candidate(void *item, const struct stmt *q, struct err *err)
{
	struct chain_candidate *c = item;

	(void)err;
	memset(c, 0, sizeof(*c));
	col_text(c->batch, sizeof(c->batch), q, 0);
	col_text(c->species_code, sizeof(c->species_code), q, 1);
	col_text(c->supplier, sizeof(c->supplier), q, 2);
	col_text(c->lot, sizeof(c->lot), q, 3);
	c->scanned = col_int(q, 4);
	c->on_hand = col_int(q, 5);
	c->units = col_int(q, 6);
	c->use_by_utc = col_int(q, 7);
	return RC_OK;
}

static enum rc
read_all(struct chain_candidates *out, struct stmt *q, struct err *err)
{
	void *rows;
	enum rc rc;

	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), q, read_candidate, err);
	out->items = rows;
	return rc;
}

#define CANDIDATE "SELECT b.code, b.species, substr(s.name, 1, 60), b.lot,"
/* Of every batch a unit is made of, all of it: which part of a mixed tray is
 * whose, nobody can say. */
#define ITS_BATCH                                                              \
	" CROSS JOIN batch b ON b.id IN (SELECT p.batch_id UNION ALL"          \
	"  SELECT m.batch_id FROM portion_source m"                            \
	"  WHERE m.portion_id = p.id)"                                         \
	" JOIN delivery d ON d.id = b.delivery_id"                             \
	" JOIN supplier s ON s.id = d.supplier_id"

enum rc
chain_scanned(struct chain_candidates *out, struct store *st,
    int64_t service_id, int64_t dish_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    CANDIDATE " sum(" USED_SIGNED
		      ") AS n, 0, 0, 0"
		      " FROM portion_event e"
		      " CROSS JOIN portion p ON p.id = e.portion_id"
		      " JOIN cut c ON c.id = p.cut_id" ITS_BATCH
		      " WHERE e.service_id = :service AND " USED_OR_BACK
		      " AND c.dish_id = :dish GROUP BY b.id HAVING n > 0"
		      " ORDER BY n DESC, b.code" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":service", service_id);
	bind_int(&q, ":dish", dish_id);
	return read_all(out, &q, err);
}

enum rc
chain_served(int64_t *out, struct store *st, int64_t service_id,
    int64_t dish_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	*out = 0;
	rc = stmt_open(&q, st,
	    "SELECT coalesce(sum(" USED_SIGNED
	    "), 0) FROM portion_event e"
	    " CROSS JOIN portion p ON p.id = e.portion_id"
	    " JOIN cut c ON c.id = p.cut_id"
	    " WHERE e.service_id = :service AND " USED_OR_BACK
	    " AND c.dish_id = :dish",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":service", service_id);
	bind_int(&q, ":dish", dish_id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc;
}

/*
 * What a unit had when the service began, and the use-by it had then: one that
 * was frozen or thawed later still had the old one.
 */
#define LEFT_THEN                                                              \
	"(p.servings - coalesce((SELECT sum(CASE WHEN kind IN ('found',"       \
	" 'returned') THEN -servings ELSE servings END) FROM portion_event"    \
	" WHERE portion_id = p.id AND at_utc < :begin), 0))"
#define USE_BY_THEN                                                            \
	"coalesce((SELECT f.use_by_before_utc FROM freezing f"                 \
	" WHERE f.portion_id = p.id AND f.at_utc > :end ORDER BY f.at_utc"     \
	" LIMIT 1), p.use_by_utc)"

enum rc
chain_on_hand(struct chain_candidates *out, struct store *st, int64_t dish_id,
    const struct chain_time *t, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    CANDIDATE
	    " 0, sum(" LEFT_THEN "), count(*), min(" USE_BY_THEN
	    ") AS first"
	    " FROM portion p JOIN cut c ON c.id = p.cut_id" ITS_BATCH
	    " WHERE p.id IN (SELECT u.id FROM prep r CROSS JOIN prep_output o"
	    "  ON o.prep_id = r.id CROSS JOIN portion u"
	    "  ON u.prep_output_id = o.id"
	    "  WHERE r.at_utc >= :from AND r.at_utc < :end"
	    "  UNION SELECT f.portion_id FROM freezing f"
	    "  WHERE f.at_utc >= :from AND f.at_utc < :end)"
	    " AND c.dish_id = :dish AND p.made_utc < :end"
	    /* what was put together later was on its first units then */
	    " AND NOT (p.made_utc >= :begin AND " IS_JOINED
	    ")"
	    " AND NOT (coalesce(p.frozen_utc, :end) < :begin"
	    "  AND coalesce(p.thawed_utc, :end) >= :end)"
	    " AND NOT EXISTS (SELECT 1 FROM prep_output x"
	    "  JOIN prep_struck k ON k.prep_id = x.prep_id"
	    "  WHERE x.id = p.prep_output_id)"
	    " AND " LEFT_THEN " > 0 AND " USE_BY_THEN
	    " >= :begin"
	    " GROUP BY b.id ORDER BY first, b.code" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":dish", dish_id);
	bind_int(&q, ":from", t->from_utc);
	bind_int(&q, ":begin", t->begin_utc);
	bind_int(&q, ":end", t->end_utc);
	return read_all(out, &q, err);
}
