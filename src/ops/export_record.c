/* export_record.c - the chain itself as files: what came in, what happened. */
#include "exporting.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "core/trade_item.h"
#include "exchange/chain_out.h"
#include "exchange/epcis_out.h"
#include "exchange/received.h"
#include "ops/scan.h"
#include "received_of.h"
#include "store/batches.h"
#include "store/happenings.h"
#include "store/portions.h"
#include "store/store.h"

#define FLUSH_BYTES (256 * 1024)

/* --- which part of the record ----------------------------------------------*/

static enum rc
span_all(struct span *out, struct station *sn, struct err *err)
{
	day_no first, last;
	enum rc rc = happenings_span(&first, &last, sn->st, err);

	if (rc == RC_OK && first != DAY_NONE) {
		out->from = first < out->from ? first : out->from;
		out->to = last > out->to ? last : out->to;
	}
	str_copy(out->name, sizeof(out->name), "all");
	return rc;
}

static enum rc
span_code(
    struct span *out, struct station *sn, const char *what, struct err *err)
{
	char code[CODE_SIZE];
	enum code_kind kind;
	struct portion p;
	struct batch b;
	enum rc rc;

	if (strpbrk(what, "0123456789") == NULL)
		return err_set(err, RC_INVALID, 0,
		    "neither days nor a code: 2026-11-01..2026-11-30, all, "
		    "or the code of a batch or portion");
	if ((rc = scan_code(&kind, code, sn, what, err)) != RC_OK)
		return rc;
	if (kind == CODE_PORTION) {
		if ((rc = portion_get(&p, sn->st, code, err)) != RC_OK)
			return rc;
		str_copy(code, sizeof(code), p.batch);
	}
	if ((rc = batch_get(&b, sn->st, code, err)) != RC_OK)
		return rc;
	str_copy(out->batch, sizeof(out->batch), b.code);
	code_show(out->name, b.code);
	return RC_OK;
}

static bool
is_date(const char *what)
{
	return strspn(what, "0123456789") == 4 && what[4] == '-' &&
	    strlen(what) == 10;
}

enum rc
span_parse(
    struct span *out, struct station *sn, const char *what, struct err *err)
{
	const char *dots = what == NULL ? NULL : strstr(what, "..");
	char from[16], to[16];
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->from = out->to = local_from_utc(clock_now(&sn->clock)).day;
	if (what != NULL && str_eq(what, "all"))
		return span_all(out, sn, err);
	if (dots != NULL) {
		if (!str_fmt(
			from, sizeof(from), "%.*s", (int)(dots - what), what))
			from[0] = '\0';
		if ((rc = day_parse(&out->from, "the first day", from, err)) !=
			RC_OK ||
		    (rc = day_parse(&out->to, "the last day", dots + 2, err)) !=
			RC_OK)
			return rc;
		if (out->to < out->from)
			return err_set(err, RC_INVALID, 0,
			    "the last day is before the first");
	} else if (what != NULL && is_date(what)) {
		rc = day_parse(&out->from, "the day", what, err);
		if (rc != RC_OK)
			return rc;
		out->to = out->from;
	} else if (what != NULL) {
		return span_code(out, sn, what, err);
	}
	day_print(from, sizeof(from), out->from);
	day_print(to, sizeof(to), out->to);
	str_fmt(out->name, sizeof(out->name),
	    out->from == out->to ? "%s" : "%s_%s", from, to);
	return RC_OK;
}

void
span_utc(int64_t out[2], day_no day)
{
	out[0] = utc_from_local(day, 0, 0, 0);
	out[1] = utc_from_local(day + 1, 0, 0, 0);
}

/* --- what came in ----------------------------------------------------------*/

enum rc
received_of(struct received *out, struct station *sn, const struct batch *b,
    struct err *err)
{
	const struct species *sp = species_find(&sn->species, b->species);
	char *judgement = NULL;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	out->batch = *b;
	if (sp != NULL) {
		str_copy(out->name, sizeof(out->name), sp->name);
		str_copy(
		    out->scientific, sizeof(out->scientific), sp->scientific);
	}
	str_copy(out->kitchen, sizeof(out->kitchen), sn->cfg.kitchen);
	if ((rc = batch_judgement(&judgement, sn->st, b->id, err)) == RC_OK)
		received_missing(out, judgement);
	free(judgement);
	return rc;
}

static enum rc
put_batch(struct exporting *x, const struct batch *b, struct err *err)
{
	struct received r;
	enum rc rc = received_of(&r, x->sn, b, err);

	if (rc == RC_OK)
		received_row(&x->part, &r);
	return rc;
}

enum rc
put_receiving(struct exporting *x, struct err *err)
{
	struct batch_list l;
	struct span span;
	struct batch b;
	day_no day;
	size_t i;
	enum rc rc = span_parse(&span, x->sn, x->wish->what, err);

	if (rc != RC_OK)
		return rc;
	received_head(&x->part);
	if (span.batch[0] != '\0') {
		rc = batch_get(&b, x->sn->st, span.batch, err);
		return rc == RC_OK ? put_batch(x, &b, err) : rc;
	}
	for (day = span.from; rc == RC_OK && day <= span.to; day++) {
		rc = batch_list_day(&l, x->sn->st, day, err);
		for (i = 0; rc == RC_OK && i < l.count; i++)
			rc = put_batch(x, &l.items[i], err);
		batch_list_fini(&l);
		if (rc == RC_OK && x->part.len > FLUSH_BYTES)
			rc = exporting_flush(x, err);
		if (rc == RC_OK)
			rc = exporting_goes_on(x, day - span.from + 1,
			    span.to - span.from + 1, err);
	}
	return rc;
}

/* --- what happened ---------------------------------------------------------*/

/* Writes one happening; `arg` is its own. */
typedef enum rc happen_fn(
    struct exporting *x, void *arg, const struct happening *h, struct err *err);

static enum rc
put_list(struct exporting *x, struct happening_list *l, happen_fn *put,
    void *arg, struct err *err)
{
	size_t i;
	enum rc rc = RC_OK;

	for (i = 0; rc == RC_OK && i < l->count; i++) {
		rc = put(x, arg, &l->items[i], err);
		if (rc == RC_OK && x->part.len > FLUSH_BYTES)
			rc = exporting_flush(x, err);
	}
	happening_list_fini(l);
	return rc;
}

/*
 * What was taken back in these days but happened before them, then day by day:
 * no more is held than one day.
 */
static enum rc
put_span(struct exporting *x, const struct span *s, happen_fn *put, void *arg,
    struct err *err)
{
	struct happening_list l;
	int64_t begin[2], end[2];
	struct batch b;
	day_no day;
	enum rc rc;

	if (s->batch[0] != '\0') {
		rc = batch_get(&b, x->sn->st, s->batch, err);
		if (rc == RC_OK)
			rc = happenings_batch(&l, x->sn->st, b.id, err);
		return rc == RC_OK ? put_list(x, &l, put, arg, err) : rc;
	}
	span_utc(begin, s->from);
	span_utc(end, s->to);
	rc = happenings_undone(&l, x->sn->st, begin[0], end[1], err);
	if (rc == RC_OK)
		rc = put_list(x, &l, put, arg, err);
	for (day = s->from; rc == RC_OK && day <= s->to; day++) {
		span_utc(begin, day);
		rc =
		    happenings_day(&l, x->sn->st, day, begin[0], begin[1], err);
		if (rc == RC_OK)
			rc = put_list(x, &l, put, arg, err);
		if (rc == RC_OK)
			rc = exporting_goes_on(
			    x, day - s->from + 1, s->to - s->from + 1, err);
	}
	return rc;
}

/* What belongs to it; all zeros where nothing does. */
static enum rc
open_sides(struct prep_sides *out, struct station *sn,
    const struct happening *h, struct err *err)
{
	memset(out, 0, sizeof(*out));
	if (h->kind == HAPPENED_COMBINED)
		return combined_sides_open(out, sn->st, h->id, err);
	if (h->prep_id == 0)
		return RC_OK;
	return h->kind == HAPPENED_BREAKDOWN
	    ? prep_sides_open(out, sn->st, h->prep_id, err)
	    : prep_holds_open(out, sn->st, h->prep_id, err);
}

static enum rc
chain_happening(
    struct exporting *x, void *arg, const struct happening *h, struct err *err)
{
	struct prep_sides sides;
	enum rc rc = open_sides(&sides, x->sn, h, err);

	(void)arg;
	if (rc == RC_OK)
		chain_rows(&x->part, h, &sides);
	prep_sides_fini(&sides);
	return rc;
}

enum rc
put_chain(struct exporting *x, struct err *err)
{
	struct span span;
	enum rc rc = span_parse(&span, x->sn, x->wish->what, err);

	if (rc != RC_OK)
		return rc;
	chain_head(&x->part);
	return put_span(x, &span, chain_happening, NULL, err);
}

struct epcis {
	struct epcis_house house;
	bool any;
};

static enum rc
epcis_happening(
    struct exporting *x, void *arg, const struct happening *h, struct err *err)
{
	struct epcis *e = arg;
	struct epcis_about about = { .it = h };
	struct prep_sides sides;
	struct batch batch;
	enum rc rc = open_sides(&sides, x->sn, h, err);

	if (rc == RC_OK &&
	    (h->kind == HAPPENED_RECEIVED || h->kind == HAPPENED_REFUSED)) {
		rc = batch_get(&batch, x->sn->st, h->batch, err);
		about.batch = &batch;
	} else if (h->prep_id != 0 || h->kind == HAPPENED_COMBINED) {
		about.sides = &sides;
	}
	if (rc == RC_OK)
		epcis_event(&x->part, &e->house, &about, !e->any);
	e->any = true;
	prep_sides_fini(&sides);
	return rc;
}

static enum rc
open_house(struct epcis_house *h, struct station *sn, struct err *err)
{
	char kitchen[64], created[48];
	enum rc rc;

	h->kitchen = sn->cfg.kitchen;
	h->gs1_prefix = sn->cfg.gs1_prefix;
	h->species = &sn->species;
	if (!str_eq(sn->cfg.epcis_base, "none")) {
		str_copy(h->base, sizeof(h->base), sn->cfg.epcis_base);
		return epcis_base_check(h->base, err);
	}
	/* As the file was made: the settings may call it otherwise by now. */
	if ((rc = store_fact_get(
		 kitchen, sizeof(kitchen), sn->st, "kitchen", err)) != RC_OK ||
	    (rc = store_fact_get(
		 created, sizeof(created), sn->st, "created", err)) != RC_OK)
		return rc;
	epcis_base(h->base, kitchen, created);
	return RC_OK;
}

enum rc
put_epcis(struct exporting *x, struct err *err)
{
	struct epcis e = { .any = false };
	struct span span;
	enum rc rc;

	if ((rc = span_parse(&span, x->sn, x->wish->what, err)) != RC_OK ||
	    (rc = open_house(&e.house, x->sn, err)) != RC_OK)
		return rc;
	/* A wrong prefix would give every unit another name than its label. */
	if (trade_item_prefix_given(e.house.gs1_prefix) &&
	    (rc = trade_item_prefix_check(e.house.gs1_prefix, err)) != RC_OK)
		return rc;
	epcis_head(&x->part, &e.house, clock_now(&x->sn->clock));
	rc = put_span(x, &span, epcis_happening, &e, err);
	epcis_tail(&x->part);
	return rc;
}
