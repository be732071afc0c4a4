/* tickets.c - lists that came out of a printer, as they were printed. */
#include "store/tickets.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"

static const char *const kind_words[TICKET_KIND_COUNT] = {
	[TICKET_PREP] = "prep",
	[TICKET_ORDER] = "order",
	[TICKET_RECALL] = "recall",
	[TICKET_DAY] = "day",
	[TICKET_TEST] = "test",
	[TICKET_DRILL] = "drill",
	[TICKET_REPORT] = "report",
};

const char *
ticket_kind_word(enum ticket_kind k)
{
	return kind_words[k];
}

enum rc
ticket_insert(struct store *st, struct ticket_record *r, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO ticket (kind, title, body, at_utc, offset_min, by)"
	    " VALUES (:kind, :title, :body, :at, :offset, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":kind", kind_words[r->kind]);
	bind_text(&q, ":title", r->title);
	bind_text(&q, ":body", r->body);
	bind_int(&q, ":at", r->at.utc);
	bind_int(&q, ":offset", r->at.offset_min);
	bind_text(&q, ":by", r->at.by);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		r->id = last_id(st);
	return rc;
}

static void
read_row(struct ticket_record *r, const struct stmt *q)
{
	char word[16];
	int i;

	r->id = col_int(q, 0);
	col_text(word, sizeof(word), q, 1);
	for (i = 0; i < TICKET_KIND_COUNT; i++)
		if (str_eq(word, kind_words[i]))
			r->kind = (enum ticket_kind)i;
	r->title = col_dup(q, 2);
	r->body = col_dup(q, 3);
	r->at.utc = col_int(q, 4);
	r->at.offset_min = (int)col_int(q, 5);
	col_text(r->at.by, sizeof(r->at.by), q, 6);
}

enum rc
ticket_get(
    struct ticket_record *out, struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT id, kind, title, body, at_utc, offset_min, by"
	    " FROM ticket WHERE id = :id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		read_row(out, &q);
	stmt_close(&q);
	return rc != RC_END
	    ? rc
	    : err_set(err, RC_NOTFOUND, 0,
		  "list %" PRId64 " is not in this station file", id);
}

void
ticket_record_fini(struct ticket_record *r)
{
	free(r->title);
	free(r->body);
	memset(r, 0, sizeof(*r));
}
