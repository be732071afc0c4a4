/*
 * What the species have in common: trim, and dishes that several can make.
 *
 * Each part runs again with these counted instead of only priced, inside the
 * gap that is left; then the parts are merged one after another, and only at
 * the end do trim and shared dishes cost what they really do.
 */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cut_search.h"

#define NONE UINT32_MAX
#define HEADS 65536

/* Species that feed the same pools: their trim is one heap. */
struct heap {
	uint32_t pools;
	int64_t mu, dearest;
	grams top;
	int species; /* one of them */
};

struct sum {
	uint16_t n[CUT_DISHES_MAX];
	int32_t trim[CUT_SPECIES_MAX];
	int64_t slack;
	uint32_t step; /* in the record */
	uint32_t next;
	bool dead;
};

struct step {
	uint32_t before, final;
};

struct link {
	struct cut_work *w;
	struct cut_part *parts;
	int count;
	uint32_t shared;
	int64_t limit;
	struct cut_dp dp[CUT_SPECIES_MAX];
	int order[CUT_SPECIES_MAX]; /* fewest finals first */
	struct heap heap[CUT_SPECIES_MAX];
	int heaps, heap_of[CUT_SPECIES_MAX]; /* of a part; -1: none */
	struct sum *now, *then;
	size_t now_count, then_count, cap;
	uint32_t *head;
	struct step *steps;
	size_t step_count, step_cap;
	int64_t lost;
};

static void
heaps_make(struct link *k)
{
	struct heap *h;
	uint32_t pools;
	int s, i;

	for (s = 0; s < k->count; s++) {
		pools = k->w->pools[k->parts[s].species];
		k->heap_of[s] = -1;
		if (pools == 0)
			continue;
		for (i = 0; i < k->heaps && k->heap[i].pools != pools; i++)
			continue;
		k->heap_of[s] = i;
		if (i < k->heaps)
			continue;
		h = &k->heap[k->heaps++];
		h->pools = pools;
		h->species = k->parts[s].species;
		h->mu = k->w->prices.mu[h->species];
		h->dearest = k->w->trim_max[h->species];
		h->top = k->w->trim_top[h->species];
	}
}

/* Slack of the parts not merged yet, at least. */
static int64_t
others(const struct link *k, int but)
{
	int64_t sum = 0;
	int s;

	for (s = 0; s < k->count; s++)
		if (s != but)
			sum += k->parts[s].least;
	return sum;
}

static int
final_order(const void *a, const void *b)
{
	const struct cut_final *x = a, *y = b;

	if (x->slack != y->slack)
		return x->slack < y->slack ? -1 : 1;
	return x->trace < y->trace ? -1 : x->trace > y->trace;
}

static bool
part_run(struct link *k, int s, size_t width)
{
	struct cut_dp *dp = &k->dp[s];
	struct cut_part *part = &k->parts[s];
	int64_t least;

	memset(dp, 0, sizeof(*dp));
	dp->pr = &k->w->prices;
	dp->lists = part->order;
	dp->count = part->count;
	dp->need = &k->w->all;
	dp->own = part->dishes & ~k->shared;
	dp->link = part->dishes & k->shared;
	dp->species = part->species;
	dp->trim = k->heap_of[s] >= 0;
	dp->finals_wanted = true;
	dp->limit = k->limit - others(k, s);
	dp->width = width;
	if (!part->whole || !cut_dp_run(dp, k->w))
		return false;
	qsort(dp->finals, dp->final_count, sizeof(dp->finals[0]), final_order);
	least = dp->lost < dp->value ? dp->lost : dp->value;
	if (least > dp->limit)
		least = dp->limit + 1;
	if (least > part->least)
		part->least = least;
	if (dp->lost <= dp->limit && dp->lost + others(k, s) < k->lost)
		k->lost = dp->lost + others(k, s);
	return true;
}

static size_t
hash(const struct link *k, const struct sum *a)
{
	uint64_t h = 1469598103934665603u;
	size_t d;

	for (d = 0; d < k->w->p->dish_count; d++)
		if ((k->shared >> d & 1) != 0)
			h = (h ^ a->n[d]) * 1099511628211u;
	return (size_t)(h ^ h >> 29) & (HEADS - 1);
}

static bool
beats(const struct link *k, const struct sum *a, const struct sum *b)
{
	int64_t cost = a->slack, more;
	int i;

	for (i = 0; i < k->heaps; i++) {
		more = a->trim[i] - b->trim[i];
		cost += k->heap[i].mu * more;
		if (more < 0)
			cost -= more * k->heap[i].dearest;
	}
	return cost <= b->slack;
}

static bool
insert(struct link *k, const struct sum *new)
{
	size_t h = hash(k, new);
	struct sum *s;
	uint32_t i;

	for (i = k->head[h]; i != NONE; i = s->next) {
		s = &k->then[i];
		if (s->dead || memcmp(s->n, new->n, sizeof(s->n)) != 0)
			continue;
		if (beats(k, s, new))
			return true;
		if (beats(k, new, s))
			s->dead = true;
	}
	if (k->then_count == k->cap)
		return false;
	s = &k->then[k->then_count];
	*s = *new;
	s->next = k->head[h];
	k->head[h] = (uint32_t)k->then_count++;
	return true;
}

/* One merged sum with one final of a part. */
static void
add(struct sum *out, const struct link *k, int s, const struct sum *a,
    const struct cut_final *f)
{
	int64_t made, q;
	grams trim;
	size_t d;
	int i = k->heap_of[s];

	*out = *a;
	out->slack += f->slack;
	for (d = 0; k->shared != 0 && d < k->w->p->dish_count; d++) {
		if ((k->shared >> d & 1) == 0)
			continue;
		made = a->n[d] + f->n[d];
		q = k->w->all.q[d];
		if (made > q) {
			out->slack += k->w->prices.pi[d] * (made - q);
			made = q;
		}
		out->n[d] = (uint16_t)made;
	}
	if (i < 0)
		return;
	trim = (grams)a->trim[i] + f->trim;
	if (trim > k->heap[i].top) {
		out->slack += k->heap[i].mu * (trim - k->heap[i].top);
		trim = k->heap[i].top;
	}
	out->trim[i] = (int32_t)trim;
}

static bool
merge(struct link *k, int s, int64_t rest)
{
	const struct cut_dp *dp = &k->dp[s];
	struct sum new;
	struct step *st;
	size_t i, j;

	memset(k->head, 0xff, HEADS * sizeof(k->head[0]));
	k->then_count = 0;
	for (i = 0; i < k->now_count; i++)
		for (j = 0; j < dp->final_count; j++) {
			k->w->work++;
			if (k->now[i].slack + dp->finals[j].slack + rest >
			    k->limit)
				break;
			add(&new, k, s, &k->now[i], &dp->finals[j]);
			new.dead = false;
			if (new.slack + rest > k->limit)
				continue;
			if (k->w->work > k->w->work_max ||
			    k->step_count == k->step_cap)
				return false;
			st = &k->steps[k->step_count];
			st->before = k->now[i].step;
			st->final = (uint32_t)j;
			new.step = (uint32_t)k->step_count++;
			if (!insert(k, &new))
				return false;
			/* Its place is free again when it was not kept. */
			if (k->then_count == 0 ||
			    k->then[k->then_count - 1].step != new.step)
				k->step_count--;
		}
	k->now_count = 0;
	for (i = 0; i < k->then_count; i++)
		if (!k->then[i].dead)
			k->now[k->now_count++] = k->then[i];
	return true;
}

/* What trim and shared dishes cost above their prices. */
static int64_t
settle(const struct link *k, const struct sum *a)
{
	const struct cut_prices *pr = &k->w->prices;
	grams trim[CUT_SPECIES_MAX] = { 0 };
	int64_t slack = a->slack;
	size_t d;
	int i;

	for (d = 0; d < k->w->p->dish_count; d++)
		if ((k->shared >> d & 1) != 0)
			slack += (k->w->price_max[d] - pr->pi[d]) *
			    (k->w->all.q[d] - a->n[d]);
	for (d = 0; d < k->w->p->pool_count; d++)
		slack -= pr->nu[d] * k->w->all.t[d];
	for (i = 0; i < k->heaps; i++) {
		trim[k->heap[i].species] = a->trim[i];
		slack += k->heap[i].mu * a->trim[i];
	}
	return slack + cut_pool_cost(k->w->p, trim);
}

static void
plan_out(struct link *k, const struct sum *best)
{
	struct cut_pick *picks;
	uint32_t at = best->step;
	int i;

	picks = xcalloc(k->w->p->fish_count + 1, sizeof(picks[0]));
	memcpy(picks, k->w->best, k->w->p->fish_count * sizeof(picks[0]));
	for (i = k->count - 1; i >= 0; i--) {
		const struct cut_dp *dp = &k->dp[k->order[i]];

		cut_dp_picks(picks, dp, dp->finals[k->steps[at].final].trace);
		at = k->steps[at].before;
	}
	cut_offer(k->w, picks);
	free(picks);
}

static bool
merge_all(struct link *k)
{
	const struct sum *best = NULL;
	int64_t rest = others(k, -1), slack, least = k->limit + 1;
	size_t i;
	int s;

	memset(&k->now[0], 0, sizeof(k->now[0]));
	k->now[0].step = NONE;
	k->now_count = 1;
	for (s = 0; s < k->count; s++) {
		rest -= k->parts[k->order[s]].least;
		if (!merge(k, k->order[s], rest))
			return false;
	}
	for (i = 0; i < k->now_count; i++) {
		slack = settle(k, &k->now[i]);
		if (slack >= least)
			continue;
		least = slack;
		best = &k->now[i];
	}
	if (best != NULL)
		plan_out(k, best);
	if (least < k->lost)
		k->lost = least;
	return true;
}

static void
order_make(struct link *k)
{
	int s, j;

	for (s = 0; s < k->count; s++) {
		for (j = s; j > 0 &&
		     k->dp[k->order[j - 1]].final_count > k->dp[s].final_count;
		     j--)
			k->order[j] = k->order[j - 1];
		k->order[j] = s;
	}
}

/*
 * cut_link - a bound that counts what the parts share, and the best plan inside
 * the gap.  `width` is of the programmes and of the merge.  What it cannot
 * finish leaves the bound as it was.
 */
int64_t
cut_link(struct cut_work *w, struct cut_part *parts, int count, uint32_t shared,
    int64_t base, size_t width)
{
	struct link *k = xcalloc(1, sizeof(*k));
	bool ok = true;
	int64_t bound;
	int s;

	k->w = w;
	k->parts = parts;
	k->count = count;
	k->shared = shared;
	k->limit = w->cost - w->p->within - base;
	k->lost = k->limit + 1;
	k->cap = width * 2;
	k->step_cap = width * 8;
	heaps_make(k);
	for (s = 0; s < count && ok; s++)
		ok = part_run(k, s, width);
	k->now = cut_hold(w, k->cap, sizeof(k->now[0]));
	k->then = cut_hold(w, k->cap, sizeof(k->then[0]));
	k->head = cut_hold(w, HEADS, sizeof(k->head[0]));
	k->steps = cut_hold(w, k->step_cap, sizeof(k->steps[0]));
	ok = ok && k->now != NULL && k->then != NULL && k->head != NULL &&
	    k->steps != NULL;
	order_make(k);
	bound = base + others(k, -1);
	if (ok && merge_all(k) && base + k->lost > bound)
		bound = base + k->lost;
	cut_drop(w, k->now, k->cap, sizeof(k->now[0]));
	cut_drop(w, k->then, k->cap, sizeof(k->then[0]));
	cut_drop(w, k->head, HEADS, sizeof(k->head[0]));
	cut_drop(w, k->steps, k->step_cap, sizeof(k->steps[0]));
	for (s = 0; s < count; s++)
		cut_dp_fini(&k->dp[s], w);
	free(k);
	return bound;
}
