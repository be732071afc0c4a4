/* plan_weight.c - shellfish and uncounted batches, by weight (rule R-P3). */
#include <stdlib.h>

#include "base/str.h"
#include "plan_work.h"

/* Is this batch one that gives portions of the cut by weight? */
static bool
by_weight(const struct plan_batch *b, const struct plan_cut *cut)
{
	if (b->weight_g <= 0 || cut->kind == CUT_TRIM)
		return false;
	return b->by_weight || !cut_by_piece(cut->kind);
}

/* Would a counted batch of the line's species have to go before this one? */
static bool
fish_first(const struct run *r, size_t line, const struct plan_batch *than)
{
	const struct plan_batch *b;
	size_t i;

	for (i = 0; i < r->p->stock->batch_count; i++) {
		b = &r->p->stock->batches[i];
		if (b == than)
			return false;
		if (!b->by_weight && b->count > 0 &&
		    b->use_by_utc < than->use_by_utc &&
		    line_cut(r, line, b->species) != NULL &&
		    batch_bar(b, r->s) == STOCK_USABLE)
			return true;
	}
	return false;
}

/* Dead and broken ones are allowed for while they are bought alive. */
static int
dead_bp(const struct run *r, const struct plan_cut *cut, enum presentation from)
{
	const struct species *sp = species_find(r->p->species, cut->species);

	if (from != PRES_LIVE)
		return 0;
	return sp->allergen == ALLERGEN_MOLLUSCS   ? r->p->dead_shell_bp
	    : sp->allergen == ALLERGEN_CRUSTACEANS ? r->p->dead_crustacean_bp
						   : 0;
}

struct shell_dish
by_shell(const struct run *r, const struct plan_cut *cut,
    enum presentation from, int bp, grams animal_g)
{
	return (struct shell_dish){
		.by = cut->animals > 0 && animal_g > 0 ? SHELL_PIECE
		    : cut->kind == CUT_SHELL           ? SHELL_WEIGHT
						       : SHELL_MEAT,
		.pieces = cut->animals,
		.portions = cut->animals_make,
		.portion_g = cut->target_g,
		.yield_bp = bp,
		.piece_g = animal_g,
		.dead_bp = dead_bp(r, cut, from),
	};
}

/* Which ones went is not known, so those left are estimated. */
static void
forget_fish(struct plan_batch *b)
{
	free(b->fish_g);
	free(b->fish_number);
	free(b->fish_pin);
	b->fish_g = NULL;
	b->fish_number = NULL;
	b->fish_pin = NULL;
}

static void
take_weight(struct run *r, size_t line, struct plan_take *t,
    struct plan_batch *b, const struct plan_cut *cut)
{
	struct plan_line *l = &r->out->lines[line];
	struct shell_amount stock = { b->count, b->weight_g }, take;
	int64_t want = line_left(l), most;
	struct shell_dish d;
	int bp = (int)((int64_t)t->yield.mean_bp * cut->finish_bp / BP_ONE);

	if (bp < SHELL_YIELD_MIN_BP) {
		t->reason = PLAN_NO_YIELD;
		return;
	}
	d = by_shell(r, cut, b->presentation, bp,
	    b->count > 0 ? b->weight_g / b->count : 0);
	most = shell_portions(&d, &stock);
	if (most == 0) {
		t->reason = PLAN_TOO_SMALL;
		return;
	}
	t->portions = most < want ? most : want;
	take = shell_take(&d, t->portions);
	t->dead_bp = d.dead_bp;
	t->fish = b->count == 0      ? 0
	    : take.pieces < b->count ? take.pieces
				     : b->count;
	t->weight_g = t->fish == b->count && b->count > 0      ? b->weight_g
	    : take.weight_g > 0 && take.weight_g < b->weight_g ? take.weight_g
							       : b->weight_g;
	b->count -= t->fish;
	b->weight_g -= t->weight_g;
	forget_fish(b);
	l->to_make += t->portions;
}

static enum rc
try_batch(struct run *r, size_t line, struct plan_batch *b,
    const struct plan_cut *cut, struct err *err)
{
	struct plan_take *t = add_take(r, line, b);
	bool known;
	enum rc rc;

	t->bar = batch_bar(b, r->s);
	if (t->bar != STOCK_USABLE || b->pin == PLAN_LEAVE) {
		t->reason = t->bar != STOCK_USABLE ? PLAN_BARRED : PLAN_LEFT;
		return RC_OK;
	}
	rc = cut_yield(
	    &t->yield, &known, r, cut, b->presentation, b->supplier_id, err);
	if (rc != RC_OK)
		return rc;
	if (!known)
		t->reason = PLAN_NO_YIELD;
	else
		take_weight(r, line, t, b, cut);
	return RC_OK;
}

static bool
seen(const struct plan_line *l, const struct plan_batch *b)
{
	size_t i;

	for (i = 0; i < l->take_count; i++)
		if (!l->takes[i].tray && str_eq(l->takes[i].code, b->code))
			return true;
	return false;
}

/* One line, from the batches the chef puts first or from the others. */
static enum rc
weigh_line(
    struct run *r, size_t line, bool pinned, bool before_fish, struct err *err)
{
	const struct plan_cut *cut;
	struct plan_batch *b;
	size_t i;
	enum rc rc;

	for (i = 0; i < r->p->stock->batch_count; i++) {
		b = &r->p->stock->batches[i];
		cut = line_cut(r, line, b->species);
		if (line_left(&r->out->lines[line]) == 0)
			break;
		if (cut == NULL || !by_weight(b, cut) ||
		    (b->pin == PLAN_FIRST) != pinned ||
		    seen(&r->out->lines[line], b) ||
		    (before_fish && !pinned && cut_by_piece(cut->kind) &&
			fish_first(r, line, b)))
			continue;
		if ((rc = try_batch(r, line, b, cut, err)) != RC_OK)
			return rc;
	}
	return RC_OK;
}

enum rc
weigh_out(struct run *r, bool before_fish, struct err *err)
{
	size_t line;
	enum rc rc;

	for (line = 0; line < r->out->count; line++)
		if ((rc = weigh_line(r, line, true, before_fish, err)) !=
			RC_OK ||
		    (rc = weigh_line(r, line, false, before_fish, err)) !=
			RC_OK)
			return rc;
	return RC_OK;
}
