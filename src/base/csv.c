/* csv.c - reader for comma-separated values over bytes in memory. */
#include "base/csv.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/mem.h"
#include "base/str.h"

struct field {
	char text[CSV_FIELD_MAX + 1];
	int line, column; /* where it started, from 1; column in bytes */
};

struct csv {
	char *name;
	const char *data; /* the caller's */
	size_t len, at;
	int line;          /* of the byte at `at` */
	size_t line_start; /* offset of that line's first byte */
	int columns;
	char *header[CSV_COLUMNS_MAX];
	int count; /* fields in the present record */
	struct field field[CSV_COLUMNS_MAX];
};

static enum rc
fail_at(const struct csv *c, int line, int column, struct err *err,
    const char *what)
{
	return err_set(
	    err, RC_INVALID, 0, "%s:%d:%d: %s", c->name, line, column, what);
}

static int
column_of(const struct csv *c, size_t at)
{
	return (int)(at - c->line_start) + 1;
}

static bool
at_line_end(const struct csv *c)
{
	return c->at == c->len || c->data[c->at] == '\n' ||
	    (c->data[c->at] == '\r' && c->at + 1 < c->len &&
		c->data[c->at + 1] == '\n');
}

static void
step_line_end(struct csv *c)
{
	if (c->at == c->len)
		return;
	c->at += c->data[c->at] == '\r' ? 2 : 1;
	c->line++;
	c->line_start = c->at;
}

/* The byte at `at` joins the field, or says why it cannot. */
static enum rc
take(struct csv *c, struct field *f, size_t *n, struct err *err)
{
	unsigned char b = (unsigned char)c->data[c->at];

	if (b < 0x20 && b != '\t' && b != '\n' && b != '\r')
		return fail_at(c, c->line, column_of(c, c->at), err,
		    b == 0 ? "a NUL byte: this is not a text file"
			   : "a control character");
	if (*n == CSV_FIELD_MAX)
		return fail_at(c, f->line, f->column, err,
		    "this field is longer than 1000 bytes");
	f->text[(*n)++] = (char)b;
	if (b == '\n') {
		c->line++;
		c->line_start = c->at + 1;
	}
	c->at++;
	return RC_OK;
}

static enum rc
read_quoted(struct csv *c, struct field *f, size_t *n, struct err *err)
{
	enum rc rc;

	for (c->at++;;) {
		if (c->at == c->len)
			return fail_at(c, f->line, f->column, err,
			    "a quoted field that is never closed");
		if (c->data[c->at] == '"') {
			c->at++;
			if (c->at == c->len || c->data[c->at] != '"')
				break;
		}
		if ((rc = take(c, f, n, err)) != RC_OK)
			return rc;
	}
	if (!at_line_end(c) && c->data[c->at] != ',')
		return fail_at(c, c->line, column_of(c, c->at), err,
		    "text after a closing quote");
	return RC_OK;
}

static enum rc
read_plain(struct csv *c, struct field *f, size_t *n, struct err *err)
{
	enum rc rc;

	while (!at_line_end(c) && c->data[c->at] != ',') {
		if (c->data[c->at] == '"')
			return fail_at(c, c->line, column_of(c, c->at), err,
			    "a quote inside a field that does not begin with "
			    "one");
		if (c->data[c->at] == '\r')
			return fail_at(c, c->line, column_of(c, c->at), err,
			    "a carriage return that ends no line");
		if ((rc = take(c, f, n, err)) != RC_OK)
			return rc;
	}
	return RC_OK;
}

/* A negative number is no formula; "-1+2" is. */
static bool
is_number(const char *s)
{
	return s[0] == '-' && s[1] >= '0' && s[1] <= '9' &&
	    s[strspn(s, "-0123456789.")] == '\0' && strrchr(s, '-') == s;
}

/* Of a text that begins so, behind any number of apostrophes. */
static bool
starts_formula(const char *s)
{
	return *s != '\0' && strchr("=+-@\t\r\n", *s) != NULL;
}

/*
 * Does it get an apostrophe in front?  One that has one already gets another,
 * so that the reader, which takes one off, gives back what was written.
 */
static bool
is_formula(const char *s)
{
	return starts_formula(s + strspn(s, "'")) && !is_number(s);
}

/* Take off the apostrophe csv_quote() put in front. */
static size_t
take_off(char *s, size_t len)
{
	if (s[0] != '\'' || !starts_formula(s + strspn(s, "'")))
		return len;
	memmove(s, s + 1, len); /* the NUL too */
	return len - 1;
}

/* Read one record into c->field. */
static enum rc
read_record(struct csv *c, struct err *err)
{
	struct field *f;
	size_t n;
	enum rc rc;

	for (c->count = 0;;) {
		if (c->count == CSV_COLUMNS_MAX)
			return fail_at(c, c->line, column_of(c, c->at), err,
			    "more than 64 columns");
		f = &c->field[c->count];
		f->line = c->line;
		f->column = column_of(c, c->at);
		n = 0;
		if (c->at < c->len && c->data[c->at] == '"')
			rc = read_quoted(c, f, &n, err);
		else
			rc = read_plain(c, f, &n, err);
		if (rc != RC_OK)
			return rc;
		f->text[n] = '\0';
		n = take_off(f->text, n);
		if (!utf8_valid(f->text, n))
			return fail_at(c, f->line, f->column, err,
			    "this field is not valid UTF-8 text");
		c->count++;
		if (at_line_end(c)) {
			step_line_end(c);
			return RC_OK;
		}
		c->at++; /* the comma */
	}
}

static int
find_column(const struct csv *c, const char *name)
{
	int i;

	for (i = 0; i < c->columns; i++)
		if (str_eq(c->header[i], name))
			return i;
	return -1;
}

static bool
listed(const char *name, const char *const *list)
{
	for (; list != NULL && *list != NULL; list++)
		if (str_eq(*list, name))
			return true;
	return false;
}

static enum rc
read_header(struct csv *c, const char *const *columns,
    const char *const *optional, struct err *err)
{
	char what[120];
	const char *name;
	int i;
	enum rc rc;

	if (c->at == c->len)
		return fail_at(c, 1, 1, err, "the file is empty");
	if ((rc = read_record(c, err)) != RC_OK)
		return rc;
	for (i = 0; i < c->count; i++) {
		name = str_trim(c->field[i].text);
		if (!listed(name, columns) && !listed(name, optional)) {
			str_fmt(what, sizeof(what), "unknown column \"%.60s\"",
			    name);
			return fail_at(
			    c, c->field[i].line, c->field[i].column, err, what);
		}
		if (find_column(c, name) >= 0)
			return fail_at(c, c->field[i].line, c->field[i].column,
			    err, "this column appears twice");
		c->header[c->columns++] = xstrdup(name);
	}
	for (; *columns != NULL; columns++) {
		if (find_column(c, *columns) >= 0)
			continue;
		str_fmt(
		    what, sizeof(what), "column \"%s\" is missing", *columns);
		return fail_at(c, 1, 1, err, what);
	}
	return RC_OK;
}

enum rc
csv_open(struct csv **out, const char *name, const char *data, size_t len,
    const char *const *columns, const char *const *optional, struct err *err)
{
	struct csv *c;
	enum rc rc;

	*out = NULL;
	c = xcalloc(1, sizeof(*c));
	c->name = xstrdup(name);
	c->data = data;
	c->len = len;
	c->line = 1;
	if (len >= 3 && memcmp(data, "\xef\xbb\xbf", 3) == 0)
		c->line_start = c->at = 3;
	if ((rc = read_header(c, columns, optional, err)) == RC_OK) {
		*out = c;
		c = NULL;
	}
	csv_close(c);
	return rc;
}

enum rc
csv_next(struct csv *c, struct err *err)
{
	char what[80];
	enum rc rc;

	while (c->at < c->len && at_line_end(c))
		step_line_end(c);
	if (c->at == c->len)
		return RC_END;
	if ((rc = read_record(c, err)) != RC_OK)
		return rc;
	if (c->count != c->columns) {
		str_fmt(what, sizeof(what), "%d fields, the header has %d",
		    c->count, c->columns);
		return fail_at(
		    c, c->field[0].line, c->field[0].column, err, what);
	}
	return RC_OK;
}

const char *
csv_get(const struct csv *c, const char *column)
{
	int i = find_column(c, column);

	return i < 0 ? "" : c->field[i].text;
}

enum rc
csv_text(char *dst, size_t size, const struct csv *c, const char *column,
    bool may_be_empty, struct err *err)
{
	const char *s = csv_get(c, column);
	enum rc rc;

	rc = text_check(column, s, size - 1, may_be_empty, err);
	if (rc != RC_OK)
		return csv_fail(c, column, rc, err);
	if (s[0] == ' ' || (s[0] != '\0' && s[strlen(s) - 1] == ' ')) {
		rc = err_set(err, RC_INVALID, 0,
		    "%s \"%.40s\" begins or ends with a blank", column, s);
		return csv_fail(c, column, rc, err);
	}
	if (!str_copy(dst, size, s))
		assert(!"text_check has checked the length");
	return RC_OK;
}

int
csv_line(const struct csv *c)
{
	return c->field[0].line;
}

enum rc
csv_fail(const struct csv *c, const char *column, enum rc rc, struct err *err)
{
	int i = find_column(c, column);

	assert(rc != RC_OK);
	if (i < 0)
		i = 0;
	err_prefix(
	    err, "%s:%d:%d: ", c->name, c->field[i].line, c->field[i].column);
	return rc;
}

void
csv_close(struct csv *c)
{
	int i;

	if (c == NULL)
		return;
	for (i = 0; i < c->columns; i++)
		free(c->header[i]);
	free(c->name);
	free(c);
}

void
csv_quote(struct buf *b, const char *s)
{
	bool formula = is_formula(s);

	if (!formula && strpbrk(s, ",\"\r\n") == NULL) {
		buf_puts(b, s);
		return;
	}
	buf_putc(b, '"');
	if (formula)
		buf_putc(b, '\'');
	for (; *s != '\0'; s++) {
		if (*s == '"')
			buf_putc(b, '"');
		buf_putc(b, *s);
	}
	buf_putc(b, '"');
}
