/*
 * Prices by column generation, without a library.
 *
 * Rows: portions of each dish, grams of each trim pool, and for a species that
 * feeds several pools a row that splits its trim.  Besides, the shares of one
 * fish's picks add up to one: these rows are kept out of the basis by a key
 * column for each fish (generalised upper bounds, Dantzig and Van Slyke 1967),
 * so the basis is at most 48 square however many fish there are.
 *
 * All in doubles, and nothing rests on it: the prices are rounded and the
 * bound summed in integers; a wrong digit here makes it weaker, never wrong.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cut_work.h"

#define ROWS_MAX (CUT_DISHES_MAX + CUT_POOLS_MAX + CUT_SPECIES_MAX)
#define TINY 1e-9
#define TRIM_UNIT 128.0 /* grams, so that rows are of like size */
#define SMOOTH 3
#define REFACTOR 60
#define BATCH 64 /* columns tried after one filling of the tables */

enum col_sort {
	COL_SLACK, /* short or surplus of one row */
	COL_MOVE,  /* trim of a species into one of its pools */
	COL_FISH,
};

struct col {
	enum col_sort sort;
	double cost;
	int row, from; /* COL_SLACK, COL_MOVE */
	double sign;
	size_t i; /* COL_FISH: which of the programme's */
	enum cut_mode mode;
	int dish, way;
	struct cut_pat pat; /* of every piece */
};

struct simplex {
	struct cut_work *w;
	struct cut_lp *lp;
	int rows;
	int dish[CUT_DISHES_MAX], pool[CUT_POOLS_MAX];
	int trim[CUT_SPECIES_MAX];   /* row its trim goes to, or -1 */
	double short_cost[ROWS_MAX]; /* INFINITY: splits trim */
	double rhs[ROWS_MAX];
	struct col basic[ROWS_MAX];
	double x[ROWS_MAX];
	double price[ROWS_MAX];
	double inv[ROWS_MAX][ROWS_MAX];
	struct col *key; /* one a fish */
	double *share;   /* of the key */
	double *fall;    /* scratch of the ratio test, zero between */
	int pivots;
	bool broken; /* the basis went singular */
};

/* --- columns ---------------------------------------------------------------*/

static void
col_vector(const struct simplex *s, const struct col *c, double *a)
{
	const struct cut_problem *p = s->w->p;
	const struct cut_fish *f;
	const struct cut_way *way;
	size_t d;

	memset(a, 0, sizeof(double) * (size_t)s->rows);
	if (c->sort != COL_FISH) {
		a[c->row] = c->sign;
		if (c->sort == COL_MOVE)
			a[c->from] = -1;
		return;
	}
	f = &p->fish[s->lp->fish[c->i]];
	if (c->mode == MODE_WHOLE && s->dish[c->dish] >= 0)
		a[s->dish[c->dish]] = 1;
	if (c->mode != MODE_CUT)
		return;
	way = &f->ways[c->way];
	for (d = 0; d < p->dish_count; d++)
		if (s->dish[d] >= 0)
			a[s->dish[d]] = way->pieces * (double)c->pat.n[d];
	if (s->trim[f->species] >= 0)
		a[s->trim[f->species]] = (way->pieces * (double)c->pat.trim +
					     (double)way->byproduct_g) /
		    TRIM_UNIT;
}

/* The column with its fish's key taken off; returns the cost likewise. */
static double
col_reduced(const struct simplex *s, const struct col *c, double *a)
{
	double key[ROWS_MAX];
	int r;

	col_vector(s, c, a);
	if (c->sort != COL_FISH)
		return c->cost;
	col_vector(s, &s->key[c->i], key);
	for (r = 0; r < s->rows; r++)
		a[r] -= key[r];
	return c->cost - s->key[c->i].cost;
}

static void
col_fish(struct col *c, const struct simplex *s, size_t i,
    const struct cut_pick *pick)
{
	const struct cut_fish *f = &s->w->p->fish[s->lp->fish[i]];

	memset(c, 0, sizeof(*c));
	c->sort = COL_FISH;
	c->i = i;
	c->mode = pick->mode;
	if (pick->mode == MODE_CLOSED)
		return;
	c->cost = (double)f->cost;
	c->dish = pick->dish;
	if (pick->mode == MODE_WHOLE)
		return;
	c->way = pick->way;
	c->pat = pick->pat[0];
	c->cost += (double)c->pat.cost * f->ways[c->way].pieces;
}

/* --- the basis -------------------------------------------------------------*/

static void
prices_make(struct simplex *s)
{
	double a[ROWS_MAX], cost[ROWS_MAX];
	int r, c;

	for (r = 0; r < s->rows; r++)
		cost[r] = col_reduced(s, &s->basic[r], a);
	for (c = 0; c < s->rows; c++) {
		s->price[c] = 0;
		for (r = 0; r < s->rows; r++)
			s->price[c] += cost[r] * s->inv[r][c];
	}
}

static void
shares_make(struct simplex *s)
{
	double a[ROWS_MAX], b[ROWS_MAX];
	size_t i;
	int r, c;

	memcpy(b, s->rhs, sizeof(b));
	for (i = 0; i < s->lp->count; i++) {
		s->share[i] = 1;
		if (s->key[i].mode == MODE_CLOSED)
			continue;
		col_vector(s, &s->key[i], a);
		for (r = 0; r < s->rows; r++)
			b[r] -= a[r];
	}
	for (r = 0; r < s->rows; r++) {
		s->x[r] = 0;
		for (c = 0; c < s->rows; c++)
			s->x[r] += s->inv[r][c] * b[c];
		if (s->basic[r].sort == COL_FISH)
			s->share[s->basic[r].i] -= s->x[r];
	}
}

static void
rows_swap(double *a, double *b, int n)
{
	double t;
	int i;

	for (i = 0; a != b && i < n; i++) {
		t = a[i];
		a[i] = b[i];
		b[i] = t;
	}
}

/* Gauss-Jordan; the inverse comes out in basis order. */
static void
invert(struct simplex *s)
{
	static const double small = 1e-11;
	double m[ROWS_MAX][ROWS_MAX], a[ROWS_MAX], f;
	int n = s->rows, r, c, k, best;

	for (c = 0; c < n; c++) {
		col_reduced(s, &s->basic[c], a);
		for (r = 0; r < n; r++) {
			m[r][c] = a[r];
			s->inv[r][c] = r == c;
		}
	}
	for (k = 0; k < n; k++) {
		best = k;
		for (r = k + 1; r < n; r++)
			if (fabs(m[r][k]) > fabs(m[best][k]))
				best = r;
		if (fabs(m[best][k]) < small) {
			s->broken = true;
			return;
		}
		rows_swap(m[k], m[best], n);
		rows_swap(s->inv[k], s->inv[best], n);
		f = 1 / m[k][k];
		for (c = 0; c < n; c++) {
			m[k][c] *= f;
			s->inv[k][c] *= f;
		}
		for (r = 0; r < n; r++) {
			f = m[r][k];
			if (r == k || f == 0)
				continue;
			for (c = 0; c < n; c++) {
				m[r][c] -= f * m[k][c];
				s->inv[r][c] -= f * s->inv[k][c];
			}
		}
	}
}

static void
refactor(struct simplex *s)
{
	invert(s);
	prices_make(s);
	shares_make(s);
	s->pivots = 0;
}

/* --- a pivot ---------------------------------------------------------------*/

/*
 * The column that leaves: a basic one (its row), or a key (-2 - fish); -1 when
 * nothing limits the entering one.  Among near ties the largest pivot.
 */
static long
ratio_test(struct simplex *s, const struct col *in, const double *y)
{
	double best = INFINITY, size = 0, ratio;
	long out = -1, i;
	int r;

	for (r = 0; r < s->rows; r++)
		if (s->basic[r].sort == COL_FISH)
			s->fall[s->basic[r].i] -= y[r];
	if (in->sort == COL_FISH)
		s->fall[in->i] += 1;
	for (r = -1; r < s->rows; r++) {
		if (r >= 0 && y[r] > TINY) {
			ratio = (s->x[r] > 0 ? s->x[r] : 0) / y[r];
			if (ratio < best - TINY ||
			    (ratio < best + TINY && y[r] > size)) {
				best = ratio;
				size = y[r];
				out = r;
			}
		}
		if (r < 0 ? in->sort != COL_FISH : s->basic[r].sort != COL_FISH)
			continue;
		i = (long)(r < 0 ? in->i : s->basic[r].i);
		if (s->fall[i] > TINY) {
			ratio =
			    (s->share[i] > 0 ? s->share[i] : 0) / s->fall[i];
			if (ratio < best - TINY ||
			    (ratio < best + TINY && s->fall[i] > size)) {
				best = ratio;
				size = s->fall[i];
				out = -2 - i;
			}
		}
	}
	for (r = 0; r < s->rows; r++)
		if (s->basic[r].sort == COL_FISH)
			s->fall[s->basic[r].i] = 0;
	if (in->sort == COL_FISH)
		s->fall[in->i] = 0;
	return out;
}

/* Another column of the fish becomes its key; its row, or -1 if it has none. */
static int
key_swap(struct simplex *s, size_t i)
{
	struct col t;
	double sum[ROWS_MAX] = { 0 }, share;
	int r, c, row = -1;

	for (r = 0; r < s->rows; r++) {
		if (s->basic[r].sort != COL_FISH || s->basic[r].i != i)
			continue;
		if (row < 0 || s->x[r] > s->x[row])
			row = r;
		for (c = 0; c < s->rows; c++)
			sum[c] -= s->inv[r][c];
	}
	if (row < 0)
		return -1;
	memcpy(s->inv[row], sum, sizeof(sum));
	t = s->key[i];
	s->key[i] = s->basic[row];
	s->basic[row] = t;
	share = s->share[i];
	s->share[i] = s->x[row];
	s->x[row] = share;
	return row;
}

static void
direction(const struct simplex *s, const double *a, double *y)
{
	int r, c;

	for (r = 0; r < s->rows; r++) {
		y[r] = 0;
		for (c = 0; c < s->rows; c++)
			y[r] += s->inv[r][c] * a[c];
	}
}

static void
pivot(struct simplex *s, const struct col *in, int row, const double *y,
    double gain)
{
	double step = s->x[row] / y[row], f;
	int r, c;

	for (r = 0; r < s->rows; r++) {
		if (r == row)
			continue;
		s->x[r] -= step * y[r];
		if (s->basic[r].sort == COL_FISH)
			s->share[s->basic[r].i] += step * y[r];
	}
	if (s->basic[row].sort == COL_FISH)
		s->share[s->basic[row].i] += s->x[row];
	if (in->sort == COL_FISH)
		s->share[in->i] -= step;
	s->x[row] = step;
	s->basic[row] = *in;
	f = 1 / y[row];
	for (c = 0; c < s->rows; c++) {
		s->inv[row][c] *= f;
		s->price[c] += gain * s->inv[row][c];
	}
	for (r = 0; r < s->rows; r++) {
		if (r == row || y[r] == 0)
			continue;
		for (c = 0; c < s->rows; c++)
			s->inv[r][c] -= y[r] * s->inv[row][c];
	}
	if (++s->pivots >= REFACTOR)
		refactor(s);
}

/* What the column gains at the prices; below 0 it is worth entering. */
static double
col_gain(const struct simplex *s, const struct col *in, double *a)
{
	double gain = col_reduced(s, in, a);
	int r;

	for (r = 0; r < s->rows; r++)
		gain -= s->price[r] * a[r];
	return gain;
}

/* Bring the column in, if it still gains; false when it does not. */
static bool
enter(struct simplex *s, const struct col *in)
{
	double a[ROWS_MAX], y[ROWS_MAX], gain, scale;
	long out;
	int row;

	gain = col_gain(s, in, a);
	scale = 1e-9 * fabs(in->cost) + 0.25;
	if (gain > -scale || s->broken)
		return false;
	direction(s, a, y);
	out = ratio_test(s, in, y);
	s->w->work += s->rows * s->rows / 16 + 8;
	if (out == -1)
		return false;
	if (out >= 0) {
		pivot(s, in, (int)out, y, gain);
		return true;
	}
	row = key_swap(s, (size_t)(-2 - out));
	if (row < 0) {
		/* The fish changes its key; no row of the basis does. */
		for (row = 0; row < s->rows; row++) {
			s->x[row] -= s->share[in->i] * y[row];
			if (s->basic[row].sort == COL_FISH)
				s->share[s->basic[row].i] +=
				    s->share[in->i] * y[row];
		}
		s->key[in->i] = *in;
		return true;
	}
	gain = col_gain(s, in, a);
	direction(s, a, y);
	if (fabs(y[row]) < TINY) {
		refactor(s);
		return false;
	}
	pivot(s, in, row, y, gain);
	return true;
}

/* --- the programme ---------------------------------------------------------*/

static void
rows_make(struct simplex *s)
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
		s->short_cost[s->rows] = (double)p->pools[i].price * TRIM_UNIT;
		s->rhs[s->rows++] = (double)s->lp->need.t[i] / TRIM_UNIT;
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
slack_make(struct col *c, const struct simplex *s, int row, bool surplus)
{
	memset(c, 0, sizeof(*c));
	c->sort = COL_SLACK;
	c->row = row;
	c->sign = surplus ? -1 : 1;
	c->cost = surplus ? 0 : s->short_cost[row];
}

static void
start(struct simplex *s)
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
		col_fish(&s->key[i], s, i, &pick);
	}
	/* A little more of each, all different, against ties. */
	for (r = 0; r < s->rows; r++) {
		s->rhs[r] += 1e-6 * (r + 1 + r * r % 7);
		slack_make(&s->basic[r], s, r, s->short_cost[r] == INFINITY);
		s->inv[r][r] = s->basic[r].sign;
	}
	shares_make(s);
	for (r = 0; r < s->rows; r++)
		if (s->x[r] < 0) {
			slack_make(&s->basic[r], s, r, s->basic[r].sign > 0);
			s->x[r] = 0;
		}
	refactor(s);
}

/* Slacks and splits of trim, until none gains. */
static void
price_slacks(struct simplex *s)
{
	struct col c;
	bool more = true;
	size_t k;
	int r, sp, turn;

	for (turn = 0; more && turn < 50; turn++) {
		more = false;
		for (r = 0; r < s->rows; r++) {
			slack_make(&c, s, r, true);
			more |= enter(s, &c);
			if (s->short_cost[r] == INFINITY)
				continue;
			slack_make(&c, s, r, false);
			more |= enter(s, &c);
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
				more |= enter(s, &c);
			}
		}
	}
}

static void
prices_round(const struct simplex *s, struct cut_prices *pr)
{
	size_t i;

	memset(pr, 0, sizeof(*pr));
	for (i = 0; i < s->w->p->dish_count; i++)
		if (s->dish[i] >= 0)
			pr->pi[i] = (int64_t)floor(s->price[s->dish[i]] + 0.5);
	for (i = 0; i < s->w->p->pool_count; i++)
		if (s->pool[i] >= 0)
			pr->nu[i] = (int64_t)floor(
			    s->price[s->pool[i]] / TRIM_UNIT + 0.5);
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
key_cost(const struct simplex *s, size_t i, const struct cut_prices *pr)
{
	const struct cut_problem *p = s->w->p;
	const struct cut_fish *f = &p->fish[s->lp->fish[i]];
	const struct col *c = &s->key[i];
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
offers_make(struct simplex *s, const struct cut_prices *pr,
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

static double
value(const struct simplex *s)
{
	double sum = 0, a[ROWS_MAX];
	size_t i;
	int r;

	for (i = 0; i < s->lp->count; i++)
		sum += s->key[i].cost;
	for (r = 0; r < s->rows; r++)
		sum += s->x[r] * col_reduced(s, &s->basic[r], a);
	return sum;
}

/*
 * Prices between the best so far and those of the basis: the latter jump, and
 * columns made for them are of little use (smoothing, Wentges 1997).
 */
static void
prices_mix(const struct simplex *s, struct cut_prices *now,
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
generate_once(struct simplex *s, struct cut_prices *now, struct offer *offers,
    int64_t *bound)
{
	struct cut_pick pick;
	struct col c;
	size_t n, i, took = 0;

	n = offers_make(s, now, offers, bound);
	for (i = 0; i < n && took < BATCH + n / 8; i++) {
		cut_fish_best(&pick, s->w, s->lp->fish[offers[i].i], now);
		col_fish(&c, s, offers[i].i, &pick);
		took += enter(s, &c);
	}
	return took;
}

static int64_t
generate(struct simplex *s, struct cut_prices *pr, int rounds)
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
		enough = fmax(2, value(s) * s->lp->enough);
		if (best > -CUT_NEVER && value(s) - (double)best < enough)
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
picks_out(const struct simplex *s)
{
	const struct cut_problem *p = s->w->p;
	const struct col *c;
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
	struct simplex *s = xcalloc(1, sizeof(*s));
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
	shares_make(s);
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
