/* drafts.c - forms somebody has half typed. */
#include "store/drafts.h"

#include <stdlib.h>
#include <string.h>

#include "stmt.h"

enum rc
draft_put(struct store *st, const struct draft *d, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO draft (name, title, body, at_utc, offset_min, by)"
	    " VALUES (:name, :title, :body, :at, :offset, :by)"
	    " ON CONFLICT (name) DO UPDATE SET title = :title, body = :body,"
	    " at_utc = :at, offset_min = :offset, by = :by",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":name", d->name);
	bind_text(&q, ":title", d->title);
	bind_text(&q, ":body", d->body);
	bind_int(&q, ":at", d->at.utc);
	bind_int(&q, ":offset", d->at.offset_min);
	bind_text(&q, ":by", d->at.by);
	return stmt_run(&q, err);
}

enum rc
draft_drop(struct store *st, const char *name, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st, "DELETE FROM draft WHERE name = :name", err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":name", name);
	return stmt_run(&q, err);
}

enum rc
draft_get(
    struct draft *out, struct store *st, const char *name, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT name, title, body, at_utc, offset_min, by"
	    " FROM draft WHERE name = :name",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":name", name);
	if ((rc = stmt_step(&q, err)) == RC_OK) {
		col_text(out->name, sizeof(out->name), &q, 0);
		col_text(out->title, sizeof(out->title), &q, 1);
		out->body = col_dup(&q, 2);
		out->at.utc = col_int(&q, 3);
		out->at.offset_min = (int)col_int(&q, 4);
		col_text(out->at.by, sizeof(out->at.by), &q, 5);
	}
	stmt_close(&q);
	return rc != RC_END
	    ? rc
	    : err_set(err, RC_NOTFOUND, 0, "nothing is kept of %s", name);
}

void
draft_fini(struct draft *d)
{
	free(d->body);
	memset(d, 0, sizeof(*d));
}
