/*
 * test_core_flow.c - published networks, then every small network made by a
 * generator with a fixed seed against all its flows, then large ones against
 * the conditions of optimality.
 */
#include "unit.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "core/flow.h"
#include "useby_facts.h"

#define ARCS 64

static int64_t
solve(struct flow_net *net, int64_t *cost)
{
	struct err err = { 0 };
	int64_t sent;

	ck_assert_msg(flow_solve(&sent, net, &err) == RC_OK, "%s", err.text);
	ck_assert_msg(flow_cost(cost, net, &err) == RC_OK, "%s", err.text);
	return sent;
}

/* --- published -------------------------------------------------------------*/

/*
 * 1, 2: Bradley, Hax and Magnanti, Applied Mathematical Programming, figure
 * 8.1, as carried by the documentation of OR-Tools (minimum cost flows: cost
 * 150, 12 units on the first arc); and the same network with a sixth node,
 * answer 183, a test of NetworkX (test_google_or_tools_example2).
 * 3: SAS/OR, OPTMODEL, "A Transportation Problem" (Detroit, Pittsburgh; data
 * read there, 6500 computed by hand: 150 x 30 + 50 x 20 + 100 x 10).
 * 4: Dantzig's cannery, Linear Programming and Extensions, 1963, in hundreds
 * of miles: 300 cases from Seattle to Chicago and 275 from San Diego to Topeka
 * as in the Pyomo gallery; 17 075 computed, and x 9 is the freight 153 675.
 */
static const struct {
	const char *why;
	size_t nodes, arcs;
	struct flow_arc arc[10];
	int64_t supply[6]; /* above 0 from the source, below 0 to the sink */
	int64_t sent, cost;
	int64_t flow[10]; /* -1: not unique or not published */
} published[] = {
	{ "figure 8.1", 5, 9,
	    { { 0, 1, 15, 4, 0 }, { 0, 2, 8, 4, 0 }, { 1, 2, 20, 2, 0 },
		{ 1, 3, 4, 2, 0 }, { 1, 4, 10, 6, 0 }, { 2, 3, 15, 1, 0 },
		{ 2, 4, 4, 3, 0 }, { 3, 4, 20, 2, 0 }, { 4, 2, 5, 3, 0 } },
	    { 20, 0, 0, -5, -15, 0 }, 20, 150,
	    { 12, 8, 8, 4, -1, -1, -1, -1, -1, -1 } },
	{ "figure 8.1 with a sixth node", 6, 10,
	    { { 0, 1, 15, 4, 0 }, { 0, 2, 8, 4, 0 }, { 1, 2, 20, 2, 0 },
		{ 1, 3, 4, 2, 0 }, { 1, 4, 10, 6, 0 }, { 2, 3, 15, 1, 0 },
		{ 2, 4, 4, 3, 0 }, { 3, 4, 20, 2, 0 }, { 4, 2, 5, 3, 0 },
		{ 3, 5, 10, 4, 0 } },
	    { 23, 0, 0, -5, -15, -3 }, 23, 183,
	    { -1, -1, -1, -1, -1, -1, -1, -1, -1, 3 } },
	{ "two plants, two towns", 4, 4,
	    { { 0, 2, 999, 30, 0 }, { 0, 3, 999, 20, 0 }, { 1, 2, 999, 40, 0 },
		{ 1, 3, 999, 10, 0 } },
	    { 200, 100, -150, -150, 0, 0 }, 300, 6500,
	    { 150, 50, 0, 100, -1, -1, -1, -1, -1, -1 } },
	{ "canneries", 5, 6,
	    { { 0, 2, 999, 25, 0 }, { 0, 3, 999, 17, 0 }, { 0, 4, 999, 18, 0 },
		{ 1, 2, 999, 25, 0 }, { 1, 3, 999, 18, 0 },
		{ 1, 4, 999, 14, 0 } },
	    { 350, 600, -325, -300, -275, 0 }, 900, 17075,
	    { -1, 300, 0, -1, 0, 275, -1, -1, -1, -1 } },
};

START_TEST(published_rows)
{
	struct flow_arc arcs[ARCS];
	struct flow_net net = { published[_i].nodes + 2, 0, 0, arcs, 0 };
	const char *why = published[_i].why;
	int64_t cost, s;
	size_t i;

	net.source = published[_i].nodes;
	net.sink = net.source + 1;
	for (i = 0; i < published[_i].arcs; i++)
		arcs[net.arc_count++] = published[_i].arc[i];
	for (i = 0; i < published[_i].nodes; i++) {
		s = published[_i].supply[i];
		if (s > 0)
			arcs[net.arc_count++] =
			    (struct flow_arc){ net.source, i, s, 0, 0 };
		if (s < 0)
			arcs[net.arc_count++] =
			    (struct flow_arc){ i, net.sink, -s, 0, 0 };
	}
	ck_assert_msg(solve(&net, &cost) == published[_i].sent, "%s", why);
	ck_assert_msg(
	    cost == published[_i].cost, "%s: %lld", why, (long long)cost);
	for (i = 0; i < published[_i].arcs; i++)
		ck_assert_msg(published[_i].flow[i] < 0 ||
			published[_i].flow[i] == arcs[i].flow,
		    "%s: arc %zu: %lld", why, i, (long long)arcs[i].flow);
}
END_TEST

/* --- by hand ---------------------------------------------------------------*/

static const struct {
	const char *why;
	size_t nodes, arcs;
	struct flow_arc arc[5]; /* source 0, sink 1 */
	int64_t sent, cost;
} hand[] = {
	{ "no arc", 2, 0, { { 0 } }, 0, 0 },
	{ "no way through", 3, 2, { { 0, 2, 5, 1, 0 }, { 1, 2, 5, 1, 0 } }, 0,
	    0 },
	{ "no room", 2, 1, { { 0, 1, 0, -9, 0 } }, 0, 0 },
	{ "one arc", 2, 1, { { 0, 1, 7, 3, 0 } }, 7, 21 },
	{ "two arcs side by side", 2, 2,
	    { { 0, 1, 7, 3, 0 }, { 0, 1, 2, -1, 0 } }, 9, 19 },
	{ "an arc to itself", 3, 3,
	    { { 0, 2, 4, 1, 0 }, { 2, 2, 9, 0, 0 }, { 2, 1, 3, 1, 0 } }, 3, 6 },
	{ "greatest goes before cheapest: back over the middle arc", 4, 5,
	    { { 0, 2, 1, 0, 0 }, { 0, 3, 1, 100, 0 }, { 2, 3, 1, 0, 0 },
		{ 2, 1, 1, 100, 0 }, { 3, 1, 1, 0, 0 } },
	    2, 200 },
	{ "a dear end first when it is cheaper in all", 4, 4,
	    { { 0, 2, 5, -8, 0 }, { 0, 3, 5, 2, 0 }, { 2, 1, 9, 6, 0 },
		{ 3, 1, 9, -5, 0 } },
	    10, -25 },
	{ "the largest capacity", 2, 1, { { 0, 1, FLOW_CAPACITY_MAX, 1, 0 } },
	    FLOW_CAPACITY_MAX, FLOW_CAPACITY_MAX },
};

START_TEST(hand_rows)
{
	struct flow_arc arcs[5];
	struct flow_net net = { hand[_i].nodes, 0, 1, arcs, hand[_i].arcs };
	int64_t cost;

	memcpy(arcs, hand[_i].arc, sizeof(arcs));
	ck_assert_msg(solve(&net, &cost) == hand[_i].sent, "%s", hand[_i].why);
	ck_assert_msg(
	    cost == hand[_i].cost, "%s: %lld", hand[_i].why, (long long)cost);
}
END_TEST

#define LIMIT (INT64_MAX / 16)

static const struct {
	const char *why;
	size_t nodes, source, sink, arcs;
	struct flow_arc arc[3];
	const char *said; /* NULL: taken */
} refused[] = {
	{ "no node", 0, 0, 1, 0, { { 0 } }, "source and sink are not two" },
	{ "source is sink", 2, 1, 1, 0, { { 0 } },
	    "source and sink are not two" },
	{ "sink outside", 2, 0, 2, 0, { { 0 } },
	    "source and sink are not two" },
	{ "tail outside", 2, 0, 1, 1, { { 2, 1, 1, 1, 0 } },
	    "arc 1: no such node" },
	{ "head outside", 2, 0, 1, 2, { { 0, 1, 1, 1, 0 }, { 0, 9, 1, 1, 0 } },
	    "arc 2: no such node" },
	{ "capacity below 0", 2, 0, 1, 1, { { 0, 1, -1, 1, 0 } },
	    "arc 1: capacity -1 is not in 0..1000000000000" },
	{ "capacity too large", 2, 0, 1, 1,
	    { { 0, 1, FLOW_CAPACITY_MAX + 1, 1, 0 } },
	    "arc 1: capacity 1000000000001 is not in" },
	{ "cycle of negative cost", 4, 0, 1, 3,
	    { { 0, 1, 1, 1, 0 }, { 2, 3, 1, 4, 0 }, { 3, 2, 1, -5, 0 } },
	    "the network has a cycle of negative cost" },
	{ "cycle of cost 0", 4, 0, 1, 3,
	    { { 0, 1, 1, 1, 0 }, { 2, 3, 1, 5, 0 }, { 3, 2, 1, -5, 0 } },
	    NULL },
	{ "one cost too large", 2, 0, 1, 1, { { 0, 1, 1, INT64_MIN, 0 } },
	    "arc 1: cost -9223372036854775808 is too large" },
	{ "the dearest that is taken", 3, 0, 1, 2,
	    { { 0, 2, 1, LIMIT - 5, 0 }, { 2, 1, 1, 5, 0 } }, NULL },
	{ "one more", 3, 0, 1, 2,
	    { { 0, 2, 1, LIMIT - 5, 0 }, { 2, 1, 1, 6, 0 } },
	    "costs are too large to add up along a path" },
	{ "dear in between", 4, 0, 1, 3,
	    { { 0, 2, 1, 1, 0 }, { 2, 3, 1, LIMIT / 4, 0 }, { 3, 1, 1, 5, 0 } },
	    "costs are too large to add up along a path" },
};

START_TEST(refused_rows)
{
	struct flow_arc arcs[3];
	struct flow_net net = { refused[_i].nodes, refused[_i].source,
		refused[_i].sink, arcs, refused[_i].arcs };
	struct err err = { 0 };
	int64_t sent = 9;
	enum rc rc;

	memcpy(arcs, refused[_i].arc, sizeof(arcs));
	rc = flow_solve(&sent, &net, &err);
	if (refused[_i].said == NULL) {
		ck_assert_msg(rc == RC_OK, "%s: %s", refused[_i].why, err.text);
		return;
	}
	ck_assert_msg(rc == RC_INVALID, "%s", refused[_i].why);
	ck_assert_msg(
	    strncmp(err.text, refused[_i].said, strlen(refused[_i].said)) == 0,
	    "%s: %s", refused[_i].why, err.text);
	ck_assert_int_eq(sent, 0);
}
END_TEST

/* As dear as may be and in the order that drives potentials down fastest, by
 * 40 paths in all were nothing to stop them. */
START_TEST(negative_cycle_does_not_overflow)
{
	const size_t n = 40;
	struct flow_arc arcs[ARCS];
	struct flow_net net = { n + 2, n, n + 1, arcs, n };
	struct err err = { 0 };
	int64_t sent;
	size_t i;

	for (i = 0; i < n; i++)
		arcs[i] = (struct flow_arc){ i, (i + 1) % n, 1,
			-(LIMIT / (int64_t)net.node_count), 0 };
	ck_assert_int_eq(flow_solve(&sent, &net, &err), RC_INVALID);
	ck_assert_str_eq(err.text, "the network has a cycle of negative cost");
}
END_TEST

START_TEST(size_is_bounded)
{
	struct flow_net net = { FLOW_NODES_MAX + 1, 0, 1, NULL, 0 };
	struct err err = { 0 };
	int64_t sent;

	ck_assert_int_eq(flow_solve(&sent, &net, &err), RC_INVALID);
	ck_assert_str_eq(
	    err.text, "10001 nodes and 0 arcs, at most 10000 and 1000000");
}
END_TEST

START_TEST(cost_may_not_overflow)
{
	struct flow_arc arc = { 0, 1, 1000, LIMIT, 1000 };
	struct flow_net net = { 2, 0, 1, &arc, 1 };
	struct err err = { 0 };
	int64_t sent, cost = 9;

	ck_assert_int_eq(flow_solve(&sent, &net, &err), RC_OK);
	ck_assert_int_eq(sent, 1000);
	ck_assert_int_eq(flow_cost(&cost, &net, &err), RC_INVALID);
	ck_assert_int_eq(cost, 0);
}
END_TEST

/* --- against every flow there is -------------------------------------------*/

struct best {
	int64_t sent, cost;
};

/* All ways to set the flows of arc k and later, within the capacities. */
static void
try_all(struct best *b, struct flow_net *net, size_t k)
{
	int64_t net_in[8] = { 0 }, cost = 0;
	size_t i;

	if (k < net->arc_count) {
		for (i = 0; (int64_t)i <= net->arcs[k].capacity; i++) {
			net->arcs[k].flow = (int64_t)i;
			try_all(b, net, k + 1);
		}
		return;
	}
	for (i = 0; i < net->arc_count; i++) {
		net_in[net->arcs[i].head] += net->arcs[i].flow;
		net_in[net->arcs[i].tail] -= net->arcs[i].flow;
		cost += net->arcs[i].flow * net->arcs[i].cost;
	}
	for (i = 0; i < net->node_count; i++)
		if (i != net->source && i != net->sink && net_in[i] != 0)
			return;
	if (net_in[net->sink] > b->sent ||
	    (net_in[net->sink] == b->sent && cost < b->cost))
		*b = (struct best){ net_in[net->sink], cost };
}

/*
 * Uphill costs more and downhill less, below 0 too; all the way round a cycle
 * the heights cancel, so no cycle is negative.
 */
static int
height(size_t node)
{
	return (int)(node * 7 % 13) * 4;
}

static void
any_net(struct flow_net *net, struct dice *d, int nodes, int arcs, int most)
{
	struct flow_arc *a;
	int i;

	net->node_count = (size_t)nodes;
	net->source = 0;
	net->sink = (size_t)nodes - 1;
	net->arc_count = (size_t)arcs;
	for (i = 0; i < arcs; i++) {
		a = &net->arcs[i];
		a->tail = (size_t)roll(d, nodes);
		a->head = (size_t)roll(d, nodes);
		a->capacity = roll(d, most + 1);
		a->cost = roll(d, 30) + height(a->head) - height(a->tail);
	}
}

START_TEST(no_flow_is_better)
{
	struct dice d = { 8101 };
	struct flow_arc arcs[ARCS];
	struct flow_net net = { 0, 0, 0, arcs, 0 };
	struct best b;
	int64_t cost, sent;
	int round, through = 0;

	for (round = 0; round < 400; round++) {
		any_net(&net, &d, 3 + roll(&d, 3), 8, 2);
		b = (struct best){ 0, 0 };
		try_all(&b, &net, 0);
		sent = solve(&net, &cost);
		ck_assert_msg(sent == b.sent && cost == b.cost,
		    "%d: %lld for %lld, best %lld for %lld", round,
		    (long long)sent, (long long)cost, (long long)b.sent,
		    (long long)b.cost);
		through += sent > 0;
	}
	ck_assert_int_gt(through, 100);
}
END_TEST

/* --- what holds for an optimal flow of any size ----------------------------*/

/* Bellman and Ford over what is left: no way on, no cycle that saves. */
static void
check_optimal(const struct flow_net *net, int round)
{
	bool reached[64] = { false };
	int64_t far[64] = { 0 };
	const struct flow_arc *a;
	size_t i, pass;
	bool changed = true;

	reached[net->source] = true;
	for (pass = 0; changed; pass++) {
		ck_assert_msg(
		    pass <= 2 * net->node_count, "%d: a cycle saves", round);
		changed = false;
		for (i = 0; i < net->arc_count; i++) {
			a = &net->arcs[i];
			if (a->flow < a->capacity) {
				if (reached[a->tail] && !reached[a->head])
					changed = reached[a->head] = true;
				if (far[a->tail] + a->cost < far[a->head]) {
					far[a->head] = far[a->tail] + a->cost;
					changed = true;
				}
			}
			if (a->flow > 0) {
				if (reached[a->head] && !reached[a->tail])
					changed = reached[a->tail] = true;
				if (far[a->head] - a->cost < far[a->tail]) {
					far[a->tail] = far[a->head] - a->cost;
					changed = true;
				}
			}
		}
	}
	ck_assert_msg(!reached[net->sink], "%d: more would go", round);
}

START_TEST(large_ones_are_optimal)
{
	struct dice d = { 8102 };
	struct flow_arc arcs[400], again[400];
	struct flow_net net = { 0, 0, 0, arcs, 0 };
	int64_t net_in[64], cost, sent;
	size_t i;
	int round;

	for (round = 0; round < 200; round++) {
		any_net(&net, &d, 30, 150 + roll(&d, 250), 50);
		sent = solve(&net, &cost);
		memset(net_in, 0, sizeof(net_in));
		for (i = 0; i < net.arc_count; i++) {
			ck_assert(arcs[i].flow >= 0 &&
			    arcs[i].flow <= arcs[i].capacity);
			net_in[arcs[i].head] += arcs[i].flow;
			net_in[arcs[i].tail] -= arcs[i].flow;
		}
		for (i = 1; i + 1 < net.node_count; i++)
			ck_assert_int_eq(net_in[i], 0);
		ck_assert_int_eq(net_in[net.sink], sent);
		check_optimal(&net, round);
		memcpy(again, arcs, sizeof(again));
		solve(&net, &cost);
		ck_assert(
		    memcmp(again, arcs, net.arc_count * sizeof(*arcs)) == 0);
	}
}
END_TEST

Suite *
suite_core_flow(void)
{
	Suite *s = suite_create("core_flow");
	TCase *tc = tcase_create("flow");

	tcase_add_loop_test(tc, published_rows, 0, (int)NELEM(published));
	tcase_add_loop_test(tc, hand_rows, 0, (int)NELEM(hand));
	tcase_add_loop_test(tc, refused_rows, 0, (int)NELEM(refused));
	tcase_add_test(tc, negative_cycle_does_not_overflow);
	tcase_add_test(tc, size_is_bounded);
	tcase_add_test(tc, cost_may_not_overflow);
	tcase_add_test(tc, no_flow_is_better);
	tcase_add_test(tc, large_ones_are_optimal);
	suite_add_tcase(s, tc);
	return s;
}
