/* yield.c - published yields: edible weight over bought weight. */
#include "core/yield.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/csv.h"
#include "base/mem.h"
#include "base/str.h"

static const char *const columns[] = {
	"species",
	"from",
	"to",
	"percent",
	"low",
	"high",
	"verified",
	"source",
	NULL,
};

static enum rc
read_species(struct yield_row *r, const struct csv *c, struct err *err)
{
	const char *code = csv_get(c, "species");
	size_t i;
	enum rc rc;

	for (i = 0; i < 3 && code[i] >= 'A' && code[i] <= 'Z'; i++)
		r->species[i] = code[i];
	if (i == 3 && code[3] == '\0')
		return RC_OK;
	rc = err_set(err, RC_INVALID, 0,
	    "species \"%.40s\" is not three capital letters", code);
	return csv_fail(c, "species", rc, err);
}

static enum rc
read_form(enum yield_form *out, const struct csv *c, const char *column,
    struct err *err)
{
	enum rc rc;

	if ((rc = yield_form_parse(out, csv_get(c, column), err)) != RC_OK)
		return csv_fail(c, column, rc, err);
	return RC_OK;
}

static enum rc
read_percent(int *out, const struct csv *c, const char *column, int otherwise,
    struct err *err)
{
	const char *s = csv_get(c, column);
	enum rc rc;

	if (s[0] == '\0' && otherwise > 0) {
		*out = otherwise;
		return RC_OK;
	}
	if ((rc = percent_parse(out, column, s, err)) != RC_OK)
		return csv_fail(c, column, rc, err);
	if (*out > 0)
		return RC_OK;
	rc = err_set(err, RC_INVALID, 0, "%s is not above 0", column);
	return csv_fail(c, column, rc, err);
}

static enum rc
read_range(struct yield_row *r, const struct csv *c, struct err *err)
{
	enum rc rc;

	if ((rc = read_percent(&r->bp, c, "percent", 0, err)) != RC_OK)
		return rc;
	if ((rc = read_percent(&r->low_bp, c, "low", r->bp, err)) != RC_OK)
		return rc;
	if ((rc = read_percent(&r->high_bp, c, "high", r->bp, err)) != RC_OK)
		return rc;
	if (r->low_bp > r->bp) {
		rc = err_set(err, RC_INVALID, 0, "low is above percent");
		return csv_fail(c, "low", rc, err);
	}
	if (r->high_bp < r->bp) {
		rc = err_set(err, RC_INVALID, 0, "high is below percent");
		return csv_fail(c, "high", rc, err);
	}
	return RC_OK;
}

static enum rc
read_source(struct yield_row *r, const struct csv *c, struct err *err)
{
	const char *s = csv_get(c, "verified");
	enum rc rc;

	r->verified = str_eq(s, "yes");
	if (!r->verified && !str_eq(s, "no")) {
		rc = err_set(err, RC_INVALID, 0,
		    "verified \"%.40s\" is not yes or no", s);
		return csv_fail(c, "verified", rc, err);
	}
	s = csv_get(c, "source");
	rc = text_check("source", s, sizeof(r->source) - 1, false, err);
	if (rc != RC_OK)
		return csv_fail(c, "source", rc, err);
	if (!str_copy(r->source, sizeof(r->source), s))
		assert(!"text_check has checked the length");
	return RC_OK;
}

static enum rc
read_row(struct yield_row *r, const struct csv *c, struct err *err)
{
	enum rc rc;

	memset(r, 0, sizeof(*r));
	if ((rc = read_species(r, c, err)) != RC_OK)
		return rc;
	if ((rc = read_form(&r->from, c, "from", err)) != RC_OK)
		return rc;
	if ((rc = read_form(&r->to, c, "to", err)) != RC_OK)
		return rc;
	if (r->from == r->to || r->to == YIELD_WHOLE) {
		rc = err_set(err, RC_INVALID, 0, "nothing is cut from %s to %s",
		    yield_form_word(r->from), yield_form_word(r->to));
		return csv_fail(c, "to", rc, err);
	}
	if ((rc = read_range(r, c, err)) != RC_OK)
		return rc;
	return read_source(r, c, err);
}

static int
by_key(const void *a, const void *b)
{
	const struct yield_row *x = a;
	const struct yield_row *y = b;
	int d = strcmp(x->species, y->species);

	if (d == 0)
		d = (int)x->from - (int)y->from;
	if (d == 0)
		d = (int)x->to - (int)y->to;
	return d;
}

static enum rc
check_unique(const struct yield_table *t, const struct yield_row *r,
    const struct csv *c, struct err *err)
{
	size_t i;
	enum rc rc;

	for (i = 0; i < t->count; i++) {
		if (by_key(&t->items[i], r) != 0)
			continue;
		rc = err_set(err, RC_INVALID, 0,
		    "a second row for %s from %s to %s", r->species,
		    yield_form_word(r->from), yield_form_word(r->to));
		return csv_fail(c, "species", rc, err);
	}
	return RC_OK;
}

enum rc
yield_parse(struct yield_table *out, const char *name, const char *data,
    size_t len, struct err *err)
{
	struct yield_table t = { NULL, 0 };
	struct yield_row r;
	struct csv *c = NULL;
	size_t cap = 0;
	enum rc rc;

	*out = t;
	if ((rc = csv_open(&c, name, data, len, columns, NULL, err)) != RC_OK)
		goto done;
	while ((rc = csv_next(c, err)) == RC_OK) {
		if ((rc = read_row(&r, c, err)) != RC_OK)
			goto done;
		if ((rc = check_unique(&t, &r, c, err)) != RC_OK)
			goto done;
		t.items = grow(t.items, &cap, t.count, sizeof(*t.items));
		t.items[t.count++] = r;
	}
	if (rc != RC_END)
		goto done;
	if (t.count > 0)
		qsort(t.items, t.count, sizeof(*t.items), by_key);
	*out = t;
	t.items = NULL;
	rc = RC_OK;
done:
	free(t.items);
	csv_close(c);
	return rc;
}

void
yield_fini(struct yield_table *t)
{
	free(t->items);
	t->items = NULL;
	t->count = 0;
}

static const struct yield_row *
find_row(const struct yield_table *t, const char *species, enum yield_form from,
    enum yield_form to)
{
	struct yield_row key;

	memset(&key, 0, sizeof(key));
	if (!str_copy(key.species, sizeof(key.species), species) ||
	    t->count == 0)
		return NULL;
	str_upper(key.species);
	key.from = from;
	key.to = to;
	return bsearch(&key, t->items, t->count, sizeof(*t->items), by_key);
}

/*
 * How far a form is cut.  A ratio of two yields exists both ways round, but a
 * gutted fish cannot be had from its fillets (rule R-Y6).
 */
static int
cut_stage(enum yield_form f)
{
	switch (f) {
	case YIELD_WHOLE:
		return 0;
	case YIELD_GUTTED:
		return 1;
	case YIELD_HEADED:
		return 2;
	case YIELD_TAIL:
	case YIELD_WING:
		return 3;
	case YIELD_FILLET:
		return 4;
	case YIELD_SKINLESS:
	case YIELD_LOIN:
		return 5;
	case YIELD_MEAT:
		return 6;
	case YIELD_FORM_COUNT:
		break;
	}
	assert(!"a form that is not in the list");
	return 0;
}

/* a/b in 1/10 000, rounded down, never above one. */
static int
ratio_bp(int a, int b)
{
	int64_t r = div_down((int64_t)a * BP_ONE, b);

	return r > BP_ONE ? BP_ONE : (int)r;
}

/* False when one of the two rows from the whole fish is missing. */
static bool
derive(struct yield *y, const struct yield_table *t, const char *species,
    enum yield_form from, enum yield_form to)
{
	const struct yield_row *rt = find_row(t, species, YIELD_WHOLE, to);
	const struct yield_row *rf = find_row(t, species, YIELD_WHOLE, from);

	if (rt == NULL || rf == NULL || cut_stage(to) < cut_stage(from))
		return false;
	y->bp = ratio_bp(rt->bp, rf->bp);
	/* Less than 1/10 000 is no yield at all. */
	if (y->bp == 0)
		return false;
	y->low_bp = ratio_bp(rt->low_bp, rf->high_bp);
	y->high_bp = ratio_bp(rt->high_bp, rf->low_bp);
	y->verified = rt->verified && rf->verified;
	y->derived = true;
	if (!str_fmt(y->source, sizeof(y->source), "%s; divided by %s",
		rt->source, rf->source))
		assert(!"two sources and four words fit");
	return true;
}

enum rc
yield_find(struct yield *out, const struct yield_table *t, const char *species,
    enum yield_form from, enum yield_form to, struct err *err)
{
	const struct yield_row *r;
	struct yield y;

	memset(&y, 0, sizeof(y));
	if (from == to) {
		y.bp = y.low_bp = y.high_bp = BP_ONE;
		y.verified = true;
		if (!str_copy(y.source, sizeof(y.source), "same form"))
			assert(!"two words fit");
		*out = y;
		return RC_OK;
	}
	if ((r = find_row(t, species, from, to)) != NULL) {
		y.bp = r->bp;
		y.low_bp = r->low_bp;
		y.high_bp = r->high_bp;
		y.verified = r->verified;
		if (!str_copy(y.source, sizeof(y.source), r->source))
			assert(!"a source fits");
	} else if (!derive(&y, t, species, from, to)) {
		return err_set(err, RC_NOTFOUND, 0,
		    "no yield for %.8s from %s to %s", species,
		    yield_form_word(from), yield_form_word(to));
	}
	*out = y;
	return RC_OK;
}

grams
yield_edible(grams bought, int bp)
{
	assert(bought >= 0 && bp >= 0 && bp <= BP_ONE);
	return div_down(bought * bp, BP_ONE);
}

grams
yield_bought(grams edible, int bp)
{
	assert(edible >= 0 && bp > 0 && bp <= BP_ONE);
	return div_up(edible * BP_ONE, bp);
}
