/* demand_known.c - the menu and the record as the core wants them. */
#include "demand_known.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "store/bookings.h"
#include "worth.h"

/* The core counts money in thousandths of the smallest coin. */
#define COIN 1000

void
known_fini(struct known *k)
{
	free(k->dishes);
	free(k->share_bp);
	free(k->past);
	free(k->sold);
	free(k->values);
}

struct demand_record
known_record(const struct known *k)
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

int
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

int *
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

static bool
is_before(const struct station *sn, const struct past_service *p, day_no day,
    int sitting)
{
	return p->day < day || sitting_of(&sn->cfg, p->name) < sitting;
}

enum rc
known_newest(int64_t *id, day_no *newest, struct station *sn, day_no day,
    int sitting, struct err *err)
{
	int s, last = -1;
	struct sales_record r;
	size_t i;
	enum rc rc;

	*id = 0;
	*newest = day;
	if ((rc = sales_record_newest(&r, sn->st, day, err)) != RC_OK)
		return rc;
	for (i = 0; i < r.count; i++) {
		s = sitting_of(&sn->cfg, r.items[i].name);
		if (!is_before(sn, &r.items[i], day, sitting) ||
		    (*id != 0 && (r.items[i].day < *newest || s < last)))
			continue;
		*id = r.items[i].id;
		*newest = r.items[i].day;
		last = s;
	}
	sales_record_fini(&r);
	return RC_OK;
}

/* Closed services before `sitting` of `day`, the oldest first. */
static enum rc
load_record(struct known *k, struct station *sn, day_no day, int sitting,
    struct err *err)
{
	struct sales_record r;
	size_t end, from, i;
	day_no newest;
	enum rc rc;
	int s;

	rc = known_newest(&k->newest, &newest, sn, day, sitting, err);
	if (rc == RC_OK)
		rc = sales_record_open(
		    &r, sn->st, newest - RECORD_DAYS, newest, err);
	if (rc != RC_OK)
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
				    is_before(sn, &r.items[i], day, sitting))
					put_past(k, &r, &r.items[i], s);
	}
	sales_record_fini(&r);
	return RC_OK;
}

/* What a portion earns and costs, as far as prices and yields are known. */
static enum rc
load_values(struct known *k, struct station *sn, struct err *err)
{
	struct worth w;
	int64_t cost;
	size_t i;
	enum rc rc;

	if ((rc = worth_open(&w, sn, err)) != RC_OK)
		return rc;
	k->values = xcalloc(k->count + 1, sizeof(*k->values));
	for (i = 0; i < k->count && rc == RC_OK; i++) {
		rc = portion_cost(&cost, sn, &w, k->dishes[i].code, err);
		k->values[i].price = k->dishes[i].price < 0
		    ? DEMAND_UNKNOWN
		    : k->dishes[i].price * COIN;
		k->values[i].cost = cost < 0 ? DEMAND_UNKNOWN : cost;
		k->values[i].life = 1;
	}
	worth_fini(&w);
	return rc;
}

enum rc
known_load(struct known *k, struct station *sn, day_no day, int sitting,
    struct err *err)
{
	enum rc rc;

	memset(k, 0, sizeof(*k));
	if ((rc = load_menu(k, sn, err)) != RC_OK ||
	    (rc = load_record(k, sn, day, sitting, err)) != RC_OK)
		return rc;
	return load_values(k, sn, err);
}
