/* plan_fish.c - counted fish: which to open, and for what (rule R-P4). */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "core/cut_head.h"
#include "core/fishweights.h"
#include "plan_work.h"

static int64_t
price_of(const struct plan_batch *b)
{
	if (b->price <= 0)
		return STOCK_PRICE_UNKNOWN;
	return b->price < STOCK_PRICE_MAX ? b->price : STOCK_PRICE_MAX;
}

/* Every fish left gets a weight: its own, or its share of the estimate. */
static void
weigh_fish(struct plan_batch *b)
{
	int64_t i, n = b->count;
	grams t;

	if (b->fish_g != NULL || n == 0)
		return;
	b->fish_g = xcalloc((size_t)n, sizeof(*b->fish_g));
	fish_weights(b->fish_g, n, b->weight_g, b->cv_bp);
	for (i = 0; i < n / 2; i++) { /* largest first */
		t = b->fish_g[i];
		b->fish_g[i] = b->fish_g[n - 1 - i];
		b->fish_g[n - 1 - i] = t;
	}
	/* Of the smallest fry there are estimates of no weight at all. */
	while (b->count > 0 && b->fish_g[b->count - 1] == 0)
		b->count--;
}

static enum rc
add_one(
    struct fishing *f, size_t index, int species, int64_t fish, struct err *err)
{
	const struct plan_batch *b = &f->r->p->stock->batches[index];
	const struct batch_fit *fit = &f->fits[index];
	struct board_fish from = { index, fish, false, b->fish_g[fish] };
	enum plan_pin pin = b->pin;
	int64_t cost;
	enum rc rc;

	if (b->fish_pin != NULL && b->fish_pin[fish] != PLAN_FREE)
		pin = b->fish_pin[fish];
	rc = stock_open_cost(&cost,
	    &(struct stock_fish){
		.price_per_kg = price_of(b),
		.weight_g = from.weight_g,
		.use_by = b->use_by_day,
	    },
	    f->r->s->day, f->rho, err);
	if (rc != RC_OK)
		return rc;
	/* A batch put first is cheap; a single fish put first is opened. */
	if (b->pin == PLAN_FIRST) {
		cost = PLAN_FIRST_COST;
		if (pin == PLAN_FIRST &&
		    (b->fish_pin == NULL || b->fish_pin[fish] == PLAN_FREE))
			pin = PLAN_FREE;
	}
	return plan_board_add(&f->b, f->r, &from, species, fit, cost,
	    fit->pieces == 0 ? 0
			     : stock_keep_credit(cost, fit->pieces,
				   f->r->s->day, b->use_by_day),
	    pin, err);
}

static enum rc
add_board_piece(
    struct fishing *f, size_t index, int species, size_t piece, struct err *err)
{
	const struct plan_batch *b = &f->r->p->stock->batches[index];
	struct board_fish from = {
		index,
		(int64_t)piece,
		true,
		b->board_g[piece],
	};

	return plan_board_add(&f->b, f->r, &from, species, &f->fits[index], 0,
	    stock_keep_credit(f->b.flesh_price[species] * from.weight_g, 1,
		f->r->s->day, b->use_by_day),
	    PLAN_FREE, err);
}

static enum rc
add_batch(struct fishing *f, size_t index, struct err *err)
{
	struct plan_batch *b = &f->r->p->stock->batches[index];
	struct batch_fit *fit = &f->fits[index];
	int species = plan_board_species(&f->b, b->species);
	int64_t flesh, i;
	size_t k;
	enum rc rc;

	if (species < 0 || !batch_counted(b))
		return RC_OK;
	rc = batch_fit_make(fit, f->r, &f->b.scales[species], b->presentation,
	    b->supplier_id, false, err);
	if (rc != RC_OK || batch_bar(b, f->r->s) != STOCK_USABLE)
		return rc;
	if (fit->flesh > 0) {
		flesh = div_up(price_of(b) * BP_ONE * BP_ONE, fit->flesh);
		if (flesh > f->b.flesh_price[species])
			f->b.flesh_price[species] = flesh;
	}
	weigh_fish(b);
	for (k = 0; k < b->board_count && rc == RC_OK; k++)
		rc = add_board_piece(f, index, species, k, err);
	for (i = 0; i < b->count && rc == RC_OK; i++)
		rc = add_one(f, index, species, i, err);
	return rc;
}

static enum rc
add_stock(struct fishing *f, struct err *err)
{
	size_t i;
	enum rc rc = RC_OK;

	for (i = 0; i < f->r->p->stock->batch_count && rc == RC_OK; i++)
		rc = add_batch(f, i, err);
	if (rc == RC_OK)
		plan_board_prices(&f->b, f->r, f->rho);
	return rc;
}

/* A piece left whole, as it would weigh: the scale counts it finished. */
static grams
kept_g(const struct fishing *f, size_t fish)
{
	const struct cut_fish *c = &f->b.fish[fish];
	const struct plan_cut *ref = f->b.scales[c->species].flesh;

	if (f->b.from[fish].on_board)
		return f->b.from[fish].weight_g;
	return c->ways[f->cut.fish[fish].way].piece_g * BP_ONE /
	    (ref == NULL ? BP_ONE : ref->finish_bp);
}

/*
 * Opened fish leave the stock; pieces left whole lie on the board for the next
 * service, as they would weigh there.
 */
static void
consume_batch(struct fishing *f, size_t batch)
{
	struct plan_batch *b = &f->r->p->stock->batches[batch];
	const struct cut_choice *c;
	const struct board_fish *from;
	size_t i, boards = 0, board_cap = 0, known = 0;
	grams *board = NULL;
	int64_t left = 0;
	int q;

	for (i = 0; i < f->b.fish_count; i++) {
		from = &f->b.from[i];
		if (from->source != batch)
			continue;
		known++;
		c = &f->cut.fish[i];
		for (q = 0; c->mode == MODE_CUT &&
		     q < f->b.fish[i].ways[c->way].pieces;
		     q++) {
			if (!c->pieces[q].kept)
				continue;
			board = grow(board, &board_cap, boards, sizeof(*board));
			board[boards++] = kept_g(f, i);
		}
		if (from->on_board)
			continue;
		if (c->mode != MODE_CLOSED) {
			b->weight_g -= from->weight_g;
			continue;
		}
		b->fish_g[left] = b->fish_g[from->index];
		if (b->fish_number != NULL)
			b->fish_number[left] = b->fish_number[from->index];
		if (b->fish_pin != NULL)
			b->fish_pin[left] = b->fish_pin[from->index];
		left++;
	}
	if (known == 0)
		return;
	b->count = left;
	free(b->board_g);
	b->board_g = board;
	b->board_count = boards;
}

/*
 * A portion more than wanted is no portion: the plan may fill a piece up, since
 * it costs nothing, but the list says what to make.  A piece that is then not
 * cut at all is left whole while that is worth something.
 */
static void
drop_portion(const struct board *b, struct cut_piece *piece,
    const struct cut_way *way, size_t at)
{
	struct cut_portion *c;
	grams more;

	piece->trim_g += piece->cuts[at].portion_g;
	piece->cut_count--;
	for (; at < piece->cut_count; at++)
		piece->cuts[at] = piece->cuts[at + 1];
	for (at = 0; at < piece->cut_count; at++) { /* up to their target */
		c = &piece->cuts[at];
		more = b->dishes[c->dish].target_g - c->portion_g;
		if (more > piece->trim_g)
			more = piece->trim_g;
		if (more <= 0)
			continue;
		c->portion_g += more;
		piece->trim_g -= more;
	}
	if (piece->cut_count > 0 || way->keep == 0)
		return;
	piece->kept = true;
	piece->trim_g = 0;
}

static void
drop_surplus(struct fishing *f)
{
	struct cut_choice *c;
	const struct cut_way *way;
	size_t i, k;
	int64_t over[CUT_DISHES_MAX];
	int q;

	for (i = 0; i < f->b.dish_count; i++)
		over[i] = f->cut.made[i] - f->b.dishes[i].wanted;
	for (i = f->b.fish_count; i-- > 0;) {
		c = &f->cut.fish[i];
		if (c->mode != MODE_CUT)
			continue;
		way = &f->b.fish[i].ways[c->way];
		for (q = way->pieces; q-- > 0;)
			for (k = c->pieces[q].cut_count; k-- > 0;)
				if (over[c->pieces[q].cuts[k].dish] > 0) {
					over[c->pieces[q].cuts[k].dish]--;
					drop_portion(
					    &f->b, &c->pieces[q], way, k);
				}
	}
}

struct outcome {
	size_t fish;
	grams opened_g, trim_g;
	int64_t short_of;
};

static struct outcome
outcome_of(const struct fishing *f, const struct cut_plan *cut)
{
	struct outcome o = { 0 };
	size_t i;
	int k;

	for (i = 0; i < f->b.fish_count; i++) {
		if (cut->fish[i].mode == MODE_CLOSED)
			continue;
		o.fish++;
		if (!f->b.from[i].on_board)
			o.opened_g += f->b.from[i].weight_g;
		for (k = 0; cut->fish[i].mode == MODE_CUT &&
		     k < f->b.fish[i].ways[cut->fish[i].way].pieces;
		     k++)
			if (!cut->fish[i].pieces[k].kept)
				o.trim_g += cut->fish[i].pieces[k].trim_g;
	}
	for (i = 0; i < f->b.dish_count; i++)
		o.short_of += cut->short_of[i];
	return o;
}

/* The plan, and beside it what a good cook would have done by eye. */
static enum rc
solve(struct fishing *f, const struct cut_problem *problem, struct err *err)
{
	struct plan *out = f->r->out;
	struct cut_plan head;
	struct outcome o;
	enum rc rc;

	if ((rc = cut_solve(&f->cut, problem, err)) != RC_OK)
		return rc;
	drop_surplus(f);
	if ((rc = cut_check(&f->cut, problem, err)) != RC_OK ||
	    (rc = cut_by_head(&head, problem, err)) != RC_OK)
		return rc;
	out->cost = f->cut.cost;
	out->bound = f->cut.bound;
	out->proved = f->cut.proved;
	out->capped = f->cut.capped;
	out->fish_seen = f->b.fish_count;
	o = outcome_of(f, &f->cut);
	out->opened_g = o.opened_g;
	out->trim_g = o.trim_g;
	out->cut_short = o.short_of;
	o = outcome_of(f, &head);
	out->head_fish = o.fish;
	out->head_opened_g = o.opened_g;
	out->head_trim_g = o.trim_g;
	out->head_short = o.short_of;
	out->head_cost = head.cost;
	cut_plan_fini(&head);
	return RC_OK;
}

enum rc
cut_fish(struct run *r, struct err *err)
{
	struct fishing f = { .r = r };
	struct cut_problem problem;
	size_t i;
	enum rc rc;

	f.rho = r->p->strict ? &stock_rho_strict : &stock_rho_plain;
	f.fits = xcalloc(r->p->stock->batch_count, sizeof(*f.fits));
	if ((rc = plan_board_lines(&f.b, r, err)) != RC_OK)
		goto done;
	if ((rc = add_stock(&f, err)) != RC_OK)
		goto done;
	problem = (struct cut_problem){
		.dishes = f.b.dishes,
		.dish_count = f.b.dish_count,
		.pools = f.b.pools,
		.pool_count = f.b.pool_count,
		.fish = f.b.fish,
		.fish_count = f.b.fish_count,
		.within = PLAN_WITHIN,
	};
	if (f.b.fish_count > 0 && (f.b.dish_count > 0 || f.b.pool_count > 0)) {
		if ((rc = solve(&f, &problem, err)) != RC_OK)
			goto done;
	}
	if ((rc = fish_back(&f, err)) != RC_OK)
		goto done;
	for (i = 0; f.cut.fish != NULL && i < r->p->stock->batch_count; i++)
		consume_batch(&f, i);
done:
	cut_plan_fini(&f.cut);
	plan_board_fini(&f.b);
	free(f.fits);
	return rc;
}
