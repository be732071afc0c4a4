/* cut_pattern.c - every way to cut one piece. */
#include "cut_pattern.h"

#include "base/mem.h"
#include "cut_judge.h"

/* Every pattern from dish `d` on, `left` grams still free at low weights. */
static void
enumerate(struct pattern_list *out, const struct cut_problem *p,
    const struct cut_fish *f, int way, size_t d, struct pattern *now,
    grams left, grams thick_left)
{
	const struct cut_way *w = &f->ways[way];
	const struct cut_dish *dish = &p->dishes[d];
	grams targets = 0;
	size_t i;

	if (d == p->dish_count) {
		now->cost = judge_pattern(NULL, p, w->piece_g, now->n);
		for (i = 0; i < p->dish_count; i++)
			targets += now->n[i] * p->dishes[i].target_g;
		now->trim = w->piece_g > targets ? w->piece_g - targets : 0;
		out->items = grow(
		    out->items, &out->cap, out->count, sizeof(*out->items));
		out->items[out->count++] = *now;
		return;
	}
	enumerate(out, p, f, way, d + 1, now, left, thick_left);
	if (dish->serve != SERVE_CUT || !judge_may(p, f, way, d))
		return;
	for (now->n[d] = 1; now->n[d] <= dish->wanted; now->n[d]++) {
		left -= dish->low_g;
		thick_left -= dish->thick ? dish->low_g : 0;
		if (left < 0 || thick_left < 0)
			break;
		enumerate(out, p, f, way, d + 1, now, left, thick_left);
	}
	now->n[d] = 0;
}

void
pattern_list(struct pattern_list *out, const struct cut_problem *p,
    const struct cut_fish *f, int way)
{
	const struct cut_way *w = &f->ways[way];
	struct pattern now = { .cost = 0 };
	size_t d;

	enumerate(out, p, f, way, 0, &now, w->piece_g, w->thick_g);
	for (d = 0; d < p->dish_count; d++) {
		if (p->dishes[d].serve != SERVE_PIECE ||
		    !judge_may(p, f, way, d) ||
		    (p->dishes[d].thick && p->dishes[d].low_g > w->thick_g))
			continue;
		now = (struct pattern){ .cost = 0 };
		now.n[d] = 1;
		now.cost = judge_pattern(NULL, p, w->piece_g, now.n);
		if (now.cost < 0)
			continue;
		out->items = grow(
		    out->items, &out->cap, out->count, sizeof(*out->items));
		out->items[out->count++] = now;
	}
}

static bool
beats(const struct pattern *a, const struct pattern *b, size_t dishes)
{
	size_t d;

	for (d = 0; d < dishes; d++)
		if (a->n[d] < b->n[d])
			return false;
	return a->trim >= b->trim && a->cost <= b->cost;
}

void
pattern_best(struct pattern_list *l, const struct cut_problem *p)
{
	size_t i, k, n = 0;

	for (i = 0; i < l->count; i++) {
		for (k = 0; k < l->count; k++)
			if (k != i &&
			    beats(&l->items[k], &l->items[i], p->dish_count) &&
			    (k < i ||
				!beats(
				    &l->items[i], &l->items[k], p->dish_count)))
				break;
		/* Beaten ones stay where they are: what beats them is kept. */
		l->items[i].trim = k == l->count ? l->items[i].trim : -1;
	}
	for (i = 0; i < l->count; i++)
		if (l->items[i].trim >= 0)
			l->items[n++] = l->items[i];
	l->count = n;
}
