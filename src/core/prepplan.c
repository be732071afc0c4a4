/* prepplan.c - covers and menu to portions, fish and the order list. */
#include "core/prepplan.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"

int64_t
portions_needed(int64_t covers, int mix_bp)
{
	return div_up(covers * mix_bp, BP_ONE);
}

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

/* What a batch gives a cut: filled for one look at one batch. */
struct fit {
	enum plan_reason reason;
	struct yield yield;
	int pieces; /* per fish; 0 by weight */
	grams fish_g, piece_g;
	int64_t per_piece;
};

/* The yield from a bought form to a cut: the menu's own figure, else the
 * published one.  False when neither is known. */
static bool
cut_yield(struct yield *y, const struct plan_cut *cut, enum presentation p,
    const struct yield_table *yields)
{
	enum yield_form from = presentation_form(p);

	if (cut->house_yield_bp != 0 && p == cut->bought) {
		memset(y, 0, sizeof(*y));
		y->bp = y->low_bp = y->high_bp = cut->house_yield_bp;
		str_copy(y->source, sizeof(y->source), "the kitchen's menu");
		return true;
	}
	/* What a steak loses with head, guts and tail is published nowhere
	 * here: without the kitchen's own figure it has none. */
	if (cut->kind == CUT_TRONCON)
		return false;
	return yield_find(y, yields, cut->species, from,
		   cut_form(cut->kind, cut->skin_on, from), NULL) == RC_OK;
}

/*
 * Portions out of one piece of `g` usable grams (R-P4): whole fish and fillets
 * are served as they are, if inside the portion's weight band; other cuts are
 * cut at the target weight, one portion when the piece is only above the low.
 */
static enum plan_reason
portions_in_piece(int64_t *out, const struct plan_cut *cut, grams g)
{
	*out = 0;
	if (g < cut->low_g)
		return PLAN_TOO_SMALL;
	if (cut->kind == CUT_WHOLE || cut->kind == CUT_FILLET) {
		if (g > cut->high_g)
			return PLAN_TOO_LARGE;
		*out = 1;
		return PLAN_TAKEN;
	}
	*out = g / cut->target_g;
	if (*out == 0)
		*out = 1;
	return PLAN_TAKEN;
}

static struct fit
fit_batch(const struct plan_batch *b, const struct plan_cut *cut,
    const struct species *sp, const struct yield_table *yields)
{
	struct fit f;

	memset(&f, 0, sizeof(f));
	if (!cut_yield(&f.yield, cut, b->presentation, yields)) {
		f.reason = PLAN_NO_YIELD;
		return f;
	}
	f.reason = PLAN_TAKEN;
	if (!cut_by_piece(cut->kind) || b->by_weight || b->count == 0)
		return f;
	f.pieces =
	    cut->kind == CUT_WHOLE ? 1 : pieces_per_fish(sp, b->presentation);
	if (f.pieces == 0)
		return f;
	f.fish_g = div_down(b->weight_g, b->count);
	f.piece_g = yield_edible(f.fish_g, f.yield.bp) / f.pieces;
	f.reason = portions_in_piece(&f.per_piece, cut, f.piece_g);
	return f;
}

static void
take_by_piece(struct plan_take *t, struct plan_batch *b, const struct fit *f,
    int64_t want)
{
	int64_t per_fish = f->per_piece * f->pieces;
	int64_t got;

	t->fish = div_up(want, per_fish);
	if (t->fish > b->count)
		t->fish = b->count;
	got = t->fish * per_fish;
	t->portions = got < want ? got : want;
	t->spare = got - t->portions;
	t->pieces = t->fish * f->pieces;
	t->weight_g = t->fish == b->count ? b->weight_g : t->fish * f->fish_g;
	t->fish_g = f->fish_g;
	t->piece_g = f->piece_g;
	t->per_piece = f->per_piece;
	b->count -= t->fish;
	b->weight_g -= t->weight_g;
}

static void
take_by_weight(struct plan_take *t, struct plan_batch *b, const struct fit *f,
    const struct plan_cut *cut, int64_t want)
{
	int64_t most = yield_edible(b->weight_g, f->yield.bp) / cut->target_g;

	if (most == 0) {
		t->reason = PLAN_TOO_SMALL;
		return;
	}

	t->portions = most < want ? most : want;
	t->weight_g = yield_bought(t->portions * cut->target_g, f->yield.bp);
	b->weight_g -= t->weight_g;
}

static struct plan_take *
add_take(struct plan_line *line, size_t *cap)
{
	struct plan_take *t;

	line->takes = grow(line->takes, cap, line->take_count, sizeof(*t));
	t = &line->takes[line->take_count++];
	memset(t, 0, sizeof(*t));
	return t;
}

/* Portions on hand first, first to expire first (R-P2). */
static void
take_trays(struct plan_line *line, size_t *cap, struct plan_stock *stock,
    const struct plan_service *service)
{
	struct plan_tray *tray;
	struct plan_take *t;
	int64_t want;
	size_t i;

	for (i = 0; i < stock->tray_count; i++) {
		tray = &stock->trays[i];
		want = line->to_have - line->on_hand;
		if (want <= 0 || tray->left == 0 ||
		    !str_eq(tray->dish, line->cut.dish) ||
		    !str_eq(tray->species, line->cut.species))
			continue;
		t = add_take(line, cap);
		t->tray = true;
		str_copy(t->code, sizeof(t->code), tray->code);
		t->use_by_utc = tray->use_by_utc;
		if (tray->held)
			t->reason = PLAN_HELD;
		else if (tray->use_by_utc < service->end_utc)
			t->reason = PLAN_EXPIRED;
		else {
			t->portions = tray->left < want ? tray->left : want;
			tray->left -= t->portions;
			line->on_hand += t->portions;
		}
	}
}

/* Then batches, first to expire first; never held or expired ones (R-P3). */
static void
take_batches(struct plan_line *line, size_t *cap, struct plan_stock *stock,
    const struct plan_service *service, const struct species *sp,
    const struct yield_table *yields)
{
	struct plan_batch *b;
	struct plan_take *t;
	struct fit f;
	int64_t want;
	size_t i;

	for (i = 0; i < stock->batch_count; i++) {
		b = &stock->batches[i];
		want = line->to_have - line->on_hand - line->to_make;
		if (want <= 0 || !str_eq(b->species, line->cut.species) ||
		    b->weight_g <= 0 || (!b->by_weight && b->count == 0))
			continue;
		t = add_take(line, cap);
		str_copy(t->code, sizeof(t->code), b->code);
		t->use_by_utc = b->use_by_utc;
		if (b->held || b->use_by_utc < service->end_utc) {
			t->reason = b->held ? PLAN_HELD : PLAN_EXPIRED;
			continue;
		}
		f = fit_batch(b, &line->cut, sp, yields);
		t->reason = f.reason;
		t->yield = f.yield;
		t->fish_g = f.fish_g;
		t->piece_g = f.piece_g;
		if (f.reason != PLAN_TAKEN)
			continue;
		if (f.pieces > 0)
			take_by_piece(t, b, &f, want);
		else
			take_by_weight(t, b, &f, &line->cut, want);
		line->to_make += t->portions;
	}
}

/* What is still missing, in the weight it is bought in (R-P5). */
static void
order_rest(struct plan_line *line, const struct species *sp,
    const struct yield_table *yields)
{
	const struct plan_cut *cut = &line->cut;
	int pieces;

	line->short_of = line->to_have - line->on_hand - line->to_make;
	if (line->short_of <= 0)
		return;
	line->order_known =
	    cut_yield(&line->order_yield, cut, cut->bought, yields);
	if (!line->order_known)
		return;
	line->order_g =
	    yield_bought(line->short_of * cut->target_g, line->order_yield.bp);
	pieces = pieces_per_fish(sp, cut->bought);
	if (cut->kind == CUT_WHOLE)
		line->order_pieces = line->short_of;
	else if (cut->kind == CUT_FILLET && pieces > 0)
		line->order_pieces = div_up(line->short_of, pieces);
}

static enum rc
plan_line_make(struct plan_line *line, struct plan_stock *stock,
    const struct plan_service *service, const struct species_table *species,
    const struct yield_table *yields, struct err *err)
{
	const struct species *sp;
	size_t cap = 0;

	sp = species_find(species, line->cut.species);
	if (sp == NULL)
		return err_set(err, RC_INVALID, 0,
		    "dish %s: species %s is not in the species table",
		    line->cut.dish, line->cut.species);
	line->covers = service->covers;
	line->need = portions_needed(service->covers, line->cut.mix_bp);
	line->to_have = line->need - line->cut.used;
	if (line->to_have < 0)
		line->to_have = 0;
	take_trays(line, &cap, stock, service);
	take_batches(line, &cap, stock, service, sp, yields);
	order_rest(line, sp, yields);
	return RC_OK;
}

/*
 * Working order (R-P6): fish first, shellfish apart and last by allergen
 * group, so that one board and one cloth do for each; then species and dish.
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
	return c != 0 ? c : strcmp(a->cut.dish, b->cut.dish);
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

enum rc
plan_make(struct plan *out, struct plan_stock *stock,
    const struct plan_service *service, const struct species_table *species,
    const struct yield_table *yields, struct err *err)
{
	struct plan_line *line;
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->lines = xcalloc(service->cut_count, sizeof(*out->lines));
	for (i = 0; i < service->cut_count; i++) {
		if (service->cuts[i].mix_bp == 0)
			continue;
		line = &out->lines[out->count++];
		line->cut = service->cuts[i];
		rc = plan_line_make(line, stock, service, species, yields, err);
		if (rc != RC_OK) {
			plan_fini(out);
			return rc;
		}
	}
	sort_lines(out, species);
	return RC_OK;
}

void
plan_fini(struct plan *p)
{
	size_t i;

	for (i = 0; i < p->count; i++)
		free(p->lines[i].takes);
	free(p->lines);
	memset(p, 0, sizeof(*p));
}

void
plan_orders(
    struct plan_order **out, size_t *count, const struct plan *p, grams step_g)
{
	const struct plan_line *line;
	struct plan_order *o;
	size_t i, j;

	*count = 0;
	*out = xcalloc(p->count, sizeof(**out));
	for (i = 0; i < p->count; i++) {
		line = &p->lines[i];
		if (line->short_of <= 0 || !line->order_known)
			continue;
		for (j = 0; j < *count; j++)
			if (str_eq((*out)[j].species, line->cut.species) &&
			    (*out)[j].bought == line->cut.bought)
				break;
		o = &(*out)[j];
		if (j == *count) {
			(*count)++;
			str_copy(
			    o->species, sizeof(o->species), line->cut.species);
			o->bought = line->cut.bought;
		}
		o->need_g += line->order_g;
		o->portions += line->short_of;
	}
	for (j = 0; j < *count; j++)
		(*out)[j].order_g = div_up((*out)[j].need_g, step_g) * step_g;
}
