/* plan_board.c - a service's lines and fish as a cut problem. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "plan_work.h"

#define LINES_MAX 64 /* bits of batch_fit.lines */

/*
 * A gram a guest does not get costs twice what it would have been worth: at
 * once its worth the plan still shaves 1.8 % off the mean portion to save
 * opening a fish, at twice 0.8 % (docs/planning.md, measured).
 */
#define UNDER_TIMES 2

int
plan_board_species(const struct board *b, const char *species)
{
	int i;

	for (i = 0; i < b->species_count; i++)
		if (str_eq(b->scales[i].species, species))
			return i;
	return -1;
}

static enum cut_serve
serve_of(const struct plan_cut *cut)
{
	return cut->kind == CUT_WHOLE ? SERVE_WHOLE
	    : cut->kind == CUT_FILLET ? SERVE_PIECE
				      : SERVE_CUT;
}

static enum rc
add_species(struct board *b, const struct run *r, const struct plan_line *l,
    struct err *err)
{
	enum rc rc;
	int i;

	for (i = 0; i < l->species_count; i++) {
		if (plan_board_species(b, l->species[i]) >= 0)
			continue;
		if (b->species_count == CUT_SPECIES_MAX)
			return err_set(err, RC_INVALID, 0,
			    "more than %d species to cut for one service",
			    CUT_SPECIES_MAX);
		rc = scales_make(
		    &b->scales[b->species_count], r, l->species[i], err);
		if (rc != RC_OK)
			return rc;
		b->species_count++;
	}
	return RC_OK;
}

/*
 * A band on the scale of the species, narrowed to what every species of the
 * dish can hold; a species whose band misses the others' is left out.
 */
static void
band(struct board *b, const struct run *r, size_t line, struct cut_dish *d)
{
	const struct plan_cut *cut;
	const struct scale *s;
	grams low, target, high;
	int i;

	for (i = 0; i < b->species_count; i++) {
		cut = line_cut(r, line, b->scales[i].species);
		s = &b->scales[i].line[line];
		if (cut == NULL || s->cut == 0)
			continue;
		low = scale_up(s, cut->low_g);
		target = scale_up(s, cut->target_g);
		high = cut->high_g * s->ref / s->cut;
		if (high < target)
			high = target;
		if (d->species == 0) {
			d->low_g = low;
			d->target_g = target;
			d->high_g = high;
			d->serve = serve_of(cut);
			d->thick = s->share_bp < BP_ONE;
		} else if (d->serve != serve_of(cut) || low > d->target_g ||
		    high < d->target_g || d->thick != (s->share_bp < BP_ONE))
			continue;
		d->low_g = low > d->low_g ? low : d->low_g;
		d->high_g = high < d->high_g ? high : d->high_g;
		d->species |= UINT32_C(1) << i;
	}
}

static enum rc
add_dish(struct board *b, const struct run *r, size_t line, struct err *err)
{
	struct cut_dish *d = &b->dishes[b->dish_count];
	enum rc rc;

	if (b->dish_count == CUT_DISHES_MAX)
		return err_set(err, RC_INVALID, 0,
		    "more than %d dishes to cut for one service",
		    CUT_DISHES_MAX);
	if ((rc = add_species(b, r, &r->out->lines[line], err)) != RC_OK)
		return rc;
	band(b, r, line, d);
	if (d->species == 0) /* no yield is known: ordered by hand */
		return RC_OK;
	d->wanted = line_left(&r->out->lines[line]);
	b->dish_line[b->dish_count++] = line;
	return RC_OK;
}

static enum rc
add_pool(struct board *b, const struct run *r, size_t line, struct err *err)
{
	struct cut_pool *p = &b->pools[b->pool_count];
	const struct plan_line *l = &r->out->lines[line];
	const struct plan_cut *cut;
	grams wanted;
	enum rc rc;
	int i;

	if (b->pool_count == CUT_POOLS_MAX)
		return err_set(err, RC_INVALID, 0,
		    "more than %d dishes made of trim in one service",
		    CUT_POOLS_MAX);
	if ((rc = add_species(b, r, l, err)) != RC_OK)
		return rc;
	for (i = 0; i < b->species_count; i++) {
		cut = line_cut(r, line, b->scales[i].species);
		if (cut == NULL || b->scales[i].line[line].cut == 0)
			continue;
		wanted = scale_up(
		    &b->scales[i].line[line], line_left(l) * cut->target_g);
		p->wanted_g = wanted > p->wanted_g ? wanted : p->wanted_g;
		p->species |= UINT32_C(1) << i;
	}
	if (p->species != 0)
		b->pool_line[b->pool_count++] = line;
	return RC_OK;
}

enum rc
plan_board_lines(struct board *b, const struct run *r, struct err *err)
{
	const struct plan_line *l;
	size_t i;
	enum rc rc = RC_OK;

	memset(b, 0, sizeof(*b));
	if (r->out->count > LINES_MAX)
		return err_set(err, RC_INVALID, 0,
		    "more than %d dishes on for one service", LINES_MAX);
	for (i = 0; i < r->out->count && rc == RC_OK; i++) {
		l = &r->out->lines[i];
		if (line_left(l) == 0)
			continue;
		if (l->cut.kind == CUT_TRIM)
			rc = add_pool(b, r, i, err);
		else if (cut_by_piece(l->cut.kind))
			rc = add_dish(b, r, i, err);
	}
	if (rc != RC_OK)
		plan_board_fini(b);
	return rc;
}

/* Dishes of the board that a fish of this fit may become, cut or steaked. */
static uint32_t
dishes_of(const struct board *b, const struct batch_fit *fit, bool steak,
    const struct run *r)
{
	uint32_t mask = 0;
	size_t d;

	for (d = 0; d < b->dish_count; d++)
		if ((fit->lines >> b->dish_line[d] & 1) != 0 &&
		    b->dishes[d].serve != SERVE_WHOLE &&
		    (r->out->lines[b->dish_line[d]].cut.kind == CUT_TRONCON) ==
			steak)
			mask |= UINT32_C(1) << d;
	return mask;
}

static grams
part(grams g, int64_t yield)
{
	return g * (yield / BP_ONE) / BP_ONE;
}

static enum cut_pin
pin_of(enum plan_pin pin, bool on_board)
{
	if (on_board)
		return PIN_OPEN;
	switch (pin) {
	case PLAN_FREE:
		break;
	case PLAN_FIRST:
		return PIN_OPEN;
	case PLAN_LEAVE:
		return PIN_CLOSED;
	case PLAN_SERVE_WHOLE:
		return PIN_WHOLE;
	}
	return PIN_NONE;
}

/* The share of a piece that a thick dish of this species may use. */
static int64_t
thick_share(const struct board *b, int species)
{
	int64_t bp;
	size_t d;

	for (d = 0; d < b->dish_count; d++) {
		bp = b->scales[species].line[b->dish_line[d]].share_bp;
		if (b->dishes[d].thick &&
		    (b->dishes[d].species >> species & 1) != 0)
			return bp;
	}
	return BP_ONE;
}

static void
add_way(struct board *b, struct cut_fish *f, int pieces, grams piece_g,
    uint32_t dishes, int64_t keep)
{
	struct cut_way *w = &f->ways[f->way_count++];

	w->pieces = pieces;
	w->piece_g = piece_g;
	w->thick_g = piece_g * thick_share(b, f->species) / BP_ONE;
	w->keep = keep;
	w->dishes = dishes;
}

/* A piece is weighed before it is finished, the scale counts what is left. */
static grams
on_scale(const struct board *b, grams piece_g, int species)
{
	const struct plan_cut *ref = b->scales[species].flesh;

	return ref == NULL ? piece_g : piece_g * ref->finish_bp / BP_ONE;
}

static bool
fits_whole(const struct cut_dish *d, const struct cut_fish *f)
{
	return d->serve == SERVE_WHOLE && (d->species >> f->species & 1) != 0 &&
	    f->whole_g >= d->low_g && f->whole_g <= d->high_g;
}

bool
plan_board_gives(const struct board *b, const struct cut_fish *f, size_t dish)
{
	const struct cut_dish *d = &b->dishes[dish];
	const struct cut_way *way;
	int w;

	if (fits_whole(d, f))
		return true;
	if ((d->species >> f->species & 1) == 0)
		return false;
	for (w = 0; w < f->way_count; w++) {
		way = &f->ways[w];
		if ((way->dishes >> dish & 1) != 0 &&
		    (d->thick ? way->thick_g : way->piece_g) >= d->low_g &&
		    (d->serve != SERVE_PIECE || way->piece_g <= d->high_g))
			return true;
	}
	return false;
}

bool
plan_board_trims(const struct board *b, const struct cut_fish *f, size_t pool)
{
	return f->way_count > 0 &&
	    (b->pools[pool].species >> f->species & 1) != 0;
}

/*
 * What a person said about a fish, as far as the board wants it.  Put first and
 * fitting nothing, it stays closed: to open it would only spoil it.  To be
 * served whole, it is kept for that while a dish can take it, and is not
 * forced on more guests than asked for it.
 */
static void
heed_pin(const struct board *b, struct cut_fish *f)
{
	bool useful = false, whole = false;
	size_t i;

	for (i = 0; i < b->dish_count; i++) {
		useful = useful || plan_board_gives(b, f, i);
		whole = whole || fits_whole(&b->dishes[i], f);
	}
	for (i = 0; i < b->pool_count; i++)
		useful = useful || plan_board_trims(b, f, i);
	if (f->pin == PIN_OPEN && !useful)
		f->pin = PIN_NONE;
	if (f->pin != PIN_WHOLE)
		return;
	f->pin = PIN_NONE;
	if (!whole)
		return;
	f->way_count = 0;
	if (f->cost > PLAN_FIRST_COST)
		f->cost = PLAN_FIRST_COST;
}

enum rc
plan_board_add(struct board *b, const struct run *r,
    const struct board_fish *from, int species, const struct batch_fit *fit,
    int64_t cost, int64_t keep, enum plan_pin pin, struct err *err)
{
	struct cut_fish *f;
	uint32_t steaks = dishes_of(b, fit, true, r);
	grams piece_g;

	if (b->fish_count == CUT_FISH_MAX)
		return err_set(err, RC_INVALID, 0,
		    "more than %d fish to choose from: take uncounted batches "
		    "in by weight",
		    CUT_FISH_MAX);
	b->fish = grow(b->fish, &b->fish_cap, b->fish_count, sizeof(*b->fish));
	b->from = grow(b->from, &b->from_cap, b->fish_count, sizeof(*b->from));
	b->from[b->fish_count] = *from;
	f = &b->fish[b->fish_count++];
	memset(f, 0, sizeof(*f));
	f->species = species;
	f->cost = cost < CUT_MONEY_MAX ? cost : CUT_MONEY_MAX;
	f->pin = pin_of(pin, from->on_board);
	if (f->cost > b->dearest)
		b->dearest = f->cost;
	if (from->on_board) {
		add_way(b, f, 1, on_scale(b, from->weight_g, species),
		    dishes_of(b, fit, false, r), keep);
		return RC_OK;
	}
	f->whole_g = part(from->weight_g, fit->whole);
	if (f->whole_g > CUT_FISH_MAX_G)
		f->whole_g = 0;
	piece_g = fit->flesh == 0
	    ? 0
	    : part(from->weight_g, fit->flesh) / fit->pieces;
	if (fit->flesh > 0 && piece_g <= CUT_PIECE_MAX_G)
		add_way(b, f, fit->pieces, piece_g, dishes_of(b, fit, false, r),
		    keep);
	piece_g = part(from->weight_g, fit->steak);
	if (fit->steak > 0 && steaks != 0 && piece_g <= CUT_PIECE_MAX_G)
		add_way(b, f, 1, piece_g, steaks, 0);
	heed_pin(b, f);
	return RC_OK;
}

/* Prices beyond belief count as the highest that can be reckoned with, on any
 * scale of core/stock.h. */
static int64_t
at_most(int64_t price)
{
	return price < CUT_MONEY_MAX / 4 ? price : CUT_MONEY_MAX / 4;
}

/*
 * A portion short costs what the guest would have paid less the fish in it, and
 * never less than the fish.  Without a price it costs more than any fish does:
 * then nothing is left short that stock could serve.
 */
static int64_t
short_cost(const struct board *b, const struct run *r, size_t dish,
    int64_t flesh, const struct stock_rho *rho)
{
	int64_t price = r->out->lines[b->dish_line[dish]].cut.price * 1000;
	int64_t fish = at_most(flesh * b->dishes[dish].target_g), cost;

	if (price < 0)
		cost = b->dearest + stock_penalty(fish, rho) + 1000;
	else
		cost = stock_penalty(
		    at_most(price - fish > fish ? price - fish : fish), rho);
	return cost < CUT_MONEY_MAX ? cost : CUT_MONEY_MAX;
}

static int64_t
dearest_flesh(const struct board *b, uint32_t species)
{
	int64_t most = 0;
	int i;

	for (i = 0; i < b->species_count; i++)
		if ((species >> i & 1) != 0 && b->flesh_price[i] > most)
			most = b->flesh_price[i];
	return at_most(most);
}

void
plan_board_prices(
    struct board *b, const struct run *r, const struct stock_rho *rho)
{
	struct cut_dish *d;
	int64_t flesh;
	size_t i;

	for (i = 0; i < b->dish_count; i++) {
		d = &b->dishes[i];
		flesh = dearest_flesh(b, d->species);
		d->under_price =
		    stock_penalty(at_most(flesh * UNDER_TIMES), rho);
		d->short_cost = short_cost(b, r, i, flesh, rho);
	}
	for (i = 0; i < b->pool_count; i++)
		b->pools[i].price =
		    stock_penalty(dearest_flesh(b, b->pools[i].species), rho);
}

void
plan_board_fini(struct board *b)
{
	int i;

	for (i = 0; i < b->species_count; i++)
		scales_fini(&b->scales[i]);
	free(b->fish);
	free(b->from);
	memset(b, 0, sizeof(*b));
}
