/* plan.c - the prep list and order list of a service. */
#include "ops/plan.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "exchange/plan_out.h"
#include "ops/fate.h"
#include "store/batches.h"
#include "store/bookings.h"
#include "store/menu.h"
#include "store/portions.h"

static enum rc
load_batches(struct plan_stock *stock, struct station *sn, struct err *err)
{
	struct batch_list l;
	struct plan_batch *b;
	size_t i;
	enum rc rc;

	if ((rc = batch_list_open(&l, sn->st, err)) != RC_OK)
		return rc;
	stock->batches = xcalloc(l.count, sizeof(*stock->batches));
	stock->batch_count = l.count;
	for (i = 0; i < l.count; i++) {
		b = &stock->batches[i];
		b->id = l.items[i].id;
		str_copy(b->code, sizeof(b->code), l.items[i].code);
		str_copy(b->species, sizeof(b->species), l.items[i].species);
		b->presentation = l.items[i].presentation;
		b->count = l.items[i].count_left;
		b->by_weight = l.items[i].count == 0;
		b->weight_g = l.items[i].weight_left;
		b->use_by_utc = l.items[i].use_by_utc;
		b->held = l.items[i].held;
	}
	batch_list_fini(&l);
	return RC_OK;
}

static enum rc
load_trays(struct plan_stock *stock, struct station *sn, struct err *err)
{
	struct portion_list l;
	struct plan_tray *t;
	size_t i;
	enum rc rc;

	if ((rc = portion_list_on_hand(&l, sn->st, err)) != RC_OK)
		return rc;
	stock->trays = xcalloc(l.count, sizeof(*stock->trays));
	stock->tray_count = l.count;
	for (i = 0; i < l.count; i++) {
		t = &stock->trays[i];
		t->id = l.items[i].id;
		str_copy(t->code, sizeof(t->code), l.items[i].code);
		t->cut_id = l.items[i].cut_id;
		str_copy(t->dish, sizeof(t->dish), l.items[i].dish);
		str_copy(t->species, sizeof(t->species), l.items[i].species);
		t->left = l.items[i].left;
		t->use_by_utc = l.items[i].use_by_utc;
		t->held = l.items[i].held;
	}
	portion_list_fini(&l);
	return RC_OK;
}

static int64_t
end_of(const struct service_window *w, day_no day)
{
	/* 24:00 is the first minute of the next day. */
	return utc_from_local(day + w->ends_min / 1440, w->ends_min % 1440 / 60,
	    w->ends_min % 60, 0);
}

/* Plan one service out of `stock`. */
static enum rc
plan_one(struct plan *out, struct station *sn, struct plan_stock *stock,
    const struct service *s, int64_t end_utc, struct err *err)
{
	struct plan_service ps = { .covers = s->covers, .end_utc = end_utc };
	struct cut_list cuts;
	size_t i;
	enum rc rc;

	if ((rc = cut_list_open(&cuts, sn->st, s->name, err)) != RC_OK)
		return rc;
	for (i = 0; i < cuts.count && rc == RC_OK; i++)
		rc = service_used(&cuts.items[i].used, sn->st, s->id,
		    cuts.items[i].dish, cuts.items[i].species, err);
	ps.cuts = cuts.items;
	ps.cut_count = cuts.count;
	if (rc == RC_OK)
		rc = plan_make(out, stock, &ps, &sn->species, &sn->yields, err);
	cut_list_fini(&cuts);
	return rc;
}

/* The services from now up to `day`/`last` that come first; each takes what it
 * needs out of `stock`. */
static enum rc
plan_earlier(int *count, struct station *sn, struct plan_stock *stock,
    day_no day, const struct service_window *last, struct err *err)
{
	int64_t now = clock_now(&sn->clock), end;
	const struct service_window *w;
	struct service_list l;
	struct plan p;
	size_t i;
	int k;
	enum rc rc;

	rc = service_list_open(&l, sn->st, local_from_utc(now).day, day, err);
	if (rc != RC_OK)
		return rc;
	/* By day as listed; within a day in the order of the settings. */
	for (i = 0; i < l.count && rc == RC_OK; i++) {
		if (i > 0 && l.items[i].day == l.items[i - 1].day)
			continue;
		for (k = 0; k < sn->cfg.service_count && rc == RC_OK; k++) {
			struct service s;

			w = &sn->cfg.services[k];
			if (l.items[i].day == day && w == last)
				break;
			end = end_of(w, l.items[i].day);
			rc = service_get(
			    &s, sn->st, l.items[i].day, w->name, NULL);
			if (rc == RC_NOTFOUND || (rc == RC_OK && end <= now)) {
				rc = RC_OK;
				continue;
			}
			if (rc == RC_OK)
				rc = plan_one(&p, sn, stock, &s, end, err);
			if (rc != RC_OK)
				break;
			plan_fini(&p);
			(*count)++;
		}
	}
	service_list_fini(&l);
	return rc;
}

static enum rc
make_report(struct plan_report *r, struct station *sn,
    const struct service_window *w, struct err *err)
{
	struct plan_stock stock = { 0 };
	struct service s;
	enum rc rc;

	if ((rc = service_get(&s, sn->st, r->day, w->name, err)) != RC_OK)
		return rc;
	r->covers = s.covers;
	if ((rc = load_batches(&stock, sn, err)) == RC_OK &&
	    (rc = load_trays(&stock, sn, err)) == RC_OK &&
	    (rc = plan_earlier(&r->earlier, sn, &stock, r->day, w, err)) ==
		RC_OK)
		rc = plan_one(&r->plan, sn, &stock, &s, r->end_utc, err);
	free(stock.batches);
	free(stock.trays);
	return rc;
}

enum rc
plan(struct buf *out, struct station *sn, const struct plan_wish *wish,
    struct err *err)
{
	struct plan_report r = {
		.kitchen = sn->cfg.kitchen,
		.species = &sn->species,
		.round_up_g = sn->cfg.round_up_g,
		.want_prep = wish->prep,
		.want_order = wish->order,
		.made_utc = clock_now(&sn->clock),
	};
	const struct service_window *w;
	char text[48];
	enum rc rc;

	rc = sitting_parse(&r.day, &w, &sn->cfg, wish->service, err);
	if (rc != RC_OK)
		return rc;
	r.service = w->name;
	r.end_utc = end_of(w, r.day);
	if (r.end_utc <= r.made_utc)
		return err_set(err, RC_REFUSED, 0,
		    "that service ended on %s: plan a coming one",
		    time_short(text, sizeof(text), r.end_utc));
	if ((rc = make_report(&r, sn, w, err)) != RC_OK)
		return rc;
	plan_orders(&r.orders, &r.order_count, &r.plan, r.round_up_g);
	plan_write(out, &r, wish->format);
	free(r.orders);
	plan_fini(&r.plan);
	return buf_check(out, "the list", err);
}
