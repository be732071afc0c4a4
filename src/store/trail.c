/* trail.c - changes seen, kept, and written with their digest. */
#include "trail.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "shape.h"
#include "stmt.h"
#include "store/audit.h"
#include "store/trail.h"

/* Of one row of the trail: what the file takes in one value, its other columns
 * beside it; and room for a digest of all of it. */
#define LINES_MAX ((size_t)VALUE_MAX - 1000 * 1000)
#define SCRATCH_MAX (4 * (size_t)VALUE_MAX)

/* --- what SQLite says of a row ---------------------------------------------*/

typedef int value_fn(sqlite3 *, int, sqlite3_value **);

static bool
take_values(sqlite3_value **out, sqlite3 *db, const struct trail_table *t,
    value_fn *value)
{
	int i;

	for (i = 0; i < t->all; i++)
		if (value(db, i, &out[i]) != SQLITE_OK)
			return false;
	return true;
}

static bool
key_moved(
    const struct trail_table *t, sqlite3_value **before, sqlite3_value **after)
{
	struct buf a, b;
	bool moved;

	buf_init(&a, LINES_MAX);
	buf_init(&b, LINES_MAX);
	row_key(&a, t, before);
	row_key(&b, t, after);
	moved = !str_eq(buf_text(&a), buf_text(&b));
	buf_fini(&a);
	buf_fini(&b);
	return moved;
}

static void
line(struct trail *tr, char what, const struct trail_table *t,
    sqlite3_value *const *values, const unsigned char *first,
    const unsigned char *second)
{
	char hex[ROW_HEX_SIZE];

	buf_putc(&tr->lines, what);
	buf_puts(&tr->lines, t->name);
	buf_putc(&tr->lines, ' ');
	row_key(&tr->lines, t, values);
	buf_putc(&tr->lines, ' ');
	buf_puts(&tr->lines, row_hex(hex, first));
	if (second != NULL) {
		buf_putc(&tr->lines, ' ');
		buf_puts(&tr->lines, row_hex(hex, second));
	}
}

static void
line_of_one(struct trail *tr, char what, const struct trail_table *t,
    sqlite3_value *const *values)
{
	unsigned char d[ROW_DIGEST_SIZE];

	row_digest(d, t, values, &tr->scratch);
	line(tr, what, t, values, d, NULL);
	buf_putc(&tr->lines, '\n');
}

static void
line_of_update(struct trail *tr, const struct trail_table *t,
    sqlite3_value **before, sqlite3_value **after)
{
	unsigned char was[ROW_DIGEST_SIZE], is[ROW_DIGEST_SIZE];

	row_digest(was, t, before, &tr->scratch);
	row_digest(is, t, after, &tr->scratch);
	if (memcmp(was, is, sizeof(was)) == 0)
		return; /* only what the trail leaves out */
	if (key_moved(t, before, after)) {
		line_of_one(tr, '-', t, before);
		line_of_one(tr, '+', t, after);
		return;
	}
	line(tr, '~', t, after, was, is);
	buf_putc(&tr->lines, ' ');
	row_changes(&tr->lines, t, before, after);
	buf_putc(&tr->lines, '\n');
}

static void
changed(void *arg, sqlite3 *db, int op, const char *schema, const char *table,
    sqlite3_int64 old_id, sqlite3_int64 new_id)
{
	sqlite3_value *before[TRAIL_COLUMNS_MAX], *after[TRAIL_COLUMNS_MAX];
	struct trail *tr = &((struct store *)arg)->trail;
	const struct trail_table *t;

	(void)old_id;
	(void)new_id;
	if (!tr->on || tr->sealing || !str_eq(schema, "main"))
		return;
	t = trail_table_find(&tr->tables, table);
	if (t == NULL || sqlite3_preupdate_count(db) != t->all) {
		tr->unknown = true;
		return;
	}
	if (!t->covered)
		return;
	if ((op != SQLITE_INSERT &&
		!take_values(before, db, t, sqlite3_preupdate_old)) ||
	    (op != SQLITE_DELETE &&
		!take_values(after, db, t, sqlite3_preupdate_new)))
		tr->unknown = true;
	else if (op == SQLITE_INSERT)
		line_of_one(tr, '+', t, after);
	else if (op == SQLITE_DELETE)
		line_of_one(tr, '-', t, before);
	else
		line_of_update(tr, t, before, after);
}

/* A change that no row of the trail tells of does not get into the file, by
 * whatever way. */
static int
may_commit(void *arg)
{
	const struct trail *tr = &((struct store *)arg)->trail;

	return tr->on &&
	    (tr->unknown || tr->lines.len > 0 || tr->lines.full ||
		tr->count > 0);
}

static void
rolled_back(void *arg)
{
	trail_forget(arg);
}

enum rc
trail_watch(struct store *st, struct err *err)
{
	struct trail *tr = &st->trail;
	enum rc rc;

	buf_init(&tr->lines, LINES_MAX);
	buf_init(&tr->scratch, SCRATCH_MAX);
	if ((rc = trail_tables_load(&tr->tables, st->db, err)) != RC_OK) {
		err_prefix(err, "%s: ", st->path);
		return rc;
	}
	sqlite3_preupdate_hook(st->db, changed, st);
	sqlite3_commit_hook(st->db, may_commit, st);
	sqlite3_rollback_hook(st->db, rolled_back, st);
	tr->on = true;
	return RC_OK;
}

void
trail_forget(struct store *st)
{
	struct trail *tr = &st->trail;
	size_t i;

	for (i = 0; i < tr->count; i++) {
		free(tr->rows[i].action);
		free(tr->rows[i].subject);
		free(tr->rows[i].detail);
		buf_fini(&tr->rows[i].changes);
	}
	tr->count = 0;
	tr->unknown = false;
	buf_clear(&tr->lines);
}

void
trail_unwatch(struct store *st)
{
	trail_forget(st);
	free(st->trail.rows);
	buf_fini(&st->trail.lines);
	buf_fini(&st->trail.scratch);
	trail_tables_fini(&st->trail.tables);
}

size_t
trail_mark(const struct store *st)
{
	return st->trail.lines.len;
}

void
trail_back(struct store *st, size_t mark)
{
	struct buf *b = &st->trail.lines;

	/* A whole transaction that was rolled back left less than that. */
	if (b->len <= mark)
		return;
	b->len = mark;
	b->data[mark] = '\0';
}

/* --- the chain -------------------------------------------------------------*/

void
trail_genesis(char out[DIGEST_HEX_MAX], const char *file)
{
	struct buf b;

	buf_init(&b, 256);
	net_text(&b, "pinbone file 1");
	net_text(&b, file);
	digest_hex(out, b.data, b.len);
	buf_fini(&b);
}

void
trail_digest(char out[DIGEST_HEX_MAX], const char *before,
    const struct trail_entry *e, struct buf *scratch)
{
	buf_clear(scratch);
	net_text(scratch, "pinbone audit 1");
	net_text(scratch, before);
	net_int(scratch, e->id);
	net_int(scratch, e->at.utc);
	net_int(scratch, e->at.offset_min);
	net_text(scratch, e->at.by);
	net_text(scratch, e->action);
	net_text(scratch, e->subject);
	net_text(scratch, e->detail);
	net_text(scratch, e->changes);
	assert(!scratch->full);
	digest_hex(out, scratch->data, scratch->len);
}

/* Somebody may have put anything there. */
static bool
head_text(char *dst, size_t size, const struct stmt *q, int i)
{
	const char *s = (const char *)sqlite3_column_text(q->s, i);

	return s != NULL && str_copy(dst, size, s);
}

enum rc
trail_head(struct trail_head *out, struct store *st, struct err *err)
{
	struct stmt q;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = stmt_open(&q, st,
	    "SELECT file, last_id, digest FROM trail_head WHERE one = 1", err);
	if (rc != RC_OK)
		return rc;
	if ((rc = stmt_step(&q, err)) == RC_OK) {
		out->row = col_int(&q, 1);
		if (!head_text(out->file, sizeof(out->file), &q, 0) ||
		    !head_text(out->digest, sizeof(out->digest), &q, 2))
			rc = RC_END;
	}
	stmt_close(&q);
	if (rc == RC_END)
		return err_set(err, RC_INVALID, 0,
		    "%s: the end of its audit trail is not one: restore a "
		    "backup",
		    st->path);
	return rc;
}

/* The number the next row gets: behind every row there is, known to the head
 * or not. */
static enum rc
first_free(struct store *st, struct err *err)
{
	struct trail_head head;
	int64_t last = 0;
	enum rc rc;

	if ((rc = trail_head(&head, st, err)) != RC_OK ||
	    (rc = audit_last_id(&last, st, err)) != RC_OK)
		return rc;
	st->trail.last_id = last > head.row ? last : head.row;
	return RC_OK;
}

enum rc
audit_add(struct store *st, const struct moment *at, const char *action,
    const char *subject, const char *detail, struct err *err)
{
	struct trail *tr = &st->trail;
	struct trail_pending *p;
	enum rc rc;

	assert(st->in_txn && tr->on);
	if ((rc = buf_check(&tr->lines, "one step", err)) != RC_OK ||
	    (tr->count == 0 && (rc = first_free(st, err)) != RC_OK))
		return rc;
	tr->rows = grow(tr->rows, &tr->cap, tr->count, sizeof(*tr->rows));
	p = &tr->rows[tr->count++];
	p->id = ++tr->last_id;
	p->at = *at;
	p->action = xstrdup(action);
	p->subject = xstrdup(subject);
	p->detail = xstrdup(detail);
	p->changes = tr->lines;
	buf_init(&tr->lines, LINES_MAX);
	return RC_OK;
}

int64_t
trail_pending_last(const struct store *st)
{
	return st->trail.count == 0 ? 0 : st->trail.last_id;
}

/* --- writing ---------------------------------------------------------------*/

static enum rc
write_row(struct stmt *q, const struct trail_entry *e, const char *digest,
    struct err *err)
{
	enum rc rc;

	bind_int(q, ":id", e->id);
	bind_int(q, ":at", e->at.utc);
	bind_int(q, ":offset", e->at.offset_min);
	bind_text(q, ":by", e->at.by);
	bind_text(q, ":action", e->action);
	bind_text(q, ":subject", e->subject);
	bind_text(q, ":detail", e->detail);
	bind_text(q, ":changes", e->changes);
	bind_text(q, ":digest", digest);
	if ((rc = stmt_step(q, err)) != RC_END)
		return rc;
	stmt_again(q);
	return RC_OK;
}

static enum rc
write_head(struct store *st, const char *digest, struct err *err)
{
	struct stmt q;
	enum rc rc;

	rc = stmt_open(&q, st,
	    "UPDATE trail_head SET last_id = :last, digest = :digest"
	    " WHERE one = 1",
	    err);
	if (rc != RC_OK)
		return rc;
	bind_int(&q, ":last", st->trail.last_id);
	bind_text(&q, ":digest", digest);
	return stmt_run(&q, err);
}

static enum rc
write_rows(struct store *st, struct err *err)
{
	struct trail *tr = &st->trail;
	char digest[DIGEST_HEX_MAX];
	struct trail_head head;
	struct stmt q;
	size_t i;
	enum rc rc;

	if ((rc = trail_head(&head, st, err)) != RC_OK)
		return rc;
	rc = stmt_open(&q, st,
	    "INSERT INTO audit (id, at_utc, offset_min, by, action, subject,"
	    " detail, changes, digest) VALUES (:id, :at, :offset, :by, :action,"
	    " :subject, :detail, :changes, :digest)",
	    err);
	str_copy(digest, sizeof(digest), head.digest);
	for (i = 0; i < tr->count && rc == RC_OK; i++) {
		const struct trail_pending *p = &tr->rows[i];
		struct trail_entry e = {
			.id = p->id,
			.at = p->at,
			.action = p->action,
			.subject = p->subject,
			.detail = p->detail,
			.changes = buf_text(&p->changes),
		};
		char before[DIGEST_HEX_MAX];

		str_copy(before, sizeof(before), digest);
		trail_digest(digest, before, &e, &tr->scratch);
		rc = write_row(&q, &e, digest, err);
	}
	stmt_close(&q);
	return rc == RC_OK ? write_head(st, digest, err) : rc;
}

enum rc
trail_seal(struct store *st, struct err *err)
{
	struct trail *tr = &st->trail;
	struct buf *last;
	enum rc rc;

	if (!tr->on)
		return RC_OK;
	if (tr->unknown)
		return err_set(err, RC_FATAL, 0,
		    "%s: its tables are not the ones it was opened with: end "
		    "the program and start it anew; nothing was recorded",
		    st->path);
	if (tr->count == 0 && tr->lines.len == 0)
		return RC_OK;
	if (tr->count == 0)
		return err_set(err, RC_FATAL, 0,
		    "a fault of the program: no row of the audit trail tells "
		    "of \"%.*s\"; nothing was recorded",
		    (int)strcspn(buf_text(&tr->lines), "\n"),
		    buf_text(&tr->lines));
	last = &tr->rows[tr->count - 1].changes;
	if (last->data == NULL) {
		buf_fini(last);
		*last = tr->lines;
		buf_init(&tr->lines, LINES_MAX);
	} else {
		buf_add(last, buf_text(&tr->lines), tr->lines.len);
		last->full |= tr->lines.full;
		buf_clear(&tr->lines);
	}
	if ((rc = buf_check(last, "one step", err)) != RC_OK)
		return rc;
	tr->sealing = true;
	rc = write_rows(st, err);
	tr->sealing = false;
	if (rc == RC_OK)
		trail_forget(st);
	return rc;
}
