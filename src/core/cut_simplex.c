/*
 * The simplex steps of cut_simplex.h: a dense inverse, key columns beside it.
 */
#include "cut_simplex.h"

#include <math.h>
#include <string.h>

#define TINY 1e-9
#define REFACTOR 60

/* --- columns ---------------------------------------------------------------*/

static void
col_vector(const struct cut_simplex *s, const struct cut_col *c, double *a)
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
		    CUT_TRIM_UNIT;
}

/* The column with its fish's key taken off; returns the cost likewise. */
static double
col_reduced(const struct cut_simplex *s, const struct cut_col *c, double *a)
{
	double key[CUT_ROWS_MAX];
	int r;

	col_vector(s, c, a);
	if (c->sort != COL_FISH)
		return c->cost;
	col_vector(s, &s->key[c->i], key);
	for (r = 0; r < s->rows; r++)
		a[r] -= key[r];
	return c->cost - s->key[c->i].cost;
}

void
cut_col_fish(struct cut_col *c, const struct cut_simplex *s, size_t i,
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
	if (pick->mode == MODE_WHOLE) {
		c->cost +=
		    (double)cut_as_is(&s->w->p->dishes[pick->dish], f->whole_g);
		return;
	}
	c->way = pick->way;
	c->pat = pick->pat[0];
	c->cost += (double)c->pat.cost * f->ways[c->way].pieces;
}

/* --- the basis -------------------------------------------------------------*/

static void
prices_make(struct cut_simplex *s)
{
	double a[CUT_ROWS_MAX], cost[CUT_ROWS_MAX];
	int r, c;

	for (r = 0; r < s->rows; r++)
		cost[r] = col_reduced(s, &s->basic[r], a);
	for (c = 0; c < s->rows; c++) {
		s->price[c] = 0;
		for (r = 0; r < s->rows; r++)
			s->price[c] += cost[r] * s->inv[r][c];
	}
}

void
cut_basis_shares(struct cut_simplex *s)
{
	double a[CUT_ROWS_MAX], b[CUT_ROWS_MAX];
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
invert(struct cut_simplex *s)
{
	static const double small = 1e-11;
	double m[CUT_ROWS_MAX][CUT_ROWS_MAX], a[CUT_ROWS_MAX], f;
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

void
cut_basis_new(struct cut_simplex *s)
{
	invert(s);
	prices_make(s);
	cut_basis_shares(s);
	s->pivots = 0;
}

/* --- a pivot ---------------------------------------------------------------*/

/*
 * The column that leaves: a basic one (its row), or a key (-2 - fish); -1 when
 * nothing limits the entering one.  Among near ties the largest pivot.
 */
static long
ratio_test(struct cut_simplex *s, const struct cut_col *in, const double *y)
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
key_swap(struct cut_simplex *s, size_t i)
{
	struct cut_col t;
	double sum[CUT_ROWS_MAX] = { 0 }, share;
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
direction(const struct cut_simplex *s, const double *a, double *y)
{
	int r, c;

	for (r = 0; r < s->rows; r++) {
		y[r] = 0;
		for (c = 0; c < s->rows; c++)
			y[r] += s->inv[r][c] * a[c];
	}
}

static void
pivot(struct cut_simplex *s, const struct cut_col *in, int row, const double *y,
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
		cut_basis_new(s);
}

/* What the column gains at the prices; below 0 it is worth entering. */
static double
col_gain(const struct cut_simplex *s, const struct cut_col *in, double *a)
{
	double gain = col_reduced(s, in, a);
	int r;

	for (r = 0; r < s->rows; r++)
		gain -= s->price[r] * a[r];
	return gain;
}

/* Bring the column in, if it still gains; false when it does not. */
bool
cut_basis_enter(struct cut_simplex *s, const struct cut_col *in)
{
	double a[CUT_ROWS_MAX], y[CUT_ROWS_MAX], gain, scale;
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
		cut_basis_new(s);
		return false;
	}
	pivot(s, in, row, y, gain);
	return true;
}

double
cut_basis_value(const struct cut_simplex *s)
{
	double sum = 0, a[CUT_ROWS_MAX];
	size_t i;
	int r;

	for (i = 0; i < s->lp->count; i++)
		sum += s->key[i].cost;
	for (r = 0; r < s->rows; r++)
		sum += s->x[r] * col_reduced(s, &s->basic[r], a);
	return sum;
}
