/* plan_days.c - the services of the book, and what each will ask for. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/demand.h"
#include "plan_load.h"
#include "store/bookings.h"

/* 24:00 is the first minute of the next day. */
static int64_t
instant(day_no day, int minute)
{
	return utc_from_local(
	    day + minute / 1440, minute % 1440 / 60, minute % 60, 0);
}

static void
fill_want(struct plan_want *w, const struct demand_row *r)
{
	w->demand = (struct demand_line){
		.expected_c = r->expected_c,
		.low = (int)r->low80,
		.high = (int)r->high80,
		.target = (int)r->target,
		.out_bp = r->out_bp,
		.ratio_bp = r->tau_bp,
		.ratio = r->ratio,
		.why = r->bound,
		.share_bp = r->learned_bp,
		.taught = r->taught,
	};
	w->typed = (struct demand_wish){
		.fixed = (int)r->fixed,
		.floor = (int)r->floor,
		.ceiling = (int)r->ceiling,
	};
}

static const struct demand_row *
row_of(const struct demand_report *d, const char *dish)
{
	size_t i;

	for (i = 0; i < d->count; i++)
		if (str_eq(d->items[i].dish, dish))
			return &d->items[i];
	return NULL;
}

/* Cuts of one dish and part are one want; every part of a dish wants all that
 * the dish is expected to. */
static enum rc
fill_wants(struct plan_service *s, struct station *sn, int64_t service_id,
    const struct menu_cuts *cuts, const struct demand_report *d,
    struct err *err)
{
	struct plan_want *wants = xcalloc(cuts->count, sizeof(*wants)), *w;
	const struct plan_cut *c, *last = NULL;
	const struct demand_row *row;
	size_t i;
	int64_t used;
	enum rc rc;

	s->wants = wants;
	for (i = 0; i < cuts->count; i++) {
		c = &cuts->items[i];
		if ((row = row_of(d, c->dish)) == NULL)
			continue;
		if (last == NULL || last->part != c->part ||
		    !str_eq(last->dish, c->dish)) {
			w = &wants[s->want_count++];
			fill_want(w, row);
			w->cuts = c;
		}
		last = c;
		w = &wants[s->want_count - 1];
		w->cut_count++;
		rc = service_used(
		    &used, sn->st, service_id, c->dish, c->species, err);
		if (rc != RC_OK)
			return rc;
		w->used += used;
	}
	return RC_OK;
}

static enum rc
add_service(struct plan_days *out, struct station *sn, struct demand_desk *desk,
    day_no day, const struct service_window *w, const struct service *booked,
    struct err *err)
{
	struct demand_report d;
	struct plan_service *s;
	enum rc rc;

	if ((rc = demand_at(&d, desk, day, w, err)) != RC_OK)
		return rc;
	out->services =
	    grow(out->services, &out->cap, out->count, sizeof(*out->services));
	out->cuts =
	    grow(out->cuts, &out->cuts_cap, out->count, sizeof(*out->cuts));
	rc = menu_cuts_open(&out->cuts[out->count], sn->st, w->name, err);
	if (rc != RC_OK) {
		demand_report_fini(&d);
		return rc;
	}
	out->expected_c = d.covers_c;
	out->typed = d.typed >= 0;
	s = &out->services[out->count];
	memset(s, 0, sizeof(*s));
	s->day = day;
	str_copy(s->name, sizeof(s->name), w->name);
	s->covers = booked->covers;
	s->start_utc = instant(day, w->starts_min);
	s->end_utc = instant(day, w->ends_min);
	rc = fill_wants(s, sn, booked->id, &out->cuts[out->count], &d, err);
	out->count++;
	demand_report_fini(&d);
	return rc;
}

/* The services of one day, in the order of the settings. */
static enum rc
add_day(struct plan_days *out, struct station *sn, struct demand_desk *desk,
    day_no day, const struct service_window *last, bool is_last, int64_t now,
    struct err *err)
{
	const struct service_window *w;
	struct service s;
	int k;
	enum rc rc;

	for (k = 0; k < sn->cfg.service_count; k++) {
		w = &sn->cfg.services[k];
		rc = service_get(&s, sn->st, day, w->name, err);
		if (rc == RC_NOTFOUND && !(is_last && w == last)) {
			err_clear(err);
			continue;
		}
		if (rc != RC_OK)
			return rc;
		if (instant(day, w->ends_min) <= now)
			continue;
		rc = add_service(out, sn, desk, day, w, &s, err);
		if (rc != RC_OK || (is_last && w == last))
			return rc;
	}
	return RC_OK;
}

enum rc
plan_days_load(struct plan_days *out, struct station *sn, day_no day,
    const struct service_window *last, struct err *err)
{
	int64_t now = clock_now(&sn->clock);
	struct demand_desk *desk = NULL;
	struct service_list l;
	size_t i;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = service_list_open(
	    &l, sn->st, local_from_utc(now).day, day - 1, err);
	if (rc != RC_OK)
		return rc;
	desk = demand_desk_new(sn);
	for (i = 0; i < l.count && rc == RC_OK; i++)
		if (i == 0 || l.items[i].day != l.items[i - 1].day)
			rc = add_day(out, sn, desk, l.items[i].day, last, false,
			    now, err);
	service_list_fini(&l);
	if (rc == RC_OK)
		rc = add_day(out, sn, desk, day, last, true, now, err);
	demand_desk_free(desk);
	if (rc != RC_OK)
		plan_days_fini(out);
	return rc;
}

void
plan_days_fini(struct plan_days *d)
{
	size_t i;

	for (i = 0; i < d->count; i++) {
		menu_cuts_fini(&d->cuts[i]);
		free((void *)(uintptr_t)d->services[i].wants);
	}
	free(d->cuts);
	free(d->services);
	memset(d, 0, sizeof(*d));
}
