/* batch_fish.c - fish of a batch that were weighed one by one. */
#include "store/batch_fish.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "stmt.h"

enum rc
batch_fish_insert(struct store *st, int64_t batch_id, const grams *weights,
    size_t n, struct err *err)
{
	struct stmt q;
	size_t i;
	enum rc rc;

	for (i = 0; i < n; i++) {
		rc = stmt_open(&q, st,
		    "INSERT INTO batch_fish (batch_id, number, weight_g)"
		    " VALUES (:batch, :number, :weight)",
		    err);
		if (rc != RC_OK)
			return rc;
		bind_int(&q, ":batch", batch_id);
		bind_int(&q, ":number", (int64_t)i + 1);
		bind_int(&q, ":weight", weights[i]);
		if ((rc = stmt_run(&q, err)) != RC_OK)
			return rc;
	}
	return RC_OK;
}

static enum rc
read_fish(void *item, const struct stmt *q, struct err *err)
{
	struct batch_fish *f = item;

	(void)err;
	f->number = col_int(q, 0);
	f->weight_g = col_int(q, 1);
	return RC_OK;
}

/*
 * A fish that leaves unnamed lowers what is left and not what is listed here.
 * The two never come together again, so that comparing them is enough.
 */
enum rc
batch_fish_left(struct batch_fish_list *out, struct store *st, int64_t batch_id,
    struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT f.number, f.weight_g FROM batch_fish f"
	    " WHERE f.batch_id = :batch AND f.prep_id IS NULL"
	    " AND (SELECT l.count FROM batch_left l"
	    "  WHERE l.batch_id = :batch) ="
	    " (SELECT count(*) FROM batch_fish g"
	    "  WHERE g.batch_id = :batch AND g.prep_id IS NULL)"
	    " ORDER BY f.number",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", batch_id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_fish, err);
	out->items = rows;
	return rc;
}

void
batch_fish_fini(struct batch_fish_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

enum rc
batch_fish_take(struct store *st, int64_t batch_id, int64_t number,
    int64_t prep_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE batch_fish SET prep_id = :prep WHERE batch_id = :batch"
	    " AND number = :number AND prep_id IS NULL",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":prep", prep_id);
	bind_int(&q, ":batch", batch_id);
	bind_int(&q, ":number", number);
	if ((rc = stmt_run(&q, err)) != RC_OK)
		return rc;
	if (rows_changed(st) == 1)
		return RC_OK;
	return err_set(err, RC_NOTFOUND, 0,
	    "fish %" PRId64 " is not among those still here", number);
}

struct weighed {
	int64_t batch_id;
	grams weight_g;
};

static enum rc
read_weighed(void *item, const struct stmt *q, struct err *err)
{
	struct weighed *w = item;

	(void)err;
	w->batch_id = col_int(q, 0);
	w->weight_g = col_int(q, 1);
	return RC_OK;
}

enum rc
batch_fish_cv(
    int *cv_bp, struct store *st, const char *species, struct err *err)
{
	struct fish_spread spread = { 0, 0 };
	grams weights[BATCH_FISH_CV_MAX];
	struct weighed *w;
	struct stmt q;
	size_t count, i, n = 0;
	void *rows;
	enum rc rc;

	rc = stmt_open(&q, st,
	    /* years of batches nobody weighed by the fish are not looked
	     * through each time */
	    "SELECT f.batch_id, f.weight_g FROM (SELECT id FROM batch"
	    "  WHERE species = :species ORDER BY id DESC LIMIT :batches) b"
	    " CROSS JOIN batch_fish f ON f.batch_id = b.id"
	    " WHERE NOT EXISTS (SELECT 1"
	    "  FROM batch_event e WHERE e.batch_id = b.id"
	    "  AND e.kind = 'struck')"
	    " ORDER BY b.id DESC, f.number LIMIT :most" SCAN_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":species", species);
	bind_int(&q, ":batches", BATCH_FISH_CV_BATCHES);
	bind_int(&q, ":most", BATCH_FISH_CV_MAX);
	rc = stmt_rows(&rows, &count, sizeof(*w), &q, read_weighed, err);
	if (rc != RC_OK)
		return rc;
	w = rows;
	for (i = 0; i < count; i++) {
		weights[n++] = w[i].weight_g;
		if (i + 1 == count || w[i + 1].batch_id != w[i].batch_id) {
			fish_spread_add(&spread, weights, n);
			n = 0;
		}
	}
	free(rows);
	*cv_bp = fish_spread_cv(&spread);
	return RC_OK;
}
