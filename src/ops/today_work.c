/* today_work.c - what is left to do for the services at hand. */
#include "ops/today.h"

#include "base/str.h"
#include "core/plan_list.h"
#include "plan_load.h"
#include "worth.h"

#define DAYS_FORECAST 2
#define FORECAST_MAX 3

/* Those a forecast is made of: the first that are not over. */
static int
pick(struct today_service *picked[FORECAST_MAX], struct today *t)
{
	struct today_service *s;
	int i, n = 0;

	for (i = 0; i < t->service_count; i++) {
		s = &t->services[i];
		s->to_make = TODAY_UNKNOWN;
		if (n < FORECAST_MAX && s->stage <= TODAY_RUNNING &&
		    s->end_utc != 0 && s->day < t->day + DAYS_FORECAST)
			picked[n++] = s;
	}
	return n;
}

/*
 * The plan of a service with no fish at all: trays on hand are shared out as
 * always, and what it then is short of is what there is to make.
 */
static enum rc
left_of(int64_t *out, const struct plan_problem *p, struct err *err)
{
	struct plan plan;
	size_t i;
	enum rc rc;

	if ((rc = plan_make(&plan, p, err)) != RC_OK)
		return rc;
	*out = 0;
	for (i = 0; i < plan.count; i++)
		*out += plan.lines[i].short_of;
	plan_fini(&plan);
	return RC_OK;
}

static enum rc
fill(struct today_service *s, struct plan_problem *p,
    const struct plan_days *days, struct err *err)
{
	size_t i;

	for (i = 0; i < days->count; i++)
		if (days->services[i].day == s->day &&
		    str_eq(days->services[i].name, s->name)) {
			p->service_count = i + 1;
			return left_of(&s->to_make, p, err);
		}
	return RC_OK;
}

static enum rc
forecast(struct today_service *const *picked, int n, struct station *sn,
    int64_t now, struct err *err)
{
	struct plan_wish wish = { 0 };
	struct plan_stock stock = { 0 };
	struct plan_days days = { 0 };
	struct plan_problem p = {
		.species = &sn->species,
		.stock = &stock,
		.yield = best_yield,
		.yield_arg = sn,
		.now_utc = now,
		.thaw_hours = sn->cfg.thaw_hours,
		.step_g = sn->cfg.round_up_g,
	};
	const struct today_service *last = picked[n - 1];
	size_t batches = 0;
	int i;
	enum rc rc;

	if ((rc = plan_days_load(&days, sn, last->day,
		 config_service(&sn->cfg, last->name), err)) != RC_OK ||
	    (rc = plan_stock_load(&stock, sn, &wish, err)) != RC_OK ||
	    (rc = plan_stock_thaw(
		 &stock, sn, days.services, days.count, err)) != RC_OK)
		goto done;
	batches = stock.batch_count;
	stock.batch_count = 0;
	p.services = days.services;
	for (i = 0; i < n && rc == RC_OK; i++)
		rc = fill(picked[i], &p, &days, err);
	stock.batch_count = batches;
done:
	plan_stock_fini(&stock);
	plan_days_fini(&days);
	return rc;
}

enum rc
today_work(struct today *t, struct station *sn, struct err *err)
{
	struct today_service *picked[FORECAST_MAX];
	int n = pick(picked, t);
	enum rc rc;

	if (n == 0)
		return RC_OK;
	rc = forecast(picked, n, sn, t->now_utc, err);
	/* A service that cannot be forecast says why on its own screen. */
	if (rc == RC_INVALID || rc == RC_NOTFOUND || rc == RC_REFUSED) {
		err_clear(err);
		return RC_OK;
	}
	return rc;
}
