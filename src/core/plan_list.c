/* plan_list.c - a cut plan back to lines, batches and fish. */
#include "core/plan_list.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "plan_work.h"

bool
batch_counted(const struct plan_batch *b)
{
	return !b->by_weight && (b->count > 0 || b->board_count > 0);
}

static void
piece_back(struct plan_piece *out, const struct fishing *f, int species,
    const struct cut_piece *in)
{
	const struct scale *s;
	const struct plan_cut *cut;
	grams g;
	size_t i, line;
	struct plan_portions *last = NULL;

	out->cuts = xcalloc(in->cut_count, sizeof(*out->cuts));
	out->trim_g = in->trim_g;
	out->kept = in->kept;
	for (i = 0; i < in->cut_count; i++) {
		line = f->b.dish_line[in->cuts[i].dish];
		s = &f->b.scales[species].line[line];
		cut = line_cut(f->r, line, f->b.scales[species].species);
		g = scale_down(s, in->cuts[i].portion_g);
		/* A piece served as it is may weigh what it weighs. */
		if (g > cut->high_g)
			g = cut->high_g;
		if (last != NULL && last->line == (int)line &&
		    last->portion_g == g) {
			last->count++;
			continue;
		}
		last = &out->cuts[out->cut_count++];
		last->line = (int)line;
		last->count = 1;
		last->portion_g = g;
	}
}

/* A fish is opened for steaks only where a dish of steaks wants it. */
static bool
steaked(const struct fishing *f, const struct cut_way *way)
{
	size_t d;

	for (d = 0; d < f->b.dish_count; d++)
		if ((way->dishes >> d & 1) != 0 &&
		    f->r->out->lines[f->b.dish_line[d]].cut.kind == CUT_TRONCON)
			return true;
	return false;
}

static void
open_back(struct fishing *f, size_t i)
{
	const struct cut_choice *c = &f->cut.fish[i];
	const struct board_fish *from = &f->b.from[i];
	const struct plan_batch *b = &f->r->p->stock->batches[from->source];
	struct plan *out = f->r->out;
	struct plan_opened *o;
	int species = f->b.fish[i].species, k;

	out->opened = grow(out->opened, &f->opened_cap, out->opened_count,
	    sizeof(*out->opened));
	o = &out->opened[out->opened_count++];
	memset(o, 0, sizeof(*o));
	str_copy(o->batch, sizeof(o->batch), b->code);
	str_copy(o->species, sizeof(o->species), b->species);
	o->presentation = b->presentation;
	o->use_by_utc = b->use_by_utc;
	o->weight_g = from->weight_g;
	o->on_board = from->on_board;
	if (!from->on_board && b->fish_number != NULL)
		o->number = b->fish_number[from->index];
	o->whole_line = -1;
	if (c->mode == MODE_WHOLE) {
		o->whole_line = (int)f->b.dish_line[c->dish];
		return;
	}
	o->troncon = steaked(f, &f->b.fish[i].ways[c->way]);
	o->piece_count = (size_t)f->b.fish[i].ways[c->way].pieces;
	o->pieces = xcalloc(o->piece_count, sizeof(*o->pieces));
	for (k = 0; k < (int)o->piece_count; k++)
		piece_back(&o->pieces[k], f, species, &c->pieces[k]);
}

/* Portions of a line that an opened fish gives; of a trim line, grams. */
static int64_t
gives(const struct fishing *f, const struct plan_opened *o, size_t line)
{
	const struct plan_line *l = &f->r->out->lines[line];
	int64_t n = o->whole_line == (int)line;
	bool trim =
	    l->cut.kind == CUT_TRIM && line_cut(f->r, line, o->species) != NULL;
	size_t i, k;

	for (i = 0; i < o->piece_count; i++) {
		if (trim)
			n += o->pieces[i].trim_g;
		for (k = 0; k < o->pieces[i].cut_count; k++)
			if (o->pieces[i].cuts[k].line == (int)line)
				n += o->pieces[i].cuts[k].count;
	}
	return n;
}

static grams
smallest(const struct plan_opened *o, size_t line)
{
	grams least = 0, g;
	size_t i, k;

	for (i = 0; i < o->piece_count; i++)
		for (k = 0; k < o->pieces[i].cut_count; k++) {
			g = o->pieces[i].cuts[k].portion_g;
			if (o->pieces[i].cuts[k].line == (int)line &&
			    (least == 0 || g < least))
				least = g;
		}
	return least;
}

/* What one batch gives a line, from all its opened fish. */
static enum rc
take_fish(
    struct fishing *f, size_t line, size_t index, bool *made, struct err *err)
{
	const struct plan_batch *b = &f->r->p->stock->batches[index];
	const struct plan_cut *cut = line_cut(f->r, line, b->species);
	struct plan *out = f->r->out;
	struct plan_line *l = &out->lines[line];
	struct plan_take *t = NULL;
	const struct plan_opened *o;
	int64_t n;
	grams g;
	size_t i;
	bool known;

	for (i = 0; i < out->opened_count; i++) {
		o = &out->opened[i];
		if (!str_eq(o->batch, b->code) || (n = gives(f, o, line)) == 0)
			continue;
		if (t == NULL)
			t = add_take(f->r, line, b);
		t->opened = true;
		t->fish++;
		t->estimated = t->estimated || (!o->on_board && o->number == 0);
		if (l->cut.kind == CUT_TRIM) {
			t->weight_g += n;
			continue;
		}
		t->portions += n;
		g = smallest(o, line);
		if (t->piece_g == 0 || (g > 0 && g < t->piece_g))
			t->piece_g = g;
	}
	*made = t != NULL;
	if (t == NULL)
		return RC_OK;
	l->to_make += t->portions;
	out->estimated = out->estimated || t->estimated;
	return cut_yield(
	    &t->yield, &known, f->r, cut, b->presentation, b->supplier_id, err);
}

/* Why a batch gives a line nothing, from its heaviest and lightest fish. */
static enum stock_reason
fits_not(const struct fishing *f, size_t line, size_t index,
    enum plan_reason *reason)
{
	const struct plan_batch *b = &f->r->p->stock->batches[index];
	const struct batch_fit *fit = &f->fits[index];
	const struct plan_cut *cut = line_cut(f->r, line, b->species);
	const struct scale *s;
	grams most, least;
	int64_t yield;
	int pieces, sp = plan_board_species(&f->b, b->species);

	*reason = PLAN_NO_YIELD;
	if (cut == NULL || sp < 0)
		return STOCK_SPECIES;
	if ((fit->lines >> line & 1) == 0)
		return STOCK_FORM;
	yield = cut->kind == CUT_WHOLE ? fit->whole
	    : cut->kind == CUT_TRONCON ? fit->steak
				       : fit->flesh;
	pieces = cut->kind == CUT_WHOLE || cut->kind == CUT_TRONCON
	    ? 1
	    : fit->pieces;
	if (yield == 0 || pieces == 0)
		return STOCK_FORM;
	if (b->count == 0 || b->fish_g == NULL || cut->kind == CUT_TRIM)
		return STOCK_USABLE;
	s = &f->b.scales[sp].line[line];
	most = b->fish_g[0] * (yield / BP_ONE) / BP_ONE / pieces;
	least = b->fish_g[b->count - 1] * (yield / BP_ONE) / BP_ONE / pieces;
	*reason = PLAN_TOO_HEAVY;
	if (least > (cut->kind == CUT_WHOLE ? CUT_FISH_MAX_G : CUT_PIECE_MAX_G))
		return STOCK_FORM;
	*reason = PLAN_TOO_SMALL;
	if (most < scale_up(s, cut->low_g))
		return STOCK_SIZE;
	*reason = PLAN_TOO_LARGE;
	if ((cut->kind == CUT_WHOLE || cut->kind == CUT_FILLET) &&
	    least > cut->high_g * s->ref / s->cut)
		return STOCK_SIZE;
	return STOCK_USABLE;
}

/* Does every fish of a batch that stays closed do so by the chef's word? */
static bool
all_left(const struct fishing *f, size_t index)
{
	size_t i;
	bool left = f->r->p->stock->batches[index].pin == PLAN_LEAVE;

	for (i = 0; f->cut.fish != NULL && i < f->b.fish_count; i++) {
		if (f->b.from[i].source != index || f->b.from[i].on_board ||
		    f->cut.fish[i].mode != MODE_CLOSED)
			continue;
		if (f->b.fish[i].pin != PIN_CLOSED)
			return false;
		left = true;
	}
	return left;
}

static void
leave(struct fishing *f, size_t line, size_t index, enum stock_reason why,
    enum plan_reason reason)
{
	const struct plan_batch *b = &f->r->p->stock->batches[index];
	struct plan_take *t = add_take(f->r, line, b);

	t->bar = batch_bar(b, f->r->s);
	t->reason = t->bar != STOCK_USABLE ? PLAN_BARRED
	    : why != STOCK_USABLE          ? reason
	    : all_left(f, index)           ? PLAN_LEFT
					   : PLAN_NOT_NEEDED;
}

/* Takes of every line, batches left included, and what speaks against each:
 * why[batch x lines + line], made[...] for the inversions. */
static enum rc
lines_back(
    struct fishing *f, enum stock_reason *why, bool *made, struct err *err)
{
	const struct plan_stock *stock = f->r->p->stock;
	struct plan *out = f->r->out;
	enum plan_reason reason;
	size_t line, i, at;
	enum rc rc;

	for (line = 0; line < out->count; line++)
		for (i = 0; i < stock->batch_count; i++) {
			at = i * out->count + line;
			why[at] = STOCK_SPECIES;
			if ((!cut_by_piece(out->lines[line].cut.kind) &&
				out->lines[line].cut.kind != CUT_TRIM) ||
			    !batch_counted(&stock->batches[i]) ||
			    plan_board_species(
				&f->b, stock->batches[i].species) < 0 ||
			    line_cut(f->r, line, stock->batches[i].species) ==
				NULL)
				continue;
			why[at] = fits_not(f, line, i, &reason);
			if ((rc = take_fish(f, line, i, &made[at], err)) !=
			    RC_OK)
				return rc;
			if (!made[at] && line_left(&out->lines[line]) > 0)
				leave(f, line, i, why[at], reason);
			if (batch_bar(&stock->batches[i], f->r->s) !=
			    STOCK_USABLE)
				why[at] =
				    batch_bar(&stock->batches[i], f->r->s);
			else if (why[at] == STOCK_USABLE && all_left(f, i))
				why[at] = STOCK_LEFT;
		}
	return RC_OK;
}

/* Trim made, as whole portions of the dishes that want it. */
static void
pools_back(struct fishing *f)
{
	struct plan_line *l;
	grams wanted, had;
	size_t k;

	for (k = 0; f->cut.fish != NULL && k < f->b.pool_count; k++) {
		l = &f->r->out->lines[f->b.pool_line[k]];
		wanted = f->b.pools[k].wanted_g;
		had = wanted - f->cut.trim_short_g[k];
		if (wanted > 0)
			l->to_make += line_left(l) * had / wanted;
	}
}

/* Short although a closed fish would do: the money said so. */
static void
choices_back(struct fishing *f)
{
	struct plan_line *lines = f->r->out->lines;
	const struct cut_fish *fish;
	size_t i, k;

	for (i = 0; f->cut.fish != NULL && i < f->b.fish_count; i++) {
		fish = &f->b.fish[i];
		if (f->cut.fish[i].mode != MODE_CLOSED ||
		    fish->pin == PIN_CLOSED)
			continue;
		for (k = 0; k < f->b.dish_count; k++)
			if (plan_board_gives(&f->b, fish, k))
				lines[f->b.dish_line[k]].by_choice = true;
		for (k = 0; k < f->b.pool_count; k++)
			if (plan_board_trims(&f->b, fish, k))
				lines[f->b.pool_line[k]].by_choice = true;
	}
}

static enum rc
inversions_back(struct fishing *f, const enum stock_reason *why,
    const bool *made, struct err *err)
{
	const struct plan_stock *stock = f->r->p->stock;
	struct stock_left *left = xcalloc(stock->batch_count, sizeof(*left));
	struct stock_inversion *found = NULL;
	struct plan *out = f->r->out;
	size_t i, n = 0;
	enum rc rc;

	for (i = 0; i < stock->batch_count; i++) {
		left[i].use_by_utc = stock->batches[i].use_by_utc;
		/* Species no dish wants are each one of their own. */
		left[i].species =
		    plan_board_species(&f->b, stock->batches[i].species);
		if (left[i].species < 0)
			left[i].species = CUT_SPECIES_MAX + (int)i;
		left[i].closed = stock->batches[i].count;
	}
	for (i = 0; f->cut.fish != NULL && i < f->b.fish_count; i++)
		if (f->cut.fish[i].mode != MODE_CLOSED &&
		    !f->b.from[i].on_board) {
			left[f->b.from[i].source].opened++;
			left[f->b.from[i].source].closed--;
		}
	rc = stock_inversions(&found, &n,
	    &(struct stock_outcome){
		.batches = left,
		.batch_count = stock->batch_count,
		.dish_count = out->count,
		.why = why,
		.made = made,
	    },
	    err);
	out->inversions = xcalloc(n, sizeof(*out->inversions));
	for (i = 0; rc == RC_OK && i < n; i++) {
		str_copy(out->inversions[i].later, CODE_SIZE,
		    stock->batches[found[i].later].code);
		str_copy(out->inversions[i].earlier, CODE_SIZE,
		    stock->batches[found[i].earlier].code);
		out->inversions[i].reason = found[i].reason;
		out->inversion_count++;
	}
	free(found);
	free(left);
	return rc;
}

enum rc
fish_back(struct fishing *f, struct err *err)
{
	size_t i, n = f->r->p->stock->batch_count * f->r->out->count;
	enum stock_reason *why = xcalloc(n, sizeof(*why));
	bool *made = xcalloc(n, sizeof(*made));
	enum rc rc;

	for (i = 0; f->cut.fish != NULL && i < f->b.fish_count; i++)
		if (f->cut.fish[i].mode != MODE_CLOSED)
			open_back(f, i);
	rc = lines_back(f, why, made, err);
	pools_back(f);
	choices_back(f);
	if (rc == RC_OK)
		rc = inversions_back(f, why, made, err);
	free(why);
	free(made);
	return rc;
}
