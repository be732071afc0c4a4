/* ticket_make.c - the lines of each list from the record. */
#include "ticket_make.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "ops/verify.h"
#include "print/lists.h"
#include "report_load.h"

enum rc
plan_suppliers(struct supplier **out, size_t *count, struct station *sn,
    const struct plan *p, struct err *err)
{
	struct supplier *s = xcalloc(p->order_count, sizeof(*s));
	size_t i;
	enum rc rc = RC_OK;

	*count = 0;
	for (i = 0; i < p->order_count && rc == RC_OK; i++) {
		if (p->orders[i].supplier[0] == '\0')
			continue;
		rc = supplier_find(
		    &s[*count], sn->st, p->orders[i].supplier, err);
		if (rc == RC_OK)
			(*count)++;
		else if (rc == RC_NOTFOUND)
			rc = RC_OK;
	}
	*out = s;
	return rc;
}

enum rc
ticket_make_plan(struct ticket *t, struct station *sn,
    const struct ticket_wish *wish, struct err *err)
{
	struct plan_wish plan = {
		.service = wish->what,
		.prep = wish->kind == TICKET_PREP,
		.order = wish->kind == TICKET_ORDER,
		.why = wish->why,
		.strict = wish->strict,
		.says = wish->says,
		.say_count = wish->say_count,
	};
	struct supplier *suppliers = NULL;
	struct plan_report r;
	size_t count = 0;
	enum rc rc;

	if ((rc = plan_report_load(&r, sn, &plan, err)) != RC_OK)
		goto done;
	if (wish->kind == TICKET_PREP) {
		list_prep(t, &r);
		goto done;
	}
	rc = plan_suppliers(&suppliers, &count, sn, &r.plan, err);
	if (rc == RC_OK)
		list_order(t, &r, suppliers, count);
done:
	free(suppliers);
	plan_report_fini(&r);
	return rc;
}

enum rc
ticket_make_recall(
    struct ticket *t, struct station *sn, const char *code, struct err *err)
{
	struct trace_report r;
	enum rc rc;

	if ((rc = trace_report_load(&r, sn, code, true, err)) == RC_OK)
		list_recall(t, &r);
	trace_report_fini(&r);
	return rc;
}

/* In the order of the day instead of that of names. */
static void
sort_services(struct service_list *l, const struct config *cfg)
{
	const struct service_window *a, *b;
	struct service t;
	size_t i, j;

	for (i = 1; i < l->count; i++)
		for (j = i; j > 0; j--) {
			a = config_service(cfg, l->items[j - 1].name);
			b = config_service(cfg, l->items[j].name);
			if (a == NULL || b == NULL ||
			    a->starts_min <= b->starts_min)
				break;
			t = l->items[j];
			l->items[j] = l->items[j - 1];
			l->items[j - 1] = t;
		}
}

static enum rc
load_day(struct day_report *r, struct station *sn, struct err *err)
{
	int64_t from = utc_from_local(r->day, 0, 0, 0);
	int64_t to = utc_from_local(r->day + 1, 0, 0, 0);
	struct store *st = sn->st;
	enum rc rc;

	if ((rc = batch_list_day(&r->batches, st, r->day, err)) != RC_OK ||
	    (rc = prep_list_between(&r->preps, st, from, to, err)) != RC_OK ||
	    (rc = prep_list_struck_between(&r->struck, st, from, to, err)) !=
		RC_OK ||
	    (rc = day_events_open(&r->events, st, from, to, err)) != RC_OK ||
	    (rc = day_holds_open(&r->holds, st, from, to, err)) != RC_OK ||
	    (rc = service_list_open(&r->services, st, r->day, r->day, err)) !=
		RC_OK ||
	    (rc = sales_record_open(&r->closed, st, r->day, r->day, err)) !=
		RC_OK)
		return rc;
	sort_services(&r->services, &sn->cfg);
	return day_labels_open(&r->labels, st, from, to, err);
}

enum rc
ticket_make_day(
    struct ticket *t, struct station *sn, const char *day, struct err *err)
{
	struct day_report r = {
		.kitchen = sn->cfg.kitchen,
		.species = &sn->species,
		.now_utc = clock_now(&sn->clock),
	};
	struct trail_end end;
	enum rc rc = trail_end(&end, sn, err);

	r.trail_row = end.row;
	r.trail_code = end.code;
	r.day = local_from_utc(r.now_utc).day;
	if (rc == RC_OK && day != NULL)
		rc = day_parse(&r.day, "day", day, err);
	if (rc == RC_OK && utc_from_local(r.day, 0, 0, 0) > r.now_utc)
		rc = err_set(err, RC_REFUSED, 0,
		    "%s has not begun: a day sheet tells what happened", day);
	if (rc == RC_OK && (rc = load_day(&r, sn, err)) == RC_OK)
		list_day(t, &r);
	batch_list_fini(&r.batches);
	prep_list_fini(&r.preps);
	prep_list_fini(&r.struck);
	free(r.events.items);
	free(r.holds.items);
	service_list_fini(&r.services);
	sales_record_fini(&r.closed);
	free(r.labels.items);
	return rc;
}
