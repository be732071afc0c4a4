/* combine.c - what is left of several trays put onto one. */
#include "ops/combine.h"

#include <assert.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "mix.h"
#include "store/preps.h"
#include "store/store.h"
#include "unit.h"

/* The units, and which of them is first to expire. */
struct together {
	struct portion units[COMBINE_UNITS_MAX];
	size_t count;
	size_t first;
};

/* docs/rules.md R-M7: only what could be served as it stands. */
static enum rc
may_go(const struct portion *p, int64_t now, struct err *err)
{
	char shown[CODE_SIZE], text[48];

	code_show(shown, p->code);
	if (p->left == 0)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s is used up: leave it out", shown);
	if (p->use_by_utc < now)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s expired on %s: discard it", shown,
		    time_short(text, sizeof(text), p->use_by_utc));
	if (p->held)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s is on hold: leave it where it is", shown);
	if (p->keep == KEEP_FROZEN)
		return err_set(err, RC_REFUSED, 0,
		    "portion %s is frozen: only chilled food is put together",
		    shown);
	return RC_OK;
}

/* docs/rules.md R-M7: the label says one thing of all of it. */
static enum rc
alike(const struct portion *a, const struct portion *b, struct err *err)
{
	char one[CODE_SIZE], other[CODE_SIZE];

	code_show(one, a->code);
	code_show(other, b->code);
	if (a->dish_id != b->dish_id || !str_eq(a->species, b->species) ||
	    a->kind != b->kind)
		return err_set(err, RC_REFUSED, 0,
		    "%s is %s of %s, %s is %s of %s: only one dish of one fish "
		    "goes onto one tray",
		    one, a->dish, a->species, other, b->dish, b->species);
	if (a->keep != b->keep)
		return err_set(err, RC_REFUSED, 0,
		    "%s is %s, %s is %s: what was frozen before stays apart",
		    one, keep_word(a->keep), other, keep_word(b->keep));
	return RC_OK;
}

static enum rc
load(struct together *t, struct station *sn, const struct combine_in *in,
    int64_t now, struct err *err)
{
	struct portion *p;
	char shown[CODE_SIZE];
	size_t i, j;
	enum rc rc;

	assert(in->count <= COMBINE_UNITS_MAX);
	t->count = t->first = 0;
	if (in->count < 2)
		return err_set(err, RC_INVALID, 0,
		    "one tray alone: name two or more to put together");
	for (i = 0; i < in->count; i++) {
		p = &t->units[i];
		if ((rc = unit_by_code(p, sn, in->codes[i], err)) != RC_OK ||
		    (rc = may_go(p, now, err)) != RC_OK)
			return rc;
		for (j = 0; j < i; j++)
			if (t->units[j].id == p->id)
				return err_set(err, RC_INVALID, 0,
				    "%s is named twice",
				    code_show(shown, p->code));
		if (i > 0 && (rc = alike(&t->units[0], p, err)) != RC_OK)
			return rc;
		t->count++;
		if (p->use_by_utc < t->units[t->first].use_by_utc)
			t->first = i;
	}
	return RC_OK;
}

static int64_t
oldest(int64_t a, int64_t b)
{
	return a == 0 || (b != 0 && b < a) ? b : a;
}

static grams
weight_left(const struct portion *p)
{
	return p->weight_g * p->left / p->servings;
}

/* docs/rules.md R-M8: the earliest of everything. */
static void
fill(struct portion *tray, const struct together *t)
{
	const struct portion *p;
	size_t i;

	*tray = t->units[t->first];
	tray->id = tray->servings = tray->weight_g = 0;
	tray->also[0] = '\0';
	tray->others = 0;
	for (i = 0; i < t->count; i++) {
		p = &t->units[i];
		tray->servings += p->left;
		tray->weight_g += weight_left(p);
		tray->prepared_utc =
		    oldest(tray->prepared_utc, p->prepared_utc);
		tray->frozen_utc = oldest(tray->frozen_utc, p->frozen_utc);
		tray->thawed_utc = oldest(tray->thawed_utc, p->thawed_utc);
	}
}

/* Every label that lay on it was a limit. */
static void
why_json(struct buf *out, const struct together *t, const struct rules *rules)
{
	const struct portion *p = &t->units[t->first];
	struct jsonw *w = jsonw_new_object();
	char name[64], source[80], shown[CODE_SIZE];
	size_t i;

	str_fmt(name, sizeof(name), "tray %s", code_show(shown, p->code));
	jsonw_time(w, "use_by", p->use_by_utc);
	jsonw_str(w, "bound_by", name);
	jsonw_array(w, "limits");
	for (i = 0; i < t->count; i++) {
		p = &t->units[i];
		str_fmt(
		    name, sizeof(name), "tray %s", code_show(shown, p->code));
		str_fmt(source, sizeof(source), "its own date, batch %s",
		    code_show(shown, p->batch));
		jsonw_object(w, NULL);
		jsonw_str(w, "limit", name);
		jsonw_time(w, "use_by", p->use_by_utc);
		jsonw_str(w, "source", source);
		jsonw_bool(w, "verified", true);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_array(w, "cautions");
	jsonw_end(w);
	jsonw_str(w, "rule_set", rules->set.name);
	jsonw_str(w, "rule_set_digest", rules->digest);
	jsonw_dump(out, w, false);
	jsonw_free(w);
}

/* docs/rules.md R-M7: as on one board (R-M1), of one presentation. */
static enum rc
one_presentation(struct station *sn, const struct together *t, struct err *err)
{
	struct portion_source_list l;
	struct batch first = { 0 }, b;
	char one[CODE_SIZE], other[CODE_SIZE];
	size_t i, j;
	enum rc rc = RC_OK;

	for (i = 0; i < t->count && rc == RC_OK; i++) {
		rc = portion_sources_open(&l, sn->st, t->units[i].id, err);
		for (j = 0; j < l.count && rc == RC_OK; j++) {
			rc = batch_by_id(&b, sn->st, l.items[j], err);
			if (rc != RC_OK)
				break;
			if (first.id == 0)
				first = b;
			if (b.presentation != first.presentation)
				rc = err_set(err, RC_REFUSED, 0,
				    "%s is of %s fish, %s of %s: what was "
				    "bought differently stays apart",
				    code_show(one, t->units[0].code),
				    presentation_word(first.presentation),
				    code_show(other, t->units[i].code),
				    presentation_word(b.presentation));
		}
		portion_sources_fini(&l);
	}
	return rc;
}

/* Every batch of every unit, once; docs/rules.md R-M9. */
static enum rc
keep_sources(struct station *sn, const struct portion *tray,
    const struct together *t, struct err *err)
{
	struct portion_source_list l;
	int64_t have[PORTION_BATCHES_MAX] = { tray->batch_id };
	size_t n = 1, i, j, k;
	enum rc rc = RC_OK;

	for (i = 0; i < t->count && rc == RC_OK; i++) {
		rc = portion_sources_open(&l, sn->st, t->units[i].id, err);
		for (j = 0; j < l.count && rc == RC_OK; j++) {
			for (k = 0; k < n && have[k] != l.items[j]; k++)
				;
			if (k < n)
				continue;
			if (n == PORTION_BATCHES_MAX) {
				rc = err_set(err, RC_REFUSED, 0,
				    "that would be more than %d batches on one "
				    "tray: make two",
				    PORTION_BATCHES_MAX);
				break;
			}
			have[n++] = l.items[j];
			rc = portion_source_add(
			    sn->st, tray->id, l.items[j], err);
		}
		portion_sources_fini(&l);
	}
	return rc;
}

/* Every breakdown of every unit but the one the tray is filed under. */
static enum rc
keep_preps(struct station *sn, const struct portion *tray,
    const struct together *t, struct err *err)
{
	struct prep_list l;
	size_t i, j;
	enum rc rc = RC_OK;

	for (i = 0; i < t->count && rc == RC_OK; i++) {
		rc = prep_list_unit(&l, sn->st, t->units[i].id, err);
		for (j = 0; j < l.count && rc == RC_OK; j++)
			if (l.items[j].id != tray->prep_id)
				rc = portion_prep_add(
				    sn->st, tray->id, l.items[j].id, err);
		prep_list_fini(&l);
	}
	return rc;
}

/* One unit's rest, onto the tray. */
static enum rc
move(struct combined *out, struct station *sn, const struct portion *p,
    const struct moment *at, struct err *err)
{
	struct portion_part *part = &out->from[out->count++];
	struct portion_event e = {
		.fate = FATE_COMBINED, .servings = p->left, .at = *at
	};
	char shown[CODE_SIZE];
	enum rc rc;

	part->id = p->id;
	str_copy(part->code, sizeof(part->code), p->code);
	part->servings = p->left;
	part->weight_g = weight_left(p);
	str_fmt(e.reason, sizeof(e.reason), "onto tray %s",
	    code_show(shown, out->tray.code));
	rc = portion_join(sn->st, out->tray.id, part, err);
	return rc != RC_OK ? rc : portion_take(sn->st, p->id, &e, err);
}

static enum rc
audit(const struct combined *out, struct station *sn, const struct moment *at,
    struct err *err)
{
	char shown[CODE_SIZE], from[COMBINE_UNITS_MAX * (CODE_SIZE + 16)] = "";
	char when[48];
	size_t i;

	for (i = 0; i < out->count; i++)
		str_fmt(from + strlen(from), sizeof(from) - strlen(from),
		    "%s%" PRId64 " of %s", i > 0 ? ", " : "",
		    out->from[i].servings, code_show(shown, out->from[i].code));
	return station_audit(sn, at, err, "combine",
	    code_show(shown, out->tray.code),
	    "%" PRId64 " of %s, use by %s: %.300s", out->tray.servings,
	    out->tray.dish,
	    time_short(when, sizeof(when), out->tray.use_by_utc), from);
}

static enum rc
record(struct combined *out, struct station *sn, const struct together *t,
    const struct moment *at, struct err *err)
{
	struct buf why;
	size_t i;
	enum rc rc;

	fill(&out->tray, t);
	out->tray.made = *at;
	buf_init(&why, MIX_WHY_MAX);
	why_json(&why, t, &sn->rules);
	if ((rc = buf_check(&why, "the use-by decision", err)) == RC_OK)
		rc = portion_insert(sn->st, &out->tray, buf_text(&why), err);
	buf_fini(&why);
	if (rc != RC_OK ||
	    (rc = keep_sources(sn, &out->tray, t, err)) != RC_OK ||
	    (rc = keep_preps(sn, &out->tray, t, err)) != RC_OK)
		return rc;
	for (i = 0; i < t->count && rc == RC_OK; i++)
		rc = move(out, sn, &t->units[i], at, err);
	if (rc == RC_OK)
		rc = audit(out, sn, at, err);
	/* As it is read from now on, with the batches it has. */
	return rc != RC_OK
	    ? rc
	    : portion_get(&out->tray, sn->st, out->tray.code, err);
}

enum rc
combine(struct combined *out, struct station *sn, const struct combine_in *in,
    struct err *err)
{
	struct together t;
	struct moment at;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = load(&t, sn, in, at.utc, err)) == RC_OK &&
	    (rc = one_presentation(sn, &t, err)) == RC_OK &&
	    (rc = record(out, sn, &t, &at, err)) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

enum rc
combine_look(struct portion *tray, struct station *sn,
    const struct combine_in *in, struct err *err)
{
	struct together t;
	enum rc rc = load(&t, sn, in, clock_now(&sn->clock), err);

	if (rc == RC_OK)
		rc = one_presentation(sn, &t, err);
	if (rc == RC_OK)
		fill(tray, &t);
	return rc;
}
