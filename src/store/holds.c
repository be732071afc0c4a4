/* holds.c - batches and portions blocked pending a decision. */
#include "store/holds.h"

#include <stdlib.h>
#include <string.h>

#include "stmt.h"

static enum rc
is_open(int64_t *id, struct store *st, const struct subject *s, struct err *err)
{
	struct stmt q;
	enum rc rc;

	*id = 0;
	rc = stmt_open(&q, st,
	    s->batch_id != 0 ? "SELECT id FROM hold WHERE batch_id = :id"
			       " AND released_utc IS NULL"
			     : "SELECT id FROM hold WHERE portion_id = :id"
			       " AND released_utc IS NULL",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", s->batch_id != 0 ? s->batch_id : s->portion_id);
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		*id = col_int(&q, 0);
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

enum rc
hold_open(struct store *st, const struct subject *s, const char *reason,
    const struct moment *at, struct err *err)
{
	struct stmt q;
	int64_t id;
	enum rc rc;

	if ((rc = is_open(&id, st, s, err)) != RC_OK)
		return rc;
	if (id != 0)
		return err_set(err, RC_REFUSED, 0, "it is on hold already");
	rc = stmt_open(&q, st,
	    "INSERT INTO hold (batch_id, portion_id, reason, at_utc, by)"
	    " VALUES (:batch, :portion, :reason, :at, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_id(&q, ":batch", s->batch_id);
	bind_id(&q, ":portion", s->portion_id);
	bind_text(&q, ":reason", reason);
	bind_int(&q, ":at", at->utc);
	bind_text(&q, ":by", at->by);
	return stmt_run(&q, err);
}

enum rc
hold_close(struct store *st, const struct subject *s, const char *reason,
    const struct moment *at, struct err *err)
{
	struct stmt q;
	int64_t id;
	enum rc rc;

	if ((rc = is_open(&id, st, s, err)) != RC_OK)
		return rc;
	if (id == 0)
		return err_set(err, RC_REFUSED, 0, "it has no hold of its own");
	rc = stmt_open(&q, st,
	    "UPDATE hold SET released_utc = :at, released_by = :by,"
	    " released_reason = :reason WHERE id = :id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":at", at->utc);
	bind_text(&q, ":by", at->by);
	bind_text(&q, ":reason", reason);
	bind_int(&q, ":id", id);
	return stmt_run(&q, err);
}

static enum rc
read_hold(void *item, const struct stmt *q, struct err *err)
{
	struct hold *h = item;

	(void)err;
	h->id = col_int(q, 0);
	col_text(h->reason, sizeof(h->reason), q, 1);
	h->at_utc = col_int(q, 2);
	col_text(h->by, sizeof(h->by), q, 3);
	h->released_utc = col_int(q, 4);
	col_text(h->released_by, sizeof(h->released_by), q, 5);
	col_text(h->released_reason, sizeof(h->released_reason), q, 6);
	return RC_OK;
}

#define HOLD_COLUMNS                                                           \
	"SELECT id, reason, at_utc, by, released_utc, released_by,"            \
	" released_reason FROM hold "

enum rc
hold_now(struct hold *out, struct store *st, const struct subject *s,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    s->batch_id != 0 ? HOLD_COLUMNS
		"WHERE batch_id = :id AND released_utc IS NULL"
			     : HOLD_COLUMNS
		"WHERE portion_id = :id"
		" AND released_utc IS NULL",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", s->batch_id != 0 ? s->batch_id : s->portion_id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		rc = read_hold(out, &q, err);
	stmt_close(&q);
	return rc == RC_END ? RC_NOTFOUND : rc;
}

enum rc
hold_list_open(struct hold_list *out, struct store *st, const struct subject *s,
    struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	/* Holds are few in any kitchen; released ones carry no index. */
	rc = stmt_open(&q, st,
	    s->batch_id != 0 ? HOLD_COLUMNS "WHERE batch_id = :id ORDER BY id"
			     : HOLD_COLUMNS
		"WHERE portion_id = :id ORDER BY id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", s->batch_id != 0 ? s->batch_id : s->portion_id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_hold, err);
	out->items = rows;
	return rc;
}

void
hold_list_fini(struct hold_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}
