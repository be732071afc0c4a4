/* batch_events.c - what left a batch other than through a breakdown, and came
 * back. */
#include "store/batches.h"

#include <string.h>

#include "stmt.h"

struct left {
	const char *kind;
	int64_t fish;
	grams weight_g;
	int64_t undoes; /* 0: nothing */
};

static enum rc
insert(struct store *st, int64_t id, const struct left *e, const char *reason,
    const struct moment *at, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO batch_event (batch_id, kind, fish, weight_g, reason,"
	    " at_utc, offset_min, by, undoes) VALUES (:batch, :kind, :fish,"
	    " :weight, :reason, :at, :offset, :by, :undoes)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", id);
	bind_text(&q, ":kind", e->kind);
	bind_int(&q, ":fish", e->fish);
	bind_int(&q, ":weight", e->weight_g);
	bind_text(&q, ":reason", reason);
	bind_int(&q, ":at", at->utc);
	bind_int(&q, ":offset", at->offset_min);
	bind_text(&q, ":by", at->by);
	bind_id(&q, ":undoes", e->undoes);
	return stmt_run(&q, err);
}

enum rc
batch_discard(struct store *st, int64_t id, int64_t fish, grams weight,
    const char *reason, const struct moment *at, struct err *err)
{
	const struct left e = { "discarded", fish, weight, 0 };
	enum rc rc = insert(st, id, &e, reason, at, err);

	return rc != RC_OK ? rc : batch_shut(st, id, err);
}

enum rc
batch_discard_last(struct batch_discarded *out, struct store *st, int64_t id,
    const struct moment *at, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT e.id, e.fish, e.weight_g FROM batch_event e"
	    " WHERE e.batch_id = :batch AND e.kind = 'discarded'"
	    " AND e.at_utc = :at AND e.by = :by AND NOT EXISTS"
	    " (SELECT 1 FROM batch_event u WHERE u.undoes = e.id)"
	    " ORDER BY e.id DESC LIMIT 1",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", id);
	bind_int(&q, ":at", at->utc);
	bind_text(&q, ":by", at->by);
	if ((rc = stmt_step(&q, err)) == RC_OK) {
		out->id = col_int(&q, 0);
		out->fish = col_int(&q, 1);
		out->weight_g = col_int(&q, 2);
	}
	stmt_close(&q);
	return rc == RC_END ? RC_NOTFOUND : rc;
}

enum rc
batch_return(struct store *st, int64_t id, const struct batch_discarded *what,
    const char *reason, const struct moment *at, struct err *err)
{
	const struct left e = { "returned", what->fish, what->weight_g,
		what->id };
	enum rc rc = insert(st, id, &e, reason, at, err);

	return rc != RC_OK ? rc : batch_reopen(st, id, err);
}

enum rc
batch_touched(bool *out, struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT EXISTS (SELECT 1 FROM prep_input i"
	    "  WHERE i.batch_id = :batch AND NOT EXISTS"
	    "  (SELECT 1 FROM prep_struck k WHERE k.prep_id = i.prep_id))"
	    " OR EXISTS (SELECT 1 FROM batch_event e WHERE e.batch_id = :batch"
	    "  AND e.kind <> 'returned' AND NOT EXISTS"
	    "  (SELECT 1 FROM batch_event u WHERE u.undoes = e.id))",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0) != 0;
	stmt_close(&q);
	return rc;
}

enum rc
batch_strike(struct store *st, const struct batch *b, const char *reason,
    const struct moment *at, struct err *err)
{
	const struct left e = { "struck", b->count, b->weight_g, 0 };
	enum rc rc = insert(st, b->id, &e, reason, at, err);

	return rc != RC_OK ? rc : batch_shut(st, b->id, err);
}

enum rc
batch_struck_get(
    struct batch_struck *out, struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT reason, at_utc, offset_min, by FROM batch_event"
	    " WHERE batch_id = :batch AND kind = 'struck'",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", id);
	if ((rc = stmt_step(&q, err)) == RC_OK) {
		out->is = true;
		col_text(out->reason, sizeof(out->reason), &q, 0);
		out->at.utc = col_int(&q, 1);
		out->at.offset_min = (int)col_int(&q, 2);
		col_text(out->at.by, sizeof(out->at.by), &q, 3);
	}
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

enum rc
batch_reopen(struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE batch SET open = 1 WHERE id = :id AND decision <> 'refused'"
	    " AND EXISTS (SELECT 1 FROM batch_left l WHERE l.batch_id = :id AND"
	    "  l.weight_g > 0 AND (batch.count = 0 OR l.count > 0))",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	return stmt_run(&q, err);
}
