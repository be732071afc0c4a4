/*
 * test_core_prepplan_prop.c - what holds of a plan for any stock and any menu.
 * The kitchens are random with a fixed seed: the same ones in every run.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "plan_rig.h"

#define BATCHES 8
#define TRAYS 6
#define DISHES 7
#define FISH_MAX 8
#define KITCHENS 60

static uint64_t seed;

static int
any(int below)
{
	seed = seed * 6364136223846793005u + 1442695040888963407u;
	return (int)((seed >> 33) % (uint64_t)below);
}

static const char *const kinds[] = { "COD", "HKE", "PLE", "LEM", "RJC", "MUS",
	"LBE" };

/* What a kitchen has before it is planned. */
struct before {
	int64_t count;
	grams weight_g, board_g;
};

/* --- a kitchen -------------------------------------------------------------*/

static void
any_weights(struct plan_batch *b)
{
	grams g[FISH_MAX], t;
	int64_t i, j;

	for (i = 0; i < b->count; i++) {
		t = 150 + any(2500);
		for (j = i; j > 0 && g[j - 1] < t; j--)
			g[j] = g[j - 1];
		g[j] = t;
	}
	rig_weigh(b, g);
	for (i = 0; i < b->count; i++)
		if (any(8) == 0)
			b->fish_pin[i] = (enum plan_pin)any(4);
}

static enum presentation
any_form(void)
{
	return any(2) == 0 ? PRES_WHOLE : (enum presentation)any(PRES_COUNT);
}

static enum cut_kind
any_kind(void)
{
	static const enum cut_kind usual[] = { CUT_SUPREME, CUT_FILLET,
		CUT_WHOLE, CUT_TRIM, CUT_MEAT };

	return any(2) == 0 ? usual[any((int)NELEM(usual))]
			   : (enum cut_kind)any(CUT_COUNT);
}

static void
any_batch(struct rig *k, int i)
{
	bool by_weight = any(4) == 0;
	const char *species = kinds[any(7)];
	struct plan_batch *b;
	char code[2] = { (char)('a' + i), '\0' };
	int64_t count = by_weight ? 0 : any(FISH_MAX + 1);

	b = rig_batch(k, code, species, any_form(), count,
	    any(8) == 0       ? any(40)
		: any(4) == 0 ? count * (200 + any(200))
			      : 200 + any(15000));
	b->by_weight = by_weight;
	b->use_by_day = RIG_DAY + any(4);
	b->use_by_utc = RIG_END(b->use_by_day - RIG_DAY) - 2 + any(4);
	b->held = any(7) == 0;
	b->price = any(3) == 0 ? -1 : any(4000);
	b->supplier_id = any(3);
	b->cv_bp = any(4000);
	b->parasite_free = any(2) == 0;
	if (any(6) == 0)
		b->pin = (enum plan_pin)any(4);
	if (count > 0 && any(2) == 0)
		any_weights(b);
	if (!by_weight && any(6) == 0)
		rig_board(b, 2, (grams[]){ 100 + any(500), 100 + any(500) });
}

static void
any_dish(struct rig *k, size_t service, int i)
{
	char name[2] = { (char)('a' + i), '\0' };
	struct plan_cut *c;
	grams low = 30 + any(250), target = low + any(60);
	const char *other;

	c = rig_dish(k, service,
	    &(struct rig_dish){ name, kinds[any(7)], any_kind(), any(2) == 0,
		low, target, target + any(80), any(18) });
	c->bought = any_form();
	c->house_yield_bp = any(4) == 0 ? 1000 + any(9001) : 0;
	c->finish_bp = any(3) == 0 ? 6000 + any(4001) : BP_ONE;
	c->price = any(2) == 0 ? -1 : any(3000);
	c->state = any(4) == 0 ? STATE_SERVED_RAW : STATE_RAW;
	if (any(3) == 0) {
		c->animals = 1 + any(9);
		c->animals_make = 1 + any(3);
	}
	k->wants[service][i].used = any(4) == 0 ? any(6) : 0;
	other = kinds[any(5)];
	if (any(3) == 0 && !str_eq(other, c->species))
		rig_or(k, service, other);
}

static void
any_yields(struct rig *k)
{
	int i, mean;

	for (i = 0; i < 16; i++) {
		mean = any(10) == 0 ? 500 + any(200) : 2000 + any(8001);
		rig_yield(k, any(2) == 0 ? "" : kinds[any(7)], any_form(),
		    any_kind(), any(2) == 0, mean, mean / 2 + any(mean / 2))
		    ->supplier_id = any(4) == 0 ? any(3) : 0;
	}
}

/* One cut of everything is known, so that most kitchens have something to do.
 */
static void
plain_yields(struct rig *k)
{
	rig_yield(k, "", PRES_WHOLE, CUT_SUPREME, true, 4800, 4400);
	rig_yield(k, "", PRES_WHOLE, CUT_SUPREME, false, 4300, 4000);
	rig_yield(k, "", PRES_WHOLE, CUT_FILLET, true, 4800, 4400);
	rig_yield(k, "", PRES_GUTTED, CUT_SUPREME, true, 5300, 5000);
	rig_yield(k, "", PRES_WHOLE, CUT_WHOLE, true, 9000, 9000);
	rig_yield(k, "", PRES_LIVE, CUT_MEAT, false, 2500, 2200);
	rig_yield(k, "", PRES_WHOLE, CUT_TRIM, false, 4300, 4000);
}

static void
any_kitchen(struct rig *k)
{
	int i, s;
	struct plan_offer o = { .id = 1 };

	rig_open(k);
	plain_yields(k);
	any_yields(k);
	for (i = 0; i < BATCHES; i++)
		any_batch(k, i);
	for (i = 0; i < TRAYS; i++) {
		char code[2] = { (char)('A' + i), '\0' };
		char name[2] = { (char)('a' + any(DISHES)), '\0' };

		rig_tray(k, code, name, kinds[any(7)], any(9),
		    RIG_END(any(3)) - 1 + any(3))
		    ->held = any(6) == 0;
	}
	for (s = 0; s <= any(3) && s < RIG_SERVICES - 1; s++)
		for (i = 0; i < DISHES - 3 * s; i++)
			any_dish(k, (size_t)s, i);
	for (i = 0; i < any(5); i++) {
		o.supplier_id = any(3);
		o.supplier[0] = (char)('a' + o.supplier_id);
		str_copy(o.species, sizeof(o.species), kinds[any(7)]);
		o.presentation = (enum presentation)any(3);
		o.fish_g = any(2) == 0 ? 0 : 300 + any(3000);
		o.price = 1 + any(4000);
		o.step_g = 1 + any(2000);
		rig_offer(k, &o);
	}
	k->problem.strict = any(4) == 0;
	k->problem.dead_shell_bp = any(2000);
	k->problem.dead_crustacean_bp = any(2000);
}

/* --- what holds ------------------------------------------------------------*/

static const struct plan_batch *
batch_of(const struct rig *k, const char *code)
{
	return &k->batches[code[0] - 'a'];
}

static bool
may_serve(bool held, int64_t use_by, const struct plan_service *s)
{
	return !held && use_by >= s->end_utc;
}

static void
check_take(const struct rig *k, const struct plan_take *t, int64_t *trays,
    int64_t *batches)
{
	const struct plan_service *s =
	    &k->services[k->problem.service_count - 1];
	const struct plan_batch *b;
	const struct plan_tray *tray;
	bool ok;

	if (t->tray) {
		tray = &k->trays[t->code[0] - 'A'];
		ok = may_serve(tray->held, tray->use_by_utc, s);
		ck_assert_int_le(t->portions, tray->left);
		*trays += t->portions;
	} else {
		b = batch_of(k, t->code);
		ok = may_serve(b->held, b->use_by_utc, s);
		ck_assert(t->reason != PLAN_TAKEN || b->pin != PLAN_LEAVE ||
		    t->opened); /* pieces that lay on the board already */
		*batches += t->portions;
	}
	ck_assert(t->portions >= 0 && t->fish >= 0 && t->weight_g >= 0);
	ck_assert(ok || t->reason == PLAN_BARRED);
	ck_assert(!ok || t->reason != PLAN_BARRED);
	if (t->reason != PLAN_TAKEN)
		ck_assert_int_eq(t->portions + t->fish + t->weight_g, 0);
	else
		ck_assert(t->portions > 0 || t->weight_g > 0);
}

static void
check_lines(const struct rig *k)
{
	const struct plan_line *l;
	int64_t trays, batches;
	size_t i, j;

	for (i = 0; i < k->plan.count; i++) {
		l = &k->plan.lines[i];
		trays = batches = 0;
		for (j = 0; j < l->take_count; j++)
			check_take(k, &l->takes[j], &trays, &batches);
		ck_assert(l->on_hand >= 0 && l->to_make >= 0);
		ck_assert_int_eq(
		    l->on_hand + l->to_make + l->short_of, l->to_have);
		ck_assert_int_eq(trays, l->on_hand);
		if (l->cut.kind != CUT_TRIM)
			ck_assert_int_eq(batches, l->to_make);
		ck_assert(!l->by_choice || l->short_of > 0);
	}
}

/* The cut of a line for a species. */
static const struct plan_cut *
cut_of(const struct rig *k, int line, const char *species)
{
	const struct plan_service *s =
	    &k->services[k->problem.service_count - 1];
	const struct plan_line *l = &k->plan.lines[line];
	size_t i, c;

	for (i = 0; i < s->want_count; i++)
		for (c = 0; c < s->wants[i].cut_count; c++)
			if (str_eq(s->wants[i].cuts[c].dish, l->cut.dish) &&
			    str_eq(s->wants[i].cuts[c].species, species))
				return &s->wants[i].cuts[c];
	ck_abort_msg("fish of a species its line does not take");
	return NULL;
}

static void
check_opened(const struct rig *k)
{
	const struct plan_opened *o;
	const struct plan_portions *p;
	const struct plan_cut *c;
	grams sum;
	size_t i, q, n;

	for (i = 0; i < k->plan.opened_count; i++) {
		o = &k->plan.opened[i];
		sum = 0;
		ck_assert(batch_of(k, o->batch)->held == false);
		for (q = 0; q < o->piece_count; q++)
			for (n = 0; n < o->pieces[q].cut_count; n++) {
				p = &o->pieces[q].cuts[n];
				c = cut_of(k, p->line, o->species);
				ck_assert_int_ge(p->portion_g, c->low_g);
				ck_assert_int_le(p->portion_g, c->high_g);
				ck_assert_int_gt(p->count, 0);
				sum += p->count * p->portion_g;
			}
		ck_assert_int_le(sum, o->weight_g);
		if (o->whole_line >= 0)
			ck_assert_uint_eq(o->piece_count, 0);
	}
}

static void
check_stock(const struct rig *k, const struct before *before)
{
	const struct plan_batch *b;
	grams sum, board;
	int64_t i, j;

	for (i = 0; i < BATCHES; i++) {
		b = &k->batches[i];
		sum = board = 0;
		ck_assert(b->count >= 0 && b->count <= before[i].count);
		ck_assert(
		    b->weight_g >= 0 && b->weight_g <= before[i].weight_g);
		for (j = 0; b->fish_g != NULL && j < b->count; j++) {
			ck_assert_int_gt(b->fish_g[j], 0);
			ck_assert(j == 0 || b->fish_g[j - 1] >= b->fish_g[j]);
			sum += b->fish_g[j];
		}
		if (b->fish_g != NULL && b->count > 0)
			ck_assert_int_eq(sum, b->weight_g);
		for (j = 0; j < (int64_t)b->board_count; j++)
			board += b->board_g[j];
		/* What lies on the board came from there or off the fish. */
		ck_assert_int_le(board + b->weight_g,
		    before[i].board_g + before[i].weight_g);
	}
}

static void
check_orders(const struct rig *k)
{
	const struct plan_order *o;
	size_t i;

	for (i = 0; i < k->plan.order_count; i++) {
		o = &k->plan.orders[i];
		ck_assert_int_ge(o->order_g, o->need_g);
		ck_assert_int_lt(o->order_g, o->need_g + o->step_g);
		ck_assert_int_eq(o->order_g % o->step_g, 0);
		ck_assert_int_gt(o->need_g, 0);
		ck_assert(o->fish_g == 0 || o->fish * o->fish_g == o->need_g);
	}
}

static void
remember(struct before *before, const struct rig *k)
{
	size_t i, j;

	for (i = 0; i < BATCHES; i++) {
		before[i].count = k->batches[i].count;
		before[i].weight_g = k->batches[i].weight_g;
		before[i].board_g = 0;
		for (j = 0; j < k->batches[i].board_count; j++)
			before[i].board_g += k->batches[i].board_g[j];
	}
}

START_TEST(any_plan)
{
	struct before before[BATCHES];
	struct rig k;
	size_t opened = 0, orders = 0, whole = 0, n;
	int i;

	seed = 309 + (uint64_t)_i;
	for (i = 0; i < KITCHENS; i++) {
		any_kitchen(&k);
		remember(before, &k);
		rig_plan(&k);
		check_lines(&k);
		check_opened(&k);
		check_stock(&k, before);
		check_orders(&k);
		ck_assert_int_le(k.plan.bound, k.plan.cost);
		opened += k.plan.opened_count;
		orders += k.plan.order_count;
		for (n = 0; n < k.plan.opened_count; n++)
			whole += k.plan.opened[n].whole_line >= 0;
		rig_close(&k);
	}
	/* The kitchens are not empty ones. */
	ck_assert_uint_gt(opened, KITCHENS / 3);
	ck_assert_uint_gt(orders, KITCHENS);
	ck_assert_uint_gt(whole, 0);
}
END_TEST

/* The same input twice gives the same plan, to the last word. */
START_TEST(same_twice)
{
	struct rig k;
	char *first, *again;
	int i;

	for (i = 0; i < KITCHENS / 3; i++) {
		seed = 5000 + (uint64_t)i;
		any_kitchen(&k);
		first = rig_text(rig_plan(&k));
		rig_close(&k);
		seed = 5000 + (uint64_t)i;
		any_kitchen(&k);
		again = rig_text(rig_plan(&k));
		rig_close(&k);
		ck_assert_str_eq(first, again);
		free(first);
		free(again);
	}
}
END_TEST

/* Nothing anybody said or paid, one service: only what is there counts. */
static void
plain(struct rig *k)
{
	size_t i, c;

	for (i = 0; i < BATCHES; i++) {
		k->batches[i].pin = PLAN_FREE;
		k->batches[i].by_weight = false;
		free(k->batches[i].fish_pin);
		k->batches[i].fish_pin = NULL;
		k->batches[i].price = -1;
	}
	for (c = 0; c < k->cut_count; c++) {
		k->cuts[c].price = -1;
		k->cuts[c].finish_bp = BP_ONE;
		k->cuts[c].kind = CUT_SUPREME;
		k->cuts[c].skin_on = true;
		k->cuts[c].house_yield_bp = 0;
	}
	k->problem.service_count = 1;
	k->yield_count = 7;
}

static int64_t
all_short(const struct plan *p)
{
	int64_t n = 0;
	size_t i;

	for (i = 0; i < p->count; i++)
		n += p->lines[i].short_of;
	return n;
}

/* More fish never leave more guests without. */
START_TEST(one_batch_more)
{
	struct rig k;
	int64_t less, more;
	int i, fewer = 0;

	for (i = 0; i < KITCHENS / 2; i++) {
		seed = 9000 + (uint64_t)i;
		any_kitchen(&k);
		plain(&k);
		k.stock.batch_count = BATCHES - 1;
		less = all_short(rig_plan(&k));
		k.stock.batch_count = BATCHES;
		rig_close(&k);
		seed = 9000 + (uint64_t)i;
		any_kitchen(&k);
		plain(&k);
		more = all_short(rig_plan(&k));
		rig_close(&k);
		ck_assert_msg(more <= less, "kitchen %d: %d short, then %d", i,
		    (int)less, (int)more);
		fewer += more < less;
	}
	ck_assert_int_gt(fewer, 3);
}
END_TEST

Suite *
suite_core_prepplan_prop(void)
{
	Suite *s = suite_create("core_prepplan_prop");
	TCase *tc = tcase_create("prop");

	tcase_add_unchecked_fixture(tc, rig_setup, rig_teardown);
	tcase_set_timeout(tc, 120);
	tcase_add_loop_test(tc, any_plan, 0, 2);
	tcase_add_test(tc, same_twice);
	tcase_add_test(tc, one_batch_more);
	suite_add_tcase(s, tc);
	return s;
}
