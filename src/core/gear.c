/* gear.c - what it was caught with. */
#include "core/gear.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/str.h"
#include "row.h"

static const char *const columns[] = {
	"isscfg",
	"code",
	"name",
	"category",
	"in_fao",
	"verified",
	"source",
	NULL,
};

/* The words of Annex III, first column; they go on the label. */
static const char *const categories[GEAR_CATEGORY_COUNT] = {
	[GEAR_NONE] = "no Annex III category",
	[GEAR_SEINES] = "Seines",
	[GEAR_TRAWLS] = "Trawls",
	[GEAR_GILLNETS] = "Gillnets and similar nets",
	[GEAR_SURROUNDING] = "Surrounding nets and lift nets",
	[GEAR_HOOKS] = "Hooks and lines",
	[GEAR_DREDGES] = "Dredges",
	[GEAR_POTS] = "Pots and traps",
};

const char *
gear_category_name(enum gear_category c)
{
	assert((unsigned)c < GEAR_CATEGORY_COUNT);
	return categories[c];
}

/* "03.12": two digits, a point, one or two digits. */
static bool
is_number(const char *s)
{
	return strlen(s) >= 4 && strlen(s) <= 5 &&
	    strspn(s, "0123456789") == 2 && s[2] == '.' &&
	    strspn(s + 3, "0123456789") == strlen(s) - 3;
}

static enum rc
read_codes(struct gear *g, const struct csv *c, struct err *err)
{
	const char *s = csv_get(c, "code");
	size_t n = strspn(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ");
	enum rc rc;

	if (n < 2 || n > 3 || s[n] != '\0')
		return row_refuse(c, "code", err,
		    "code \"%.40s\" is not two or three capital letters", s);
	if (!str_copy(g->code, sizeof(g->code), s))
		assert(!"three letters fit");
	if ((rc = row_yes(&g->in_fao, c, "in_fao", err)) != RC_OK)
		return rc;
	s = csv_get(c, "isscfg");
	if (g->in_fao ? !is_number(s) : s[0] != '\0')
		return row_refuse(c, "isscfg", err,
		    g->in_fao ? "isscfg \"%.40s\" is not a number such as 03.12"
			      : "a number \"%.40s\" though in_fao is no",
		    s);
	if (!str_copy(g->isscfg, sizeof(g->isscfg), s))
		assert(!"is_number has checked the length");
	return RC_OK;
}

static enum rc
read_row(void *item, const struct csv *c, struct err *err)
{
	struct gear *g = item;
	int i;
	enum rc rc;

	if ((rc = read_codes(g, c, err)) != RC_OK)
		return rc;
	if ((rc = csv_text(g->name, sizeof(g->name), c, "name", false, err)) !=
	    RC_OK)
		return rc;
	rc = row_word(&i, c, "category", categories, GEAR_CATEGORY_COUNT, err);
	if (rc != RC_OK)
		return rc;
	g->category = (enum gear_category)i;
	if ((rc = row_yes(&g->verified, c, "verified", err)) != RC_OK)
		return rc;
	return csv_text(g->source, sizeof(g->source), c, "source", false, err);
}

static enum rc
check_row(const void *items, size_t count, const void *item,
    const struct csv *c, struct err *err)
{
	const struct gear *before = items;
	const struct gear *g = item;
	size_t i;

	for (i = 0; i < count; i++) {
		if (str_eq(before[i].code, g->code))
			return row_refuse(c, "code", err,
			    "code \"%s\" appears twice", g->code);
		if (g->in_fao && str_eq(before[i].isscfg, g->isscfg))
			return row_refuse(c, "isscfg", err,
			    "isscfg \"%s\" already stands for %s", g->isscfg,
			    before[i].code);
	}
	return RC_OK;
}

static const struct row_spec spec = {
	.columns = columns,
	.size = sizeof(struct gear),
	.what = "gear",
	.read = read_row,
	.check = check_row,
};

static int
by_code(const void *a, const void *b)
{
	const struct gear *x = a;
	const struct gear *y = b;

	return strcmp(x->code, y->code);
}

enum rc
gear_parse(struct gear_table *out, const char *name, const char *data,
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
gear_fini(struct gear_table *t)
{
	free(t->items);
	t->items = NULL;
	t->count = 0;
}

static bool
same_number(const char *isscfg, const char *s)
{
	/* A spreadsheet drops the leading zero. */
	return isscfg[0] != '\0' &&
	    (str_eq(isscfg, s) || (isscfg[0] == '0' && str_eq(isscfg + 1, s)));
}

enum rc
gear_find(struct gear_found *out, const struct gear_table *t, const char *text,
    struct err *err)
{
	struct buf known;
	size_t i;
	enum rc rc;
	int c;

	for (i = 0; i < t->count; i++) {
		if (!str_eq_nocase(t->items[i].code, text) &&
		    !same_number(t->items[i].isscfg, text))
			continue;
		out->gear = &t->items[i];
		out->category = t->items[i].category;
		return RC_OK;
	}
	for (c = GEAR_NONE + 1; c < GEAR_CATEGORY_COUNT; c++) {
		if (!str_eq_nocase(categories[c], text))
			continue;
		out->gear = NULL;
		out->category = (enum gear_category)c;
		return RC_OK;
	}
	buf_init(&known, 300);
	for (c = GEAR_NONE + 1; c < GEAR_CATEGORY_COUNT; c++)
		buf_printf(&known, "%s%s", c == GEAR_NONE + 1 ? "" : ", ",
		    categories[c]);
	rc = err_set(err, RC_NOTFOUND, 0,
	    "no gear \"%.40s\"; give a code such as OTB or a category: %s",
	    text, buf_text(&known));
	buf_fini(&known);
	return rc;
}
