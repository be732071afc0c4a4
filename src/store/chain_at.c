/* chain_at.c - what was scanned out for a service, scan by scan. */
#include <string.h>

#include "stmt.h"
#include "store/chain.h"

static enum rc
read_scan(void *item, const struct stmt *q, struct err *err)
{
	struct chain_scan *s = item;

	(void)err;
	memset(s, 0, sizeof(*s));
	col_text(s->batch, sizeof(s->batch), q, 0);
	s->servings = col_int(q, 1);
	s->at_utc = col_int(q, 2);
	return RC_OK;
}

enum rc
chain_scans_open(struct chain_scan **items, size_t *count, struct store *st,
    int64_t service_id, int64_t dish_id, struct err *err)
{
	struct stmt q;
	void *rows = NULL;
	enum rc rc;

	*items = NULL;
	*count = 0;
	rc = stmt_open(&q, st,
	    "SELECT b.code, e.servings, e.at_utc FROM portion_event e"
	    " CROSS JOIN portion p ON p.id = e.portion_id"
	    " JOIN cut c ON c.id = p.cut_id"
	    " CROSS JOIN batch b ON b.id IN (SELECT u.batch_id"
	    "  FROM batch_unit u WHERE u.portion_id = p.id)"
	    " WHERE e.service_id = :service AND e.kind = 'used'"
	    " AND c.dish_id = :dish AND NOT EXISTS (SELECT 1"
	    "  FROM portion_event x WHERE x.undoes = e.id)"
	    " ORDER BY e.at_utc, e.id" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":service", service_id);
	bind_int(&q, ":dish", dish_id);
	rc = stmt_rows(&rows, count, sizeof(**items), &q, read_scan, err);
	*items = rows;
	return rc;
}
