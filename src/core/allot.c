/*
 * allot.c - prepared portions to services and dishes, as one flow.
 *
 * source -> tray -> want -> sink.  The flow is the greatest, so most portions
 * are served.  Portions that can be served together form a matroid on the side
 * of the wants and on that of the trays, so on each the best set depends on
 * the order alone and places stand in for values and dates; and any best set
 * of trays goes with any best set of wants (Mendelsohn and Dulmage 1958
 * [memory]), so that the two sides never trade against each other.
 */
#include "core/allot.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "core/flow.h"

struct order {
	size_t *rank; /* 0 first; equal keys share a rank */
	size_t count; /* different ranks */
};

struct work {
	const struct allot_problem *p;
	size_t trays, wants;
	struct order value; /* of wants: the dearest first */
	struct order end;   /* of wants: the earliest service first */
	struct order date;  /* of trays: the earliest use-by first */
	int64_t *share;     /* [tray * wants + want], units */
	int64_t *idle;      /* units of a tray nobody takes */
};

/* --- ranges ----------------------------------------------------------------*/

static enum rc
check_tray(const struct allot_tray *t, size_t number, struct err *err)
{
	if (t->units >= 0 && t->units <= COUNT_MAX)
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "tray %zu: %lld portions are not in 0..%d", number,
	    (long long)t->units, COUNT_MAX);
}

static enum rc
check_want(const struct allot_want *w, size_t number, struct err *err)
{
	if (w->units < 0 || w->units > COUNT_MAX)
		return err_set(err, RC_INVALID, 0,
		    "want %zu: %lld portions are not in 0..%d", number,
		    (long long)w->units, COUNT_MAX);
	if (w->value < 0 || w->value > ALLOT_VALUE_MAX)
		return err_set(err, RC_INVALID, 0,
		    "want %zu: value %lld is not in 0..%lld", number,
		    (long long)w->value, (long long)ALLOT_VALUE_MAX);
	if (w->end_utc < 1)
		return err_set(err, RC_INVALID, 0,
		    "want %zu: the end of its service is not known", number);
	return RC_OK;
}

static enum rc
check_problem(const struct allot_problem *p, struct err *err)
{
	size_t i;
	enum rc rc;

	if (p->tray_count > ALLOT_TRAYS_MAX || p->want_count > ALLOT_WANTS_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%zu trays for %zu wants, at most %d and %d; plan fewer "
		    "services at once",
		    p->tray_count, p->want_count, ALLOT_TRAYS_MAX,
		    ALLOT_WANTS_MAX);
	for (i = 0; i < p->tray_count; i++)
		if ((rc = check_tray(&p->trays[i], i + 1, err)) != RC_OK)
			return rc;
	for (i = 0; i < p->want_count; i++)
		if ((rc = check_want(&p->wants[i], i + 1, err)) != RC_OK)
			return rc;
	return RC_OK;
}

/* --- ranks -----------------------------------------------------------------*/

static int
compare_keys(const void *a, const void *b)
{
	const int64_t *x = a;
	const int64_t *y = b;

	return (*x > *y) - (*x < *y);
}

static void
order_init(struct order *o, const int64_t *keys, size_t n)
{
	int64_t *sorted = xcalloc(n + 1, sizeof(*sorted));
	size_t i, k = 0;

	if (n > 0)
		memcpy(sorted, keys, n * sizeof(*sorted));
	qsort(sorted, n, sizeof(*sorted), compare_keys);
	for (i = 0; i < n; i++)
		if (k == 0 || sorted[i] != sorted[k - 1])
			sorted[k++] = sorted[i];
	o->count = k;
	o->rank = xcalloc(n + 1, sizeof(*o->rank));
	for (i = 0; i < n; i++)
		o->rank[i] = (size_t)((int64_t *)bsearch(&keys[i], sorted, k,
					  sizeof(*sorted), compare_keys) -
		    sorted);
	free(sorted);
}

static void
work_init(struct work *w, const struct allot_problem *p)
{
	size_t most = p->tray_count + p->want_count + 1, i;
	int64_t *keys = xcalloc(most, sizeof(*keys));

	memset(w, 0, sizeof(*w));
	w->p = p;
	w->trays = p->tray_count;
	w->wants = p->want_count;
	for (i = 0; i < w->wants; i++)
		keys[i] = -p->wants[i].value;
	order_init(&w->value, keys, w->wants);
	for (i = 0; i < w->wants; i++)
		keys[i] = p->wants[i].end_utc;
	order_init(&w->end, keys, w->wants);
	for (i = 0; i < w->trays; i++)
		keys[i] = p->trays[i].use_by_utc;
	order_init(&w->date, keys, w->trays);
	w->share = xcalloc(w->trays * w->wants + 1, sizeof(*w->share));
	w->idle = xcalloc(w->trays + 1, sizeof(*w->idle));
	free(keys);
}

static void
work_fini(struct work *w)
{
	free(w->value.rank);
	free(w->end.rank);
	free(w->date.rank);
	free(w->share);
	free(w->idle);
}

/* --- the flow --------------------------------------------------------------*/

static bool
may_serve(const struct work *w, size_t tray, size_t want)
{
	return w->p->fits[tray * w->wants + want] &&
	    w->p->trays[tray].units > 0 && w->p->wants[want].units > 0 &&
	    w->p->trays[tray].use_by_utc >= w->p->wants[want].end_utc;
}

/* Place of a want: the dearest, then the earlier service, then the index. */
static size_t
want_place(const struct work *w, size_t want)
{
	const size_t *value = w->value.rank, *end = w->end.rank;
	size_t i, place = 0;

	for (i = 0; i < w->wants; i++)
		if (value[i] != value[want])
			place += value[i] < value[want];
		else if (end[i] != end[want])
			place += end[i] < end[want];
		else
			place += i < want;
	return place;
}

/* Place of a tray: the oldest, then the index. */
static size_t
tray_place(const struct work *w, size_t tray)
{
	const size_t *date = w->date.rank;
	size_t i, place = 0;

	for (i = 0; i < w->trays; i++)
		place +=
		    date[i] != date[tray] ? date[i] < date[tray] : i < tray;
	return place;
}

static void
add_arc(struct flow_net *net, size_t tail, size_t head, int64_t capacity,
    int64_t cost)
{
	net->arcs[net->arc_count++] =
	    (struct flow_arc){ tail, head, capacity, cost, 0 };
}

/*
 * Node 0 is the source, 1 the sink, then trays, then wants.  The older tray to
 * the earlier service gives way to all else: a cycle of the network passes at
 * most min(trays, wants) arcs between them each way, so one place weighs more
 * than those can change together.  At the largest size an arc is 10^10.
 */
static void
build_net(struct flow_net *net, const struct work *w)
{
	const int64_t all = (int64_t)(w->date.count * w->end.count);
	const int64_t narrow =
	    (int64_t)(w->trays < w->wants ? w->trays : w->wants);
	const int64_t place = narrow * all + 1;
	const size_t want0 = 2 + w->trays;
	size_t t, d;

	for (t = 0; t < w->trays; t++)
		add_arc(net, 0, 2 + t, w->p->trays[t].units,
		    place * (int64_t)tray_place(w, t));
	for (d = 0; d < w->wants; d++)
		add_arc(net, want0 + d, 1, w->p->wants[d].units,
		    place * (int64_t)want_place(w, d));
	for (t = 0; t < w->trays; t++)
		for (d = 0; d < w->wants; d++)
			if (may_serve(w, t, d))
				add_arc(net, 2 + t, want0 + d, COUNT_MAX,
				    all -
					(int64_t)(w->date.rank[t] *
					    w->end.rank[d]));
}

static enum rc
share_out(struct work *w, struct err *err)
{
	struct flow_net net = { 2 + w->trays + w->wants, 0, 1, NULL, 0 };
	const struct flow_arc *a;
	int64_t sent;
	size_t i, t;
	enum rc rc;

	net.arcs = xcalloc(
	    w->trays + w->wants + w->trays * w->wants + 1, sizeof(*net.arcs));
	build_net(&net, w);
	if ((rc = flow_solve(&sent, &net, err)) != RC_OK)
		goto done;
	for (t = 0; t < w->trays; t++)
		w->idle[t] = w->p->trays[t].units - net.arcs[t].flow;
	for (i = w->trays + w->wants; i < net.arc_count; i++) {
		a = &net.arcs[i];
		t = a->tail - 2;
		w->share[t * w->wants + (a->head - 2 - w->trays)] = a->flow;
	}
done:
	free(net.arcs);
	return rc;
}

/* --- fewest trays per dish -------------------------------------------------*/

struct tidy {
	struct work *w;
	size_t *dish; /* of a want: the first want of the same dish */
	size_t *uses; /* [tray * wants + dish]: wants served */
	size_t pairs; /* (tray, dish) in use; what is brought down */
};

static void
move(struct tidy *y, size_t tray, size_t want, int64_t units)
{
	int64_t *share = &y->w->share[tray * y->w->wants + want];
	size_t *uses = &y->uses[tray * y->w->wants + y->dish[want]];
	const bool before = *share > 0;

	*share += units;
	if (!before && *share > 0 && (*uses)++ == 0)
		y->pairs++;
	if (before && *share == 0 && --(*uses) == 0)
		y->pairs--;
}

/* Tray a serves want q and tray b want p, instead of the other way round. */
static void
cross(struct tidy *y, const struct allot_share *a, const struct allot_share *b,
    int64_t units)
{
	move(y, a->tray, a->want, -units);
	move(y, b->tray, b->want, -units);
	move(y, a->tray, b->want, units);
	move(y, b->tray, a->want, units);
}

static bool
try_swap(
    struct tidy *y, const struct allot_share *a, const struct allot_share *b)
{
	const struct work *w = y->w;
	const int64_t x = w->share[a->tray * w->wants + a->want];
	const int64_t z = w->share[b->tray * w->wants + b->want];
	const int64_t units = x < z ? x : z;
	const size_t before = y->pairs;

	if (units == 0 || a->tray == b->tray ||
	    (w->date.rank[a->tray] != w->date.rank[b->tray] &&
		w->end.rank[a->want] != w->end.rank[b->want]) ||
	    !may_serve(w, a->tray, b->want) || !may_serve(w, b->tray, a->want))
		return false;
	cross(y, a, b, units);
	if (y->pairs < before)
		return true;
	cross(y, a, b, -units);
	return false;
}

/* Units of a tray from the idle ones of another of the same use-by. */
static bool
try_idle(struct tidy *y, const struct allot_share *a, size_t tray)
{
	struct work *w = y->w;
	const int64_t x = w->share[a->tray * w->wants + a->want];
	const int64_t units = x < w->idle[tray] ? x : w->idle[tray];
	const size_t before = y->pairs;

	if (units == 0 || a->tray == tray ||
	    w->date.rank[a->tray] != w->date.rank[tray] ||
	    !may_serve(w, tray, a->want))
		return false;
	move(y, a->tray, a->want, -units);
	move(y, tray, a->want, units);
	if (y->pairs < before) {
		w->idle[a->tray] += units;
		w->idle[tray] -= units;
		return true;
	}
	move(y, tray, a->want, -units);
	move(y, a->tray, a->want, units);
	return false;
}

/* All shares above 0, by tray, then want; the caller frees. */
static size_t
list_shares(struct allot_share **out, const struct work *w)
{
	struct allot_share *s = NULL;
	size_t n = 0, cap = 0, i;

	for (i = 0; i < w->trays * w->wants; i++) {
		if (w->share[i] == 0)
			continue;
		s = grow(s, &cap, n, sizeof(*s));
		s[n++] = (struct allot_share){ i / w->wants, i % w->wants,
			w->share[i] };
	}
	*out = s;
	return n;
}

static bool
tidy_once(struct tidy *y)
{
	struct allot_share *s;
	size_t n = list_shares(&s, y->w), i, j;
	bool better = false;

	for (i = 0; i < n; i++) {
		for (j = i + 1; j < n; j++)
			better = try_swap(y, &s[i], &s[j]) || better;
		for (j = 0; j < y->w->trays; j++)
			better = try_idle(y, &s[i], j) || better;
	}
	free(s);
	return better;
}

/* Ends: every pass that goes on has brought the number of pairs down. */
static void
tidy(struct work *w)
{
	struct tidy y = { w, NULL, NULL, 0 };
	size_t i, j;

	y.dish = xcalloc(w->wants + 1, sizeof(*y.dish));
	y.uses = xcalloc(w->trays * w->wants + 1, sizeof(*y.uses));
	for (i = 0; i < w->wants; i++) {
		for (j = 0; w->p->wants[j].dish != w->p->wants[i].dish; j++)
			;
		y.dish[i] = j;
	}
	for (i = 0; i < w->trays * w->wants; i++)
		if (w->share[i] > 0 &&
		    y.uses[i - i % w->wants + y.dish[i % w->wants]]++ == 0)
			y.pairs++;
	while (tidy_once(&y))
		;
	free(y.dish);
	free(y.uses);
}

enum rc
allot_solve(struct allot *out, const struct allot_problem *p, struct err *err)
{
	struct work w;
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = check_problem(p, err)) != RC_OK)
		return rc;
	if (p->tray_count == 0 || p->want_count == 0)
		return RC_OK;
	work_init(&w, p);
	if ((rc = share_out(&w, err)) != RC_OK)
		goto done;
	tidy(&w);
	out->count = list_shares(&out->items, &w);
	for (i = 0; i < out->count; i++) {
		out->served += out->items[i].units;
		out->value +=
		    out->items[i].units * p->wants[out->items[i].want].value;
	}
done:
	work_fini(&w);
	return rc;
}

void
allot_fini(struct allot *a)
{
	free(a->items);
	memset(a, 0, sizeof(*a));
}
