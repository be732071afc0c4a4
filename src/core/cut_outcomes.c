/*
 * All outcomes of one fish that may matter.
 *
 * Patterns of a piece depth first, cut off by what the tables say the rest of
 * the list of dishes can still add; then the pieces together.
 */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cut_search.h"

#define PATS_MAX 4000
#define STEPS_MAX 400000

struct walk {
	struct cut_work *w;
	const struct cut_prices *pr;
	const struct cut_fish *f;
	struct cut_outcomes *list;
	size_t cap, pat_cap, max;
	int64_t window, least; /* cost of the best, by the tables */
	int steps, steps_max;
	bool full; /* too many; again with a smaller window */
	/* the way and the piece */
	const struct cut_table *t;
	const struct cut_way *way;
	int way_no;
	int64_t top;    /* most the piece may be worth */
	int64_t bottom; /* least it must be worth */
	struct cut_pat now;
	size_t first;   /* pattern of this way */
	int64_t *worth; /* of each pattern of the way */
	struct cut_outcome sum;
	size_t *slot; /* hash of outcomes, index + 1 */
	size_t slots;
};

/* --- patterns --------------------------------------------------------------*/

static void
pat_add(struct walk *k, const struct cut_pat *pat, int64_t worth)
{
	struct cut_outcomes *l = k->list;

	if (worth < k->bottom)
		return;
	if (l->pat_count == PATS_MAX) {
		k->full = true;
		return;
	}
	l->pats = grow(l->pats, &k->pat_cap, l->pat_count, sizeof(*pat));
	l->pats[l->pat_count] = *pat;
	k->worth[l->pat_count++] = worth;
}

static void
pats_walk(struct walk *k, int i, grams at, grams low, grams thick, int64_t sum)
{
	const struct cut_table *t = k->t;
	const struct cut_dish *d;
	size_t row = (size_t)i * t->line;
	int64_t v, mu = k->pr->mu[t->species];
	int j, dish;

	if (++k->steps > k->steps_max)
		k->full = true;
	if (k->full)
		return;
	v = t->low[row + (size_t)low];
	if (at >= 0 && t->at[row + (size_t)at] + mu * at > v)
		v = t->at[row + (size_t)at] + mu * at;
	if (sum + v < k->bottom)
		return;
	if (i == t->count) {
		cut_pat_finish(k->w, t, k->way->piece_g, &k->now);
		pat_add(k, &k->now, sum + mu * k->now.trim - k->now.cost);
		return;
	}
	dish = t->dish[i];
	d = &k->w->p->dishes[dish];
	for (j = 0; low >= 0 && thick >= 0 && j <= d->wanted; j++) {
		k->now.n[dish] = (uint16_t)j;
		pats_walk(k, i + 1, at, low, thick, sum);
		at -= d->target_g;
		low -= d->low_g;
		sum += k->pr->pi[dish];
		if (d->thick)
			thick -= d->low_g;
	}
	k->now.n[dish] = 0;
}

static void
pats_make(struct walk *k)
{
	struct cut_pat pat;
	size_t i;

	memset(&k->now, 0, sizeof(k->now));
	pats_walk(k, 0, k->way->piece_g, k->way->piece_g, k->way->thick_g, 0);
	for (i = 0; i < k->w->p->dish_count; i++) {
		if (!cut_piece_dish(k->w, k->t, k->way, i))
			continue;
		memset(&pat, 0, sizeof(pat));
		pat.n[i] = 1;
		pat.cost = cut_as_is(&k->w->p->dishes[i], k->way->piece_g);
		pat_add(k, &pat, k->pr->pi[i] - pat.cost);
	}
	if (k->way->keep > 0) {
		memset(&pat, 0, sizeof(pat));
		pat.kept = true;
		pat.cost = -k->way->keep;
		pat_add(k, &pat, k->way->keep);
	}
}

/* --- outcomes --------------------------------------------------------------*/

static size_t
hash(const struct cut_outcome *o, size_t dishes)
{
	uint64_t h = 1469598103934665603u;
	size_t i;

	for (i = 0; i < dishes; i++)
		h = (h ^ o->n[i]) * 1099511628211u;
	return (size_t)(h ^ h >> 29);
}

/* Equal portions: is a never dearer than b, whatever trim is worth? */
static bool
beats(const struct walk *k, const struct cut_outcome *a,
    const struct cut_outcome *b)
{
	int64_t mu = k->pr->mu[k->f->species], more = a->trim - b->trim;

	return a->slack + mu * more +
	    (more < 0 ? -more * k->w->trim_max[k->f->species] : 0) <=
	    b->slack;
}

static void
slots_grow(struct walk *k)
{
	size_t i, j;

	free(k->slot);
	k->slots = k->slots == 0 ? 256 : k->slots * 2;
	k->slot = xcalloc(k->slots, sizeof(k->slot[0]));
	for (i = 0; i < k->list->count; i++) {
		j = hash(&k->list->items[i], k->w->p->dish_count);
		while (k->slot[j & (k->slots - 1)] != 0)
			j++;
		k->slot[j & (k->slots - 1)] = i + 1;
	}
}

/* slack holds the cost at the prices until the list is done. */
static void
outcome_add(struct walk *k, const struct cut_outcome *o)
{
	struct cut_outcomes *l = k->list;
	struct cut_outcome *old;
	size_t j;

	if (o->slack > k->least + k->window)
		return;
	if (2 * l->count >= k->slots)
		slots_grow(k);
	j = hash(o, k->w->p->dish_count);
	for (; k->slot[j & (k->slots - 1)] != 0; j++) {
		old = &l->items[k->slot[j & (k->slots - 1)] - 1];
		if (memcmp(old->n, o->n, sizeof(o->n)) != 0)
			continue;
		if (beats(k, old, o))
			return;
		if (beats(k, o, old)) {
			*old = *o;
			return;
		}
	}
	if (l->count == k->max) {
		k->full = true;
		return;
	}
	l->items = grow(l->items, &k->cap, l->count, sizeof(*o));
	l->items[l->count++] = *o;
	k->slot[j & (k->slots - 1)] = l->count;
}

/* Pieces from `piece` on, patterns in falling order. */
static void
pieces_walk(struct walk *k, int piece, size_t from)
{
	struct cut_outcome keep = k->sum;
	const struct cut_pat *pat;
	size_t i, d;

	if (++k->steps > k->steps_max)
		k->full = true;
	if (k->full)
		return;
	if (piece == k->way->pieces) {
		outcome_add(k, &k->sum);
		return;
	}
	for (i = from; i < k->list->pat_count; i++) {
		pat = &k->list->pats[i];
		if (keep.slack + k->top - k->worth[i] > k->least + k->window)
			continue;
		k->sum = keep;
		k->sum.slack += k->top - k->worth[i];
		k->sum.trim += pat->trim;
		k->sum.pat[piece] = (uint16_t)i;
		/* More portions than wanted are never better than trim. */
		for (d = 0; d < k->w->p->dish_count; d++) {
			if (keep.n[d] + pat->n[d] > k->w->all.q[d])
				break;
			k->sum.n[d] = (uint16_t)(keep.n[d] + pat->n[d]);
		}
		if (d == k->w->p->dish_count)
			pieces_walk(k, piece + 1, i);
	}
	k->sum = keep;
}

static void
way_walk(struct walk *k, int way)
{
	int table = k->w->fish_table[k->list->fish][way];
	int64_t best;

	k->way = &k->f->ways[way];
	k->t = &k->w->table[table];
	k->top = cut_piece_best(NULL, k->w, table, k->way, k->pr);
	memset(&k->sum, 0, sizeof(k->sum));
	k->sum.mode = MODE_CUT;
	k->sum.way = (uint8_t)way;
	k->sum.trim = (int32_t)k->way->byproduct_g;
	best = k->f->cost - k->pr->mu[k->f->species] * k->way->byproduct_g -
	    k->top * k->way->pieces;
	k->sum.slack = best;
	if (best > k->least + k->window)
		return;
	k->bottom = k->top - (k->least + k->window - best);
	k->first = k->list->pat_count;
	pats_make(k);
	pieces_walk(k, 0, k->first);
}

static int
outcome_order(const void *a, const void *b)
{
	const struct cut_outcome *x = a, *y = b;
	int i;

	if (x->slack != y->slack)
		return x->slack < y->slack ? -1 : 1;
	if (x->trim != y->trim)
		return x->trim > y->trim ? -1 : 1;
	for (i = 0; i < CUT_DISHES_MAX; i++)
		if (x->n[i] != y->n[i])
			return x->n[i] > y->n[i] ? -1 : 1;
	return 0;
}

static void
walk_all(struct walk *k)
{
	struct cut_outcome o;
	size_t d;
	int way;

	k->full = false;
	k->steps = 0;
	k->list->count = 0;
	k->list->pat_count = 0;
	if (k->slots > 0)
		memset(k->slot, 0, k->slots * sizeof(k->slot[0]));
	memset(&o, 0, sizeof(o));
	o.mode = MODE_CLOSED;
	if (k->w->closed[k->list->fish])
		outcome_add(k, &o);
	for (d = 0; d < k->w->p->dish_count; d++) {
		if ((k->w->whole[k->list->fish] >> d & 1) == 0)
			continue;
		memset(&o, 0, sizeof(o));
		o.mode = MODE_WHOLE;
		o.dish = (uint8_t)d;
		o.n[d] = 1;
		o.slack = k->f->cost +
		    cut_as_is(&k->w->p->dishes[d], k->f->whole_g) -
		    k->pr->pi[d];
		outcome_add(k, &o);
	}
	for (way = 0; k->w->opens[k->list->fish] && way < k->f->way_count;
	     way++)
		way_walk(k, way);
	k->w->work += k->steps;
}

/* Does a way of the fish have no table?  Then not all can be told. */
static bool
untold(const struct cut_work *w, size_t fish)
{
	int way;

	for (way = 0; w->opens[fish] && way < w->p->fish[fish].way_count; way++)
		if (w->fish_table[fish][way] < 0)
			return true;
	return false;
}

/*
 * cut_outcomes_make - outcomes of a fish, with the tables filled at pr.  Halves
 * the window while there are more than `max`.  False when even the best alone
 * is too many or memory is at its cap; the list is then empty.
 */
bool
cut_outcomes_make(struct cut_outcomes *out, struct cut_work *w, size_t fish,
    const struct cut_prices *pr, int64_t window, size_t max)
{
	struct walk k;
	size_t i;

	memset(out, 0, sizeof(*out));
	memset(&k, 0, sizeof(k));
	if (untold(w, fish))
		return false;
	out->fish = fish;
	k.w = w;
	k.pr = pr;
	k.f = &w->p->fish[fish];
	k.list = out;
	k.max = max;
	k.steps_max = max < STEPS_MAX / 50 ? (int)max * 50 : STEPS_MAX;
	k.window = window;
	k.least = cut_fish_best(NULL, w, fish, pr);
	k.worth = xcalloc(PATS_MAX, sizeof(k.worth[0]));
	walk_all(&k);
	/* The tables may promise portions nobody wants: none is that good. */
	while (!k.full && out->count == 0 && k.window < CUT_NEVER / 4) {
		k.window = k.window * 2 + 1000;
		walk_all(&k);
	}
	while (k.full && k.window > 0 && w->work < w->work_max) {
		k.window /= 2;
		walk_all(&k);
	}
	free(k.worth);
	free(k.slot);
	if (k.full || out->count == 0 ||
	    !cut_want(w, out->count * sizeof(out->items[0]))) {
		free(out->items);
		free(out->pats);
		memset(out, 0, sizeof(*out));
		return false;
	}
	w->held += out->count * sizeof(out->items[0]);
	qsort(out->items, out->count, sizeof(out->items[0]), outcome_order);
	out->window = k.window + k.least - out->items[0].slack;
	out->least = out->items[0].slack;
	for (i = 0; i < out->count; i++)
		out->items[i].slack -= out->least;
	return true;
}

void
cut_outcomes_fini(struct cut_outcomes *l, struct cut_work *w)
{
	w->held -= l->count * sizeof(l->items[0]);
	free(l->items);
	free(l->pats);
	memset(l, 0, sizeof(*l));
}

/* cut_outcome_pick - an outcome, as what becomes of each piece. */
void
cut_outcome_pick(
    struct cut_pick *out, const struct cut_outcomes *l, size_t outcome)
{
	const struct cut_outcome *o = &l->items[outcome];
	int i;

	memset(out, 0, sizeof(*out));
	out->mode = (enum cut_mode)o->mode;
	out->dish = o->dish;
	out->way = o->way;
	for (i = 0; o->mode == MODE_CUT && i < CUT_PIECES_MAX; i++)
		out->pat[i] = l->pats[o->pat[i]];
}
