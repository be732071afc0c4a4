/* cut_cook.c - cutting from the head. */
#include "cut_cook.h"

#include <stdlib.h>

#include "base/mem.h"

struct cook {
	const struct board *b;
	const struct cut_problem *p;
	struct cut_plan *out;
	int64_t left[CUT_DISHES_MAX];  /* portions still wanted */
	size_t fefo[CUT_FISH_MAX];     /* fish, first expired first */
	size_t dishes[CUT_DISHES_MAX]; /* largest target first */
};

static void
order(struct cook *c)
{
	size_t i, k, n = 0;
	int day;

	for (day = 0; day <= 3; day++)
		for (i = 0; i < c->p->fish_count; i++)
			if (c->b->days_left[i] == day)
				c->fefo[n++] = i;
	for (i = 0; i < c->p->dish_count; i++) {
		for (k = i; k > 0 &&
		     c->p->dishes[c->dishes[k - 1]].target_g <
			 c->p->dishes[i].target_g;
		     k--)
			c->dishes[k] = c->dishes[k - 1];
		c->dishes[k] = i;
		c->left[i] = c->p->dishes[i].wanted;
	}
}

static bool
may(const struct cook *c, size_t fish, size_t dish, enum cut_serve serve)
{
	return c->p->dishes[dish].serve == serve && c->left[dish] > 0 &&
	    (c->p->dishes[dish].species >> c->p->fish[fish].species & 1) != 0;
}

/* Whole ones first: no other fish can stand in for them. */
static void
serve_whole(struct cook *c)
{
	const struct cut_dish *d;
	size_t i, k, f;

	for (k = 0; k < c->p->dish_count; k++)
		for (i = 0; i < c->p->fish_count; i++) {
			f = c->fefo[i];
			d = &c->p->dishes[k];
			if (!may(c, f, k, SERVE_WHOLE) ||
			    c->out->fish[f].mode != MODE_CLOSED ||
			    c->p->fish[f].whole_g < d->low_g ||
			    c->p->fish[f].whole_g > d->high_g)
				continue;
			c->out->fish[f].mode = MODE_WHOLE;
			c->out->fish[f].dish = (int)k;
			c->left[k]--;
		}
}

static void
begin(struct cook *c, struct cut_plan *out, const struct board *b)
{
	c->b = b;
	c->p = &b->p;
	c->out = out;
	*out = (struct cut_plan){ .fish_count = b->p.fish_count };
	out->fish = xcalloc(out->fish_count, sizeof(*out->fish));
	order(c);
	serve_whole(c);
}

/* A fish on the board, every piece untouched. */
static void
open_fish(struct cook *c, size_t f)
{
	struct cut_choice *to = &c->out->fish[f];
	int i;

	to->mode = MODE_CUT;
	to->pieces = xcalloc(CUT_PIECES_MAX, sizeof(*to->pieces));
	for (i = 0; i < c->p->fish[f].ways[0].pieces; i++)
		to->pieces[i].kept = true;
}

static void
cut(struct cook *c, size_t f, int piece, size_t dish, grams g)
{
	struct cut_piece *to = &c->out->fish[f].pieces[piece];

	if (to->kept) {
		to->kept = false;
		to->trim_g = c->p->fish[f].ways[0].piece_g;
	}
	to->cuts = xrealloc(to->cuts, to->cut_count + 1, sizeof(*to->cuts));
	to->cuts[to->cut_count++] =
	    (struct cut_portion){ .dish = (int)dish, .portion_g = g };
	to->trim_g -= g;
	c->left[dish]--;
}

/* All of one dish that this fish's untouched pieces give. */
static void
dish_from(struct cook *c, size_t f, size_t dish)
{
	const struct cut_way *w = &c->p->fish[f].ways[0];
	grams target = c->p->dishes[dish].target_g, left;
	int i;

	for (i = 0; i < w->pieces; i++) {
		if (!c->out->fish[f].pieces[i].kept)
			continue;
		for (left = w->piece_g; left >= target && c->left[dish] > 0;
		     left -= target)
			cut(c, f, i, dish, target);
	}
}

void
cook_by_dish(struct cut_plan *out, const struct board *b)
{
	static struct cook c;
	size_t i, k, f, d;

	begin(&c, out, b);
	for (k = 0; k < c.p->dish_count; k++) {
		d = c.dishes[k];
		for (i = 0; i < c.p->fish_count; i++) {
			f = c.fefo[i];
			if (may(&c, f, d, SERVE_CUT) &&
			    out->fish[f].mode == MODE_CUT)
				dish_from(&c, f, d);
		}
		for (i = 0; i < c.p->fish_count; i++) {
			f = c.fefo[i];
			if (!may(&c, f, d, SERVE_CUT) ||
			    out->fish[f].mode != MODE_CLOSED ||
			    c.p->fish[f].ways[0].piece_g <
				c.p->dishes[d].target_g)
				continue;
			open_fish(&c, f);
			dish_from(&c, f, d);
		}
	}
}

/* The largest portion still wanted that `left` grams give, or none. */
static size_t
largest(const struct cook *c, size_t f, grams left, bool at_target)
{
	const struct cut_dish *d;
	size_t k;

	for (k = 0; k < c->p->dish_count; k++) {
		d = &c->p->dishes[c->dishes[k]];
		if (may(c, f, c->dishes[k], SERVE_CUT) &&
		    left >= (at_target ? d->target_g : d->low_g))
			return c->dishes[k];
	}
	return CUT_DISHES_MAX;
}

static void
fill_piece(struct cook *c, size_t f, int piece)
{
	grams left = c->p->fish[f].ways[0].piece_g;
	size_t d;

	while ((d = largest(c, f, left, true)) != CUT_DISHES_MAX) {
		cut(c, f, piece, d, c->p->dishes[d].target_g);
		left -= c->p->dishes[d].target_g;
	}
	if ((d = largest(c, f, left, false)) != CUT_DISHES_MAX)
		cut(c, f, piece, d, left);
}

void
cook_by_fish(struct cut_plan *out, const struct board *b)
{
	static struct cook c;
	size_t i, f;
	int k;

	begin(&c, out, b);
	for (i = 0; i < c.p->fish_count; i++) {
		f = c.fefo[i];
		if (out->fish[f].mode != MODE_CLOSED ||
		    largest(&c, f, c.p->fish[f].ways[0].piece_g, false) ==
			CUT_DISHES_MAX)
			continue;
		open_fish(&c, f);
		for (k = 0; k < c.p->fish[f].ways[0].pieces; k++)
			fill_piece(&c, f, k);
	}
}
