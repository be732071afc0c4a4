/*
 * From patterns to portions to cut: how much each weighs.
 */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cut_work.h"

/*
 * Take `grams_off` off the portions of one under price, or put them on: the
 * same from each as far as its band goes, the odd grams from the first.
 */
static grams
share_out(struct cut_portion *cuts, size_t count, const struct cut_dish *dishes,
    int64_t under, grams total, bool off)
{
	const struct cut_dish *d;
	grams room, part, take;
	size_t i, open;

	do {
		open = 0;
		for (i = 0; i < count; i++) {
			d = &dishes[cuts[i].dish];
			room = off ? cuts[i].portion_g - d->low_g
				   : d->high_g - cuts[i].portion_g;
			open += (!off || d->under_price == under) && room > 0;
		}
		part = open == 0 ? 0 : total / (grams)open;
		for (i = 0; open > 0 && i < count && total > 0; i++) {
			d = &dishes[cuts[i].dish];
			room = off ? cuts[i].portion_g - d->low_g
				   : d->high_g - cuts[i].portion_g;
			if ((off && d->under_price != under) || room == 0)
				continue;
			take = part > 0 ? part : 1;
			if (take > room)
				take = room;
			cuts[i].portion_g += off ? -take : take;
			total -= take;
		}
	} while (open > 0 && total > 0);
	return total;
}

static void
piece_short(struct cut_piece *piece, const struct cut_problem *p, grams total)
{
	int64_t under = -1, next;
	size_t i;

	while (total > 0) {
		next = INT64_MAX;
		for (i = 0; i < piece->cut_count; i++)
			if (p->dishes[piece->cuts[i].dish].under_price >
				under &&
			    p->dishes[piece->cuts[i].dish].under_price < next)
				next =
				    p->dishes[piece->cuts[i].dish].under_price;
		under = next;
		total = share_out(piece->cuts, piece->cut_count, p->dishes,
		    under, total, true);
	}
}

static void
piece_out(struct cut_piece *piece, const struct cut_work *w,
    const struct cut_pat *pat, grams piece_g, bool absorb)
{
	const struct cut_dish *dishes = w->p->dishes;
	grams left = piece_g;
	size_t d, n = 0;
	int i;

	piece->kept = pat->kept;
	if (pat->kept)
		return;
	for (d = 0; d < w->p->dish_count; d++)
		n += pat->n[d];
	piece->cuts = xcalloc(n + 1, sizeof(piece->cuts[0]));
	for (d = 0; d < w->p->dish_count; d++)
		for (i = 0; i < pat->n[d]; i++) {
			piece->cuts[piece->cut_count].dish = (int)d;
			piece->cuts[piece->cut_count].portion_g =
			    dishes[d].serve == SERVE_PIECE ? piece_g
							   : dishes[d].target_g;
			left -= piece->cuts[piece->cut_count++].portion_g;
		}
	if (left < 0)
		piece_short(piece, w->p, -left);
	else if (absorb && n > 0)
		left = share_out(piece->cuts, n, dishes, 0, left, false);
	piece->trim_g = left > 0 ? left : 0;
}

/*
 * cut_output - the plan as portions.  A rest that no trim pool takes goes to
 * the portions, as far as their bands allow.
 */
void
cut_output(
    struct cut_plan *out, const struct cut_work *w, struct cut_pick *picks)
{
	const struct cut_fish *f;
	struct cut_choice *c;
	size_t i;
	int j;

	out->fish_count = w->p->fish_count;
	out->fish = xcalloc(out->fish_count + 1, sizeof(out->fish[0]));
	for (i = 0; i < out->fish_count; i++) {
		f = &w->p->fish[i];
		c = &out->fish[i];
		c->mode = picks[i].mode;
		c->dish = c->mode == MODE_WHOLE ? picks[i].dish : 0;
		if (c->mode != MODE_CUT)
			continue;
		c->way = picks[i].way;
		c->pieces = xcalloc(CUT_PIECES_MAX, sizeof(c->pieces[0]));
		for (j = 0; j < f->ways[c->way].pieces; j++)
			piece_out(&c->pieces[j], w, &picks[i].pat[j],
			    f->ways[c->way].piece_g, w->pools[f->species] == 0);
	}
}
