/* audit.c - what was done, by whom, when. */
#include "store/audit.h"

#include <stdlib.h>
#include <string.h>

#include "stmt.h"

enum rc
audit_last_id(int64_t *out, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	if ((*out = trail_pending_last(st)) != 0)
		return RC_OK;
	rc = stmt_open(&q, st, "SELECT coalesce(max(id), 0) FROM audit", err);
	if (rc != RC_OK)
		return rc;
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc;
}

enum rc
audit_last_but(int64_t *out, struct store *st, int64_t since, const char *but,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT coalesce((SELECT id FROM audit WHERE id > :since"
	    " AND instr(:but, ',' || action || ',') = 0"
	    " ORDER BY id DESC LIMIT 1), :since)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":since", since);
	bind_text(&q, ":but", but);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc;
}

enum rc
audit_last_utc(int64_t *out, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	*out = 0;
	rc = stmt_open(&q, st,
	    "SELECT at_utc FROM audit" SCAN_OK "ORDER BY id DESC LIMIT 1", err);
	if (rc != RC_OK)
		return rc;
	rc = stmt_step(&q, err);
	if (rc == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

static enum rc
read_row(void *item, const struct stmt *q, struct err *err)
{
	struct audit_row *r = item;

	(void)err;
	r->id = col_int(q, 0);
	r->at.utc = col_int(q, 1);
	r->at.offset_min = (int)col_int(q, 2);
	col_text(r->at.by, sizeof(r->at.by), q, 3);
	r->action = col_dup(q, 4);
	r->subject = col_dup(q, 5);
	r->detail = col_dup(q, 6);
	r->changes = NULL;
	return RC_OK;
}

#define AUDIT_COLUMNS                                                          \
	"SELECT id, at_utc, offset_min, by, action, subject, detail FROM "     \
	"audit"

static enum rc
read_list(struct audit_list *out, struct stmt *q, struct err *err)
{
	void *rows;
	enum rc rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), q, read_row, err);

	out->items = rows;
	return rc;
}

enum rc
audit_list_open(
    struct audit_list *out, struct store *st, int64_t most, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    AUDIT_COLUMNS
	    " WHERE id > (SELECT coalesce(max(id), 0) FROM audit) - :most"
	    " ORDER BY id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":most", most);
	return read_list(out, &q, err);
}

static enum rc
last_row(int64_t *out, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	*out = 0;
	rc = stmt_open(&q, st, "SELECT max(id) FROM audit", err);
	if (rc != RC_OK)
		return rc;
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc;
}

enum rc
audit_list_before(struct audit_list *out, int64_t *last, struct store *st,
    int64_t before, int64_t most, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = last_row(last, st, err)) != RC_OK)
		return rc;
	rc = stmt_open(&q, st,
	    AUDIT_COLUMNS " WHERE id < :before ORDER BY id DESC LIMIT :most",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":before", before == 0 ? *last + 1 : before);
	bind_int(&q, ":most", most);
	return read_list(out, &q, err);
}

enum rc
audit_list_from(struct audit_list *out, struct store *st, int64_t from,
    int64_t most, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    AUDIT_COLUMNS " WHERE id >= :from ORDER BY id LIMIT :most", err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":from", from);
	bind_int(&q, ":most", most);
	return read_list(out, &q, err);
}

enum rc
audit_changes(char **out, struct store *st, int64_t row, struct err *err)
{
	struct stmt q;
	enum rc rc;

	*out = NULL;
	rc =
	    stmt_open(&q, st, "SELECT changes FROM audit WHERE id = :row", err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":row", row);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_dup(&q, 0);
	stmt_close(&q);
	if (rc == RC_END)
		return err_set(err, RC_NOTFOUND, 0,
		    "the audit trail has no row %lld", (long long)row);
	return rc;
}

enum rc
audit_list_changes(struct audit_list *l, struct store *st, struct err *err)
{
	size_t i;
	enum rc rc = RC_OK;

	for (i = 0; i < l->count && rc == RC_OK; i++)
		rc = audit_changes(
		    &l->items[i].changes, st, l->items[i].id, err);
	return rc;
}

void
audit_list_fini(struct audit_list *l)
{
	size_t i;

	for (i = 0; i < l->count; i++) {
		free(l->items[i].action);
		free(l->items[i].subject);
		free(l->items[i].detail);
		free(l->items[i].changes);
	}
	free(l->items);
	memset(l, 0, sizeof(*l));
}
