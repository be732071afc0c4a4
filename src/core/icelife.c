/* icelife.c - how long a species keeps in ice, and how warmth eats it. */
#include "core/icelife.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "base/units.h"
#include "row.h"

#define DAYS_MAX_X100 20000 /* 200 days: no fish keeps so long in ice */
#define DAY_MINUTES 1440
#define CONVERT_MAX_X100 1000000
#define TEMP_MAX 600

static const char *const columns[] = {
	"species",
	"form",
	"medium",
	"temp_c",
	"days_low",
	"days_high",
	"criterion",
	"faster_above_c",
	"use",
	"mark",
	"source",
	"note",
	NULL,
};

static const char *const forms[ICELIFE_FORM_COUNT] = {
	[ICELIFE_WHOLE] = "whole",
	[ICELIFE_FILLET] = "fillet",
	[ICELIFE_MEAT] = "meat",
	[ICELIFE_LIVE] = "live",
};

static const char *const marks[ICELIFE_MARK_COUNT] = {
	[ICELIFE_READ] = "read",
	[ICELIFE_DAMAGED] = "damaged copy",
	[ICELIFE_MEMORY] = "memory",
};

const char *
icelife_form_word(enum icelife_form form)
{
	assert((unsigned)form < ICELIFE_FORM_COUNT);
	return forms[form];
}

static enum rc
read_scaled(int *out, const struct csv *c, const char *column, int scale,
    int max, struct err *err)
{
	int64_t n;
	enum rc rc;

	rc = decimal_parse(&n, column, csv_get(c, column), scale, err);
	if (rc != RC_OK)
		return csv_fail(c, column, rc, err);
	if (n > max || n <= -100)
		return row_refuse(c, column, err,
		    "%s \"%.20s\" is out of range", column, csv_get(c, column));
	*out = (int)n;
	return RC_OK;
}

static enum rc
read_figures(struct icelife *l, const struct csv *c, struct err *err)
{
	enum rc rc;

	if ((rc = read_scaled(
		 &l->temp_tenths, c, "temp_c", 1, TEMP_MAX, err)) != RC_OK)
		return rc;
	if ((rc = read_scaled(
		 &l->low_x100, c, "days_low", 2, DAYS_MAX_X100, err)) != RC_OK)
		return rc;
	if (l->low_x100 <= 0)
		return row_refuse(
		    c, "days_low", err, "days_low is not above 0");
	if ((rc = read_scaled(&l->high_x100, c, "days_high", 2, DAYS_MAX_X100,
		 err)) != RC_OK)
		return rc;
	if (l->high_x100 < l->low_x100)
		return row_refuse(
		    c, "days_high", err, "days_high is below days_low");
	l->faster_above = ICELIFE_NO_WARNING;
	if (csv_get(c, "faster_above_c")[0] == '\0')
		return RC_OK;
	rc = read_scaled(
	    &l->faster_above, c, "faster_above_c", 1, TEMP_MAX, err);
	if (rc == RC_OK && l->faster_above < 0)
		return row_refuse(
		    c, "faster_above_c", err, "faster_above_c is below 0");
	return rc;
}

static enum rc
read_texts(struct icelife *l, const struct csv *c, struct err *err)
{
	int i;
	enum rc rc;

	if ((rc = csv_text(l->medium, sizeof(l->medium), c, "medium", false,
		 err)) != RC_OK)
		return rc;
	if ((rc = csv_text(l->criterion, sizeof(l->criterion), c, "criterion",
		 false, err)) != RC_OK)
		return rc;
	if ((rc = row_yes(&l->use, c, "use", err)) != RC_OK)
		return rc;
	if ((rc = row_word(&i, c, "mark", marks, ICELIFE_MARK_COUNT, err)) !=
	    RC_OK)
		return rc;
	l->mark = (enum icelife_mark)i;
	if (l->use && l->mark == ICELIFE_MEMORY)
		return row_refuse(
		    c, "use", err, "a figure from memory is never used");
	if (l->use && l->temp_tenths < 0)
		return row_refuse(c, "use", err,
		    "a figure from below 0 C is too long for ice");
	if ((rc = csv_text(l->source, sizeof(l->source), c, "source", false,
		 err)) != RC_OK)
		return rc;
	return csv_text(l->note, sizeof(l->note), c, "note", true, err);
}

static enum rc
read_row(void *item, const struct csv *c, struct err *err)
{
	struct icelife *l = item;
	int i;
	enum rc rc;

	if ((rc = row_code(l->species, c, "species", false, err)) != RC_OK)
		return rc;
	if ((rc = row_word(&i, c, "form", forms, ICELIFE_FORM_COUNT, err)) !=
	    RC_OK)
		return rc;
	l->form = (enum icelife_form)i;
	if ((rc = read_figures(l, c, err)) != RC_OK)
		return rc;
	return read_texts(l, c, err);
}

static enum rc
check_row(const void *items, size_t count, const void *item,
    const struct csv *c, struct err *err)
{
	const struct icelife *before = items;
	const struct icelife *l = item;
	size_t i;

	for (i = 0; l->use && i < count; i++)
		if (before[i].use && before[i].form == l->form &&
		    str_eq(before[i].species, l->species))
			return row_refuse(c, "use", err,
			    "a second figure in use for %s %s", l->species,
			    forms[l->form]);
	return RC_OK;
}

static const struct row_spec spec = {
	.columns = columns,
	.size = sizeof(struct icelife),
	.what = "figures",
	.read = read_row,
	.check = check_row,
};

enum rc
icelife_parse(struct icelife_table *out, const char *name, const char *data,
    size_t len, struct err *err)
{
	struct rows rows;
	enum rc rc;

	rc = rows_read(&rows, &spec, name, data, len, err);
	out->items = rows.items;
	out->count = rows.count;
	return rc;
}

void
icelife_fini(struct icelife_table *t)
{
	free(t->items);
	t->items = NULL;
	t->count = 0;
}

const struct icelife *
icelife_find(
    const struct icelife_table *t, const char *species, enum icelife_form form)
{
	size_t i;

	for (i = 0; i < t->count; i++)
		if (t->items[i].use && t->items[i].form == form &&
		    str_eq_nocase(t->items[i].species, species))
			return &t->items[i];
	return NULL;
}

int64_t
icelife_rate_x10000(int tenths)
{
	int64_t root = 100 + (int64_t)tenths;

	assert(root > 0 && tenths <= TEMP_MAX);
	return root * root;
}

int64_t
icelife_convert(int64_t days_x100, int from, int to)
{
	if (to < 0)
		to = 0;
	assert(days_x100 >= 0 && days_x100 <= CONVERT_MAX_X100);
	return div_down(
	    days_x100 * icelife_rate_x10000(from), icelife_rate_x10000(to));
}

int64_t
icelife_days_left(
    int64_t days_x100, int at, const struct icelife_span *spans, size_t count)
{
	int64_t rate, left, one;
	size_t i;
	int t;

	assert(at >= 0 && days_x100 >= 0 && days_x100 <= CONVERT_MAX_X100);
	/* Unit: a hundredth of a day at `at`, times DAY_MINUTES. */
	one = DAY_MINUTES * icelife_rate_x10000(at);
	left = days_x100 * one;
	for (i = 0; i < count; i++) {
		t = spans[i].temp_tenths < at ? at : spans[i].temp_tenths;
		rate = 100 * icelife_rate_x10000(t);
		assert(spans[i].minutes >= 0);
		/* Also keeps the product below from overflowing. */
		if (spans[i].minutes > left / rate)
			return 0;
		left -= spans[i].minutes * rate;
	}
	return div_down(left, one);
}

bool
icelife_faster(const struct icelife *row, int tenths)
{
	return row->faster_above != ICELIFE_NO_WARNING &&
	    tenths > row->faster_above;
}
