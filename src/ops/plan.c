/* plan.c - the prep list and order list of a service. */
#include "ops/plan.h"

#include <stdlib.h>

#include "base/str.h"
#include "ops/fate.h"
#include "plan_load.h"
#include "report_load.h"
#include "store/pace.h"
#include "worth.h"

/* Working order and minutes of what the plan takes in hand. */
static enum rc
add_work(struct plan_report *r, struct station *sn,
    const struct plan_problem *p, struct err *err)
{
	struct pace_list learned;
	struct pace_book book = { .table = &sn->minutes };
	enum rc rc;

	if ((rc = pace_list_open(&learned, sn->st, err)) != RC_OK)
		return rc;
	book.learned = learned.items;
	book.learned_count = learned.count;
	plan_jobs(&r->jobs, &r->job_count, &r->plan, p);
	rc = work_make(
	    &r->work, r->jobs, r->job_count, &book, sn->cfg.bench_minutes, err);
	pace_list_fini(&learned);
	return rc;
}

static enum rc
make_report(struct plan_report *r, struct station *sn,
    const struct service_window *w, const struct plan_wish *wish,
    struct err *err)
{
	struct plan_stock stock = { 0 };
	struct plan_days days = { 0 };
	struct offer_list offers = { 0 };
	struct plan_problem p = {
		.species = &sn->species,
		.stock = &stock,
		.yield = best_yield,
		.yield_arg = sn,
		.strict = wish->strict,
		.now_utc = r->made_utc,
		.thaw_hours = sn->cfg.thaw_hours,
		.step_g = sn->cfg.round_up_g,
		.dead_shell_bp = sn->cfg.dead_shell_pct * 100,
		.dead_crustacean_bp = sn->cfg.dead_crustacean_pct * 100,
	};
	enum rc rc;

	if ((rc = plan_days_load(&days, sn, r->day, w, err)) != RC_OK ||
	    (rc = plan_stock_load(&stock, sn, wish, err)) != RC_OK ||
	    (rc = plan_stock_thaw(
		 &stock, sn, days.services, days.count, err)) != RC_OK ||
	    (rc = offer_list_open(&offers, sn->st, err)) != RC_OK)
		goto done;
	p.services = days.services;
	p.service_count = days.count;
	p.offers = offers.items;
	p.offer_count = offers.count;
	r->covers = days.services[days.count - 1].covers;
	r->expected_c = days.expected_c;
	r->typed = days.typed;
	r->earlier = (int)days.count - 1;
	r->start_utc = days.services[days.count - 1].start_utc;
	if ((rc = plan_make(&r->plan, &p, err)) == RC_OK)
		rc = add_work(r, sn, &p, err);
done:
	offer_list_fini(&offers);
	plan_stock_fini(&stock);
	plan_days_fini(&days);
	return rc;
}

enum rc
plan_report_load(struct plan_report *r, struct station *sn,
    const struct plan_wish *wish, struct err *err)
{
	const struct service_window *w;
	char text[48];
	enum rc rc;

	*r = (struct plan_report){
		.kitchen = sn->cfg.kitchen,
		.species = &sn->species,
		.round_up_g = sn->cfg.round_up_g,
		.bench_minutes = sn->cfg.bench_minutes,
		.want_prep = wish->prep,
		.want_order = wish->order,
		.why = wish->why,
		.made_utc = clock_now(&sn->clock),
	};
	rc = sitting_parse(&r->day, &w, &sn->cfg, wish->service, err);
	if (rc != RC_OK)
		return rc;
	r->service = w->name;
	r->end_utc = utc_from_local(r->day + w->ends_min / 1440,
	    w->ends_min % 1440 / 60, w->ends_min % 60, 0);
	if (r->end_utc <= r->made_utc)
		return err_set(err, RC_REFUSED, 0,
		    "that service ended on %s: plan a coming one",
		    time_short(text, sizeof(text), r->end_utc));
	return make_report(r, sn, w, wish, err);
}

void
plan_report_fini(struct plan_report *r)
{
	work_fini(&r->work);
	free(r->jobs);
	plan_fini(&r->plan);
}

enum rc
plan(struct buf *out, struct station *sn, const struct plan_wish *wish,
    struct err *err)
{
	struct plan_report r;
	enum rc rc;

	if ((rc = plan_report_load(&r, sn, wish, err)) == RC_OK) {
		plan_write(out, &r, wish->format);
		rc = buf_check(out, "the list", err);
	}
	plan_report_fini(&r);
	return rc;
}
