/*
 * gs1_forms.c - scans that are no element string: trade item numbers, and our
 * own codes.
 */
#include "gs1_inner.h"

#include <string.h>

#include "base/str.h"
#include "core/code.h"
#include "core/label_code.h"

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
	struct civil d = day_civil(c->use_by.day);

	if (c->portion[0] != '\0')
		own_element(
		    s, "PORTION", c->portion, code_show(shown, c->portion));
	own_element(s, "BATCH", c->batch, code_show(shown, c->batch));
	str_fmt(value, sizeof(value), "%02d%02d%02d%02d%02d", d.year % 100,
	    d.month, d.day, c->use_by.hour, c->use_by.minute);
	str_fmt(meaning, sizeof(meaning), "%s %02d:%02d, kitchen's time",
	    day_words(words, sizeof(words), c->use_by.day), c->use_by.hour,
	    c->use_by.minute);
	own_element(s, "USE BY", value, meaning);
}

/* Nothing but (91) with a string of our labels' width and characters? */
bool
gs1_try_own_label(struct gs1_scan *s, const char *text)
{
	const char *p = text, *v;
	struct label_code c;
	struct err err = { 0 };
	char symbol[LABEL_SYMBOL_SIZE];
	size_t i;

	while (*p == GS1_GS)
		p++;
	v = p;
	if (strncmp(p, "(91)", 4) == 0 || strncmp(p, "[91]", 4) == 0)
		v += 4;
	else if (strncmp(p, "91", 2) == 0)
		v += 2;
	else
		return false;
	for (i = 0; i < LABEL_CODE_LEN; i++)
		if (!((v[i] >= '0' && v[i] <= '9') ||
			(v[i] >= 'A' && v[i] <= 'Z')))
			return false;
	if (v[i + strspn(v + i, "\x1d")] != '\0' || v[0] > '9')
		return false;
	str_fmt(symbol, sizeof(symbol), "[91]%.*s", LABEL_CODE_LEN, v);
	s->kind =
	    strncmp(v + 1, "000000", 6) == 0 ? GS1_OWN_BATCH : GS1_OWN_PORTION;
	if (label_code_parse(&c, symbol, &err) == RC_OK)
		own_label(s, &c);
	else
		gs1_problem(s, GS1_BAD, "%s", err.text);
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
