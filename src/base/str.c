/* str.c - bounded string helpers and UTF-8. */
#include "base/str.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

bool
str_copy(char *dst, size_t size, const char *src)
{
	size_t n;

	n = strlen(src);
	if (n >= size) {
		dst[0] = '\0';
		return false;
	}
	memcpy(dst, src, n + 1);
	return true;
}

bool
str_fmt(char *dst, size_t size, const char *fmt, ...)
{
	va_list ap;
	int n;

	va_start(ap, fmt);
	n = vsnprintf(dst, size, fmt, ap);
	va_end(ap);
	return n >= 0 && (size_t)n < size;
}

bool
str_eq(const char *a, const char *b)
{
	return strcmp(a, b) == 0;
}

/* Not tolower(): a locale must never change what a code or a key means. */
static char
lower(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static char
upper(char c)
{
	return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

bool
str_eq_nocase(const char *a, const char *b)
{
	for (; *a != '\0' && *b != '\0'; a++, b++)
		if (lower(*a) != lower(*b))
			return false;
	return *a == *b;
}

void
str_upper(char *s)
{
	for (; *s != '\0'; s++)
		*s = upper(*s);
}

void
str_lower(char *s)
{
	for (; *s != '\0'; s++)
		*s = lower(*s);
}

char *
str_trim(char *s)
{
	size_t n;

	while (*s == ' ' || *s == '\t')
		s++;
	n = strlen(s);
	while (n > 0 && (s[n - 1] == ' ' || s[n - 1] == '\t'))
		s[--n] = '\0';
	return s;
}

/* C0, DEL and C1 control characters of a NUL-terminated text. */
static bool
is_control(const unsigned char *s)
{
	return s[0] < 0x20 || s[0] == 0x7f ||
	    (s[0] == 0xc2 && s[1] >= 0x80 && s[1] <= 0x9f);
}

/* Length of the well-formed sequence at `s`, or 0. */
static size_t
sequence(const unsigned char *s, size_t left)
{
	size_t n, i;

	if (s[0] == 0)
		return 0;
	if (s[0] < 0x80)
		return 1;
	if (s[0] >= 0xc2 && s[0] <= 0xdf)
		n = 2;
	else if (s[0] >= 0xe0 && s[0] <= 0xef)
		n = 3;
	else if (s[0] >= 0xf0 && s[0] <= 0xf4)
		n = 4;
	else
		return 0;
	if (left < n)
		return 0;
	for (i = 1; i < n; i++)
		if ((s[i] & 0xc0) != 0x80)
			return 0;
	if ((s[0] == 0xe0 && s[1] < 0xa0) || (s[0] == 0xed && s[1] > 0x9f) ||
	    (s[0] == 0xf0 && s[1] < 0x90) || (s[0] == 0xf4 && s[1] > 0x8f))
		return 0;
	return n;
}

bool
utf8_valid(const char *s, size_t len)
{
	const unsigned char *p = (const unsigned char *)s;
	size_t i, n;

	for (i = 0; i < len; i += n) {
		n = sequence(p + i, len - i);
		if (n == 0)
			return false;
	}
	return true;
}

void
utf8_clean(char *s)
{
	size_t n, left = strlen(s);

	for (; left > 0; s += n, left -= n) {
		n = sequence((const unsigned char *)s, left);
		if (n == 0)
			*s = '?';
		else if (is_control((const unsigned char *)s))
			memset(s, '?', n);
		if (n == 0)
			n = 1;
	}
}

uint32_t
utf8_next(const char **s)
{
	const unsigned char *p = (const unsigned char *)*s;
	uint32_t c;
	int more;

	if (p[0] == 0)
		return 0;
	if (p[0] < 0x80) {
		c = p[0];
		more = 0;
	} else if (p[0] < 0xe0) {
		c = p[0] & 0x1fu;
		more = 1;
	} else if (p[0] < 0xf0) {
		c = p[0] & 0x0fu;
		more = 2;
	} else {
		c = p[0] & 0x07u;
		more = 3;
	}
	for (p++; more > 0 && *p != 0; more--, p++)
		c = c << 6 | (*p & 0x3fu);
	*s = (const char *)p;
	return c;
}

size_t
utf8_columns(const char *s)
{
	size_t n = 0;

	while (utf8_next(&s) != 0)
		n++;
	return n;
}

enum rc
text_check(const char *what, const char *s, size_t max, bool may_be_empty,
    struct err *err)
{
	const unsigned char *p;
	size_t n;

	n = strlen(s);
	if (s[strspn(s, " ")] == '\0' && !may_be_empty)
		return err_set(err, RC_INVALID, 0, "%s is empty", what);
	if (n > max)
		return err_set(err, RC_INVALID, 0,
		    "%s is %zu bytes long, at most %zu fit", what, n, max);
	if (!utf8_valid(s, n))
		return err_set(
		    err, RC_INVALID, 0, "%s is not valid UTF-8 text", what);
	for (p = (const unsigned char *)s; *p != 0; p++)
		if (is_control(p))
			return err_set(err, RC_INVALID, 0,
			    "%s holds a control character", what);
	return RC_OK;
}
