/* stmt.c - prepared statements, bound by name. */
#include "stmt.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/day.h"
#include "base/mem.h"
#include "base/str.h"
#include "store/damage.h"
#include "core/code.h"

enum rc
db_fail(struct store *st, const char *failed, struct err *err)
{
	int code = sqlite3_errcode(st->db);

	switch (code & 0xff) {
	case SQLITE_FULL:
		return err_set(err, RC_FAILED, code,
		    "%s: the disk is full: free some space; nothing more was "
		    "recorded",
		    st->path);
	case SQLITE_BUSY:
	case SQLITE_LOCKED:
	case SQLITE_PROTOCOL: /* locks of the log, tried too often */
		return err_set(err, RC_RETRY, code,
		    "%s: another program is writing: try again", st->path);
	case SQLITE_READONLY:
	case SQLITE_CANTOPEN:
	case SQLITE_PERM:
		return err_set(err, RC_FAILED, code,
		    "%s: cannot be written: check the folder's permissions; "
		    "nothing more was recorded",
		    st->path);
	case SQLITE_IOERR:
		return err_set(err, RC_FAILED, code,
		    "%s: the disk reports an error (%s): nothing more was "
		    "recorded",
		    st->path, sqlite3_errmsg(st->db));
	case SQLITE_NOTADB:
		return err_set(err, RC_INVALID, DAMAGE_LIB,
		    "%s: " NOT_A_STATION, st->path);
	case SQLITE_CONSTRAINT:
		if (sqlite3_extended_errcode(st->db) ==
		    SQLITE_CONSTRAINT_COMMITHOOK)
			return err_set(err, RC_FATAL, code,
			    "a fault of the program: no row of the audit trail "
			    "tells of: %.120s; nothing was recorded",
			    failed);
		return err_set(err, RC_FATAL, code, "%s: %s in: %.120s",
		    st->path, sqlite3_errmsg(st->db), failed);
	case SQLITE_CORRUPT:
		damage_mark(st->path, sqlite3_errmsg(st->db));
		return err_set(err, RC_FATAL, DAMAGE_LIB,
		    "%s: the file is damaged, and not written to any more: "
		    "pinbone restore puts a backup in its place",
		    st->path);
	default:
		return err_set(err, RC_FATAL, code, "%s: %s in: %.120s",
		    st->path, sqlite3_errmsg(st->db), failed);
	}
}

/* A plan that reads a whole table must say so in the statement. */
static enum rc
check_plan(struct store *st, const char *sql, struct err *err)
{
	sqlite3_stmt *s = NULL;
	const char *detail;
	char *explain;
	enum rc rc = RC_OK;
	size_t size = strlen(sql) + 32;

	if (strstr(sql, "scan-ok") != NULL)
		return RC_OK;
	explain = xcalloc(size, 1);
	str_fmt(explain, size, "EXPLAIN QUERY PLAN %s", sql);
	if (sqlite3_prepare_v2(st->db, explain, -1, &s, NULL) != SQLITE_OK)
		rc = db_fail(st, explain, err);
	while (rc == RC_OK && sqlite3_step(s) == SQLITE_ROW) {
		detail = (const char *)sqlite3_column_text(s, 3);
		if (strncmp(detail, "SCAN ", 5) == 0 &&
		    strstr(detail, "CONSTANT ROW") == NULL &&
		    strstr(detail, "subquery") == NULL &&
		    strstr(detail, "SUBQUERY") == NULL)
			rc = err_set(err, RC_FATAL, 0,
			    "unmarked scan (%s) in: %.200s", detail, sql);
	}
	sqlite3_finalize(s);
	free(explain);
	return rc;
}

static enum rc
spoilt(const struct store *st, struct err *err)
{
	damage_mark(st->path, "it holds a value no station writes");
	return err_set(err, RC_FATAL, DAMAGE_LIB,
	    "%s: the file is damaged (it holds a value no station writes), and "
	    "not written to any more: pinbone restore puts a backup in its "
	    "place",
	    st->path);
}

/* The slot of a text: its own, or a free one for it; NULL when it is open, or
 * where there is no room. */
static struct kept_stmt *
kept_slot(struct store *st, const char *sql)
{
	uint32_t h = 2166136261u; /* FNV-1a */
	const char *c;
	struct kept_stmt *k;
	int i;

	for (c = sql; *c != '\0'; c++)
		h = (h ^ (unsigned char)*c) * 16777619u;
	for (i = 0; i < 16; i++) {
		k = &st->kept[(h + (uint32_t)i) & (KEPT_SLOTS - 1)];
		if (k->s == NULL)
			return k;
		if (strcmp(sqlite3_sql(k->s), sql) == 0)
			return k->busy ? NULL : k;
	}
	return NULL;
}

void
stmt_drop_kept(struct store *st)
{
	int i;

	for (i = 0; i < KEPT_SLOTS; i++) {
		assert(!st->kept[i].busy);
		sqlite3_finalize(st->kept[i].s);
		st->kept[i].s = NULL;
	}
}

enum rc
stmt_open(struct stmt *q, struct store *st, const char *sql, struct err *err)
{
	struct kept_stmt *k;
	enum rc rc;

	q->st = st;
	q->s = NULL;
	q->kept = NULL;
	if (st->spoilt)
		return spoilt(st, err);
	k = kept_slot(st, sql);
	q->s = k == NULL ? NULL : k->s;
	q->kept = NULL;
	if (q->s == NULL) {
		if (sqlite3_prepare_v3(st->db, sql, -1,
			k == NULL ? 0 : SQLITE_PREPARE_PERSISTENT, &q->s,
			NULL) != SQLITE_OK)
			return db_fail(st, sql, err);
		if (st->check_plans &&
		    (rc = check_plan(st, sql, err)) != RC_OK) {
			stmt_close(q);
			return rc;
		}
	}
	if (k != NULL) {
		k->s = q->s;
		k->busy = true;
		q->kept = k;
	}
	return RC_OK;
}

void
stmt_close(struct stmt *q)
{
	if (q->kept == NULL) {
		sqlite3_finalize(q->s);
	} else {
		/* Its error, if any, was told when it was stepped. */
		(void)sqlite3_reset(q->s);
		(void)sqlite3_clear_bindings(q->s);
		q->kept->busy = false;
		q->kept = NULL;
	}
	q->s = NULL;
}

void
stmt_again(struct stmt *q)
{
	/* What the step failed with was reported by the step. */
	(void)sqlite3_reset(q->s);
}

static int
param(struct stmt *q, const char *name)
{
	int i = sqlite3_bind_parameter_index(q->s, name);

	assert(i > 0);
	return i;
}

void
bind_int(struct stmt *q, const char *name, int64_t v)
{
	int rc = sqlite3_bind_int64(q->s, param(q, name), v);

	assert(rc == SQLITE_OK);
	(void)rc;
}

void
bind_text(struct stmt *q, const char *name, const char *v)
{
	int rc =
	    sqlite3_bind_text(q->s, param(q, name), v, -1, SQLITE_TRANSIENT);

	assert(rc == SQLITE_OK);
	(void)rc;
}

void
bind_blob(struct stmt *q, const char *name, const void *v, size_t len)
{
	int rc = sqlite3_bind_blob(
	    q->s, param(q, name), v, (int)len, SQLITE_TRANSIENT);

	assert(rc == SQLITE_OK);
	(void)rc;
}

static void
bind_null(struct stmt *q, const char *name)
{
	int rc = sqlite3_bind_null(q->s, param(q, name));

	assert(rc == SQLITE_OK);
	(void)rc;
}

void
bind_day(struct stmt *q, const char *name, int32_t day)
{
	if (day != DAY_NONE)
		bind_int(q, name, day);
	else
		bind_null(q, name);
}

void
bind_id(struct stmt *q, const char *name, int64_t id)
{
	if (id != 0)
		bind_int(q, name, id);
	else
		bind_null(q, name);
}

enum rc
stmt_step(struct stmt *q, struct err *err)
{
	size_t mark = trail_mark(q->st);

	if (q->st->spoilt)
		return spoilt(q->st, err);
	switch (sqlite3_step(q->s)) {
	case SQLITE_ROW:
		return RC_OK;
	case SQLITE_DONE:
		return RC_END;
	default:
		trail_back(q->st, mark);
		return db_fail(q->st, sqlite3_sql(q->s), err);
	}
}

enum rc
stmt_run(struct stmt *q, struct err *err)
{
	enum rc rc = stmt_step(q, err);

	stmt_close(q);
	assert(rc != RC_OK);
	return rc == RC_END ? RC_OK : rc;
}

enum rc
stmt_rows(void **items, size_t *count, size_t size, struct stmt *q,
    row_fn *read, struct err *err)
{
	char *rows = NULL;
	size_t cap = 0, n = 0;
	enum rc rc;

	while ((rc = stmt_step(q, err)) == RC_OK) {
		rows = grow(rows, &cap, n, size);
		if ((rc = read(rows + n * size, q, err)) != RC_OK)
			break;
		n++;
	}
	stmt_close(q);
	if (rc != RC_END) {
		free(rows);
		rows = NULL;
		n = 0;
	}
	*items = rows;
	*count = n;
	return rc == RC_END ? RC_OK : rc;
}

enum rc
stmt_between(void **items, size_t *count, size_t size, struct store *st,
    const char *sql, row_fn *read, const int64_t span[2], struct err *err)
{
	struct stmt q;
	enum rc rc;

	*items = NULL;
	*count = 0;
	if ((rc = stmt_open(&q, st, sql, err)) != RC_OK)
		return rc;
	bind_int(&q, ":from", span[0]);
	bind_int(&q, ":to", span[1]);
	return stmt_rows(items, count, size, &q, read, err);
}

static void
spoil(const struct stmt *q)
{
	/* A statement on a file that is only looked at has no store. */
	if (q->st != NULL)
		q->st->spoilt = true;
}

enum rc
row_gone(struct store *st, struct err *err)
{
	st->spoilt = true;
	return spoilt(st, err);
}

int64_t
col_int(const struct stmt *q, int i)
{
	int64_t n = sqlite3_column_int64(q->s, i);

	if (n >= -COL_INT_MAX && n <= COL_INT_MAX)
		return n;
	spoil(q);
	return 0;
}

int64_t
col_in(const struct stmt *q, int i, int64_t from, int64_t to)
{
	int64_t n = sqlite3_column_int64(q->s, i);

	if (n >= from && n <= to)
		return n;
	spoil(q);
	return from;
}

int32_t
col_day(const struct stmt *q, int i)
{
	int64_t day = sqlite3_column_int64(q->s, i);

	if (sqlite3_column_type(q->s, i) == SQLITE_NULL)
		return DAY_NONE;
	if (day >= DAY_MIN && day <= DAY_MAX)
		return (int32_t)day;
	spoil(q);
	return DAY_NONE;
}

/* Bytes without a NUL in them, all of it UTF-8; "" for NULL. */
static const char *
text_of(const struct stmt *q, int i)
{
	const char *s = (const char *)sqlite3_column_text(q->s, i);

	if (s == NULL)
		return "";
	if (strlen(s) != (size_t)sqlite3_column_bytes(q->s, i) ||
	    !utf8_valid(s, strlen(s))) {
		spoil(q);
		return "";
	}
	return s;
}

void
col_text(char *dst, size_t size, const struct stmt *q, int i)
{
	if (!str_copy(dst, size, text_of(q, i)))
		spoil(q);
}

void
col_codes(char *dst, size_t size, const struct stmt *q, int i)
{
	const char *s = (const char *)sqlite3_column_text(q->s, i);
	char code[CODE_SIZE], shown[CODE_SIZE];
	size_t len, used = 0;
	bool fits = true;

	dst[0] = '\0';
	for (; s != NULL && *s != '\0' && fits; s += len + (s[len] == ',')) {
		len = strcspn(s, ",");
		fits = str_fmt(code, sizeof(code), "%.*s", (int)len, s) &&
		    str_fmt(dst + used, size - used, "%s%s",
			used > 0 ? " + " : "", code_show(shown, code));
		used = strlen(dst);
	}
	assert(fits);
}

char *
col_dup(const struct stmt *q, int i)
{
	return xstrdup(text_of(q, i));
}

int64_t
last_id(const struct store *st)
{
	return sqlite3_last_insert_rowid(st->db);
}

int
rows_changed(const struct store *st)
{
	return sqlite3_changes(st->db);
}
