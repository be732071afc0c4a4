/*
 * To the proved optimum: species by species.
 *
 * A fish has one species, so with the prices of trim and of dishes that several
 * species make held, each species is a problem of its own (cut_dp.c), and the
 * sum of their optima is a bound.  Narrow first: what narrow programmes find
 * lowers the limit for the wide ones.
 */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cut_search.h"

#define LIST_FIRST 400 /* outcomes of a fish, for the search near a plan */
#define LIST_MAX 20000 /* for the proof */
#define LISTS_FISH 400 /* above, lists stay short */
#define NEAR_WORK 4000 /* steps near the first plan, for each fish */
#define NEAR_FISH 60
#define SOON_WORK 2000000
#define HARD_WORK 16000000
#define WIDER 8 /* a wider programme takes so much more at least */
#define FAR 150 /* a gap of one part in so many is far from a proof */
#define EXACT_WORK 40000000
#define LINK_MAX ((size_t)100000)

struct exact {
	struct cut_work *w;
	struct cut_part *parts;
	int count;
	int64_t base;    /* bound without what the parts prove */
	uint32_t shared; /* dishes of several parts */
	struct cut_pick *picks;
	bool near; /* looked near the plan for all it is worth */
};

static void
part_order(struct cut_part *part)
{
	const struct cut_outcomes *l;
	int64_t a, b;
	size_t i, j;

	for (i = 0; i < part->count; i++) {
		l = &part->list[i];
		a = l->count > 1 ? l->items[1].slack : CUT_NEVER;
		for (j = i; j > 0; j--) {
			b = part->order[j - 1]->count > 1
			    ? part->order[j - 1]->items[1].slack
			    : CUT_NEVER;
			if (b >= a)
				break;
			part->order[j] = part->order[j - 1];
		}
		part->order[j] = l;
	}
}

/* Of many fish, those the prices are least sure about get lists. */
static bool *
listed_make(struct cut_work *w)
{
	bool *listed = xcalloc(w->p->fish_count + 1, sizeof(listed[0]));
	struct cut_rank *r = xcalloc(w->p->fish_count + 1, sizeof(r[0]));
	size_t i;

	for (i = 0; i < w->p->fish_count; i++) {
		r[i].fish = i;
		if (w->p->fish_count <= LISTS_FISH)
			continue;
		r[i].value = cut_fish_open(NULL, w, i, &w->prices);
		if (r[i].value < 0)
			r[i].value = -r[i].value;
	}
	qsort(r, w->p->fish_count, sizeof(r[0]), cut_rank_order);
	for (i = 0; i < w->p->fish_count && i < LISTS_FISH; i++)
		listed[r[i].fish] = true;
	free(r);
	return listed;
}

/* Lists of the fish at the prices, and the bound they give. */
static void
lists_make(struct exact *x, size_t max)
{
	struct cut_work *w = x->w;
	struct cut_part *part;
	struct cut_outcomes *l;
	int64_t gap, window;
	bool *listed;
	size_t i;
	int s;

	cut_tables_fill(w, &w->prices);
	listed = listed_make(w);
	x->base = cut_base(w, &w->prices, &w->all);
	/* From what the tables say, which promise more than the lists do. */
	gap = w->cost - x->base;
	for (i = 0; i < w->p->fish_count; i++)
		gap -= cut_fish_best(NULL, w, i, &w->prices);
	window = gap;
	for (s = 0; s < x->count; s++) {
		part = &x->parts[s];
		part->whole = true;
		for (i = 0; i < part->count; i++) {
			l = &part->list[i];
			cut_outcomes_fini(l, w);
			if (!listed[part->fish[i]] ||
			    !cut_outcomes_make(
				l, w, part->fish[i], &w->prices, window, max)) {
				part->whole = false;
				x->base += cut_fish_best(
				    NULL, w, part->fish[i], &w->prices);
				continue;
			}
			x->base += l->least;
			/* Not for proof: about what had room the last time. */
			if (max == LIST_FIRST)
				window = l->window < gap / 2 ? 2 * l->window + 1
							     : gap;
		}
		part_order(part);
	}
	free(listed);
	if (x->base > w->bound)
		w->bound = x->base;
}

static void
parts_make(struct exact *x)
{
	const struct cut_problem *p = x->w->p;
	struct cut_part *part;
	uint32_t seen = 0;
	size_t i;
	int s, j, t;

	x->parts = xcalloc(CUT_SPECIES_MAX, sizeof(x->parts[0]));
	for (s = 0; s < CUT_SPECIES_MAX; s++) {
		part = &x->parts[x->count];
		part->species = s;
		part->fish = xcalloc(p->fish_count + 1, sizeof(size_t));
		for (i = 0; i < p->fish_count; i++) {
			if (p->fish[i].species != s)
				continue;
			part->fish[part->count++] = i;
			part->dishes |= x->w->whole[i];
			for (j = 0; x->w->opens[i] && j < p->fish[i].way_count;
			     j++) {
				t = x->w->fish_table[i][j];
				if (t >= 0)
					part->dishes |= x->w->table[t].mask;
			}
		}
		part->list = xcalloc(part->count + 1, sizeof(part->list[0]));
		part->order = xcalloc(part->count + 1, sizeof(part->order[0]));
		x->shared |= seen & part->dishes;
		seen |= part->dishes;
		if (part->count > 0)
			x->count++;
		else {
			free(part->fish);
			free(part->list);
			free(part->order);
			memset(part, 0, sizeof(*part));
		}
	}
}

static void
parts_free(struct exact *x)
{
	size_t i;
	int s;

	for (s = 0; s < x->count; s++) {
		for (i = 0; i < x->parts[s].count; i++)
			cut_outcomes_fini(&x->parts[s].list[i], x->w);
		free(x->parts[s].fish);
		free(x->parts[s].list);
		free(x->parts[s].order);
	}
	free(x->parts);
}

static bool
proved(struct exact *x)
{
	int64_t sum = x->base;
	int s;

	for (s = 0; s < x->count; s++)
		sum += x->parts[s].least;
	if (sum > x->w->bound)
		x->w->bound = sum;
	return x->w->cost - x->w->bound < x->w->p->within;
}

/* Slack a part may have in a plan better than the best. */
static int64_t
part_limit(const struct exact *x, const struct cut_part *part)
{
	int64_t limit = x->w->cost - x->w->p->within - x->base;
	int s;

	for (s = 0; s < x->count; s++)
		if (&x->parts[s] != part)
			limit -= x->parts[s].least;
	return limit;
}

static void
part_solve(struct exact *x, struct cut_part *part, size_t width)
{
	struct cut_work *w = x->w;
	struct cut_dp dp;
	int64_t least;
	size_t i;

	memset(&dp, 0, sizeof(dp));
	dp.pr = &w->prices;
	dp.lists = part->order;
	dp.count = part->count;
	dp.need = &w->all;
	dp.own = part->dishes & ~x->shared;
	dp.species = part->species;
	dp.limit = part_limit(x, part);
	dp.width = width;
	if (part->whole && dp.limit >= 0 && cut_dp_run(&dp, w)) {
		least = dp.limit + 1;
		if (dp.lost < least)
			least = dp.lost;
		if (dp.value < least)
			least = dp.value;
		if (least > part->least)
			part->least = least;
		part->done = dp.lost >= dp.value || dp.lost > dp.limit;
		if (dp.value < CUT_NEVER) {
			cut_dp_picks(x->picks, &dp, dp.best);
			if (!cut_offer(w, x->picks) && !part->done)
				for (i = 0; i < part->count; i++)
					x->picks[part->fish[i]] =
					    w->best[part->fish[i]];
		}
	}
	cut_dp_fini(&dp, w);
}

static bool
all_done(const struct exact *x)
{
	int s;

	for (s = 0; s < x->count && x->parts[s].done; s++)
		continue;
	return s == x->count;
}

/* What the parts share; nothing when they share nothing. */
static bool
solve_link(struct exact *x, size_t width)
{
	struct cut_work *w = x->w;
	uint32_t shared = x->shared;
	int64_t bound;
	int s;

	for (s = 0; s < x->count; s++)
		shared |= w->pools[x->parts[s].species];
	if (shared == 0 || w->capped)
		return false;
	bound = cut_link(w, x->parts, x->count, x->shared, x->base, width);
	if (bound > w->bound)
		w->bound = bound;
	memcpy(x->picks, w->best, w->p->fish_count * sizeof(x->picks[0]));
	return proved(x);
}

/* Would the next width not end within the work that is left? */
static bool
hopeless(const struct exact *x, const struct cut_part *part, int64_t times)
{
	return part->work * times > x->w->work_max - x->w->work;
}

/* Hard: a better plan first makes the wide programmes narrower. */
static void
solve_near(struct exact *x, int64_t work)
{
	cut_near(x->w, x->parts, x->count, work);
	memcpy(x->picks, x->w->best, x->w->p->fish_count * sizeof(x->picks[0]));
}

/* How much for it before the width: early where proof is out of reach. */
static int64_t
near_work(struct exact *x, size_t width)
{
	bool hard = width == 2 && (x->w->cost - x->w->bound) > x->w->cost / FAR;
	int s;

	if (x->near)
		return 0;
	for (s = 0; s < x->count && !hard; s++)
		hard = !x->parts[s].done &&
		    hopeless(x, &x->parts[s], WIDER * WIDER * 2);
	x->near = hard || width == 3;
	if (x->near)
		return HARD_WORK;
	return width == 2 ? SOON_WORK : 0;
}

static bool
solve(struct exact *x)
{
	static const size_t width[] = { 64, 1024, 16384, 200000 };
	size_t i;
	int s;

	memcpy(x->picks, x->w->best, x->w->p->fish_count * sizeof(x->picks[0]));
	for (i = 0; i < sizeof(width) / sizeof(width[0]); i++) {
		if (i > 0 && !x->w->capped)
			solve_near(x, near_work(x, i));
		for (s = 0; s < x->count; s++) {
			if (x->parts[s].done || x->w->capped ||
			    hopeless(
				x, &x->parts[s], i < 3 ? WIDER : WIDER / 2))
				continue;
			x->parts[s].work = -x->w->work;
			part_solve(x, &x->parts[s], width[i]);
			x->parts[s].work += x->w->work;
			if (proved(x))
				return true;
		}
		if (i == 0 || (i == 1 && !all_done(x)))
			continue;
		if (solve_link(x, width[i] < LINK_MAX ? width[i] : LINK_MAX))
			return true;
	}
	return false;
}

/* cut_exact - better plans and a better bound, until they meet or work ends. */
void
cut_exact(struct cut_work *w)
{
	int64_t fish = (int64_t)w->p->fish_count;
	struct exact x;

	if (w->cost - w->bound < w->p->within)
		return;
	memset(&x, 0, sizeof(x));
	x.w = w;
	w->work_max = w->work + EXACT_WORK;
	x.picks = xcalloc(w->p->fish_count + 1, sizeof(x.picks[0]));
	parts_make(&x);
	lists_make(&x, LIST_FIRST);
	if (!proved(&x)) {
		if (fish > NEAR_FISH)
			fish = NEAR_FISH;
		cut_near(w, x.parts, x.count, NEAR_WORK * fish);
		if (w->p->fish_count <= LISTS_FISH)
			lists_make(&x, LIST_MAX);
		solve(&x);
	}
	parts_free(&x);
	free(x.picks);
}
