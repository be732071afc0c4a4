/* prepplan.c - the services in order: lines, stock, fish, order. */
#include "core/prepplan.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "plan_work.h"

int
pieces_per_fish(const struct species *sp, enum presentation p)
{
	switch (p) {
	case PRES_WHOLE:
	case PRES_GUTTED:
	case PRES_HEADED:
		return sp->pieces;
	case PRES_FILLET:
	case PRES_FILLET_SKINLESS:
	case PRES_LOIN:
	case PRES_TAIL:
	case PRES_WING:
		return 1;
	case PRES_LIVE:
	case PRES_SHUCKED:
	case PRES_COUNT:
		break;
	}
	return 0;
}

static const struct plan_want *
want_of(const struct run *r, const struct plan_line *l)
{
	size_t i;

	for (i = 0; i < r->s->want_count; i++)
		if (r->s->wants[i].cut_count > 0 &&
		    r->s->wants[i].cuts[0].part == l->cut.part &&
		    str_eq(r->s->wants[i].cuts[0].dish, l->cut.dish))
			return &r->s->wants[i];
	return NULL;
}

const struct plan_cut *
line_cut(const struct run *r, size_t line, const char *species)
{
	const struct plan_want *w = want_of(r, &r->out->lines[line]);
	size_t i;

	for (i = 0; i < w->cut_count; i++)
		if (str_eq(w->cuts[i].species, species))
			return &w->cuts[i];
	return NULL;
}

int64_t
line_left(const struct plan_line *l)
{
	int64_t left = l->to_have - l->on_hand - l->to_make;

	return left > 0 ? left : 0;
}

struct plan_take *
add_take(struct run *r, size_t line, const struct plan_batch *b)
{
	struct plan_line *l = &r->out->lines[line];
	struct plan_take *t;

	l->takes =
	    grow(l->takes, &r->take_cap[line], l->take_count, sizeof(*t));
	t = &l->takes[l->take_count++];
	memset(t, 0, sizeof(*t));
	if (b != NULL) {
		str_copy(t->code, sizeof(t->code), b->code);
		str_copy(t->species, sizeof(t->species), b->species);
		t->use_by_utc = b->use_by_utc;
		t->ask_parasites =
		    l->cut.state == STATE_SERVED_RAW && !b->parasite_free;
	}
	return t;
}

/* Refused batches never get here, recalled ones are held, and nothing frozen is
 * on the file yet. */
struct stock_lot
plan_lot(bool held, int64_t use_by_utc)
{
	struct stock_lot lot = {
		.recalled = FACT_NO,
		.refused = FACT_NO,
		.held = held ? FACT_YES : FACT_NO,
		.temperature_ok = FACT_YES,
		.use_by_utc = use_by_utc,
		.parasites_ok = FACT_YES,
		.frozen = FACT_NO,
	};

	return lot;
}

enum stock_reason
plan_bar(
    const struct stock_lot *lot, int64_t now_utc, const struct plan_service *s)
{
	struct stock_ask ask = {
		.now_utc = now_utc,
		.start_utc = s->start_utc,
		.end_utc = s->end_utc,
		.served_raw = FACT_NO,
		.species_fit = FACT_YES,
		.cut_fit = FACT_YES,
	};
	enum stock_reason reason;

	stock_usable(&reason, lot, &ask);
	return reason;
}

/* Whether raw fish has its freeze record is asked when it is cut, and said on
 * the line. */
enum stock_reason
batch_bar(const struct plan_batch *b, const struct plan_service *s)
{
	struct stock_lot lot = plan_lot(b->held, b->use_by_utc);

	return plan_bar(&lot, 0, s);
}

enum rc
cut_yield(struct plan_yield *y, bool *known, const struct run *r,
    const struct plan_cut *cut, enum presentation from, int64_t supplier_id,
    struct err *err)
{
	struct err quiet;
	enum rc rc;

	/* What a steak loses with head, guts and tail is published nowhere
	 * here: without the kitchen's own figure it has none. */
	*known = cut->kind != CUT_TRONCON ||
	    (cut->house_yield_bp != 0 && from == cut->bought);
	if (!*known)
		return RC_OK;
	err_clear(&quiet);
	rc = r->p->yield(y, r->p->yield_arg, cut, from, supplier_id, &quiet);
	*known = rc == RC_OK && y->mean_bp > 0;
	if (rc == RC_NOTFOUND || rc == RC_OK)
		return RC_OK;
	return err_set(err, rc, quiet.lib, "%s", quiet.text);
}

/*
 * Working order of the page (R-P6): fish first, shellfish apart and last by
 * allergen group, so that one board and one cloth do for each; then species
 * and dish.
 */
static int
compare_lines(const struct plan_line *a, const struct plan_line *b,
    const struct species_table *species)
{
	const struct species *sa = species_find(species, a->cut.species);
	const struct species *sb = species_find(species, b->cut.species);
	int c;

	if (sa->allergen != sb->allergen)
		return sa->allergen < sb->allergen ? -1 : 1;
	c = strcmp(sa->name, sb->name);
	if (c == 0)
		c = strcmp(a->cut.dish, b->cut.dish);
	return c != 0 ? c : a->cut.part - b->cut.part;
}

static void
sort_lines(struct plan *p, const struct species_table *species)
{
	struct plan_line t;
	size_t i, j;

	for (i = 1; i < p->count; i++) {
		t = p->lines[i];
		for (j = i;
		     j > 0 && compare_lines(&p->lines[j - 1], &t, species) > 0;
		     j--)
			p->lines[j] = p->lines[j - 1];
		p->lines[j] = t;
	}
}

static enum rc
line_make(struct plan_line *l, const struct plan_want *w,
    const struct species_table *species, struct err *err)
{
	size_t i;

	l->cut = w->cuts[0];
	l->demand = w->demand;
	l->typed = w->typed;
	l->used = w->used;
	l->to_have = w->demand.target - w->used;
	if (l->to_have < 0)
		l->to_have = 0;
	for (i = 0; i < w->cut_count; i++) {
		if (species_find(species, w->cuts[i].species) == NULL)
			return err_set(err, RC_INVALID, 0,
			    "dish %s: species %s is not in the species table",
			    w->cuts[i].dish, w->cuts[i].species);
		if (i == sizeof(l->species) / sizeof(l->species[0]))
			return err_set(err, RC_INVALID, 0,
			    "dish %s is made of more than %zu species",
			    w->cuts[i].dish, i);
		str_copy(l->species[l->species_count++], sizeof(l->species[0]),
		    w->cuts[i].species);
	}
	return RC_OK;
}

static enum rc
lines_make(struct run *r, struct err *err)
{
	const struct plan_want *w;
	struct plan *out = r->out;
	size_t i;
	enum rc rc;

	out->lines = xcalloc(r->s->want_count, sizeof(*out->lines));
	r->take_cap = xcalloc(r->s->want_count, sizeof(*r->take_cap));
	for (i = 0; i < r->s->want_count; i++) {
		w = &r->s->wants[i];
		if (w->cut_count == 0 || w->demand.why == WHY_NOT_OFFERED)
			continue;
		rc =
		    line_make(&out->lines[out->count++], w, r->p->species, err);
		if (rc != RC_OK)
			return rc;
	}
	sort_lines(out, r->p->species);
	return RC_OK;
}

static enum rc
service_plan(
    struct run *r, size_t index, const struct allot *shares, struct err *err)
{
	struct plan_line *l;
	size_t i;
	enum rc rc;

	if ((rc = lines_make(r, err)) != RC_OK)
		return rc;
	net_apply(r, index, shares);
	if ((rc = weigh_out(r, true, err)) != RC_OK ||
	    (rc = cut_fish(r, err)) != RC_OK ||
	    (rc = weigh_out(r, false, err)) != RC_OK)
		return rc;
	for (i = 0; i < r->out->count; i++) {
		l = &r->out->lines[i];
		l->short_of = line_left(l);
		l->by_choice = l->by_choice && l->short_of > 0;
	}
	return index + 1 == r->p->service_count ? order_rest(r, err) : RC_OK;
}

enum rc
plan_make(struct plan *out, const struct plan_problem *p, struct err *err)
{
	struct allot shares;
	struct run r;
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = net_trays(&shares, p, err)) != RC_OK)
		return rc;
	for (i = 0; i < p->service_count && rc == RC_OK; i++) {
		plan_fini(out);
		memset(&r, 0, sizeof(r));
		r.p = p;
		r.s = &p->services[i];
		r.out = out;
		rc = service_plan(&r, i, &shares, err);
		free(r.take_cap);
	}
	allot_fini(&shares);
	if (rc != RC_OK)
		plan_fini(out);
	return rc;
}

static void
opened_fini(struct plan_opened *o)
{
	size_t i;

	for (i = 0; i < o->piece_count; i++)
		free(o->pieces[i].cuts);
	free(o->pieces);
}

void
plan_fini(struct plan *p)
{
	size_t i;

	for (i = 0; i < p->count; i++)
		free(p->lines[i].takes);
	for (i = 0; i < p->opened_count; i++)
		opened_fini(&p->opened[i]);
	free(p->lines);
	free(p->opened);
	free(p->inversions);
	free(p->orders);
	memset(p, 0, sizeof(*p));
}

void
plan_stock_fini(struct plan_stock *s)
{
	struct plan_batch *b;
	size_t i;

	for (i = 0; i < s->batch_count; i++) {
		b = &s->batches[i];
		free(b->fish_g);
		free(b->fish_number);
		free(b->fish_pin);
		free(b->board_g);
	}
	for (i = 0; i < s->tray_count; i++)
		free(s->trays[i].thawed_use_by_utc);
	free(s->batches);
	free(s->trays);
	memset(s, 0, sizeof(*s));
}
