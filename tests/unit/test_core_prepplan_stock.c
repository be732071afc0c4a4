/*
 * test_core_prepplan_stock.c - which stock a plan draws on and in which order,
 * and what holds for any stock and any menu.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "core/prepplan.h"
#include "kitchen.h"

static struct species_table fish;
static struct yield_table yields;

static void
setup(void)
{
	kitchen_tables(&fish, &yields);
}

static void
teardown(void)
{
	species_fini(&fish);
	yield_fini(&yields);
}

static struct plan
plan_one(struct plan_stock *stock, const struct plan_cut *c, int64_t covers)
{
	return plan_all(stock, c, covers, &fish, &yields);
}

/* --- which stock, in which order
 * --------------------------------------------*/

/* clang-format off */
static const struct {
	const char *why;
	bool held;
	int64_t use_by;
	enum presentation p;
	grams weight; /* of 4 fish */
	enum plan_reason reason;
} leaves[] = {
	{ "in date, just", false, PLAN_END, PRES_WHOLE, 8000, PLAN_TAKEN },
	{ "a second too old", false, PLAN_END - 1, PRES_WHOLE, 8000,
	    PLAN_EXPIRED },
	{ "on hold", true, PLAN_LATER, PRES_WHOLE, 8000, PLAN_HELD },
	{ "on hold and too old", true, 0, PRES_WHOLE, 8000, PLAN_HELD },
	{ "too small", false, PLAN_LATER, PRES_WHOLE, 999, PLAN_TOO_SMALL },
	{ "meat does not become fillets", false, PLAN_LATER, PRES_SHUCKED, 8000,
	    PLAN_NO_YIELD },
};
/* clang-format on */

START_TEST(left_alone)
{
	struct plan_batch b[2] = {
		plan_batch_of("1", "COD", leaves[_i].p, 4, leaves[_i].weight),
		plan_batch_of("2", "COD", PRES_WHOLE, 4, 8000),
	};
	struct plan_stock stock = { .batches = b, .batch_count = 2 };
	struct plan_cut c =
	    plan_cut_of("COD", CUT_SUPREME, false, 140, 160, 180);
	const struct plan_line *l;
	struct plan plan;

	b[0].held = leaves[_i].held;
	b[0].use_by_utc = leaves[_i].use_by;
	plan = plan_one(&stock, &c, 4);
	l = plan.lines;
	ck_assert_msg(
	    l->takes[0].reason == leaves[_i].reason, "%s", leaves[_i].why);
	ck_assert_str_eq(l->takes[0].code, "1");
	ck_assert_int_eq(l->to_make, 4);
	if (leaves[_i].reason == PLAN_TAKEN) {
		ck_assert_uint_eq(l->take_count, 1);
		ck_assert_int_eq(b[0].count, 3);
		ck_assert_int_eq(b[1].count, 4);
	} else {
		ck_assert_uint_eq(l->take_count, 2);
		ck_assert_int_eq(l->takes[0].portions, 0);
		ck_assert_int_eq(l->takes[1].portions, 4);
		ck_assert_int_eq(b[0].count, 4);
		ck_assert_int_eq(b[0].weight_g, leaves[_i].weight);
		ck_assert_int_eq(b[1].count, 3);
	}
	plan_fini(&plan);
}
END_TEST

START_TEST(first_expired_first)
{
	struct plan_batch b[3] = {
		plan_batch_of("1", "COD", PRES_WHOLE, 1, 2000),
		plan_batch_of("x", "HAD", PRES_WHOLE, 9, 9000),
		plan_batch_of("2", "COD", PRES_WHOLE, 5, 10000),
	};
	struct plan_stock stock = { .batches = b, .batch_count = 3 };
	struct plan_cut c =
	    plan_cut_of("COD", CUT_SUPREME, false, 140, 160, 180);
	struct plan plan = plan_one(&stock, &c, 6);

	/* 4 portions a fish: the first batch whole, one fish of the next. */
	ck_assert_uint_eq(plan.lines->take_count, 2);
	ck_assert_str_eq(plan.lines->takes[0].code, "1");
	ck_assert_int_eq(plan.lines->takes[0].portions, 4);
	ck_assert_str_eq(plan.lines->takes[1].code, "2");
	ck_assert_int_eq(plan.lines->takes[1].portions, 2);
	ck_assert_int_eq(plan.lines->takes[1].spare, 2);
	ck_assert_int_eq(b[0].count, 0);
	ck_assert_int_eq(b[0].weight_g, 0);
	ck_assert_int_eq(b[1].count, 9);
	ck_assert_int_eq(b[2].count, 4);
	plan_fini(&plan);
}
END_TEST

static struct plan_tray
tray(const char *code, int64_t left, int64_t use_by)
{
	struct plan_tray t = { .left = left, .use_by_utc = use_by };

	str_copy(t.code, sizeof(t.code), code);
	str_copy(t.dish, sizeof(t.dish), "dish");
	str_copy(t.species, sizeof(t.species), "COD");
	return t;
}

START_TEST(trays_before_batches)
{
	struct plan_tray t[6] = { tray("old", 3, PLAN_END - 1),
		tray("1", 3, PLAN_END), tray("held", 9, PLAN_LATER),
		tray("other", 9, PLAN_LATER), tray("kind", 9, PLAN_LATER),
		tray("2", 4, PLAN_LATER) };
	struct plan_batch b = plan_batch_of("B", "COD", PRES_WHOLE, 4, 8000);
	struct plan_stock stock = { &b, 1, t, 6 };
	struct plan_cut c =
	    plan_cut_of("COD", CUT_SUPREME, false, 140, 160, 180);
	const struct plan_line *l;
	struct plan plan;

	t[2].held = true;
	str_copy(t[3].dish, sizeof(t[3].dish), "other-dish");
	str_copy(t[4].species, sizeof(t[4].species), "HAD");
	c.used = 2;
	plan = plan_one(&stock, &c, 14);
	l = plan.lines;
	ck_assert_int_eq(l->need, 14);
	ck_assert_int_eq(l->to_have, 12);
	ck_assert_int_eq(l->on_hand, 7);
	ck_assert_int_eq(l->to_make, 5);
	ck_assert_uint_eq(l->take_count, 5);
	ck_assert_int_eq(l->takes[0].reason, PLAN_EXPIRED);
	ck_assert_int_eq(l->takes[1].portions, 3);
	ck_assert_int_eq(l->takes[2].reason, PLAN_HELD);
	ck_assert_str_eq(l->takes[3].code, "2");
	ck_assert(!l->takes[4].tray);
	ck_assert_int_eq(l->takes[4].spare, 3);
	ck_assert_int_eq(t[0].left, 3);
	ck_assert_int_eq(t[1].left, 0);
	ck_assert_int_eq(t[2].left, 9);
	ck_assert_int_eq(t[3].left, 9);
	ck_assert_int_eq(t[4].left, 9);
	ck_assert_int_eq(t[5].left, 0);
	plan_fini(&plan);
}
END_TEST

START_TEST(more_used_than_needed)
{
	struct plan_stock stock = { 0 };
	struct plan_cut c =
	    plan_cut_of("COD", CUT_SUPREME, false, 140, 160, 180);
	struct plan plan;

	c.used = 9;
	plan = plan_one(&stock, &c, 4);
	ck_assert_int_eq(plan.lines->to_have, 0);
	ck_assert_int_eq(plan.lines->short_of, 0);
	ck_assert_int_eq(plan.lines->order_g, 0);
	plan_fini(&plan);
}
END_TEST

/* The next service sees what the one before it left. */
START_TEST(next_service)
{
	struct plan_tray t = tray("T", 5, PLAN_LATER);
	struct plan_batch b = plan_batch_of("B", "COD", PRES_WHOLE, 3, 6000);
	struct plan_stock stock = { &b, 1, &t, 1 };
	struct plan_cut c =
	    plan_cut_of("COD", CUT_SUPREME, false, 140, 160, 180);
	struct plan first = plan_one(&stock, &c, 10);
	struct plan second = plan_one(&stock, &c, 10);

	ck_assert_int_eq(first.lines->on_hand, 5);
	ck_assert_int_eq(first.lines->to_make, 5);
	ck_assert_int_eq(first.lines->takes[1].fish, 2);
	ck_assert_int_eq(second.lines->on_hand, 0);
	ck_assert_int_eq(second.lines->to_make, 4);
	ck_assert_int_eq(second.lines->short_of, 6);
	plan_fini(&first);
	plan_fini(&second);
}
END_TEST

/* Fish before crustaceans before molluscs, then by name, then by dish; a dish
 * the service does not have is no line. */
START_TEST(working_order)
{
	static const char *const want[] = { "COD", "HAD", "PLE", "CRE", "MUS",
		"SQR" };
	static const char *const given[] = { "SQR", "CRE", "PLE", "MUS", "HAD",
		"COD", "LEM" };
	struct plan_cut c[NELEM(given)];
	struct plan_service s = { 10, PLAN_END, c, NELEM(given) };
	struct plan_stock stock = { 0 };
	struct plan p;
	size_t i;

	for (i = 0; i < NELEM(given); i++)
		c[i] = plan_cut_of(given[i], CUT_MEAT, false, 50, 60, 70);
	c[NELEM(given) - 1].mix_bp = 0;
	ck_assert_int_eq(
	    plan_make(&p, &stock, &s, &fish, &yields, NULL), RC_OK);
	ck_assert_uint_eq(p.count, NELEM(want));
	for (i = 0; i < NELEM(want); i++) {
		const struct species *sp =
		    species_find(&fish, p.lines[i].cut.species);

		ck_assert_int_eq(
		    sp->allergen, species_find(&fish, want[i])->allergen);
		if (i > 0)
			ck_assert_int_ge(sp->allergen,
			    species_find(&fish, p.lines[i - 1].cut.species)
				->allergen);
		if (i < 3)
			ck_assert_str_eq(p.lines[i].cut.species, want[i]);
	}
	plan_fini(&p);
}
END_TEST

/* --- any stock, any menu: the same ones in every run
 * ------------------------*/

#define BATCHES 9
#define TRAYS 7
#define CUTS 6

static uint64_t seed;

static int
any(int below)
{
	seed = seed * 6364136223846793005u + 1442695040888963407u;
	return (int)((seed >> 33) % (uint64_t)below);
}

static const char *const kinds[] = { "COD", "PLE", "MAC", "LEM", "RJC", "MUS",
	"SQR", "HER" };

struct world {
	struct plan_batch batches[BATCHES], batches_before[BATCHES];
	struct plan_tray trays[TRAYS], trays_before[TRAYS];
	struct plan_cut cuts[CUTS];
	struct plan_stock stock;
	struct plan_service service;
};

static void
any_batch(struct plan_batch *b, int i)
{
	memset(b, 0, sizeof(*b));
	b->code[0] = (char)('a' + i);
	str_copy(b->species, sizeof(b->species), kinds[any(4 + any(5))]);
	b->presentation = (enum presentation)any(PRES_COUNT);
	b->by_weight = any(3) == 0;
	b->count = b->by_weight ? 0 : any(12);
	b->weight_g = any(6) == 0 ? any(300) : any(25000);
	b->use_by_utc = PLAN_END - 2 + any(12);
	b->held = any(6) == 0;
}

static void
any_cut(struct plan_cut *c, int i)
{
	memset(c, 0, sizeof(*c));
	c->dish[0] = (char)('a' + i % 4);
	str_copy(c->species, sizeof(c->species), kinds[any(4 + any(5))]);
	c->kind = (enum cut_kind)any(CUT_COUNT);
	c->skin_on = any(2) == 0;
	c->bought = (enum presentation)any(PRES_COUNT);
	c->low_g = 20 + any(200);
	c->target_g = c->low_g + any(60);
	c->high_g = c->target_g + any(60);
	c->house_yield_bp = any(5) == 0 ? 1 + any(BP_ONE) : 0;
	c->mix_bp = any(3000);
	c->used = any(3) == 0 ? any(10) : 0;
}

static void
any_world(struct world *w)
{
	int i;

	for (i = 0; i < BATCHES; i++)
		any_batch(&w->batches[i], i);
	for (i = 0; i < TRAYS; i++) {
		memset(&w->trays[i], 0, sizeof(w->trays[i]));
		w->trays[i].code[0] = (char)('A' + i);
		w->trays[i].dish[0] = (char)('a' + any(4));
		str_copy(w->trays[i].species, 4, kinds[any(4)]);
		w->trays[i].left = any(12);
		w->trays[i].use_by_utc = PLAN_END - 2 + any(12);
		w->trays[i].held = any(6) == 0;
	}
	for (i = 0; i < CUTS; i++)
		any_cut(&w->cuts[i], i);
	w->stock.batches = w->batches;
	w->stock.batch_count = BATCHES;
	w->stock.trays = w->trays;
	w->stock.tray_count = TRAYS;
	w->service.covers = any(120);
	w->service.end_utc = PLAN_END;
	w->service.cuts = w->cuts;
	w->service.cut_count = CUTS;
}

/* Where the take's code is in the stock. */
static size_t
place(const struct plan_take *t)
{
	return (size_t)(t->code[0] - (t->tray ? 'A' : 'a'));
}

/* The usable grams of what is taken are enough for what it is said to give. */
static void
check_grams(const struct plan_take *t, const struct plan_cut *c)
{
	int64_t usable = t->weight_g * t->yield.bp / BP_ONE;

	ck_assert_int_ge(t->weight_g, 0);
	if (t->fish == 0) {
		ck_assert_int_eq(t->spare, 0);
		ck_assert_int_le(t->portions * c->target_g, usable);
		return;
	}
	ck_assert_int_eq(t->portions + t->spare, t->pieces * t->per_piece);
	ck_assert_int_le(t->pieces * t->piece_g, usable);
	ck_assert_int_ge(t->piece_g, c->low_g);
	ck_assert_int_ge(t->per_piece, 1);
	if (t->per_piece > 1)
		ck_assert_int_le(t->per_piece * c->target_g, t->piece_g);
	if (c->kind == CUT_WHOLE || c->kind == CUT_FILLET) {
		ck_assert_int_eq(t->per_piece, 1);
		ck_assert_int_le(t->piece_g, c->high_g);
	}
	/* Not one fish more than needed. */
	ck_assert_int_lt(t->spare, t->pieces / t->fish * t->per_piece);
}

static void
check_take(
    const struct world *w, const struct plan_line *l, const struct plan_take *t)
{
	bool held, dead;

	if (t->tray) {
		held = w->trays[place(t)].held;
		dead = w->trays[place(t)].use_by_utc < PLAN_END;
		ck_assert_str_eq(w->trays[place(t)].dish, l->cut.dish);
		ck_assert_str_eq(w->trays[place(t)].species, l->cut.species);
	} else {
		held = w->batches[place(t)].held;
		dead = w->batches[place(t)].use_by_utc < PLAN_END;
		ck_assert_str_eq(w->batches[place(t)].species, l->cut.species);
	}
	if (t->reason != PLAN_TAKEN) {
		ck_assert_int_eq(t->portions, 0);
		ck_assert_int_eq(t->fish, 0);
		ck_assert_int_eq(t->weight_g, 0);
		ck_assert(held == (t->reason == PLAN_HELD));
		ck_assert(held || dead == (t->reason == PLAN_EXPIRED));
		return;
	}
	ck_assert(!held && !dead);
	if (!t->tray)
		check_grams(t, &l->cut);
}

/* A later source is drawn on only when the earlier one has nothing more. */
static void
check_order(const struct world *w, const struct plan_line *l)
{
	const struct plan_take *t, *next = NULL;
	size_t i;
	bool more = l->short_of > 0;

	for (i = l->take_count; i-- > 0; next = t) {
		t = &l->takes[i];
		if (next != NULL && next->tray == t->tray)
			ck_assert_uint_lt(place(t), place(next));
		if (next != NULL)
			ck_assert(t->tray || !next->tray);
		if (more && t->reason == PLAN_TAKEN) {
			if (t->tray)
				ck_assert_int_eq(w->trays[place(t)].left, 0);
			else if (t->fish > 0)
				ck_assert_int_eq(w->batches[place(t)].count, 0);
			else
				ck_assert_int_lt(w->batches[place(t)].weight_g *
					t->yield.bp / BP_ONE,
				    l->cut.target_g);
		}
		more = more || t->portions > 0;
	}
}

static void
check_line(const struct world *w, const struct plan_line *l)
{
	const struct plan_cut *c = &l->cut;
	int64_t trays = 0, batches = 0;
	size_t i;

	ck_assert(l->need * BP_ONE >= w->service.covers * c->mix_bp);
	ck_assert((l->need - 1) * BP_ONE < w->service.covers * c->mix_bp ||
	    l->need == 0);
	ck_assert_int_eq(l->to_have, l->need > c->used ? l->need - c->used : 0);
	ck_assert_int_eq(l->on_hand + l->to_make + l->short_of, l->to_have);
	ck_assert(l->on_hand >= 0 && l->to_make >= 0 && l->short_of >= 0);
	for (i = 0; i < l->take_count; i++) {
		check_take(w, l, &l->takes[i]);
		*(l->takes[i].tray ? &trays : &batches) += l->takes[i].portions;
	}
	ck_assert_int_eq(trays, l->on_hand);
	ck_assert_int_eq(batches, l->to_make);
	check_order(w, l);
	if (l->short_of == 0 || !l->order_known) {
		ck_assert_int_eq(l->order_g, 0);
		return;
	}
	ck_assert_int_ge(
	    l->order_g * l->order_yield.bp / BP_ONE, l->short_of * c->target_g);
	ck_assert_int_lt((l->order_g - 1) * l->order_yield.bp / BP_ONE,
	    l->short_of * c->target_g);
}

/* What the lines take is what the stock lost; nothing is overdrawn. */
static void
check_stock(const struct world *w, const struct plan *p)
{
	int64_t fish_gone[BATCHES] = { 0 }, grams_gone[BATCHES] = { 0 };
	int64_t portions_gone[TRAYS] = { 0 };
	const struct plan_take *t;
	size_t i, j;

	for (i = 0; i < p->count; i++)
		for (j = 0; j < p->lines[i].take_count; j++) {
			t = &p->lines[i].takes[j];
			if (t->tray) {
				portions_gone[place(t)] += t->portions;
				continue;
			}
			fish_gone[place(t)] += t->fish;
			grams_gone[place(t)] += t->weight_g;
		}
	for (i = 0; i < BATCHES; i++) {
		ck_assert_int_ge(w->batches[i].count, 0);
		ck_assert_int_ge(w->batches[i].weight_g, 0);
		ck_assert_int_eq(w->batches[i].count + fish_gone[i],
		    w->batches_before[i].count);
		ck_assert_int_eq(w->batches[i].weight_g + grams_gone[i],
		    w->batches_before[i].weight_g);
	}
	for (i = 0; i < TRAYS; i++) {
		ck_assert_int_ge(w->trays[i].left, 0);
		ck_assert_int_eq(w->trays[i].left + portions_gone[i],
		    w->trays_before[i].left);
	}
}

static void
check_orders(const struct plan *p, grams step)
{
	struct plan_order *o;
	int64_t short_of = 0, ordered = 0;
	size_t i, n;

	plan_orders(&o, &n, p, step);
	for (i = 0; i < p->count; i++)
		if (p->lines[i].order_known)
			short_of += p->lines[i].short_of;
	for (i = 0; i < n; i++) {
		ordered += o[i].portions;
		ck_assert_int_eq(o[i].order_g % step, 0);
		ck_assert_int_ge(o[i].order_g, o[i].need_g);
		ck_assert_int_lt(o[i].order_g, o[i].need_g + step);
	}
	ck_assert_int_eq(ordered, short_of);
	free(o);
}

/* Several services out of the same stock, many times. */
static int
play(void (*check)(const struct world *w, const struct plan *p))
{
	struct world w;
	struct plan p;
	int i, k, made = 0;

	seed = 309;
	for (i = 0; i < 4000; i++) {
		any_world(&w);
		for (k = 0; k < 3; k++) {
			memcpy(w.batches_before, w.batches, sizeof(w.batches));
			memcpy(w.trays_before, w.trays, sizeof(w.trays));
			ck_assert_int_eq(plan_make(&p, &w.stock, &w.service,
					     &fish, &yields, NULL),
			    RC_OK);
			check(&w, &p);
			made += p.count > 0;
			plan_fini(&p);
		}
	}
	return made;
}

static void
check_lines(const struct world *w, const struct plan *p)
{
	size_t i;

	for (i = 0; i < p->count; i++)
		check_line(w, &p->lines[i]);
	check_orders(p, 1 + any(700));
}

START_TEST(any_line)
{
	ck_assert_int_gt(play(check_lines), 10000);
}
END_TEST

START_TEST(any_stock)
{
	ck_assert_int_gt(play(check_stock), 10000);
}
END_TEST

/* A source the list says to take gives something: "take 0 g" is no work. */
static void
check_gives(const struct world *w, const struct plan *p)
{
	const struct plan_take *t;
	size_t i, j;

	(void)w;
	for (i = 0; i < p->count; i++)
		for (j = 0; j < p->lines[i].take_count; j++) {
			t = &p->lines[i].takes[j];
			ck_assert_msg(
			    t->reason != PLAN_TAKEN || t->portions > 0,
			    "0 portions out of %s, %d g", t->code,
			    (int)t->weight_g);
		}
}

START_TEST(taken_gives_something)
{
	ck_assert_int_gt(play(check_gives), 10000);
}
END_TEST

Suite *
suite_core_prepplan_stock(void)
{
	Suite *s = suite_create("core_prepplan_stock");
	TCase *tc = tcase_create("stock");

	tcase_add_unchecked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 20);
	tcase_add_loop_test(tc, left_alone, 0, (int)NELEM(leaves));
	tcase_add_test(tc, first_expired_first);
	tcase_add_test(tc, trays_before_batches);
	tcase_add_test(tc, more_used_than_needed);
	tcase_add_test(tc, next_service);
	tcase_add_test(tc, working_order);
	tcase_add_test(tc, any_line);
	tcase_add_test(tc, any_stock);
	tcase_add_test(tc, taken_gives_something);
	suite_add_tcase(s, tc);
	return s;
}
