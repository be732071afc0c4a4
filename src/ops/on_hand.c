/* on_hand.c - what is on hand, filtered, counted and a window of it. */
#include "ops/on_hand.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "hand.h"
#include "store/holds.h"

/* --- all of it, in order of use-by ----------------------------------------*/

static bool
earlier(const struct stock_item *a, const struct stock_item *b)
{
	int64_t ua = a->batch ? a->batch->use_by_utc : a->portion->use_by_utc;
	int64_t ub = b->batch ? b->batch->use_by_utc : b->portion->use_by_utc;

	return ua < ub;
}

/* Merge two lists that are each in order of use-by. */
static void
merge(struct hand *h)
{
	const struct batch_list *batches = &h->batches;
	const struct portion_list *portions = &h->portions;
	struct stock_item b, p;
	size_t i = 0, j = 0;

	h->items = xcalloc(batches->count + portions->count, sizeof(*h->items));
	while (i < batches->count || j < portions->count) {
		b = (struct stock_item){
			.batch = i < batches->count ? &batches->items[i] : NULL
		};
		p = (struct stock_item){ .portion = j < portions->count
			    ? &portions->items[j]
			    : NULL };
		if (p.portion != NULL &&
		    (b.batch == NULL || !earlier(&b, &p))) {
			h->items[h->count++] = p;
			j++;
		} else {
			h->items[h->count++] = b;
			i++;
		}
	}
}

enum rc
hand_load(struct hand *out, struct station *sn, struct err *err)
{
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = batch_list_open(&out->batches, sn->st, err)) == RC_OK &&
	    (rc = portion_list_on_hand(&out->portions, sn->st, err)) == RC_OK)
		merge(out);
	return rc;
}

void
hand_fini(struct hand *h)
{
	free(h->items);
	batch_list_fini(&h->batches);
	portion_list_fini(&h->portions);
}

/* --- a row ----------------------------------------------------------------*/

static enum on_hand_state
state_of(const struct on_hand_row *r)
{
	if (r->kind == CODE_BATCH)
		return r->presentation == PRES_LIVE ? ON_HAND_LIVE
						    : ON_HAND_RAW;
	if (r->keep == KEEP_FROZEN)
		return ON_HAND_FROZEN;
	if (r->keep == KEEP_THAWED || r->state == STATE_THAWED)
		return ON_HAND_THAWED;
	if (r->state == STATE_LIVE)
		return ON_HAND_LIVE;
	return r->state == STATE_COOKED ? ON_HAND_COOKED : ON_HAND_RAW;
}

static void
row_of_batch(struct on_hand_row *r, const struct batch *b)
{
	r->kind = CODE_BATCH;
	str_copy(r->code, sizeof(r->code), b->code);
	str_copy(r->batch, sizeof(r->batch), b->code);
	str_copy(r->species, sizeof(r->species), b->species);
	r->count = b->count_left;
	r->made = b->count;
	r->weight_g = b->weight_left;
	r->use_by_utc = b->use_by_utc;
	r->held = b->held;
	r->presentation = b->presentation;
}

static void
row_of_unit(struct on_hand_row *r, const struct portion *p)
{
	r->kind = CODE_PORTION;
	str_copy(r->code, sizeof(r->code), p->code);
	str_copy(r->batch, sizeof(r->batch), p->batch);
	r->others = p->others;
	str_copy(r->dish, sizeof(r->dish), p->dish);
	str_copy(r->name, sizeof(r->name), p->dish_name);
	str_copy(r->species, sizeof(r->species), p->species);
	r->count = p->left;
	r->made = p->servings;
	r->weight_g = p->weight_g * p->left / p->servings;
	r->use_by_utc = p->use_by_utc;
	r->held = p->held;
	r->state = p->state;
	r->keep = p->keep;
}

static void
row_of(struct on_hand_row *r, const struct on_hand_page *page,
    const struct station *sn, const struct stock_item *it)
{
	const struct species *sp;

	memset(r, 0, sizeof(*r));
	if (it->batch != NULL)
		row_of_batch(r, it->batch);
	else
		row_of_unit(r, it->portion);
	sp = species_find(&sn->species, r->species);
	str_copy(r->species_name, sizeof(r->species_name),
	    sp == NULL ? r->species : sp->name);
	if (r->kind == CODE_BATCH)
		str_copy(r->name, sizeof(r->name), r->species_name);
	r->use_by = local_from_utc(r->use_by_utc).day;
	r->days_left = r->use_by - page->today;
	r->expired = r->use_by_utc < page->now_utc;
	r->is = state_of(r);
}

static enum rc
where_put(struct on_hand_row *r, struct station *sn,
    const struct stock_item *it, struct err *err)
{
	const struct subject s = {
		.batch_id = it->batch != NULL ? it->batch->id : 0,
		.portion_id = it->batch != NULL ? 0 : it->portion->id,
	};
	enum rc rc = place_get(r->place, sn->st, &s, err);

	return rc == RC_NOTFOUND ? RC_OK : rc;
}

/* Why it is on hold. */
static enum rc
why_held(struct on_hand_row *r, struct station *sn, const struct stock_item *it,
    struct err *err)
{
	struct subject own = { 0 };
	struct hold h;
	enum rc rc;

	if (!r->held)
		return RC_OK;
	own.batch_id = it->batch != NULL ? it->batch->id : 0;
	rc = it->batch != NULL ? hold_now(&h, sn->st, &own, err)
			       : hold_of_unit(&h, sn->st, it->portion->id, err);
	r->own_hold =
	    rc == RC_OK && (it->batch != NULL || h.subject.portion_id != 0);
	r->prep_hold = rc == RC_OK && h.subject.prep_id != 0;
	if (rc == RC_OK)
		str_copy(r->hold_reason, sizeof(r->hold_reason), h.reason);
	return rc == RC_NOTFOUND ? RC_OK : rc;
}

/* --- the filter -----------------------------------------------------------*/

static bool
state_fits(const struct on_hand_row *r, enum on_hand_state s)
{
	if (s == ON_HAND_ANY)
		return true;
	if (s == ON_HAND_HELD)
		return r->held;
	if (s == ON_HAND_EXPIRED)
		return r->expired;
	if (s == ON_HAND_TODAY)
		return !r->expired && r->days_left == 0;
	return r->is == s;
}

/* What of a filter a row meets, each part by itself. */
struct fits {
	bool what, state, species, dish;
};

static struct fits
fits_of(const struct on_hand_row *r, const struct on_hand_filter *f)
{
	struct fits fit = {
		.what = f->what == ON_HAND_BOTH ||
		    (f->what == ON_HAND_BATCHES) == (r->kind == CODE_BATCH),
		.state = state_fits(r, f->state),
		.species =
		    f->species[0] == '\0' || str_eq(f->species, r->species),
		.dish = f->dish[0] == '\0' || str_eq(f->dish, r->dish),
	};

	return fit;
}

static void
add(struct on_hand_sum *s, const struct on_hand_row *r)
{
	s->rows++;
	s->weight_g += r->weight_g;
	if (r->kind == CODE_BATCH) {
		s->batches++;
		return;
	}
	s->units++;
	s->servings += r->count;
}

/* A kitchen has few species and dishes on hand: looked through one by one. */
static void
add_group(struct on_hand_group **groups, size_t *count, const char *code,
    const char *name, const struct on_hand_row *r)
{
	size_t i, cap = *count;

	for (i = 0; i < *count; i++)
		if (str_eq((*groups)[i].code, code))
			break;
	if (i == *count) {
		*groups = grow(*groups, &cap, *count, sizeof(**groups));
		memset(&(*groups)[i], 0, sizeof(**groups));
		str_copy((*groups)[i].code, sizeof((*groups)[i].code), code);
		str_copy((*groups)[i].name, sizeof((*groups)[i].name), name);
		(*count)++;
	}
	add(&(*groups)[i].sum, r);
}

static int
by_name(const void *a, const void *b)
{
	const struct on_hand_group *x = a, *y = b;
	int order = strcmp(x->name, y->name);

	return order != 0 ? order : strcmp(x->code, y->code);
}

static void
count_row(
    struct on_hand_page *p, const struct on_hand_row *r, const struct fits *fit)
{
	int s;

	add(&p->all, r);
	p->expired_rows += state_fits(r, ON_HAND_EXPIRED);
	p->today_rows += state_fits(r, ON_HAND_TODAY);
	for (s = 0; s < ON_HAND_STATE_COUNT; s++)
		if (fit->what && fit->species && fit->dish &&
		    state_fits(r, (enum on_hand_state)s))
			add(&p->states[s], r);
	if (fit->what && fit->state && fit->dish)
		add_group(&p->species, &p->species_count, r->species,
		    r->species_name, r);
	if (fit->what && fit->state && fit->species && r->kind == CODE_PORTION)
		add_group(&p->dishes, &p->dish_count, r->dish, r->name, r);
	if (fit->what && fit->state && fit->species && fit->dish)
		add(&p->sum, r);
}

/* --- the page -------------------------------------------------------------*/

/* Indices of the items the filter leaves, counted on the way. */
static size_t *
sift(size_t *left, struct on_hand_page *p, const struct station *sn,
    const struct hand *h, const char *code)
{
	size_t *kept = xcalloc(h->count, sizeof(*kept));
	struct on_hand_row r;
	struct fits fit;
	size_t i;

	*left = 0;
	for (i = 0; i < h->count; i++) {
		row_of(&r, p, sn, &h->items[i]);
		fit = fits_of(&r, &p->filter);
		count_row(p, &r, &fit);
		if (!fit.what || !fit.state || !fit.species || !fit.dish)
			continue;
		if (code != NULL && str_eq(code, r.code))
			p->found = (int64_t)*left;
		kept[(*left)++] = i;
	}
	if (p->species_count > 0) /* an empty table is no table */
		qsort(
		    p->species, p->species_count, sizeof(*p->species), by_name);
	if (p->dish_count > 0)
		qsort(p->dishes, p->dish_count, sizeof(*p->dishes), by_name);
	return kept;
}

/* Where the window begins: at the wish, over what was found, within it all. */
static size_t
window_at(
    const struct on_hand_page *p, const struct on_hand_wish *w, size_t left)
{
	size_t at = w->offset;
	size_t found = p->found < 0 ? at : (size_t)p->found;

	if (found < at || found >= at + w->limit)
		at = found - (found < w->limit / 2 ? found : w->limit / 2);
	if (at + w->limit > left)
		at = left < w->limit ? 0 : left - w->limit;
	return at;
}

static enum rc
fill(struct on_hand_page *p, struct station *sn, const struct hand *h,
    const size_t *kept, size_t count, struct err *err)
{
	const struct stock_item *it;
	size_t i;
	enum rc rc = RC_OK;

	p->rows = xcalloc(count, sizeof(*p->rows));
	for (i = 0; i < count && rc == RC_OK; i++) {
		it = &h->items[kept[p->offset + i]];
		row_of(&p->rows[i], p, sn, it);
		if ((rc = why_held(&p->rows[i], sn, it, err)) == RC_OK)
			rc = where_put(&p->rows[i], sn, it, err);
	}
	p->count = count;
	return rc;
}

enum rc
on_hand_load(struct on_hand_page *out, struct station *sn,
    const struct on_hand_wish *wish, struct err *err)
{
	size_t left, count, *kept = NULL; /* indices */
	struct hand h;
	enum rc rc;

	assert(wish->limit > 0);
	memset(out, 0, sizeof(*out));
	out->now_utc = clock_now(&sn->clock);
	out->today = local_from_utc(out->now_utc).day;
	out->filter = wish->filter;
	out->found = -1;
	if ((rc = hand_load(&h, sn, err)) == RC_OK) {
		kept = sift(&left, out, sn, &h, wish->code);
		out->offset = window_at(out, wish, left);
		count = left - out->offset;
		if (count > wish->limit)
			count = wish->limit;
		rc = fill(out, sn, &h, kept, count, err);
	}
	free(kept);
	hand_fini(&h);
	if (rc != RC_OK)
		on_hand_fini(out);
	return rc;
}

void
on_hand_fini(struct on_hand_page *p)
{
	free(p->species);
	free(p->dishes);
	free(p->rows);
	memset(p, 0, sizeof(*p));
}
