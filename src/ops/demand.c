/* demand.c - how many portions of each dish a service will ask for. */
#include "ops/demand.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "store/bookings.h"
#include "store/sales.h"

/* The core counts money in thousandths of the smallest coin. */
#define COIN 1000

/* All that is known before a service. */
struct known {
	struct dish_sold *dishes; /* on the menu of some sitting */
	size_t count;
	int *share_bp; /* [sitting x count + dish] */
	struct demand_past *past;
	struct demand_sold *sold;
	size_t past_count;
	struct demand_dish *values;
};

static void
known_fini(struct known *k)
{
	free(k->dishes);
	free(k->share_bp);
	free(k->past);
	free(k->sold);
	free(k->values);
}

static struct demand_record
record_of(const struct known *k)
{
	struct demand_record r = {
		.past = k->past,
		.past_count = k->past_count,
		.dish_count = k->count,
		.sold = k->sold,
		.share_bp = k->share_bp,
	};

	return r;
}

static int
sitting_of(const struct config *cfg, const char *name)
{
	const struct service_window *w = config_service(cfg, name);

	return w == NULL ? -1 : (int)(w - cfg->services);
}

/* --- the menu ------------------------------------------------------------- */

/* Take the shares of one sitting from a list that has every dish. */
static void
take_shares(
    int *share_bp, const struct known *k, const struct dish_sold_list *l)
{
	size_t i, d = 0;

	for (i = 0; i < l->count && d < k->count; i++)
		if (l->items[i].id == k->dishes[d].id)
			share_bp[d++] = l->items[i].share_bp > 0
			    ? l->items[i].share_bp
			    : DEMAND_UNKNOWN;
}

/* The dishes of the menu, in the order of their codes. */
static enum rc
take_dishes(struct known *k, const struct dish_sold_list *l, struct err *err)
{
	size_t i;

	k->dishes = xcalloc(l->count + 1, sizeof(*k->dishes));
	for (i = 0; i < l->count; i++)
		if (l->items[i].on_menu)
			k->dishes[k->count++] = l->items[i];
	if (k->count <= DEMAND_DISHES_MAX)
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "the menu has %zu dishes: a forecast takes at most %d", k->count,
	    DEMAND_DISHES_MAX);
}

static enum rc
load_menu(struct known *k, struct station *sn, struct err *err)
{
	struct dish_sold_list l;
	enum rc rc = RC_OK;
	int i;

	for (i = 0; i < sn->cfg.service_count && rc == RC_OK; i++) {
		rc = dish_sold_list_open(
		    &l, sn->st, sn->cfg.services[i].name, err);
		if (rc != RC_OK)
			return rc;
		if (i == 0 && (rc = take_dishes(k, &l, err)) == RC_OK)
			k->share_bp = xcalloc(
			    DEMAND_SITTINGS_MAX * (k->count + 1), sizeof(int));
		if (rc == RC_OK)
			take_shares(&k->share_bp[(size_t)i * k->count], k, &l);
		dish_sold_list_fini(&l);
	}
	return rc;
}

/* Days a portion keeps, of the species that keeps least. */
static int
days_kept(const struct station *sn, const struct dish_sold *d)
{
	char species[64], *code, *rest = species;
	int days, least = 0;

	str_copy(species, sizeof(species), d->species);
	while ((code = strtok_r(rest, ",", &rest)) != NULL) {
		days = house_days(&sn->cfg, &sn->rules, code, d->state);
		if (least == 0 || days < least)
			least = days;
	}
	/* Alive or served raw: the same night, whatever the house says. */
	if (least < 1 || d->state == STATE_LIVE || d->state == STATE_SERVED_RAW)
		return 1;
	return least;
}

/* --- the record ----------------------------------------------------------- */

static void
put_sales(struct known *k, const struct sales_record *r,
    const struct past_service *p, struct demand_sold *row)
{
	const struct sale *s;
	size_t i, d;

	for (d = 0; d < k->count; d++)
		row[d].portions = row[d].ran_out_at = DEMAND_UNKNOWN;
	for (i = p->first; i < p->first + p->count; i++) {
		s = &r->sales[i];
		for (d = 0; d < k->count; d++)
			if (k->dishes[d].id == s->dish_id)
				break;
		if (d == k->count || s->sold > 2 * DEMAND_COVERS_MAX)
			continue;
		row[d].portions = (int)s->sold;
		row[d].ran_out_at = s->ran_out_at == SOLD_ON ? DEMAND_UNKNOWN
		    : s->ran_out_at == RAN_OUT_SOME_TIME     ? DEMAND_RAN_OUT
							 : (int)s->ran_out_at;
	}
}

/* Party sizes one by one; *count of them, owned. */
static int *
sizes_of(size_t *count, const struct parties *p)
{
	int *sizes, n = 0;
	size_t i, at = 0;
	int t;

	*count = 0;
	for (i = 0; i < p->count; i++)
		n += p->items[i].tables;
	if (n == 0)
		return NULL;
	sizes = xcalloc((size_t)n, sizeof(*sizes));
	for (i = 0; i < p->count; i++)
		for (t = 0; t < p->items[i].tables; t++)
			sizes[at++] = p->items[i].guests;
	*count = at;
	return sizes;
}

static int
factor_of(const struct parties *p)
{
	size_t n;
	int *sizes = sizes_of(&n, p);
	int factor = n == 0 ? 0 : demand_party_factor(sizes, n);

	free(sizes);
	return factor;
}

/* One closed service into the record, unless it lies outside of it. */
static void
put_past(struct known *k, const struct sales_record *r,
    const struct past_service *p, int sitting)
{
	struct demand_past *out = &k->past[k->past_count];

	/* A banquet beyond what the model takes teaches nothing. */
	if (sitting < 0 || p->booked > DEMAND_COVERS_MAX ||
	    p->walk_ins > DEMAND_COVERS_MAX)
		return;
	out->day = p->day;
	out->sitting = sitting;
	out->booked = (int)p->booked;
	out->seated = (int)p->seated;
	out->walk_ins = (int)p->walk_ins;
	out->covers = DEMAND_UNKNOWN;
	out->party_factor_c = factor_of(&p->parties);
	put_sales(k, r, p, &k->sold[k->past_count * k->count]);
	k->past_count++;
}

/* Closed services before `sitting` of `day`, the oldest first. */
static enum rc
load_record(struct known *k, struct station *sn, day_no day, int sitting,
    struct err *err)
{
	struct sales_record r;
	size_t end, from, i;
	enum rc rc;
	int s;

	if ((rc = sales_record_open(&r, sn->st, day, err)) != RC_OK)
		return rc;
	k->past = xcalloc(r.count + 1, sizeof(*k->past));
	k->sold = xcalloc((r.count + 1) * (k->count + 1), sizeof(*k->sold));
	/* By day backwards; within a day in the order of the settings. */
	for (end = r.count; end > 0; end = from) {
		from = end - 1;
		while (
		    from > 0 && r.items[from - 1].day == r.items[end - 1].day)
			from--;
		for (s = 0; s < sn->cfg.service_count; s++)
			for (i = from; i < end; i++)
				if (sitting_of(&sn->cfg, r.items[i].name) ==
					s &&
				    (r.items[i].day < day || s < sitting))
					put_past(k, &r, &r.items[i], s);
	}
	sales_record_fini(&r);
	return RC_OK;
}

static enum rc
load_known(struct known *k, struct station *sn, day_no day, int sitting,
    struct err *err)
{
	const struct dish_sold *d;
	size_t i;
	enum rc rc;

	memset(k, 0, sizeof(*k));
	if ((rc = load_menu(k, sn, err)) != RC_OK ||
	    (rc = load_record(k, sn, day, sitting, err)) != RC_OK)
		return rc;
	k->values = xcalloc(k->count + 1, sizeof(*k->values));
	for (i = 0; i < k->count; i++) {
		d = &k->dishes[i];
		k->values[i].price =
		    d->price < 0 ? DEMAND_UNKNOWN : d->price * COIN;
		k->values[i].cost = DEMAND_UNKNOWN;
		k->values[i].life = 1;
	}
	return RC_OK;
}

/* --- the services asked --------------------------------------------------- */

/* The service itself and those of the book that follow within a life. */
struct coming {
	struct demand_asked asked[DEMAND_ASKED_MAX];
	const struct service_window *window[DEMAND_ASKED_MAX];
	int *sizes[DEMAND_ASKED_MAX]; /* owned */
	size_t count;
	struct demand_wish *wishes; /* of the first; owned */
};

static void
coming_fini(struct coming *c)
{
	size_t i;

	for (i = 0; i < c->count; i++)
		free(c->sizes[i]);
	free(c->wishes);
}

static void
add_coming(struct coming *c, const struct config *cfg, const struct service *s)
{
	struct demand_asked *a = &c->asked[c->count];
	int sitting = sitting_of(cfg, s->name);

	a->day = s->day;
	a->sitting = sitting;
	a->booked = (int)s->covers;
	a->typed = s->expected < 0 ? DEMAND_UNKNOWN : (int)s->expected;
	c->sizes[c->count] = sizes_of(&a->party_count, &s->parties);
	a->parties = c->sizes[c->count];
	c->window[c->count++] = &cfg->services[sitting];
}

/* The book's services after the first, up to and with `last`. */
static enum rc
load_later(struct coming *c, struct station *sn, const struct service *first,
    day_no last, struct err *err)
{
	int sitting = sitting_of(&sn->cfg, first->name), s;
	struct service_list l;
	size_t i, from, end;
	enum rc rc;

	rc = service_list_open(&l, sn->st, first->day, last, err);
	if (rc != RC_OK)
		return rc;
	for (from = 0; from < l.count; from = end) {
		end = from + 1;
		while (end < l.count && l.items[end].day == l.items[from].day)
			end++;
		for (s = 0; s < sn->cfg.service_count; s++)
			for (i = from; i < end; i++)
				if (sitting_of(&sn->cfg, l.items[i].name) ==
					s &&
				    (l.items[i].day > first->day ||
					s > sitting) &&
				    l.items[i].covers <= DEMAND_COVERS_MAX &&
				    c->count < DEMAND_ASKED_MAX)
					add_coming(c, &sn->cfg, &l.items[i]);
	}
	service_list_fini(&l);
	return RC_OK;
}

/* Services of the book that end before a portion made today must be gone. */
static int
services_kept(const struct coming *c, int days)
{
	int64_t use_by = use_by_instant(c->asked[0].day + days - 1);
	size_t n = 1;

	while (n < c->count &&
	    service_ends(c->window[n], c->asked[n].day) <= use_by)
		n++;
	return (int)n;
}

static enum rc
load_wishes(struct coming *c, const struct known *k, struct station *sn,
    const struct service *s, struct err *err)
{
	struct typed_list l;
	size_t i, d;
	enum rc rc;

	if ((rc = typed_list_open(&l, sn->st, s->id, err)) != RC_OK)
		return rc;
	c->wishes = xcalloc(k->count + 1, sizeof(*c->wishes));
	for (d = 0; d < k->count; d++) {
		c->wishes[d].fixed = c->wishes[d].floor = DEMAND_UNKNOWN;
		c->wishes[d].ceiling = DEMAND_UNKNOWN;
		for (i = 0; i < l.count; i++) {
			if (l.items[i].dish_id != k->dishes[d].id)
				continue;
			c->wishes[d].fixed = (int)l.items[i].fixed;
			c->wishes[d].floor = (int)l.items[i].floor;
			c->wishes[d].ceiling = (int)l.items[i].ceiling;
		}
	}
	c->asked[0].wishes = c->wishes;
	typed_list_fini(&l);
	return RC_OK;
}

static enum rc
load_coming(struct coming *c, struct known *k, struct station *sn,
    const struct service *s, struct err *err)
{
	int days, most = 1;
	size_t d;
	enum rc rc;

	add_coming(c, &sn->cfg, s);
	for (d = 0; d < k->count; d++) {
		days = days_kept(sn, &k->dishes[d]);
		most = days > most ? days : most;
	}
	if ((rc = load_later(c, sn, s, s->day + most - 1, err)) != RC_OK)
		return rc;
	for (d = 0; d < k->count; d++)
		k->values[d].life =
		    services_kept(c, days_kept(sn, &k->dishes[d]));
	return load_wishes(c, k, sn, s, err);
}

/* --- the answer ----------------------------------------------------------- */

static void
put_row(struct demand_row *row, const struct known *k, size_t d,
    const struct coming *c, const struct demand_line *line)
{
	const struct demand_wish *wish = &c->wishes[d];

	row->dish_id = k->dishes[d].id;
	str_copy(row->dish, sizeof(row->dish), k->dishes[d].code);
	str_copy(row->name, sizeof(row->name), k->dishes[d].name);
	row->expected_c = line->expected_c;
	row->low80 = line->low;
	row->high80 = line->high;
	row->target = line->target;
	row->out_bp = line->out_bp;
	row->tau_bp = line->ratio_bp;
	row->ratio = line->ratio;
	row->floor = wish->floor;
	row->ceiling = wish->ceiling;
	row->fixed = wish->fixed;
	row->bound = line->why;
	row->menu_bp = k->share_bp[(size_t)c->asked[0].sitting * k->count + d];
	row->learned_bp = line->share_bp;
	row->taught = line->taught;
	row->life = k->values[d].life;
}

static void
put_report(struct demand_report *r, const struct known *k,
    const struct coming *c, const struct demand_forecast *f)
{
	const struct demand_covers *covers = &f->covers[0];
	size_t d;

	r->covers_c = covers->expected_c;
	r->covers_low = covers->low;
	r->covers_high = covers->high;
	r->show_bp = covers->show_bp;
	r->walk_ins_c = covers->walk_ins_c;
	r->services_learned = (int)k->past_count;
	r->items = xcalloc(k->count + 1, sizeof(*r->items));
	for (d = 0; d < k->count; d++)
		if (f->lines[d].why != WHY_NOT_OFFERED)
			put_row(&r->items[r->count++], k, d, c, &f->lines[d]);
}

static enum rc
forecast_first(struct demand_report *r, const struct known *k,
    const struct coming *c, struct err *err)
{
	struct demand_record record = record_of(k);
	struct demand_forecast f = { 0 };
	struct demand_model *m = NULL;
	enum rc rc;

	rc = demand_learn(&m, &record, err);
	if (rc == RC_OK)
		rc = demand_forecast(&f, m, c->asked, c->count, k->values, err);
	if (rc == RC_OK) {
		put_report(r, k, c, &f);
		demand_forecast_fini(&f);
	}
	demand_free(m);
	return rc;
}

enum rc
demand_of(struct demand_report *out, struct station *sn, day_no day,
    const struct service_window *w, struct err *err)
{
	struct coming *c = NULL;
	struct known k = { 0 };
	struct service s;
	char text[16];
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = service_get(&s, sn->st, day, w->name, err)) != RC_OK)
		return rc;
	if (s.covers > DEMAND_COVERS_MAX)
		return err_set(err, RC_INVALID, 0,
		    "%s/%s has %" PRId64 " covers: a forecast takes at most %d",
		    day_print(text, sizeof(text), day), w->name, s.covers,
		    DEMAND_COVERS_MAX);
	c = xcalloc(1, sizeof(*c));
	out->day = day;
	str_copy(out->service, sizeof(out->service), w->name);
	out->over = service_ends(w, day) <= clock_now(&sn->clock);
	out->booked = s.covers;
	out->typed = s.expected;
	if ((rc = load_known(
		 &k, sn, day, sitting_of(&sn->cfg, w->name), err)) != RC_OK ||
	    (rc = load_coming(c, &k, sn, &s, err)) != RC_OK)
		goto done;
	rc = forecast_first(out, &k, c, err);
done:
	coming_fini(c);
	free(c);
	known_fini(&k);
	return rc;
}

enum rc
demand_test(struct demand_score *out, struct station *sn, day_no day,
    const struct service_window *w, struct err *err)
{
	int sitting = w == NULL ? 0 : sitting_of(&sn->cfg, w->name);
	struct demand_record record;
	struct known k = { 0 };
	enum rc rc;

	memset(out, 0, sizeof(*out));
	rc = load_known(&k, sn, day, sitting, err);
	if (rc == RC_OK) {
		record = record_of(&k);
		rc = demand_backtest(out, &record, k.values,
		    w == NULL ? DEMAND_UNKNOWN : sitting, RECORD_SERVICES_MAX,
		    err);
	}
	known_fini(&k);
	return rc;
}
