/*
 * gs1_string.c - element strings and bracketed text: split, check, keep; and
 * build them again.
 */
#include "gs1_inner.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"

/* A date further away than this is no reason to doubt a lot. */
#define DOUBT_DAYS 3660

/* Row of exactly this identifier. */
static const struct gs1_ai *
row_of(const char *ai)
{
	const struct gs1_ai *row = gs1_ai_find(ai, strlen(ai));

	return row != NULL && strlen(row->ai) == strlen(ai) ? row : NULL;
}

/* Length and characters; says what is wrong in v->why. */
static bool
form_ok(struct gs1_value *v)
{
	size_t min = (size_t)v->row->min, max = (size_t)v->row->max;

	if (v->n < min || v->n > max) {
		if (min == max)
			str_fmt(v->why, sizeof(v->why),
			    "has %zu characters and needs %zu%s", v->n, max,
			    v->n > max ? ": a separator may be missing" : "");
		else
			str_fmt(v->why, sizeof(v->why),
			    "has %zu characters, %s %zu%s", v->n,
			    v->n < min ? "at least" : "at most",
			    v->n < min ? min : max,
			    v->n > max ? ": a separator may be missing" : "");
		return false;
	}
	if (gs1_in_set82(v->s, v->n))
		return true;
	str_copy(v->why, sizeof(v->why),
	    "holds a character that GS1 values cannot hold");
	return false;
}

static void
value_init(struct gs1_value *v, const struct gs1_ai *row, const char *ai,
    const struct gs1_reader *r)
{
	memset(v, 0, sizeof(*v));
	v->row = row;
	v->ai = ai;
	v->r = r;
}

/* What no element may be, whatever its identifier. */
static bool
can_be_kept(struct gs1_scan *s, const char *ai, const char *value, size_t n)
{
	size_t want = (size_t)gs1_predefined(ai), i;

	if (gs1_ai_digits(ai, strlen(ai)) != (int)strlen(ai))
		gs1_problem(
		    s, GS1_BAD, "(%s) is no application identifier", ai);
	else if (n == 0)
		gs1_problem(s, GS1_BAD, "(%s) is empty", ai);
	else if (n > GS1_VALUE_MAX)
		gs1_problem(s, GS1_BAD,
		    "(%s) has %zu characters and no element has more than %d",
		    ai, n, GS1_VALUE_MAX);
	else if (want > 0 && n != want)
		gs1_problem(s, GS1_BAD, "(%s) has %zu characters and needs %zu",
		    ai, n, want);
	else if (s->count == GS1_ELEMENTS_MAX)
		gs1_problem(
		    s, GS1_BAD, "more than %d elements", GS1_ELEMENTS_MAX);
	else {
		for (i = 0; i < n; i++)
			if (value[i] <= ' ' || value[i] > '~')
				break;
		if (i == n)
			return true;
		gs1_problem(s, GS1_BAD,
		    "(%s): a character that cannot be printed, or a blank, "
		    "at place %zu",
		    ai, i + 1);
	}
	return false;
}

/* The same once more is the same; something else is a contradiction. */
static bool
is_repeated(struct gs1_scan *s, const char *ai, const char *value, size_t n)
{
	const struct gs1_element *e;
	size_t i;

	for (i = 0; i < s->count; i++) {
		e = &s->elements[i];
		if (!str_eq(e->ai, ai))
			continue;
		if (strlen(e->value) != n || memcmp(e->value, value, n) != 0)
			gs1_problem(s, GS1_BAD,
			    "(%s) stands twice, as %.40s and as %.*s", ai,
			    e->value, (int)(n < 40 ? n : 40), value);
		return true;
	}
	return false;
}

void
gs1_add(struct gs1_scan *s, const struct gs1_reader *r, const char *ai,
    const char *value, size_t n)
{
	struct gs1_element *e;
	struct gs1_value v;

	if (!can_be_kept(s, ai, value, n) || is_repeated(s, ai, value, n))
		return;
	e = &s->elements[s->count++];
	memset(e, 0, sizeof(*e));
	str_copy(e->ai, sizeof(e->ai), ai);
	memcpy(e->value, value, n);
	e->title = "";
	value_init(&v, row_of(ai), e->ai, r);
	v.s = e->value;
	v.n = n;
	if (v.row == NULL) {
		gs1_problem(s, GS1_NOTE, "(%s) is not known here, kept", ai);
		return;
	}
	e->title = v.row->title;
	e->good = form_ok(&v) && v.row->read(&v);
	if (!e->good)
		gs1_problem(s, GS1_BAD, "(%s) %s: %s", ai, e->value, v.why);
	else if (v.note[0] != '\0')
		gs1_problem(s, GS1_NOTE, "(%s) %s %s", ai, e->value, v.note);
	if (e->good)
		str_copy(e->meaning, sizeof(e->meaning), v.meaning);
}

/* --- where an element ends -------------------------------------------------*/

static bool
reads_well(const struct gs1_ai *row, const char *ai, const char *value,
    size_t n, const struct gs1_reader *r)
{
	struct gs1_value v;

	value_init(&v, row, ai, r);
	v.s = value;
	v.n = n;
	return form_ok(&v) && row->read(&v);
}

/*
 * End of a value without pre-defined length that stands before `stop`.  When
 * its format still has one length only, and what follows that is another
 * identifier, the separator was lost without harm.
 */
static size_t
value_length(struct gs1_scan *s, const struct gs1_reader *r, const char *ai,
    const char *value, size_t n)
{
	const struct gs1_ai *row = row_of(ai);
	size_t fixed = row == NULL ? 0 : (size_t)row->max;

	if (row == NULL || row->min != row->max || n <= fixed ||
	    gs1_ai_digits(value + fixed, n - fixed) == 0 ||
	    !reads_well(row, ai, value, fixed, r))
		return n;
	gs1_problem(s, GS1_NOTE,
	    "no separator behind (%s): read by its length of %zu", ai, fixed);
	return fixed;
}

/* One element at p, before `end`; returns what follows, or NULL to stop. */
static const char *
read_one(struct gs1_scan *s, const struct gs1_reader *r, const char *p,
    const char *end)
{
	const char *stop = memchr(p, GS1_GS, (size_t)(end - p));
	size_t digits, n, want;
	char ai[5];

	if (stop == NULL)
		stop = end;
	digits = (size_t)gs1_ai_digits(p, (size_t)(stop - p));
	if (digits == 0) {
		gs1_problem(s, GS1_BAD,
		    "no application identifier begins with \"%.*s\"",
		    (int)(stop - p < 4 ? stop - p : 4), p);
		return NULL;
	}
	str_fmt(ai, sizeof(ai), "%.*s", (int)digits, p);
	p += digits;
	n = (size_t)(stop - p);
	want = (size_t)gs1_predefined(ai);
	if (want == 0)
		n = value_length(s, r, ai, p, n);
	else if (n < want)
		gs1_problem(s, GS1_BAD, "(%s) has %zu characters and needs %zu",
		    ai, n, want);
	else
		n = want;
	if (want == 0 || n == want)
		gs1_add(s, r, ai, p, n);
	return p + n;
}

/* --- a lot that may have swallowed what followed it ------------------------*/

static bool
near_today(const char *value, const struct gs1_reader *r)
{
	day_no day;

	return gs1_date(&day, value, r->today, true) &&
	    day > r->today - DOUBT_DAYS && day < r->today + DOUBT_DAYS;
}

/* Is this element told so clearly that chance is no good explanation? */
static bool
is_telling(const struct gs1_ai *row, const char *value, size_t n,
    const struct gs1_reader *r)
{
	char c = value[0];

	if (row->read == gs1_day)
		return near_today(value, r);
	if (row->sure == SURE_MIXED)
		return !gs1_all_digits(value, n);
	if (row->sure == SURE_WORD)
		return n >= 4 &&
		    ((c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'));
	return row->sure == SURE;
}

/* Does the tail read as elements to its end, the first of them telling? */
static const char *
swallowed(const char *tail, const struct gs1_reader *r)
{
	static const size_t most = GS1_VALUE_MAX;
	const char *first = NULL;
	const struct gs1_ai *row;
	size_t left = strlen(tail), digits, n;
	char ai[5];

	while (left > 0) {
		row = gs1_ai_find(tail, left);
		if (row == NULL)
			return NULL;
		digits = strlen(row->ai);
		str_fmt(ai, sizeof(ai), "%.*s", (int)digits, tail);
		tail += digits;
		left -= digits;
		n = left < most ? left : most;
		if (row->min == row->max && n > (size_t)row->max)
			n = (size_t)row->max;
		if (!reads_well(row, ai, tail, n, r))
			return NULL;
		if (first == NULL && !is_telling(row, tail, n, r))
			return NULL;
		if (first == NULL)
			first = row->title;
		tail += n;
		left -= n;
	}
	return first;
}

/*
 * When no separator came at all, the free text at the end may hold lost
 * elements.  It is then neither taken for the lot nor taken apart.
 */
static void
doubt_last(struct gs1_scan *s, const struct gs1_reader *r)
{
	struct gs1_element *e;
	const struct gs1_ai *row;
	const char *title = NULL;
	size_t at;

	if (s->count == 0)
		return;
	e = &s->elements[s->count - 1];
	row = row_of(e->ai);
	if (row == NULL || row->read != gs1_text || !e->good)
		return;
	for (at = 1; e->value[at] != '\0' && title == NULL; at++)
		title = swallowed(e->value + at, r);
	if (title == NULL)
		return;
	e->good = false;
	gs1_problem(s, GS1_BAD,
	    "(%s) %s may have swallowed %s (%.20s): no separator came; let the "
	    "scanner send GS, or key it with brackets",
	    e->ai, e->value, title, e->value + at - 1);
}

void
gs1_read_string(
    struct gs1_scan *s, const struct gs1_reader *r, const char *text, size_t n)
{
	const char *p = text, *end = text + n;
	bool separated = memchr(text, GS1_GS, n) != NULL;

	while (p != NULL && p < end) {
		if (*p == GS1_GS)
			p++; /* one too many is tolerated */
		else
			p = read_one(s, r, p, end);
	}
	if (s->count == 0 && s->problem_count == 0)
		gs1_problem(s, GS1_BAD, "nothing behind the start");
	if (!separated && p != NULL)
		doubt_last(s, r);
}

/* --- bracketed text --------------------------------------------------------*/

/* Length of "(dd)" up to "(dddd)" at p, or 0. */
static size_t
bracket(const char *p, char open)
{
	size_t n;

	if (*p != open)
		return 0;
	n = strspn(p + 1, "0123456789");
	return n >= 2 && n <= 4 && p[n + 1] == (open == '(' ? ')' : ']') ? n + 2
									 : 0;
}

static bool
is_gap(char c)
{
	return c == ' ' || c == '\t' || c == GS1_GS;
}

/* A round bracket may also stand inside a value; it begins an element only
 * with an identifier that exists. */
static bool
begins_element(const char *p, char open)
{
	size_t n = bracket(p, open);

	return n > 0 &&
	    (open == '[' || gs1_ai_digits(p + 1, n - 2) == (int)n - 2);
}

void
gs1_read_brackets(
    struct gs1_scan *s, const struct gs1_reader *r, const char *text, size_t n)
{
	const char *p = text, *end = text + n, *value, *stop;
	char open = *text, ai[5];
	size_t len;

	while (p < end) {
		len = bracket(p, open);
		if (len == 0) {
			gs1_problem(s, GS1_BAD,
			    "no application identifier in brackets at place "
			    "%zu",
			    (size_t)(p - text) + 1);
			return;
		}
		str_fmt(ai, sizeof(ai), "%.*s", (int)len - 2, p + 1);
		value = p + len;
		for (p = value; p < end && !begins_element(p, open);)
			p++;
		for (stop = p; stop > value && is_gap(stop[-1]);)
			stop--;
		while (value < stop && is_gap(*value))
			value++;
		gs1_add(s, r, ai, value, (size_t)(stop - value));
	}
}

/* --- build -----------------------------------------------------------------*/

static enum rc
check_element(const struct gs1_element *e, struct err *err)
{
	size_t digits = strlen(e->ai), n = strlen(e->value), i;
	size_t want;

	if (gs1_ai_digits(e->ai, digits) == 0 ||
	    gs1_ai_digits(e->ai, digits) != (int)digits)
		return err_set(err, RC_INVALID, 0,
		    "\"%s\" is no application identifier", e->ai);
	want = (size_t)gs1_predefined(e->ai);
	if (n == 0 || (want > 0 && n != want))
		return err_set(err, RC_INVALID, 0,
		    "(%s) has a value of %zu characters", e->ai, n);
	/* What is not in the table may be of another character set. */
	if (row_of(e->ai) != NULL && !gs1_in_set82(e->value, n))
		return err_set(err, RC_INVALID, 0,
		    "(%s) holds a character that GS1 values cannot hold",
		    e->ai);
	for (i = 0; i < n; i++)
		if (e->value[i] <= ' ' || e->value[i] > '~')
			return err_set(err, RC_INVALID, 0,
			    "(%s) holds a character that cannot be printed",
			    e->ai);
	return RC_OK;
}

enum rc
gs1_build(struct buf *out, const struct gs1_element *elements, size_t count,
    struct err *err)
{
	size_t i;
	enum rc rc;

	for (i = 0; i < count; i++)
		if ((rc = check_element(&elements[i], err)) != RC_OK)
			return rc;
	for (i = 0; i < count; i++) {
		buf_puts(out, elements[i].ai);
		buf_puts(out, elements[i].value);
		if (i + 1 < count && gs1_predefined(elements[i].ai) == 0)
			buf_putc(out, GS1_GS);
	}
	return buf_check(out, "the element string", err);
}
