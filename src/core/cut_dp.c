/*
 * The exact part: one species, fish by fish.
 *
 * A label is dropped when no completion can be within the limit, when another
 * made the same for less, or when another made one portion more for no more.
 * When a stage has more labels than its width the dearest go, and the least
 * bound among them stays a proved bound of what was not looked at.
 */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cut_search.h"

#define NONE UINT32_MAX

struct label {
	uint64_t key[2];
	int64_t slack;
	int64_t bound; /* slack, and what must stay short */
	int32_t trim;  /* counted only when asked */
	uint32_t before, outcome;
	uint32_t next; /* of the same hash; NONE ends */
	bool dead;
};

struct rank {
	int64_t bound;
	uint32_t label;
};

struct field {
	int dish, word, shift;
	uint64_t mask;
	int64_t q, pi;
	int64_t dear; /* short cost beyond pi; 0 for a link dish */
	int64_t rest; /* portions the later fish can make at most */
};

struct run {
	struct cut_work *w;
	struct cut_dp *dp;
	int fields;
	struct field field[CUT_DISHES_MAX];
	int64_t mu, trim_max, trim_top;
	struct label *now, *then;
	size_t now_count, then_count, cap;
	uint32_t *head;
	size_t heads;
	struct rank *rank;
};

/* --- keys ------------------------------------------------------------------*/

static bool
fields_make(struct run *r)
{
	const struct cut_dp *dp = r->dp;
	struct field *f;
	int bits, word = 0, used = 0;
	size_t d;

	for (d = 0; d < r->w->p->dish_count; d++) {
		if (((dp->own | dp->link) >> d & 1) == 0 ||
		    r->w->price_max[d] == 0)
			continue;
		f = &r->field[r->fields++];
		f->dish = (int)d;
		f->q = dp->need->q[d];
		f->pi = dp->pr->pi[d];
		if ((dp->own >> d & 1) != 0)
			f->dear = r->w->price_max[d] - f->pi;
		for (bits = 0; f->q >> bits != 0; bits++)
			continue;
		if (used + bits > 64) {
			word++;
			used = 0;
		}
		if (word > 1)
			return false;
		f->word = word;
		f->shift = used;
		f->mask = ((uint64_t)1 << bits) - 1;
		/* A field of no bits must not shift by 64. */
		if (bits == 0)
			f->shift = 0;
		used += bits;
	}
	return true;
}

static void
key_read(const struct run *r, const struct label *l, int64_t *n)
{
	int i;

	for (i = 0; i < r->fields; i++)
		n[i] = (int64_t)(l->key[r->field[i].word] >> r->field[i].shift &
		    r->field[i].mask);
}

static size_t
key_hash(const struct run *r, const uint64_t *key)
{
	uint64_t h = key[0] * 0x9e3779b97f4a7c15u ^
	    (key[1] + 0x7f4a7c15u) * 0xc2b2ae3d27d4eb4fu;

	return (size_t)((h ^ h >> 31) & (r->heads - 1));
}

/* Equal portions but for those worth `more` that a has not: is a as good? */
static bool
beats(const struct run *r, const struct label *a, const struct label *b,
    int64_t more)
{
	int64_t extra = a->trim - b->trim;

	return a->slack + more + r->mu * extra +
	    (extra < 0 ? -extra * r->trim_max : 0) <=
	    b->slack;
}

/* How many of the list's outcomes count. */
static size_t
outcomes(const struct cut_dp *dp, const struct cut_outcomes *l)
{
	return dp->most > 0 && dp->most < l->count ? dp->most : l->count;
}

/* --- a stage ---------------------------------------------------------------*/

static int
rank_order(const void *a, const void *b)
{
	const struct rank *x = a, *y = b;

	if (x->bound != y->bound)
		return x->bound < y->bound ? -1 : 1;
	return x->label < y->label ? -1 : x->label > y->label;
}

static void
heads_clear(struct run *r)
{
	size_t i;

	if (r->then_count * 4 > r->heads) {
		memset(r->head, 0xff, r->heads * sizeof(r->head[0]));
		return;
	}
	for (i = 0; i < r->then_count; i++)
		r->head[key_hash(r, r->then[i].key)] = NONE;
}

/* At most `width` labels of the next stage stay, in their order. */
static void
thin(struct run *r, size_t width)
{
	size_t i, n = 0, out;
	int64_t last;

	for (i = 0; i < r->then_count; i++)
		if (!r->then[i].dead) {
			r->rank[n].bound = r->then[i].bound;
			r->rank[n++].label = (uint32_t)i;
		}
	if (n <= width)
		return;
	qsort(r->rank, n, sizeof(r->rank[0]), rank_order);
	last = r->rank[width].bound;
	if (last < r->dp->lost)
		r->dp->lost = last;
	for (i = width; i < n; i++)
		r->then[r->rank[i].label].dead = true;
	heads_clear(r);
	for (i = 0, out = 0; i < r->then_count; i++) {
		if (r->then[i].dead)
			continue;
		r->then[out] = r->then[i];
		n = key_hash(r, r->then[out].key);
		r->then[out].next = r->head[n];
		r->head[n] = (uint32_t)out++;
	}
	r->then_count = out;
}

static void
insert(struct run *r, const struct label *new)
{
	size_t h = key_hash(r, new->key);
	struct label *l;
	bool placed = false;
	uint32_t i;

	for (i = r->head[h]; i != NONE; i = l->next) {
		l = &r->then[i];
		if (l->dead || l->key[0] != new->key[0] ||
		    l->key[1] != new->key[1])
			continue;
		if (!placed && beats(r, l, new, 0))
			return;
		if (!beats(r, new, l, 0))
			continue;
		if (placed) {
			l->dead = true;
			continue;
		}
		i = l->next;
		*l = *new;
		l->next = i;
		l->dead = false;
		placed = true;
	}
	if (placed)
		return;
	if (r->then_count == r->cap) {
		thin(r, r->dp->width);
		if (r->then_count == r->cap)
			return;
	}
	l = &r->then[r->then_count];
	*l = *new;
	l->dead = false;
	l->next = r->head[h];
	r->head[h] = (uint32_t)r->then_count++;
}

static void
extend(struct run *r, const struct label *from, const int64_t *n,
    const struct cut_outcome *o, uint32_t outcome)
{
	const struct field *f;
	struct label new;
	int64_t made, miss;
	int i;

	memset(&new, 0, sizeof(new));
	new.slack = from->slack + o->slack;
	new.before = from->before;
	new.outcome = outcome;
	new.bound = 0;
	for (i = 0; i < r->fields; i++) {
		f = &r->field[i];
		made = n[i] + o->n[f->dish];
		if (made > f->q) {
			new.slack += f->pi *(made - f->q);
			made = f->q;
		}
		miss = f->q - made - f->rest;
		if (miss > 0)
			new.bound += f->dear *miss;
		new.key[f->word] |= (uint64_t)made << f->shift;
	}
	if (r->dp->trim) {
		new.trim = from->trim + o->trim;
		if (new.trim > r->trim_top) {
			new.slack += r->mu *(new.trim - r->trim_top);
			new.trim = (int32_t)r->trim_top;
		}
	}
	new.bound += new.slack;
	if (new.bound <= r->dp->limit)
		insert(r, &new);
}

/* One portion more of one dish for no more: the label with less goes. */
static void
neighbours(struct run *r)
{
	int64_t n[CUT_DISHES_MAX];
	uint64_t key[2];
	const struct field *f;
	struct label *l, *m;
	size_t i;
	uint32_t j;
	int k;

	for (i = 0; i < r->then_count; i++) {
		l = &r->then[i];
		if (l->dead)
			continue;
		key_read(r, l, n);
		for (k = 0; k < r->fields && !l->dead; k++) {
			f = &r->field[k];
			if (n[k] == f->q)
				continue;
			key[0] = l->key[0];
			key[1] = l->key[1];
			key[f->word] += (uint64_t)1 << f->shift;
			j = r->head[key_hash(r, key)];
			for (; j != NONE && !l->dead; j = m->next) {
				m = &r->then[j];
				if (m->key[0] == key[0] &&
				    m->key[1] == key[1] && !m->dead &&
				    beats(r, m, l, f->pi))
					l->dead = true;
			}
		}
	}
}

static bool
trace_room(struct run *r, size_t more)
{
	struct cut_dp *dp = r->dp;
	size_t cap = dp->trace_cap;

	while (cap < dp->trace_count + more)
		cap = cap == 0 ? 1024 : cap * 2;
	if (cap == dp->trace_cap)
		return true;
	if (cap > UINT32_MAX / 2 ||
	    !cut_want(r->w, (cap - dp->trace_cap) * sizeof(dp->trace[0])))
		return false;
	r->w->held += (cap - dp->trace_cap) * sizeof(dp->trace[0]);
	dp->trace = xrealloc(dp->trace, cap, sizeof(dp->trace[0]));
	dp->trace_cap = cap;
	return true;
}

/* The next stage becomes the present one. */
static bool
turn(struct run *r)
{
	struct cut_dp *dp = r->dp;
	struct label *t;
	size_t i;

	neighbours(r);
	thin(r, dp->width);
	if (!trace_room(r, r->then_count))
		return false;
	heads_clear(r);
	r->now_count = 0;
	for (i = 0; i < r->then_count; i++) {
		t = &r->then[i];
		if (t->dead)
			continue;
		dp->trace[dp->trace_count].before = t->before;
		dp->trace[dp->trace_count].outcome = t->outcome;
		t->before = (uint32_t)dp->trace_count++;
		r->then[r->now_count++] = *t;
	}
	t = r->now;
	r->now = r->then;
	r->then = t;
	r->then_count = 0;
	return true;
}

static bool
stage(struct run *r, const struct cut_outcomes *l)
{
	int64_t n[CUT_DISHES_MAX];
	size_t i, j, count = outcomes(r->dp, l);

	if (l->window + 1 < r->dp->lost)
		r->dp->lost = l->window + 1;
	for (i = 0; i < r->now_count; i++) {
		key_read(r, &r->now[i], n);
		for (j = 0; j < count; j++) {
			if (r->now[i].slack + l->items[j].slack > r->dp->limit)
				break;
			extend(r, &r->now[i], n, &l->items[j], (uint32_t)j);
		}
		/* Wide programmes leave the cache. */
		r->w->work += (int64_t)j * (r->dp->width > 50000 ? 3 : 1);
		if (r->w->work > r->w->work_max) {
			r->w->capped = true;
			return false;
		}
	}
	return turn(r);
}

/* --- the whole -------------------------------------------------------------*/

static bool
run_hold(struct run *r)
{
	size_t width = r->dp->width;

	r->cap = width * 4 + 64;
	for (r->heads = 256; r->heads < r->cap; r->heads *= 2)
		continue;
	r->now = cut_hold(r->w, r->cap, sizeof(r->now[0]));
	r->then = cut_hold(r->w, r->cap, sizeof(r->then[0]));
	r->rank = cut_hold(r->w, r->cap, sizeof(r->rank[0]));
	r->head = cut_hold(r->w, r->heads, sizeof(r->head[0]));
	if (r->now == NULL || r->then == NULL || r->rank == NULL ||
	    r->head == NULL)
		return false;
	memset(r->head, 0xff, r->heads * sizeof(r->head[0]));
	return true;
}

static void
run_drop(struct run *r)
{
	cut_drop(r->w, r->now, r->cap, sizeof(r->now[0]));
	cut_drop(r->w, r->then, r->cap, sizeof(r->then[0]));
	cut_drop(r->w, r->rank, r->cap, sizeof(r->rank[0]));
	cut_drop(r->w, r->head, r->heads, sizeof(r->head[0]));
}

/* What fish i can make at most of each dish is no longer to come. */
static void
rest_less(struct run *r, const struct cut_outcomes *l, int sign)
{
	uint16_t most;
	size_t j;
	int i;

	for (i = 0; i < r->fields; i++) {
		most = 0;
		for (j = 0; j < outcomes(r->dp, l); j++)
			if (l->items[j].n[r->field[i].dish] > most)
				most = l->items[j].n[r->field[i].dish];
		r->field[i].rest += sign * most;
	}
}

static bool
finals_make(struct run *r)
{
	struct cut_dp *dp = r->dp;
	int64_t n[CUT_DISHES_MAX];
	struct cut_final *f;
	size_t i;
	int k;

	dp->finals = cut_hold(r->w, r->now_count + 1, sizeof(*f));
	if (dp->finals == NULL)
		return false;
	dp->final_count = r->now_count;
	for (i = 0; i < r->now_count; i++) {
		f = &dp->finals[i];
		f->trim = r->now[i].trim;
		f->trace = r->now[i].before;
		f->slack = r->now[i].bound;
		key_read(r, &r->now[i], n);
		for (k = 0; k < r->fields; k++)
			if ((dp->link >> r->field[k].dish & 1) != 0)
				f->n[r->field[k].dish] = (uint16_t)n[k];
	}
	return true;
}

static bool
stages(struct run *r)
{
	struct cut_dp *dp = r->dp;
	size_t i;

	for (i = 0; i < dp->count; i++)
		rest_less(r, dp->lists[i], 1);
	r->now[0].before = NONE;
	r->now_count = 1;
	for (i = 0; i < dp->count; i++) {
		rest_less(r, dp->lists[i], -1);
		if (!stage(r, dp->lists[i]))
			return false;
	}
	for (i = 0; i < r->now_count; i++)
		if (r->now[i].bound < dp->value) {
			dp->value = r->now[i].bound;
			dp->best = r->now[i].before;
		}
	return !dp->finals_wanted || finals_make(r);
}

/*
 * cut_dp_run - fill the out part.  False when the key has no room, or memory
 * or work ran out; nothing is then known.
 */
bool
cut_dp_run(struct cut_dp *dp, struct cut_work *w)
{
	struct run r;
	bool ok;

	memset(&r, 0, sizeof(r));
	r.w = w;
	r.dp = dp;
	dp->value = dp->lost = CUT_NEVER;
	dp->best = NONE;
	r.mu = dp->pr->mu[dp->species];
	r.trim_max = w->trim_max[dp->species];
	r.trim_top = w->trim_top[dp->species];
	ok = !(dp->trim && r.trim_top > INT32_MAX / 2) && fields_make(&r) &&
	    run_hold(&r) && stages(&r);
	run_drop(&r);
	return ok;
}

/* cut_dp_picks - the choices along one trace. */
void
cut_dp_picks(struct cut_pick *picks, const struct cut_dp *dp, uint32_t trace)
{
	const struct cut_outcomes *l;
	size_t i;

	for (i = dp->count; i > 0 && trace != NONE; i--) {
		l = dp->lists[i - 1];
		cut_outcome_pick(&picks[l->fish], l, dp->trace[trace].outcome);
		trace = dp->trace[trace].before;
	}
}

void
cut_dp_fini(struct cut_dp *dp, struct cut_work *w)
{
	cut_drop(w, dp->trace, dp->trace_cap, sizeof(dp->trace[0]));
	cut_drop(w, dp->finals, dp->final_count + 1, sizeof(dp->finals[0]));
	dp->trace = NULL;
	dp->finals = NULL;
	dp->trace_count = dp->trace_cap = dp->final_count = 0;
}
