/* look.c - look at stock, at one code's chain, and at the audit trail. */
#include "ops/look.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "hand.h"
#include "exchange/audit_out.h"
#include "exchange/stock_out.h"
#include "ops/balance.h"
#include "ops/scan.h"
#include "report_load.h"
#include "ops/place.h"
#include "store/audit.h"

enum rc
stock(struct buf *out, struct station *sn, enum format format, struct err *err)
{
	struct stock_report r = {
		.kitchen = sn->cfg.kitchen,
		.now_utc = clock_now(&sn->clock),
		.species = &sn->species,
	};
	struct hand h;
	enum rc rc;

	if ((rc = hand_load(&h, sn, err)) == RC_OK) {
		r.items = h.items;
		r.count = h.count;
		stock_write(out, &r, format);
		rc = buf_check(out, "the stock list", err);
	}
	hand_fini(&h);
	return rc;
}

static void
traced_fini(struct traced_portion *t)
{
	size_t i;

	portion_events_fini(&t->events);
	hold_list_fini(&t->holds);
	hold_notes_fini(&t->notes);
	for (i = 0; t->freezing_why != NULL && i < t->freezings.count; i++)
		free(t->freezing_why[i]);
	free(t->freezing_why);
	freezing_list_fini(&t->freezings);
	job_list_fini(&t->labels);
	portion_parts_fini(&t->parts);
	portion_parts_fini(&t->went);
	free(t->why);
}

void
trace_report_fini(struct trace_report *r)
{
	size_t i;

	for (i = 0; i < r->portion_count; i++)
		traced_fini(&r->portions[i]);
	free(r->portions);
	free(r->batch_why);
	free(r->batch_judgement);
	hold_list_fini(&r->batch_holds);
	hold_list_fini(&r->prep_holds);
	hold_notes_fini(&r->batch_notes);
	job_list_fini(&r->batch_labels);
	prep_list_fini(&r->preps);
	prep_list_fini(&r->struck);
	for (i = 0; i < r->other_count; i++)
		trace_report_fini(&r->others[i]);
	free(r->others);
}

static enum rc
load_freezings(struct traced_portion *t, struct station *sn, struct err *err)
{
	struct freezing_list *l = &t->freezings;
	size_t i;
	enum rc rc;

	rc = freezing_list_open(l, sn->st, t->portion.id, err);
	if (rc != RC_OK)
		return rc;
	t->freezing_why = xcalloc(l->count, sizeof(*t->freezing_why));
	for (i = 0; i < l->count && rc == RC_OK; i++)
		rc = freezing_why(
		    &t->freezing_why[i], sn->st, l->items[i].id, err);
	return rc;
}

/* Everything known about one labelled unit. */
static enum rc
load_unit(struct trace_report *r, struct station *sn, const struct portion *p,
    struct err *err)
{
	struct traced_portion *t = &r->portions[r->portion_count++];
	struct subject s = { .portion_id = p->id };
	enum rc rc;

	t->portion = *p;
	if ((rc = portion_events_open(&t->events, sn->st, p->id, err)) !=
		RC_OK ||
	    (rc = hold_list_open(&t->holds, sn->st, &s, err)) != RC_OK ||
	    (rc = hold_notes_open(&t->notes, sn->st, &s, err)) != RC_OK ||
	    (p->held &&
		(rc = hold_of_unit(&t->other_hold, sn->st, p->id, err)) !=
		    RC_OK) ||
	    (rc = place_of_unit(t->place, sn, p, err)) != RC_OK ||
	    (rc = job_list_subject(&t->labels, sn->st, &s, err)) != RC_OK ||
	    (rc = load_freezings(t, sn, err)) != RC_OK ||
	    (rc = portion_parts_open(&t->parts, sn->st, p->id, err)) != RC_OK ||
	    (rc = portion_went_open(&t->went, sn->st, p->id, err)) != RC_OK)
		return rc;
	return portion_why(&t->why, sn->st, p->id, err);
}

static enum rc
load_units(struct trace_report *r, struct station *sn,
    const struct trace_window *w, struct err *err)
{
	struct portion_list l;
	size_t i;
	enum rc rc;

	rc = w == NULL ? portion_list_batch(&l, sn->st, r->batch.id, err)
		       : portion_list_window(&l, sn->st, r->batch.id,
			     w->prep_id, w->first, w->most, err);
	if (rc != RC_OK)
		return rc;
	r->portions = xcalloc(l.count, sizeof(*r->portions));
	for (i = 0; i < l.count && rc == RC_OK; i++)
		rc = load_unit(r, sn, &l.items[i], err);
	portion_list_fini(&l);
	return rc;
}

static enum rc
load_batch(struct trace_report *r, struct station *sn, const char *code,
    struct err *err)
{
	struct subject s = { 0 };
	enum rc rc;

	if ((rc = batch_get(&r->batch, sn->st, code, err)) != RC_OK)
		return rc;
	s.batch_id = r->batch.id;
	if ((rc = batch_why(&r->batch_why, sn->st, r->batch.id, err)) !=
		RC_OK ||
	    (rc = batch_judgement(
		 &r->batch_judgement, sn->st, r->batch.id, err)) != RC_OK ||
	    (rc = hold_list_open(&r->batch_holds, sn->st, &s, err)) != RC_OK ||
	    (rc = hold_list_preps(&r->prep_holds, sn->st, r->batch.id, err)) !=
		RC_OK ||
	    (rc = hold_notes_open(&r->batch_notes, sn->st, &s, err)) != RC_OK ||
	    (rc = place_of_batch(r->batch_place, sn, r->batch.id, err)) !=
		RC_OK ||
	    (rc = job_list_subject(&r->batch_labels, sn->st, &s, err)) != RC_OK)
		return rc;
	if ((rc = batch_struck_get(
		 &r->batch_struck, sn->st, r->batch.id, err)) != RC_OK ||
	    (rc = prep_list_open(&r->preps, sn->st, r->batch.id, err)) != RC_OK)
		return rc;
	return prep_list_struck(&r->struck, sn->st, r->batch.id, err);
}

/* Holds on breakdowns of another batch, those that are not there yet. */
static void
add_prep_holds(struct trace_report *r, const struct hold_list *more)
{
	struct hold_list *l = &r->prep_holds;
	size_t i, j;

	l->items =
	    xrealloc(l->items, l->count + more->count + 1, sizeof(*l->items));
	for (i = 0; i < more->count; i++) {
		for (j = 0; j < l->count; j++)
			if (l->items[j].id == more->items[i].id)
				break;
		if (j == l->count)
			l->items[l->count++] = more->items[i];
	}
}

/* The other batches of a unit, and the breakdowns it rests on in place of all
 * those of its batch. */
static enum rc
load_sources(struct trace_report *r, struct station *sn,
    const struct portion *p, struct err *err)
{
	struct portion_source_list l;
	struct trace_report *o;
	struct batch b;
	size_t i;
	enum rc rc;

	prep_list_fini(&r->preps);
	prep_list_fini(&r->struck);
	if ((rc = prep_list_unit(p->struck ? &r->struck : &r->preps, sn->st,
		 p->id, err)) != RC_OK ||
	    (rc = portion_sources_open(&l, sn->st, p->id, err)) != RC_OK)
		return rc;
	r->others = xcalloc(l.count, sizeof(*r->others));
	for (i = 1; i < l.count && rc == RC_OK; i++) {
		o = &r->others[r->other_count++];
		o->kitchen = r->kitchen;
		o->now_utc = r->now_utc;
		o->species = r->species;
		o->of_portion = true;
		if ((rc = batch_by_id(&b, sn->st, l.items[i], err)) == RC_OK)
			rc = load_batch(o, sn, b.code, err);
		if (rc == RC_OK)
			add_prep_holds(r, &o->prep_holds);
	}
	portion_sources_fini(&l);
	return rc;
}

static enum rc
load_chain(struct trace_report *r, struct station *sn,
    const struct trace_window *w, struct err *err)
{
	struct portion p;
	enum rc rc;

	if (!r->of_portion) {
		rc = load_batch(r, sn, r->asked, err);
		return rc != RC_OK ? rc : load_units(r, sn, w, err);
	}
	if ((rc = portion_get(&p, sn->st, r->asked, err)) != RC_OK ||
	    (rc = load_batch(r, sn, p.batch, err)) != RC_OK)
		return rc;
	r->portions = xcalloc(1, sizeof(*r->portions));
	if ((rc = load_unit(r, sn, &p, err)) != RC_OK)
		return rc;
	return load_sources(r, sn, &p, err);
}

static enum rc
load_report(struct trace_report *r, struct station *sn, const char *code,
    bool forward, const struct trace_window *w, struct err *err)
{
	struct portion p;
	enum code_kind kind;
	enum rc rc;

	*r = (struct trace_report){
		.kitchen = sn->cfg.kitchen,
		.now_utc = clock_now(&sn->clock),
		.species = &sn->species,
	};
	if ((rc = scan_code(&kind, r->asked, sn, code, err)) != RC_OK)
		return rc;
	r->of_portion = kind == CODE_PORTION && !forward;
	if (kind == CODE_PORTION && forward) {
		if ((rc = portion_get(&p, sn->st, r->asked, err)) != RC_OK)
			return rc;
		str_copy(r->asked, sizeof(r->asked), p.batch);
	}
	if ((rc = load_chain(r, sn, w, err)) != RC_OK || w != NULL ||
	    r->of_portion)
		return rc;
	return balance_batch(&r->mass, sn, r->batch.code, err);
}

enum rc
trace_report_load(struct trace_report *r, struct station *sn, const char *code,
    bool forward, struct err *err)
{
	return load_report(r, sn, code, forward, NULL, err);
}

enum rc
trace_report_window(struct trace_report *r, struct station *sn,
    const char *code, const struct trace_window *w, struct err *err)
{
	return load_report(r, sn, code, false, w, err);
}

enum rc
trace(struct buf *out, struct station *sn, const char *code, enum format format,
    struct err *err)
{
	struct trace_report r;
	enum rc rc;

	if ((rc = trace_report_load(&r, sn, code, false, err)) == RC_OK) {
		trace_write(out, &r, format);
		rc = buf_check(out, "the chain", err);
	}
	trace_report_fini(&r);
	return rc;
}

enum rc
audit_trail(struct buf *out, struct station *sn, int64_t most, bool changes,
    enum format format, struct err *err)
{
	struct audit_list l;
	enum rc rc;

	if ((rc = audit_list_open(&l, sn->st, most, err)) != RC_OK)
		return rc;
	if (changes)
		rc = audit_list_changes(&l, sn->st, err);
	if (rc == RC_OK)
		audit_write(out, &l, format);
	audit_list_fini(&l);
	return rc != RC_OK ? rc : buf_check(out, "the log", err);
}
