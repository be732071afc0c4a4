/*
 * plan_order.c - what is missing, as suppliers sell it (rule R-P5).
 *
 * Fish sold by grade are chosen by the same cut plan, with the grades as fish
 * that may be opened at their price; the rest by weight.  Always by the low
 * yield: one breakdown in five gives less.
 */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "plan_work.h"

/* More fish of one grade than this are ordered by weight. */
#define GRADE_FISH_MAX 120

struct buying {
	struct run *r;
	struct board b;
	struct cut_plan cut;
	size_t order_cap;
};

static struct plan_order *
order_of(struct buying *u, const char *species, enum presentation bought,
    const char *supplier, grams fish_g)
{
	struct plan *out = u->r->out;
	struct plan_order *o;
	size_t i;

	for (i = 0; i < out->order_count; i++) {
		o = &out->orders[i];
		if (str_eq(o->species, species) && o->bought == bought &&
		    str_eq(o->supplier, supplier) && o->fish_g == fish_g)
			return o;
	}
	out->orders = grow(
	    out->orders, &u->order_cap, out->order_count, sizeof(*out->orders));
	o = &out->orders[out->order_count++];
	memset(o, 0, sizeof(*o));
	str_copy(o->species, sizeof(o->species), species);
	o->bought = bought;
	str_copy(o->supplier, sizeof(o->supplier), supplier);
	o->fish_g = fish_g;
	o->price = -1;
	return o;
}

/* --- fish by grade ---------------------------------------------------------
 */

/* Enough fish of the grade for all that is short, and no more. */
static int64_t
copies(const struct buying *u, const struct cut_fish *f, int species)
{
	const struct cut_dish *d;
	int64_t n = 0, grams_short = 0, piece;
	size_t i;

	for (i = 0; i < u->b.dish_count; i++) {
		d = &u->b.dishes[i];
		if ((d->species >> species & 1) == 0)
			continue;
		if (d->serve == SERVE_WHOLE)
			n += d->wanted;
		else if (d->serve == SERVE_PIECE)
			n += d->wanted;
		else
			grams_short += d->wanted * d->target_g;
	}
	for (i = 0; i < u->b.pool_count; i++)
		if ((u->b.pools[i].species >> species & 1) != 0)
			grams_short += u->b.pools[i].wanted_g;
	piece = f->way_count == 0 ? 0 : f->ways[0].pieces * f->ways[0].piece_g;
	/* Twice over, since no fish is used up to the last gram. */
	if (piece > 0)
		n += div_up(2 * grams_short, piece);
	return n + 1 < GRADE_FISH_MAX ? n + 1 : GRADE_FISH_MAX;
}

static enum rc
add_grade(struct buying *u, size_t index, struct err *err)
{
	const struct plan_offer *o = &u->r->p->offers[index];
	int species = plan_board_species(&u->b, o->species);
	struct board_fish from = { index, 0, false, o->fish_g };
	struct batch_fit fit;
	int64_t n, i, flesh;
	enum rc rc;

	if (species < 0 || o->fish_g == 0)
		return RC_OK;
	rc = batch_fit_make(&fit, u->r, &u->b.scales[species], o->presentation,
	    o->supplier_id, true, err);
	if (rc != RC_OK || fit.lines == 0)
		return rc;
	if (fit.flesh > 0) {
		flesh = div_up(o->price * BP_ONE * BP_ONE, fit.flesh);
		if (flesh > u->b.flesh_price[species])
			u->b.flesh_price[species] = flesh;
	}
	rc = plan_board_add(&u->b, u->r, &from, species, &fit,
	    o->price * o->fish_g, 0, PLAN_FREE, err);
	if (rc != RC_OK)
		return rc;
	n = copies(u, &u->b.fish[u->b.fish_count - 1], species);
	for (i = 1; i < n && rc == RC_OK; i++) {
		from.index = i;
		rc = plan_board_add(&u->b, u->r, &from, species, &fit,
		    o->price * o->fish_g, 0, PLAN_FREE, err);
	}
	return rc;
}

/* The yield an order of this kind rests on: its first line's. */
static enum rc
order_yield(struct buying *u, struct plan_order *o, size_t line,
    int64_t supplier_id, struct err *err)
{
	const struct plan_cut *cut = line_cut(u->r, line, o->species);
	bool known;

	if (o->yield.mean_bp > 0 || cut == NULL)
		return RC_OK;
	return cut_yield(
	    &o->yield, &known, u->r, cut, o->bought, supplier_id, err);
}

/* The line that a fish bought for its trim alone is for. */
static size_t
trim_line(const struct buying *u, int species)
{
	size_t k;

	for (k = 0; k + 1 < u->b.pool_count; k++)
		if ((u->b.pools[k].species >> species & 1) != 0)
			break;
	return u->b.pool_line[k];
}

static enum rc
buy_fish(struct buying *u, size_t i, struct err *err)
{
	const struct cut_choice *c = &u->cut.fish[i];
	const struct plan_offer *f = &u->r->p->offers[u->b.from[i].source];
	struct plan_order *o;
	size_t line = 0, k;
	bool cut = false;
	int p;

	if (c->mode == MODE_CLOSED)
		return RC_OK;
	o = order_of(u, f->species, f->presentation, f->supplier, f->fish_g);
	o->fish++;
	o->need_g += f->fish_g;
	o->step_g = f->step_g;
	o->price = f->price;
	if (c->mode == MODE_WHOLE) {
		line = u->b.dish_line[c->dish];
		o->portions++;
	} else {
		for (p = 0; p < u->b.fish[i].ways[c->way].pieces; p++)
			for (k = 0; k < c->pieces[p].cut_count; k++) {
				line =
				    u->b.dish_line[c->pieces[p].cuts[k].dish];
				o->portions++;
				cut = true;
			}
		if (!cut)
			line = trim_line(u, u->b.fish[i].species);
	}
	return order_yield(u, o, line, f->supplier_id, err);
}

/* Short as nothing else is: to buy is what this list is for. */
static void
must_buy(struct board *b)
{
	int64_t dear = b->dearest < CUT_MONEY_MAX / 8 ? b->dearest * 4 + 1000
						      : CUT_MONEY_MAX;
	size_t i;

	for (i = 0; i < b->dish_count; i++)
		if (b->dishes[i].short_cost < dear)
			b->dishes[i].short_cost = dear;
	for (i = 0; i < b->pool_count; i++)
		b->pools[i].price = dear;
}

static enum rc
buy_grades(struct buying *u, int64_t *bought, struct err *err)
{
	struct cut_problem problem;
	size_t i, line;
	enum rc rc;

	if ((rc = plan_board_lines(&u->b, u->r, err)) != RC_OK)
		return rc;
	for (i = 0; i < u->r->p->offer_count && rc == RC_OK; i++)
		rc = add_grade(u, i, err);
	if (rc != RC_OK || u->b.fish_count == 0)
		return rc;
	plan_board_prices(&u->b, u->r, &stock_rho_plain);
	must_buy(&u->b);
	problem = (struct cut_problem){
		.dishes = u->b.dishes,
		.dish_count = u->b.dish_count,
		.pools = u->b.pools,
		.pool_count = u->b.pool_count,
		.fish = u->b.fish,
		.fish_count = u->b.fish_count,
		.within = PLAN_WITHIN,
	};
	if ((rc = cut_solve(&u->cut, &problem, err)) != RC_OK)
		return rc;
	for (i = 0; i < u->b.fish_count && rc == RC_OK; i++)
		rc = buy_fish(u, i, err);
	for (i = 0; i < u->b.dish_count; i++) {
		line = u->b.dish_line[i];
		bought[line] = u->b.dishes[i].wanted - u->cut.short_of[i];
	}
	for (i = 0; i < u->b.pool_count; i++) {
		line = u->b.pool_line[i];
		if (u->cut.trim_short_g[i] == 0)
			bought[line] = line_left(&u->r->out->lines[line]);
	}
	return rc;
}

/* --- the rest by weight ----------------------------------------------------
 */

/* The offer by weight whose usable gram is cheapest for this line, or NULL. */
static enum rc
cheapest(const struct plan_offer **out, struct plan_yield *yield,
    struct buying *u, size_t line, struct err *err)
{
	const struct plan_offer *o;
	const struct plan_cut *cut;
	struct plan_yield y;
	int64_t best = 0, each;
	size_t i;
	bool known;
	enum rc rc;

	*out = NULL;
	for (i = 0; i < u->r->p->offer_count; i++) {
		o = &u->r->p->offers[i];
		cut = line_cut(u->r, line, o->species);
		if (cut == NULL || o->fish_g > 0)
			continue;
		rc = cut_yield(&y, &known, u->r, cut, o->presentation,
		    o->supplier_id, err);
		if (rc != RC_OK)
			return rc;
		if (!known || y.low_bp == 0)
			continue;
		each = o->price * BP_ONE / y.low_bp;
		if (*out == NULL || each < best) {
			*out = o;
			*yield = y;
			best = each;
		}
	}
	return RC_OK;
}

/* Fish that a weight must at least hold: whole ones, or fillets in pairs. */
static int64_t
at_least(const struct run *r, const struct plan_cut *cut,
    enum presentation bought, int64_t portions)
{
	const struct species *sp = species_find(r->p->species, cut->species);
	int pieces = pieces_per_fish(sp, bought);

	if (cut->kind == CUT_WHOLE)
		return portions;
	return cut->kind == CUT_FILLET && pieces > 0 ? div_up(portions, pieces)
						     : 0;
}

/* The bought weight of some portions, and the animals it must hold. */
static void
need_weight(struct buying *u, struct plan_order *o, const struct plan_cut *cut,
    int bp, int64_t portions)
{
	struct shell_amount need;
	struct shell_dish d;

	/* Animals are sold by weight here: what one weighs is not known before
	 * it is in, so the portion's weight in the shell stands for it. */
	d = by_shell(u->r, cut, o->bought, bp, 0);
	need = shell_take(&d, portions);
	o->need_g += need.weight_g;
	if (cut->animals > 0)
		o->at_least += div_up(
		    div_up(portions * cut->animals, cut->animals_make) * BP_ONE,
		    BP_ONE - d.dead_bp);
}

static enum rc
buy_weight(struct buying *u, size_t line, int64_t portions, struct err *err)
{
	struct plan_line *l = &u->r->out->lines[line];
	const struct plan_cut *cut = &l->cut;
	const struct plan_offer *offer;
	enum presentation bought = cut->bought;
	struct plan_order *o;
	struct plan_yield y;
	bool known;
	int low;
	enum rc rc;

	if ((rc = cheapest(&offer, &y, u, line, err)) != RC_OK)
		return rc;
	if (offer != NULL) {
		cut = line_cut(u->r, line, offer->species);
		bought = offer->presentation;
	} else {
		rc = cut_yield(&y, &known, u->r, cut, bought, 0, err);
		if (rc != RC_OK || !known)
			return rc;
	}
	low = (int)((int64_t)y.low_bp * cut->finish_bp / BP_ONE);
	if (low < SHELL_YIELD_MIN_BP)
		return RC_OK;
	l->order_known = true;
	o = order_of(
	    u, cut->species, bought, offer == NULL ? "" : offer->supplier, 0);
	o->portions += portions;
	need_weight(u, o, cut, low, portions);
	o->step_g = offer == NULL ? u->r->p->step_g : offer->step_g;
	o->price = offer == NULL ? -1 : offer->price;
	o->at_least += at_least(u->r, cut, bought, portions);
	if (o->yield.mean_bp == 0)
		o->yield = y;
	return RC_OK;
}

enum rc
order_rest(struct run *r, struct err *err)
{
	struct buying u = { .r = r };
	int64_t *bought = xcalloc(r->out->count, sizeof(*bought)), left;
	struct plan_order *o;
	size_t i;
	enum rc rc;

	rc = buy_grades(&u, bought, err);
	for (i = 0; i < r->out->count && rc == RC_OK; i++) {
		left = line_left(&r->out->lines[i]) - bought[i];
		r->out->lines[i].order_known = left <= 0 && bought[i] > 0;
		if (left > 0)
			rc = buy_weight(&u, i, left, err);
	}
	for (i = 0; i < r->out->order_count; i++) {
		o = &r->out->orders[i];
		o->order_g = div_up(o->need_g, o->step_g) * o->step_g;
		o->cost = o->price < 0 ? 0 : o->price * o->order_g;
	}
	cut_plan_fini(&u.cut);
	plan_board_fini(&u.b);
	free(bought);
	return rc;
}
