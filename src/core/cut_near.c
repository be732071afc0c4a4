/*
 * Better plans near a good one: free a few fish of one species, leave the
 * others, and solve for these exactly.
 */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cut_search.h"

#define FREE_MAX 10
#define FREE_MIN 6
#define WIDTH 1500

struct near {
	struct cut_work *w;
	struct cut_pick *picks; /* as the best plan */
	int64_t made[CUT_DISHES_MAX];
	grams trim[CUT_SPECIES_MAX];
};

static void
count_fish(struct near *k, size_t fish, int sign)
{
	struct cut_sum sum;
	size_t d;

	cut_effect(&sum, k->w, fish, &k->picks[fish]);
	k->trim[k->w->p->fish[fish].species] += sign * sum.trim;
	for (d = 0; d < k->w->p->dish_count; d++)
		k->made[d] += sign * sum.n[d];
}

/* Some fish of the part, with their lists, in order. */
static size_t
choose(struct near *k, const struct cut_part *part,
    const struct cut_outcomes **lists)
{
	size_t want, n = 0, i, left;

	want = FREE_MIN + (size_t)cut_random(k->w, FREE_MAX - FREE_MIN + 1);
	left = part->count;
	for (i = 0; i < part->count && n < want; i++, left--) {
		if (cut_random(k->w, left) >= want - n)
			continue;
		if (part->order[i]->count > 0)
			lists[n++] = part->order[i];
	}
	return n;
}

/* Slack the present picks of these fish have, short portions included. */
static int64_t
present(struct near *k, const struct cut_outcomes *const *lists, size_t n,
    const struct cut_need *need, int species)
{
	const struct cut_prices *pr = &k->w->prices;
	int64_t slack = 0, made[CUT_DISHES_MAX] = { 0 };
	struct cut_sum sum;
	size_t i, d;

	for (i = 0; i < n; i++) {
		cut_effect(
		    &sum, k->w, lists[i]->fish, &k->picks[lists[i]->fish]);
		slack +=
		    sum.cost - pr->mu[species] * sum.trim - lists[i]->least;
		for (d = 0; d < k->w->p->dish_count; d++)
			made[d] += sum.n[d];
	}
	for (d = 0; d < k->w->p->dish_count; d++) {
		slack -= pr->pi[d] * made[d];
		if (made[d] > need->q[d])
			slack += pr->pi[d] * (made[d] - need->q[d]);
		else
			slack += (k->w->price_max[d] - pr->pi[d]) *
			    (need->q[d] - made[d]);
	}
	return slack;
}

static void
improve(struct near *k, const struct cut_part *part)
{
	const struct cut_outcomes *lists[FREE_MAX];
	struct cut_need need;
	struct cut_dp dp;
	size_t i, d, n;

	n = choose(k, part, lists);
	if (n == 0)
		return;
	for (i = 0; i < n; i++)
		count_fish(k, lists[i]->fish, -1);
	need = k->w->all;
	for (d = 0; d < k->w->p->dish_count; d++)
		need.q[d] = k->made[d] < need.q[d] ? need.q[d] - k->made[d] : 0;
	memset(&dp, 0, sizeof(dp));
	dp.pr = &k->w->prices;
	dp.lists = lists;
	dp.count = n;
	dp.need = &need;
	dp.own = part->dishes;
	dp.species = part->species;
	dp.width = WIDTH;
	dp.limit = present(k, lists, n, &need, part->species) - 1;
	if (dp.limit >= 0 && cut_dp_run(&dp, k->w) && dp.value < CUT_NEVER) {
		cut_dp_picks(k->picks, &dp, dp.best);
		if (!cut_offer(k->w, k->picks))
			for (i = 0; i < n; i++)
				k->picks[lists[i]->fish] =
				    k->w->best[lists[i]->fish];
	}
	for (i = 0; i < n; i++)
		count_fish(k, lists[i]->fish, 1);
	cut_dp_fini(&dp, k->w);
}

/* cut_near - the parts in turn, a fixed number of times. */
void
cut_near(struct cut_work *w, struct cut_part *parts, int count, int rounds)
{
	struct near k;
	size_t i;
	int round;

	memset(&k, 0, sizeof(k));
	k.w = w;
	k.picks = xcalloc(w->p->fish_count + 1, sizeof(k.picks[0]));
	for (i = 0; i < w->p->fish_count; i++) {
		k.picks[i] = w->best[i];
		count_fish(&k, i, 1);
	}
	for (round = 0; round < rounds && !w->capped; round++) {
		if (w->cost - w->bound < w->p->within)
			break;
		improve(&k, &parts[round % count]);
	}
	free(k.picks);
}
