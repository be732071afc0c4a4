/* trail_row.c - rows as the audit trail sees them. */
#include "trail_row.h"

#include <assert.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/digest.h"
#include "base/mem.h"
#include "base/str.h"

/*
 * What the trail does not prove, and why.  Everything else is covered, tables
 * and columns that come later among them.
 */
static const struct {
	const char *table, *column; /* no column: all of it */
} left_out[] = {
	/* They are the proof itself: their rows prove each other. */
	{ "audit", NULL },
	{ "trail_head", NULL },
	/* A form somebody has half typed: replaced and cleared, no record. */
	{ "draft", NULL },
	/* Who worked last, to be offered first.  Changes without a record. */
	{ "person", "works" },
	/* PIN tries are counted before they are judged, so that pulling the
	 * plug makes none of them free; what came of them is in the trail. */
	{ "person", "wrong" },
	{ "person", "untold" },
	{ "person", "tried_ms" },
	/* How far a label is on its way, several times a second and by no
	 * person; what a person said of it is covered, and so is what was
	 * asked for.  What goes out is settled when it is sent. */
	{ "print_job", "state" },
	{ "print_job", "error" },
	{ "print_job", "changed_utc" },
	{ "print_job", "language" },
	{ "print_job", "printer" },
	{ "print_job", "picture" },
};

/* Digested, but the trail is read by many and must not show them. */
static const struct {
	const char *table, *column;
} secrets[] = {
	{ "person", "pin_hash" },
};

static bool
is_left_out(const char *table, const char *column)
{
	size_t i;

	for (i = 0; i < sizeof(left_out) / sizeof(left_out[0]); i++)
		if (str_eq(left_out[i].table, table) &&
		    (left_out[i].column == NULL ? column == NULL
						: column != NULL &&
				str_eq(left_out[i].column, column)))
			return true;
	return false;
}

static bool
is_secret(const char *table, const char *column)
{
	size_t i;

	for (i = 0; i < sizeof(secrets) / sizeof(secrets[0]); i++)
		if (str_eq(secrets[i].table, table) &&
		    str_eq(secrets[i].column, column))
			return true;
	return false;
}

/* --- tables ----------------------------------------------------------------*/

static int
by_name(const void *a, const void *b)
{
	const struct trail_column *x = a, *y = b;

	return strcmp(x->name, y->name);
}

static void
sort_columns(struct trail_table *t)
{
	if (t->column_count > 0)
		qsort(
		    t->columns, t->column_count, sizeof(*t->columns), by_name);
}

static struct trail_table *
table_add(struct trail_tables *l, size_t *cap, const char *name)
{
	struct trail_table *t;

	l->items = grow(l->items, cap, l->count, sizeof(*l->items));
	t = &l->items[l->count++];
	memset(t, 0, sizeof(*t));
	t->name = xstrdup(name);
	t->covered = !is_left_out(name, NULL);
	return t;
}

/* Columns: table, column, number, place in the key from 1, type. */
static enum rc
column_add(struct trail_table *t, sqlite3_stmt *s, struct err *err)
{
	const char *name = (const char *)sqlite3_column_text(s, 1);
	int index = sqlite3_column_int(s, 2), pk = sqlite3_column_int(s, 3);
	struct trail_column *c;

	/* Names are written into a statement: none of ours has such a mark. */
	if (strchr(t->name, '"') != NULL || strchr(name, '"') != NULL ||
	    pk > (int)(sizeof(t->key) / sizeof(t->key[0])))
		return err_set(err, RC_FATAL, 0,
		    "%.60s.%.60s: no table of this program", t->name, name);
	if (index >= TRAIL_COLUMNS_MAX || sqlite3_column_int(s, 5) != 0)
		return err_set(err, RC_INVALID, 0,
		    "%s.%s: too many columns, or a generated one", t->name,
		    name);
	t->all = index + 1;
	if (pk > 0) {
		t->key[pk - 1] = index;
		t->key_count++;
		t->numbered = t->key_count == 1 &&
		    str_eq((const char *)sqlite3_column_text(s, 4), "INTEGER");
	}
	if (is_left_out(t->name, name))
		return RC_OK;
	if (t->columns == NULL)
		t->columns = xcalloc(TRAIL_COLUMNS_MAX, sizeof(*t->columns));
	c = &t->columns[t->column_count++];
	c->name = xstrdup(name);
	c->index = index;
	c->secret = is_secret(t->name, name);
	return RC_OK;
}

enum rc
trail_tables_load(struct trail_tables *out, sqlite3 *db, struct err *err)
{
	static const char sql[] =
	    "SELECT m.name, x.name, x.cid, x.pk, x.type, x.hidden"
	    " FROM sqlite_schema m, pragma_table_xinfo(m.name) x"
	    " WHERE m.type = 'table' AND substr(m.name, 1, 7) <> 'sqlite_'"
	    " ORDER BY m.name, x.cid /*scan-ok*/";
	struct trail_table *t = NULL;
	sqlite3_stmt *s = NULL;
	const char *name;
	size_t cap = 0, i;
	enum rc rc = RC_OK;

	memset(out, 0, sizeof(*out));
	if (sqlite3_prepare_v2(db, sql, -1, &s, NULL) != SQLITE_OK)
		return err_set(err, RC_FATAL, sqlite3_errcode(db),
		    "the tables cannot be read: %s", sqlite3_errmsg(db));
	while (rc == RC_OK && sqlite3_step(s) == SQLITE_ROW) {
		name = (const char *)sqlite3_column_text(s, 0);
		if (t == NULL || !str_eq(t->name, name))
			t = table_add(out, &cap, name);
		rc = column_add(t, s, err);
	}
	if (sqlite3_finalize(s) != SQLITE_OK && rc == RC_OK)
		rc = err_set(err, RC_FATAL, sqlite3_errcode(db),
		    "the tables cannot be read: %s", sqlite3_errmsg(db));
	for (i = 0; rc == RC_OK && i < out->count; i++) {
		sort_columns(&out->items[i]);
		if (out->items[i].covered && out->items[i].key_count == 0)
			rc = err_set(err, RC_INVALID, 0,
			    "table %s has no primary key", out->items[i].name);
	}
	if (rc != RC_OK)
		trail_tables_fini(out);
	return rc;
}

void
trail_tables_fini(struct trail_tables *t)
{
	size_t i, j;

	for (i = 0; i < t->count; i++) {
		for (j = 0; j < t->items[i].column_count; j++)
			free(t->items[i].columns[j].name);
		free(t->items[i].columns);
		free(t->items[i].name);
	}
	free(t->items);
	memset(t, 0, sizeof(*t));
}

const struct trail_table *
trail_table_find(const struct trail_tables *t, const char *name)
{
	size_t low = 0, high = t->count, mid;
	int order;

	while (low < high) {
		mid = (low + high) / 2;
		order = strcmp(t->items[mid].name, name);
		if (order == 0)
			return &t->items[mid];
		if (order < 0)
			low = mid + 1;
		else
			high = mid;
	}
	return NULL;
}

void
row_select(struct buf *out, const struct trail_table *t)
{
	size_t j;
	int i;

	buf_printf(out, "SELECT * /*scan-ok*/ FROM \"%s\" ORDER BY ", t->name);
	for (i = 0; i < t->key_count; i++)
		for (j = 0; j < t->column_count; j++)
			if (t->columns[j].index == t->key[i])
				buf_printf(out, "%s\"%s\"", i == 0 ? "" : ", ",
				    t->columns[j].name);
}

void
row_values(sqlite3_value **out, const struct trail_table *t, sqlite3_stmt *s)
{
	int i;

	for (i = 0; i < t->all; i++)
		out[i] = sqlite3_column_value(s, i);
}

/* --- bytes of a row --------------------------------------------------------*/

void
net_add(struct buf *b, const char *bytes, size_t len)
{
	char head[24];
	size_t n = sizeof(head), left = len;

	head[--n] = ':';
	do
		head[--n] = (char)('0' + left % 10);
	while ((left /= 10) != 0);
	buf_add(b, head + n, sizeof(head) - n);
	buf_add(b, bytes, len);
	buf_putc(b, ',');
}

void
net_text(struct buf *b, const char *text)
{
	net_add(b, text, strlen(text));
}

void
net_int(struct buf *b, int64_t v)
{
	char text[24];

	str_fmt(text, sizeof(text), "%" PRId64, v);
	net_text(b, text);
}

/* i, r, t or b and the value in words. */
static void
net_value(struct buf *b, sqlite3_value *v)
{
	static const char letters[] = { [SQLITE_INTEGER] = 'i',
		[SQLITE_FLOAT] = 'r',
		[SQLITE_TEXT] = 't',
		[SQLITE_BLOB] = 'b' };
	const char *bytes;
	int type = sqlite3_value_type(v);
	size_t len;

	if (type == SQLITE_BLOB)
		bytes = sqlite3_value_blob(v);
	else
		bytes = (const char *)sqlite3_value_text(v);
	len = (size_t)sqlite3_value_bytes(v);
	net_add(b, &letters[type], 1);
	net_add(b, bytes == NULL ? "" : bytes, len);
}

void
row_digest(unsigned char out[ROW_DIGEST_SIZE], const struct trail_table *t,
    sqlite3_value *const *values, struct buf *scratch)
{
	const struct trail_column *c;
	size_t i;

	buf_clear(scratch);
	net_text(scratch, "pinbone row 1");
	net_text(scratch, t->name);
	for (i = 0; i < t->column_count; i++) {
		c = &t->columns[i];
		if (sqlite3_value_type(values[c->index]) == SQLITE_NULL)
			continue;
		net_text(scratch, c->name);
		net_value(scratch, values[c->index]);
	}
	assert(!scratch->full);
	digest_bytes(out, ROW_DIGEST_SIZE, scratch->data, scratch->len);
}

char *
row_hex(char out[ROW_HEX_SIZE], const unsigned char d[ROW_DIGEST_SIZE])
{
	static const char set[] = "0123456789abcdef";
	size_t i;

	for (i = 0; i < ROW_DIGEST_SIZE; i++) {
		out[i * 2] = set[d[i] >> 4];
		out[i * 2 + 1] = set[d[i] & 15];
	}
	out[ROW_HEX_SIZE - 1] = '\0';
	return out;
}

static int
nibble(char c)
{
	if (c >= '0' && c <= '9')
		return c - '0';
	if (c >= 'a' && c <= 'f')
		return c - 'a' + 10;
	return -1;
}

bool
row_unhex(unsigned char d[ROW_DIGEST_SIZE], const char *hex)
{
	int i, high, low;

	for (i = 0; i < ROW_DIGEST_SIZE; i++) {
		if ((high = nibble(hex[i * 2])) < 0 ||
		    (low = nibble(hex[i * 2 + 1])) < 0)
			return false;
		d[i] = (unsigned char)(high << 4 | low);
	}
	return true;
}

/* --- words of a row --------------------------------------------------------*/

static bool
is_plain(char c)
{
	return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') ||
	    (c >= 'A' && c <= 'Z') || c == '.' || c == '_' || c == '-';
}

void
row_key(
    struct buf *out, const struct trail_table *t, sqlite3_value *const *values)
{
	const char *s;
	int i, j, len;

	for (i = 0; i < t->key_count; i++) {
		if (i > 0)
			buf_putc(out, '/');
		s = (const char *)sqlite3_value_text(values[t->key[i]]);
		len = sqlite3_value_bytes(values[t->key[i]]);
		for (j = 0; j < len; j++)
			if (is_plain(s[j]))
				buf_putc(out, s[j]);
			else
				buf_printf(out, "%%%02X", (unsigned char)s[j]);
	}
}

static void
put_json(struct buf *out, sqlite3_value *v)
{
	const char *s = (const char *)sqlite3_value_text(v);
	int len = sqlite3_value_bytes(v), i;

	if (s == NULL) {
		buf_puts(out, "null");
		return;
	}
	if (sqlite3_value_type(v) != SQLITE_TEXT) {
		buf_add(out, s, (size_t)len);
		return;
	}
	buf_putc(out, '"');
	for (i = 0; i < len; i++)
		if (s[i] == '"' || s[i] == '\\') {
			buf_putc(out, '\\');
			buf_putc(out, s[i]);
		} else if ((unsigned char)s[i] < 0x20) {
			buf_printf(out, "\\u%04x", (unsigned char)s[i]);
		} else {
			buf_putc(out, s[i]);
		}
	buf_putc(out, '"');
}

static bool
same(sqlite3_value *a, sqlite3_value *b)
{
	int type = sqlite3_value_type(a), len;
	const void *x, *y;

	if (type != sqlite3_value_type(b))
		return false;
	if (type == SQLITE_INTEGER)
		return sqlite3_value_int64(a) == sqlite3_value_int64(b);
	if (type == SQLITE_NULL)
		return true;
	x = sqlite3_value_text(a);
	y = sqlite3_value_text(b);
	len = sqlite3_value_bytes(a);
	return len == sqlite3_value_bytes(b) &&
	    (len == 0 || memcmp(x, y, (size_t)len) == 0);
}

void
row_changes(struct buf *out, const struct trail_table *t,
    sqlite3_value *const *before, sqlite3_value *const *after)
{
	const struct trail_column *c;
	bool any = false;
	size_t i;

	buf_putc(out, '{');
	for (i = 0; i < t->column_count; i++) {
		c = &t->columns[i];
		if (same(before[c->index], after[c->index]))
			continue;
		buf_printf(out, "%s\"%s\":[", any ? "," : "", c->name);
		any = true;
		if (c->secret) {
			buf_puts(out, "\"*\",\"*\"]");
			continue;
		}
		put_json(out, before[c->index]);
		buf_putc(out, ',');
		put_json(out, after[c->index]);
		buf_putc(out, ']');
	}
	buf_putc(out, '}');
}
