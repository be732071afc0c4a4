/* species.c - the species table: names, body form, allergen group. */
#include "core/species.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/csv.h"
#include "base/mem.h"
#include "base/str.h"
#include "base/units.h"

#define FORM_WORDS 7
#define ALLERGEN_WORDS 3
#define PIECES_MAX 8
#define SUGGESTIONS_MAX 5

static const char *const form_words[FORM_WORDS] = {
	[FORM_ROUND] = "round",
	[FORM_FLAT] = "flat",
	[FORM_CARTILAGINOUS] = "cartilaginous",
	[FORM_CRUSTACEAN] = "crustacean",
	[FORM_BIVALVE] = "bivalve",
	[FORM_GASTROPOD] = "gastropod",
	[FORM_CEPHALOPOD] = "cephalopod",
};

static const char *const allergen_words[ALLERGEN_WORDS] = {
	[ALLERGEN_FISH] = "fish",
	[ALLERGEN_CRUSTACEANS] = "crustaceans",
	[ALLERGEN_MOLLUSCS] = "molluscs",
};

static const char *const columns[] = {
	"code",
	"name",
	"scientific",
	"form",
	"pieces",
	"piece",
	"allergen",
	"histamine",
	"code_source",
	"pieces_source",
	"allergen_source",
	"histamine_source",
	"note",
	NULL,
};

bool
species_sold_as(const struct species *sp, enum presentation p)
{
	bool fish = sp->allergen == ALLERGEN_FISH;

	switch (p) {
	case PRES_WHOLE:
	case PRES_TAIL:
		return true;
	case PRES_GUTTED:
	case PRES_HEADED:
	case PRES_FILLET:
	case PRES_FILLET_SKINLESS:
	case PRES_LOIN:
		/* a cephalopod is cleaned, which the trade calls gutted */
		return fish ||
		    (sp->form == FORM_CEPHALOPOD && p == PRES_GUTTED);
	case PRES_WING:
		return sp->form == FORM_CARTILAGINOUS;
	case PRES_LIVE:
	case PRES_SHUCKED:
		return !fish;
	case PRES_COUNT:
		break;
	}
	return false;
}

const char *
body_form_word(enum body_form form)
{
	assert((unsigned)form < FORM_WORDS);
	return form_words[form];
}

const char *
allergen_word(enum allergen a)
{
	assert((unsigned)a < ALLERGEN_WORDS);
	return allergen_words[a];
}

/* The group Annex II of Reg. (EU) 1169/2011 puts such an animal in. */
static enum allergen
form_allergen(enum body_form form)
{
	switch (form) {
	case FORM_ROUND:
	case FORM_FLAT:
	case FORM_CARTILAGINOUS:
		return ALLERGEN_FISH;
	case FORM_CRUSTACEAN:
		return ALLERGEN_CRUSTACEANS;
	case FORM_BIVALVE:
	case FORM_GASTROPOD:
	case FORM_CEPHALOPOD:
		return ALLERGEN_MOLLUSCS;
	}
	assert(!"a body form that is not in the list");
	return ALLERGEN_FISH;
}

/* Index of the field among `count` words. */
static enum rc
read_word(int *out, const struct csv *c, const char *column,
    const char *const *words, int count, struct err *err)
{
	const char *s = csv_get(c, column);
	struct buf known;
	enum rc rc;
	int i;

	for (i = 0; i < count; i++) {
		if (!str_eq(s, words[i]))
			continue;
		*out = i;
		return RC_OK;
	}
	buf_init(&known, 200);
	for (i = 0; i < count; i++)
		buf_printf(&known, "%s%s", i == 0 ? "" : ", ", words[i]);
	rc = err_set(err, RC_INVALID, 0, "%s \"%.40s\" is not one of %s",
	    column, s, buf_text(&known));
	buf_fini(&known);
	return csv_fail(c, column, rc, err);
}

static enum rc
read_code(struct species *s, const struct csv *c, struct err *err)
{
	const char *code = csv_get(c, "code");
	size_t i;
	enum rc rc;

	for (i = 0; i < 3 && code[i] >= 'A' && code[i] <= 'Z'; i++)
		s->code[i] = code[i];
	if (i == 3 && code[3] == '\0')
		return RC_OK;
	rc = err_set(err, RC_INVALID, 0,
	    "code \"%.40s\" is not three capital letters", code);
	return csv_fail(c, "code", rc, err);
}

static enum rc
read_pieces(struct species *s, const struct csv *c, struct err *err)
{
	static const char *const words[] = { "", "fillet", "loin", "wing" };
	int64_t n;
	int word;
	enum rc rc;

	rc = int_parse(&n, "pieces", csv_get(c, "pieces"), 0, PIECES_MAX, err);
	if (rc != RC_OK)
		return csv_fail(c, "pieces", rc, err);
	if ((rc = read_word(&word, c, "piece", words, 4, err)) != RC_OK)
		return rc;
	if ((n == 0) != (word == 0)) {
		rc = err_set(err, RC_INVALID, 0,
		    n == 0 ? "a piece is named though pieces is 0"
			   : "the word of the pieces is missing");
		return csv_fail(c, "piece", rc, err);
	}
	s->pieces = (int)n;
	if (!str_copy(s->piece_word, sizeof(s->piece_word), words[word]))
		assert(!"every word fits");
	return RC_OK;
}

static enum rc
read_groups(struct species *s, const struct csv *c, struct err *err)
{
	static const char *const yes_no[] = { "no", "yes" };
	int i;
	enum rc rc;

	if ((rc = read_word(&i, c, "form", form_words, FORM_WORDS, err)) !=
	    RC_OK)
		return rc;
	s->form = (enum body_form)i;
	rc = read_word(&i, c, "allergen", allergen_words, ALLERGEN_WORDS, err);
	if (rc != RC_OK)
		return rc;
	s->allergen = (enum allergen)i;
	/* A slip here would put the wrong allergen on every label. */
	if (s->allergen != form_allergen(s->form)) {
		rc = err_set(err, RC_INVALID, 0,
		    "allergen \"%s\" does not go with form \"%s\"",
		    allergen_word(s->allergen), body_form_word(s->form));
		return csv_fail(c, "allergen", rc, err);
	}
	if ((rc = read_word(&i, c, "histamine", yes_no, 2, err)) != RC_OK)
		return rc;
	s->histamine = i == 1;
	return RC_OK;
}

static enum rc
read_row(struct species *s, const struct csv *c, struct err *err)
{
	char source[200];
	enum rc rc;

	memset(s, 0, sizeof(*s));
	if ((rc = read_code(s, c, err)) != RC_OK)
		return rc;
	if ((rc = csv_text(s->name, sizeof(s->name), c, "name", false, err)) !=
	    RC_OK)
		return rc;
	if ((rc = csv_text(s->scientific, sizeof(s->scientific), c,
		 "scientific", false, err)) != RC_OK)
		return rc;
	if ((rc = read_groups(s, c, err)) != RC_OK)
		return rc;
	if ((rc = read_pieces(s, c, err)) != RC_OK)
		return rc;
	if ((rc = csv_text(s->code_source, sizeof(s->code_source), c,
		 "code_source", false, err)) != RC_OK)
		return rc;
	if ((rc = csv_text(s->pieces_source, sizeof(s->pieces_source), c,
		 "pieces_source", false, err)) != RC_OK)
		return rc;
	/* Checked so that no figure stands without a source; not kept. */
	if ((rc = csv_text(source, sizeof(source), c, "allergen_source", false,
		 err)) != RC_OK)
		return rc;
	if ((rc = csv_text(source, sizeof(source), c, "histamine_source", false,
		 err)) != RC_OK)
		return rc;
	return csv_text(s->note, sizeof(s->note), c, "note", true, err);
}

/* By code first, then by either name. */
static const struct species *
find_any(const struct species_table *t, const char *text)
{
	const struct species *s = NULL;
	size_t i;

	for (i = 0; i < t->count && s == NULL; i++)
		if (str_eq_nocase(t->items[i].code, text))
			s = &t->items[i];
	for (i = 0; i < t->count && s == NULL; i++)
		if (str_eq_nocase(t->items[i].name, text) ||
		    str_eq_nocase(t->items[i].scientific, text))
			s = &t->items[i];
	return s;
}

/* A code or name that two rows answer to would pick one of them unseen. */
static enum rc
check_unique(const struct species_table *t, const struct species *s,
    const struct csv *c, struct err *err)
{
	const char *const text[] = { s->code, s->name, s->scientific };
	const struct species *other;
	size_t i;
	enum rc rc;

	for (i = 0; i < sizeof(text) / sizeof(text[0]); i++) {
		if ((other = find_any(t, text[i])) == NULL)
			continue;
		rc = err_set(err, RC_INVALID, 0,
		    "\"%s\" already stands for %s %s", text[i], other->code,
		    other->name);
		return csv_fail(c, columns[i], rc, err);
	}
	return RC_OK;
}

static int
by_code(const void *a, const void *b)
{
	const struct species *x = a;
	const struct species *y = b;

	return strcmp(x->code, y->code);
}

enum rc
species_parse(struct species_table *out, const char *name, const char *data,
    size_t len, struct err *err)
{
	struct species_table t = { NULL, 0 };
	struct species s;
	struct csv *c = NULL;
	size_t cap = 0;
	enum rc rc;

	*out = t;
	if ((rc = csv_open(&c, name, data, len, columns, NULL, err)) != RC_OK)
		goto done;
	while ((rc = csv_next(c, err)) == RC_OK) {
		if ((rc = read_row(&s, c, err)) != RC_OK)
			goto done;
		if ((rc = check_unique(&t, &s, c, err)) != RC_OK)
			goto done;
		t.items = grow(t.items, &cap, t.count, sizeof(*t.items));
		t.items[t.count++] = s;
	}
	if (rc != RC_END)
		goto done;
	if (t.count == 0) {
		rc = err_set(
		    err, RC_INVALID, 0, "%s:1:1: no species in it", name);
		goto done;
	}
	qsort(t.items, t.count, sizeof(*t.items), by_code);
	*out = t;
	t.items = NULL;
	rc = RC_OK;
done:
	free(t.items);
	csv_close(c);
	return rc;
}

void
species_fini(struct species_table *t)
{
	free(t->items);
	t->items = NULL;
	t->count = 0;
}

const struct species *
species_find(const struct species_table *t, const char *code)
{
	struct species key;

	memset(&key, 0, sizeof(key));
	if (!str_copy(key.code, sizeof(key.code), code) || t->count == 0)
		return NULL;
	str_upper(key.code);
	return bsearch(&key, t->items, t->count, sizeof(*t->items), by_code);
}

/* Does a word of `name` begin with the first `n` bytes of `text`? */
static bool
word_begins(const char *name, const char *text, size_t n)
{
	char head[48], want[48];
	const char *p;
	bool start = true;

	if (n == 0 || n >= sizeof(want))
		return false;
	memcpy(want, text, n);
	want[n] = '\0';
	for (p = name; *p != '\0'; p++) {
		if (start && strlen(p) >= n) {
			memcpy(head, p, n);
			head[n] = '\0';
			if (str_eq_nocase(head, want))
				return true;
		}
		start = *p == ' ' || *p == '(' || *p == '-';
	}
	return false;
}

/* Codes whose names begin alike, or "" when there are none. */
static void
suggest(struct buf *b, const struct species_table *t, const char *text)
{
	const struct species *s;
	size_t len = strlen(text);
	size_t want[2];
	size_t i, pass;
	int found = 0;

	want[0] = len;
	want[1] = len < 3 ? len : 3;
	for (pass = 0; pass < 2 && found == 0; pass++)
		for (i = 0; i < t->count && found < SUGGESTIONS_MAX; i++) {
			s = &t->items[i];
			if (!word_begins(s->name, text, want[pass]) &&
			    !word_begins(s->scientific, text, want[pass]))
				continue;
			buf_printf(b, "%s%s %s", found++ == 0 ? "" : ", ",
			    s->code, s->name);
		}
}

enum rc
species_get(const struct species **out, const struct species_table *t,
    const char *text, struct err *err)
{
	const struct species *s = find_any(t, text);
	struct buf names;
	enum rc rc;

	if (s != NULL) {
		*out = s;
		return RC_OK;
	}
	buf_init(&names, 400);
	suggest(&names, t, text);
	if (names.len == 0)
		rc = err_set(err, RC_NOTFOUND, 0, "no species \"%.40s\"", text);
	else
		rc = err_set(err, RC_NOTFOUND, 0,
		    "no species \"%.40s\"; names that begin alike: %s", text,
		    buf_text(&names));
	buf_fini(&names);
	return rc;
}
