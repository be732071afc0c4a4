/*
 * The cut plan: what is asked is in range, the search in its order, the sums
 * every part of it uses.
 */
#include "core/cutplan.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cut_work.h"

#define MEMORY_MAX ((size_t)256 << 20)
#define SEED 0x9e3779b97f4a7c15u

/* --- memory, within the cap ------------------------------------------------*/

/* cut_want - may this much more be held?  No: the search is cut off here. */
bool
cut_want(struct cut_work *w, size_t bytes)
{
	if (w->held > w->held_max || bytes > w->held_max - w->held) {
		w->capped = true;
		return false;
	}
	return true;
}

void *
cut_hold(struct cut_work *w, size_t n, size_t size)
{
	if (!cut_want(w, n > SIZE_MAX / size ? SIZE_MAX : n * size))
		return NULL;
	w->held += n * size;
	return xcalloc(n, size);
}

void
cut_drop(struct cut_work *w, void *mem, size_t n, size_t size)
{
	if (mem != NULL)
		w->held -= n * size;
	free(mem);
}

int
cut_rank_order(const void *a, const void *b)
{
	const struct cut_rank *x = a, *y = b;

	if (x->value != y->value)
		return x->value < y->value ? -1 : 1;
	return x->fish < y->fish ? -1 : x->fish > y->fish;
}

/* --- sums ------------------------------------------------------------------*/

/* cut_as_is - what a portion of this weight costs, cut by nobody, for being
 * under its target. */
int64_t
cut_as_is(const struct cut_dish *d, grams g)
{
	return g < d->target_g ? d->under_price * (d->target_g - g) : 0;
}

/* cut_effect - what opening this fish so costs and gives. */
void
cut_effect(struct cut_sum *out, const struct cut_work *w, size_t fish,
    const struct cut_pick *pick)
{
	const struct cut_fish *f = &w->p->fish[fish];
	const struct cut_way *way;
	size_t d;
	int i;

	memset(out, 0, sizeof(*out));
	if (pick->mode == MODE_CLOSED)
		return;
	out->cost = f->cost;
	if (pick->mode == MODE_WHOLE) {
		out->cost += cut_as_is(&w->p->dishes[pick->dish], f->whole_g);
		out->n[pick->dish] = 1;
		return;
	}
	way = &f->ways[pick->way];
	out->trim = way->byproduct_g;
	for (i = 0; i < way->pieces; i++) {
		out->cost += pick->pat[i].cost;
		out->trim += pick->pat[i].trim;
		for (d = 0; d < w->p->dish_count; d++)
			out->n[d] += pick->pat[i].n[d];
	}
}

/* Grams the pools of `set` can be given at most: the smallest cut. */
static grams
pools_flow(const struct cut_problem *p, const grams *trim, uint32_t set)
{
	grams best = INT64_MAX, sum;
	uint32_t open, species;
	int s;
	size_t k;

	for (open = set;; open = (open - 1) & set) {
		sum = 0;
		species = 0;
		for (k = 0; k < p->pool_count; k++)
			if ((open & 1u << k) != 0)
				species |= p->pools[k].species;
			else if ((set & 1u << k) != 0)
				sum += p->pools[k].wanted_g;
		for (s = 0; s < CUT_SPECIES_MAX; s++)
			if ((species & 1u << s) != 0)
				sum += trim[s];
		if (sum < best)
			best = sum;
		if (open == 0)
			return best;
	}
}

/*
 * cut_pool_cost - of the trim still to buy, when the trim of each species is
 * split in the best way.  What sets of pools can be given at most is a
 * polymatroid, so the best split fills the dearest first and is worth the sum
 * of price steps times the flow of all pools at or above each price.
 */
int64_t
cut_pool_cost(const struct cut_problem *p, const grams *trim)
{
	int64_t cost = 0, price, next;
	uint32_t set;
	size_t k;

	price = 0;
	for (k = 0; k < p->pool_count; k++) {
		cost += p->pools[k].price * p->pools[k].wanted_g;
		if (p->pools[k].price > price)
			price = p->pools[k].price;
	}
	for (; price > 0; price = next) {
		next = 0;
		set = 0;
		for (k = 0; k < p->pool_count; k++)
			if (p->pools[k].price >= price)
				set |= 1u << k;
			else if (p->pools[k].price > next)
				next = p->pools[k].price;
		cost -= (price - next) * pools_flow(p, trim, set);
	}
	return cost;
}

/* cut_cost - of the whole plan. */
int64_t
cut_cost(const struct cut_work *w, const struct cut_pick *picks)
{
	const struct cut_problem *p = w->p;
	int64_t made[CUT_DISHES_MAX] = { 0 }, cost = 0;
	grams trim[CUT_SPECIES_MAX] = { 0 };
	struct cut_sum sum;
	size_t i, d;

	for (i = 0; i < p->fish_count; i++) {
		if (picks[i].mode == MODE_CLOSED)
			continue;
		cut_effect(&sum, w, i, &picks[i]);
		cost += sum.cost;
		trim[p->fish[i].species] += sum.trim;
		for (d = 0; d < p->dish_count; d++)
			made[d] += sum.n[d];
	}
	for (d = 0; d < p->dish_count; d++)
		if (made[d] < p->dishes[d].wanted)
			cost += p->dishes[d].short_cost *
			    (p->dishes[d].wanted - made[d]);
	return cost + cut_pool_cost(p, trim);
}

/* cut_offer - keep this plan when it is cheaper than the best. */
bool
cut_offer(struct cut_work *w, const struct cut_pick *picks)
{
	int64_t cost = cut_cost(w, picks);

	if (cost >= w->cost)
		return false;
	w->cost = cost;
	if (picks != w->best)
		memcpy(w->best, picks, w->p->fish_count * sizeof(w->best[0]));
	return true;
}

/* cut_random - 0..below-1, the same ones every time. */
uint64_t
cut_random(struct cut_work *w, uint64_t below)
{
	uint64_t x = w->seed;

	x ^= x << 13;
	x ^= x >> 7;
	x ^= x << 17;
	w->seed = x;
	return (x >> 11) % below;
}

/* --- the search ------------------------------------------------------------*/

static uint32_t
whole_dishes(const struct cut_problem *p, const struct cut_fish *f)
{
	const struct cut_dish *d;
	uint32_t mask = 0;
	size_t i;

	for (i = 0; i < p->dish_count; i++) {
		d = &p->dishes[i];
		if (d->serve == SERVE_WHOLE &&
		    (d->species & 1u << f->species) != 0 &&
		    d->low_g <= f->whole_g && f->whole_g <= d->high_g)
			mask |= 1u << i;
	}
	return mask;
}

static void
work_fish(struct cut_work *w)
{
	const struct cut_problem *p = w->p;
	const struct cut_fish *f;
	size_t i;

	for (i = 0; i < p->fish_count; i++) {
		f = &p->fish[i];
		w->whole[i] = whole_dishes(p, f);
		w->closed[i] = f->pin != PIN_OPEN;
		w->opens[i] = f->way_count > 0;
		if (f->pin == PIN_WHOLE && w->whole[i] != 0) {
			w->closed[i] = false;
			w->opens[i] = false;
		}
		if (f->pin == PIN_CLOSED) {
			w->whole[i] = 0;
			w->opens[i] = false;
		}
	}
}

static void
work_init(struct cut_work *w, const struct cut_problem *p)
{
	const struct cut_pool *pool;
	size_t i;
	int s;

	memset(w, 0, sizeof(*w));
	w->p = p;
	w->seed = SEED;
	w->cost = INT64_MAX;
	w->bound = -CUT_NEVER;
	w->held_max = p->memory_max == 0 ? MEMORY_MAX : p->memory_max;
	for (i = 0; i < p->dish_count; i++) {
		w->all.q[i] = p->dishes[i].wanted;
		if (p->dishes[i].wanted > 0)
			w->price_max[i] = p->dishes[i].short_cost;
	}
	for (i = 0; i < p->pool_count; i++) {
		pool = &p->pools[i];
		w->all.t[i] = pool->wanted_g;
		if (pool->wanted_g == 0 || pool->price == 0)
			continue;
		for (s = 0; s < CUT_SPECIES_MAX; s++) {
			if ((pool->species & 1u << s) == 0)
				continue;
			w->pools[s] |= 1u << i;
			w->trim_top[s] += pool->wanted_g;
			if (pool->price > w->trim_max[s])
				w->trim_max[s] = pool->price;
		}
	}
	w->fish_table = xcalloc(p->fish_count + 1, sizeof(w->fish_table[0]));
	w->whole = xcalloc(p->fish_count + 1, sizeof(w->whole[0]));
	w->closed = xcalloc(p->fish_count + 1, sizeof(w->closed[0]));
	w->opens = xcalloc(p->fish_count + 1, sizeof(w->opens[0]));
	w->best = xcalloc(p->fish_count + 1, sizeof(w->best[0]));
	work_fish(w);
}

static void
work_fini(struct cut_work *w)
{
	cut_tables_fini(w);
	free(w->fish_table);
	free(w->whole);
	free(w->closed);
	free(w->opens);
	free(w->best);
}

enum rc
cut_solve(struct cut_plan *out, const struct cut_problem *p, struct err *err)
{
	struct cut_work *w;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = cut_problem_check(p, err)) != RC_OK)
		return rc;
	w = xcalloc(1, sizeof(*w));
	work_init(w, p);
	cut_tables_make(w);
	cut_dive(w);
	cut_exact(w);
	cut_output(out, w, w->best);
	out->bound = w->bound;
	out->capped = w->capped || w->stopped;
	work_fini(w);
	free(w);
	if ((rc = cut_check(out, p, err)) != RC_OK) {
		cut_plan_fini(out);
		return rc;
	}
	out->proved = out->cost - out->bound < p->within;
	return RC_OK;
}

void
cut_plan_fini(struct cut_plan *plan)
{
	size_t i;
	int j;

	for (i = 0; plan->fish != NULL && i < plan->fish_count; i++) {
		for (j = 0; j < CUT_PIECES_MAX; j++)
			if (plan->fish[i].pieces != NULL)
				free(plan->fish[i].pieces[j].cuts);
		free(plan->fish[i].pieces);
	}
	free(plan->fish);
	memset(plan, 0, sizeof(*plan));
}
