/* holds.c - batches, breakdowns and portions blocked pending a decision. */
#include "store/holds.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "stmt.h"
#include "store/jobs.h"

#define HOLD_COLUMNS                                                           \
	"SELECT h.id, h.reason, h.at_utc, h.by, h.released_utc,"               \
	" h.released_by, h.released_reason, h.batch_id, h.portion_id,"         \
	" h.prep_id FROM hold h "

/* The three subjects, each with its own index. */
static const char *const now_sql[] = {
	HOLD_COLUMNS "WHERE h.batch_id = :id AND h.released_utc IS NULL",
	HOLD_COLUMNS "WHERE h.portion_id = :id AND h.released_utc IS NULL",
	HOLD_COLUMNS "WHERE h.prep_id = :id AND h.released_utc IS NULL",
};
static const char *const list_sql[] = {
	HOLD_COLUMNS "WHERE h.batch_id = :id ORDER BY h.id",
	HOLD_COLUMNS "WHERE h.portion_id = :id ORDER BY h.id",
	HOLD_COLUMNS "WHERE h.prep_id = :id ORDER BY h.id",
};

/* Of a statement for each of the three. */
static enum rc
open_for(struct stmt *q, struct store *st, const char *const sql[3],
    const struct subject *s, struct err *err)
{
	int i = s->batch_id != 0 ? 0 : s->portion_id != 0 ? 1 : 2;
	enum rc rc = stmt_open(q, st, sql[i], err);

	if (rc == RC_OK)
		bind_int(q, ":id",
		    i == 0       ? s->batch_id
			: i == 1 ? s->portion_id
				 : s->prep_id);
	return rc;
}

static enum rc
read_hold(void *item, const struct stmt *q, struct err *err)
{
	struct hold *h = item;

	(void)err;
	memset(h, 0, sizeof(*h));
	h->id = col_int(q, 0);
	col_text(h->reason, sizeof(h->reason), q, 1);
	h->at_utc = col_int(q, 2);
	col_text(h->by, sizeof(h->by), q, 3);
	h->released_utc = col_int(q, 4);
	col_text(h->released_by, sizeof(h->released_by), q, 5);
	col_text(h->released_reason, sizeof(h->released_reason), q, 6);
	h->subject.batch_id = col_int(q, 7);
	h->subject.portion_id = col_int(q, 8);
	h->subject.prep_id = col_int(q, 9);
	return RC_OK;
}

/* The one row of an open statement, and close it.  RC_NOTFOUND: none. */
static enum rc
read_one(struct hold *out, struct stmt *q, struct err *err)
{
	enum rc rc = stmt_step(q, err);

	if (rc == RC_OK)
		rc = read_hold(out, q, err);
	stmt_close(q);
	return rc == RC_END ? RC_NOTFOUND : rc;
}

enum rc
hold_now(struct hold *out, struct store *st, const struct subject *s,
    struct err *err)
{
	struct stmt q;
	enum rc rc = open_for(&q, st, now_sql, s, err);

	return rc != RC_OK ? rc : read_one(out, &q, err);
}

enum rc
hold_of_unit(
    struct hold *out, struct store *st, int64_t portion_id, struct err *err)
{
	static const char *const sql[] = {
		HOLD_COLUMNS
		"WHERE h.portion_id = :id AND h.released_utc IS NULL",
		HOLD_COLUMNS
		"WHERE h.prep_id IN (SELECT u.prep_id FROM "
		"prep_unit u WHERE u.portion_id = :id)"
		" AND h.released_utc IS NULL ORDER BY h.id" SORT_OK,
		HOLD_COLUMNS
		"WHERE h.batch_id IN (SELECT u.batch_id FROM "
		"batch_unit u WHERE u.portion_id = :id)"
		" AND h.released_utc IS NULL ORDER BY h.id" SORT_OK,
	};
	struct stmt q;
	size_t i;
	enum rc rc = RC_NOTFOUND;

	for (i = 0; i < sizeof(sql) / sizeof(sql[0]) && rc == RC_NOTFOUND;
	     i++) {
		if ((rc = stmt_open(&q, st, sql[i], err)) != RC_OK)
			return rc;
		bind_int(&q, ":id", portion_id);
		rc = read_one(out, &q, err);
	}
	return rc;
}

static enum rc
insert(int64_t *id, struct store *st, const struct subject *s,
    const char *reason, const struct moment *at, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO hold (batch_id, prep_id, portion_id, reason, at_utc,"
	    " by) VALUES (:batch, :prep, :portion, :reason, :at, :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_id(&q, ":batch", s->batch_id);
	bind_id(&q, ":prep", s->prep_id);
	bind_id(&q, ":portion", s->portion_id);
	bind_text(&q, ":reason", reason);
	bind_int(&q, ":at", at->utc);
	bind_text(&q, ":by", at->by);
	if ((rc = stmt_run(&q, err)) == RC_OK)
		*id = last_id(st);
	return rc;
}

enum rc
hold_join(int64_t *id, bool *opened, struct store *st, const struct subject *s,
    const char *reason, const struct moment *at, struct err *err)
{
	struct hold h;
	enum rc rc = hold_now(&h, st, s, err);

	*opened = rc == RC_NOTFOUND;
	if (rc == RC_OK)
		*id = h.id;
	return rc == RC_NOTFOUND ? insert(id, st, s, reason, at, err) : rc;
}

enum rc
hold_open(struct store *st, const struct subject *s, const char *reason,
    const struct moment *at, struct err *err)
{
	int64_t id;
	bool opened;
	enum rc rc = hold_join(&id, &opened, st, s, reason, at, err);

	if (rc != RC_OK || opened)
		return rc;
	return err_set(err, RC_REFUSED, 0, "it is on hold already");
}

/* An open recall rests on it: only closing that lets it go. */
static enum rc
no_recall(struct store *st, int64_t id, struct err *err)
{
	int64_t recall;
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "SELECT r.recall_id FROM recall_hold r WHERE r.hold_id = :id"
	    " AND NOT EXISTS (SELECT 1 FROM recall_end e"
	    "  WHERE e.recall_id = r.recall_id)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	if ((rc = stmt_step(&q, err)) == RC_OK) {
		recall = col_int(&q, 0);
		rc = err_set(err, RC_REFUSED, 0,
		    "recall %" PRId64
		    " rests on its hold: it goes when that "
		    "recall is closed",
		    recall);
	}
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

enum rc
hold_close(struct store *st, const struct subject *s, const char *reason,
    const struct moment *at, struct err *err)
{
	struct stmt q;
	struct hold h;
	enum rc rc;

	if ((rc = hold_now(&h, st, s, err)) == RC_NOTFOUND)
		return err_set(err, RC_REFUSED, 0, "it has no hold of its own");
	if (rc != RC_OK || (rc = no_recall(st, h.id, err)) != RC_OK)
		return rc;
	rc = stmt_open(&q, st,
	    "UPDATE hold SET released_utc = :at, released_by = :by,"
	    " released_reason = :reason WHERE id = :id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":at", at->utc);
	bind_text(&q, ":by", at->by);
	bind_text(&q, ":reason", reason);
	bind_int(&q, ":id", h.id);
	return stmt_run(&q, err);
}

static enum rc
read_all(struct hold_list *out, struct stmt *q, struct err *err)
{
	void *rows;
	enum rc rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), q, read_hold, err);

	out->items = rows;
	return rc;
}

enum rc
hold_list_open(struct hold_list *out, struct store *st, const struct subject *s,
    struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = open_for(&q, st, list_sql, s, err);
	return rc != RC_OK ? rc : read_all(out, &q, err);
}

enum rc
hold_list_preps(
    struct hold_list *out, struct store *st, int64_t batch_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    HOLD_COLUMNS
	    "WHERE h.prep_id IN (SELECT i.prep_id FROM prep_input "
	    "i WHERE i.batch_id = :batch) ORDER BY h.id" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":batch", batch_id);
	return read_all(out, &q, err);
}

void
hold_list_fini(struct hold_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}

/* --- labels ---------------------------------------------------------------*/

static enum rc
read_id(void *item, const struct stmt *q, struct err *err)
{
	(void)err;
	*(int64_t *)item = col_int(q, 0);
	return RC_OK;
}

static enum rc
stop_one(struct store *st, int64_t hold_id, int64_t job_id, const char *why,
    int64_t now_utc, struct err *err)
{
	struct print_job j;
	struct stmt q;
	enum rc rc;

	if ((rc = job_get(&j, st, job_id, err)) != RC_OK ||
	    (rc = job_move(st, &j, JOB_CANCELLED, why, now_utc, err)) !=
		RC_OK ||
	    (rc = stmt_open(&q, st,
		 "INSERT INTO hold_stopped (hold_id, job_id)"
		 " VALUES (:hold, :job)",
		 err)) != RC_OK)
		return rc;
	bind_int(&q, ":hold", hold_id);
	bind_int(&q, ":job", job_id);
	return stmt_run(&q, err);
}

enum rc
hold_stop_labels(int64_t *count, struct store *st, int64_t id,
    const char *reason, int64_t now_utc, struct err *err)
{
	char why[sizeof(((struct print_job *)0)->error)];
	struct stmt q;
	void *rows;
	size_t i, n;
	enum rc rc;

	*count = 0;
	/* all of a partial index that holds only what is not settled */
	rc = stmt_open(&q, st,
	    "SELECT j.id FROM print_job j INDEXED BY print_job_open" SCAN_OK
	    "WHERE j.state IN ('queued', 'sending', 'unsure')"
	    " AND j.state = 'queued' AND j.says <> 'hold'"
	    " AND coalesce((SELECT u.held FROM held_unit u"
	    "  WHERE u.portion_id = j.portion_id),"
	    "  (SELECT b.held FROM held_batch b"
	    "  WHERE b.batch_id = j.batch_id), 0) ORDER BY j.id",
	    err);
	if (rc != RC_OK ||
	    (rc = stmt_rows(&rows, &n, sizeof(int64_t), &q, read_id, err)) !=
		RC_OK)
		return rc;
	str_fmt(why, sizeof(why), "on hold: %.150s", reason);
	utf8_clean(why); /* it may have been cut within a character */
	for (i = 0; i < n && rc == RC_OK; i++)
		rc = stop_one(st, id, ((int64_t *)rows)[i], why, now_utc, err);
	*count = (int64_t)n;
	free(rows);
	return rc;
}

static enum rc
read_code(void *item, const struct stmt *q, struct err *err)
{
	struct stopped_label *l = item;

	(void)err;
	col_text(l->code, sizeof(l->code), q, 0);
	return RC_OK;
}

enum rc
hold_stopped_open(struct stopped_label **items, size_t *count, struct store *st,
    int64_t id, struct err *err)
{
	struct stmt q;
	void *rows = NULL;
	enum rc rc;

	*items = NULL;
	*count = 0;
	rc = stmt_open(&q, st,
	    "SELECT DISTINCT coalesce(p.code, b.code) FROM hold_stopped s"
	    " JOIN print_job j ON j.id = s.job_id"
	    " LEFT JOIN portion p ON p.id = j.portion_id"
	    " LEFT JOIN batch b ON b.id = j.batch_id"
	    " WHERE s.hold_id = :id AND coalesce(p.left, b.open) > 0"
	    " AND NOT coalesce((SELECT u.held FROM held_unit u"
	    "  WHERE u.portion_id = j.portion_id),"
	    "  (SELECT v.held FROM held_batch v"
	    "  WHERE v.batch_id = j.batch_id)) ORDER BY j.id" SORT_OK,
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", id);
	rc = stmt_rows(&rows, count, sizeof(**items), &q, read_code, err);
	*items = rows;
	return rc;
}

/* --- notes ----------------------------------------------------------------*/

enum rc
hold_note_add(struct store *st, const struct hold_note *n, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "INSERT INTO hold_note (hold_id, recall_id, text, at_utc,"
	    " offset_min, by) VALUES (:hold, :recall, :text, :at, :offset,"
	    " :by)",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_id(&q, ":hold", n->hold_id);
	bind_id(&q, ":recall", n->recall_id);
	bind_text(&q, ":text", n->text);
	bind_int(&q, ":at", n->at.utc);
	bind_int(&q, ":offset", n->at.offset_min);
	bind_text(&q, ":by", n->at.by);
	return stmt_run(&q, err);
}

static enum rc
read_note(void *item, const struct stmt *q, struct err *err)
{
	struct hold_note *n = item;

	(void)err;
	memset(n, 0, sizeof(*n));
	n->hold_id = col_int(q, 0);
	n->recall_id = col_int(q, 1);
	col_text(n->text, sizeof(n->text), q, 2);
	n->at.utc = col_int(q, 3);
	n->at.offset_min = (int)col_int(q, 4);
	col_text(n->at.by, sizeof(n->at.by), q, 5);
	return RC_OK;
}

static enum rc
read_notes(struct hold_note_list *out, struct stmt *q, struct err *err)
{
	void *rows;
	enum rc rc = stmt_rows(
	    &rows, &out->count, sizeof(*out->items), q, read_note, err);

	out->items = rows;
	return rc;
}

#define NOTE_COLUMNS                                                           \
	"SELECT n.hold_id, n.recall_id, n.text, n.at_utc, n.offset_min, n.by"

enum rc
hold_notes_open(struct hold_note_list *out, struct store *st,
    const struct subject *s, struct err *err)
{
	static const char *const sql[] = {
		NOTE_COLUMNS
		" FROM hold_note n WHERE n.hold_id IN (SELECT h.id FROM hold h"
		" WHERE h.batch_id = :id UNION SELECT h.id FROM hold h"
		" WHERE h.prep_id IN (SELECT i.prep_id FROM prep_input i"
		"  WHERE i.batch_id = :id)) ORDER BY n.id" SORT_OK,
		NOTE_COLUMNS
		" FROM hold h CROSS JOIN hold_note n ON n.hold_id "
		"= h.id WHERE h.portion_id = :id ORDER BY n.id" SORT_OK,
		NOTE_COLUMNS
		" FROM hold h CROSS JOIN hold_note n ON n.hold_id "
		"= h.id WHERE h.prep_id = :id ORDER BY n.id" SORT_OK,
	};
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = open_for(&q, st, sql, s, err);
	return rc != RC_OK ? rc : read_notes(out, &q, err);
}

enum rc
hold_notes_recall(struct hold_note_list *out, struct store *st,
    int64_t recall_id, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    NOTE_COLUMNS
	    " FROM hold_note n WHERE n.recall_id = :id"
	    " ORDER BY n.id",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":id", recall_id);
	return read_notes(out, &q, err);
}

void
hold_notes_fini(struct hold_note_list *l)
{
	free(l->items);
	memset(l, 0, sizeof(*l));
}
