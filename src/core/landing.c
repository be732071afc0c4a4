/* landing.c - may it have been landed: size, condition, season. */
#include "core/landing.h"

#include <assert.h>
#include <string.h>

#include "base/str.h"

bool
landing_measure(
    enum size_measure *out, const struct size_table *t, const char *species)
{
	size_t i;

	for (i = 0; i < t->count; i++) {
		if (!str_eq_nocase(t->items[i].species, species))
			continue;
		*out = t->items[i].measure;
		return true;
	}
	return false;
}

/* How a row stands to the area: depth of the row's area that holds it, or
 * FITS_PART when the row is for a part of it, FITS_NOT for elsewhere. */
#define FITS_NOT 0
#define FITS_PART (-1)

static int
fits(const struct size_row *r, const char *area)
{
	int best = FITS_NOT;
	int depth;
	size_t i;

	for (i = 0; i < r->areas; i++) {
		depth = area_depth(r->area[i]);
		if (area_within(area, r->area[i])) {
			if (depth > best)
				best = depth;
		} else if (area_within(r->area[i], area) && best == FITS_NOT) {
			best = FITS_PART;
		}
	}
	return best;
}

static bool
is_asked(const struct size_row *r, const struct size_asked *in)
{
	return r->measure == in->measure &&
	    str_eq_nocase(r->species, in->species);
}

static void
consider(struct landing_size *out, const struct size_row *r)
{
	if (out->row == NULL || r->minimum > out->row->minimum)
		out->row = r;
	if (out->considered == 0 || r->minimum < out->lowest)
		out->lowest = r->minimum;
	out->considered++;
}

/* The rows that may apply, in the order the header gives. */
static void
consider_rows(struct landing_size *out, const struct size_table *t,
    const struct size_asked *in)
{
	const struct size_row *r;
	int finest = FITS_NOT;
	int f;
	size_t i;

	for (i = 0; i < t->count && in->area != NULL; i++)
		if (is_asked(&t->items[i], in) &&
		    (f = fits(&t->items[i], in->area)) > finest)
			finest = f;
	for (i = 0; i < t->count; i++) {
		r = &t->items[i];
		if (!is_asked(r, in))
			continue;
		out->held = true;
		if (in->area == NULL || r->areas == 0) {
			consider(out, r);
			continue;
		}
		f = fits(r, in->area);
		if (f == FITS_PART || (f > FITS_NOT && f == finest))
			consider(out, r);
	}
}

enum rc
landing_size_check(struct landing_size *out, const struct size_table *t,
    const struct size_asked *in, struct err *err)
{
	struct landing_size v;
	enum size_measure m;

	memset(&v, 0, sizeof(v));
	if (in->value <= 0)
		return err_set(err, RC_INVALID, 0,
		    "a size of %d is not above 0", in->value);
	consider_rows(&v, t, in);
	if (!v.held && landing_measure(&m, t, in->species))
		return err_set(err, RC_INVALID, 0,
		    "%.8s is measured by %s in %s, not by %s", in->species,
		    size_measure_word(m), size_measure_unit(m),
		    size_measure_word(in->measure));
	if (v.row == NULL)
		v.verdict = SIZE_NO_RULE;
	else if (in->value < v.row->minimum)
		v.verdict = SIZE_UNDER;
	else
		v.verdict = SIZE_OK;
	*out = v;
	return RC_OK;
}

enum rc
landing_condition(const struct season_row **why, const struct season_table *t,
    const char *species, enum season_kind kind, struct err *err)
{
	const struct season_row *r;
	size_t i;

	assert(kind == SEASON_BERRIED || kind == SEASON_SOFT ||
	    kind == SEASON_NOTCHED);
	for (i = 0; i < t->count; i++) {
		r = &t->items[i];
		if (r->kind != kind || !str_eq_nocase(r->species, species))
			continue;
		if (why != NULL)
			*why = r;
		return err_set(err, RC_REFUSED, 0,
		    "%s %s is not taken in: %s, %s (%s)%s",
		    season_kind_word(kind), r->species, r->where, r->status,
		    r->source, r->verified ? "" : ", unverified");
	}
	return RC_OK;
}

size_t
season_advice(const struct season_row *out[SEASON_ADVICE_MAX],
    const struct season_table *t, const char *species, day_no day)
{
	struct civil c = day_civil(day);
	int md = c.month * 100 + c.day;
	const struct season_row *r;
	size_t n = 0;
	size_t i;
	bool in;

	for (i = 0; i < t->count && n < SEASON_ADVICE_MAX; i++) {
		r = &t->items[i];
		if (r->from == 0 || !str_eq_nocase(r->species, species))
			continue;
		/* A time may run over the turn of the year. */
		in = r->from <= r->to ? md >= r->from && md <= r->to
				      : md >= r->from || md <= r->to;
		if (in)
			out[n++] = r;
	}
	return n;
}
