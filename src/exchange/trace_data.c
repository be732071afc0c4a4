/* trace_data.c - the chain of one code for programs. */
#include "trace_data.h"

#include <inttypes.h>

#include "base/clock.h"
#include "base/csv.h"
#include "base/jsonw.h"
#include "base/str.h"

/* Of one unit: far above any number of reprints a kitchen asks for. */
#define LABELS_TEXT_MAX (1 << 20)

/* The freeze record or feed statement a dish served raw rests on. */
static void
text_history(struct buf *out, const struct jsonr *h)
{
	char t[32];

	if (h == NULL)
		return;
	if (jsonr_str(h, "frozen")[0] != '\0')
		buf_printf(out, "  %-12s %.16s to %.16s at %s\n", "frozen",
		    jsonr_str(h, "frozen"), jsonr_str(h, "thawed"),
		    temp_print(
			t, sizeof(t), (int)jsonr_int(h, "freeze_tenths_c")));
	if (jsonr_str(h, "feed_statement")[0] != '\0')
		buf_printf(out, "  %-12s %s\n", "feed on file",
		    jsonr_str(h, "feed_statement"));
}

/* The limits of one batch; `of` names it when there are several. */
static void
text_limits(
    struct buf *out, const struct jsonr *doc, const char *of, bool binds)
{
	const struct jsonr *limit;
	const char *bound = jsonr_str(doc, "bound_by"), *name;
	size_t i;

	for (i = 0; (limit = jsonr_item(doc, "limits", i)) != NULL; i++) {
		name = jsonr_str(limit, "limit");
		buf_printf(out, "  %-12s %s%s%s: %.10s (%s)\n",
		    binds && str_eq(name, bound) ? "because" : "also", of,
		    of[0] == '\0' ? "" : ": ", name, jsonr_str(limit, "use_by"),
		    jsonr_str(limit, "source"));
	}
	if (i > 0 && binds)
		buf_printf(out, "  %-12s %s, digest %.16s\n", "rule set",
		    jsonr_str(doc, "rule_set"),
		    jsonr_str(doc, "rule_set_digest"));
}

void
trace_text_why(struct buf *out, const char *why)
{
	struct jsonr *doc = jsonr_open(why);
	const struct jsonr *other;
	size_t i;

	if (doc == NULL)
		return;
	text_limits(out, doc, jsonr_str(doc, "batch"), true);
	for (i = 0; (other = jsonr_item(doc, "mixed_with", i)) != NULL; i++)
		text_limits(out, other, jsonr_str(other, "batch"), false);
	text_history(out, jsonr_member(doc, "history"));
	jsonr_close(doc);
}

void
trace_label_words(struct buf *out, const struct print_job *j)
{
	buf_puts(out, job_says_word(j->says));
	if (j->copy > 0)
		buf_printf(out, ", reprint %d", j->copy);
	buf_printf(out, ", %s", job_state_word(j->state));
}

static void
json_notes(struct jsonw *w, const struct hold_note_list *l)
{
	size_t i;

	jsonw_array(w, "notes");
	for (i = 0; i < l->count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "text", l->items[i].text);
		jsonw_time(w, "at", l->items[i].at.utc);
		jsonw_str(w, "by", l->items[i].at.by);
		jsonw_end(w);
	}
	jsonw_end(w);
}

/* Of a breakdown those on it, else all; prep_id 0: of another subject. */
static void
json_holds(struct jsonw *w, const struct hold_list *l, int64_t prep_id)
{
	const struct hold *h;
	size_t i;

	jsonw_array(w, "holds");
	for (i = 0; i < l->count; i++) {
		h = &l->items[i];
		if (h->subject.prep_id != prep_id)
			continue;
		jsonw_object(w, NULL);
		jsonw_str(w, "reason", h->reason);
		jsonw_time(w, "at", h->at_utc);
		jsonw_str(w, "by", h->by);
		if (h->released_utc == 0) {
			jsonw_null(w, "released");
		} else {
			jsonw_time(w, "released", h->released_utc);
			jsonw_str(w, "released_by", h->released_by);
			jsonw_str(w, "released_reason", h->released_reason);
		}
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
json_labels(struct jsonw *w, const struct job_list *l)
{
	const struct print_job *j;
	size_t i;

	jsonw_array(w, "labels");
	for (i = 0; i < l->count; i++) {
		j = &l->items[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "says", job_says_word(j->says));
		jsonw_int(w, "copy", j->copy);
		jsonw_str(w, "state", job_state_word(j->state));
		jsonw_str(w, "language", j->language);
		jsonw_str(w, "printer", j->printer);
		jsonw_str(w, "picture", j->picture);
		jsonw_str(w, "error", j->error);
		jsonw_time(w, "at", j->at.utc);
		jsonw_str(w, "by", j->at.by);
		jsonw_str(w, "said_by", j->said_by);
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
json_events(struct jsonw *w, const struct portion_event_list *l)
{
	const struct portion_event *e;
	size_t i;

	jsonw_array(w, "events");
	for (i = 0; i < l->count; i++) {
		e = &l->items[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "what", fate_word(e->fate));
		if (e->undoes != 0)
			jsonw_str(w, "takes_back", fate_word(e->undone));
		jsonw_int(w, "servings", e->servings);
		jsonw_str(w, "service", e->service);
		jsonw_str(w, "reason", e->reason);
		jsonw_time(w, "at", e->at.utc);
		jsonw_str(w, "by", e->at.by);
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
json_freezings(struct jsonw *w, const struct traced_portion *t)
{
	const struct freezing *f;
	size_t i;

	jsonw_array(w, "freezing");
	for (i = 0; i < t->freezings.count; i++) {
		f = &t->freezings.items[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "what", keep_word(f->to));
		if (f->to == KEEP_FROZEN)
			jsonw_int(w, "temperature_tenths_c", f->temp_dc);
		jsonw_int(w, "days_left", f->days_left);
		jsonw_time(w, "use_by_before", f->use_by_before_utc);
		jsonw_time(w, "use_by", f->use_by_utc);
		jsonw_raw(w, "use_by_why", t->freezing_why[i]);
		jsonw_str(w, "reason", f->reason);
		jsonw_time(w, "at", f->at.utc);
		jsonw_str(w, "by", f->at.by);
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
json_parts(struct jsonw *w, const char *key, const struct portion_part_list *l)
{
	char code[CODE_SIZE];
	size_t i;

	jsonw_array(w, key);
	for (i = 0; i < l->count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "code", code_show(code, l->items[i].code));
		jsonw_int(w, "servings", l->items[i].servings);
		jsonw_int(w, "weight_g", l->items[i].weight_g);
		jsonw_end(w);
	}
	jsonw_end(w);
}

static void
json_unit(struct jsonw *w, const char *key, const struct traced_portion *t)
{
	const struct portion *p = &t->portion;
	struct portion_sums s;
	char code[CODE_SIZE];

	portion_sums(&s, t);
	jsonw_object(w, key);
	jsonw_str(w, "code", code_show(code, p->code));
	jsonw_str(w, "dish", p->dish);
	jsonw_str(w, "name", p->dish_name);
	jsonw_str(w, "batch", code_show(code, p->batch));
	jsonw_str(w, "also", p->also);
	jsonw_int(w, "breakdown", p->prep_id);
	jsonw_int(w, "servings", p->servings);
	jsonw_int(w, "used", s.used);
	jsonw_int(w, "discarded", s.discarded);
	jsonw_int(w, "missing", s.missing);
	jsonw_int(w, "combined", s.combined);
	jsonw_int(w, "left", p->left);
	jsonw_bool(w, "struck", p->struck);
	jsonw_int(w, "weight_g", p->weight_g);
	jsonw_bool(w, "held", p->held);
	jsonw_str(w, "keep", keep_word(p->keep));
	jsonw_time(w, "made", p->made.utc);
	jsonw_time(w, "prepared", p->prepared_utc);
	jsonw_str(w, "by", p->made.by);
	jsonw_time(w, "use_by", p->use_by_utc);
	jsonw_raw(w, "use_by_why", t->why);
	json_freezings(w, t);
	json_parts(w, "from", &t->parts);
	json_parts(w, "onto", &t->went);
	json_events(w, &t->events);
	jsonw_str(w, "place", p->left > 0 ? t->place : "");
	json_holds(w, &t->holds, 0);
	json_notes(w, &t->notes);
	json_labels(w, &t->labels);
	jsonw_end(w);
}

static void
json_supplier(struct jsonw *w, const struct batch *b)
{
	jsonw_object(w, "delivery");
	jsonw_str(w, "document", b->document);
	jsonw_object(w, "supplier");
	jsonw_str(w, "supplier_code", b->supplier.code);
	jsonw_str(w, "name", b->supplier.name);
	jsonw_str(w, "address", b->supplier.address);
	jsonw_str(w, "approval", b->supplier.approval);
	jsonw_str(w, "contact", b->supplier.contact);
	jsonw_end(w);
	jsonw_end(w);
}

static void
json_day(struct jsonw *w, const char *key, day_no d)
{
	char text[16];

	if (d == DAY_NONE)
		jsonw_null(w, key);
	else
		jsonw_str(w, key, day_print(text, sizeof(text), d));
}

static void
json_batch(struct jsonw *w, const char *key, const struct trace_report *r)
{
	const struct batch *b = &r->batch;
	char code[CODE_SIZE];

	jsonw_object(w, key);
	jsonw_str(w, "code", code_show(code, b->code));
	jsonw_str(w, "species", b->species);
	jsonw_str(w, "presentation", presentation_word(b->presentation));
	jsonw_int(w, "fish", b->count);
	jsonw_int(w, "weight_g", b->weight_g);
	jsonw_int(w, "fish_left", b->count_left);
	jsonw_str(w, "lot", b->lot);
	jsonw_int(w, "temperature_tenths_c", b->temp_dc);
	jsonw_str(w, "area", b->area);
	jsonw_str(w, "method", b->method);
	jsonw_str(w, "gear", b->gear);
	jsonw_str(w, "vessel", b->vessel);
	json_day(w, "dispatched", b->dispatched_day);
	jsonw_str(w, "grade", b->grade);
	jsonw_raw(w, "judgement", r->batch_judgement);
	json_day(w, "caught", b->caught_day);
	json_day(w, "supplier_use_by", b->supplier_use_by);
	jsonw_str(w, "decision", decision_word(b->decision));
	jsonw_str(w, "note", b->note);
	jsonw_bool(w, "held", b->held);
	jsonw_bool(w, "struck", b->struck);
	jsonw_time(w, "received", b->received.utc);
	jsonw_str(w, "by", b->received.by);
	jsonw_time(w, "use_by", b->use_by_utc);
	jsonw_raw(w, "use_by_why", r->batch_why);
	json_supplier(w, b);
	jsonw_str(w, "place", b->weight_left > 0 ? r->batch_place : "");
	json_holds(w, &r->batch_holds, 0);
	json_notes(w, &r->batch_notes);
	json_labels(w, &r->batch_labels);
	jsonw_end(w);
}

static void
json_prep(struct jsonw *w, const struct prep *p, const struct hold_list *holds)
{
	char code[CODE_SIZE];
	int k;

	jsonw_object(w, NULL);
	jsonw_int(w, "breakdown", p->id);
	jsonw_time(w, "at", p->at.utc);
	jsonw_str(w, "by", p->at.by);
	jsonw_str(w, "batch", code_show(code, p->batch));
	jsonw_str(w, "also", p->also);
	jsonw_int(w, "fish", p->fish);
	jsonw_int(w, "in_g", p->in_g);
	jsonw_int(w, "all_g", p->all_g);
	jsonw_int(w, "portions", p->portions);
	jsonw_int(w, "portions_g", p->portions_g);
	for (k = 0; k < LOSS_COUNT; k++)
		jsonw_int(w, loss_word((enum loss_kind)k), p->loss_g[k]);
	jsonw_str(w, "note", p->note);
	json_holds(w, holds, p->id);
	if (p->struck) {
		jsonw_time(w, "struck", p->struck_at.utc);
		jsonw_str(w, "struck_by", p->struck_at.by);
		jsonw_str(w, "struck_reason", p->struck_reason);
	}
	jsonw_end(w);
}

/* What was struck out is apart, so that sums over the others are right. */
static void
json_preps(struct jsonw *w, const char *key, const struct trace_report *r,
    const struct prep_list *l)
{
	size_t i;

	jsonw_array(w, key);
	for (i = 0; i < l->count; i++)
		json_prep(w, &l->items[i], &r->prep_holds);
	jsonw_end(w);
}

static void
json_balance(struct jsonw *w, const struct trace_report *r)
{
	struct gram_balance g = balance_of(&r->mass);

	jsonw_object(w, "balance_g");
	jsonw_int(w, "received", g.received);
	jsonw_int(w, "returned", g.returned);
	jsonw_int(w, "struck", g.struck);
	jsonw_int(w, "portions", g.portions);
	jsonw_int(w, "trim", g.trim);
	jsonw_int(w, "frames", g.frames);
	jsonw_int(w, "waste", g.waste);
	jsonw_int(w, "discarded", g.discarded);
	jsonw_int(w, "whole", g.whole);
	jsonw_int(w, "unexplained", g.unexplained);
	jsonw_end(w);
}

void
trace_json(struct buf *out, const struct trace_report *r)
{
	struct jsonw *w = jsonw_new_object();
	char code[CODE_SIZE];
	size_t i;

	jsonw_str(w, "code", code_show(code, r->asked));
	jsonw_str(w, "kind", r->of_portion ? "portion" : "batch");
	jsonw_str(w, "kitchen", r->kitchen);
	jsonw_time(w, "now", r->now_utc);
	if (r->of_portion)
		json_unit(w, "portion", &r->portions[0]);
	json_preps(w, "breakdowns", r, &r->preps);
	json_preps(w, "struck_breakdowns", r, &r->struck);
	json_batch(w, "batch", r);
	if (r->of_portion) {
		jsonw_array(w, "other_batches");
		for (i = 0; i < r->other_count; i++)
			json_batch(w, NULL, &r->others[i]);
		jsonw_end(w);
	} else {
		json_balance(w, r);
		jsonw_array(w, "portions");
		for (i = 0; i < r->portion_count; i++)
			json_unit(w, NULL, &r->portions[i]);
		jsonw_end(w);
	}
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

/* Every label of a unit in one field. */
static void
csv_labels(struct buf *out, const struct job_list *l)
{
	struct buf text;
	size_t i;

	buf_init(&text, LABELS_TEXT_MAX);
	for (i = 0; i < l->count; i++) {
		buf_puts(&text, i > 0 ? "; " : "");
		trace_label_words(&text, &l->items[i]);
		if (l->items[i].said_by[0] != '\0')
			buf_printf(
			    &text, ", answered by %s", l->items[i].said_by);
	}
	csv_quote(out, buf_text(&text));
	buf_fini(&text);
}

void
trace_csv(struct buf *out, const struct trace_report *r)
{
	const struct portion *p;
	struct portion_sums s;
	char code[CODE_SIZE], when[48];
	size_t i;

	buf_puts(out,
	    "code,batch,lot,supplier,document,species,dish,servings,used,"
	    "discarded,missing,left,held,weight_g,use_by,keep,labels,"
	    "batches,combined\r\n");
	for (i = 0; i < r->portion_count; i++) {
		p = &r->portions[i].portion;
		portion_sums(&s, &r->portions[i]);
		buf_printf(out, "%s,", code_show(code, p->code));
		buf_printf(out, "%s,", code_show(code, r->batch.code));
		csv_quote(out, r->batch.lot);
		buf_putc(out, ',');
		csv_quote(out, r->batch.supplier.name);
		buf_putc(out, ',');
		csv_quote(out, r->batch.document);
		buf_printf(out, ",%s,", r->batch.species);
		csv_quote(out, p->dish);
		buf_printf(out,
		    ",%" PRId64 ",%" PRId64 ",%" PRId64 ",%" PRId64 ",%" PRId64
		    ",%s,%" PRId64 ",%s,%s,",
		    p->servings, s.used, s.discarded, s.missing, p->left,
		    p->held ? "yes" : "no", p->weight_g,
		    time_rfc3339(when, sizeof(when), p->use_by_utc),
		    keep_word(p->keep));
		csv_labels(out, &r->portions[i].labels);
		buf_printf(out, ",%s%s%s,%" PRId64 "\r\n",
		    code_show(code, p->batch), p->others > 0 ? " + " : "",
		    p->also, s.combined);
	}
}
