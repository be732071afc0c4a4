/* close.c - close a service: who came, and what was sold. */
#include "ops/close.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "closing.h"
#include "exchange/close_out.h"
#include "exchange/sales_in.h"
#include "ops/demand.h"
#include "ops/fate.h"
#include "store/store.h"

/* What the command works with. */
struct job {
	struct service service;
	struct dish_sold_list dishes;
	struct sale_list used, before;
	struct demand_report forecast;
	struct err no_forecast;            /* why there is none */
	struct sale sales[CLOSE_SOLD_MAX]; /* to be recorded */
	enum sold_from from[CLOSE_SOLD_MAX];
	size_t count;
};

static void
job_fini(struct job *j)
{
	dish_sold_list_fini(&j->dishes);
	sale_list_fini(&j->used);
	sale_list_fini(&j->before);
	demand_report_fini(&j->forecast);
	free(j);
}

static bool
has_sale(const struct sale *sales, size_t count, int64_t dish_id)
{
	size_t i;

	for (i = 0; i < count; i++)
		if (sales[i].dish_id == dish_id)
			return true;
	return false;
}

/* "cod-side:12", "cod-side:12:40", "cod-side:12:out" */
static enum rc
parse_sold(struct sale *s, const char *text,
    const struct dish_sold_list *dishes, struct err *err)
{
	const struct dish_sold *d;
	char copy[128], *n, *at;
	enum rc rc;

	memset(s, 0, sizeof(*s));
	n = str_copy(copy, sizeof(copy), text) ? strchr(copy, ':') : NULL;
	if (n == NULL)
		return err_set(err, RC_INVALID, 0,
		    "--sold \"%.60s\": write it as DISH:N, or DISH:N:COVERS "
		    "when it ran out",
		    text);
	*n++ = '\0';
	if ((at = strchr(n, ':')) != NULL)
		*at++ = '\0';
	if ((d = dish_sold_find(dishes, copy)) == NULL)
		return err_set(err, RC_NOTFOUND, 0,
		    "--sold: dish \"%.40s\" was never on the menu", copy);
	s->dish_id = d->id;
	str_copy(s->dish, sizeof(s->dish), d->code);
	s->ran_out_at = SOLD_ON;
	rc = int_parse(&s->sold, "sold", n, 0, SALES_MAX, err);
	if (rc == RC_OK && at != NULL && *at == '\0')
		rc = err_set(err, RC_INVALID, 0, "nothing behind the colon");
	if (rc == RC_OK && at != NULL)
		rc = ran_out_parse(&s->ran_out_at, at, err);
	if (rc != RC_OK)
		err_prefix(err, "--sold %.40s: ", d->code);
	return rc;
}

static enum rc
take_told(struct job *j, const struct close_in *in, struct err *err)
{
	struct sale s;
	size_t i;
	enum rc rc;

	if (in->sold_count > CLOSE_SOLD_MAX)
		return err_set(err, RC_INVALID, 0,
		    "more than %d dishes in one service", CLOSE_SOLD_MAX);
	for (i = 0; i < in->sold_count; i++) {
		if ((rc = parse_sold(&s, in->sold[i], &j->dishes, err)) !=
		    RC_OK)
			return rc;
		if (has_sale(j->sales, j->count, s.dish_id))
			return err_set(err, RC_INVALID, 0,
			    "--sold %s is there twice: add it up", s.dish);
		j->from[j->count] = SOLD_TOLD;
		j->sales[j->count++] = s;
	}
	return RC_OK;
}

/* Portions scanned out stand in for dishes nobody spoke of. */
static void
take_used(struct job *j)
{
	const struct sale *u;
	size_t i;

	for (i = 0; i < j->used.count && j->count < CLOSE_SOLD_MAX; i++) {
		u = &j->used.items[i];
		if (has_sale(j->sales, j->count, u->dish_id))
			continue;
		j->from[j->count] = SOLD_SCANNED;
		j->sales[j->count] = *u;
		j->sales[j->count++].ran_out_at = SOLD_ON;
	}
}

/* Closed once, then only corrected; a correction needs something to correct. */
static enum rc
check_state(const struct job *j, bool closed, const struct close_in *in,
    struct err *err)
{
	char label[48];

	service_label(label, sizeof(label), &j->service);
	if (closed && !in->correct)
		return err_set(err, RC_REFUSED, 0,
		    "%s is closed already: add --correct to put it right",
		    label);
	if (!closed && in->correct)
		return err_set(err, RC_REFUSED, 0,
		    "%s is not closed yet: close it without --correct", label);
	if (!closed && (in->seated < 0 || in->walk_ins < 0))
		return err_set(err, RC_INVALID, 0,
		    "--%s is missing: how many %s",
		    in->seated < 0 ? "seated" : "walk-ins",
		    in->seated < 0 ? "of the booked guests came"
				   : "guests came without a booking");
	if (closed && in->seated < 0 && in->walk_ins < 0 && in->sold_count == 0)
		return err_set(err, RC_INVALID, 0,
		    "%s: say what to correct with --seated, --walk-ins or "
		    "--sold",
		    label);
	return RC_OK;
}

static enum rc
load_job(struct job *j, struct station *sn, const struct close_in *in,
    struct err *err)
{
	const struct service_window *w;
	struct closing was;
	bool closed;
	day_no day;
	enum rc rc;

	if ((rc = sitting_parse(&day, &w, &sn->cfg, in->service, err)) !=
		RC_OK ||
	    (rc = service_get(&j->service, sn->st, day, w->name, err)) !=
		RC_OK ||
	    (rc = dish_sold_list_open(&j->dishes, sn->st, w->name, err)) !=
		RC_OK ||
	    (rc = take_told(j, in, err)) != RC_OK)
		return rc;
	rc = closing_get(&was, sn->st, j->service.id, NULL);
	if (rc != RC_OK && rc != RC_NOTFOUND)
		return err_set(err, rc, 0, "the station file cannot be read");
	closed = rc == RC_OK;
	if ((rc = check_state(j, closed, in, err)) != RC_OK ||
	    (rc = sale_list_used(&j->used, sn->st, j->service.id, err)) !=
		RC_OK ||
	    (rc = sale_list_open(&j->before, sn->st, j->service.id, err)) !=
		RC_OK)
		return rc;
	if (!closed)
		take_used(j);
	/* What came is recorded whether or not it could be forecast. */
	rc = demand_of(&j->forecast, sn, day, w, &j->no_forecast);
	if (rc == RC_OK || rc == RC_INVALID)
		return RC_OK;
	return err_set(err, rc, j->no_forecast.lib, "%s", j->no_forecast.text);
}

static enum rc
record(int *changed, struct job *j, struct station *sn,
    const struct close_in *in, const struct moment *at, struct err *err)
{
	struct closing_in c = { .service = &j->service,
		.seated = in->seated,
		.walk_ins = in->walk_ins,
		.sales = j->sales,
		.count = j->count };
	enum change guests, sales[CLOSE_SOLD_MAX];
	int64_t sold = 0;
	char label[48];
	size_t i;
	enum rc rc;

	rc = closing_record(&guests, sales, sn, at, &c, err);
	if (rc != RC_OK)
		return rc;
	*changed = guests != CHANGE_NONE;
	for (i = 0; i < j->count; i++) {
		*changed += sales[i] != CHANGE_NONE;
		sold += j->sales[i].sold;
	}
	if (in->correct)
		return RC_OK; /* each correction has its row */
	return station_audit(sn, at, err, "close",
	    service_label(label, sizeof(label), &j->service),
	    "%" PRId64 " of %" PRId64 " booked seated, %" PRId64
	    " walk-ins, %" PRId64 " sold of %zu dishes",
	    in->seated, j->service.covers, in->walk_ins, sold, j->count);
}

/* --- the answer ----------------------------------------------------------- */

static int
by_dish(const void *a, const void *b)
{
	const struct close_row *x = a, *y = b;

	return strcmp(x->sale.dish, y->sale.dish);
}

/* What stands there now, with the dishes of the menu nobody counted. */
static void
fill_rows(struct close_report *r, const struct job *j)
{
	const struct demand_row *d;
	struct close_row *row;
	size_t i;

	r->rows = xcalloc(
	    j->count + j->before.count + j->forecast.count, sizeof(*r->rows));
	for (i = 0; i < j->count; i++) {
		row = &r->rows[r->count++];
		row->sale = j->sales[i];
		row->from = j->from[i];
	}
	for (i = 0; i < j->before.count; i++) {
		if (has_sale(j->sales, j->count, j->before.items[i].dish_id))
			continue;
		row = &r->rows[r->count++];
		row->sale = j->before.items[i];
		row->from = SOLD_BEFORE;
	}
	for (i = 0; i < j->forecast.count; i++) {
		d = &j->forecast.items[i];
		if (has_sale(j->sales, j->count, d->dish_id) ||
		    has_sale(j->before.items, j->before.count, d->dish_id))
			continue;
		row = &r->rows[r->count++];
		row->sale.dish_id = d->dish_id;
		str_copy(row->sale.dish, sizeof(row->sale.dish), d->dish);
		row->sale.ran_out_at = SOLD_ON;
		row->from = SOLD_UNKNOWN;
	}
	qsort(r->rows, r->count, sizeof(*r->rows), by_dish);
}

enum rc
close_service(struct buf *out, struct station *sn, const struct close_in *in,
    enum format format, struct err *err)
{
	struct job *j = xcalloc(1, sizeof(*j));
	struct close_report r = { .kitchen = sn->cfg.kitchen,
		.corrected = in->correct };
	struct moment at;
	enum rc rc;

	if ((rc = station_moment(&at, sn, in->by, err)) != RC_OK ||
	    (rc = store_begin(sn->st, err)) != RC_OK)
		goto done;
	if ((rc = load_job(j, sn, in, err)) != RC_OK ||
	    (rc = record(&r.changed, j, sn, in, &at, err)) != RC_OK ||
	    (rc = closing_get(&r.now, sn->st, j->service.id, err)) != RC_OK ||
	    (rc = store_commit(sn->st, err)) != RC_OK)
		goto done;
	r.day = j->service.day;
	r.service = j->service.name;
	r.forecast = &j->forecast;
	r.no_forecast = j->no_forecast.text;
	fill_rows(&r, j);
	close_write(out, &r, format);
	free(r.rows);
	rc = buf_check(out, "the page", err);
done:
	store_rollback(sn->st);
	job_fini(j);
	return rc;
}
