/* yields_page.c - learned yields on the page of a species. */
#include "yields_page.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "store/batch_fish.h"
#include "store/yields.h"

static void
text_one(
    struct buf *out, const struct station *sn, const struct yield_learned *l)
{
	struct yield_guess g = yield_guess(&l->now, 1);
	char mean[32], from[32], to[32];
	struct yield p;

	if (l->supplier_id != YIELD_ALL_SUPPLIERS)
		buf_printf(out, "    %-17s", l->supplier);
	else
		buf_printf(out, "  %-8s to %-7s", yield_form_word(l->key.from),
		    l->key.cut);
	buf_printf(out, " %8s  (%s to %s)  %" PRId64 " breakdown%s%s\n",
	    percent_print(mean, sizeof(mean), g.mean_bp),
	    percent_print(from, sizeof(from), g.from_bp),
	    percent_print(to, sizeof(to), g.to_bp), l->now.count,
	    l->now.count == 1 ? "" : "s",
	    l->supplier_id != YIELD_ALL_SUPPLIERS &&
		    l->now.count < YIELD_SUPPLIER_MIN
		? ", too few to plan with"
		: "");
	if (l->supplier_id != YIELD_ALL_SUPPLIERS)
		return;
	if (!yield_key_published(&p, &sn->yields, &l->key)) {
		buf_printf(out, "    %-17s %8s\n", "published", "none");
		return;
	}
	buf_printf(out, "    %-17s %8s  (%s to %s)%s\n", "published",
	    percent_print(mean, sizeof(mean), p.bp),
	    percent_print(from, sizeof(from), p.low_bp),
	    percent_print(to, sizeof(to), p.high_bp),
	    p.verified ? "" : "  unverified");
	buf_wrap(out, p.source, 29, 79);
}

enum rc
yields_text(struct buf *out, const struct station *sn, const struct species *sp,
    struct err *err)
{
	struct yield_learned_list l;
	char cv[32];
	size_t i;
	int cv_bp;
	enum rc rc;

	if (sn->st == NULL)
		return RC_OK;
	if ((rc = yield_learned_open(&l, sn->st, sp->code, err)) != RC_OK)
		return rc;
	if (l.count > 0)
		buf_puts(out,
		    "\nYields, learned here (mean, 80 % range of the mean)\n");
	for (i = 0; i < l.count; i++)
		text_one(out, sn, &l.items[i]);
	yield_learned_fini(&l);
	if ((rc = batch_fish_cv(&cv_bp, sn->st, sp->code, err)) != RC_OK)
		return rc;
	if (cv_bp != FISH_CV_START_BP)
		buf_printf(out,
		    "\nFish of one batch differ by %s of their mean (weighed "
		    "here)\n",
		    percent_print(cv, sizeof(cv), cv_bp));
	return RC_OK;
}

static void
json_one(
    struct jsonw *w, const struct station *sn, const struct yield_learned *l)
{
	struct yield_guess g = yield_guess(&l->now, 1);
	struct yield p;

	jsonw_object(w, NULL);
	jsonw_str(w, "from", yield_form_word(l->key.from));
	jsonw_str(w, "to", l->key.cut);
	jsonw_str(w, "supplier", l->supplier);
	jsonw_int(w, "mean_per_10000", g.mean_bp);
	jsonw_int(w, "low_per_10000", g.from_bp);
	jsonw_int(w, "high_per_10000", g.to_bp);
	jsonw_int(w, "order_per_10000", g.low_bp);
	jsonw_int(w, "breakdowns", l->now.count);
	jsonw_bool(w, "used",
	    l->supplier_id == YIELD_ALL_SUPPLIERS ||
		l->now.count >= YIELD_SUPPLIER_MIN);
	if (yield_key_published(&p, &sn->yields, &l->key)) {
		jsonw_object(w, "published");
		jsonw_int(w, "per_10000", p.bp);
		jsonw_int(w, "low_per_10000", p.low_bp);
		jsonw_int(w, "high_per_10000", p.high_bp);
		jsonw_bool(w, "verified", p.verified);
		jsonw_str(w, "source", p.source);
		jsonw_end(w);
	} else {
		jsonw_null(w, "published");
	}
	jsonw_end(w);
}

enum rc
yields_json(struct jsonw *w, const struct station *sn, const struct species *sp,
    struct err *err)
{
	struct yield_learned_list l;
	size_t i;
	int cv_bp;
	enum rc rc;

	if (sn->st == NULL)
		return RC_OK;
	if ((rc = yield_learned_open(&l, sn->st, sp->code, err)) != RC_OK)
		return rc;
	jsonw_array(w, "learned");
	for (i = 0; i < l.count; i++)
		json_one(w, sn, &l.items[i]);
	jsonw_end(w);
	yield_learned_fini(&l);
	if ((rc = batch_fish_cv(&cv_bp, sn->st, sp->code, err)) == RC_OK)
		jsonw_int(w, "fish_cv_per_10000", cv_bp);
	return rc;
}
