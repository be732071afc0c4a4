/* forecast.c - the page of coming services, or the record tested. */
#include "ops/forecast.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/demand.h"
#include "ops/fate.h"
#include "store/bookings.h"

/* Days ahead the page shows, and services at most. */
#define AHEAD_DAYS 14
#define PAGE_MAX 28

static enum rc
add_report(struct forecast_page *p, struct demand_desk *d, day_no day,
    const struct service_window *w, struct err *err)
{
	enum rc rc;

	if ((rc = demand_at(&p->reports[p->count], d, day, w, err)) == RC_OK)
		p->count++;
	return rc;
}

/* A banquet among the coming services does not take the page away. */
static void
add_beyond(struct forecast_page *p, const struct service *s)
{
	struct demand_report *r = &p->reports[p->count++];

	r->beyond = true;
	r->day = s->day;
	str_copy(r->service, sizeof(r->service), s->name);
	r->booked = s->covers;
	r->typed = s->expected;
}

/* The services of a day that are not over, in the order they happen. */
static enum rc
add_day(struct forecast_page *p, struct station *sn, struct demand_desk *d,
    const struct service *s, size_t n, struct err *err)
{
	const struct service_window *w;
	size_t k;
	int i;
	enum rc rc;

	for (i = 0; i < sn->cfg.service_count; i++) {
		w = &sn->cfg.services[i];
		for (k = 0; k < n; k++)
			if (str_eq(s[k].name, w->name))
				break;
		if (k == n || p->count == PAGE_MAX ||
		    service_ends(w, s->day) <= p->made_utc)
			continue;
		if (s[k].covers > DEMAND_COVERS_MAX)
			add_beyond(p, &s[k]);
		else if ((rc = add_report(p, d, s->day, w, err)) != RC_OK)
			return rc;
	}
	return RC_OK;
}

static enum rc
add_coming(struct forecast_page *p, struct station *sn, struct demand_desk *d,
    struct err *err)
{
	day_no today = local_from_utc(p->made_utc).day;
	struct service_list l;
	size_t from, end;
	enum rc rc;

	rc = service_list_open(&l, sn->st, today, today + AHEAD_DAYS, err);
	for (from = 0; rc == RC_OK && from < l.count; from = end) {
		end = from + 1;
		while (end < l.count && l.items[end].day == l.items[from].day)
			end++;
		rc = add_day(p, sn, d, &l.items[from], end - from, err);
	}
	service_list_fini(&l);
	return rc;
}

enum rc
forecast(struct buf *out, struct station *sn, const struct forecast_wish *wish,
    struct err *err)
{
	struct forecast_page p = {
		.kitchen = sn->cfg.kitchen,
		.made_utc = clock_now(&sn->clock),
		.scored = wish->backtest,
	};
	const struct service_window *w = NULL;
	struct demand_desk *desk;
	day_no day = local_from_utc(p.made_utc).day + 1;
	size_t i;
	enum rc rc;

	if (wish->service != NULL &&
	    (rc = sitting_parse(&day, &w, &sn->cfg, wish->service, err)) !=
		RC_OK)
		return rc;
	p.score_of = w == NULL ? NULL : w->name;
	desk = demand_desk_new(sn);
	p.reports = xcalloc(PAGE_MAX, sizeof(*p.reports));
	if (wish->backtest)
		rc = demand_test(&p.score, sn, day, w, err);
	else if (w != NULL)
		rc = add_report(&p, desk, day, w, err);
	else
		rc = add_coming(&p, sn, desk, err);
	if (rc == RC_OK)
		forecast_write(out, &p, wish->format);
	for (i = 0; i < p.count; i++)
		demand_report_fini(&p.reports[i]);
	free(p.reports);
	demand_desk_free(desk);
	return rc == RC_OK ? buf_check(out, "the page", err) : rc;
}
