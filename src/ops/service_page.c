/* service_page.c - one service, dish by dish. */
#include "ops/service_page.h"

#include <stdlib.h>
#include <string.h>

#include "aside.h"
#include "base/mem.h"
#include "base/str.h"
#include "closing.h"
#include "demand_known.h"
#include "hand.h"
#include "ops/demand.h"
#include "ops/fate.h"
#include "store/audit.h"
#include "store/bookings.h"
#include "store/menu.h"

/* What the dishes are put together from. */
struct parts {
	struct dish_sold_list dishes;
	struct menu_cuts cuts;
	struct sale_list used, sold;
	struct hand hand;
};

static void
parts_fini(struct parts *t)
{
	dish_sold_list_fini(&t->dishes);
	menu_cuts_fini(&t->cuts);
	sale_list_fini(&t->used);
	sale_list_fini(&t->sold);
	hand_fini(&t->hand);
}

static enum rc
load_parts(struct parts *t, struct station *sn, const struct service_page *p,
    struct err *err)
{
	const char *name = p->window->name;
	enum rc rc;

	memset(t, 0, sizeof(*t));
	if ((rc = dish_sold_list_open(&t->dishes, sn->st, name, err)) !=
		RC_OK ||
	    (rc = menu_cuts_open(&t->cuts, sn->st, name, err)) != RC_OK ||
	    (rc = hand_load(&t->hand, sn, err)) != RC_OK || p->service_id == 0)
		return rc;
	rc = sale_list_used(&t->used, sn->st, p->service_id, err);
	return rc == RC_OK
	    ? sale_list_open(&t->sold, sn->st, p->service_id, err)
	    : rc;
}

/* --- what is on hand for a dish -------------------------------------------*/

/* How far a unit serves this service. */
enum serves {
	SERVES_READY,
	SERVES_EARLY, /* in date at first, not through its end */
	SERVES_FROZEN,
	SERVES_NOT,
	SERVES_COUNT
};

static enum serves
serves(const struct service_page *p, const struct portion *u)
{
	int64_t from = p->phase == SERVICE_AHEAD ? p->begins_utc : p->now_utc;

	if (u->held || u->use_by_utc < from)
		return SERVES_NOT;
	if (u->keep == KEEP_FROZEN)
		return SERVES_FROZEN;
	return u->use_by_utc < p->ends_utc ? SERVES_EARLY : SERVES_READY;
}

/* The part of its dish a species goes into; 0 when the menu has no such cut
 * any more: what was made stands in for the first. */
static int
part_of(const struct menu_cuts *cuts, const char *dish, const char *species)
{
	size_t i;

	for (i = 0; i < cuts->count; i++)
		if (str_eq(cuts->items[i].dish, dish) &&
		    str_eq(cuts->items[i].species, species))
			return cuts->items[i].part;
	for (i = 0; i < cuts->count; i++)
		if (str_eq(cuts->items[i].dish, dish))
			return cuts->items[i].part;
	return 0;
}

/* The units come in order: the first of each species is the one to take. */
static void
take_next(struct service_dish *d, const struct portion *u)
{
	struct service_unit *n;
	size_t i;

	for (i = 0; i < d->next_count; i++)
		if (str_eq(d->next[i].species, u->species))
			return;
	if (d->next_count == SERVICE_NEXT_MAX)
		return;
	n = &d->next[d->next_count++];
	str_copy(n->code, sizeof(n->code), u->code);
	str_copy(n->species, sizeof(n->species), u->species);
	n->left = u->left;
	n->use_by_utc = u->use_by_utc;
}

/* Servings of one part. */
struct part {
	int part;
	int64_t left[SERVES_COUNT];
};

static struct part *
part_at(struct part **parts, size_t *count, int part)
{
	size_t i, cap = *count;

	for (i = 0; i < *count; i++)
		if ((*parts)[i].part == part)
			return &(*parts)[i];
	*parts = grow(*parts, &cap, *count, sizeof(**parts));
	memset(&(*parts)[i], 0, sizeof(**parts));
	(*parts)[i].part = part;
	(*count)++;
	return &(*parts)[i];
}

/* Plates when units that serve up to this far are taken: a plate needs every
 * part, so the one with least decides. */
static int64_t
plates(const struct part *parts, size_t count, enum serves most)
{
	int64_t least = 0, n;
	size_t i;
	int s;

	for (i = 0; i < count; i++) {
		for (s = SERVES_READY, n = 0; s <= (int)most; s++)
			n += parts[i].left[s];
		if (i == 0 || n < least)
			least = n;
	}
	return least;
}

static void
fill_hand(
    struct service_dish *d, const struct service_page *p, const struct parts *t)
{
	struct part *parts = NULL;
	const struct portion *u;
	size_t count = 0, i;
	enum serves s;

	for (i = 0; i < t->cuts.count; i++)
		if (str_eq(t->cuts.items[i].dish, d->dish))
			part_at(&parts, &count, t->cuts.items[i].part);
	for (i = 0; i < t->hand.portions.count; i++) {
		u = &t->hand.portions.items[i];
		if (u->dish_id != d->dish_id)
			continue;
		s = serves(p, u);
		part_at(&parts, &count, part_of(&t->cuts, d->dish, u->species))
		    ->left[s] += u->left;
		if (s == SERVES_READY || s == SERVES_EARLY)
			take_next(d, u);
		if (s == SERVES_NOT)
			d->barred += u->left;
	}
	d->ready = plates(parts, count, SERVES_READY);
	d->early = plates(parts, count, SERVES_EARLY) - d->ready;
	d->frozen = plates(parts, count, SERVES_FROZEN) - d->ready - d->early;
	free(parts);
}

/* --- a dish ---------------------------------------------------------------*/

static const struct sale *
sale_of(const struct sale_list *l, int64_t dish_id)
{
	size_t i;

	for (i = 0; i < l->count; i++)
		if (l->items[i].dish_id == dish_id)
			return &l->items[i];
	return NULL;
}

static const struct demand_row *
forecast_for(const struct service_page *p, int64_t dish_id)
{
	size_t i;

	for (i = 0; p->forecast && i < p->report.count; i++)
		if (p->report.items[i].dish_id == dish_id)
			return &p->report.items[i];
	return NULL;
}

/* Is the dish of this service, by the menu or by what happened? */
static bool
belongs(const struct service_page *p, const struct parts *t,
    const struct dish_sold *d)
{
	return (d->on_menu && d->share_bp > 0) ||
	    forecast_for(p, d->id) != NULL ||
	    sale_of(&t->used, d->id) != NULL ||
	    sale_of(&t->sold, d->id) != NULL;
}

static void
fill_dish(struct service_dish *out, const struct service_page *p,
    const struct parts *t, const struct dish_sold *d)
{
	const struct demand_row *f = forecast_for(p, d->id);
	const struct sale *used = sale_of(&t->used, d->id);
	const struct sale *sold = sale_of(&t->sold, d->id);

	memset(out, 0, sizeof(*out));
	out->dish_id = d->id;
	str_copy(out->dish, sizeof(out->dish), d->code);
	str_copy(out->name, sizeof(out->name), d->name);
	out->ran_out_at = SOLD_ON;
	out->out = used == NULL ? 0 : used->sold;
	out->forecast = f != NULL;
	if (f != NULL) {
		out->expected_c = f->expected_c;
		out->low80 = f->low80;
		out->high80 = f->high80;
		out->target = f->target;
	}
	out->sold_known = sold != NULL;
	if (sold != NULL) {
		out->sold = sold->sold;
		out->ran_out_at = sold->ran_out_at;
	}
	fill_hand(out, p, t);
}

/* --- the page -------------------------------------------------------------*/

/* The service itself; what hangs on it stays zero when nobody booked. */
static enum rc
load_service(struct service_page *p, struct station *sn, struct err *err)
{
	struct service s = { .day = p->day };
	enum rc rc;

	str_copy(s.name, sizeof(s.name), p->window->name);
	service_label(p->label, sizeof(p->label), &s);
	p->typed = -1;
	rc = service_get(&s, sn->st, p->day, p->window->name, NULL);
	if (rc == RC_NOTFOUND)
		return RC_OK;
	if (rc != RC_OK) /* once more, for what is wrong */
		return service_get(&s, sn->st, p->day, p->window->name, err);
	p->service_id = s.id;
	p->booked = true;
	p->covers = s.covers;
	p->typed = s.expected;
	rc = closing_get(&p->closing, sn->st, s.id, NULL);
	p->closed = rc == RC_OK;
	return rc == RC_OK || rc == RC_NOTFOUND
	    ? RC_OK
	    : closing_get(&p->closing, sn->st, s.id, err);
}

/* All but the forecast, which is there or is not. */
static enum rc
load_rest(struct service_page *p, struct station *sn, struct err *err)
{
	struct parts t;
	size_t i;
	enum rc rc;

	p->now_utc = clock_now(&sn->clock);
	p->phase = p->now_utc < p->begins_utc ? SERVICE_AHEAD
	    : p->now_utc < p->ends_utc        ? SERVICE_NOW
					      : SERVICE_OVER;
	if ((rc = load_service(p, sn, err)) != RC_OK ||
	    (rc = portion_uses_open(&p->uses, sn->st, p->service_id,
		 utc_from_local(p->day, 0, 0, 0), SERVICE_USES_MAX, err)) !=
		RC_OK)
		return rc;
	if ((rc = load_parts(&t, sn, p, err)) == RC_OK) {
		p->dishes = xcalloc(t.dishes.count, sizeof(*p->dishes));
		for (i = 0; i < t.dishes.count; i++)
			if (belongs(p, &t, &t.dishes.items[i]))
				fill_dish(&p->dishes[p->dish_count++], p, &t,
				    &t.dishes.items[i]);
		for (i = 0; i < t.used.count; i++)
			p->out_total += t.used.items[i].sold;
	}
	parts_fini(&t);
	return rc;
}

static void
rest_fini(struct service_page *p)
{
	free(p->dishes);
	portion_uses_fini(&p->uses);
}

/* Made, or why it cannot be; an error of the file is one. */
static enum rc
make_forecast(struct service_page *p, struct station *sn, struct err *err)
{
	struct err why = { 0 };
	enum rc rc = demand_of(&p->report, sn, p->day, p->window, &why);

	p->due = false;
	p->forecast = rc == RC_OK && !p->report.beyond;
	str_copy(p->no_forecast, sizeof(p->no_forecast), why.text);
	return rc == RC_OK || rc == RC_NOTFOUND || rc == RC_INVALID
	    ? RC_OK
	    : err_set(err, rc, why.lib, "%s", why.text);
}

enum rc
service_page_load(struct service_page *out, struct station *sn, day_no day,
    const struct service_window *w, bool forecast, struct err *err)
{
	enum rc rc = RC_OK;

	memset(out, 0, sizeof(*out));
	out->day = day;
	out->window = w;
	out->begins_utc = service_begins(w, day);
	out->ends_utc = service_ends(w, day);
	out->due = true;
	if (forecast)
		rc = make_forecast(out, sn, err);
	if (rc == RC_OK)
		rc = load_rest(out, sn, err);
	if (rc != RC_OK)
		service_page_fini(out);
	return rc;
}

enum rc
service_page_again(struct service_page *p, struct station *sn, struct err *err)
{
	struct service_page anew = { .day = p->day,
		.window = p->window,
		.begins_utc = p->begins_utc,
		.ends_utc = p->ends_utc,
		.due = p->due,
		.forecast = p->forecast,
		.report = p->report };
	enum rc rc = load_rest(&anew, sn, err);

	str_copy(anew.no_forecast, sizeof(anew.no_forecast), p->no_forecast);
	if (rc != RC_OK) {
		rest_fini(&anew);
		return rc;
	}
	rest_fini(p);
	*p = anew;
	return RC_OK;
}

void
service_page_fini(struct service_page *p)
{
	rest_fini(p);
	demand_report_fini(&p->report);
	memset(p, 0, sizeof(*p));
}

void
service_page_default(
    day_no *day, const struct service_window **w, const struct station *sn)
{
	struct local_time now = local_from_utc(clock_now(&sn->clock));

	*day = now.day;
	*w = sitting_present(&sn->cfg, &now);
}

void
service_page_step(day_no *day, const struct service_window **w,
    const struct config *cfg, int step)
{
	int i = sitting_of(cfg, (*w)->name) + step;
	day_no on = *day;

	if (i < 0) {
		i = cfg->service_count - 1;
		on--;
	} else if (i == cfg->service_count) {
		i = 0;
		on++;
	}
	if (on < DAY_MIN || on > DAY_MAX)
		return;
	*day = on;
	*w = &cfg->services[i];
}

/* --- the forecast, beside the screen --------------------------------------*/

enum rc
service_recorded(
    int64_t *out, struct station *sn, int64_t since, struct err *err)
{
	/* What happens to stock is no news to a forecast. */
	return audit_last_but(out, sn->st, since,
	    ",use,discard,count,freeze,thaw,hold,release,prep,receive,print,"
	    "reprint,labels,answer,cancel,confirmed,task,backup,",
	    err);
}

struct service_beside {
	struct aside *aside;
	struct service_page made; /* the thread's: its forecast alone */
};

static enum rc
work(struct station *sn, void *arg, struct err *err)
{
	return make_forecast(arg, sn, err);
}

enum rc
service_beside_start(struct service_beside **out, struct station *sn,
    const struct service_page *p, struct err *err)
{
	struct service_beside *b = xcalloc(1, sizeof(*b));
	enum rc rc;

	*out = NULL;
	b->made.day = p->day;
	b->made.window = p->window;
	if ((rc = aside_start(&b->aside, sn, work, &b->made, err)) == RC_OK)
		*out = b;
	else
		free(b);
	return rc;
}

enum rc
service_beside_take(struct service_page *p, struct station *sn,
    struct service_beside *b, int wait_ms, struct err *err)
{
	enum rc rc = aside_wait(b->aside, wait_ms, err);

	if (rc != RC_OK || b->made.day != p->day || b->made.window != p->window)
		return rc;
	demand_report_fini(&p->report);
	p->report = b->made.report;
	p->due = false;
	p->forecast = b->made.forecast;
	str_copy(p->no_forecast, sizeof(p->no_forecast), b->made.no_forecast);
	memset(&b->made.report, 0, sizeof(b->made.report));
	return service_page_again(p, sn, err);
}

void
service_beside_free(struct service_beside *b)
{
	if (b == NULL)
		return;
	aside_free(b->aside);
	demand_report_fini(&b->made.report);
	free(b);
}
