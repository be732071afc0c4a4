/* undo.c - steps that may be taken back, and those that were. */
#include "store/undo.h"

#include <string.h>

#include "stmt.h"

static enum rc
read_row(void *item, const struct stmt *q, struct err *err)
{
	struct audit_row *r = item;

	(void)err;
	memset(r, 0, sizeof(*r));
	r->id = col_int(q, 0);
	r->at.utc = col_int(q, 1);
	r->at.offset_min = (int)col_int(q, 2);
	col_text(r->at.by, sizeof(r->at.by), q, 3);
	r->action = col_dup(q, 4);
	r->subject = col_dup(q, 5);
	r->detail = col_dup(q, 6);
	return RC_OK;
}

enum rc
undo_rows_open(struct audit_list *out, struct store *st, int64_t from_utc,
    int64_t most, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT a.id, a.at_utc, a.offset_min, a.by, a.action, a.subject,"
	    " a.detail FROM audit a "
	    "WHERE a.id > (SELECT coalesce(max(id), 0) FROM audit) - :most"
	    " AND a.at_utc >= :from AND NOT EXISTS (SELECT 1 FROM undone u"
	    "  WHERE u.step_id = a.id) ORDER BY a.id DESC",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":most", most);
	bind_int(&q, ":from", from_utc);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_row, err);
	out->items = rows;
	return rc;
}

enum rc
undone_add(struct store *st, int64_t step_id, struct err *err)
{
	int64_t undo_id = 0;
	struct stmt q;
	enum rc rc;

	if ((rc = audit_last_id(&undo_id, st, err)) != RC_OK)
		return rc;
	rc = stmt_open(&q, st,
	    "INSERT INTO undone (step_id, undo_id) VALUES (:step, :undo)", err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":step", step_id);
	bind_int(&q, ":undo", undo_id);
	return stmt_run(&q, err);
}
