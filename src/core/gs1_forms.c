/*
 * gs1_forms.c - scans that are no element string: trade item numbers, and our
 * own codes.
 */
#include "gs1_inner.h"

#include <string.h>

#include "base/str.h"
#include "core/code.h"
#include "core/label_code.h"
#include "core/trade_item.h"

/* --- trade item numbers ----------------------------------------------------*/

/* `n` digits, which are 8, 12, 13 or 14. */
void
gs1_take_number(
    struct gs1_scan *s, const struct gs1_reader *r, const char *text, size_t n)
{
	struct gs1_element *e = &s->elements[0];
	char want = gs1_check_digit(text, n - 1), full[16], thirteen[16];
	const char *range;

	s->kind = GS1_EAN;
	if (text[n - 1] != want) {
		gs1_problem(s, GS1_BAD,
		    "%.*s: the check digit is %c but should be %c: read it "
		    "again",
		    (int)n, text, text[n - 1], want);
		return;
	}
	str_fmt(thirteen, sizeof(thirteen), "%s%.*s", n == 12 ? "0" : "",
	    (int)n, text);
	range = n == 14 ? NULL : gs1_restricted(thirteen, n == 8 ? 8 : 13);
	if (range == NULL) {
		str_fmt(full, sizeof(full), "%.*s%.*s", (int)(14 - n), "000000",
		    (int)n, text);
		gs1_add(s, r, "01", full, 14);
		return;
	}
	s->restricted = true;
	s->count = 1;
	str_fmt(e->value, sizeof(e->value), "%.*s", (int)n, text);
	e->title = "RCN";
	str_copy(e->meaning, sizeof(e->meaning), range);
	e->good = true;
}

bool
gs1_number_length(size_t n)
{
	return n == 8 || n == 12 || n == 13 || n == 14;
}

/* EAN/UPC and ITF-14 identifiers promise digits of one length. */
bool
gs1_try_marked(struct gs1_scan *s, const struct gs1_reader *r, const char *text)
{
	static const struct {
		const char *id;
		size_t n, also;
	} marks[] = {
		{ "]E0", 13, 12 },
		{ "]E4", 8, 8 },
		{ "]I1", 14, 14 },
	};
	size_t i, n = strlen(text);

	/* An add-on of 2 or 5 digits belongs to newspapers. */
	if (str_eq(s->symbology, "]E3") && (n == 15 || n == 18) &&
	    gs1_all_digits(text, n)) {
		gs1_take_number(s, r, text, 13);
		gs1_problem(s, GS1_NOTE, "add-on %s left out", text + 13);
		return true;
	}
	for (i = 0; i < sizeof(marks) / sizeof(marks[0]); i++) {
		if (!str_eq(s->symbology, marks[i].id))
			continue;
		if (gs1_all_digits(text, n) &&
		    (n == marks[i].n || n == marks[i].also)) {
			gs1_take_number(s, r, text, n);
			return true;
		}
		s->kind = GS1_EAN;
		gs1_problem(s, GS1_BAD, "%s promises %zu digits, got \"%.40s\"",
		    marks[i].id, marks[i].n, text);
		return true;
	}
	return false;
}

/* --- our own codes ---------------------------------------------------------*/

static void
own_element(struct gs1_scan *s, const char *title, const char *value,
    const char *meaning)
{
	struct gs1_element *e = &s->elements[s->count++];

	memset(e, 0, sizeof(*e));
	str_copy(e->ai, sizeof(e->ai), "91");
	e->title = title;
	str_copy(e->value, sizeof(e->value), value);
	str_copy(e->meaning, sizeof(e->meaning), meaning);
	e->good = true;
}

static void
own_label(struct gs1_scan *s, const struct label_code *c)
{
	char shown[CODE_SIZE], words[48], value[16], meaning[80];
	struct civil d;

	if (c->portion[0] != '\0')
		own_element(
		    s, "PORTION", c->portion, code_show(shown, c->portion));
	if (c->batch[0] != '\0')
		own_element(s, "BATCH", c->batch, code_show(shown, c->batch));
	if (c->use_by.day == DAY_NONE)
		return;
	d = day_civil(c->use_by.day);
	str_fmt(value, sizeof(value), "%02d%02d%02d%02d%02d", d.year % 100,
	    d.month, d.day, c->use_by.hour, c->use_by.minute);
	str_fmt(meaning, sizeof(meaning), "%s %02d:%02d, kitchen's time",
	    day_words(words, sizeof(words), c->use_by.day), c->use_by.hour,
	    c->use_by.minute);
	own_element(s, "USE BY", value, meaning);
}

/*
 * The `n` characters behind this identifier, when they are all there is and
 * digits or capitals; else NULL.
 */
static const char *
only_element(const char *text, const char *ai, size_t n)
{
	const char *p = text + strspn(text, "\x1d");
	char round[8], square[8];
	size_t i;

	str_fmt(round, sizeof(round), "(%s)", ai);
	str_fmt(square, sizeof(square), "[%s]", ai);
	if (strncmp(p, round, 4) == 0 || strncmp(p, square, 4) == 0)
		p += 4;
	else if (strncmp(p, ai, 2) == 0)
		p += 2;
	else
		return NULL;
	for (i = 0; i < n; i++)
		if (!((p[i] >= '0' && p[i] <= '9') ||
			(p[i] >= 'A' && p[i] <= 'Z')))
			return NULL;
	return p[n + strspn(p + n, "\x1d")] == '\0' ? p : NULL;
}

static bool
take_own(struct gs1_scan *s, const char *ai, const char *value, size_t n,
    enum gs1_kind kind)
{
	char symbol[LABEL_SYMBOL_SIZE];
	struct label_code c;
	struct err err = { 0 };

	str_fmt(symbol, sizeof(symbol), "[%s]%.*s", ai, (int)n, value);
	s->kind = kind;
	if (label_code_parse(&c, symbol, &err) == RC_OK)
		own_label(s, &c);
	else
		gs1_problem(s, GS1_BAD, "%s", err.text);
	return true;
}

/* Nothing but (91) or (92) with a string of our labels' width and
 * characters? */
bool
gs1_try_own_label(struct gs1_scan *s, const char *text)
{
	const char *v = only_element(text, "91", LABEL_CODE_LEN);

	if (v != NULL && v[0] <= '9')
		return take_own(s, "91", v, LABEL_CODE_LEN,
		    strncmp(v + 1, "000000", 6) == 0 ? GS1_OWN_BATCH
						     : GS1_OWN_PORTION);
	/* Fourteen bare digits are no trade item number then: behind the
	 * indicator 9 they begin with 21, a range for restricted circulation,
	 * where there are no numbers of 14 digits. */
	v = only_element(text, "92", LABEL_KEY_LEN);
	if (v == NULL || v[0] != '1' || (v[1] != '1' && v[1] != '2'))
		return false;
	return take_own(s, "92", v, LABEL_KEY_LEN,
	    v[1] == '2' ? GS1_OWN_BATCH : GS1_OWN_PORTION);
}

/* A portion label under the kitchen's own prefix. */
bool
gs1_try_own_item(
    struct gs1_scan *s, const struct gs1_reader *r, const char *text)
{
	const struct label_code *c;
	struct trade_item item;
	struct err err = { 0 };
	char when[16];
	struct civil d;

	if (!trade_item_looks_like(text, r->own_prefix))
		return false;
	s->kind = GS1_OWN_PORTION;
	if (trade_item_parse(&item, text, r->own_prefix, &err) != RC_OK) {
		gs1_problem(s, GS1_BAD, "%s", err.text);
		return true;
	}
	c = &item.code;
	d = day_civil(c->use_by.day);
	str_fmt(when, sizeof(when), "%02d%02d%02d%02d%02d", d.year % 100,
	    d.month, d.day, c->use_by.hour, c->use_by.minute);
	gs1_add(s, r, "01", item.gtin, TRADE_ITEM_GTIN);
	if (c->batch[0] == '\0') {
		gs1_add(s, r, "7003", when, 10);
	} else {
		gs1_add(s, r, "17", when, 6);
		gs1_add(s, r, "10", c->batch, strlen(c->batch));
	}
	gs1_add(s, r, "21", c->portion, strlen(c->portion));
	return true;
}

/* Has it the shape of one of our codes, right or wrong? */
enum gs1_kind
gs1_own_shape(const char *s)
{
	size_t n = 0, digits = 0;

	for (; *s != '\0'; s++) {
		if (*s == '-' || *s == ' ')
			continue;
		if (!((*s >= '0' && *s <= '9') || (*s >= 'A' && *s <= 'Z') ||
			(*s >= 'a' && *s <= 'z')))
			return GS1_UNKNOWN;
		if (n < BATCH_CODE_LEN - 1 && *s >= '0' && *s <= '9')
			digits++;
		n++;
	}
	if (n == BATCH_CODE_LEN && digits == BATCH_CODE_LEN - 1)
		return GS1_OWN_BATCH;
	return n == PORTION_CODE_LEN && digits > 0 ? GS1_OWN_PORTION
						   : GS1_UNKNOWN;
}

bool
gs1_try_own_code(struct gs1_scan *s, const char *text)
{
	char code[CODE_SIZE], shown[CODE_SIZE];
	enum code_kind kind;

	if (strchr(text, GS1_GS) != NULL ||
	    code_parse(&kind, code, text, NULL) != RC_OK)
		return false;
	s->kind = kind == CODE_BATCH ? GS1_OWN_BATCH : GS1_OWN_PORTION;
	own_element(s, kind == CODE_BATCH ? "BATCH" : "PORTION", code,
	    code_show(shown, code));
	if (strlen(text) == 8 && gs1_all_digits(text, 8) &&
	    gs1_check_digit(text, 7) == text[7])
		gs1_problem(s, GS1_NOTE,
		    "these digits are also right for an EAN-8; if it came "
		    "from a packet, let the scanner send symbology "
		    "identifiers");
	return true;
}
