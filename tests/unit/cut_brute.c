/* cut_brute.c - the best cut plan of a few fish, by trying everything. */
#include "cut_judge.h"
#include "cut_pattern.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"

#define STATES_MAX 3000000

/* Portions made, capped at what is wanted, and trim, with the least cost. */
struct state {
	int made[CUT_DISHES_MAX];
	grams trim[CUT_SPECIES_MAX];
	int64_t cost;
};

struct states {
	struct state *items;
	size_t count, cap;
};

static int
order(const void *a, const void *b)
{
	const struct state *x = a, *y = b;
	int c = memcmp(x->made, y->made, sizeof(x->made));

	if (c == 0)
		c = memcmp(x->trim, y->trim, sizeof(x->trim));
	return c != 0 ? c : (x->cost > y->cost) - (x->cost < y->cost);
}

/* Of equal states only the cheapest. */
static void
settle(struct states *s)
{
	size_t i, n = 0;

	qsort(s->items, s->count, sizeof(*s->items), order);
	for (i = 0; i < s->count; i++)
		if (n == 0 ||
		    memcmp(&s->items[n - 1], &s->items[i],
			offsetof(struct state, cost)) != 0)
			s->items[n++] = s->items[i];
	s->count = n;
}

static struct state *
add(struct states *s, const struct state *from, int64_t cost)
{
	struct state *to;

	if (s->count == STATES_MAX)
		judge_die("too many states");
	s->items = grow(s->items, &s->cap, s->count, sizeof(*s->items));
	to = &s->items[s->count++];
	*to = *from;
	to->cost += cost;
	return to;
}

/* Trim nobody wants makes no difference between states. */
static void
add_trim(struct state *s, const struct cut_problem *p, int species, grams trim)
{
	grams most = 0;
	size_t k;

	for (k = 0; k < p->pool_count; k++)
		if (p->pools[k].species >> species & 1)
			most += p->pools[k].wanted_g;
	s->trim[species] += trim;
	if (s->trim[species] > most)
		s->trim[species] = most;
}

static void
add_made(struct state *s, const struct cut_problem *p, size_t d, int n)
{
	s->made[d] += n;
	if (s->made[d] > p->dishes[d].wanted)
		s->made[d] = (int)p->dishes[d].wanted;
}

/* `from` with one more piece of the fish dealt with in every way. */
static struct states
one_piece(const struct states *from, const struct cut_problem *p,
    const struct pattern_list *pats, int species, int64_t keep)
{
	struct states to = { 0 };
	struct state *s;
	size_t i, k, d;

	for (i = 0; i < from->count; i++) {
		add(&to, &from->items[i], -keep);
		for (k = 0; k < pats->count; k++) {
			s = add(&to, &from->items[i], pats->items[k].cost);
			for (d = 0; d < p->dish_count; d++)
				add_made(s, p, d, pats->items[k].n[d]);
			add_trim(s, p, species, pats->items[k].trim);
		}
	}
	settle(&to);
	return to;
}

static void
open_way(struct states *out, const struct states *from,
    const struct cut_problem *p, const struct cut_fish *f, int way)
{
	struct states at = { 0 }, next;
	struct pattern_list pats = { 0 };
	size_t i;
	int k;

	for (i = 0; i < from->count; i++)
		add_trim(add(&at, &from->items[i], f->cost), p, f->species,
		    f->ways[way].byproduct_g);
	pattern_list(&pats, p, f, way);
	for (k = 0; k < f->ways[way].pieces; k++) {
		next = one_piece(&at, p, &pats, f->species, f->ways[way].keep);
		free(at.items);
		at = next;
	}
	for (i = 0; i < at.count; i++)
		add(out, &at.items[i], 0);
	free(at.items);
	free(pats.items);
}

static struct states
one_fish(const struct states *from, const struct cut_problem *p,
    const struct cut_fish *f)
{
	struct states to = { 0 };
	const struct cut_dish *dish;
	bool whole = false;
	size_t i, d;
	int w;

	for (d = 0; f->pin != PIN_CLOSED && d < p->dish_count; d++) {
		dish = &p->dishes[d];
		if (dish->serve != SERVE_WHOLE ||
		    (dish->species >> f->species & 1) == 0 ||
		    f->whole_g < dish->low_g || f->whole_g > dish->high_g)
			continue;
		whole = true;
		for (i = 0; i < from->count; i++)
			add_made(add(&to, &from->items[i],
				     f->cost + judge_under(dish, f->whole_g)),
			    p, d, 1);
	}
	if (f->pin != PIN_OPEN && !(f->pin == PIN_WHOLE && whole))
		for (i = 0; i < from->count; i++)
			add(&to, &from->items[i], 0);
	for (w = 0; w < f->way_count; w++)
		if (f->pin != PIN_CLOSED && !(f->pin == PIN_WHOLE && whole))
			open_way(&to, from, p, f, w);
	settle(&to);
	return to;
}

int64_t
judge_brute(const struct cut_problem *p)
{
	struct state none = { .cost = 0 };
	struct states at = { 0 }, next;
	int64_t best = INT64_MAX, cost;
	size_t i, d;

	if (p->fish_count > 4)
		judge_die("too many fish to try everything");
	add(&at, &none, 0);
	for (i = 0; i < p->fish_count; i++) {
		next = one_fish(&at, p, &p->fish[i]);
		free(at.items);
		at = next;
	}
	for (i = 0; i < at.count; i++) {
		cost = at.items[i].cost + judge_trim(p, at.items[i].trim);
		for (d = 0; d < p->dish_count; d++)
			cost += p->dishes[d].short_cost *
			    (p->dishes[d].wanted - at.items[i].made[d]);
		if (cost < best)
			best = cost;
	}
	free(at.items);
	return best;
}
