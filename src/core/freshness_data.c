/* freshness_data.c - reading the freshness words and who is judged by them. */
#include "core/freshness.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "row.h"

static const char *const words_columns[] = {
	"group",
	"attribute",
	"only",
	"when",
	"grade",
	"text",
	"verified",
	"source",
	NULL,
};

static const char *const species_columns[] = {
	"species",
	"group",
	"basis",
	"verified",
	"source",
	NULL,
};

static const char *const when_words[WHEN_COUNT] = {
	[WHEN_ANY] = "any",
	[WHEN_HEAD] = "head-on",
	[WHEN_GUTTED] = "gutted",
	[WHEN_HEADED] = "headed",
	[WHEN_SKIN] = "skin-on",
	[WHEN_RAW] = "not-live",
	[WHEN_LIVE] = "live",
};

static enum rc
read_group(enum freshness_group *out, const struct csv *c, struct err *err)
{
	const char *words[FRESHNESS_GROUP_COUNT];
	int i;
	enum rc rc;

	for (i = 0; i < FRESHNESS_GROUP_COUNT; i++)
		words[i] = freshness_group_word((enum freshness_group)i);
	if ((rc = row_word(
		 &i, c, "group", words, FRESHNESS_GROUP_COUNT, err)) != RC_OK)
		return rc;
	*out = (enum freshness_group)i;
	return RC_OK;
}

/* Codes of three capitals with single blanks between, "not" before them for
 * everyone else. */
static bool
only_is_good(const char *s)
{
	if (s[0] == '\0')
		return true;
	if (strncmp(s, "not ", 4) == 0)
		s += 4;
	for (;; s += 4) {
		if (strspn(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != 3)
			return false;
		if (s[3] == '\0')
			return true;
		if (s[3] != ' ')
			return false;
	}
}

/* One row: an attribute with the words of one grade filled. */
static enum rc
read_words(void *item, const struct csv *c, struct err *err)
{
	struct freshness_attribute *a = item;
	struct freshness_words *w;
	const char *words[GRADE_COUNT];
	int i;
	enum rc rc;

	if ((rc = read_group(&a->group, c, err)) != RC_OK)
		return rc;
	if (a->group == FRESHNESS_NO_TABLE)
		return row_refuse(
		    c, "group", err, "words for a group without a table");
	if ((rc = csv_text(a->name, sizeof(a->name), c, "attribute", false,
		 err)) != RC_OK)
		return rc;
	if ((rc = csv_text(a->only, sizeof(a->only), c, "only", true, err)) !=
	    RC_OK)
		return rc;
	if (!only_is_good(a->only))
		return row_refuse(c, "only", err,
		    "only \"%.40s\" is not codes such as PLE or not PLE",
		    a->only);
	if ((rc = row_word(&i, c, "when", when_words, WHEN_COUNT, err)) !=
	    RC_OK)
		return rc;
	a->when = (enum freshness_when)i;
	for (i = 0; i < GRADE_COUNT; i++)
		words[i] = freshness_grade_word((enum freshness_grade)i);
	if ((rc = row_word(&i, c, "grade", words, GRADE_COUNT, err)) != RC_OK)
		return rc;
	w = &a->grade[i];
	if ((rc = csv_text(w->text, sizeof(w->text), c, "text", false, err)) !=
	    RC_OK)
		return rc;
	if ((rc = row_yes(&w->verified, c, "verified", err)) != RC_OK)
		return rc;
	return csv_text(w->source, sizeof(w->source), c, "source", false, err);
}

static bool
same_attribute(
    const struct freshness_attribute *a, const struct freshness_attribute *b)
{
	return a->group == b->group && str_eq(a->name, b->name) &&
	    str_eq(a->only, b->only);
}

static enum rc
check_words(const void *items, size_t count, const void *item,
    const struct csv *c, struct err *err)
{
	const struct freshness_attribute *before = items;
	const struct freshness_attribute *a = item;
	bool same, seen = false;
	size_t i, others = 0;
	int g;

	for (i = 0; i < count; i++) {
		if (before[i].group != a->group)
			continue;
		same = same_attribute(&before[i], a);
		seen = seen || same;
		others += !same && before[i].grade[GRADE_EXTRA].text[0] != '\0';
		if (!same)
			continue;
		if (before[i].when != a->when)
			return row_refuse(c, "when", err,
			    "when differs from the row above for %s", a->name);
		for (g = 0; g < GRADE_COUNT; g++)
			if (before[i].grade[g].text[0] != '\0' &&
			    a->grade[g].text[0] != '\0')
				return row_refuse(c, "grade", err,
				    "a second grade %s for %s",
				    freshness_grade_word(
					(enum freshness_grade)g),
				    a->name);
	}
	if (!seen && a->grade[GRADE_EXTRA].text[0] == '\0')
		return row_refuse(c, "grade", err,
		    "%s does not begin with grade extra", a->name);
	if (others >= FRESHNESS_MARKS_MAX)
		return row_refuse(c, "attribute", err,
		    "more than %d attributes in one group",
		    FRESHNESS_MARKS_MAX);
	return RC_OK;
}

static const struct row_spec words_spec = {
	.columns = words_columns,
	.size = sizeof(struct freshness_attribute),
	.what = "freshness words",
	.read = read_words,
	.check = check_words,
};

/* Rows of one attribute become one item, in the order they first appear. */
static void
merge(struct freshness_table *t, const struct freshness_attribute *rows,
    size_t count)
{
	size_t i, k;
	int g;

	t->items = xcalloc(count, sizeof(*t->items));
	t->count = 0;
	for (i = 0; i < count; i++) {
		for (k = 0; k < t->count; k++)
			if (same_attribute(&t->items[k], &rows[i]))
				break;
		if (k == t->count) {
			t->items[t->count++] = rows[i];
			continue;
		}
		for (g = 0; g < GRADE_COUNT; g++)
			if (rows[i].grade[g].text[0] != '\0')
				t->items[k].grade[g] = rows[i].grade[g];
	}
}

enum rc
freshness_parse(struct freshness_table *out, const char *name, const char *data,
    size_t len, struct err *err)
{
	struct rows rows;
	enum rc rc;

	out->items = NULL;
	out->count = 0;
	rc = rows_read(&rows, &words_spec, name, data, len, err);
	if (rc == RC_OK)
		merge(out, rows.items, rows.count);
	free(rows.items);
	return rc;
}

static enum rc
read_species(void *item, const struct csv *c, struct err *err)
{
	static const char *const basis[] = { "choice", "law" };
	struct freshness_species *s = item;
	int i;
	enum rc rc;

	if ((rc = row_code(s->code, c, "species", false, err)) != RC_OK)
		return rc;
	if ((rc = read_group(&s->group, c, err)) != RC_OK)
		return rc;
	if ((rc = row_word(&i, c, "basis", basis, 2, err)) != RC_OK)
		return rc;
	s->law = i == 1;
	if ((rc = row_yes(&s->verified, c, "verified", err)) != RC_OK)
		return rc;
	return csv_text(s->source, sizeof(s->source), c, "source", false, err);
}

static enum rc
check_species(const void *items, size_t count, const void *item,
    const struct csv *c, struct err *err)
{
	const struct freshness_species *before = items;
	const struct freshness_species *s = item;
	size_t i;

	for (i = 0; i < count; i++)
		if (str_eq(before[i].code, s->code))
			return row_refuse(c, "species", err,
			    "species %s appears twice", s->code);
	return RC_OK;
}

static const struct row_spec species_spec = {
	.columns = species_columns,
	.size = sizeof(struct freshness_species),
	.what = "species",
	.read = read_species,
	.check = check_species,
};

static int
by_code(const void *a, const void *b)
{
	const struct freshness_species *x = a;
	const struct freshness_species *y = b;

	return strcmp(x->code, y->code);
}

enum rc
freshness_species_parse(struct freshness_species_table *out, const char *name,
    const char *data, size_t len, struct err *err)
{
	struct rows rows;
	enum rc rc;

	rc = rows_read(&rows, &species_spec, name, data, len, err);
	out->items = rows.items;
	out->count = rows.count;
	if (rc == RC_OK)
		qsort(out->items, out->count, sizeof(*out->items), by_code);
	return rc;
}

void
freshness_fini(struct freshness_table *t)
{
	free(t->items);
	t->items = NULL;
	t->count = 0;
}

void
freshness_species_fini(struct freshness_species_table *t)
{
	free(t->items);
	t->items = NULL;
	t->count = 0;
}

const struct freshness_species *
freshness_species_find(
    const struct freshness_species_table *t, const char *code)
{
	struct freshness_species key;

	memset(&key, 0, sizeof(key));
	if (t->count == 0 || !str_copy(key.code, sizeof(key.code), code))
		return NULL;
	str_upper(key.code);
	return bsearch(&key, t->items, t->count, sizeof(*t->items), by_code);
}
