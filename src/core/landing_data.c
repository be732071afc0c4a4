/* landing_data.c - reading sizes and seasons. */
#include "core/landing.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "row.h"

#define MINIMUM_MAX 100000

static const char *const size_columns[] = {
	"species",
	"measure",
	"minimum",
	"areas",
	"where",
	"date",
	"verified",
	"source",
	NULL,
};

static const char *const season_columns[] = {
	"species",
	"kind",
	"from",
	"to",
	"where",
	"status",
	"verified",
	"source",
	NULL,
};

static const char *const measures[SIZE_MEASURE_COUNT] = {
	[SIZE_TOTAL_LENGTH] = "total-length",
	[SIZE_LOWER_JAW] = "lower-jaw-length",
	[SIZE_CARAPACE_LENGTH] = "carapace-length",
	[SIZE_CARAPACE_WIDTH] = "carapace-width",
	[SIZE_TAIL_LENGTH] = "tail-length",
	[SIZE_SHELL] = "shell",
	[SIZE_SQUARE] = "square-gauge",
	[SIZE_RING] = "ring-gauge",
	[SIZE_WING] = "wing",
	[SIZE_WEIGHT] = "weight",
};

static const char *const kinds[SEASON_KIND_COUNT] = {
	[SEASON_CLOSED] = "closed",
	[SEASON_SPAWNING] = "spawning",
	[SEASON_BERRIED] = "berried",
	[SEASON_SOFT] = "soft-shelled",
	[SEASON_NOTCHED] = "v-notched",
};

const char *
size_measure_word(enum size_measure m)
{
	assert((unsigned)m < SIZE_MEASURE_COUNT);
	return measures[m];
}

const char *
size_measure_unit(enum size_measure m)
{
	return m == SIZE_WEIGHT ? "g" : "mm";
}

const char *
season_kind_word(enum season_kind k)
{
	assert((unsigned)k < SEASON_KIND_COUNT);
	return kinds[k];
}

/* "27.7.e": digits, small letters and single points between them. */
static bool
is_area(const char *s)
{
	size_t n = strspn(s, "0123456789abcdefghijklmnopqrstuvwxyz.");

	return n >= 2 && s[n] == '\0' && s[0] >= '0' && s[0] <= '9' &&
	    s[1] >= '0' && s[1] <= '9' && (s[2] == '\0' || s[2] == '.') &&
	    s[n - 1] != '.' && strstr(s, "..") == NULL;
}

/* Codes with single blanks between. */
static enum rc
read_areas(struct size_row *r, const struct csv *c, struct err *err)
{
	const char *s = csv_get(c, "areas");
	char *dst;
	size_t n;

	while (*s != '\0') {
		n = strcspn(s, " ");
		if (r->areas == LANDING_AREAS_MAX)
			return row_refuse(c, "areas", err, "more than %d areas",
			    LANDING_AREAS_MAX);
		dst = r->area[r->areas];
		if (n <= AREA_CODE_MAX)
			memcpy(dst, s, n);
		if (n == 0 || n > AREA_CODE_MAX || !is_area(dst) ||
		    (s[n] == ' ' && s[n + 1] == '\0'))
			return row_refuse(c, "areas", err,
			    "areas \"%.60s\" are not codes such as 27.7.e",
			    csv_get(c, "areas"));
		r->areas++;
		s += n;
		if (*s == ' ')
			s++;
	}
	return RC_OK;
}

static enum rc
read_size(void *item, const struct csv *c, struct err *err)
{
	struct size_row *r = item;
	int i;
	enum rc rc;

	if ((rc = row_code(r->species, c, "species", false, err)) != RC_OK)
		return rc;
	if ((rc = row_word(
		 &i, c, "measure", measures, SIZE_MEASURE_COUNT, err)) != RC_OK)
		return rc;
	r->measure = (enum size_measure)i;
	if ((rc = row_int(&r->minimum, c, "minimum", 1, MINIMUM_MAX, err)) !=
	    RC_OK)
		return rc;
	if ((rc = read_areas(r, c, err)) != RC_OK)
		return rc;
	if ((rc = csv_text(
		 r->where, sizeof(r->where), c, "where", false, err)) != RC_OK)
		return rc;
	if ((rc = csv_text(r->date, sizeof(r->date), c, "date", false, err)) !=
	    RC_OK)
		return rc;
	if ((rc = row_yes(&r->verified, c, "verified", err)) != RC_OK)
		return rc;
	return csv_text(r->source, sizeof(r->source), c, "source", false, err);
}

static enum rc
check_size(const void *items, size_t count, const void *item,
    const struct csv *c, struct err *err)
{
	const struct size_row *before = items;
	const struct size_row *r = item;
	size_t i;

	for (i = 0; i < count; i++)
		if (str_eq(before[i].species, r->species) &&
		    before[i].measure == r->measure &&
		    str_eq(before[i].where, r->where))
			return row_refuse(c, "where", err,
			    "a second %s of %s for \"%s\"",
			    size_measure_word(r->measure), r->species,
			    r->where);
	return RC_OK;
}

static const struct row_spec size_spec = {
	.columns = size_columns,
	.size = sizeof(struct size_row),
	.what = "sizes",
	.read = read_size,
	.check = check_size,
};

/* "MM-DD" to month x 100 + day; 29 February exists. */
static enum rc
read_month_day(int *out, const struct csv *c, const char *column, bool wanted,
    struct err *err)
{
	const char *s = csv_get(c, column);
	day_no day;
	int month, dom;

	if (!wanted) {
		if (s[0] == '\0')
			return RC_OK;
		return row_refuse(c, column, err, "a condition has no dates");
	}
	if (strlen(s) != 5 || strspn(s, "0123456789") != 2 || s[2] != '-' ||
	    strspn(s + 3, "0123456789") != 2)
		return row_refuse(
		    c, column, err, "%s \"%.20s\" is not MM-DD", column, s);
	month = (s[0] - '0') * 10 + (s[1] - '0');
	dom = (s[3] - '0') * 10 + (s[4] - '0');
	if (!day_from_civil(&day, 2000, month, dom))
		return row_refuse(
		    c, column, err, "%s \"%.20s\" is no day", column, s);
	*out = month * 100 + dom;
	return RC_OK;
}

static enum rc
read_season(void *item, const struct csv *c, struct err *err)
{
	struct season_row *r = item;
	bool dated;
	int i;
	enum rc rc;

	if ((rc = row_code(r->species, c, "species", false, err)) != RC_OK)
		return rc;
	if ((rc = row_word(&i, c, "kind", kinds, SEASON_KIND_COUNT, err)) !=
	    RC_OK)
		return rc;
	r->kind = (enum season_kind)i;
	dated = r->kind == SEASON_CLOSED || r->kind == SEASON_SPAWNING;
	if ((rc = read_month_day(&r->from, c, "from", dated, err)) != RC_OK)
		return rc;
	if ((rc = read_month_day(&r->to, c, "to", dated, err)) != RC_OK)
		return rc;
	if ((rc = csv_text(
		 r->where, sizeof(r->where), c, "where", false, err)) != RC_OK)
		return rc;
	if ((rc = csv_text(r->status, sizeof(r->status), c, "status", false,
		 err)) != RC_OK)
		return rc;
	if ((rc = row_yes(&r->verified, c, "verified", err)) != RC_OK)
		return rc;
	return csv_text(r->source, sizeof(r->source), c, "source", false, err);
}

static enum rc
check_season(const void *items, size_t count, const void *item,
    const struct csv *c, struct err *err)
{
	const struct season_row *before = items;
	const struct season_row *r = item;
	size_t i;

	for (i = 0; i < count; i++)
		if (str_eq(before[i].species, r->species) &&
		    before[i].kind == r->kind && before[i].from == r->from &&
		    before[i].to == r->to && str_eq(before[i].where, r->where))
			return row_refuse(c, "species", err,
			    "the same row of %s appears twice", r->species);
	return RC_OK;
}

static const struct row_spec season_spec = {
	.columns = season_columns,
	.size = sizeof(struct season_row),
	.what = "seasons",
	.read = read_season,
	.check = check_season,
};

enum rc
size_parse(struct size_table *out, const char *name, const char *data,
    size_t len, struct err *err)
{
	struct rows rows;
	enum rc rc;

	rc = rows_read(&rows, &size_spec, name, data, len, err);
	out->items = rows.items;
	out->count = rows.count;
	return rc;
}

enum rc
season_parse(struct season_table *out, const char *name, const char *data,
    size_t len, struct err *err)
{
	struct rows rows;
	enum rc rc;

	rc = rows_read(&rows, &season_spec, name, data, len, err);
	out->items = rows.items;
	out->count = rows.count;
	return rc;
}

void
size_fini(struct size_table *t)
{
	free(t->items);
	t->items = NULL;
	t->count = 0;
}

void
season_fini(struct season_table *t)
{
	free(t->items);
	t->items = NULL;
	t->count = 0;
}
