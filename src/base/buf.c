/* buf.c - growable bytes with a hard maximum. */
#include "base/buf.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"

void
buf_init(struct buf *b, size_t max)
{
	memset(b, 0, sizeof(*b));
	b->max = max;
}

void
buf_fini(struct buf *b)
{
	free(b->data);
	buf_init(b, b->max);
}

void
buf_clear(struct buf *b)
{
	b->len = 0;
	b->full = false;
	if (b->data != NULL)
		b->data[0] = '\0';
}

/* Room for `len` more bytes and the NUL, or false when over the maximum. */
static bool
make_room(struct buf *b, size_t len)
{
	size_t want;

	if (len > b->max - b->len) {
		b->full = true;
		return false;
	}
	if (b->len + len + 1 <= b->cap)
		return true;
	want = b->cap == 0 ? 256 : b->cap;
	while (want < b->len + len + 1)
		want *= 2;
	b->data = xrealloc(b->data, want, 1);
	b->cap = want;
	return true;
}

void
buf_add(struct buf *b, const void *data, size_t len)
{
	if (!make_room(b, len))
		return;
	if (len > 0)
		memcpy(b->data + b->len, data, len);
	b->len += len;
	b->data[b->len] = '\0';
}

void
buf_puts(struct buf *b, const char *s)
{
	buf_add(b, s, strlen(s));
}

void
buf_putc(struct buf *b, char c)
{
	buf_add(b, &c, 1);
}

void
utf8_put(struct buf *b, uint32_t ch)
{
	char s[4];
	size_t n = 1;

	if (ch < 0x80) {
		s[0] = (char)ch;
	} else if (ch < 0x800) {
		s[0] = (char)(0xc0 | ch >> 6);
		s[1] = (char)(0x80 | (ch & 0x3f));
		n = 2;
	} else if (ch < 0x10000) {
		s[0] = (char)(0xe0 | ch >> 12);
		s[1] = (char)(0x80 | (ch >> 6 & 0x3f));
		s[2] = (char)(0x80 | (ch & 0x3f));
		n = 3;
	} else {
		s[0] = (char)(0xf0 | ch >> 18);
		s[1] = (char)(0x80 | (ch >> 12 & 0x3f));
		s[2] = (char)(0x80 | (ch >> 6 & 0x3f));
		s[3] = (char)(0x80 | (ch & 0x3f));
		n = 4;
	}
	buf_add(b, s, n);
}

void
buf_printf(struct buf *b, const char *fmt, ...)
{
	va_list ap;
	int n;

	va_start(ap, fmt);
	n = vsnprintf(NULL, 0, fmt, ap);
	va_end(ap);
	if (n < 0 || !make_room(b, (size_t)n))
		return;
	va_start(ap, fmt);
	vsnprintf(b->data + b->len, (size_t)n + 1, fmt, ap);
	va_end(ap);
	b->len += (size_t)n;
}

/* Where a line that starts at `s` ends: at a LF, the end, or after the last
 * word that fits `columns`. */
static const char *
line_end(const char *s, int columns)
{
	const char *blank = NULL;

	for (; *s != '\0' && *s != '\n'; columns--) {
		if (columns == 0)
			return *s == ' ' || blank == NULL ? s : blank;
		if (*s == ' ')
			blank = s;
		utf8_next(&s);
	}
	return s;
}

void
buf_wrap(struct buf *b, const char *text, int indent, int width)
{
	const char *end;

	for (; *text != '\0'; text = end) {
		end = line_end(text, width - indent);
		buf_printf(b, "%*s%.*s\n", indent, "", (int)(end - text), text);
		if (*end == '\n')
			end++;
		else
			end += strspn(end, " ");
	}
}

const char *
buf_text(const struct buf *b)
{
	return b->data == NULL ? "" : b->data;
}

enum rc
buf_check(const struct buf *b, const char *what, struct err *err)
{
	if (!b->full)
		return RC_OK;
	return err_set(
	    err, RC_INVALID, 0, "%s is larger than %zu bytes", what, b->max);
}
