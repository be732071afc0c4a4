/* today.c - what wants a decision now. */
#include "store/today.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stmt.h"

/* --- stock by its use-by --------------------------------------------------*/

static enum rc
read_unit(void *item, const struct stmt *q, struct err *err)
{
	struct expiring *e = item;

	(void)err;
	memset(e, 0, sizeof(*e));
	col_text(e->code, sizeof(e->code), q, 0);
	col_text(e->name, sizeof(e->name), q, 1);
	col_text(e->species, sizeof(e->species), q, 2);
	e->servings = col_int(q, 3);
	e->use_by_utc = col_int(q, 4);
	e->frozen = col_int(q, 5) != 0;
	e->held = col_int(q, 6) != 0;
	return RC_OK;
}

static enum rc
read_batch(void *item, const struct stmt *q, struct err *err)
{
	struct expiring *e = item;

	(void)err;
	memset(e, 0, sizeof(*e));
	e->batch = true;
	col_text(e->code, sizeof(e->code), q, 0);
	col_text(e->species, sizeof(e->species), q, 1);
	e->weight_g = col_int(q, 2);
	e->fish = col_int(q, 3);
	e->use_by_utc = col_int(q, 4);
	e->held = col_int(q, 5) != 0;
	return RC_OK;
}

#define UNITS_SQL                                                              \
	"SELECT p.code, d.name, c.species, p.left, p.use_by_utc,"              \
	" p.frozen_utc IS NOT NULL AND p.thawed_utc IS NULL,"                  \
	" (SELECT u.held FROM held_unit u WHERE u.portion_id = p.id)"          \
	" FROM portion p INDEXED BY portion_on_hand"                           \
	" JOIN cut c ON c.id = p.cut_id JOIN dish d ON d.id = c.dish_id"       \
	" WHERE p.left > 0 AND p.use_by_utc >= :from AND p.use_by_utc < :to"   \
	" ORDER BY p.use_by_utc, p.id LIMIT :most"

#define BATCHES_SQL                                                            \
	"SELECT b.code, b.species, l.weight_g,"                                \
	" CASE b.count WHEN 0 THEN 0 ELSE l.count END, b.use_by_utc,"          \
	" (SELECT u.held FROM held_batch u WHERE u.batch_id = b.id)"           \
	" FROM batch b INDEXED BY batch_open"                                  \
	" JOIN batch_left l ON l.batch_id = b.id"                              \
	" WHERE b.open = 1 AND b.use_by_utc >= :from AND b.use_by_utc < :to"   \
	" ORDER BY b.use_by_utc, b.id LIMIT :most"

static enum rc
read_some(struct expiring_list *out, struct store *st, const char *sql,
    row_fn *read, int64_t from_utc, int64_t to_utc, int64_t most,
    struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":from", from_utc);
	bind_int(&q, ":to", to_utc);
	bind_int(&q, ":most", most);
	rc = stmt_rows(&rows, &out->count, sizeof(*out->items), &q, read, err);
	out->items = rows;
	return rc;
}

/* Both are in order; the later one of a pair waits. */
static void
merge(struct expiring_list *units, const struct expiring_list *batches)
{
	size_t i = units->count, j = batches->count, k;
	struct expiring *all;

	if (j == 0)
		return;
	all = xrealloc(units->items, i + j, sizeof(*all));
	units->items = all;
	units->count = i + j;
	for (k = i + j; j > 0; k--)
		if (i > 0 &&
		    all[i - 1].use_by_utc > batches->items[j - 1].use_by_utc)
			all[k - 1] = all[--i];
		else
			all[k - 1] = batches->items[--j];
}

enum rc
expiring_open(struct expiring_list *out, struct store *st, int64_t from_utc,
    int64_t to_utc, int64_t most, struct err *err)
{
	struct expiring_list batches = { 0 };
	enum rc rc;

	rc = read_some(
	    out, st, UNITS_SQL, read_unit, from_utc, to_utc, most, err);
	if (rc == RC_OK &&
	    (rc = read_some(&batches, st, BATCHES_SQL, read_batch, from_utc,
		 to_utc, most, err)) == RC_OK)
		merge(out, &batches);
	free(batches.items);
	if (rc != RC_OK) {
		free(out->items);
		memset(out, 0, sizeof(*out));
	}
	return rc;
}

/* Two numbers of a statement that gives one row. */
static enum rc
read_pair(int64_t *a, int64_t *b, struct stmt *q, struct err *err)
{
	enum rc rc = stmt_step(q, err);

	if (rc == RC_OK) {
		*a = col_int(q, 0);
		*b = col_int(q, 1);
	}
	stmt_close(q);
	return rc;
}

enum rc
expiring_count(struct expiring_count *out, struct store *st, int64_t from_utc,
    int64_t to_utc, struct err *err)
{
	static const char *const sql[] = {
		"SELECT count(*), coalesce(sum(left), 0) FROM"
		" (SELECT left FROM portion INDEXED BY portion_on_hand"
		"  WHERE left > 0 AND use_by_utc >= :from AND use_by_utc < :to"
		"  LIMIT :stop)",
		"SELECT count(*), 0 FROM"
		" (SELECT 1 FROM batch INDEXED BY batch_open"
		"  WHERE open = 1 AND use_by_utc >= :from AND use_by_utc < :to"
		"  LIMIT :stop)",
	};
	int64_t n[2] = { 0 }, sum[2] = { 0 };
	struct stmt q;
	int i;
	enum rc rc = RC_OK;

	for (i = 0; i < 2 && rc == RC_OK; i++) {
		if ((rc = stmt_open(&q, st, sql[i], err)) != RC_OK)
			return rc;
		bind_int(&q, ":from", from_utc);
		bind_int(&q, ":to", to_utc);
		bind_int(&q, ":stop", STOP_COUNTING);
		rc = read_pair(&n[i], &sum[i], &q, err);
	}
	if (rc == RC_OK)
		*out = (struct expiring_count){
			.units = n[0],
			.servings = sum[0],
			.batches = n[1],
		};
	return rc;
}

/* --- holds ----------------------------------------------------------------*/

static enum rc
read_held(void *item, const struct stmt *q, struct err *err)
{
	struct held *h = item;

	(void)err;
	memset(h, 0, sizeof(*h));
	h->batch = col_int(q, 0) != 0;
	col_text(h->code, sizeof(h->code), q, 1);
	col_text(h->name, sizeof(h->name), q, 2);
	col_text(h->species, sizeof(h->species), q, 3);
	col_text(h->reason, sizeof(h->reason), q, 4);
	h->at_utc = col_int(q, 5);
	col_text(h->by, sizeof(h->by), q, 6);
	return RC_OK;
}

static enum rc
count_held(int64_t *out, struct store *st, struct err *err)
{
	struct stmt q;
	int64_t none;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT count(*), 0 FROM (SELECT 1 FROM hold INDEXED BY hold_batch"
	    " WHERE released_utc IS NULL LIMIT :stop)" SCAN_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":stop", STOP_COUNTING);
	return read_pair(out, &none, &q, err);
}

enum rc
held_open(struct held_list *out, int64_t *count, struct store *st, int64_t most,
    struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	*count = 0;
	/* All of a partial index, which holds only what is in force, those of
	 * units too. */
	rc = stmt_open(&q, st,
	    "SELECT h.batch_id IS NOT NULL, coalesce(p.code, b.code, ''),"
	    " coalesce(d.name, ''), coalesce(c.species, b.species), h.reason,"
	    " h.at_utc, h.by"
	    " FROM hold h INDEXED BY hold_batch"
	    " LEFT JOIN portion p ON p.id = coalesce(h.portion_id,"
	    "  (SELECT u.id FROM prep_output o CROSS JOIN portion u"
	    "  ON u.prep_output_id = o.id WHERE o.prep_id = h.prep_id"
	    "  ORDER BY u.id LIMIT 1))"
	    " LEFT JOIN cut c ON c.id = p.cut_id"
	    " LEFT JOIN dish d ON d.id = c.dish_id"
	    " LEFT JOIN batch b ON b.id = coalesce(h.batch_id, (SELECT"
	    "  i.batch_id FROM prep_input i WHERE i.prep_id = h.prep_id"
	    "  LIMIT 1))"
	    " WHERE h.released_utc IS NULL"
	    " ORDER BY h.id DESC LIMIT :most" SCAN_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":most", most);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_held, err);
	out->items = rows;
	return rc != RC_OK ? rc : count_held(count, st, err);
}

/* --- a new file -----------------------------------------------------------*/

enum rc
begun_get(struct begun *out, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT EXISTS (SELECT 1 FROM dish WHERE on_menu = 1),"
	    " EXISTS (SELECT 1 FROM service), EXISTS (SELECT 1 FROM "
	    "batch)" SCAN_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = (struct begun){
			.menu = col_int(&q, 0) != 0,
			.bookings = col_int(&q, 1) != 0,
			.batches = col_int(&q, 2) != 0,
		};
	stmt_close(&q);
	return rc;
}
