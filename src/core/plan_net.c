/* plan_net.c - portions on hand to services and dishes (rule R-P2). */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "plan_work.h"

/* A dish without a price counts, but says nothing against another. */
#define VALUE_UNKNOWN 1

static bool
dish_takes(const struct plan_want *w, const struct plan_tray *t)
{
	size_t i;

	for (i = 0; i < w->cut_count; i++)
		if (str_eq(w->cuts[i].dish, t->dish) &&
		    str_eq(w->cuts[i].species, t->species))
			return true;
	return false;
}

/* Use-by of a frozen tray thawed for service `i`; 0: it cannot be. */
static int64_t
thawed_until(const struct plan_tray *t, size_t i)
{
	return t->thawed_use_by_utc == NULL ? 0 : t->thawed_use_by_utc[i];
}

/* No tray served raw is made without its freeze record. */
static enum stock_reason
tray_bar(
    const struct plan_tray *t, const struct plan_problem *p, size_t service)
{
	struct stock_lot lot = plan_lot(t->held, t->use_by_utc);

	if (t->frozen) {
		lot.frozen = FACT_YES;
		lot.thaw_hours = p->thaw_hours;
		lot.thawed_use_by_utc = thawed_until(t, service);
	}
	return plan_bar(&lot, p->now_utc, &p->services[service]);
}

static size_t
count_wants(const struct plan_problem *p)
{
	size_t i, n = 0;

	for (i = 0; i < p->service_count; i++)
		n += p->services[i].want_count;
	return n;
}

static void
fill_want(struct allot_want *out, const struct plan_want *w,
    const struct plan_service *s, int dish)
{
	int64_t units = (int64_t)w->demand.target - w->used;
	int64_t price = w->cut_count > 0 ? w->cuts[0].price : -1;

	out->dish = dish;
	out->units = units > 0 ? units : 0;
	out->end_utc = s->end_utc;
	out->value = price > 0 ? price * 1000 : VALUE_UNKNOWN;
}

/* The number of a dish, the same in every service. */
static int
dish_number(const struct plan_problem *p, const struct plan_want *w)
{
	const struct plan_service *s;
	size_t i, j;
	int n = 0;

	for (i = 0; i < p->service_count; i++) {
		s = &p->services[i];
		for (j = 0; j < s->want_count; j++, n++)
			if (s->wants[j].cut_count > 0 && w->cut_count > 0 &&
			    s->wants[j].cuts[0].part == w->cuts[0].part &&
			    str_eq(s->wants[j].cuts[0].dish, w->cuts[0].dish))
				return n;
	}
	return n;
}

/* Service a want is of. */
static size_t
service_of(const struct plan_problem *p, size_t want)
{
	size_t i = 0;

	while (want >= p->services[i].want_count)
		want -= p->services[i++].want_count;
	return i;
}

/* Frozen trays while they are shared out, service after service. */
struct thawing {
	const struct plan_problem *p;
	size_t wants;
	const bool *may; /* [tray * wants + want], each want by itself */
	bool *fits;      /* the same, in the step at hand */
	size_t *by; /* service each tray is thawed for; none yet: NOT_YET */
};

#define NOT_YET SIZE_MAX

/*
 * A frozen tray is thawed once.  In the step of a service those not thawed yet
 * may be thawed for it; what is thawed serves later ones only where it keeps.
 */
static void
thaw_fits(const struct thawing *th, size_t step)
{
	const struct plan_tray *tray;
	size_t t, w, at, to, i;

	for (t = 0; t < th->p->stock->tray_count; t++)
		for (w = 0; w < th->wants; w++) {
			tray = &th->p->stock->trays[t];
			i = t * th->wants + w;
			at = th->by[t] == NOT_YET ? step : th->by[t];
			to = service_of(th->p, w);
			th->fits[i] = th->may[i] &&
			    (!tray->frozen || to == at ||
				(to > at &&
				    thawed_until(tray, at) >=
					th->p->services[to].end_utc));
		}
}

static bool
any_frozen(const struct plan_stock *stock)
{
	size_t t;

	for (t = 0; t < stock->tray_count; t++)
		if (stock->trays[t].frozen)
			return true;
	return false;
}

/* Earlier services take their share first (R-P7), so they thaw first. */
static enum rc
share_out(struct allot *out, const struct thawing *th, struct allot_problem *a,
    struct err *err)
{
	size_t n = th->p->service_count, step, i, t;
	enum rc rc = RC_OK;

	step = any_frozen(th->p->stock) || n == 0 ? 0 : n - 1;
	for (; step < n && rc == RC_OK; step++) {
		thaw_fits(th, step);
		allot_fini(out);
		rc = allot_solve(out, a, err);
		for (i = 0; i < out->count && rc == RC_OK; i++) {
			t = out->items[i].tray;
			if (th->by[t] == NOT_YET &&
			    service_of(th->p, out->items[i].want) == step)
				th->by[t] = step;
		}
	}
	return rc;
}

enum rc
net_trays(struct allot *out, const struct plan_problem *p, struct err *err)
{
	size_t n = count_wants(p), trays = p->stock->tray_count, i, j, t, k = 0;
	const struct plan_service *s;
	struct allot_tray *tray = xcalloc(trays, sizeof(*tray));
	struct allot_want *want = xcalloc(n, sizeof(*want));
	bool *may = xcalloc(trays * n, sizeof(*may));
	bool *fits = xcalloc(trays * n, sizeof(*fits));
	size_t *by = xcalloc(trays, sizeof(*by));
	enum rc rc;

	memset(out, 0, sizeof(*out));
	for (t = 0; t < trays; t++) {
		by[t] = NOT_YET;
		tray[t].units = p->stock->trays[t].left;
		tray[t].use_by_utc = p->stock->trays[t].use_by_utc;
	}
	for (i = 0; i < p->service_count; i++) {
		s = &p->services[i];
		for (j = 0; j < s->want_count; j++, k++) {
			fill_want(&want[k], &s->wants[j], s,
			    dish_number(p, &s->wants[j]));
			for (t = 0; t < trays; t++)
				may[t * n + k] = dish_takes(&s->wants[j],
						     &p->stock->trays[t]) &&
				    tray_bar(&p->stock->trays[t], p, i) ==
					STOCK_USABLE;
		}
	}
	rc = share_out(out,
	    &(struct thawing){
		.p = p,
		.wants = n,
		.may = may,
		.fits = fits,
		.by = by,
	    },
	    &(struct allot_problem){
		.trays = tray,
		.tray_count = trays,
		.wants = want,
		.want_count = n,
		.fits = fits,
	    },
	    err);
	free(may);
	free(by);
	free(tray);
	free(want);
	free(fits);
	return rc;
}

/* One tray of a line's dish: what of it is used, or why it is not. */
static void
take_tray(
    struct run *r, size_t line, const struct plan_tray *tray, int64_t units)
{
	struct plan_line *l = &r->out->lines[line];
	struct plan_take *t = add_take(r, line, NULL);
	size_t service = (size_t)(r->s - r->p->services);

	t->tray = true;
	str_copy(t->code, sizeof(t->code), tray->code);
	str_copy(t->species, sizeof(t->species), tray->species);
	t->use_by_utc = tray->use_by_utc;
	t->portions = units;
	t->frozen = tray->frozen;
	l->on_hand += units;
	if (units > 0 && tray->frozen) {
		t->use_by_utc = thawed_until(tray, service);
		t->thaw_by_utc = r->s->start_utc - r->p->thaw_hours * 3600;
	}
	if (units > 0)
		return;
	t->bar = tray_bar(tray, r->p, service);
	t->reason = t->bar != STOCK_USABLE ? PLAN_BARRED
	    : l->to_have > l->on_hand      ? PLAN_ELSEWHERE
					   : PLAN_NOT_NEEDED;
}

static bool
same_part(const struct plan_want *w, const struct plan_line *l)
{
	return w->cut_count > 0 && w->cuts[0].part == l->cut.part &&
	    str_eq(w->cuts[0].dish, l->cut.dish);
}

void
net_apply(struct run *r, size_t index, const struct allot *shares)
{
	const struct plan_want *w;
	const struct plan_tray *tray;
	size_t base = 0, i, j, t, line;
	int64_t units;

	for (i = 0; i < index; i++)
		base += r->p->services[i].want_count;
	for (line = 0; line < r->out->count; line++)
		for (t = 0; t < r->p->stock->tray_count; t++) {
			tray = &r->p->stock->trays[t];
			for (j = 0; j < r->s->want_count; j++) {
				w = &r->s->wants[j];
				if (!same_part(w, &r->out->lines[line]) ||
				    !dish_takes(w, tray))
					continue;
				units = 0;
				for (i = 0; i < shares->count; i++)
					if (shares->items[i].tray == t &&
					    shares->items[i].want == base + j)
						units += shares->items[i].units;
				if (units > 0 || tray->left > 0)
					take_tray(r, line, tray, units);
			}
		}
}
