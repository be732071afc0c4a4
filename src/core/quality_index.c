/* quality_index.c - published Quality Index schemes. */
#include "core/quality_index.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "base/units.h"
#include "row.h"

#define POINTS_MAX 100
#define MILLI_MAX 100000

static const char *const columns[] = {
	"scheme",
	"species",
	"attribute",
	"max_points",
	"total",
	"total_is",
	"slope",
	"intercept",
	"verified",
	"source",
	NULL,
};

/* Both fields of a line or none. */
static enum rc
read_line(struct qi_scheme *s, const struct csv *c, struct err *err)
{
	bool slope = csv_get(c, "slope")[0] != '\0';
	bool intercept = csv_get(c, "intercept")[0] != '\0';
	enum rc rc;

	if (slope != intercept)
		return row_refuse(c, slope ? "intercept" : "slope", err,
		    "half of a line: slope and intercept go together");
	s->has_line = slope;
	if (!slope)
		return RC_OK;
	if ((rc = row_int(&s->slope_milli, c, "slope", 1, MILLI_MAX, err)) !=
	    RC_OK)
		return rc;
	return row_int(
	    &s->intercept_milli, c, "intercept", -MILLI_MAX, MILLI_MAX, err);
}

/* One row: a scheme with a single attribute. */
static enum rc
read_row(void *item, const struct csv *c, struct err *err)
{
	static const char *const kinds[] = { "summed", "printed" };
	struct qi_scheme *s = item;
	struct qi_attribute *a = &s->attribute[0];
	int i;
	enum rc rc;

	s->attributes = 1;
	if ((rc = csv_text(
		 s->name, sizeof(s->name), c, "scheme", false, err)) != RC_OK)
		return rc;
	if ((rc = row_code(s->species, c, "species", true, err)) != RC_OK)
		return rc;
	if ((rc = csv_text(
		 a->name, sizeof(a->name), c, "attribute", true, err)) != RC_OK)
		return rc;
	if ((rc = row_int(
		 &a->max_points, c, "max_points", 1, POINTS_MAX, err)) != RC_OK)
		return rc;
	if ((rc = row_int(&s->total, c, "total", 1, POINTS_MAX, err)) != RC_OK)
		return rc;
	if ((rc = row_word(&i, c, "total_is", kinds, 2, err)) != RC_OK)
		return rc;
	s->printed = i == 1;
	if ((rc = read_line(s, c, err)) != RC_OK)
		return rc;
	if ((rc = row_yes(&s->verified, c, "verified", err)) != RC_OK)
		return rc;
	return csv_text(s->source, sizeof(s->source), c, "source", false, err);
}

static bool
same_scheme(const struct qi_scheme *a, const struct qi_scheme *b)
{
	return str_eq(a->species, b->species) && a->total == b->total &&
	    a->printed == b->printed && a->has_line == b->has_line &&
	    a->slope_milli == b->slope_milli &&
	    a->intercept_milli == b->intercept_milli &&
	    a->verified == b->verified && str_eq(a->source, b->source);
}

static enum rc
check_row(const void *items, size_t count, const void *item,
    const struct csv *c, struct err *err)
{
	const struct qi_scheme *before = items;
	const struct qi_scheme *s = item;
	size_t i, same = 0;

	for (i = 0; i < count; i++) {
		if (!str_eq(before[i].name, s->name))
			continue;
		same++;
		if (!str_eq(before[count - 1].name, s->name))
			return row_refuse(c, "scheme", err,
			    "rows of \"%s\" do not stand together", s->name);
		if (!same_scheme(&before[i], s))
			return row_refuse(c, "scheme", err,
			    "this row of \"%s\" differs from its first row",
			    s->name);
		if (str_eq(before[i].attribute[0].name, s->attribute[0].name))
			return row_refuse(c, "attribute", err,
			    "attribute \"%s\" appears twice",
			    s->attribute[0].name);
		if (s->attribute[0].name[0] == '\0' ||
		    before[i].attribute[0].name[0] == '\0')
			return row_refuse(c, "attribute", err,
			    "a scheme of totals only has one row");
	}
	if (same >= QI_ATTRIBUTES_MAX)
		return row_refuse(c, "attribute", err,
		    "more than %d attributes", QI_ATTRIBUTES_MAX);
	return RC_OK;
}

static const struct row_spec spec = {
	.columns = columns,
	.size = sizeof(struct qi_scheme),
	.what = "schemes",
	.read = read_row,
	.check = check_row,
};

/* The rows of a scheme stand together: gather them. */
static void
merge(struct qi_table *t, const struct qi_scheme *rows, size_t count)
{
	struct qi_scheme *last;
	size_t i;

	t->items = xcalloc(count, sizeof(*t->items));
	for (i = 0; i < count; i++) {
		last = t->count == 0 ? NULL : &t->items[t->count - 1];
		if (last == NULL || !str_eq(last->name, rows[i].name))
			t->items[t->count++] = rows[i];
		else
			last->attribute[last->attributes++] =
			    rows[i].attribute[0];
	}
}

/* A slip in one maximum would move every total after it. */
static enum rc
check_sums(const struct qi_table *t, const char *name, struct err *err)
{
	const struct qi_scheme *s;
	size_t i, k;
	int sum;

	for (i = 0; i < t->count; i++) {
		s = &t->items[i];
		sum = 0;
		for (k = 0; k < s->attributes; k++)
			sum += s->attribute[k].max_points;
		if (sum != s->total)
			return err_set(err, RC_INVALID, 0,
			    "%s:1:1: maxima of \"%s\" add up to %d, not to %d",
			    name, s->name, sum, s->total);
	}
	return RC_OK;
}

enum rc
qi_parse(struct qi_table *out, const char *name, const char *data, size_t len,
    struct err *err)
{
	struct rows rows;
	enum rc rc;

	out->items = NULL;
	out->count = 0;
	if ((rc = rows_read(&rows, &spec, name, data, len, err)) == RC_OK) {
		merge(out, rows.items, rows.count);
		rc = check_sums(out, name, err);
	}
	if (rc != RC_OK)
		qi_fini(out);
	free(rows.items);
	return rc;
}

void
qi_fini(struct qi_table *t)
{
	free(t->items);
	t->items = NULL;
	t->count = 0;
}

const struct qi_scheme *
qi_for_species(const struct qi_table *t, const char *species, size_t n)
{
	size_t i;

	for (i = 0; i < t->count; i++)
		if (t->items[i].species[0] != '\0' &&
		    str_eq_nocase(t->items[i].species, species) && n-- == 0)
			return &t->items[i];
	return NULL;
}

const struct qi_scheme *
qi_find(const struct qi_table *t, const char *name)
{
	size_t i;

	for (i = 0; i < t->count; i++)
		if (str_eq_nocase(t->items[i].name, name))
			return &t->items[i];
	return NULL;
}

/* Index of the attribute, or the number of them. */
static size_t
find_attribute(const struct qi_scheme *s, const char *name)
{
	size_t i;

	for (i = 0; i < s->attributes; i++)
		if (str_eq_nocase(s->attribute[i].name, name))
			break;
	return i;
}

enum rc
qi_total(int *out, const struct qi_scheme *s, const struct qi_mark *marks,
    size_t count, struct err *err)
{
	bool got[QI_ATTRIBUTES_MAX] = { false };
	int sum = 0;
	size_t i, at;

	if (s->attribute[0].name[0] == '\0')
		return err_set(err, RC_INVALID, 0,
		    "only the total of %s is published", s->name);
	for (i = 0; i < count; i++) {
		at = find_attribute(s, marks[i].attribute);
		if (at == s->attributes)
			return err_set(err, RC_INVALID, 0,
			    "%s has no attribute \"%.40s\"", s->name,
			    marks[i].attribute);
		if (got[at])
			return err_set(err, RC_INVALID, 0, "%s is marked twice",
			    s->attribute[at].name);
		if (marks[i].points < 0 ||
		    marks[i].points > s->attribute[at].max_points)
			return err_set(err, RC_INVALID, 0,
			    "%d points for %s, it takes 0 to %d",
			    marks[i].points, s->attribute[at].name,
			    s->attribute[at].max_points);
		got[at] = true;
		sum += marks[i].points;
	}
	for (i = 0; i < s->attributes; i++)
		if (!got[i])
			return err_set(err, RC_INVALID, 0,
			    "%s is not marked; a total needs every attribute",
			    s->attribute[i].name);
	*out = sum;
	return RC_OK;
}

enum rc
qi_days(int *tenths, const struct qi_scheme *s, int points, struct err *err)
{
	int64_t above;

	if (points < 0 || points > s->total)
		return err_set(err, RC_INVALID, 0,
		    "%d points, %s takes 0 to %d", points, s->name, s->total);
	if (!s->has_line)
		return err_set(err, RC_NOTFOUND, 0,
		    "no line from points to days is published for %s", s->name);
	above = (int64_t)points * 1000 - s->intercept_milli;
	/* Rounded up: a fish is never told younger than its points. */
	*tenths = above <= 0 ? 0 : (int)div_up(above * 10, s->slope_milli);
	return RC_OK;
}
