/*
 * gs1.c - what a scan is: take off what the scanner put around it, then try
 * the forms from the surest to the weakest.
 */
#include "gs1_inner.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "core/code.h"
#include "core/label_code.h"

#define RS '\x1e'
#define EOT '\x04'

/* The scan without what was put around it, always with a NUL behind. */
struct raw {
	char text[GS1_SCAN_MAX + 1];
	size_t n;
};

const char *
gs1_kind_word(enum gs1_kind kind)
{
	switch (kind) {
#define GS1_KIND_WORD(code, word)                                              \
	case code:                                                             \
		return word;
		GS1_KIND_LIST(GS1_KIND_WORD)
#undef GS1_KIND_WORD
	}
	return "unknown";
}

bool
gs1_separator_ok(char c)
{
	return c != '\0' && strchr("$@^`{|}~", c) != NULL;
}

void
gs1_problem(struct gs1_scan *s, enum gs1_grade grade, const char *fmt, ...)
{
	struct gs1_problem *p;
	va_list ap;

	char text[sizeof(s->problems[0].text)];
	size_t i;

	va_start(ap, fmt);
	vsnprintf(text, sizeof(text), fmt, ap);
	va_end(ap);
	utf8_clean(text);
	if (grade != GS1_NOTE)
		s->valid = false;
	for (i = 0; i < s->problem_count; i++)
		if (str_eq(s->problems[i].text, text))
			return;
	if (s->problem_count == GS1_PROBLEMS_MAX) {
		/* What makes it invalid must be among those named. */
		if (grade == GS1_NOTE || gs1_first_problem(s) != NULL)
			return;
		s->problem_count--;
	}
	p = &s->problems[s->problem_count++];
	p->grade = grade;
	str_copy(p->text, sizeof(p->text), text);
}

const struct gs1_problem *
gs1_first_problem(const struct gs1_scan *s)
{
	size_t i;

	for (i = 0; i < s->problem_count; i++)
		if (s->problems[i].grade != GS1_NOTE)
			return &s->problems[i];
	return NULL;
}

static void
begin(struct gs1_scan *s, day_no today)
{
	memset(s, 0, sizeof(*s));
	s->kind = GS1_UNKNOWN;
	s->valid = true;
	s->today = today;
}

/* --- cleaning --------------------------------------------------------------*/

static bool
is_link(const char *s)
{
	return strncmp(s, "https://", 8) == 0 ||
	    strncmp(s, "HTTPS://", 8) == 0 || strncmp(s, "http://", 7) == 0 ||
	    strncmp(s, "HTTP://", 7) == 0;
}

/* F12, which a keyboard wedge types for GS. */
static void
fold_f12(struct raw *raw)
{
	static const char f12[] = "\x1b[24~";
	size_t i, n = 0;

	for (i = 0; i < raw->n; n++) {
		if (strncmp(raw->text + i, f12, 5) == 0) {
			raw->text[n] = GS1_GS;
			i += 5;
		} else {
			raw->text[n] = raw->text[i++];
		}
	}
	raw->n = n;
	raw->text[n] = '\0';
}

static void
drop(struct raw *raw, size_t n)
{
	memmove(raw->text, raw->text + n, raw->n - n + 1);
	raw->n -= n;
}

/* Blanks around, F12. */
static void
tidy(struct raw *raw, const char *bytes, size_t len)
{
	while (len > 0 &&
	    (bytes[len - 1] == '\r' || bytes[len - 1] == '\n' ||
		bytes[len - 1] == ' '))
		len--;
	while (len > 0 && *bytes == ' ') {
		bytes++;
		len--;
	}
	memcpy(raw->text, bytes, len);
	raw->text[len] = '\0';
	raw->n = len;
	fold_f12(raw);
}

/* Only what can be in a symbol: printable ASCII and the separators. */
static bool
bytes_ok(struct gs1_scan *s, const struct raw *raw)
{
	unsigned char c;
	size_t i;

	for (i = 0; i < raw->n; i++) {
		c = (unsigned char)raw->text[i];
		if ((c >= ' ' && c <= '~') || c == GS1_GS || c == RS ||
		    (c == EOT && i + 1 == raw->n))
			continue;
		gs1_problem(s, GS1_BAD,
		    "byte 0x%02X at place %zu cannot stand in a code", c,
		    i + 1);
		return false;
	}
	return true;
}

/* The configured character typed for GS; addresses keep it as it is. */
static void
fold_stand_in(struct raw *raw, char separator)
{
	size_t i;

	if (separator == '\0' || is_link(raw->text))
		return;
	for (i = 0; i < raw->n; i++)
		if (raw->text[i] == separator)
			raw->text[i] = GS1_GS;
}

static bool
take_symbology(struct gs1_scan *s, struct raw *raw)
{
	char letter = raw->text[0] == ']' && raw->n >= 2 ? raw->text[1] : '\0';

	if (raw->n == 0 || raw->text[0] != ']')
		return true;
	if (raw->n < 4 ||
	    !((letter >= 'A' && letter <= 'Z') ||
		(letter >= 'a' && letter <= 'z')) ||
	    !((raw->text[2] >= '0' && raw->text[2] <= '9') ||
		(raw->text[2] >= 'A' && raw->text[2] <= 'Z'))) {
		gs1_problem(s, GS1_BAD,
		    "\"%.3s\" begins like a symbology identifier but is not "
		    "one with data behind it",
		    raw->text);
		return false;
	}
	str_fmt(s->symbology, sizeof(s->symbology), "%.3s", raw->text);
	drop(raw, 3);
	return true;
}

/* --- forms -----------------------------------------------------------------*/

/* ISO/IEC 15434: "[)>" RS format GS ... RS EOT; of the formats only 05 holds
 * application identifiers. */
static bool
try_envelope(
    struct gs1_scan *s, const struct gs1_reader *r, const struct raw *raw)
{
	const char *p = raw->text + 3, *end = raw->text + raw->n, *stop;

	if (strncmp(raw->text, "[)>", 3) != 0)
		return false;
	while (*p == RS)
		p++;
	if (strncmp(p, "05", 2) != 0) {
		gs1_problem(s, GS1_BAD,
		    "an ISO/IEC 15434 envelope of format %.2s: only 05 is "
		    "read here",
		    p);
		return true;
	}
	s->kind = GS1_ELEMENT_STRING;
	p += 2;
	while (end > p && (end[-1] == EOT || end[-1] == RS))
		end--;
	stop = memchr(p, RS, (size_t)(end - p));
	if (stop != NULL)
		gs1_problem(
		    s, GS1_BAD, "the envelope holds more than one message");
	else
		gs1_read_string(s, r, p, (size_t)(end - p));
	return true;
}

static bool
try_brackets(
    struct gs1_scan *s, const struct gs1_reader *r, const struct raw *raw)
{
	const char *p = raw->text;
	size_t gaps = strspn(p, "\x1d");

	p += gaps;
	if ((p[0] != '(' && p[0] != '[') || p[1] < '0' || p[1] > '9')
		return false;
	s->kind = GS1_ELEMENT_STRING;
	gs1_read_brackets(s, r, p, raw->n - gaps);
	return true;
}

static bool
is_gs1_symbol(const char *id)
{
	static const char *const ids[] = { "]C1", "]d2", "]Q3", "]e0", "]J1" };
	size_t i;

	for (i = 0; i < sizeof(ids) / sizeof(ids[0]); i++)
		if (str_eq(id, ids[i]))
			return true;
	return false;
}

static bool
looks_like_number(const struct raw *raw)
{
	return (gs1_number_length(raw->n) &&
		   gs1_all_digits(raw->text, raw->n)) ||
	    gs1_own_shape(raw->text) != GS1_UNKNOWN;
}

/*
 * Without an identifier an element string is believed when a separator is in
 * it, or when its first element is a key or another of closely checked content;
 * else any number would be one.  What has the length of a trade item number or
 * of our own codes is one of those, read wrong.
 */
static bool
try_bare_string(
    struct gs1_scan *s, const struct gs1_reader *r, const struct raw *raw)
{
	const char *p = raw->text + strspn(raw->text, "\x1d");
	const struct gs1_ai *row = gs1_ai_find(p, strlen(p));
	struct gs1_scan t = *s;

	if (gs1_ai_digits(p, strlen(p)) == 0)
		return false;
	t.kind = GS1_ELEMENT_STRING;
	gs1_read_string(&t, r, raw->text, raw->n);
	if (strchr(raw->text, GS1_GS) == NULL &&
	    (row == NULL || row->sure != SURE || t.count == 0 ||
		!t.elements[0].good || looks_like_number(raw)))
		return false;
	if (t.symbology[0] != '\0')
		gs1_problem(&t, GS1_NOTE,
		    "the symbol (%s) is not marked as GS1, read as if it were",
		    t.symbology);
	*s = t;
	return true;
}

/* What it would have been, had it been read right. */
static void
name_unknown(
    struct gs1_scan *s, const struct gs1_reader *r, const struct raw *raw)
{
	struct err err = { 0 };
	enum code_kind kind;
	char code[CODE_SIZE];

	if (raw->n >= 12 && gs1_number_length(raw->n) &&
	    gs1_all_digits(raw->text, raw->n)) {
		gs1_take_number(s, r, raw->text, raw->n);
		return;
	}
	s->kind = gs1_own_shape(raw->text);
	if (s->kind != GS1_UNKNOWN) {
		ignore_rc(code_parse(&kind, code, raw->text, &err));
		gs1_problem(s, GS1_BAD, "%s", err.text);
		return;
	}
	gs1_problem(s, GS1_BAD,
	    "\"%.60s\" is no code this station knows: neither a GS1 symbol, a "
	    "trade item number nor one of its own codes",
	    raw->text);
}

static void
read_plain(
    struct gs1_scan *s, const struct gs1_reader *r, const struct raw *raw)
{
	if (try_envelope(s, r, raw) || gs1_try_own_label(s, raw->text) ||
	    gs1_try_own_item(s, r, raw->text) || try_brackets(s, r, raw) ||
	    gs1_try_own_code(s, raw->text))
		return;
	if (gs1_number_length(raw->n) && gs1_all_digits(raw->text, raw->n) &&
	    gs1_check_digit(raw->text, raw->n - 1) == raw->text[raw->n - 1]) {
		gs1_take_number(s, r, raw->text, raw->n);
		return;
	}
	if (!try_bare_string(s, r, raw))
		name_unknown(s, r, raw);
}

static void
read_any(struct gs1_scan *s, const struct gs1_reader *r, struct raw *raw)
{
	if (!take_symbology(s, raw))
		return;
	fold_stand_in(raw, r->separator);
	if (gs1_try_marked(s, r, raw->text))
		return;
	if (is_link(raw->text)) {
		gs1_read_link(s, r, raw->text, raw->n);
		return;
	}
	if (!is_gs1_symbol(s->symbology)) {
		read_plain(s, r, raw);
		return;
	}
	if (gs1_try_own_label(s, raw->text) ||
	    gs1_try_own_item(s, r, raw->text))
		return;
	s->kind = GS1_ELEMENT_STRING;
	gs1_read_string(s, r, raw->text, raw->n);
}

static bool
has_partners(const struct gs1_scan *s)
{
	return s->kind == GS1_ELEMENT_STRING || s->kind == GS1_DIGITAL_LINK;
}

void
gs1_read(struct gs1_scan *out, const char *bytes, size_t len,
    const struct gs1_reader *r)
{
	struct raw raw;

	begin(out, r->today);
	if (len > 0 && bytes[len - 1] == '\n')
		len--;
	if (len > 0 && bytes[len - 1] == '\r')
		len--;
	if (len > GS1_SCAN_MAX || memchr(bytes, '\0', len) != NULL) {
		gs1_problem(out, GS1_BAD,
		    "a scan is text of at most %d bytes, without NUL",
		    GS1_SCAN_MAX);
		return;
	}
	tidy(&raw, bytes, len);
	if (raw.n == 0)
		gs1_problem(out, GS1_BAD, "the scan is empty");
	else if (bytes_ok(out, &raw))
		read_any(out, r, &raw);
	if (has_partners(out))
		gs1_partners(out);
}

/* --- several symbols on one item -------------------------------------------*/

static void
join_elements(struct gs1_scan *into, const struct gs1_scan *more)
{
	const struct gs1_element *e, *have;
	size_t i, j;

	for (i = 0; i < more->count; i++) {
		e = &more->elements[i];
		for (j = 0; j < into->count; j++)
			if (str_eq(into->elements[j].ai, e->ai))
				break;
		have = &into->elements[j];
		if (j < into->count && !str_eq(have->value, e->value))
			gs1_problem(into, GS1_BAD,
			    "the symbols differ: (%s) is %.40s and %.40s",
			    e->ai, have->value, e->value);
		else if (j == GS1_ELEMENTS_MAX)
			gs1_problem(into, GS1_BAD, "more than %d elements",
			    GS1_ELEMENTS_MAX);
		else if (j == into->count)
			into->elements[into->count++] = *e;
	}
}

/* All problems but those of partners, which are judged anew. */
static void
keep_problems(struct gs1_scan *into, const struct gs1_scan *from)
{
	size_t i;

	for (i = 0; i < from->problem_count; i++)
		if (from->problems[i].grade != GS1_PARTNER)
			gs1_problem(into, from->problems[i].grade, "%s",
			    from->problems[i].text);
}

void
gs1_join(struct gs1_scan *into, const struct gs1_scan *more)
{
	struct gs1_scan t = *into;

	if ((!has_partners(into) && into->kind != GS1_EAN) ||
	    (!has_partners(more) && more->kind != GS1_EAN)) {
		gs1_problem(into, GS1_BAD,
		    "only symbols of a supplier's label go together");
		return;
	}
	into->valid = true;
	into->problem_count = 0;
	into->kind = GS1_ELEMENT_STRING;
	into->restricted = into->restricted || more->restricted;
	keep_problems(into, &t);
	keep_problems(into, more);
	join_elements(into, more);
	gs1_partners(into);
}
