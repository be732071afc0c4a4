/* flow.c - successive shortest paths with potentials. */
#include "core/flow.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"

/*
 * Every arc twice: 2i along it with the room left, 2i + 1 against it with the
 * flow that may be taken back.
 */
struct residual {
	size_t head;
	int64_t room, cost;
};

struct work {
	const struct flow_net *net;
	struct residual *arcs;
	size_t *first; /* of node n: out[first[n]] .. out[first[n + 1] - 1] */
	size_t *out;   /* residual arcs by tail, in the order given */
	int64_t *potential, *distance;
	size_t *via;   /* residual arc by which the node was reached */
	size_t *heap;  /* nodes, nearest first; of equals the lower number */
	size_t *place; /* in the heap, or one of the two below */
	size_t heap_count;
};

#define UNSEEN SIZE_MAX
#define SETTLED (SIZE_MAX - 1)

static enum rc
check_arcs(const struct flow_net *net, struct err *err)
{
	const struct flow_arc *a;
	size_t i;

	for (i = 0; i < net->arc_count; i++) {
		a = &net->arcs[i];
		if (a->tail >= net->node_count || a->head >= net->node_count)
			return err_set(
			    err, RC_INVALID, 0, "arc %zu: no such node", i + 1);
		if (a->capacity < 0 || a->capacity > FLOW_CAPACITY_MAX)
			return err_set(err, RC_INVALID, 0,
			    "arc %zu: capacity %lld is not in 0..%lld", i + 1,
			    (long long)a->capacity,
			    (long long)FLOW_CAPACITY_MAX);
	}
	return RC_OK;
}

/*
 * A path leaves the source once and enters the sink once, so their dear arcs
 * count once each.  Potentials stay within three such paths and every sum below
 * within eight, hence the sixteenth.
 */
#define PATH_COST_MAX (INT64_MAX / 16)

static enum rc
check_costs(const struct flow_net *net, struct err *err)
{
	const int64_t limit = PATH_COST_MAX;
	const struct flow_arc *a;
	int64_t dear[3] = { 0, 0, 0 }; /* at source, at sink, elsewhere */
	int64_t cost;
	size_t i, k;

	for (i = 0; i < net->arc_count; i++) {
		a = &net->arcs[i];
		if (a->cost < -limit || a->cost > limit)
			return err_set(err, RC_INVALID, 0,
			    "arc %zu: cost %lld is too large", i + 1,
			    (long long)a->cost);
		cost = a->cost < 0 ? -a->cost : a->cost;
		k = 2;
		if (a->tail == net->source || a->head == net->source)
			k = 0;
		else if (a->tail == net->sink || a->head == net->sink)
			k = 1;
		if (cost > dear[k])
			dear[k] = cost;
	}
	if (dear[2] > limit / (int64_t)net->node_count ||
	    dear[0] + dear[1] > limit - dear[2] * (int64_t)net->node_count)
		return err_set(err, RC_INVALID, 0,
		    "costs are too large to add up along a path");
	return RC_OK;
}

static enum rc
check_net(const struct flow_net *net, struct err *err)
{
	enum rc rc;

	if (net->node_count > FLOW_NODES_MAX || net->arc_count > FLOW_ARCS_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%zu nodes and %zu arcs, at most %d and %d",
		    net->node_count, net->arc_count, FLOW_NODES_MAX,
		    FLOW_ARCS_MAX);
	if (net->source >= net->node_count || net->sink >= net->node_count ||
	    net->source == net->sink)
		return err_set(err, RC_INVALID, 0,
		    "source and sink are not two nodes of the network");
	if ((rc = check_arcs(net, err)) != RC_OK)
		return rc;
	return check_costs(net, err);
}

static void
work_init(struct work *w, const struct flow_net *net)
{
	size_t n = net->node_count, i, *next;
	const struct flow_arc *a;

	memset(w, 0, sizeof(*w));
	w->net = net;
	w->arcs = xcalloc(2 * net->arc_count + 1, sizeof(*w->arcs));
	w->out = xcalloc(2 * net->arc_count + 1, sizeof(*w->out));
	w->first = xcalloc(n + 1, sizeof(*w->first));
	w->potential = xcalloc(n, sizeof(*w->potential));
	w->distance = xcalloc(n, sizeof(*w->distance));
	w->via = xcalloc(n, sizeof(*w->via));
	w->heap = xcalloc(n, sizeof(*w->heap));
	w->place = xcalloc(n, sizeof(*w->place));
	for (i = 0; i < net->arc_count; i++) {
		a = &net->arcs[i];
		w->arcs[2 * i] =
		    (struct residual){ a->head, a->capacity, a->cost };
		w->arcs[2 * i + 1] = (struct residual){ a->tail, 0, -a->cost };
		w->first[a->tail + 1]++;
		w->first[a->head + 1]++;
	}
	for (i = 0; i < n; i++)
		w->first[i + 1] += w->first[i];
	next = w->via; /* not needed before the first path */
	memcpy(next, w->first, n * sizeof(*next));
	for (i = 0; i < net->arc_count; i++) {
		a = &net->arcs[i];
		w->out[next[a->tail]++] = 2 * i;
		w->out[next[a->head]++] = 2 * i + 1;
	}
}

static void
work_fini(struct work *w)
{
	free(w->arcs);
	free(w->out);
	free(w->first);
	free(w->potential);
	free(w->distance);
	free(w->via);
	free(w->heap);
	free(w->place);
}

/*
 * Potentials under which no arc with room has a negative reduced cost, as if
 * every node could be reached for nothing (Bellman and Ford).  False: a cycle
 * of negative cost, seen either by the number of rounds or by a potential that
 * no path reaches, which passes source and sink at most once each.
 */
static bool
first_potentials(struct work *w)
{
	const struct flow_arc *a;
	size_t round, i;
	int64_t cost;
	bool changed = true;

	for (round = 0; changed && round <= w->net->node_count; round++) {
		changed = false;
		for (i = 0; i < w->net->arc_count; i++) {
			a = &w->net->arcs[i];
			cost = w->potential[a->tail] + a->cost;
			if (a->capacity == 0 || cost >= w->potential[a->head])
				continue;
			if (cost < -2 * PATH_COST_MAX)
				return false;
			w->potential[a->head] = cost;
			changed = true;
		}
	}
	return !changed;
}

static bool
nearer(const struct work *w, size_t a, size_t b)
{
	if (w->distance[a] != w->distance[b])
		return w->distance[a] < w->distance[b];
	return a < b;
}

static void
heap_put(struct work *w, size_t at, size_t node)
{
	w->heap[at] = node;
	w->place[node] = at;
}

static void
heap_up(struct work *w, size_t node)
{
	size_t at = w->place[node];

	while (at > 0 && nearer(w, node, w->heap[(at - 1) / 2])) {
		heap_put(w, at, w->heap[(at - 1) / 2]);
		at = (at - 1) / 2;
	}
	heap_put(w, at, node);
}

static size_t
heap_pop(struct work *w)
{
	size_t top = w->heap[0], node = w->heap[--w->heap_count];
	size_t at = 0, child;

	while ((child = 2 * at + 1) < w->heap_count) {
		if (child + 1 < w->heap_count &&
		    nearer(w, w->heap[child + 1], w->heap[child]))
			child++;
		if (!nearer(w, w->heap[child], node))
			break;
		heap_put(w, at, w->heap[child]);
		at = child;
	}
	heap_put(w, at, node);
	w->place[top] = SETTLED;
	return top;
}

static void
relax(struct work *w, size_t node)
{
	const struct residual *r;
	int64_t d;
	size_t i;

	for (i = w->first[node]; i < w->first[node + 1]; i++) {
		r = &w->arcs[w->out[i]];
		if (r->room == 0 || w->place[r->head] == SETTLED)
			continue;
		d = w->distance[node] + r->cost + w->potential[node] -
		    w->potential[r->head];
		if (w->place[r->head] == UNSEEN)
			w->place[r->head] = w->heap_count++;
		else if (d >= w->distance[r->head])
			continue;
		w->distance[r->head] = d;
		w->via[r->head] = w->out[i];
		heap_up(w, r->head);
	}
}

/*
 * The cheapest way from source to sink by reduced costs (Dijkstra), stopped
 * at the sink: nodes farther than it move by its distance alone, which keeps
 * every reduced cost from turning negative.
 */
static bool
find_path(struct work *w)
{
	const struct flow_net *net = w->net;
	int64_t far;
	size_t node, i;

	for (i = 0; i < net->node_count; i++)
		w->place[i] = UNSEEN;
	w->heap_count = 1;
	heap_put(w, 0, net->source);
	w->distance[net->source] = 0;
	do {
		if (w->heap_count == 0)
			return false;
		node = heap_pop(w);
		if (node != net->sink)
			relax(w, node);
	} while (node != net->sink);
	far = w->distance[net->sink];
	for (i = 0; i < net->node_count; i++)
		w->potential[i] += w->place[i] == UNSEEN || w->distance[i] > far
		    ? far
		    : w->distance[i];
	return true;
}

static int64_t
send_along_path(struct work *w)
{
	const size_t source = w->net->source, sink = w->net->sink;
	int64_t most = INT64_MAX;
	size_t n;

	for (n = sink; n != source; n = w->arcs[w->via[n] ^ 1].head)
		if (w->arcs[w->via[n]].room < most)
			most = w->arcs[w->via[n]].room;
	for (n = sink; n != source; n = w->arcs[w->via[n] ^ 1].head) {
		w->arcs[w->via[n]].room -= most;
		w->arcs[w->via[n] ^ 1].room += most;
	}
	return most;
}

enum rc
flow_solve(int64_t *sent, struct flow_net *net, struct err *err)
{
	struct work w;
	size_t i;
	enum rc rc;

	*sent = 0;
	for (i = 0; i < net->arc_count; i++)
		net->arcs[i].flow = 0;
	if ((rc = check_net(net, err)) != RC_OK)
		return rc;
	work_init(&w, net);
	if (!first_potentials(&w)) {
		rc = err_set(err, RC_INVALID, 0,
		    "the network has a cycle of negative cost");
		goto done;
	}
	while (find_path(&w))
		*sent += send_along_path(&w);
	for (i = 0; i < net->arc_count; i++)
		net->arcs[i].flow = w.arcs[2 * i + 1].room;
done:
	work_fini(&w);
	return rc;
}

enum rc
flow_cost(int64_t *out, const struct flow_net *net, struct err *err)
{
	int64_t cost, sum = 0;
	size_t i;

	*out = 0;
	for (i = 0; i < net->arc_count; i++)
		if (__builtin_mul_overflow(
			net->arcs[i].flow, net->arcs[i].cost, &cost) ||
		    __builtin_add_overflow(sum, cost, &sum))
			return err_set(err, RC_INVALID, 0,
			    "the cost of the flow is too large to add up");
	*out = sum;
	return RC_OK;
}
