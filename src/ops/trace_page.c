/* trace_page.c - a code's chain to look at, a window of it at a time. */
#include "ops/trace_page.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "exchange/stock_out.h"
#include "report_load.h"

static void
put_unit(struct trace_unit *u, const struct traced_portion *t)
{
	struct portion_sums s;

	portion_sums(&s, t);
	u->portion = t->portion;
	u->used = s.used;
	u->discarded = s.discarded;
	u->missing = s.missing;
	u->struck = s.struck;
}

/* The hold in force of a list, if there is one. */
static bool
in_force(struct hold *out, const struct hold_list *l)
{
	size_t i;

	for (i = l->count; i > 0; i--)
		if (l->items[i - 1].released_utc == 0) {
			*out = l->items[i - 1];
			return true;
		}
	return false;
}

/* The one in force on a breakdown. */
static bool
on_prep(struct hold *out, const struct hold_list *l, int64_t prep_id)
{
	size_t i;

	for (i = 0; i < l->count && prep_id != 0; i++)
		if (l->items[i].subject.prep_id == prep_id &&
		    l->items[i].released_utc == 0) {
			*out = l->items[i];
			return true;
		}
	return false;
}

/* What blocks a thing that has no hold of its own. */
static void
put_hold(struct trace_page *p, const struct trace_report *r, int64_t prep_id)
{
	p->hold_of_prep = on_prep(&p->hold, &r->prep_holds, prep_id);
	if (p->hold_of_prep)
		return;
	p->hold_of_batch = in_force(&p->hold, &r->batch_holds);
	/* A unit of several batches may be blocked by another of them, a tray
	 * put together by another of its breakdowns. */
	if (!p->hold_of_batch && r->of_portion &&
	    r->portions[0].other_hold.id != 0) {
		p->hold = r->portions[0].other_hold;
		p->hold_of_prep = p->hold.subject.prep_id != 0;
		p->hold_of_batch = !p->hold_of_prep;
	}
}

static size_t
labels_out(const struct job_list *l)
{
	size_t i, n = 0;

	for (i = 0; i < l->count; i++)
		n += job_may_be_out(&l->items[i]);
	return n;
}

static void
put_species(struct trace_page *p, const struct trace_report *r)
{
	const struct species *sp = species_find(r->species, r->batch.species);

	str_fmt(p->species, sizeof(p->species), "%s",
	    sp == NULL ? r->batch.species : sp->name);
	str_fmt(p->scientific, sizeof(p->scientific), "%s",
	    sp == NULL ? "" : sp->scientific);
}

/* The breakdowns that count, then those struck out; `r` gives up its lists. */
static void
put_preps(struct trace_page *p, struct trace_report *r)
{
	size_t n = r->preps.count, more = r->struck.count;

	p->preps.items = xcalloc(n + more, sizeof(*p->preps.items));
	if (n > 0)
		memcpy(p->preps.items, r->preps.items,
		    n * sizeof(*p->preps.items));
	if (more > 0)
		memcpy(p->preps.items + n, r->struck.items,
		    more * sizeof(*p->preps.items));
	p->preps.count = n + more;
}

static void
put_portion(struct trace_page *p, struct trace_report *r)
{
	struct traced_portion *t = &r->portions[0];
	size_t i;

	put_unit(&p->unit, t);
	if (!in_force(&p->hold, &t->holds))
		put_hold(p, r, t->portion.prep_id);
	str_copy(p->place, sizeof(p->place), t->place);
	p->labels = labels_out(&t->labels);
	p->others = xcalloc(r->other_count, sizeof(*p->others));
	for (; p->other_count < r->other_count; p->other_count++)
		p->others[p->other_count] = r->others[p->other_count].batch;
	for (i = 0; i < p->preps.count; i++)
		if (p->preps.items[i].id == t->portion.prep_id)
			p->prep = p->preps.items[i];
	p->events = t->events;
	memset(&t->events, 0, sizeof(t->events));
	p->freezings = t->freezings;
	for (i = 0; i < t->freezings.count; i++)
		free(t->freezing_why[i]);
	free(t->freezing_why);
	t->freezing_why = NULL;
	memset(&t->freezings, 0, sizeof(t->freezings));
}

static void
put_batch(struct trace_page *p, const struct trace_report *r)
{
	size_t i;

	put_hold(p, r, p->window.prep_id);
	str_copy(p->place, sizeof(p->place), r->batch_place);
	p->labels = labels_out(&r->batch_labels);
	p->units = xcalloc(r->portion_count, sizeof(*p->units));
	for (i = 0; i < r->portion_count; i++)
		put_unit(&p->units[i], &r->portions[i]);
	p->unit_count = r->portion_count;
}

enum rc
trace_page_load(struct trace_page *out, struct station *sn, const char *text,
    const struct trace_window *window, struct err *err)
{
	struct trace_report r;
	enum rc rc;

	assert(window->most > 0 && window->most <= TRACE_UNITS_MAX);
	memset(out, 0, sizeof(*out));
	rc = trace_report_window(&r, sn, text, window, err);
	if (rc == RC_OK)
		rc = chain_count(&out->counts, sn->st, r.batch.id,
		    r.of_portion ? 0 : window->prep_id, r.now_utc, err);
	if (rc == RC_OK) {
		str_copy(out->code, sizeof(out->code), r.asked);
		out->of_portion = r.of_portion;
		out->now_utc = r.now_utc;
		out->batch = r.batch;
		out->batch_struck = r.batch_struck;
		out->window = *window;
		put_species(out, &r);
		put_preps(out, &r);
		if (r.of_portion)
			put_portion(out, &r);
		else
			put_batch(out, &r);
	}
	trace_report_fini(&r);
	return rc;
}

void
trace_page_fini(struct trace_page *p)
{
	portion_events_fini(&p->events);
	freezing_list_fini(&p->freezings);
	prep_list_fini(&p->preps);
	free(p->others);
	free(p->units);
	memset(p, 0, sizeof(*p));
}

enum rc
trace_why(
    struct buf *out, struct station *sn, const char *code, struct err *err)
{
	const struct trace_window none = { 0, 0, 1 };
	struct trace_report r;
	char when[48];
	enum rc rc;

	if ((rc = trace_report_window(&r, sn, code, &none, err)) == RC_OK) {
		buf_printf(out, "%s\n",
		    time_short(when, sizeof(when),
			r.of_portion ? r.portions[0].portion.use_by_utc
				     : r.batch.use_by_utc));
		trace_text_why(
		    out, r.of_portion ? r.portions[0].why : r.batch_why);
		if (r.of_portion)
			trace_text_freezings(out, &r.portions[0]);
		rc = buf_check(out, "the reasons", err);
	}
	trace_report_fini(&r);
	return rc;
}

enum rc
trace_on_hand(char (*codes)[CODE_SIZE], size_t most, size_t *count,
    struct station *sn, const char *batch, struct err *err)
{
	struct portion_list l;
	struct batch b;
	size_t i;
	enum rc rc;

	*count = 0;
	if ((rc = batch_get(&b, sn->st, batch, err)) != RC_OK ||
	    (rc = portion_list_batch(&l, sn->st, b.id, err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count; i++) {
		if (l.items[i].left == 0)
			continue;
		if (*count < most)
			str_copy(codes[*count], CODE_SIZE, l.items[i].code);
		(*count)++;
	}
	portion_list_fini(&l);
	return RC_OK;
}
