/* trace_guess.c - which batches a plate may have come from. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/fate.h"
#include "ops/trace_page.h"
#include "store/bookings.h"
#include "store/sales.h"

/* Longer than anything chilled is kept; what was frozen counts from when it
 * was taken out. */
#define BACK_DAYS 30

static int
by_name(const void *a, const void *b)
{
	const struct trace_dish *x = a, *y = b;
	int by = strcmp(x->name, y->name);

	return by != 0 ? by : strcmp(x->code, y->code);
}

static enum rc
load_dishes(struct trace_choices *out, struct station *sn, struct err *err)
{
	struct dish_sold_list l;
	size_t i;
	enum rc rc;

	if ((rc = dish_sold_list_open(&l, sn->st, "", err)) != RC_OK)
		return rc;
	out->dishes = xcalloc(l.count, sizeof(*out->dishes));
	out->dish_count = l.count;
	for (i = 0; i < l.count; i++) {
		str_copy(out->dishes[i].code, sizeof(out->dishes[i].code),
		    l.items[i].code);
		str_copy(out->dishes[i].name, sizeof(out->dishes[i].name),
		    l.items[i].name);
	}
	if (l.count > 1)
		qsort(out->dishes, l.count, sizeof(*out->dishes), by_name);
	dish_sold_list_fini(&l);
	return RC_OK;
}

static void
put_service(struct trace_service *s, day_no day, const char *name)
{
	char text[16];

	s->day = day;
	str_copy(s->name, sizeof(s->name), name);
	str_fmt(s->word, sizeof(s->word), "%s/%s",
	    day_print(text, sizeof(text), day), name);
}

/* Newest day first, within a day the last sitting first. */
static bool
later(
    const struct config *cfg, const struct service *a, const struct service *b)
{
	const struct service_window *x = config_service(cfg, a->name);
	const struct service_window *y = config_service(cfg, b->name);

	if (a->day != b->day || x == NULL || y == NULL)
		return a->day > b->day;
	return x->starts_min > y->starts_min;
}

static void
sort_services(struct service_list *l, const struct config *cfg)
{
	struct service t;
	size_t i, j;

	for (i = 1; i < l->count; i++)
		for (j = i; j > 0 && later(cfg, &l->items[j], &l->items[j - 1]);
		     j--) {
			t = l->items[j];
			l->items[j] = l->items[j - 1];
			l->items[j - 1] = t;
		}
}

static enum rc
load_services(struct trace_choices *out, struct station *sn, struct err *err)
{
	int64_t now = clock_now(&sn->clock);
	day_no today = local_from_utc(now).day;
	const struct service_window *w;
	struct service_list l;
	size_t i;
	enum rc rc;

	rc = service_list_open(
	    &l, sn->st, today - TRACE_SERVICES_DAYS, today, err);
	if (rc != RC_OK)
		return rc;
	sort_services(&l, &sn->cfg);
	out->services = xcalloc(l.count, sizeof(*out->services));
	for (i = 0; i < l.count; i++) {
		w = config_service(&sn->cfg, l.items[i].name);
		if (w == NULL || service_begins(w, l.items[i].day) > now)
			continue;
		put_service(&out->services[out->service_count++],
		    l.items[i].day, l.items[i].name);
	}
	service_list_fini(&l);
	return RC_OK;
}

enum rc
trace_choices_load(
    struct trace_choices *out, struct station *sn, struct err *err)
{
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = load_dishes(out, sn, err)) == RC_OK)
		rc = load_services(out, sn, err);
	if (rc != RC_OK)
		trace_choices_fini(out);
	return rc;
}

void
trace_choices_fini(struct trace_choices *c)
{
	free(c->dishes);
	free(c->services);
	memset(c, 0, sizeof(*c));
}

/* --- candidates ------------------------------------------------------------*/

static enum rc
find_dish(struct dish_sold *out, struct station *sn, const char *dish,
    struct err *err)
{
	const struct dish_sold *d;
	struct dish_sold_list l;
	enum rc rc;

	if ((rc = dish_sold_list_open(&l, sn->st, "", err)) != RC_OK)
		return rc;
	d = dish_sold_find(&l, dish);
	if (d == NULL)
		rc = err_set(err, RC_NOTFOUND, 0,
		    "dish \"%.32s\" was never on the menu", dish);
	else
		*out = *d;
	dish_sold_list_fini(&l);
	return rc;
}

/* What was counted as sold when the service was closed. */
static enum rc
find_sold(struct trace_guess *g, struct station *sn, int64_t service_id,
    int64_t dish_id, struct err *err)
{
	struct sale_list l;
	size_t i;
	enum rc rc;

	g->sold = -1;
	if ((rc = sale_list_open(&l, sn->st, service_id, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count; i++)
		if (l.items[i].dish_id == dish_id)
			g->sold = l.items[i].sold;
	sale_list_fini(&l);
	return RC_OK;
}

static struct trace_candidate *
candidate(
    struct trace_guess *g, struct station *sn, const struct chain_candidate *c)
{
	const struct species *sp;
	struct trace_candidate *t;
	size_t i;

	for (i = 0; i < g->count; i++)
		if (str_eq(g->items[i].is.batch, c->batch))
			return &g->items[i];
	t = &g->items[g->count++];
	t->is = *c;
	t->is.on_hand = t->is.units = t->is.use_by_utc = 0;
	sp = species_find(&sn->species, c->species_code);
	str_fmt(t->species, sizeof(t->species), "%s",
	    sp == NULL ? c->species_code : sp->name);
	return t;
}

static enum rc
find_batches(struct trace_guess *g, struct station *sn, int64_t service_id,
    int64_t dish_id, struct err *err)
{
	const struct chain_time t = {
		utc_from_local(g->service.day - BACK_DAYS, 0, 0, 0),
		g->begin_utc,
		g->at_utc == 0 ? g->end_utc : g->at_utc + 1,
	};
	struct chain_candidates scanned = { 0 }, there = { 0 };
	struct trace_candidate *c;
	size_t i;
	enum rc rc;

	/* Not the sum of the batches: a serving of several is of each. */
	if ((rc = chain_served(
		 &g->scanned, sn->st, service_id, dish_id, err)) != RC_OK ||
	    (rc = chain_scanned(&scanned, sn->st, service_id, dish_id, err)) !=
		RC_OK ||
	    (rc = chain_on_hand(&there, sn->st, dish_id, &t, err)) != RC_OK)
		goto done;
	g->items = xcalloc(scanned.count + there.count, sizeof(*g->items));
	for (i = 0; i < scanned.count; i++)
		(void)candidate(g, sn, &scanned.items[i]);
	g->certain = g->count;
	for (i = 0; i < there.count; i++) {
		c = candidate(g, sn, &there.items[i]);
		c->is.on_hand = there.items[i].on_hand;
		c->is.units = there.items[i].units;
		c->is.use_by_utc = there.items[i].use_by_utc;
	}
done:
	free(scanned.items);
	free(there.items);
	return rc;
}

/* --- the time of the plate ------------------------------------------------*/

const char *
trace_odds_word(enum trace_odds o)
{
	static const char *const words[] = {
		[ODDS_CERTAIN] = "certain",
		[ODDS_LIKELY] = "likely",
		[ODDS_POSSIBLE] = "possible",
		[ODDS_UNSEEN] = "only if not scanned",
		[ODDS_NONE] = "not by the record",
	};

	return words[o];
}

/* "20:15" in the service; behind midnight it is the next day's. */
static enum rc
read_at(struct trace_guess *g, const char *at, struct err *err)
{
	int hour, minute, used = 0;
	int64_t utc;

	if (at == NULL)
		return RC_OK;
	if (sscanf(at, "%2d:%2d%n", &hour, &minute, &used) != 2 ||
	    at[used] != '\0' || hour < 0 || hour > 23 || minute < 0 ||
	    minute > 59)
		return err_set(err, RC_INVALID, 0,
		    "\"%.20s\" is no time: write it as HH:MM, such as 20:15",
		    at);
	utc = utc_from_local(g->service.day, hour, minute, 0);
	if (utc < g->begin_utc)
		utc = utc_from_local(g->service.day + 1, hour, minute, 0);
	/* A plate may leave the pass a while after the last order. */
	if (utc > g->end_utc + (int64_t)3 * 3600)
		return err_set(err, RC_INVALID, 0,
		    "%s is not within the service %s", at, g->service.word);
	g->at_utc = utc;
	return RC_OK;
}

static enum rc
count_scans(struct trace_guess *g, struct station *sn, int64_t service_id,
    int64_t dish_id, struct err *err)
{
	struct trace_candidate *c;
	struct chain_scan *scans;
	int64_t near = g->at_utc - (int64_t)TRACE_NEAR_MINUTES * 60;
	size_t i, k, n;
	enum rc rc;

	rc = chain_scans_open(&scans, &n, sn->st, service_id, dish_id, err);
	for (i = 0; rc == RC_OK && i < n; i++)
		for (k = 0; k < g->count; k++) {
			c = &g->items[k];
			if (!str_eq(c->is.batch, scans[i].batch))
				continue;
			if (g->at_utc == 0 ||
			    (scans[i].at_utc >= near &&
				scans[i].at_utc <= g->at_utc))
				c->near += scans[i].servings;
			else if (scans[i].at_utc < near)
				c->earlier += scans[i].servings;
			else
				c->after += scans[i].servings;
		}
	free(scans);
	return rc;
}

static int
by_odds(const void *a, const void *b)
{
	const struct trace_candidate *x = a, *y = b;

	if (x->odds != y->odds)
		return x->odds < y->odds ? -1 : 1;
	if (x->near != y->near)
		return x->near > y->near ? -1 : 1;
	if (x->earlier != y->earlier)
		return x->earlier > y->earlier ? -1 : 1;
	if (x->is.use_by_utc != y->is.use_by_utc)
		return x->is.use_by_utc < y->is.use_by_utc ? -1 : 1;
	return strcmp(x->is.batch, y->is.batch);
}

/* What each can be, most likely first. */
static void
weigh_up(struct trace_guess *g)
{
	bool all = g->sold >= 0 && g->scanned >= g->sold;
	struct trace_candidate *c;
	size_t i, may = 0;

	for (i = 0; i < g->count; i++) {
		c = &g->items[i];
		c->unseen = c->is.on_hand - c->near - c->earlier - c->after;
		if (c->unseen < 0 || all)
			c->unseen = 0;
		c->odds = c->near > 0 ? ODDS_LIKELY
		    : c->earlier > 0  ? ODDS_POSSIBLE
		    : c->unseen > 0   ? ODDS_UNSEEN
				      : ODDS_NONE;
		may += c->odds != ODDS_NONE;
	}
	for (i = 0; i < g->count; i++)
		if (may == 1 && all && g->items[i].odds <= ODDS_POSSIBLE)
			g->items[i].odds = ODDS_CERTAIN;
	if (g->at_utc != 0 && g->count > 1)
		qsort(g->items, g->count, sizeof(*g->items), by_odds);
}

enum rc
trace_guess_load(struct trace_guess *out, struct station *sn, const char *dish,
    const char *service, struct err *err)
{
	return trace_guess_at(out, sn, dish, service, NULL, err);
}

enum rc
trace_guess_at(struct trace_guess *out, struct station *sn, const char *dish,
    const char *service, const char *at, struct err *err)
{
	const struct service_window *w;
	struct dish_sold d;
	struct service s;
	day_no day;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = sitting_parse(&day, &w, &sn->cfg, service, err)) != RC_OK ||
	    (rc = find_dish(&d, sn, dish, err)) != RC_OK ||
	    (rc = service_get(&s, sn->st, day, w->name, err)) != RC_OK)
		return rc;
	str_copy(out->dish.code, sizeof(out->dish.code), d.code);
	str_copy(out->dish.name, sizeof(out->dish.name), d.name);
	put_service(&out->service, day, w->name);
	out->begin_utc = service_begins(w, day);
	out->end_utc = service_ends(w, day);
	if ((rc = read_at(out, at, err)) != RC_OK ||
	    (rc = find_sold(out, sn, s.id, d.id, err)) != RC_OK ||
	    (rc = find_batches(out, sn, s.id, d.id, err)) != RC_OK ||
	    (rc = count_scans(out, sn, s.id, d.id, err)) != RC_OK)
		trace_guess_fini(out);
	else
		weigh_up(out);
	return rc;
}

void
trace_guess_fini(struct trace_guess *g)
{
	free(g->items);
	memset(g, 0, sizeof(*g));
}
