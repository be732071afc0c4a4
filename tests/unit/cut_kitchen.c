/*
 * cut_kitchen.c - problems for the cut plan that several suites use.
 */
#include "cut_kitchen.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"

void
cut_kitchen_init(struct cut_kitchen *k, size_t fish)
{
	memset(k, 0, sizeof(*k));
	k->fish = xcalloc(fish + 1, sizeof(k->fish[0]));
	k->p.dishes = k->dishes;
	k->p.pools = k->pools;
	k->p.fish = k->fish;
	k->p.within = 1;
}

void
cut_kitchen_fini(struct cut_kitchen *k)
{
	free(k->fish);
}

struct cut_fish *
cut_kitchen_fish(struct cut_kitchen *k, int species, grams whole_g,
    int64_t cost, int pieces, grams piece_g)
{
	struct cut_fish *f = &k->fish[k->p.fish_count++];

	f->species = species;
	f->whole_g = whole_g;
	f->cost = cost;
	f->way_count = 1;
	f->ways[0].pieces = pieces;
	f->ways[0].piece_g = piece_g;
	f->ways[0].thick_g = piece_g;
	f->ways[0].dishes = (1u << CUT_DISHES_MAX) - 1;
	return f;
}

struct cut_dish *
cut_kitchen_dish(struct cut_kitchen *k, int64_t wanted, grams low_g,
    grams target_g, grams high_g, int64_t short_cost)
{
	struct cut_dish *d = &k->dishes[k->p.dish_count++];

	d->wanted = wanted;
	d->low_g = low_g;
	d->target_g = target_g;
	d->high_g = high_g;
	d->short_cost = short_cost;
	d->species = (1u << CUT_SPECIES_MAX) - 1;
	return d;
}

struct cut_pool *
cut_kitchen_pool(
    struct cut_kitchen *k, grams wanted_g, int64_t price, uint32_t species)
{
	struct cut_pool *pool = &k->pools[k->p.pool_count++];

	pool->wanted_g = wanted_g;
	pool->price = price;
	pool->species = species;
	return pool;
}

static int64_t
draw(uint32_t *state, int64_t low, int64_t high)
{
	*state = *state * 1664525u + 1013904223u;
	return low + (int64_t)(*state >> 8) % (high - low + 1);
}

/* Weights, pieces and prices of a fish market, made up. */
static const struct {
	grams whole_g, portion_g;
	int pieces, percent; /* of the whole, in its pieces */
	int64_t price;
} market[] = {
	{ 1500, 160, 2, 48, 1100 },
	{ 700, 130, 2, 46, 1600 },
	{ 550, 60, 4, 40, 800 },
	{ 2000, 170, 2, 46, 1300 },
	{ 1200, 140, 2, 45, 900 },
};

static void
random_fish(struct cut_kitchen *k, const struct cut_random *r, size_t fish,
    uint32_t *state, grams *stock)
{
	static const int worth[] = { 5, 50, 80, 100 };
	struct cut_fish *f;
	grams whole;
	int64_t cost;
	size_t i;
	int s, m, days;

	for (i = 0; i < fish; i++) {
		s = (int)(i % (size_t)r->species);
		m = s % (int)(sizeof(market) / sizeof(market[0]));
		whole = market[m].whole_g * draw(state, 65, 140) / 100;
		days = (int)draw(state, 0, 3);
		cost = market[m].price * whole * worth[days] / 100;
		f = cut_kitchen_fish(k, s, whole, cost, market[m].pieces,
		    whole * market[m].percent / 100 / market[m].pieces);
		f->ways[0].byproduct_g = whole / 50;
		if (r->thick)
			f->ways[0].thick_g = f->ways[0].piece_g * 6 / 10;
		if (days > 0)
			f->ways[0].keep = cost * 6 / 10 / market[m].pieces;
		stock[s] += f->ways[0].piece_g * market[m].pieces;
	}
}

void
cut_kitchen_random(
    struct cut_kitchen *k, const struct cut_random *r, size_t fish)
{
	grams stock[CUT_SPECIES_MAX] = { 0 }, target;
	uint32_t state = r->seed * 2654435761u + 1;
	uint32_t all = (1u << r->species) - 1;
	struct cut_dish *d;
	int64_t price, wanted;
	int i, s, m, share;

	cut_kitchen_init(k, fish);
	random_fish(k, r, fish, &state, stock);
	for (i = 0; i < r->dishes; i++) {
		s = i % r->species;
		m = s % (int)(sizeof(market) / sizeof(market[0]));
		share = (r->dishes - 1 - s) / r->species + 1;
		target = market[m].portion_g;
		if (i >= r->species)
			target = target * draw(&state, 45, 95) / 100;
		wanted = stock[s] * r->percent / 100 / share / target *
			draw(&state, 70, 130) / 100 +
		    2;
		price = market[m].price * 100 / market[m].percent;
		d = cut_kitchen_dish(k,
		    wanted < CUT_WANTED_MAX ? wanted : CUT_WANTED_MAX,
		    target * 93 / 100, target, target * 107 / 100,
		    target * price * draw(&state, 150, 350) / 100);
		d->species = 1u << s;
		d->thick = r->thick && i % 2 == 0;
		if (r->under)
			d->under_price = price;
		if (r->shared && i == r->dishes - 1)
			d->species = all;
	}
	if (r->pools > 0)
		cut_kitchen_pool(k, 90 * draw(&state, 10, 25), 700, all);
	if (r->pools > 1)
		cut_kitchen_pool(k, 720, 900, 3 & all);
}

void
cut_kitchen_solve(struct cut_plan *out, const struct cut_kitchen *k)
{
	struct err err;
	int64_t cost;

	err_clear(&err);
	ck_assert_msg(cut_solve(out, &k->p, &err) == RC_OK, "%s", err.text);
	cost = out->cost;
	ck_assert_msg(cut_check(out, &k->p, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(out->cost, cost);
	ck_assert_int_le(out->bound, cost);
	ck_assert_int_eq(out->proved, cost - out->bound < k->p.within);
}
