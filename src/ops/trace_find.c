/* trace_find.c - batches by what a supplier names, and what a label says. */
#include "ops/trace_find.h"

#include <inttypes.h>
#include <string.h>

#include "base/csv.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "core/label_code.h"
#include "core/trade_item.h"
#include "ops/scan.h"
#include "store/batches.h"
#include "store/deliveries.h"
#include "store/portions.h"

static bool
said(const char *text)
{
	return text != NULL && text[strspn(text, " ")] != '\0';
}

static enum rc
read_days(struct lot_query *q, const struct lot_wish *w, struct err *err)
{
	enum rc rc = day_parse(&q->from, "the day of arrival", w->from, err);

	q->to = q->from;
	if (rc == RC_OK && said(w->to))
		rc = day_parse(&q->to, "the last day", w->to, err);
	if (rc == RC_OK && q->to < q->from)
		return err_set(err, RC_INVALID, 0,
		    "the last day %s is before the first", w->to);
	return rc;
}

/* Exactly one way in. */
static enum rc
one_way(const struct lot_wish *w, struct err *err)
{
	int n = said(w->lot) + said(w->document) + said(w->from);

	if (n > 1)
		return err_set(err, RC_INVALID, 0,
		    "say a lot, a document, or a supplier's day: one of them");
	if (n == 0 && said(w->supplier))
		return err_set(err, RC_INVALID, 0,
		    "a supplier alone is too much: add a lot, a document or "
		    "the day it came");
	if (n == 0)
		return err_set(err, RC_INVALID, 0,
		    "say a lot, a document, or a supplier and a day");
	if (said(w->from) && !said(w->supplier))
		return err_set(err, RC_INVALID, 0,
		    "a day needs its supplier: say whose deliveries");
	return RC_OK;
}

static void
put_what(struct trace_lots *t, const struct lot_wish *w,
    const struct lot_query *q, const struct supplier *s)
{
	char from[16], to[16], part[120];

	if (q->lot != NULL)
		str_fmt(part, sizeof(part), "lot %.60s", w->lot);
	else if (q->document != NULL)
		str_fmt(part, sizeof(part), "document %.60s", w->document);
	else if (q->from == q->to)
		str_fmt(part, sizeof(part), "all that came on %s",
		    day_print(from, sizeof(from), q->from));
	else
		str_fmt(part, sizeof(part), "all that came from %s to %s",
		    day_print(from, sizeof(from), q->from),
		    day_print(to, sizeof(to), q->to));
	str_fmt(t->what, sizeof(t->what), "%s%s%s", part,
	    s->id == 0 ? "" : " of ", s->name);
}

enum rc
trace_lots_load(struct trace_lots *out, struct station *sn,
    const struct lot_wish *w, struct err *err)
{
	struct lot_query q = { .most = TRACE_LOTS_MAX + 1 };
	struct supplier s = { 0 };
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = one_way(w, err)) != RC_OK)
		return rc;
	if (said(w->supplier) &&
	    (rc = supplier_find(&s, sn->st, w->supplier, err)) != RC_OK)
		return rc;
	q.supplier_id = s.id;
	q.lot = said(w->lot) ? w->lot : NULL;
	q.document = said(w->document) ? w->document : NULL;
	if (said(w->from) && (rc = read_days(&q, w, err)) != RC_OK)
		return rc;
	put_what(out, w, &q, &s);
	if ((rc = lot_list_open(&out->list, sn->st, &q, err)) != RC_OK)
		return rc;
	out->more = out->list.count > TRACE_LOTS_MAX;
	if (out->more)
		out->list.count = TRACE_LOTS_MAX;
	return RC_OK;
}

void
trace_lots_fini(struct trace_lots *t)
{
	lot_list_fini(&t->list);
}

/* --- written --------------------------------------------------------------*/

static void
lots_text(struct buf *out, const struct trace_lots *t)
{
	const struct lot_batch *b;
	char code[CODE_SIZE], day[16], w[32];
	size_t i;

	buf_printf(out, "%s: %zu batch%s%s\n", t->what, t->list.count,
	    t->list.count == 1 ? "" : "es", t->more ? ", and more" : "");
	for (i = 0; i < t->list.count; i++) {
		b = &t->list.items[i];
		buf_printf(out, "%-10s %s  %s  %s, document %s, lot %s%s%s\n",
		    code_show(code, b->code),
		    day_print(day, sizeof(day), b->day), b->species,
		    b->supplier, b->document, b->lot,
		    b->refused ? ", REFUSED" : "", b->held ? ", ON HOLD" : "");
		buf_printf(out,
		    "%-10s %s whole; %" PRId64 " units: %" PRId64
		    " made, %" PRId64 " used, %" PRId64 " left\n",
		    "", weight_print(w, sizeof(w), b->weight_left), b->units,
		    b->made, b->used, b->left);
	}
}

static void
lots_json(struct buf *out, const struct trace_lots *t)
{
	struct jsonw *w = jsonw_new_object();
	const struct lot_batch *b;
	char code[CODE_SIZE], day[16];
	size_t i;

	jsonw_str(w, "what", t->what);
	jsonw_bool(w, "more", t->more);
	jsonw_array(w, "batches");
	for (i = 0; i < t->list.count; i++) {
		b = &t->list.items[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "code", code_show(code, b->code));
		jsonw_str(w, "species", b->species);
		jsonw_str(w, "supplier", b->supplier);
		jsonw_str(w, "document", b->document);
		jsonw_str(w, "lot", b->lot);
		jsonw_str(w, "arrived", day_print(day, sizeof(day), b->day));
		jsonw_int(w, "weight_g", b->weight_g);
		jsonw_int(w, "whole_g", b->weight_left);
		jsonw_bool(w, "refused", b->refused);
		jsonw_bool(w, "held", b->held);
		jsonw_int(w, "units", b->units);
		jsonw_int(w, "made", b->made);
		jsonw_int(w, "used", b->used);
		jsonw_int(w, "left", b->left);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
lots_csv(struct buf *out, const struct trace_lots *t)
{
	const struct lot_batch *b;
	char code[CODE_SIZE], day[16];
	size_t i;

	buf_puts(out,
	    "code,species,supplier,document,lot,arrived,weight_g,"
	    "whole_g,held,units,made,used,left\r\n");
	for (i = 0; i < t->list.count; i++) {
		b = &t->list.items[i];
		buf_printf(out, "%s,%s,", code_show(code, b->code), b->species);
		csv_quote(out, b->supplier);
		buf_putc(out, ',');
		csv_quote(out, b->document);
		buf_putc(out, ',');
		csv_quote(out, b->lot);
		buf_printf(out,
		    ",%s,%" PRId64 ",%" PRId64 ",%s,%" PRId64 ",%" PRId64
		    ",%" PRId64 ",%" PRId64 "\r\n",
		    day_print(day, sizeof(day), b->day), b->weight_g,
		    b->weight_left, b->held ? "yes" : "no", b->units, b->made,
		    b->used, b->left);
	}
}

enum rc
trace_lots(struct buf *out, struct station *sn, const struct lot_wish *w,
    enum format format, struct err *err)
{
	struct trace_lots t;
	enum rc rc = trace_lots_load(&t, sn, w, err);

	if (rc == RC_OK && t.list.count == 0)
		rc = err_set(err, RC_NOTFOUND, 0,
		    "nothing is on record for %s: look at the paper of the "
		    "delivery, and ask the supplier how the lot is written",
		    t.what);
	else if (rc == RC_OK) {
		(format == FORMAT_JSON         ? lots_json
			: format == FORMAT_CSV ? lots_csv
					       : lots_text)(out, &t);
		rc = buf_check(out, "the list", err);
	}
	trace_lots_fini(&t);
	return rc;
}

/* --- a label that speaks for itself ---------------------------------------*/

/* With a prefix of its own a kitchen's labels are GS1 strings. */
static void
from_gs1(struct label_said *out, const struct gs1_scan *s)
{
	const struct gs1_element *e;
	enum code_kind kind;
	size_t i;

	for (i = 0; i < s->count; i++) {
		e = &s->elements[i];
		if (str_eq(e->ai, "21"))
			ignore_rc(code_parse(&kind, out->code, e->value, NULL));
		else if (str_eq(e->ai, "10"))
			ignore_rc(
			    code_parse(&kind, out->batch, e->value, NULL));
	}
	out->unit = true;
}

static enum rc
read_label(struct label_said *out, struct station *sn, const char *text,
    struct err *err)
{
	struct label_code c;
	struct gs1_reader r;
	struct gs1_scan s;
	enum code_kind kind;
	enum rc rc;

	if (label_code_looks_like(text) &&
	    label_code_parse(&c, text, NULL) == RC_OK) {
		out->unit = c.portion[0] != '\0';
		str_copy(out->code, sizeof(out->code),
		    out->unit ? c.portion : c.batch);
		str_copy(out->batch, sizeof(out->batch), c.batch);
		if (c.use_by.day != DAY_NONE)
			out->use_by_utc = utc_from_local(
			    c.use_by.day, c.use_by.hour, c.use_by.minute, 0);
		return RC_OK;
	}
	if (trade_item_prefix_given(sn->cfg.gs1_prefix)) {
		if ((rc = scan_reader(&r, sn, err)) != RC_OK)
			return rc;
		gs1_read(&s, text, strlen(text), &r);
		if (s.kind == GS1_OWN_PORTION && s.count > 1) {
			from_gs1(out, &s);
			return RC_OK;
		}
	}
	if ((rc = code_parse(&kind, out->code, text, err)) != RC_OK)
		return rc;
	out->unit = kind == CODE_PORTION;
	if (!out->unit)
		str_copy(out->batch, sizeof(out->batch), out->code);
	return RC_OK;
}

enum rc
label_said(struct label_said *out, struct station *sn, const char *text,
    struct err *err)
{
	struct portion p;
	struct batch b;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = read_label(out, sn, text, err)) != RC_OK)
		return rc;
	out->known = out->unit
	    ? portion_get(&p, sn->st, out->code, NULL) == RC_OK
	    : batch_get(&b, sn->st, out->code, NULL) == RC_OK;
	out->batch_known = out->batch[0] != '\0' &&
	    batch_get(&b, sn->st, out->batch, NULL) == RC_OK;
	return RC_OK;
}

static void
said_json(struct buf *out, const struct label_said *s)
{
	struct jsonw *w = jsonw_new_object();
	char code[CODE_SIZE];

	jsonw_str(w, "code", code_show(code, s->code));
	jsonw_str(w, "kind", s->unit ? "portion" : "batch");
	jsonw_bool(w, "known", s->known);
	jsonw_object(w, "label");
	jsonw_str(
	    w, "batch", s->batch[0] == '\0' ? "" : code_show(code, s->batch));
	if (s->use_by_utc == 0)
		jsonw_null(w, "use_by");
	else
		jsonw_time(w, "use_by", s->use_by_utc);
	jsonw_end(w);
	jsonw_bool(w, "batch_known", s->batch_known);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

void
label_said_put(struct buf *out, const struct label_said *s, enum format format)
{
	char code[CODE_SIZE], when[48];

	if (format == FORMAT_JSON) {
		said_json(out, s);
		return;
	}
	buf_printf(out, "%s %s: NO RECORD in this station file\n",
	    s->unit ? "PORTION" : "BATCH", code_show(code, s->code));
	buf_puts(out, "The label itself says:\n");
	if (s->unit && s->batch[0] != '\0')
		buf_printf(out, "  %-12s %s, %s\n", "batch",
		    code_show(code, s->batch),
		    s->batch_known ? "which this station knows"
				   : "not known here either");
	if (s->use_by_utc != 0)
		buf_printf(out, "  %-12s %s\n", "use by",
		    time_short(when, sizeof(when), s->use_by_utc));
	if (s->use_by_utc == 0 && (!s->unit || s->batch[0] == '\0'))
		buf_puts(out, "  nothing but its code\n");
	buf_puts(out,
	    "What to do: do not serve it, set it apart, and find the "
	    "station it was\nlabelled on");
	if (s->batch_known && s->unit)
		buf_printf(out,
		    "; look at its batch: pinbone trace %s. A unit of that "
		    "batch\nwithout a record was labelled after the backup "
		    "this file came from, or\nelsewhere",
		    code_show(code, s->batch));
	buf_puts(out, ".\n");
}
