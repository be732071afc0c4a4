/* cut_judge.c - cost and feasibility of a cut plan, from its portions. */
#include "cut_judge.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/str.h"

void
judge_die(const char *what)
{
	fprintf(stderr, "cut judge: %s\n", what);
	abort();
}

static bool
takes(const struct cut_dish *d, int species)
{
	return (d->species >> species & 1) != 0;
}

static bool
in_band(const struct cut_dish *d, grams g)
{
	return g >= d->low_g && g <= d->high_g;
}

bool
judge_may(
    const struct cut_problem *p, const struct cut_fish *f, int way, size_t d)
{
	return p->dishes[d].serve != SERVE_WHOLE &&
	    takes(&p->dishes[d], f->species) &&
	    (f->ways[way].dishes >> d & 1) != 0;
}

/* --- trim ------------------------------------------------------------------
 */

/*
 * The most trim the pools of `set` can get together: pools on one side,
 * species on the other, so the least cut between them (Ford and Fulkerson
 * 1956), by trying every one.
 */
static grams
most_trim(const struct cut_problem *p, const grams *given, unsigned set)
{
	grams best = INT64_MAX, cut;
	uint32_t species;
	unsigned full;
	size_t k;
	int s;

	for (full = set;; full = (full - 1) & set) {
		cut = 0;
		species = 0;
		for (k = 0; k < p->pool_count; k++)
			if (full >> k & 1)
				cut += p->pools[k].wanted_g;
			else if (set >> k & 1)
				species |= p->pools[k].species;
		for (s = 0; s < CUT_SPECIES_MAX; s++)
			if (species >> s & 1)
				cut += given[s];
		if (cut < best)
			best = cut;
		if (full == 0)
			return best;
	}
}

/*
 * What pools can get together is a polymatroid, on which taking the dearest
 * first is best (Edmonds 1970).
 */
int64_t
judge_trim(const struct cut_problem *p, const grams given[CUT_SPECIES_MAX])
{
	unsigned done = 0;
	grams before = 0, now;
	int64_t cost = 0;
	size_t i, k, dear;

	for (i = 0; i < p->pool_count; i++) {
		dear = CUT_POOLS_MAX;
		for (k = 0; k < p->pool_count; k++)
			if ((done >> k & 1) == 0 &&
			    (dear == CUT_POOLS_MAX ||
				p->pools[k].price > p->pools[dear].price))
				dear = k;
		done |= 1u << dear;
		now = most_trim(p, given, done);
		cost += p->pools[dear].price *
		    (p->pools[dear].wanted_g - (now - before));
		before = now;
	}
	return cost;
}

/* --- a plan ----------------------------------------------------------------
 */

struct judging {
	struct judgement *out;
	const struct cut_problem *p;
	grams trim[CUT_SPECIES_MAX];
	size_t fish; /* the one looked at */
};

static bool
wrong(struct judging *j, const char *what)
{
	str_fmt(j->out->why, JUDGE_TEXT_MAX, "fish %zu: %s", j->fish + 1, what);
	return false;
}

static bool
portion_ok(struct judging *j, const struct cut_choice *c,
    const struct cut_piece *piece, const struct cut_portion *cut)
{
	const struct cut_fish *f = &j->p->fish[j->fish];
	const struct cut_dish *d;

	if (cut->dish < 0 || (size_t)cut->dish >= j->p->dish_count)
		return wrong(j, "a portion of no dish");
	d = &j->p->dishes[cut->dish];
	if (!judge_may(j->p, f, c->way, (size_t)cut->dish))
		return wrong(j, "not for this dish");
	if (!in_band(d, cut->portion_g))
		return wrong(j, "a portion outside its band");
	if (d->serve == SERVE_PIECE &&
	    (piece->cut_count != 1 ||
		cut->portion_g != f->ways[c->way].piece_g))
		return wrong(j, "a piece to be served as it is was cut");
	j->out->made[cut->dish]++;
	if (cut->portion_g < d->target_g)
		j->out->cost += d->under_price * (d->target_g - cut->portion_g);
	return true;
}

static bool
piece_ok(struct judging *j, const struct cut_choice *c,
    const struct cut_piece *piece)
{
	const struct cut_fish *f = &j->p->fish[j->fish];
	const struct cut_way *w = &f->ways[c->way];
	grams used = 0, targets = 0, thick = 0, over;
	const struct cut_dish *d;
	size_t i;

	if (piece->kept) {
		j->out->cost -= w->keep;
		return (piece->cut_count == 0 && piece->trim_g == 0) ||
		    wrong(j, "a piece left whole was cut");
	}
	for (i = 0; i < piece->cut_count; i++) {
		if (!portion_ok(j, c, piece, &piece->cuts[i]))
			return false;
		d = &j->p->dishes[piece->cuts[i].dish];
		used += piece->cuts[i].portion_g;
		targets += d->target_g;
		thick += d->thick ? d->low_g : 0;
	}
	if (piece->trim_g < 0 || used + piece->trim_g != w->piece_g)
		return wrong(j, "portions and trim are not the piece");
	if (thick > w->thick_g)
		return wrong(j, "more from the thick part than there is");
	over = w->piece_g > targets ? w->piece_g - targets : 0;
	j->trim[f->species] += piece->trim_g < over ? piece->trim_g : over;
	return true;
}

int64_t
judge_under(const struct cut_dish *d, grams g)
{
	return g >= d->target_g ? 0 : (d->target_g - g) * d->under_price;
}

static bool
whole_ok(struct judging *j, int dish)
{
	const struct cut_fish *f = &j->p->fish[j->fish];
	const struct cut_dish *d;

	if (dish < 0 || (size_t)dish >= j->p->dish_count)
		return wrong(j, "served whole for no dish");
	d = &j->p->dishes[dish];
	if (d->serve != SERVE_WHOLE || !takes(d, f->species) ||
	    !in_band(d, f->whole_g))
		return wrong(j, "this dish cannot take it whole");
	j->out->made[dish]++;
	j->out->cost += judge_under(d, f->whole_g);
	return true;
}

static bool
any_takes_whole(const struct cut_problem *p, const struct cut_fish *f)
{
	size_t d;

	for (d = 0; d < p->dish_count; d++)
		if (p->dishes[d].serve == SERVE_WHOLE &&
		    takes(&p->dishes[d], f->species) &&
		    in_band(&p->dishes[d], f->whole_g))
			return true;
	return false;
}

static bool
fish_ok(struct judging *j, const struct cut_choice *c)
{
	const struct cut_fish *f = &j->p->fish[j->fish];
	int i;

	if (f->pin == PIN_CLOSED && c->mode != MODE_CLOSED)
		return wrong(j, "was to stay closed");
	if (f->pin == PIN_OPEN && c->mode == MODE_CLOSED)
		return wrong(j, "was to be opened");
	if (f->pin == PIN_WHOLE && c->mode != MODE_WHOLE &&
	    any_takes_whole(j->p, f))
		return wrong(j, "was to be served whole");
	if (c->mode == MODE_CLOSED)
		return true;
	j->out->cost += f->cost;
	if (c->mode == MODE_WHOLE)
		return whole_ok(j, c->dish);
	if (c->way < 0 || c->way >= f->way_count)
		return wrong(j, "opened in no way it has");
	j->trim[f->species] += f->ways[c->way].byproduct_g;
	for (i = 0; i < f->ways[c->way].pieces; i++)
		if (!piece_ok(j, c, &c->pieces[i]))
			return false;
	return true;
}

bool
judge_plan(struct judgement *out, const struct cut_problem *p,
    const struct cut_plan *plan)
{
	struct judging j = { .out = out, .p = p };
	size_t d;

	*out = (struct judgement){ 0 };
	if (plan->fish_count != p->fish_count)
		return wrong(&j, "another number of fish");
	for (; j.fish < p->fish_count; j.fish++)
		if (!fish_ok(&j, &plan->fish[j.fish]))
			return false;
	for (d = 0; d < p->dish_count; d++) {
		if (p->dishes[d].wanted > out->made[d])
			out->short_of[d] = p->dishes[d].wanted - out->made[d];
		out->cost += out->short_of[d] * p->dishes[d].short_cost;
	}
	out->trim_short = judge_trim(p, j.trim);
	out->trim_used = most_trim(p, j.trim, (1u << p->pool_count) - 1);
	out->cost += out->trim_short;
	return true;
}

/* --- patterns --------------------------------------------------------------
 */

/* Take `over` grams off the portions of the dish cheapest to cut small. */
static int64_t
cut_small(grams *off, const struct cut_problem *p, const int n[CUT_DISHES_MAX],
    grams over)
{
	int64_t cost = 0;
	grams room;
	size_t d, cheap;

	while (over > 0) {
		cheap = CUT_DISHES_MAX;
		for (d = 0; d < p->dish_count; d++)
			if (n[d] > 0 && off[d] == 0 &&
			    p->dishes[d].target_g > p->dishes[d].low_g &&
			    (cheap == CUT_DISHES_MAX ||
				p->dishes[d].under_price <
				    p->dishes[cheap].under_price))
				cheap = d;
		if (cheap == CUT_DISHES_MAX)
			return -1;
		room = n[cheap] *
		    (p->dishes[cheap].target_g - p->dishes[cheap].low_g);
		off[cheap] = room < over ? room : over;
		over -= off[cheap];
		cost += off[cheap] * p->dishes[cheap].under_price;
	}
	return cost;
}

int64_t
judge_pattern(struct cut_portion *portions, const struct cut_problem *p,
    grams piece_g, const int n[CUT_DISHES_MAX])
{
	grams off[CUT_DISHES_MAX] = { 0 }, targets = 0;
	const struct cut_dish *d;
	int64_t cost;
	size_t i;
	int k;

	for (i = 0; i < p->dish_count; i++) {
		d = &p->dishes[i];
		targets += n[i] * d->target_g;
		if (n[i] == 0 || d->serve != SERVE_PIECE)
			continue;
		/* Alone on its piece, and as heavy. */
		if (portions != NULL)
			*portions = (struct cut_portion){ (int)i, piece_g };
		return n[i] == 1 && in_band(d, piece_g)
		    ? judge_under(d, piece_g)
		    : -1;
	}
	cost = cut_small(off, p, n, targets - piece_g);
	for (i = 0; portions != NULL && i < p->dish_count; i++)
		for (k = 0; k < n[i]; k++) {
			portions->dish = (int)i;
			portions->portion_g = p->dishes[i].target_g -
			    off[i] / n[i] - (k < off[i] % n[i]);
			portions++;
		}
	return cost;
}
