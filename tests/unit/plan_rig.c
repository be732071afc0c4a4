/* plan_rig.c - small kitchens for plan_make(). */
#include "plan_rig.h"

#include "unit.h"

#include <check.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/mem.h"
#include "base/str.h"
#include "kitchen.h"

static struct species_table fish;
static struct yield_table published;

void
rig_setup(void)
{
	kitchen_tables(&fish, &published);
}

void
rig_teardown(void)
{
	species_fini(&fish);
	yield_fini(&published);
}

const struct species_table *
rig_species(void)
{
	return &fish;
}

static enum rc
published_yield(struct plan_yield *out, const struct plan_cut *cut,
    enum presentation from, struct err *err)
{
	enum yield_form form = presentation_form(from);
	enum rc rc;

	if (cut->house_yield_bp != 0 && from == cut->bought) {
		out->mean_bp = out->low_bp = cut->house_yield_bp;
		return RC_OK;
	}
	rc = yield_find(&out->published, &published, cut->species, form,
	    cut_form(cut->kind, cut->skin_on, form), err);
	if (rc == RC_OK)
		out->mean_bp = out->low_bp = out->published.bp;
	return rc;
}

static enum rc
yield_of(struct plan_yield *out, void *arg, const struct plan_cut *cut,
    enum presentation from, int64_t supplier_id, struct err *err)
{
	const struct rig *k = arg;
	const struct rig_yield *y;
	size_t i;

	memset(out, 0, sizeof(*out));
	if (k->yield_fails != RC_OK)
		return err_set(err, k->yield_fails, 0, "the yields are gone");
	if (k->published)
		return published_yield(out, cut, from, err);
	if (cut->house_yield_bp != 0 && from == cut->bought) {
		out->mean_bp = out->low_bp = cut->house_yield_bp;
		return RC_OK;
	}
	for (i = 0; i < k->yield_count; i++) {
		y = &k->yields[i];
		if ((y->species[0] != '\0' &&
			!str_eq(y->species, cut->species)) ||
		    y->from != from || y->kind != cut->kind ||
		    y->skin_on != cut->skin_on ||
		    (y->supplier_id != 0 && y->supplier_id != supplier_id))
			continue;
		out->mean_bp = y->mean_bp;
		out->low_bp = y->low_bp;
		return RC_OK;
	}
	return RC_NOTFOUND;
}

void
rig_open(struct rig *k)
{
	int s;

	memset(k, 0, sizeof(*k));
	k->stock.batches = k->batches;
	k->stock.trays = k->trays;
	for (s = 0; s < RIG_SERVICES; s++) {
		k->services[s].day = RIG_DAY + s;
		k->services[s].start_utc = RIG_END(s) - 1000;
		k->services[s].end_utc = RIG_END(s);
		k->services[s].wants = k->wants[s];
	}
	k->problem = (struct plan_problem){
		.species = &fish,
		.stock = &k->stock,
		.services = k->services,
		.service_count = 1,
		.offers = k->offers,
		.yield = yield_of,
		.yield_arg = k,
		.step_g = 100,
	};
}

void
rig_close(struct rig *k)
{
	struct plan_batch *b;
	size_t i;

	plan_fini(&k->plan);
	for (i = 0; i < k->stock.batch_count; i++) {
		b = &k->batches[i];
		free(b->fish_g);
		free(b->fish_number);
		free(b->fish_pin);
		free(b->board_g);
	}
}

struct plan_batch *
rig_batch(struct rig *k, const char *code, const char *species,
    enum presentation p, int64_t count, grams weight)
{
	struct plan_batch *b = &k->batches[k->stock.batch_count++];

	ck_assert_uint_le(k->stock.batch_count, RIG_BATCHES);
	str_copy(b->code, sizeof(b->code), code);
	str_copy(b->species, sizeof(b->species), species);
	b->id = (int64_t)k->stock.batch_count;
	b->presentation = p;
	b->count = count;
	b->by_weight = count == 0;
	b->weight_g = weight;
	b->price = -1;
	b->use_by_utc = RIG_LATER;
	b->use_by_day = RIG_DAY + 9;
	return b;
}

void
rig_weigh(struct plan_batch *b, const grams *g)
{
	size_t n = (size_t)b->count, i;

	b->fish_g = xcalloc(n, sizeof(*b->fish_g));
	b->fish_number = xcalloc(n, sizeof(*b->fish_number));
	b->fish_pin = xcalloc(n, sizeof(*b->fish_pin));
	b->weight_g = 0;
	for (i = 0; i < n; i++) {
		b->fish_g[i] = g[i];
		b->fish_number[i] = (int)i + 1;
		b->weight_g += g[i];
	}
}

void
rig_board(struct plan_batch *b, size_t count, const grams *g)
{
	b->board_g = xcalloc(count, sizeof(*b->board_g));
	memcpy(b->board_g, g, count * sizeof(*g));
	b->board_count = count;
}

struct plan_tray *
rig_tray(struct rig *k, const char *code, const char *dish, const char *species,
    int64_t left, int64_t use_by)
{
	struct plan_tray *t = &k->trays[k->stock.tray_count++];

	ck_assert_uint_le(k->stock.tray_count, RIG_TRAYS);
	str_copy(t->code, sizeof(t->code), code);
	str_copy(t->dish, sizeof(t->dish), dish);
	str_copy(t->species, sizeof(t->species), species);
	t->left = left;
	t->use_by_utc = use_by;
	return t;
}

struct plan_cut *
rig_dish(struct rig *k, size_t service, const struct rig_dish *d)
{
	struct plan_service *s = &k->services[service];
	struct plan_want *w = &k->wants[service][s->want_count++];
	struct plan_cut *c = &k->cuts[k->cut_count++];

	ck_assert_uint_le(k->cut_count, RIG_CUTS);
	ck_assert_uint_le(s->want_count, RIG_WANTS);
	if (service + 1 > k->problem.service_count)
		k->problem.service_count = service + 1;
	str_copy(c->dish, sizeof(c->dish), d->dish);
	str_copy(c->species, sizeof(c->species), d->species);
	c->kind = d->kind;
	c->skin_on = d->skin_on;
	c->bought = PRES_WHOLE;
	c->low_g = d->low;
	c->target_g = d->target;
	c->high_g = d->high;
	c->finish_bp = BP_ONE;
	c->price = -1;
	c->part = 1;
	w->demand.target = d->want;
	w->demand.why = WHY_RATIO;
	w->cuts = c;
	w->cut_count = 1;
	return c;
}

struct plan_cut *
rig_or(struct rig *k, size_t service, const char *species)
{
	struct plan_service *s = &k->services[service];
	struct plan_cut *c = &k->cuts[k->cut_count++];

	ck_assert_uint_le(k->cut_count, RIG_CUTS);
	*c = c[-1];
	str_copy(c->species, sizeof(c->species), species);
	k->wants[service][s->want_count - 1].cut_count++;
	return c;
}

struct rig_yield *
rig_yield(struct rig *k, const char *species, enum presentation from,
    enum cut_kind kind, bool skin_on, int mean_bp, int low_bp)
{
	struct rig_yield *y = &k->yields[k->yield_count++];

	ck_assert_uint_le(k->yield_count, RIG_YIELDS);
	str_copy(y->species, sizeof(y->species), species);
	y->from = from;
	y->kind = kind;
	y->skin_on = skin_on;
	y->mean_bp = mean_bp;
	y->low_bp = low_bp;
	return y;
}

struct plan_offer *
rig_offer(struct rig *k, const struct plan_offer *o)
{
	ck_assert_uint_lt(k->problem.offer_count, RIG_OFFERS);
	k->offers[k->problem.offer_count] = *o;
	return &k->offers[k->problem.offer_count++];
}

const struct plan *
rig_plan(struct rig *k)
{
	struct err err = { 0 };

	plan_fini(&k->plan);
	ck_assert_msg(
	    plan_make(&k->plan, &k->problem, &err) == RC_OK, "%s", err.text);
	return &k->plan;
}

const struct plan_line *
rig_line(const struct rig *k, const char *dish)
{
	size_t i;

	for (i = 0; i < k->plan.count; i++)
		if (str_eq(k->plan.lines[i].cut.dish, dish))
			return &k->plan.lines[i];
	ck_abort_msg("no line %s", dish);
	return NULL;
}

const struct plan_take *
rig_take(const struct rig *k, const char *dish, const char *code)
{
	const struct plan_line *l = rig_line(k, dish);
	size_t i;

	for (i = 0; i < l->take_count; i++)
		if (str_eq(l->takes[i].code, code))
			return &l->takes[i];
	return NULL;
}

int64_t
rig_cut_g(const struct rig *k, const char *dish, grams *least, grams *most)
{
	const struct plan_portions *c;
	const struct plan_opened *o;
	size_t i, p, q;
	int64_t n = 0;

	*least = *most = 0;
	for (i = 0; i < k->plan.opened_count; i++)
		for (p = 0; p < k->plan.opened[i].piece_count; p++) {
			o = &k->plan.opened[i];
			for (q = 0; q < o->pieces[p].cut_count; q++) {
				c = &o->pieces[p].cuts[q];
				if (!str_eq(
					k->plan.lines[c->line].cut.dish, dish))
					continue;
				n += c->count;
				if (*least == 0 || c->portion_g < *least)
					*least = c->portion_g;
				if (c->portion_g > *most)
					*most = c->portion_g;
			}
		}
	return n;
}

/* --- a plan written out ----------------------------------------------------*/

static void
line_text(struct buf *b, const struct plan_line *l)
{
	const struct plan_take *t;
	size_t i;

	buf_printf(b,
	    "%s have %" PRId64 " hand %" PRId64 " make %" PRId64
	    " short %" PRId64 " %d %d\n",
	    l->cut.dish, l->to_have, l->on_hand, l->to_make, l->short_of,
	    l->by_choice, l->order_known);
	for (i = 0; i < l->take_count; i++) {
		t = &l->takes[i];
		buf_printf(b,
		    " %s %d %d %" PRId64 " portions %" PRId64 " fish %" PRId64
		    " g %d\n",
		    t->code, (int)t->reason, (int)t->bar, t->portions, t->fish,
		    t->weight_g, t->yield.mean_bp);
	}
}

static void
opened_text(struct buf *b, const struct plan_opened *o)
{
	size_t i, k;

	buf_printf(b, "%s fish %d %" PRId64 " g %d %d whole %d:", o->batch,
	    o->number, o->weight_g, o->on_board, o->troncon, o->whole_line);
	for (i = 0; i < o->piece_count; i++) {
		buf_printf(b, " [");
		for (k = 0; k < o->pieces[i].cut_count; k++)
			buf_printf(b, "%" PRId64 "x%" PRId64 "@%d ",
			    o->pieces[i].cuts[k].count,
			    o->pieces[i].cuts[k].portion_g,
			    o->pieces[i].cuts[k].line);
		buf_printf(b, "trim %" PRId64 " %d]", o->pieces[i].trim_g,
		    o->pieces[i].kept);
	}
	buf_putc(b, '\n');
}

char *
rig_text(const struct plan *p)
{
	struct buf b;
	char *text;
	size_t i;

	buf_init(&b, (size_t)1 << 20);
	for (i = 0; i < p->count; i++)
		line_text(&b, &p->lines[i]);
	for (i = 0; i < p->opened_count; i++)
		opened_text(&b, &p->opened[i]);
	for (i = 0; i < p->inversion_count; i++)
		buf_printf(&b, "%s before %s %d\n", p->inversions[i].later,
		    p->inversions[i].earlier, (int)p->inversions[i].reason);
	for (i = 0; i < p->order_count; i++)
		buf_printf(&b,
		    "order %s %d %s %" PRId64 " of %" PRId64 " g, %" PRId64
		    " of %" PRId64 " g\n",
		    p->orders[i].species, (int)p->orders[i].bought,
		    p->orders[i].supplier, p->orders[i].fish,
		    p->orders[i].fish_g, p->orders[i].order_g,
		    p->orders[i].need_g);
	buf_printf(&b, "cost %" PRId64 " bound %" PRId64 " %d\n", p->cost,
	    p->bound, p->proved);
	text = xstrdup(buf_text(&b));
	buf_fini(&b);
	return text;
}

void
rig_open_hake(struct rig *k)
{
	rig_open(k);
	rig_yield(k, "", PRES_WHOLE, CUT_SUPREME, true, 4800, 4400);
	rig_yield(k, "", PRES_WHOLE, CUT_SUPREME, false, 4320, 4000);
	rig_yield(k, "", PRES_WHOLE, CUT_FILLET, true, 4800, 4400);
	rig_yield(k, "", PRES_WHOLE, CUT_LOIN, false, 2160, 2000);
	rig_yield(k, "", PRES_WHOLE, CUT_TRIM, false, 4320, 4000);
	rig_yield(k, "", PRES_WHOLE, CUT_WHOLE, true, 9000, 8800);
}

struct plan_batch *
rig_fish(struct rig *k, const char *code, const char *species, int64_t count,
    grams each)
{
	struct plan_batch *b =
	    rig_batch(k, code, species, PRES_WHOLE, count, count * each);
	grams g[40];
	size_t i;

	for (i = 0; i < NELEM(g); i++)
		g[i] = each;
	rig_weigh(b, g);
	return b;
}

struct plan_cut *
rig_hake(struct rig *k, const char *name, enum cut_kind kind, bool skin_on,
    grams low, grams target, grams high, int want)
{
	return rig_dish(k, 0,
	    &(struct rig_dish){
		name, "HKE", kind, skin_on, low, target, high, want });
}

void
rig_ends(struct plan_batch *b, int days)
{
	b->use_by_day = RIG_DAY + days;
	b->use_by_utc = RIG_END(0) + 86400 * days;
}
