/* complaints.c - what guests said was wrong, and what was found out. */
#include "store/complaints.h"

#include <inttypes.h>
#include <string.h>

#include "stmt.h"

enum rc
complaint_insert(
    struct store *st, struct complaint *c, const char *trace, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO complaint (code, dish, service, what, place,"
	    " served_utc, trace, digest, at_utc, offset_min, by) VALUES (:code,"
	    " :dish, :service, :what, :place, :served, :trace, :digest, :at,"
	    " :offset, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":code", c->code);
	bind_text(&q, ":dish", c->dish);
	bind_text(&q, ":service", c->service);
	bind_text(&q, ":what", c->what);
	bind_text(&q, ":place", c->place);
	bind_id(&q, ":served", c->served_utc);
	bind_text(&q, ":trace", trace);
	bind_text(&q, ":digest", c->digest);
	bind_int(&q, ":at", c->at.utc);
	bind_int(&q, ":offset", c->at.offset_min);
	bind_text(&q, ":by", c->at.by);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		c->id = last_id(st);
	return rc;
}

static enum rc
read_complaint(void *item, const struct stmt *q, struct err *err)
{
	struct complaint *c = item;

	(void)err;
	memset(c, 0, sizeof(*c));
	c->id = col_int(q, 0);
	col_text(c->code, sizeof(c->code), q, 1);
	col_text(c->dish, sizeof(c->dish), q, 2);
	col_text(c->service, sizeof(c->service), q, 3);
	col_text(c->what, sizeof(c->what), q, 4);
	col_text(c->place, sizeof(c->place), q, 5);
	c->served_utc = col_int(q, 6);
	col_text(c->digest, sizeof(c->digest), q, 7);
	c->at.utc = col_int(q, 8);
	c->at.offset_min = (int)col_int(q, 9);
	col_text(c->at.by, sizeof(c->at.by), q, 10);
	c->notes = col_int(q, 11);
	c->closed = col_int(q, 12) != 0;
	col_text(c->outcome, sizeof(c->outcome), q, 13);
	return RC_OK;
}

#define COLUMNS                                                                \
	"SELECT c.id, c.code, c.dish, c.service, c.what, c.place,"             \
	" c.served_utc, c.digest, c.at_utc, c.offset_min, c.by,"               \
	" (SELECT count(*) FROM complaint_note n WHERE n.complaint_id = "      \
	"c.id),"                                                               \
	" z.id IS NOT NULL, coalesce(z.text, '') FROM complaint c"
#define CLOSING                                                                \
	" LEFT JOIN complaint_note z ON z.complaint_id = c.id"                 \
	" AND z.kind = 'closed'"

enum rc
complaint_get(
    struct complaint *out, struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st, COLUMNS CLOSING " WHERE c.id = :id", err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		rc = read_complaint(out, &q, err);
	stmt_close(&q);
	return rc != RC_END
	    ? rc
	    : err_set(err, RC_NOTFOUND, 0,
		  "complaint %" PRId64 " is not in this station file", id);
}

/* One text of one row, owned by the caller. */
static enum rc
text_of(char **out, struct store *st, const char *sql, const char *what,
    int64_t id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	*out = NULL;
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_dup(&q, 0);
	stmt_close(&q);
	return rc != RC_END
	    ? rc
	    : err_set(err, RC_NOTFOUND, 0,
		  "%s %" PRId64 " is not in this station file", what, id);
}

enum rc
complaint_trace(char **out, struct store *st, int64_t id, struct err *err)
{
	return text_of(out, st, "SELECT trace FROM complaint WHERE id = :id",
	    "complaint", id, err);
}

enum rc
complaint_list_open(struct complaint_list *out, struct store *st, bool open,
    size_t most, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	/* by number from the newest, at most so many */
	rc = stmt_open(&q, st,
	    COLUMNS CLOSING SCAN_OK
	    "WHERE (:open = 0 OR z.id IS NULL)"
	    " ORDER BY c.id DESC LIMIT :most",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":open", open);
	bind_int(&q, ":most", (int64_t)most);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_complaint, err);
	out->items = rows;
	return rc;
}

enum rc
complaint_count_open(int64_t *out, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	*out = 0;
	/* of an index that holds no trace; a kitchen has few complaints */
	rc = stmt_open(&q, st,
	    "SELECT count(*) FROM complaint c" SCAN_OK
	    "WHERE NOT EXISTS (SELECT 1 FROM complaint_note n"
	    " WHERE n.complaint_id = c.id AND n.kind = 'closed')",
	    err);
	if (rc != RC_OK)
		return rc;
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc;
}

enum rc
complaint_note_insert(struct store *st, int64_t id,
    const struct complaint_note *n, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO complaint_note (complaint_id, kind, text, at_utc,"
	    " offset_min, by) VALUES (:id, :kind, :text, :at, :offset, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	bind_text(&q, ":kind", n->closes ? "closed" : "note");
	bind_text(&q, ":text", n->text);
	bind_int(&q, ":at", n->at.utc);
	bind_int(&q, ":offset", n->at.offset_min);
	bind_text(&q, ":by", n->at.by);
	return stmt_run(&q, err);
}

static enum rc
read_note(void *item, const struct stmt *q, struct err *err)
{
	struct complaint_note *n = item;

	(void)err;
	memset(n, 0, sizeof(*n));
	n->closes = col_int(q, 0) != 0;
	col_text(n->text, sizeof(n->text), q, 1);
	n->at.utc = col_int(q, 2);
	n->at.offset_min = (int)col_int(q, 3);
	col_text(n->at.by, sizeof(n->at.by), q, 4);
	return RC_OK;
}

enum rc
complaint_notes_open(
    struct complaint_notes *out, struct store *st, int64_t id, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT n.kind = 'closed', n.text, n.at_utc, n.offset_min, n.by"
	    " FROM complaint_note n WHERE n.complaint_id = :id ORDER BY n.id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_note, err);
	out->items = rows;
	return rc;
}

/* --- drills ---------------------------------------------------------------*/

enum rc
drill_insert(
    struct store *st, struct drill *d, const char *report, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO drill (batch, seed, took_us, units, back, received_g,"
	    " gap_g, report, at_utc, offset_min, by) VALUES (:batch,"
	    " iif(:seeded, :seed, NULL), :took, :units, :back, :received,"
	    " :gap, :report, :at, :offset, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_text(&q, ":batch", d->batch);
	bind_int(&q, ":seeded", d->has_seed);
	bind_int(&q, ":seed", d->seed);
	bind_int(&q, ":took", d->took_us);
	bind_int(&q, ":units", d->units);
	bind_int(&q, ":back", d->back);
	bind_int(&q, ":received", d->received_g);
	bind_int(&q, ":gap", d->gap_g);
	bind_text(&q, ":report", report);
	bind_int(&q, ":at", d->at.utc);
	bind_int(&q, ":offset", d->at.offset_min);
	bind_text(&q, ":by", d->at.by);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		d->id = last_id(st);
	return rc;
}

static enum rc
read_drill(void *item, const struct stmt *q, struct err *err)
{
	struct drill *d = item;

	(void)err;
	memset(d, 0, sizeof(*d));
	d->id = col_int(q, 0);
	col_text(d->batch, sizeof(d->batch), q, 1);
	d->has_seed = col_int(q, 2) != 0;
	d->seed = col_int(q, 3);
	d->took_us = col_int(q, 4);
	d->units = col_int(q, 5);
	d->back = col_int(q, 6);
	d->received_g = col_int(q, 7);
	d->gap_g = col_int(q, 8);
	d->at.utc = col_int(q, 9);
	d->at.offset_min = (int)col_int(q, 10);
	col_text(d->at.by, sizeof(d->at.by), q, 11);
	return RC_OK;
}

enum rc
drill_list_open(
    struct drill_list *out, struct store *st, size_t most, struct err *err)
{
	struct stmt q;
	void *rows;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	/* by number from the newest, at most so many */
	rc = stmt_open(&q, st,
	    "SELECT d.id, d.batch, d.seed IS NOT NULL, d.seed, d.took_us,"
	    " d.units, d.back, d.received_g, d.gap_g, d.at_utc, d.offset_min,"
	    " d.by FROM drill d" SCAN_OK "ORDER BY d.id DESC LIMIT :most",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":most", (int64_t)most);
	rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), &q, read_drill, err);
	out->items = rows;
	return rc;
}

enum rc
drill_report_get(char **out, struct store *st, int64_t id, struct err *err)
{
	return text_of(out, st, "SELECT report FROM drill WHERE id = :id",
	    "drill", id, err);
}

enum rc
drill_newest(int64_t *out, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	*out = 0;
	if ((rc = stmt_open(&q, st, "SELECT max(id) FROM batch", err)) != RC_OK)
		return rc;
	if ((rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc;
}

#define TAKEN_IN                                                               \
	" AND b.decision <> 'refused' AND NOT EXISTS (SELECT 1"                \
	" FROM batch_event e WHERE e.batch_id = b.id AND e.kind = 'struck')"

enum rc
drill_batch(char code[CODE_SIZE], struct store *st, int64_t id, struct err *err)
{
	static const char *const ways[] = {
		"SELECT b.code FROM batch b WHERE b.id <= :id" TAKEN_IN
		" ORDER BY b.id DESC LIMIT 1",
		"SELECT b.code FROM batch b WHERE b.id > :id" TAKEN_IN
		" ORDER BY b.id LIMIT 1",
	};
	struct stmt q;
	enum rc rc = RC_END;
	int i;

	for (i = 0; i < 2 && rc == RC_END; i++) {
		if ((rc = stmt_open(&q, st, ways[i], err)) != RC_OK)
			return rc;
		bind_int(&q, ":id", id);
		if ((rc = stmt_step(&q, err)) == RC_OK)
			col_text(code, CODE_SIZE, &q, 0);
		stmt_close(&q);
	}
	return rc != RC_END ? rc
			    : err_set(err, RC_NOTFOUND, 0,
				  "there is no batch to drill with yet: take "
				  "goods in first");
}
