/* area.c - where it was caught: FAO areas and their parts. */
#include "core/area.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "row.h"

#define PARTS_MAX 5
#define TEXT_MAX 40

static const char *const columns[] = {
	"code",
	"name",
	"verified",
	"source",
	NULL,
};

static bool
is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool
is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* Two digits, then parts of one or two digits or one small letter. */
static bool
well_formed(const char *s)
{
	size_t i = 0;
	size_t n;
	int parts = 0;

	if (strlen(s) > AREA_CODE_MAX)
		return false;
	for (;; i++) {
		for (n = 0; is_digit(s[i + n]); n++)
			continue;
		if (n == 0 && s[i] >= 'a' && s[i] <= 'z')
			n = 1;
		if (n < 1 || n > 2 || (parts == 0 && n != 2))
			return false;
		if (++parts > PARTS_MAX)
			return false;
		i += n;
		if (s[i] == '\0')
			return true;
		if (s[i] != '.')
			return false;
	}
}

static enum rc
read_row(void *item, const struct csv *c, struct err *err)
{
	struct area *a = item;
	enum rc rc;

	if ((rc = csv_text(a->code, sizeof(a->code), c, "code", false, err)) !=
	    RC_OK)
		return rc;
	if (!well_formed(a->code))
		return row_refuse(c, "code", err,
		    "code \"%.20s\" is not in dot form such as 27.7.e",
		    a->code);
	if ((rc = csv_text(a->name, sizeof(a->name), c, "name", false, err)) !=
	    RC_OK)
		return rc;
	if ((rc = row_yes(&a->verified, c, "verified", err)) != RC_OK)
		return rc;
	return csv_text(a->source, sizeof(a->source), c, "source", false, err);
}

/* The code without its last part; false for a major area. */
static bool
cut_last(char out[AREA_CODE_MAX + 1], const char *code)
{
	char *dot;

	if (!str_copy(out, AREA_CODE_MAX + 1, code))
		return false;
	if ((dot = strrchr(out, '.')) == NULL)
		return false;
	*dot = '\0';
	return true;
}

/* A part follows its whole, so that a slip in a code cannot hide. */
static enum rc
check_row(const void *items, size_t count, const void *item,
    const struct csv *c, struct err *err)
{
	const struct area *before = items;
	const struct area *a = item;
	char parent[AREA_CODE_MAX + 1];
	bool found = !cut_last(parent, a->code);
	size_t i;

	for (i = 0; i < count; i++) {
		if (str_eq(before[i].code, a->code))
			return row_refuse(c, "code", err,
			    "code \"%s\" appears twice", a->code);
		if (!found && str_eq(before[i].code, parent))
			found = true;
	}
	if (found)
		return RC_OK;
	return row_refuse(c, "code", err,
	    "code \"%s\" stands before its parent %s", a->code, parent);
}

static const struct row_spec spec = {
	.columns = columns,
	.size = sizeof(struct area),
	.what = "areas",
	.read = read_row,
	.check = check_row,
};

static int
by_code(const void *a, const void *b)
{
	const struct area *x = a;
	const struct area *y = b;

	return strcmp(x->code, y->code);
}

enum rc
area_parse(struct area_table *out, const char *name, const char *data,
    size_t len, struct err *err)
{
	struct rows rows;
	enum rc rc;

	rc = rows_read(&rows, &spec, name, data, len, err);
	out->items = rows.items;
	out->count = rows.count;
	if (rc == RC_OK)
		qsort(out->items, out->count, sizeof(*out->items), by_code);
	return rc;
}

void
area_fini(struct area_table *t)
{
	free(t->items);
	t->items = NULL;
	t->count = 0;
}

static const struct area *
find_code(const struct area_table *t, const char *code)
{
	struct area key;

	memset(&key, 0, sizeof(key));
	if (t->count == 0 || !str_copy(key.code, sizeof(key.code), code))
		return NULL;
	return bsearch(&key, t->items, t->count, sizeof(*t->items), by_code);
}

/*
 * The ICES subareas in roman figures, as the old style writes them.  The
 * longest that fits is meant: "xiva" is XIV a, never X followed by letters.
 */
static const char *
strip_roman(int *out, const char *s)
{
	static const char *const roman[] = { "i", "ii", "iii", "iv", "v", "vi",
		"vii", "viii", "ix", "x", "xi", "xii", "xiii", "xiv" };
	size_t best = 0;
	size_t n;
	int i;

	for (i = 0; i < (int)(sizeof(roman) / sizeof(roman[0])); i++) {
		n = strlen(roman[i]);
		if (n <= best || strncmp(s, roman[i], n) != 0)
			continue;
		best = n;
		*out = i + 1;
	}
	return best == 0 ? NULL : s + best;
}

/* Does an old style number begin here; where does it end? */
static const char *
strip_number(int *out, const char *s, bool ices)
{
	const char *p = s;
	int n = 0;

	if (!is_digit(*s))
		return strip_roman(out, s);
	while (is_digit(*p) && p - s < 2)
		n = n * 10 + (*p++ - '0');
	/* "7" alone could be area 07; "7e" and "ICES 7" could not. */
	if (n < 1 || n > 14 || (!ices && !is_letter(*p)))
		return NULL;
	*out = n;
	return p;
}

/* "viie", "iiia 20", "3d28.2" to dot form below 27. */
static bool
from_old_style(char out[AREA_CODE_MAX + 1], const char *s, bool ices)
{
	char rest[TEXT_MAX + 1] = "";
	size_t n = 0;
	int number = 0;

	if ((s = strip_number(&number, s, ices)) == NULL)
		return false;
	while (*s != '\0') {
		if (*s == ' ' || *s == '.') {
			s++;
			continue;
		}
		if (n + 4 > TEXT_MAX)
			return false;
		rest[n++] = '.';
		/* A number runs on; letters stand alone. */
		if (!is_digit(*s)) {
			rest[n++] = *s++;
			continue;
		}
		while (is_digit(*s) && n < TEXT_MAX)
			rest[n++] = *s++;
	}
	rest[n] = '\0';
	return str_fmt(out, AREA_CODE_MAX + 1, "27.%d%s", number, rest) &&
	    well_formed(out);
}

static const char *
skip_word(bool *had, const char *s, const char *word)
{
	size_t n = strlen(word);

	*had = strncmp(s, word, n) == 0 && s[n] == ' ';
	return *had ? s + n + 1 : s;
}

/* A code in dot form out of what was typed; false for free text. */
static bool
normalise(char out[AREA_CODE_MAX + 1], const char *text)
{
	char copy[TEXT_MAX + 1];
	const char *s;
	bool fao, ices;

	if (!str_copy(copy, sizeof(copy), text))
		return false;
	str_lower(copy);
	s = skip_word(&fao, str_trim(copy), "fao");
	s = skip_word(&ices, s, "ices");
	while (*s == ' ')
		s++;
	if (str_copy(out, AREA_CODE_MAX + 1, s) && well_formed(out))
		return true;
	/* "27.VIIe" and "27.7e" mix both styles. */
	if (strncmp(s, "27.", 3) == 0 || strncmp(s, "27 ", 3) == 0) {
		s += 3;
		ices = true;
	}
	return from_old_style(out, s, ices);
}

enum rc
area_find(const struct area **out, const struct area_table *t, const char *text,
    struct err *err)
{
	char code[AREA_CODE_MAX + 1], outer[AREA_CODE_MAX + 1];
	const struct area *a;

	if (!normalise(code, text))
		return err_set(err, RC_NOTFOUND, 0,
		    "\"%.40s\" is not a fishing area code such as 27.7.e",
		    text);
	if ((a = find_code(t, code)) != NULL) {
		*out = a;
		return RC_OK;
	}
	while (cut_last(outer, code)) {
		if ((a = find_code(t, outer)) != NULL)
			return err_set(err, RC_NOTFOUND, 0,
			    "no fishing area \"%.40s\"; %s %s is known", text,
			    a->code, a->name);
		if (!str_copy(code, sizeof(code), outer))
			assert(!"a part is shorter than the whole");
	}
	return err_set(err, RC_NOTFOUND, 0, "no fishing area \"%.40s\"", text);
}

const struct area *
area_parent(const struct area_table *t, const struct area *a)
{
	char code[AREA_CODE_MAX + 1];

	return cut_last(code, a->code) ? find_code(t, code) : NULL;
}

int
area_depth(const char *code)
{
	int n = 1;

	for (; *code != '\0'; code++)
		n += *code == '.';
	return n;
}

int
area_major(const char *code)
{
	assert(is_digit(code[0]) && is_digit(code[1]));
	return (code[0] - '0') * 10 + (code[1] - '0');
}

bool
area_within(const char *code, const char *outer)
{
	size_t n = strlen(outer);

	return strncmp(code, outer, n) == 0 &&
	    (code[n] == '\0' || code[n] == '.');
}

bool
area_enough(const char *code)
{
	int major = area_major(code);

	return (major != 27 && major != 37) || area_depth(code) >= 2;
}
