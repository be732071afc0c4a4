/* worth.c - what a cut yields and what a portion costs. */
#include "worth.h"

#include <string.h>

#include "base/str.h"
#include "ops/yields.h"

enum rc
best_yield(struct plan_yield *out, void *arg, const struct plan_cut *cut,
    enum presentation from, int64_t supplier_id, struct err *err)
{
	struct yield_wish wish = {
		.species = cut->species,
		.bought = from,
		.kind = cut->kind,
		.skin_on = cut->skin_on,
		.supplier_id = supplier_id,
	};
	struct yield_use use;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if (cut->house_yield_bp != 0 && from == cut->bought) {
		out->mean_bp = out->low_bp = cut->house_yield_bp;
		out->published.bp = out->published.low_bp =
		    out->published.high_bp = cut->house_yield_bp;
		str_copy(out->published.source, sizeof(out->published.source),
		    "the kitchen's menu");
		return RC_OK;
	}
	if ((rc = yield_for(&use, arg, &wish, err)) != RC_OK)
		return rc;
	out->mean_bp = use.mean_bp;
	out->low_bp = use.low_bp;
	out->breakdowns = use.learned;
	if (use.has_published)
		out->published = use.published;
	return RC_OK;
}

enum rc
worth_open(struct worth *out, struct station *sn, struct err *err)
{
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = menu_cuts_open(&out->cuts, sn->st, "", err)) != RC_OK ||
	    (rc = offer_list_open(&out->offers, sn->st, err)) != RC_OK ||
	    (rc = batch_list_open(&out->batches, sn->st, err)) != RC_OK)
		worth_fini(out);
	return rc;
}

void
worth_fini(struct worth *w)
{
	menu_cuts_fini(&w->cuts);
	offer_list_fini(&w->offers);
	batch_list_fini(&w->batches);
}

/* Coins per kilogram of the form it is bought in, or -1. */
static int64_t
price_of(const struct worth *w, const struct plan_cut *cut)
{
	const struct plan_offer *o;
	const struct batch *b;
	int64_t best = -1;
	size_t i;

	for (i = 0; i < w->offers.count; i++) {
		o = &w->offers.items[i];
		if (str_eq(o->species, cut->species) &&
		    o->presentation == cut->bought &&
		    (best < 0 || o->price < best))
			best = o->price;
	}
	for (i = 0; best < 0 && i < w->batches.count; i++) {
		b = &w->batches.items[i];
		if (str_eq(b->species, cut->species) &&
		    b->presentation == cut->bought && b->price > 0)
			best = b->price;
	}
	return best;
}

static enum rc
cut_cost(int64_t *out, struct station *sn, const struct worth *w,
    const struct plan_cut *cut, struct err *err)
{
	struct plan_yield y;
	int64_t price = price_of(w, cut);
	struct err quiet;
	int bp;
	enum rc rc;

	*out = -1;
	if (price < 0)
		return RC_OK;
	err_clear(&quiet);
	rc = best_yield(&y, sn, cut, cut->bought, 0, &quiet);
	if (rc == RC_NOTFOUND)
		return RC_OK;
	if (rc != RC_OK)
		return err_set(err, rc, 0, "%s", quiet.text);
	bp = (int)((int64_t)y.mean_bp * cut->finish_bp / BP_ONE);
	if (bp > 0)
		*out = price * yield_bought(cut->target_g, bp);
	return RC_OK;
}

enum rc
portion_cost(int64_t *out, struct station *sn, const struct worth *w,
    const char *dish, struct err *err)
{
	const struct plan_cut *cut, *last = NULL;
	int64_t cost, part = -1, sum = 0;
	size_t i;
	enum rc rc;

	*out = -1;
	for (i = 0; i < w->cuts.count; i++) {
		cut = &w->cuts.items[i];
		if (!str_eq(cut->dish, dish))
			continue;
		if (last != NULL && cut->part != last->part) {
			if (part < 0)
				return RC_OK;
			sum += part;
			part = -1;
		}
		last = cut;
		if ((rc = cut_cost(&cost, sn, w, cut, err)) != RC_OK)
			return rc;
		if (cost >= 0 && (part < 0 || cost < part))
			part = cost;
	}
	if (part >= 0)
		*out = sum + part;
	return RC_OK;
}
