/*
 * Prices by column generation, without a library: the programme of
 * cut_simplex.h, columns priced with the tables.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cut_simplex.h"

#define SMOOTH 3
#define BATCH 64 /* columns tried after one filling of the tables */

static void
rows_make(struct cut_simplex *s)
{
	const struct cut_problem *p = s->w->p;
	uint32_t live = 0, feeds;
	size_t i;
	int sp;

	for (i = 0; i < p->dish_count; i++) {
		s->dish[i] = -1;
		if (s->w->price_max[i] == 0 || s->lp->need.q[i] <= 0)
			continue;
		s->dish[i] = s->rows;
		s->short_cost[s->rows] = (double)s->w->price_max[i];
		s->rhs[s->rows++] = (double)s->lp->need.q[i];
	}
	for (i = 0; i < p->pool_count; i++) {
		s->pool[i] = -1;
		if (p->pools[i].price == 0 || s->lp->need.t[i] <= 0)
			continue;
		live |= 1u << i;
		s->pool[i] = s->rows;
		s->short_cost[s->rows] =
		    (double)p->pools[i].price * CUT_TRIM_UNIT;
		s->rhs[s->rows++] = (double)s->lp->need.t[i] / CUT_TRIM_UNIT;
	}
	for (sp = 0; sp < CUT_SPECIES_MAX; sp++) {
		feeds = s->w->pools[sp] & live;
		s->trim[sp] = -1;
		if (feeds == 0)
			continue;
		for (i = 0; (feeds >> i & 1) == 0; i++)
			continue;
		s->trim[sp] = s->pool[i];
		if ((feeds & (feeds - 1)) == 0)
			continue;
		s->trim[sp] = s->rows;
		s->short_cost[s->rows] = INFINITY;
		s->rhs[s->rows++] = 0;
	}
}

static void
slack_make(
    struct cut_col *c, const struct cut_simplex *s, int row, bool surplus)
{
	memset(c, 0, sizeof(*c));
	c->sort = COL_SLACK;
	c->row = row;
	c->sign = surplus ? -1 : 1;
	c->cost = surplus ? 0 : s->short_cost[row];
}

static void
start(struct cut_simplex *s)
{
	struct cut_prices none;
	struct cut_pick pick;
	size_t i;
	int r;

	memset(&none, 0, sizeof(none));
	cut_tables_fill(s->w, &none);
	for (i = 0; i < s->lp->count; i++) {
		memset(&pick, 0, sizeof(pick));
		if (!s->w->closed[s->lp->fish[i]])
			cut_fish_open(&pick, s->w, s->lp->fish[i], &none);
		cut_col_fish(&s->key[i], s, i, &pick);
	}
	/* A little more of each, all different, against ties. */
	for (r = 0; r < s->rows; r++) {
		s->rhs[r] += (s->short_cost[r] == INFINITY ? -1e-6 : 1e-6) *
		    (r + 1 + r * r % 7);
		slack_make(&s->basic[r], s, r, s->short_cost[r] == INFINITY);
		s->inv[r][r] = s->basic[r].sign;
	}
	cut_basis_shares(s);
	for (r = 0; r < s->rows; r++)
		if (s->x[r] < 0) {
			slack_make(&s->basic[r], s, r, s->basic[r].sign > 0);
			s->x[r] = 0;
		}
	cut_basis_new(s);
}

/* Slacks and splits of trim, until none gains. */
static void
price_slacks(struct cut_simplex *s)
{
	struct cut_col c;
	bool more = true;
	size_t k;
	int r, sp, turn;

	for (turn = 0; more && turn < 50; turn++) {
		more = false;
		for (r = 0; r < s->rows; r++) {
			slack_make(&c, s, r, true);
			more |= cut_basis_enter(s, &c);
			if (s->short_cost[r] == INFINITY)
				continue;
			slack_make(&c, s, r, false);
			more |= cut_basis_enter(s, &c);
		}
		for (sp = 0; sp < CUT_SPECIES_MAX; sp++) {
			if (s->trim[sp] < 0 ||
			    s->short_cost[s->trim[sp]] != INFINITY)
				continue;
			for (k = 0; k < s->w->p->pool_count; k++) {
				if ((s->w->pools[sp] >> k & 1) == 0 ||
				    s->pool[k] < 0)
					continue;
				memset(&c, 0, sizeof(c));
				c.sort = COL_MOVE;
				c.row = s->pool[k];
				c.from = s->trim[sp];
				c.sign = 1;
				more |= cut_basis_enter(s, &c);
			}
		}
	}
}

static void
prices_round(const struct cut_simplex *s, struct cut_prices *pr)
{
	size_t i;

	memset(pr, 0, sizeof(*pr));
	for (i = 0; i < s->w->p->dish_count; i++)
		if (s->dish[i] >= 0)
			pr->pi[i] = (int64_t)floor(s->price[s->dish[i]] + 0.5);
	for (i = 0; i < s->w->p->pool_count; i++)
		if (s->pool[i] >= 0)
			pr->nu[i] = (int64_t)floor(
			    s->price[s->pool[i]] / CUT_TRIM_UNIT + 0.5);
	cut_prices_set(s->w, pr);
}

struct offer {
	double gain;
	size_t i;
};

static int
offer_order(const void *a, const void *b)
{
	const struct offer *x = a, *y = b;

	if (x->gain != y->gain)
		return x->gain < y->gain ? -1 : 1;
	return x->i < y->i ? -1 : x->i > y->i;
}

/* What the fish's key costs at these prices. */
static double
key_cost(const struct cut_simplex *s, size_t i, const struct cut_prices *pr)
{
	const struct cut_problem *p = s->w->p;
	const struct cut_fish *f = &p->fish[s->lp->fish[i]];
	const struct cut_col *c = &s->key[i];
	const struct cut_way *way;
	double cost = c->cost;
	size_t d;

	if (c->mode == MODE_WHOLE)
		cost -= (double)pr->pi[c->dish];
	if (c->mode != MODE_CUT)
		return cost;
	way = &f->ways[c->way];
	for (d = 0; d < p->dish_count; d++)
		if (c->pat.n[d] > 0)
			cost -= (double)pr->pi[d] * c->pat.n[d] * way->pieces;
	return cost -
	    (double)pr->mu[f->species] *
	    (double)(way->pieces * (grams)c->pat.trim + way->byproduct_g);
}

/* The fish that could do better, most first; *bound gets L. */
static size_t
offers_make(struct cut_simplex *s, const struct cut_prices *pr,
    struct offer *offers, int64_t *bound)
{
	double now;
	size_t i, n = 0;
	int64_t best;

	cut_tables_fill(s->w, pr);
	*bound = cut_base(s->w, pr, &s->lp->need);
	s->w->work += 3 * (int64_t)s->lp->count;
	for (i = 0; i < s->lp->count; i++) {
		best = cut_fish_best(NULL, s->w, s->lp->fish[i], pr);
		*bound += best;
		now = key_cost(s, i, pr);
		if ((double)best > now - 0.5)
			continue;
		offers[n].gain = (double)best - now;
		offers[n++].i = i;
	}
	qsort(offers, n, sizeof(offers[0]), offer_order);
	return n;
}

/*
 * Prices between the best so far and those of the basis: the latter jump, and
 * columns made for them are of little use (smoothing, Wentges 1997).
 */
static void
prices_mix(const struct cut_simplex *s, struct cut_prices *now,
    const struct cut_prices *best)
{
	size_t i;

	for (i = 0; i < s->w->p->dish_count; i++)
		now->pi[i] = best->pi[i] + (now->pi[i] - best->pi[i]) / SMOOTH;
	for (i = 0; i < s->w->p->pool_count; i++)
		now->nu[i] = best->nu[i] + (now->nu[i] - best->nu[i]) / SMOOTH;
	cut_prices_set(s->w, now);
}

/* Price once and bring in what gains; how many did. */
static size_t
generate_once(struct cut_simplex *s, struct cut_prices *now,
    struct offer *offers, int64_t *bound)
{
	struct cut_pick pick;
	struct cut_col c;
	size_t n, i, took = 0;

	n = offers_make(s, now, offers, bound);
	for (i = 0; i < n && took < BATCH + n / 8; i++) {
		cut_fish_best(&pick, s->w, s->lp->fish[offers[i].i], now);
		cut_col_fish(&c, s, offers[i].i, &pick);
		took += cut_basis_enter(s, &c);
	}
	return took;
}

static int64_t
generate(struct cut_simplex *s, struct cut_prices *pr, int rounds)
{
	struct cut_prices now = *pr;
	struct offer *offers;
	size_t took;
	int64_t bound, best = -CUT_NEVER;
	bool mixed = s->lp->warm;
	double enough;
	int round;

	offers = xcalloc(s->lp->count + 1, sizeof(offers[0]));
	for (round = 0; round < rounds && !s->broken; round++) {
		price_slacks(s);
		enough = fmax(2, cut_basis_value(s) * s->lp->enough);
		if (best > -CUT_NEVER &&
		    cut_basis_value(s) - (double)best < enough)
			break;
		if (round > 0 || !s->lp->warm)
			prices_round(s, &now);
		if (mixed && round > 0)
			prices_mix(s, &now, pr);
		took = generate_once(s, &now, offers, &bound);
		if (bound > best) {
			best = bound;
			*pr = now;
		}
		if (took == 0 && !mixed)
			break;
		if (s->w->work > s->w->work_max) {
			s->w->stopped = true;
			break;
		}
		mixed = took > 0;
	}
	free(offers);
	return best;
}

static void
picks_out(const struct cut_simplex *s)
{
	const struct cut_problem *p = s->w->p;
	const struct cut_col *c;
	struct cut_lp *lp = s->lp;
	size_t i;
	int r, j;

	for (i = 0; i < lp->count; i++)
		lp->x[i] = -1;
	for (r = -(int)lp->count; r < s->rows; r++) {
		c = r < 0 ? &s->key[-r - 1] : &s->basic[r];
		if (c->sort != COL_FISH)
			continue;
		i = c->i;
		if ((r < 0 ? s->share[i] : s->x[r]) <= lp->x[i])
			continue;
		lp->x[i] = r < 0 ? s->share[i] : s->x[r];
		memset(&lp->pick[i], 0, sizeof(lp->pick[i]));
		lp->pick[i].mode = c->mode;
		lp->pick[i].dish = c->dish;
		lp->pick[i].way = c->way;
		for (j = 0; c->mode == MODE_CUT &&
		     j < p->fish[lp->fish[i]].ways[c->way].pieces;
		     j++)
			lp->pick[i].pat[j] = c->pat;
	}
}

/*
 * cut_lp_solve - the best bound L of these fish and this need, its prices, and
 * of each fish the pick that has the largest share.
 */
int64_t
cut_lp_solve(
    struct cut_lp *lp, struct cut_work *w, struct cut_prices *pr, int rounds)
{
	struct cut_simplex *s = xcalloc(1, sizeof(*s));
	int64_t bound;

	s->w = w;
	s->lp = lp;
	s->key = xcalloc(lp->count + 1, sizeof(s->key[0]));
	s->share = xcalloc(lp->count + 1, sizeof(s->share[0]));
	s->fall = xcalloc(lp->count + 1, sizeof(s->fall[0]));
	lp->pick = xcalloc(lp->count + 1, sizeof(lp->pick[0]));
	lp->x = xcalloc(lp->count + 1, sizeof(lp->x[0]));
	rows_make(s);
	start(s);
	bound = generate(s, pr, rounds);
	cut_basis_shares(s);
	picks_out(s);
	free(s->key);
	free(s->share);
	free(s->fall);
	free(s);
	return bound;
}

void
cut_lp_fini(struct cut_lp *lp)
{
	free(lp->pick);
	free(lp->x);
	lp->pick = NULL;
	lp->x = NULL;
}
