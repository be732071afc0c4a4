/*
 * Better plans near a good one: free a few fish, leave the others, and solve
 * for these by a narrow programme.
 *
 * Fish of one species in turn, then of all together: only so can one species
 * take over portions of a dish that several make.  Those that waste most at
 * the prices are freed more often.
 */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cut_search.h"

#define FREE_MAX 10
#define FREE_MIN 6
#define TRIES 2 /* the worst of so many is freed */
#define WIDTH 100
#define OUTCOMES 400
#define TURN_WORK 2000 /* of one try, whatever comes of it */
#define MIXED 3        /* times all together, for each time round the species */

struct near {
	struct cut_work *w;
	struct cut_pick *picks; /* as the best plan */
	int64_t made[CUT_DISHES_MAX];
	const struct cut_outcomes **lists; /* of all parts, one after another */
	bool *freed;                       /* of lists[] */
	size_t first[CUT_SPECIES_MAX + 1]; /* of a part, in lists[] */
	uint32_t dishes;                   /* any fish can make */
};

static void
count_fish(struct near *k, size_t fish, int sign)
{
	struct cut_sum sum;
	size_t d;

	cut_effect(&sum, k->w, fish, &k->picks[fish]);
	for (d = 0; d < k->w->p->dish_count; d++)
		k->made[d] += sign * sum.n[d];
}

/* Slack the present pick of the fish has; what it makes is added to made. */
static int64_t
fish_slack(const struct near *k, const struct cut_outcomes *list, int64_t *made)
{
	const struct cut_prices *pr = &k->w->prices;
	struct cut_sum sum;
	int64_t slack;
	size_t d;

	cut_effect(&sum, k->w, list->fish, &k->picks[list->fish]);
	slack = sum.cost - list->least -
	    pr->mu[k->w->p->fish[list->fish].species] * sum.trim;
	for (d = 0; d < k->w->p->dish_count; d++) {
		slack -= pr->pi[d] * sum.n[d];
		made[d] += sum.n[d];
	}
	return slack;
}

/* Some of lists[first] and so many, in their order; of TRIES the worst. */
static size_t
choose(
    struct near *k, size_t first, size_t count, const struct cut_outcomes **out)
{
	int64_t made[CUT_DISHES_MAX] = { 0 }, slack, most;
	size_t want, n, i, at, tries;

	want = FREE_MIN + (size_t)cut_random(k->w, FREE_MAX - FREE_MIN + 1);
	if (want > count)
		want = count;
	for (n = 0; n < want; n++) {
		most = INT64_MIN;
		at = first;
		for (tries = TRIES; tries > 0 || k->freed[at];) {
			i = first + (size_t)cut_random(k->w, count);
			tries -= tries > 0;
			if (k->freed[i])
				continue;
			slack = fish_slack(k, k->lists[i], made);
			if (slack <= most)
				continue;
			most = slack;
			at = i;
		}
		k->freed[at] = true;
	}
	for (n = 0, i = first; i < first + count; i++) {
		if (k->freed[i])
			out[n++] = k->lists[i];
		k->freed[i] = false;
	}
	return n;
}

/* Slack the present picks of these fish have, short portions included. */
static int64_t
present(struct near *k, const struct cut_outcomes *const *lists, size_t n,
    const struct cut_need *need)
{
	const struct cut_prices *pr = &k->w->prices;
	int64_t slack = 0, made[CUT_DISHES_MAX] = { 0 };
	size_t i, d;

	for (i = 0; i < n; i++)
		slack += fish_slack(k, lists[i], made);
	for (d = 0; d < k->w->p->dish_count; d++) {
		if (made[d] > need->q[d])
			slack += pr->pi[d] * (made[d] - need->q[d]);
		else
			slack += (k->w->price_max[d] - pr->pi[d]) *
			    (need->q[d] - made[d]);
	}
	return slack;
}

static void
improve(struct near *k, size_t first, size_t count)
{
	const struct cut_outcomes *lists[FREE_MAX];
	struct cut_need need;
	struct cut_dp dp;
	size_t i, d, n;

	n = choose(k, first, count, lists);
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
	dp.own = k->dishes;
	dp.species = k->w->p->fish[lists[0]->fish].species;
	dp.width = WIDTH;
	dp.most = OUTCOMES;
	dp.limit = present(k, lists, n, &need) - 1;
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

static void
near_make(
    struct near *k, struct cut_work *w, const struct cut_part *parts, int count)
{
	size_t i, n = 0;
	int s;

	memset(k, 0, sizeof(*k));
	k->w = w;
	k->picks = xcalloc(w->p->fish_count + 1, sizeof(k->picks[0]));
	k->lists = xcalloc(w->p->fish_count + 1, sizeof(k->lists[0]));
	k->freed = xcalloc(w->p->fish_count + 1, sizeof(k->freed[0]));
	for (i = 0; i < w->p->fish_count; i++) {
		k->picks[i] = w->best[i];
		count_fish(k, i, 1);
	}
	for (s = 0; s < count; s++) {
		for (i = 0; i < parts[s].count; i++)
			if (parts[s].order[i]->count > 0)
				k->lists[n++] = parts[s].order[i];
		k->first[s + 1] = n;
		k->dishes |= parts[s].dishes;
	}
}

/* cut_near - the parts in turn and all together, for so much work. */
void
cut_near(
    struct cut_work *w, const struct cut_part *parts, int count, int64_t work)
{
	struct near k;
	int64_t end = w->work + work;
	int turns = count > 1 ? count + MIXED : count, i;

	near_make(&k, w, parts, count);
	for (i = 0; w->work < end && !w->capped; i = (i + 1) % turns) {
		if (w->cost - w->bound < w->p->within)
			break;
		if (i < count)
			improve(&k, k.first[i], k.first[i + 1] - k.first[i]);
		else
			improve(&k, 0, k.first[count]);
		w->work += TURN_WORK;
	}
	free(k.picks);
	free(k.lists);
	free(k.freed);
}
