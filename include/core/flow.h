/*
 * core/flow.h - minimum-cost maximum flow on a small network.
 *
 * Successive shortest paths with node potentials (Edmonds and Karp 1972;
 * Ahuja, Magnanti and Orlin, Network Flows, 1993, section 9.7 [memory]).
 * Integers only: flows and costs are exact.  Pure; allocates what it needs and
 * frees it.
 */
#ifndef CORE_FLOW_H
#define CORE_FLOW_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"

#define FLOW_NODES_MAX 10000
#define FLOW_ARCS_MAX 1000000
#define FLOW_CAPACITY_MAX 1000000000000 /* of one arc: 10^12 */

struct flow_arc {
	size_t tail, head;
	int64_t capacity; /* 0..FLOW_CAPACITY_MAX */
	int64_t cost;     /* of one unit, any sign */
	int64_t flow;     /* set by flow_solve() */
};

struct flow_net {
	size_t node_count;
	size_t source, sink;
	struct flow_arc *arcs; /* borrowed */
	size_t arc_count;
};

/*
 * flow_solve - the greatest flow from source to sink, and the cheapest of
 * those.  Sets the flow of every arc and *sent, the units that reach the sink.
 * The same arcs in the same order give the same flow.
 * RC_INVALID, with all flows 0: an arc or the size out of range, source equal
 * to sink, a cycle of negative cost (it would be run for its own sake), or
 * costs so large that a path could overflow: the dearest arc at the source,
 * the dearest at the sink and node_count times the dearest elsewhere must
 * together stay within INT64_MAX / 16.
 */
enum rc flow_solve(
    int64_t *sent, struct flow_net *net, struct err *err) MUST_CHECK;

/* flow_cost - sum of flow x cost.  RC_OK, or RC_INVALID when it overflows. */
enum rc flow_cost(
    int64_t *out, const struct flow_net *net, struct err *err) MUST_CHECK;

#endif /* CORE_FLOW_H */
