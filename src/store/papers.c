/* papers.c - what the papers of a batch say beyond what goods in asks. */
#include "store/papers.h"

#include <string.h>

#include "stmt.h"

static enum rc
read_said(void *item, const struct stmt *q, struct err *err)
{
	struct paper_said *p = item;

	(void)err;
	memset(p, 0, sizeof(*p));
	col_text(p->datum, sizeof(p->datum), q, 0);
	col_text(p->value, sizeof(p->value), q, 1);
	p->at.utc = col_int(q, 2);
	p->at.offset_min = (int)col_int(q, 3);
	col_text(p->at.by, sizeof(p->at.by), q, 4);
	return RC_OK;
}

enum rc
paper_list_open(struct paper_said_list *out, struct store *st, int64_t batch_id,
    struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT p.datum, p.value, p.at_utc, p.offset_min, p.by"
	    " FROM paper p WHERE p.batch_id = :batch AND p.id ="
	    " (SELECT max(n.id) FROM paper n WHERE n.batch_id = p.batch_id"
	    "  AND n.datum = p.datum) ORDER BY p.id" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", batch_id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_said, err);
	out->items = rows;
	return rc;
}

enum rc
paper_say(struct store *st, int64_t batch_id, const struct paper_said *said,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO paper (batch_id, datum, value, at_utc, offset_min,"
	    " by) VALUES (:batch, :datum, :value, :at, :offset, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", batch_id);
	bind_text(&q, ":datum", said->datum);
	bind_text(&q, ":value", said->value);
	bind_int(&q, ":at", said->at.utc);
	bind_int(&q, ":offset", said->at.offset_min);
	bind_text(&q, ":by", said->at.by);
	return stmt_run(&q, err);
}

static enum rc
read_code(void *item, const struct stmt *q, struct err *err)
{
	(void)err;
	col_text(item, CODE_SIZE, q, 0);
	return RC_OK;
}

enum rc
paper_batches(struct paper_codes *out, struct store *st, const char *document,
    size_t most, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT b.code FROM delivery d"
	    " CROSS JOIN batch b ON b.delivery_id = d.id"
	    " WHERE d.document = :document ORDER BY d.day DESC, b.id"
	    " LIMIT :most" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":document", document);
	bind_int(&q, ":most", (int64_t)most);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_code, err);
	out->items = rows;
	return rc;
}
