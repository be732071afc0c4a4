/*
 * What a piece is worth at given prices.
 *
 * An unbounded knapsack over grams.  Two tables do for every piece of a
 * species (struct cut_table): a pattern either fits at target and leaves trim,
 * or is cut short and leaves none.  Rows are filled from the last dish to the
 * first, so every tail of the list has its own, which the enumeration of
 * patterns needs (cut_outcomes.c).
 */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cut_work.h"

/* Entries of one table of all tails; above, one row has to do. */
#define TABLE_MAX ((size_t)1 << 20)
/* Patterns looked at for the best one that keeps to the thick part. */
#define THICK_STEPS 4000

/* --- which tables ----------------------------------------------------------*/

static uint32_t
way_mask(const struct cut_work *w, size_t fish, int way)
{
	const struct cut_problem *p = w->p;
	uint32_t mask = 0;
	size_t i;

	for (i = 0; i < p->dish_count; i++)
		if (p->dishes[i].serve != SERVE_WHOLE && w->price_max[i] > 0 &&
		    (p->dishes[i].species >> p->fish[fish].species & 1) != 0 &&
		    (p->fish[fish].ways[way].dishes >> i & 1) != 0)
			mask |= 1u << i;
	return mask;
}

static void
table_init(struct cut_table *t, const struct cut_problem *p)
{
	const struct cut_dish *a, *b;
	size_t d;
	int i, j;

	for (d = 0; d < p->dish_count; d++) {
		if ((t->mask >> d & 1) == 0)
			continue;
		if (p->dishes[d].serve == SERVE_PIECE) {
			t->as_is |= 1u << d;
			continue;
		}
		a = &p->dishes[d];
		if (a->thick)
			t->thick = true;
		/* Large portions first: fewer patterns to look at. */
		for (i = t->count; i > 0; i--) {
			b = &p->dishes[t->dish[i - 1]];
			if (b->target_g >= a->target_g)
				break;
			t->dish[i] = t->dish[i - 1];
		}
		t->dish[i] = (int)d;
		for (j = t->count; j > 0; j--) {
			b = &p->dishes[t->by_under[j - 1]];
			if (b->under_price <= a->under_price)
				break;
			t->by_under[j] = t->by_under[j - 1];
		}
		t->by_under[j] = (int)d;
		t->count++;
	}
}

static int
table_find(struct cut_work *w, int species, uint32_t mask)
{
	int i;

	for (i = 0; i < w->tables; i++)
		if (w->table[i].species == species && w->table[i].mask == mask)
			return i;
	if (w->tables == CUT_TABLES_MAX)
		return -1;
	w->table[i].species = species;
	w->table[i].mask = mask;
	table_init(&w->table[i], w->p);
	w->tables++;
	return i;
}

/*
 * cut_tables_make - group the ways to open a fish by what they give.
 * Kitchens have one or two groups a species.  Should there be more than there
 * is room for, the bound takes piece_limit() for the rest, and the plan uses
 * such a way for trim alone.
 */
void
cut_tables_make(struct cut_work *w)
{
	const struct cut_fish *f;
	struct cut_table *t;
	size_t i, rows;
	int j, k;

	for (i = 0; i < w->p->fish_count; i++) {
		f = &w->p->fish[i];
		for (j = 0; w->opens[i] && j < f->way_count; j++) {
			k = table_find(w, f->species, way_mask(w, i, j));
			w->fish_table[i][j] = k;
			if (k >= 0 && f->ways[j].piece_g > w->table[k].top)
				w->table[k].top = f->ways[j].piece_g;
		}
	}
	for (k = 0; k < w->tables; k++) {
		t = &w->table[k];
		rows = (size_t)t->count + 1;
		t->line = (size_t)t->top + 1;
		if (rows * t->line > TABLE_MAX) {
			rows = 1;
			t->line = 0;
		}
		rows *= (size_t)t->top + 1;
		t->at = xcalloc(rows, sizeof(t->at[0]));
		t->low = xcalloc(rows, sizeof(t->low[0]));
		w->held += rows * 2 * sizeof(t->at[0]);
	}
}

void
cut_tables_fini(struct cut_work *w)
{
	int i;

	for (i = 0; i < w->tables; i++) {
		free(w->table[i].at);
		free(w->table[i].low);
	}
}

/* --- filling ---------------------------------------------------------------*/

/* cut_prices_set - within their limits, and mu from nu. */
void
cut_prices_set(struct cut_work *w, struct cut_prices *pr)
{
	size_t i;
	int s;

	for (i = 0; i < w->p->dish_count; i++) {
		if (pr->pi[i] > w->price_max[i])
			pr->pi[i] = w->price_max[i];
		if (pr->pi[i] < 0)
			pr->pi[i] = 0;
	}
	for (i = 0; i < w->p->pool_count; i++) {
		if (pr->nu[i] > w->p->pools[i].price)
			pr->nu[i] = w->p->pools[i].price;
		if (pr->nu[i] < 0)
			pr->nu[i] = 0;
	}
	for (s = 0; s < CUT_SPECIES_MAX; s++) {
		pr->mu[s] = 0;
		for (i = 0; i < w->p->pool_count; i++)
			if ((w->pools[s] >> i & 1) != 0 &&
			    pr->nu[i] > pr->mu[s])
				pr->mu[s] = pr->nu[i];
	}
}

static void
fill_at(
    int64_t *row, const int64_t *from, size_t top, size_t target, int64_t gain)
{
	size_t g;
	int64_t v;

	for (g = 0; g <= top; g++) {
		row[g] = from[g];
		if (g < target)
			continue;
		v = row[g - target] + gain;
		if (v > row[g])
			row[g] = v;
	}
}

/*
 * row[g] = max(from[g], row[x] + pi - under * (target - (g - x))) over the
 * portions g - x in [low, target].  With no under price the lightest portion
 * is always as good; else the best x comes from a falling queue.
 */
static void
fill_low(int64_t *row, const int64_t *from, size_t top,
    const struct cut_dish *d, int64_t pi, size_t *queue)
{
	size_t low = (size_t)d->low_g, target = (size_t)d->target_g;
	size_t head = 0, tail = 0, g, x;
	int64_t under = d->under_price, v;

	if (under == 0) {
		fill_at(row, from, top, low, pi);
		return;
	}
	for (g = 0; g <= top; g++) {
		row[g] = from[g];
		if (g < low)
			continue;
		x = g - low;
		v = row[x] - under * (int64_t)x;
		while (tail > head &&
		    row[queue[tail - 1]] - under * (int64_t)queue[tail - 1] <=
			v)
			tail--;
		queue[tail++] = x;
		while (queue[head] + target < g)
			head++;
		x = queue[head];
		v = row[x] + pi - under * (int64_t)(target + x - g);
		if (v > row[g])
			row[g] = v;
	}
}

/* cut_tables_fill - at these prices. */
void
cut_tables_fill(struct cut_work *w, const struct cut_prices *pr)
{
	const struct cut_dish *d;
	struct cut_table *t;
	size_t *queue, top, row, from;
	int i, j;

	queue = xcalloc(CUT_PIECE_MAX_G + 1, sizeof(queue[0]));
	for (i = 0; i < w->tables; i++) {
		t = &w->table[i];
		top = (size_t)t->top;
		from = (size_t)t->count * t->line;
		memset(t->at + from, 0, (top + 1) * sizeof(t->at[0]));
		memset(t->low + from, 0, (top + 1) * sizeof(t->low[0]));
		for (j = t->count - 1; j >= 0; j--) {
			d = &w->p->dishes[t->dish[j]];
			row = (size_t)j * t->line;
			from = (size_t)(j + 1) * t->line;
			fill_at(t->at + row, t->at + from, top,
			    (size_t)d->target_g,
			    pr->pi[t->dish[j]] -
				pr->mu[t->species] * d->target_g);
			fill_low(t->low + row, t->low + from, top, d,
			    pr->pi[t->dish[j]], queue);
		}
		w->work += (int64_t)top * (2 * t->count + 1) / 16;
	}
	free(queue);
}

/* --- patterns --------------------------------------------------------------*/

bool
cut_thick_ok(const struct cut_work *w, const struct cut_table *t,
    const struct cut_pat *pat, grams thick_g)
{
	const struct cut_dish *d;
	grams sum = 0;
	int i;

	for (i = 0; t->thick && i < t->count; i++) {
		d = &w->p->dishes[t->dish[i]];
		if (d->thick)
			sum += d->low_g * pat->n[t->dish[i]];
	}
	return sum <= thick_g;
}

/*
 * cut_pat_finish - cost and trim of the portions in pat->n, which fit at low
 * weight: what they are short goes to the cheapest under prices.
 */
void
cut_pat_finish(const struct cut_work *w, const struct cut_table *t,
    grams piece_g, struct cut_pat *pat)
{
	const struct cut_dish *d;
	grams spare = piece_g, slack;
	int i;

	pat->cost = 0;
	pat->kept = false;
	for (i = 0; i < t->count; i++)
		spare -= w->p->dishes[t->dish[i]].target_g * pat->n[t->dish[i]];
	pat->trim = spare > 0 ? (int32_t)spare : 0;
	for (i = 0; spare < 0 && i < t->count; i++) {
		d = &w->p->dishes[t->by_under[i]];
		slack = (d->target_g - d->low_g) * pat->n[t->by_under[i]];
		if (slack > -spare)
			slack = -spare;
		pat->cost += d->under_price * slack;
		spare += slack;
	}
}

static void
trace_at(struct cut_pat *pat, const struct cut_work *w,
    const struct cut_table *t, size_t g, const struct cut_prices *pr)
{
	const struct cut_dish *d;
	size_t x;
	int i;

	while (t->at[g] > 0) {
		while (t->at[g - 1] == t->at[g])
			g--;
		for (i = 0; i < t->count; i++) {
			d = &w->p->dishes[t->dish[i]];
			if (d->target_g > (grams)g)
				continue;
			x = g - (size_t)d->target_g;
			if (t->at[x] + pr->pi[t->dish[i]] -
				pr->mu[t->species] * d->target_g ==
			    t->at[g])
				break;
		}
		if (i == t->count) /* as in trace_low() */
			return;
		pat->n[t->dish[i]]++;
		g -= (size_t)w->p->dishes[t->dish[i]].target_g;
	}
}

/* The weight left after one portion of dish i that explains low[g]; or g. */
static size_t
step_low(struct cut_work *w, const struct cut_table *t, int i, size_t g,
    const struct cut_prices *pr)
{
	const struct cut_dish *d = &w->p->dishes[t->dish[i]];
	grams portion = d->target_g < (grams)g ? d->target_g : (grams)g;

	/* Nothing is lost by the lowest where a gram under target is free. */
	if (d->under_price == 0 && portion > d->low_g)
		portion = d->low_g;
	w->work += (portion - d->low_g) / 256;
	for (; portion >= d->low_g; portion--) {
		if (t->low[g - (size_t)portion] + pr->pi[t->dish[i]] -
			d->under_price * (d->target_g - portion) ==
		    t->low[g])
			return g - (size_t)portion;
	}
	return g;
}

static void
trace_low(struct cut_pat *pat, struct cut_work *w, const struct cut_table *t,
    size_t g, const struct cut_prices *pr)
{
	size_t next;
	int i;

	while (t->low[g] > 0) {
		while (t->low[g - 1] == t->low[g])
			g--;
		next = g;
		for (i = 0; i < t->count && next == g; i++)
			next = step_low(w, t, i, g, pr);
		/* A table of other prices has no way back: the pattern so
		 * far is worth less than the limit, which stays one. */
		if (next == g)
			return;
		pat->n[t->dish[i - 1]]++;
		g = next;
	}
}

/* The best pattern that keeps to the thick part, depth first. */
struct thick_walk {
	struct cut_work *w;
	const struct cut_table *t;
	const struct cut_prices *pr;
	grams piece_g, thick_g;
	struct cut_pat now, best;
	int64_t value;
	int steps;
};

static void
thick_walk(struct thick_walk *k, int i, grams at, grams low, grams thick)
{
	const struct cut_dish *d;
	int64_t v = 0, top;
	int j;

	k->steps++;
	cut_pat_finish(k->w, k->t, k->piece_g, &k->now);
	for (j = 0; j < i; j++)
		v += k->pr->pi[k->t->dish[j]] * k->now.n[k->t->dish[j]];
	top = v + k->t->low[(size_t)i * k->t->line + (size_t)low];
	if (at >= 0 &&
	    v + k->t->at[(size_t)i * k->t->line + (size_t)at] +
		    k->pr->mu[k->t->species] * at >
		top)
		top = v + k->t->at[(size_t)i * k->t->line + (size_t)at] +
		    k->pr->mu[k->t->species] * at;
	v += k->pr->mu[k->t->species] * k->now.trim - k->now.cost;
	if (v > k->value) {
		k->value = v;
		k->best = k->now;
	}
	if (i == k->t->count || top <= k->value || k->steps > THICK_STEPS)
		return;
	d = &k->w->p->dishes[k->t->dish[i]];
	for (j = 0; low >= 0 && thick >= 0; j++) {
		k->now.n[k->t->dish[i]] = (uint16_t)j;
		thick_walk(k, i + 1, at, low, thick);
		at -= d->target_g;
		low -= d->low_g;
		if (d->thick)
			thick -= d->low_g;
	}
	k->now.n[k->t->dish[i]] = 0;
}

/* A limit without tables: every gram in the dish that pays best. */
static int64_t
piece_limit(const struct cut_work *w, const struct cut_way *way,
    const struct cut_prices *pr, int species)
{
	int64_t best = 0, v;
	size_t i;

	for (i = 0; i < w->p->dish_count; i++) {
		if ((way->dishes >> i & 1) == 0)
			continue;
		v = pr->pi[i] * div_up(way->piece_g, w->p->dishes[i].low_g);
		if (v > best)
			best = v;
	}
	best += pr->mu[species] * way->piece_g;
	return best > way->keep ? best : way->keep;
}

static void
piece_trace(struct cut_pat *pat, int64_t *value, struct cut_work *w,
    const struct cut_table *t, const struct cut_way *way,
    const struct cut_prices *pr)
{
	struct thick_walk k;
	size_t g = (size_t)way->piece_g;

	if (t->at[g] + pr->mu[t->species] * way->piece_g >= t->low[g])
		trace_at(pat, w, t, g, pr);
	else
		trace_low(pat, w, t, g, pr);
	w->work += way->piece_g / 64;
	if (!cut_thick_ok(w, t, pat, way->thick_g)) {
		memset(&k, 0, sizeof(k));
		k.w = w;
		k.t = t;
		k.pr = pr;
		k.piece_g = way->piece_g;
		k.thick_g = way->thick_g;
		k.value = -1;
		thick_walk(&k, 0, way->piece_g, way->piece_g, way->thick_g);
		*pat = k.best;
		if (k.steps <= THICK_STEPS)
			*value = k.value;
		w->work += k.steps;
	}
	cut_pat_finish(w, t, way->piece_g, pat);
}

/* cut_piece_dish - may this piece be a portion of this dish, as it is? */
bool
cut_piece_dish(const struct cut_work *w, const struct cut_table *t,
    const struct cut_way *way, size_t dish)
{
	const struct cut_dish *d = &w->p->dishes[dish];

	return (t->as_is >> dish & 1) != 0 && d->low_g <= way->piece_g &&
	    way->piece_g <= d->high_g &&
	    (!d->thick || d->low_g <= way->thick_g);
}

/*
 * cut_piece_best - most that one piece is worth, and, unless NULL, a pattern.
 * The value is a limit no pattern passes; the pattern is worth just that, but
 * for a thick part too hard to fill well.
 */
int64_t
cut_piece_best(struct cut_pat *pat, struct cut_work *w, int table,
    const struct cut_way *way, const struct cut_prices *pr)
{
	const struct cut_table *t = &w->table[table];
	struct cut_pat own;
	size_t g = (size_t)way->piece_g, i;
	int64_t value, under;

	memset(&own, 0, sizeof(own));
	value = t->at[g] + pr->mu[t->species] * way->piece_g;
	if (t->low[g] > value)
		value = t->low[g];
	if (pat != NULL || (t->thick && way->thick_g < way->piece_g)) {
		pat = pat == NULL ? &own : pat;
		memset(pat, 0, sizeof(*pat));
		piece_trace(pat, &value, w, t, way, pr);
	}
	pat = pat == NULL ? &own : pat;
	for (i = 0; t->as_is >> i != 0; i++) {
		under = cut_as_is(&w->p->dishes[i], way->piece_g);
		if (pr->pi[i] - under <= value || !cut_piece_dish(w, t, way, i))
			continue;
		memset(pat, 0, sizeof(*pat));
		pat->n[i] = 1;
		pat->cost = under;
		value = pr->pi[i] - under;
	}
	if (way->keep > value) {
		memset(pat, 0, sizeof(*pat));
		pat->kept = true;
		pat->cost = -way->keep;
		value = way->keep;
	}
	return value;
}

/*
 * cut_fish_open - the cheapest way to serve or open a fish at these prices, and
 * what it costs there; CUT_NEVER when it has none.  The pick is left alone when
 * NULL.  As cut_piece_best(), the value is a limit.
 */
int64_t
cut_fish_open(struct cut_pick *pick, struct cut_work *w, size_t fish,
    const struct cut_prices *pr)
{
	const struct cut_fish *f = &w->p->fish[fish];
	const struct cut_way *way;
	struct cut_pick now = { .mode = MODE_CLOSED };
	struct cut_pat pat;
	int64_t best = CUT_NEVER, v;
	size_t d;
	int i, j;

	for (d = 0; w->whole[fish] != 0 && d < w->p->dish_count; d++) {
		v = f->cost + cut_as_is(&w->p->dishes[d], f->whole_g) -
		    pr->pi[d];
		if ((w->whole[fish] >> d & 1) == 0 || v >= best)
			continue;
		best = v;
		now.mode = MODE_WHOLE;
		now.dish = (int)d;
	}
	for (i = 0; w->opens[fish] && i < f->way_count; i++) {
		way = &f->ways[i];
		memset(&pat, 0, sizeof(pat));
		if (w->fish_table[fish][i] < 0) {
			pat.trim = (int32_t)way->piece_g;
			v = piece_limit(w, way, pr, f->species);
		} else
			v = cut_piece_best(pick == NULL ? NULL : &pat, w,
			    w->fish_table[fish][i], way, pr);
		v = f->cost - pr->mu[f->species] * way->byproduct_g -
		    v * way->pieces;
		if (v >= best)
			continue;
		best = v;
		now.mode = MODE_CUT;
		now.way = i;
		for (j = 0; pick != NULL && j < way->pieces; j++)
			now.pat[j] = pat;
	}
	if (pick != NULL)
		*pick = now;
	return best;
}

/* cut_fish_best - the same, or to leave it closed where it may be. */
int64_t
cut_fish_best(struct cut_pick *pick, struct cut_work *w, size_t fish,
    const struct cut_prices *pr)
{
	int64_t open = cut_fish_open(pick, w, fish, pr);

	if (!w->closed[fish] || open < 0)
		return open;
	if (pick != NULL)
		memset(pick, 0, sizeof(*pick));
	return 0;
}

/* cut_base - what L starts with: all that `need` says, at these prices. */
int64_t
cut_base(const struct cut_work *w, const struct cut_prices *pr,
    const struct cut_need *need)
{
	int64_t sum = 0;
	size_t i;

	for (i = 0; i < w->p->dish_count; i++)
		sum += pr->pi[i] * need->q[i];
	for (i = 0; i < w->p->pool_count; i++)
		sum += pr->nu[i] * need->t[i];
	return sum;
}
