/* cut_head.c - first fish, largest portion that fits. */
#include "core/cut_head.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"

struct cook {
	const struct cut_problem *p;
	int64_t left[CUT_DISHES_MAX]; /* portions still wanted */
};

static bool
may_take(const struct cook *k, size_t d, const struct cut_fish *f)
{
	return k->left[d] > 0 &&
	    (k->p->dishes[d].species >> f->species & 1) != 0;
}

/* Served whole: the dish of the heaviest target that the fish fits, or -1. */
static int
whole_dish(const struct cook *k, const struct cut_fish *f)
{
	const struct cut_dish *d;
	int best = -1;
	size_t i;

	for (i = 0; i < k->p->dish_count; i++) {
		d = &k->p->dishes[i];
		if (d->serve == SERVE_WHOLE && may_take(k, i, f) &&
		    f->whole_g >= d->low_g && f->whole_g <= d->high_g &&
		    (best < 0 || d->target_g > k->p->dishes[best].target_g))
			best = (int)i;
	}
	return best;
}

/*
 * The largest portion still wanted out of what is left of a piece: at target,
 * or when none fits so, at its low weight.
 */
static int
next_dish(const struct cook *k, const struct cut_fish *f,
    const struct cut_way *w, grams room, grams thick, bool first)
{
	const struct cut_dish *d;
	int at_target = -1, at_low = -1;
	size_t i;

	for (i = 0; i < k->p->dish_count; i++) {
		d = &k->p->dishes[i];
		if ((w->dishes >> i & 1) == 0 || !may_take(k, i, f))
			continue;
		if (d->serve == SERVE_PIECE) {
			if (first && room >= d->low_g && room <= d->high_g &&
			    (at_target < 0 ||
				d->target_g > k->p->dishes[at_target].target_g))
				at_target = (int)i;
			continue;
		}
		if (d->serve == SERVE_WHOLE || (d->thick && thick < d->low_g))
			continue;
		if (room >= d->target_g &&
		    (at_target < 0 ||
			d->target_g > k->p->dishes[at_target].target_g))
			at_target = (int)i;
		if (room >= d->low_g &&
		    (at_low < 0 || d->low_g > k->p->dishes[at_low].low_g))
			at_low = (int)i;
	}
	return at_target >= 0 ? at_target : at_low;
}

static void
fill_piece(struct cook *k, struct cut_piece *out, const struct cut_fish *f,
    const struct cut_way *w)
{
	grams room = w->piece_g, thick = w->thick_g, g;
	const struct cut_dish *d;
	size_t cap = 0;
	int dish;

	while ((dish = next_dish(k, f, w, room, thick, out->cut_count == 0)) >=
	    0) {
		d = &k->p->dishes[dish];
		g = d->serve == SERVE_PIECE || room < d->target_g ? room
								  : d->target_g;
		out->cuts =
		    grow(out->cuts, &cap, out->cut_count, sizeof(*out->cuts));
		out->cuts[out->cut_count].dish = dish;
		out->cuts[out->cut_count++].portion_g = g;
		k->left[dish]--;
		room -= g;
		if (d->thick)
			thick -= d->low_g;
		if (d->serve == SERVE_PIECE)
			break;
	}
	out->trim_g = room;
}

/* Fill a fish the first way something is wanted from; false: nothing is. */
static bool
fill_fish(struct cook *k, struct cut_choice *out, const struct cut_fish *f)
{
	const struct cut_way *w;
	bool any = false;
	int way, i;

	for (way = 0; way < f->way_count && !any; way++) {
		w = &f->ways[way];
		any = next_dish(k, f, w, w->piece_g, w->thick_g, true) >= 0 ||
		    (f->pin == PIN_OPEN && way + 1 == f->way_count);
		if (!any)
			continue;
		out->mode = MODE_CUT;
		out->way = way;
		out->pieces = xcalloc(CUT_PIECES_MAX, sizeof(*out->pieces));
		for (i = 0; i < w->pieces; i++)
			fill_piece(k, &out->pieces[i], f, w);
	}
	return any;
}

enum rc
cut_by_head(struct cut_plan *out, const struct cut_problem *p, struct err *err)
{
	struct cook k = { .p = p };
	const struct cut_fish *f;
	size_t i;
	int dish;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = cut_problem_check(p, err)) != RC_OK)
		return rc;
	for (i = 0; i < p->dish_count; i++)
		k.left[i] = p->dishes[i].wanted;
	out->fish = xcalloc(p->fish_count, sizeof(*out->fish));
	out->fish_count = p->fish_count;
	for (i = 0; i < p->fish_count; i++) {
		f = &p->fish[i];
		out->fish[i].mode = MODE_CLOSED;
		if (f->pin == PIN_CLOSED)
			continue;
		if ((dish = whole_dish(&k, f)) >= 0) {
			out->fish[i].mode = MODE_WHOLE;
			out->fish[i].dish = dish;
			k.left[dish]--;
		} else if (f->pin != PIN_WHOLE)
			fill_fish(&k, &out->fish[i], f);
	}
	if ((rc = cut_check(out, p, err)) != RC_OK)
		cut_plan_fini(out);
	return rc;
}
