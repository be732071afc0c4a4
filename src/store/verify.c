/* verify.c - is the record as the trail tells of it? */
#include "store/verify.h"

#include <errno.h>
#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "core/paper_code.h"
#include "migration.h"
#include "shape.h"
#include "verify_inner.h"

#define TELL_ROWS 4096
#define ROW_MAX (1000u * 1000 * 1000) /* what SQLite takes in one value */

static const char *const words[] = {
	[TAMPER_TRAIL_CHANGED] = "trail-changed",
	[TAMPER_TRAIL_MISSING] = "trail-missing",
	[TAMPER_TRAIL_EXTRA] = "trail-extra",
	[TAMPER_TRAIL_END] = "trail-end",
	[TAMPER_ROW_CHANGED] = "row-changed",
	[TAMPER_ROW_MISSING] = "row-missing",
	[TAMPER_ROW_UNKNOWN] = "row-unknown",
	[TAMPER_TABLES] = "tables",
};

const char *
tamper_word(enum tamper_kind k)
{
	return words[k];
}

void
verify_fault(struct verifying *v, enum tamper_kind kind, const char *table,
    const char *key, const char *fmt, ...)
{
	struct trail_report *r = v->out;
	struct trail_fault *f;
	va_list ap;

	if (r->found++ >= TRAIL_FAULTS_MAX)
		return;
	r->faults = grow(r->faults, &v->cap, r->fault_count, sizeof(*f));
	f = &r->faults[r->fault_count++];
	f->kind = kind;
	str_fmt(f->table, sizeof(f->table), "%.47s", table);
	str_fmt(f->key, sizeof(f->key), "%.79s", key);
	va_start(ap, fmt);
	vsnprintf(f->text, sizeof(f->text), fmt, ap);
	va_end(ap);
	utf8_clean(f->table);
	utf8_clean(f->key);
	utf8_clean(f->text);
}

enum rc
verify_goes_on(struct verifying *v, enum verify_phase phase, struct err *err)
{
	if (++v->done % TELL_ROWS != 0 || v->wish->tell == NULL ||
	    v->wish->tell(v->wish->arg, phase, v->done,
		v->total > v->done ? v->total : v->done))
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "%s: stopped before all of it was looked at", v->st->path);
}

/* --- rows ------------------------------------------------------------------*/

static void
look_at(struct verifying *v, size_t i, sqlite3_value *const *values)
{
	const struct trail_table *t = &v->st->trail.tables.items[i];
	unsigned char is[ROW_DIGEST_SIZE], *want;
	struct buf key;

	buf_init(&key, ROW_MAX);
	row_key(&key, t, values);
	row_digest(is, t, values, &v->scratch);
	want = known_at(v->known[i], buf_text(&key), key.len, false);
	if (want == NULL || digest_none(want))
		verify_fault(v, TAMPER_ROW_UNKNOWN, t->name, buf_text(&key),
		    "%s %s: the audit trail does not tell of it", t->name,
		    buf_text(&key));
	else if (memcmp(is, want, sizeof(is)) != 0)
		verify_fault(v, TAMPER_ROW_CHANGED, t->name, buf_text(&key),
		    "%s %s: not as it was recorded", t->name, buf_text(&key));
	if (want != NULL)
		memset(want, 0, ROW_DIGEST_SIZE); /* seen */
	buf_fini(&key);
}

struct gone {
	struct verifying *v;
	const char *table;
};

static void
is_gone(void *arg, const char *key)
{
	struct gone *g = arg;

	verify_fault(g->v, TAMPER_ROW_MISSING, g->table, key,
	    "%s %s: recorded, and not there any more", g->table, key);
}

/* Every row of a table, by its key. */
static enum rc
open_rows(struct stmt *q, struct store *st, const struct trail_table *t,
    struct err *err)
{
	struct buf sql;
	enum rc rc;

	buf_init(&sql, ROW_MAX);
	row_select(&sql, t);
	rc = stmt_open(q, st, buf_text(&sql), err);
	buf_fini(&sql);
	return rc;
}

/* Of the audit trail itself only what was there before it had digests. */
static enum rc
look_through(struct verifying *v, size_t i, struct err *err)
{
	const struct trail_table *t = &v->st->trail.tables.items[i];
	sqlite3_value *values[TRAIL_COLUMNS_MAX];
	struct gone gone = { v, t->name };
	struct stmt q;
	enum rc rc;

	rc = t->covered ? open_rows(&q, v->st, t, err)
			: stmt_open(&q, v->st,
			      "SELECT * FROM audit" SCAN_OK
			      "WHERE digest IS NULL"
			      " ORDER BY id",
			      err);
	while (rc == RC_OK && (rc = stmt_step(&q, err)) == RC_OK) {
		row_values(values, t, q.s);
		look_at(v, i, values);
		v->out->rows += t->covered;
		rc = verify_goes_on(v, VERIFY_ROWS, err);
	}
	stmt_close(&q);
	if (rc != RC_END)
		return rc;
	known_each(v->known[i], is_gone, &gone);
	return RC_OK;
}

static void
count_one(void *arg, const char *key)
{
	(void)key;
	++*(int64_t *)arg;
}

enum rc
verify_rows(struct verifying *v, struct err *err)
{
	const struct trail_tables *l = &v->st->trail.tables;
	size_t i;
	enum rc rc = RC_OK;

	v->done = v->total = 0;
	for (i = 0; i < l->count; i++)
		known_each(v->known[i], count_one, &v->total);
	for (i = 0; i < l->count && rc == RC_OK; i++)
		if (l->items[i].covered || str_eq(l->items[i].name, "audit"))
			rc = look_through(v, i, err);
	return rc;
}

/* --- tables, triggers, views -----------------------------------------------*/

/* Of its own SQLite makes tables and indexes only. */
static const char schema_sql[] =
    "SELECT type || ' ' || name, sql FROM sqlite_schema" SCAN_OK
    "WHERE substr(name, 1, 7) <> 'sqlite_' OR type IN ('trigger', 'view')"
    " ORDER BY 1";

/* What this program makes, in memory. */
static enum rc
make_model(sqlite3 **out, struct err *err)
{
	int code, i;

	code = sqlite3_open_v2(":memory:", out,
	    SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_NOMUTEX,
	    NULL);
	for (i = 0; code == SQLITE_OK && migrations[i].version != 0; i++)
		code = sqlite3_exec(*out, migrations[i].sql, NULL, NULL, NULL);
	if (code == SQLITE_OK)
		return RC_OK;
	return err_set(err, RC_FATAL, code, "the tables cannot be made: %s",
	    sqlite3_errmsg(*out));
}

static bool
same_sql(const char *a, const char *b)
{
	return a == NULL || b == NULL ? a == b : str_eq(a, b);
}

static void
compare_schema(struct verifying *v, struct stmt *is, struct stmt *want)
{
	bool a = sqlite3_step(is->s) == SQLITE_ROW;
	bool b = sqlite3_step(want->s) == SQLITE_ROW;
	const char *x, *y;
	int order;

	while (a || b) {
		x = a ? (const char *)sqlite3_column_text(is->s, 0) : NULL;
		y = b ? (const char *)sqlite3_column_text(want->s, 0) : NULL;
		order = x == NULL ? 1 : y == NULL ? -1 : strcmp(x, y);
		if (order < 0)
			verify_fault(v, TAMPER_TABLES, x, "",
			    "%s: put in, no station makes it", x);
		else if (order > 0)
			verify_fault(
			    v, TAMPER_TABLES, y, "", "%s: taken out", y);
		else if (!same_sql((const char *)sqlite3_column_text(is->s, 1),
			     (const char *)sqlite3_column_text(want->s, 1)))
			verify_fault(v, TAMPER_TABLES, x, "",
			    "%s: not as a station makes it", x);
		if (order <= 0)
			a = sqlite3_step(is->s) == SQLITE_ROW;
		if (order >= 0)
			b = sqlite3_step(want->s) == SQLITE_ROW;
	}
}

enum rc
verify_schema(struct verifying *v, struct err *err)
{
	struct store model = { .path = v->st->path };
	struct stmt is = { 0 }, want = { 0 };
	enum rc rc;

	if ((rc = make_model(&model.db, err)) == RC_OK &&
	    (rc = stmt_open(&is, v->st, schema_sql, err)) == RC_OK &&
	    (rc = stmt_open(&want, &model, schema_sql, err)) == RC_OK)
		compare_schema(v, &is, &want);
	stmt_close(&is);
	stmt_close(&want);
	stmt_drop_kept(&model);
	sqlite3_close(model.db);
	return rc;
}

/* --- the file --------------------------------------------------------------*/

static enum rc
number(int64_t *out, struct store *st, const char *sql, struct err *err)
{
	struct stmt q;
	enum rc rc = stmt_open(&q, st, sql, err);

	*out = 0;
	if (rc == RC_OK && (rc = stmt_step(&q, err)) == RC_OK)
		*out = col_int(&q, 0);
	stmt_close(&q);
	return rc == RC_END ? RC_OK : rc;
}

static int
newest(void)
{
	int i;

	for (i = 0; migrations[i].version != 0; i++)
		;
	return i;
}

/* The statements from here on see the file as it is now. */
static enum rc
open_file(struct store *st, struct err *err)
{
	int64_t id, schema;
	enum rc rc;

	if ((rc = file_plain(st->path, err)) != RC_OK)
		return rc;
	if (sqlite3_open_v2(st->path, &st->db,
		SQLITE_OPEN_READONLY | SQLITE_OPEN_NOMUTEX, NULL) != SQLITE_OK)
		return err_set(err, RC_FAILED, sqlite3_extended_errcode(st->db),
		    "%s: %s", st->path, sqlite3_errmsg(st->db));
	shape_limits(st);
	sqlite3_db_config(st->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
	sqlite3_db_config(st->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
	if (sqlite3_exec(st->db, "BEGIN", NULL, NULL, NULL) != SQLITE_OK)
		return db_fail(st, "its first read", err);
	if ((rc = number(&id, st, "PRAGMA application_id", err)) != RC_OK ||
	    (rc = number(&schema, st, "PRAGMA user_version", err)) != RC_OK)
		return rc;
	if (id != STORE_APPLICATION_ID)
		return err_set(err, RC_INVALID, 0,
		    "%s: not a Pinbone station file", st->path);
	if (schema != newest())
		return err_set(err, RC_REFUSED, 0,
		    "%s: schema %d, and this program looks through schema %d: "
		    "open it with a station first, or use the program of its "
		    "day",
		    st->path, (int)schema, newest());
	return trail_tables_load(&st->trail.tables, st->db, err);
}

static enum rc
look(struct verifying *v, struct err *err)
{
	const struct trail_tables *l = &v->st->trail.tables;
	size_t i;
	enum rc rc;

	if ((rc = verify_schema(v, err)) != RC_OK)
		return rc;
	if (trail_head(&v->out->head, v->st, NULL) != RC_OK)
		verify_fault(v, TAMPER_TRAIL_END, "trail_head", "",
		    "the end of the audit trail was taken out");
	if ((rc = number(&v->total, v->st,
		 "SELECT coalesce(max(id), 0) FROM audit", err)) != RC_OK)
		return rc;
	v->known = xcalloc(l->count + 1, sizeof(struct known *));
	for (i = 0; i < l->count; i++)
		v->known[i] = known_new(l->items[i].numbered);
	if ((rc = verify_trail(v, err)) == RC_OK)
		rc = verify_rows(v, err);
	for (i = 0; i < l->count; i++)
		known_free(v->known[i]);
	free(v->known);
	return rc;
}

enum rc
store_verify(struct trail_report *out, const char *path,
    const struct verify_wish *wish, struct err *err)
{
	struct store st = { .path = xstrdup(path) };
	struct verifying v = { .out = out, .wish = wish, .st = &st };
	enum rc rc;

	memset(out, 0, sizeof(*out));
	buf_init(&v.scratch, ROW_MAX);
	if ((rc = open_file(&st, err)) == RC_OK &&
	    (rc = look(&v, err)) == RC_FATAL) {
		/* No station left it so that SQL of ours does not fit. */
		rc = RC_INVALID;
		if (err != NULL)
			err->rc = rc;
	}
	trail_tables_fini(&st.trail.tables);
	stmt_drop_kept(&st);
	sqlite3_close(st.db);
	buf_fini(&v.scratch);
	free(st.path);
	return rc;
}

void
trail_report_fini(struct trail_report *r)
{
	free(r->faults);
	memset(r, 0, sizeof(*r));
}
