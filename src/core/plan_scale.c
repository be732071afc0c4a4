/* plan_scale.c - the cuts of one species on one scale of weight. */
#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "plan_work.h"

enum role { ROLE_NONE, ROLE_FLESH, ROLE_WHOLE, ROLE_STEAK };

static enum role
role_of(const struct plan_cut *cut)
{
	switch (cut->kind) {
	case CUT_FILLET:
	case CUT_SUPREME:
	case CUT_LOIN:
	case CUT_WING:
	case CUT_TRIM:
		return ROLE_FLESH;
	case CUT_WHOLE:
		return ROLE_WHOLE;
	case CUT_TRONCON:
		return ROLE_STEAK;
	case CUT_TAIL:
	case CUT_SHELL:
	case CUT_MEAT:
	case CUT_COUNT:
		break;
	}
	return ROLE_NONE;
}

static const struct plan_cut *
reference(const struct scales *s, enum role role)
{
	switch (role) {
	case ROLE_FLESH:
		return s->flesh;
	case ROLE_WHOLE:
		return s->whole;
	case ROLE_STEAK:
		return s->steak;
	case ROLE_NONE:
		break;
	}
	return NULL;
}

/* Yield times finishing in 1/10^8; 0 when no figure is known. */
static enum rc
effective(int64_t *out, const struct run *r, const struct plan_cut *cut,
    enum presentation from, int64_t supplier_id, bool low, struct err *err)
{
	struct plan_yield y;
	bool known;
	enum rc rc;

	*out = 0;
	rc = cut_yield(&y, &known, r, cut, from, supplier_id, err);
	if (rc == RC_OK && known)
		*out = (int64_t)(low ? y.low_bp : y.mean_bp) * cut->finish_bp;
	return rc;
}

/*
 * The thick part of a fillet that is no loin by nature: the dish takes skinless
 * flesh, but only from the share of it that is loin.
 */
static bool
thick_part(const struct run *r, const struct plan_cut *cut)
{
	const struct species *sp = species_find(r->p->species, cut->species);

	return cut->kind == CUT_LOIN && !str_eq(sp->piece_word, "loin");
}

static struct plan_cut
skinless_of(const struct plan_cut *cut)
{
	struct plan_cut c = *cut;

	c.kind = CUT_SUPREME;
	c.skin_on = false;
	c.house_yield_bp = 0;
	return c;
}

/* Both yields where both are known: first as the dish is bought. */
static enum rc
pair(struct scale *out, const struct run *r, const struct plan_cut *ref,
    const struct plan_cut *cut, struct err *err)
{
	int64_t a, b;
	int i;
	enum presentation from;
	enum rc rc;

	for (i = -1; i < PRES_COUNT; i++) {
		from = i < 0 ? cut->bought : (enum presentation)i;
		if ((rc = effective(&a, r, ref, from, 0, false, err)) !=
			RC_OK ||
		    (rc = effective(&b, r, cut, from, 0, false, err)) != RC_OK)
			return rc;
		if (a > 0 && b > 0) {
			out->ref = a;
			out->cut = b;
			return RC_OK;
		}
	}
	return RC_OK;
}

static enum rc
scale_line(struct scales *s, const struct run *r, size_t line, struct err *err)
{
	const struct plan_cut *cut = line_cut(r, line, s->species);
	struct scale *out = &s->line[line], loin = { 0 };
	const struct plan_cut *ref;
	struct plan_cut flesh;
	enum rc rc;

	out->share_bp = BP_ONE;
	if (cut == NULL || (ref = reference(s, role_of(cut))) == NULL)
		return RC_OK;
	if (thick_part(r, cut)) {
		flesh = skinless_of(cut);
		if ((rc = pair(out, r, ref, &flesh, err)) != RC_OK ||
		    (rc = pair(&loin, r, &flesh, cut, err)) != RC_OK)
			return rc;
		if (out->ref > 0 && loin.ref > 0 && loin.cut <= loin.ref) {
			out->share_bp = loin.cut * BP_ONE / loin.ref;
			return RC_OK;
		}
	}
	return pair(out, r, ref, cut, err);
}

/*
 * The reference cut of a role.  A dish of several species comes first: its
 * bands have to meet on one scale.  Then skin on, since most other cuts come
 * out of it.  Trim alone decides only where no dish wants flesh.
 */
static const struct plan_cut *
choose(const struct run *r, const char *species, enum role role)
{
	const struct plan_cut *cut, *best = NULL;
	size_t line;
	int rank, best_rank = -1;

	for (line = 0; line < r->out->count; line++) {
		cut = line_cut(r, line, species);
		if (cut == NULL || role_of(cut) != role)
			continue;
		rank = cut->kind == CUT_TRIM                ? 0
		    : r->out->lines[line].species_count > 1 ? 4
		    : thick_part(r, cut)                    ? 1
		    : cut->skin_on                          ? 3
							    : 2;
		if (rank > best_rank) {
			best = cut;
			best_rank = rank;
		}
	}
	return best;
}

enum rc
scales_make(struct scales *out, const struct run *r, const char *species,
    struct err *err)
{
	size_t line;
	enum rc rc = RC_OK;

	memset(out, 0, sizeof(*out));
	str_copy(out->species, sizeof(out->species), species);
	out->line = xcalloc(r->out->count, sizeof(*out->line));
	out->flesh = choose(r, species, ROLE_FLESH);
	out->whole = choose(r, species, ROLE_WHOLE);
	out->steak = choose(r, species, ROLE_STEAK);
	for (line = 0; line < r->out->count && rc == RC_OK; line++)
		rc = scale_line(out, r, line, err);
	if (rc != RC_OK)
		scales_fini(out);
	return rc;
}

void
scales_fini(struct scales *s)
{
	free(s->line);
	memset(s, 0, sizeof(*s));
}

grams
scale_up(const struct scale *s, grams g)
{
	assert(s->cut > 0);
	return div_up(g * s->ref, s->cut);
}

grams
scale_down(const struct scale *s, grams g)
{
	assert(s->ref > 0);
	return g * s->cut / s->ref;
}

/* The yield to a reference cut, straight or through a line that has one. */
static enum rc
to_reference(int64_t *out, const struct run *r, const struct scales *s,
    enum role role, const struct plan_cut *ref, enum presentation from,
    int64_t supplier_id, bool low, struct err *err)
{
	const struct plan_cut *cut;
	size_t line;
	enum rc rc;

	*out = 0;
	if (ref == NULL)
		return RC_OK;
	rc = effective(out, r, ref, from, supplier_id, low, err);
	for (line = 0; rc == RC_OK && *out == 0 && line < r->out->count;
	     line++) {
		cut = line_cut(r, line, s->species);
		if (cut == NULL || role_of(cut) != role ||
		    s->line[line].cut == 0 || thick_part(r, cut))
			continue;
		rc = effective(out, r, cut, from, supplier_id, low, err);
		*out = *out * s->line[line].ref / s->line[line].cut;
	}
	return rc;
}

enum rc
batch_fit_make(struct batch_fit *out, const struct run *r,
    const struct scales *s, enum presentation from, int64_t supplier_id,
    bool low, struct err *err)
{
	const struct species *sp = species_find(r->p->species, s->species);
	const struct plan_cut *cut;
	struct plan_cut flesh;
	int64_t known;
	size_t line;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->pieces = pieces_per_fish(sp, from);
	if ((rc = to_reference(&out->flesh, r, s, ROLE_FLESH, s->flesh, from,
		 supplier_id, low, err)) != RC_OK ||
	    (rc = to_reference(&out->whole, r, s, ROLE_WHOLE, s->whole, from,
		 supplier_id, low, err)) != RC_OK ||
	    (rc = to_reference(&out->steak, r, s, ROLE_STEAK, s->steak, from,
		 supplier_id, low, err)) != RC_OK)
		return rc;
	if (out->pieces == 0)
		out->flesh = 0;
	for (line = 0; line < r->out->count; line++) {
		cut = line_cut(r, line, s->species);
		if (cut == NULL || s->line[line].cut == 0)
			continue;
		if (thick_part(r, cut) && s->line[line].share_bp < BP_ONE) {
			flesh = skinless_of(cut);
			cut = &flesh;
		}
		rc = effective(&known, r, cut, from, supplier_id, low, err);
		if (rc != RC_OK)
			return rc;
		if (known > 0)
			out->lines |= UINT64_C(1) << line;
	}
	return RC_OK;
}
