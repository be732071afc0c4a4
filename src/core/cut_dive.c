/*
 * A good plan fast: solve the linear programme, fix the fish it is sure of,
 * take off what they give, and again.
 */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cut_work.h"

#define ROUNDS 400     /* of pricing, for the bound */
#define DIVE_ROUNDS 60 /* of pricing, for a step of the dive */
#define DIVE_FREE 300  /* fish that stay free */
#define LP_WORK 10000000
#define DIVE_WORK 4000000
#define SURE 0.99
#define SAMPLE 500
#define SAMPLE_ROUNDS 1500
#define ENOUGH 5e-5

/* A pick without the portions nobody wants any more. */
static void
pick_clip(struct cut_pick *pick, const struct cut_work *w, size_t fish,
    const struct cut_need *need)
{
	const struct cut_way *way = &w->p->fish[fish].ways[pick->way];
	const struct cut_table *t;
	int64_t left[CUT_DISHES_MAX];
	struct cut_pat *pat;
	bool cut, any, clipped;
	size_t d;
	int i;

	if (pick->mode != MODE_CUT || w->fish_table[fish][pick->way] < 0)
		return;
	t = &w->table[w->fish_table[fish][pick->way]];
	memcpy(left, need->q, sizeof(left));
	for (i = 0; i < way->pieces; i++) {
		pat = &pick->pat[i];
		any = clipped = false;
		cut = true;
		for (d = 0; d < w->p->dish_count; d++) {
			if (pat->n[d] > left[d]) {
				pat->n[d] = (uint16_t)left[d];
				clipped = true;
			}
			left[d] -= pat->n[d];
			any |= pat->n[d] > 0;
			cut &= pat->n[d] == 0 ||
			    w->p->dishes[d].serve == SERVE_CUT;
		}
		if (!clipped || !cut)
			continue;
		cut_pat_finish(w, t, way->piece_g, pat);
		if (!any &&
		    way->keep >= w->prices.mu[t->species] * way->piece_g) {
			pat->kept = true;
			pat->cost = -way->keep;
			pat->trim = 0;
		}
	}
}

/* Take off what the pick gives; trim to the dearest pool first. */
static void
need_less(struct cut_need *need, const struct cut_work *w, size_t fish,
    const struct cut_pick *pick)
{
	uint32_t pools = w->pools[w->p->fish[fish].species], done;
	struct cut_sum sum;
	size_t d, k, best;
	grams give;

	cut_effect(&sum, w, fish, pick);
	for (d = 0; d < w->p->dish_count; d++)
		need->q[d] = sum.n[d] < need->q[d] ? need->q[d] - sum.n[d] : 0;
	for (done = 0; sum.trim > 0;) {
		best = CUT_POOLS_MAX;
		for (k = 0; k < w->p->pool_count; k++)
			if ((pools & ~done & 1u << k) != 0 &&
			    (best == CUT_POOLS_MAX ||
				w->p->pools[k].price > w->p->pools[best].price))
				best = k;
		if (best == CUT_POOLS_MAX)
			return;
		done |= 1u << best;
		give = sum.trim < need->t[best] ? sum.trim : need->t[best];
		need->t[best] -= give;
		sum.trim -= give;
	}
}

struct dive {
	struct cut_work *w;
	struct cut_pick *picks;
	size_t *fish; /* free */
	size_t count;
	struct cut_need need;
};

/* Fix what the programme is sure of, or else what it is most sure of. */
static bool
dive_fix(struct dive *d, const struct cut_lp *lp)
{
	size_t i, n = 0, most = lp->count;
	bool sure = false;

	for (i = 0; i < lp->count; i++) {
		if (lp->pick[i].mode == MODE_CLOSED)
			continue;
		sure |= lp->x[i] > SURE;
		if (most == lp->count || lp->x[i] > lp->x[most])
			most = i;
	}
	if (most == lp->count)
		return false;
	for (i = 0; i < lp->count; i++) {
		if (lp->pick[i].mode == MODE_CLOSED ||
		    (sure ? lp->x[i] <= SURE : i != most)) {
			d->fish[n++] = lp->fish[i];
			continue;
		}
		d->picks[lp->fish[i]] = lp->pick[i];
		pick_clip(&d->picks[lp->fish[i]], d->w, lp->fish[i], &d->need);
		need_less(&d->need, d->w, lp->fish[i], &d->picks[lp->fish[i]]);
	}
	d->count = n;
	return true;
}

/* Of many fish only those nearest to being opened stay free. */
static void
dive_thin(struct dive *d)
{
	struct cut_rank *r;
	size_t i;

	if (d->count <= DIVE_FREE)
		return;
	r = xcalloc(d->count, sizeof(r[0]));
	cut_tables_fill(d->w, &d->w->prices);
	for (i = 0; i < d->count; i++) {
		r[i].fish = d->fish[i];
		r[i].value = d->w->closed[r[i].fish]
		    ? cut_fish_open(NULL, d->w, r[i].fish, &d->w->prices)
		    : -CUT_NEVER;
	}
	qsort(r, d->count, sizeof(r[0]), cut_rank_order);
	for (i = DIVE_FREE; i < d->count && r[i].value == -CUT_NEVER; i++)
		continue;
	d->count = i;
	for (i = 0; i < d->count; i++)
		d->fish[i] = r[i].fish;
	free(r);
}

/* Every fish that has to be opened is, in the cheapest way. */
static void
dive_start(struct dive *d)
{
	struct cut_prices none;
	size_t i;

	memset(&none, 0, sizeof(none));
	cut_tables_fill(d->w, &none);
	for (i = 0; i < d->w->p->fish_count; i++) {
		d->fish[i] = i;
		if (!d->w->closed[i])
			cut_fish_best(&d->picks[i], d->w, i, &none);
	}
	d->count = d->w->p->fish_count;
	d->need = d->w->all;
	cut_offer(d->w, d->picks);
}

/*
 * Prices from every n-th fish and its share of the need: near enough for the
 * full programme to start from, and soon found.
 */
static void
sample(struct cut_work *w)
{
	struct cut_lp lp;
	size_t step = w->p->fish_count / SAMPLE, i;
	size_t *fish;

	memset(&lp, 0, sizeof(lp));
	fish = xcalloc(w->p->fish_count / step + 1, sizeof(fish[0]));
	for (i = 0; i < w->p->fish_count; i += step)
		fish[lp.count++] = i;
	lp.fish = fish;
	for (i = 0; i < w->p->dish_count; i++)
		lp.need.q[i] = div_up(w->all.q[i], (int64_t)step);
	for (i = 0; i < w->p->pool_count; i++)
		lp.need.t[i] = div_up(w->all.t[i], (int64_t)step);
	lp.enough = ENOUGH;
	cut_lp_solve(&lp, w, &w->prices, SAMPLE_ROUNDS);
	cut_lp_fini(&lp);
	free(fish);
}

/* cut_dive - the bound, its prices, and a first plan. */
void
cut_dive(struct cut_work *w)
{
	struct cut_prices pr;
	struct cut_lp lp;
	struct dive d;
	bool more = true, first = true;

	memset(&d, 0, sizeof(d));
	d.w = w;
	d.picks = xcalloc(w->p->fish_count + 1, sizeof(d.picks[0]));
	d.fish = xcalloc(w->p->fish_count + 1, sizeof(d.fish[0]));
	dive_start(&d);
	w->work_max = w->work + LP_WORK;
	if (w->p->fish_count >= 2 * SAMPLE)
		sample(w);
	while (more) {
		memset(&lp, 0, sizeof(lp));
		lp.warm = first && w->p->fish_count >= 2 * SAMPLE;
		lp.enough = lp.warm ? ENOUGH : 0;
		lp.fish = d.fish;
		lp.count = d.count;
		lp.need = d.need;
		if (first)
			w->bound = cut_lp_solve(&lp, w, &w->prices, ROUNDS);
		else
			cut_lp_solve(&lp, w, &pr, DIVE_ROUNDS);
		more = dive_fix(&d, &lp);
		if (first) {
			dive_thin(&d);
			w->work_max = w->work + DIVE_WORK;
		}
		first = false;
		cut_lp_fini(&lp);
	}
	cut_offer(w, d.picks);
	free(d.picks);
	free(d.fish);
}
