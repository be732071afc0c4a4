/* ticket.c - a list as lines: made, kept as text, read back, shown. */
#include "labels/ticket.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ticket_page.h"

#define STYLE_COUNT (TICKET_RULE + 1)

struct ticket {
	struct ticket_line *lines;
	size_t count, cap;
};

static const char *const style_words[STYLE_COUNT] = {
	[TICKET_TITLE] = "title",
	[TICKET_HEAD] = "head",
	[TICKET_LINE] = "line",
	[TICKET_TICK] = "tick",
	[TICKET_SMALL] = "small",
	[TICKET_RULE] = "rule",
};

const char *
ticket_style_word(enum ticket_style style)
{
	return style_words[style];
}

struct ticket *
ticket_new(void)
{
	return xcalloc(1, sizeof(struct ticket));
}

/* The strings are ours; the pointers to them are const for everyone else. */
static void
drop(const char *s)
{
	union {
		const char *in;
		char *out;
	} u = { .in = s };

	free(u.out);
}

void
ticket_free(struct ticket *t)
{
	size_t i;

	if (t == NULL)
		return;
	for (i = 0; i < t->count; i++) {
		drop(t->lines[i].left);
		drop(t->lines[i].right);
	}
	free(t->lines);
	free(t);
}

static char *
clean_copy(const char *s)
{
	char *copy = xstrdup(s == NULL ? "" : s);

	utf8_clean(copy);
	return copy;
}

void
ticket_add(struct ticket *t, enum ticket_style style, const char *left,
    const char *right)
{
	struct ticket_line *l;

	t->lines = grow(t->lines, &t->cap, t->count, sizeof(*t->lines));
	l = &t->lines[t->count++];
	l->style = style;
	l->left = clean_copy(style == TICKET_RULE ? NULL : left);
	l->right = clean_copy(style == TICKET_RULE ? NULL : right);
}

void
ticket_printf(struct ticket *t, enum ticket_style style, const char *right,
    const char *left, ...)
{
	va_list ap;
	char *text;
	int n;

	va_start(ap, left);
	n = vsnprintf(NULL, 0, left, ap);
	va_end(ap);
	assert(n >= 0);
	text = xcalloc((size_t)n + 1, 1);
	va_start(ap, left);
	vsnprintf(text, (size_t)n + 1, left, ap);
	va_end(ap);
	ticket_add(t, style, text, right);
	free(text);
}

size_t
ticket_count(const struct ticket *t)
{
	return t->count;
}

const struct ticket_line *
ticket_at(const struct ticket *t, size_t i)
{
	assert(i < t->count);
	return &t->lines[i];
}

void
ticket_write(struct buf *out, const struct ticket *t)
{
	const struct ticket_line *l;
	size_t i;

	for (i = 0; i < t->count; i++) {
		l = &t->lines[i];
		buf_printf(out, "%s\t%s\t%s\n", style_words[l->style], l->left,
		    l->right);
	}
}

static bool
style_find(enum ticket_style *out, const char *word)
{
	int i;

	for (i = 0; i < STYLE_COUNT; i++)
		if (str_eq(word, style_words[i])) {
			*out = (enum ticket_style)i;
			return true;
		}
	return false;
}

/* One line without its LF, taken apart in place; NULL or what is wrong. */
static const char *
read_line(struct ticket *t, char *line)
{
	char *left = strchr(line, '\t');
	char *right = left == NULL ? NULL : strchr(left + 1, '\t');
	enum ticket_style style;

	if (right == NULL || strchr(right + 1, '\t') != NULL)
		return "needs a style and two texts, with a TAB between each";
	*left++ = '\0';
	*right++ = '\0';
	if (!style_find(&style, line))
		return "its style is not known";
	if (text_check("text", left, strlen(left), true, NULL) != RC_OK ||
	    text_check("text", right, strlen(right), true, NULL) != RC_OK)
		return "not UTF-8 text, or a control character";
	if (style == TICKET_RULE && (*left != '\0' || *right != '\0'))
		return "a rule has no text";
	ticket_add(t, style, left, right);
	return NULL;
}

enum rc
ticket_read(struct ticket **out, const char *text, struct err *err)
{
	struct ticket *t = ticket_new();
	char *copy = xstrdup(text), *line, *end;
	const char *wrong = NULL;
	size_t n = 0;
	enum rc rc = RC_OK;

	*out = NULL;
	for (line = copy; *line != '\0' && wrong == NULL; line = end + 1) {
		n++;
		if ((end = strchr(line, '\n')) == NULL) {
			wrong = "not ended";
			break;
		}
		*end = '\0';
		wrong = read_line(t, line);
	}
	free(copy);
	if (wrong == NULL)
		*out = t;
	else
		rc = err_set(
		    err, RC_INVALID, 0, "line %zu of the list: %s", n, wrong);
	if (rc != RC_OK)
		ticket_free(t);
	return rc;
}

/* --- wrapping ------------------------------------------------------------- */

/* A word in a text, without the marks that may follow it. */
struct word {
	const char *s;
	size_t len, marks; /* bytes; of the marks behind */
	bool number, last; /* digits only; nothing follows it */
};

static struct word
word_at(const char *s)
{
	struct word w = { .s = s, .len = strcspn(s, " ") };

	w.last = s[w.len + strspn(s + w.len, " ")] == '\0';
	for (; w.len > 0 && strchr(",;:.)", s[w.len - 1]) != NULL; w.len--)
		w.marks++;
	w.number = w.len > 0 && strspn(s, "0123456789.") >= w.len;
	return w;
}

static bool
is_one_of(const struct word *w, const char *words)
{
	char trial[8];

	return w->len > 0 && w->len <= 4 &&
	    str_fmt(trial, sizeof(trial), " %.*s ", (int)w->len, w->s) &&
	    strstr(words, trial) != NULL;
}

/* Parted, these would be misread: "790 / g", "3 / x 168", "Sun / 6 Dec",
 * "tray / 1". */
static bool
stay_together(const struct word *a, const struct word *b)
{
	static const char units[] = " g kg C % min h ", times[] = " x ";
	static const char days[] = " Mon Tue Wed Thu Fri Sat Sun ";
	static const char months[] =
	    " Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec ";

	if (a->marks > 0)
		return false;
	if (b->number)
		return is_one_of(a, times) || is_one_of(a, days) ||
		    (!a->number && (b->marks > 0 || b->last));
	return a->number &&
	    (is_one_of(b, units) || is_one_of(b, times) ||
		is_one_of(b, months));
}

size_t
ticket_piece_of(const char *s)
{
	size_t n = strspn(s, " "), gap;
	struct word a = word_at(s + n), b;

	for (n += a.len + a.marks; s[n] != '\0'; n += gap + a.len + a.marks) {
		gap = strspn(s + n, " ");
		b = word_at(s + n + gap);
		if (b.len == 0 || !stay_together(&a, &b))
			break;
		a = b;
	}
	return n;
}

/* --- for a screen --------------------------------------------------------- */

static size_t
columns_of(const char *s, size_t bytes)
{
	return utf8_columns(s) - utf8_columns(s + bytes);
}

/* Words of a line behind `mark`; the right text at the edge of the first row,
 * alone there when nothing fits beside it.  As on paper. */
static void
put_line(struct buf *out, const char *mark, const struct ticket_line *l,
    size_t columns)
{
	size_t indent = strlen(mark), right = utf8_columns(l->right), used, n;
	const char *rest = l->left + strspn(l->left, " ");
	size_t room = right == 0 ? columns : columns - right - 1;
	bool first = true;

	if (right + 1 + indent > columns)
		room = indent;
	do {
		buf_printf(out, "%*s", (int)indent, first ? mark : "");
		for (used = indent; *rest != '\0'; rest += n) {
			n = ticket_piece_of(rest);
			if (used + columns_of(rest, n) > room &&
			    (used > indent || room < columns))
				break;
			buf_add(out, rest, n);
			used += columns_of(rest, n);
		}
		if (first && right > 0)
			buf_printf(out, "%*s%s",
			    used + right < columns
				? (int)(columns - used - right)
				: 1,
			    "", l->right);
		buf_putc(out, '\n');
		rest += strspn(rest, " ");
		room = columns;
		first = false;
	} while (*rest != '\0');
}

void
ticket_text(struct buf *out, const struct ticket *t, int columns)
{
	const char *const marks[STYLE_COUNT] = {
		[TICKET_TITLE] = "",
		[TICKET_HEAD] = "== ",
		[TICKET_LINE] = "",
		[TICKET_TICK] = "[ ] ",
		[TICKET_SMALL] = "",
	};
	const struct ticket_line *l;
	const char *mark;
	bool ticked = false;
	size_t i;
	int n;

	for (i = 0; i < t->count; i++) {
		l = &t->lines[i];
		mark = marks[l->style];
		if (l->style == TICKET_RULE) {
			for (n = 0; n < columns; n++)
				buf_putc(out, '-');
			buf_putc(out, '\n');
			ticked = false;
			continue;
		}
		if (l->style == TICKET_SMALL && ticked)
			mark = "    ";
		else
			ticked = l->style == TICKET_TICK;
		if (l->style == TICKET_HEAD)
			buf_putc(out, '\n');
		put_line(out, mark, l, (size_t)columns);
	}
}
