/* trace_out.c - the chain of one code as text for people. */
#include "exchange/stock_out.h"

#include <inttypes.h>
#include <string.h>

#include "base/clock.h"
#include "base/jsonw.h"
#include "base/str.h"
#include "trace_data.h"

struct gram_balance
balance_of(const struct mass *m)
{
	const grams *p = m->part;

	return (struct gram_balance){
		.received = m->in,
		.portions = p[MASS_CHILLED] + p[MASS_FROZEN] + p[MASS_USED] +
		    p[MASS_THROWN] + p[MASS_MISSING],
		.trim = p[MASS_TRIM],
		.frames = p[MASS_FRAMES],
		.waste = p[MASS_WASTE],
		.discarded = p[MASS_DISCARDED],
		.whole = p[MASS_WHOLE],
		.returned = p[MASS_RETURNED],
		.struck = p[MASS_STRUCK],
		.unexplained = m->unexplained,
	};
}

void
portion_sums(struct portion_sums *s, const struct traced_portion *t)
{
	int64_t n[FATE_COUNT] = { 0 };
	const struct portion_event *e;
	size_t i;

	memset(s, 0, sizeof(*s));
	for (i = 0; i < t->events.count; i++) {
		e = &t->events.items[i];
		if (e->undoes != 0)
			n[e->undone] -= e->servings;
		else
			n[e->fate] += e->servings;
	}
	s->used = n[FATE_USED];
	s->discarded = n[FATE_DISCARDED];
	s->missing = n[FATE_MISSING] - n[FATE_FOUND];
	s->struck = n[FATE_STRUCK];
	s->combined = n[FATE_COMBINED];
}

static void
field(struct buf *out, const char *name, const char *value)
{
	if (value[0] != '\0')
		buf_printf(out, "  %-12s %s\n", name, value);
}

static void
text_holds(struct buf *out, const struct hold_list *l)
{
	const struct hold *h;
	char when[48];
	size_t i;

	for (i = 0; i < l->count; i++) {
		h = &l->items[i];
		buf_printf(out, "  %-12s %s by %s: %s\n",
		    h->released_utc == 0 ? "ON HOLD" : "held",
		    time_minute(when, sizeof(when), h->at_utc), h->by,
		    h->reason);
		if (h->released_utc != 0)
			buf_printf(out, "  %-12s %s by %s: %s\n", "released",
			    time_minute(when, sizeof(when), h->released_utc),
			    h->released_by, h->released_reason);
	}
}

static void
text_notes(struct buf *out, const struct hold_note_list *l)
{
	const struct hold_note *n;
	char when[48];
	size_t i;

	for (i = 0; i < l->count; i++) {
		n = &l->items[i];
		buf_printf(out, "  %-12s %s by %s: %s\n", "note",
		    time_minute(when, sizeof(when), n->at.utc), n->at.by,
		    n->text);
	}
}

/* Holds on a breakdown, or with prep_id 0 on none. */
static void
text_prep_holds(struct buf *out, const struct hold_list *l, int64_t prep_id)
{
	struct hold_list one = { .count = 1 };
	size_t i;

	for (i = 0; i < l->count; i++)
		if (l->items[i].subject.prep_id == prep_id) {
			one.items = &l->items[i];
			text_holds(out, &one);
		}
}

static void
text_labels(struct buf *out, const struct job_list *l)
{
	const struct print_job *j;
	char when[48];
	size_t i;

	for (i = 0; i < l->count; i++) {
		j = &l->items[i];
		buf_printf(out, "  %-12s %s, ", "label",
		    time_minute(when, sizeof(when), j->at.utc));
		trace_label_words(out, j);
		buf_printf(out, ", by %s%s%s\n", j->at.by,
		    j->error[0] == '\0' ? "" : ": ", j->error);
	}
}

static void
text_batch(struct buf *out, const struct trace_report *r)
{
	const struct batch *b = &r->batch;
	const struct species *sp = species_find(r->species, b->species);
	char code[CODE_SIZE], text[200], t[48], w[32];

	buf_printf(out, "\nBATCH %s  %s%s%s%s, %s\n", code_show(code, b->code),
	    sp == NULL ? b->species : sp->name, sp == NULL ? "" : " (",
	    sp == NULL ? "" : sp->scientific, sp == NULL ? "" : ")",
	    presentation_word(b->presentation));
	str_fmt(text, sizeof(text), "%s, %s", b->supplier.name,
	    b->supplier.address);
	field(out, "supplier", text);
	field(out, "approval", b->supplier.approval);
	field(out, "contact", b->supplier.contact);
	field(out, "document", b->document);
	field(out, "lot", b->lot);
	str_fmt(text, sizeof(text), "%s by %s, %s",
	    time_minute(t, sizeof(t), b->received.utc), b->received.by,
	    decision_word(b->decision));
	field(out, "received", text);
	field(out, "note", b->note);
	if (r->batch_struck.is) {
		str_fmt(text, sizeof(text), "%s by %s: %.150s",
		    time_minute(t, sizeof(t), r->batch_struck.at.utc),
		    r->batch_struck.at.by, r->batch_struck.reason);
		field(out, "STRUCK OUT", text);
	}
	weight_print(w, sizeof(w), b->weight_g);
	if (b->count > 0)
		str_fmt(
		    text, sizeof(text), "%" PRId64 " fish, %s", b->count, w);
	else
		str_copy(text, sizeof(text), w);
	field(out, "amount", text);
	field(out, "temperature", temp_print(text, sizeof(text), b->temp_dc));
	str_fmt(text, sizeof(text), "%s, %s%s%s", b->method, b->area,
	    b->gear[0] == '\0' ? "" : ", ", b->gear);
	field(out, "origin", text);
	if (b->caught_day != DAY_NONE)
		field(out, "caught",
		    day_print(text, sizeof(text), b->caught_day));
	if (b->supplier_use_by != DAY_NONE)
		field(out, "supplier by",
		    day_print(text, sizeof(text), b->supplier_use_by));
	field(out, "vessel", b->vessel);
	if (b->dispatched_day != DAY_NONE)
		field(out, "dispatched",
		    day_print(text, sizeof(text), b->dispatched_day));
	field(out, "freshness", b->grade);
	field(out, "use by", time_short(text, sizeof(text), b->use_by_utc));
	if (!r->of_portion)
		trace_text_why(out, r->batch_why);
	if (b->weight_left > 0 && b->decision != DECISION_REFUSED)
		field(out, "place", r->batch_place);
	text_holds(out, &r->batch_holds);
	text_notes(out, &r->batch_notes);
	text_labels(out, &r->batch_labels);
}

static void
balance_line(struct buf *out, const char *what, grams g)
{
	char w[32];

	buf_printf(out, "  %-28s %12s\n", what, weight_print(w, sizeof(w), g));
}

static void
text_balance(struct buf *out, const struct trace_report *r)
{
	struct gram_balance g = balance_of(&r->mass);

	buf_puts(out, "\nBALANCE\n");
	balance_line(out, "received", g.received);
	if (g.returned > 0)
		balance_line(out, "refused, sent back", g.returned);
	if (g.struck > 0)
		balance_line(out, "struck out", g.struck);
	balance_line(out, "in portions", g.portions);
	balance_line(out, "trim kept", g.trim);
	balance_line(out, "frames", g.frames);
	balance_line(out, "waste", g.waste);
	balance_line(out, "discarded unopened", g.discarded);
	balance_line(out, "still whole", g.whole);
	balance_line(out,
	    g.unexplained < 0 ? "overweight (scale or ice)" : "unexplained",
	    g.unexplained);
}

static void
text_prep(struct buf *out, const struct prep *p, const struct hold_list *holds)
{
	char when[48], in[32], text[120], note[300], code[CODE_SIZE];

	buf_printf(out, "\nBREAKDOWN %" PRId64 "  %s by %s\n", p->id,
	    time_minute(when, sizeof(when), p->at.utc), p->at.by);
	weight_print(in, sizeof(in), p->in_g);
	if (p->fish > 0)
		str_fmt(
		    text, sizeof(text), "%" PRId64 " fish, %s", p->fish, in);
	else
		str_copy(text, sizeof(text), in);
	if (p->also[0] != '\0')
		str_fmt(text + strlen(text), sizeof(text) - strlen(text),
		    " of %s", code_show(code, p->batch));
	field(out, "in", text);
	if (p->also[0] != '\0') {
		str_fmt(note, sizeof(note), "%s, %s in all", p->also,
		    weight_print(in, sizeof(in), p->all_g));
		field(out, "with", note);
	}
	buf_printf(out, "  %-12s %" PRId64 " portions, %s;", "out", p->portions,
	    weight_print(text, sizeof(text), p->portions_g));
	buf_printf(out,
	    " trim %" PRId64 " g, frames %" PRId64 " g, waste %" PRId64 " g\n",
	    p->loss_g[LOSS_TRIM], p->loss_g[LOSS_FRAMES],
	    p->loss_g[LOSS_WASTE]);
	field(out, "note", p->note);
	text_prep_holds(out, holds, p->id);
	if (!p->struck)
		return;
	str_fmt(note, sizeof(note), "%s by %s: %s",
	    time_minute(when, sizeof(when), p->struck_at.utc), p->struck_at.by,
	    p->struck_reason);
	field(out, "STRUCK OUT", note);
}

/* One line a unit: what became of it. */
static void
text_unit(struct buf *out, const struct traced_portion *t, int64_t now)
{
	const struct portion *p = &t->portion;
	struct portion_sums s;
	char code[CODE_SIZE], when[48];

	portion_sums(&s, t);
	buf_printf(out, "  %-8s %-20s %-16s %" PRId64 " made",
	    code_show(code, p->code), p->dish,
	    time_short(when, sizeof(when), p->use_by_utc), p->servings);
	if (s.used > 0)
		buf_printf(out, ", %" PRId64 " used", s.used);
	if (s.discarded > 0)
		buf_printf(out, ", %" PRId64 " discarded", s.discarded);
	if (s.missing != 0)
		buf_printf(out, ", %" PRId64 " %s",
		    s.missing > 0 ? s.missing : -s.missing,
		    s.missing > 0 ? "missing" : "found again");
	if (s.combined > 0)
		buf_printf(out, ", %" PRId64 " onto another tray", s.combined);
	if (s.struck > 0)
		buf_puts(out, ", STRUCK OUT");
	if (p->left > 0)
		buf_printf(out, ", %" PRId64 " left%s%s%s", p->left,
		    p->keep == KEEP_CHILLED ? "" : ", ",
		    p->keep == KEEP_CHILLED ? "" : keep_word(p->keep),
		    p->held                   ? " ON HOLD"
			: p->use_by_utc < now ? " EXPIRED"
					      : "");
	buf_putc(out, '\n');
	if (p->others > 0)
		buf_printf(out, "  %-8s mixed: %s + %s\n", "",
		    code_show(code, p->batch), p->also);
	if (p->joined)
		buf_printf(out, "  %-8s put together from other trays\n", "");
}

static void
text_events(struct buf *out, const struct traced_portion *t)
{
	const struct portion_event *e;
	char when[48];
	size_t i;

	for (i = 0; i < t->events.count; i++) {
		e = &t->events.items[i];
		buf_printf(out, "  %-12s %s by %s: %" PRId64,
		    fate_word(e->fate),
		    time_minute(when, sizeof(when), e->at.utc), e->at.by,
		    e->servings);
		if (e->service[0] != '\0')
			buf_printf(out, " for %s", e->service);
		if (e->undoes != 0)
			buf_printf(out, ", %s before", fate_word(e->undone));
		if (e->reason[0] != '\0')
			buf_printf(out, " (%s)", e->reason);
		buf_putc(out, '\n');
	}
}

/* Into the freezer and out of it, each with what it made of the date. */
void
trace_text_freezings(struct buf *out, const struct traced_portion *t)
{
	const struct freezing *f;
	char when[48], before[48], after[48], cold[16];
	size_t i;

	for (i = 0; i < t->freezings.count; i++) {
		f = &t->freezings.items[i];
		buf_printf(out, "  %-12s %s by %s", keep_word(f->to),
		    time_minute(when, sizeof(when), f->at.utc), f->at.by);
		if (f->to == KEEP_FROZEN)
			buf_printf(out, " at %s, %d day%s left",
			    temp_print(cold, sizeof(cold), f->temp_dc),
			    f->days_left, f->days_left == 1 ? "" : "s");
		if (f->reason[0] != '\0')
			buf_printf(out, " (%s)", f->reason);
		buf_printf(out, "\n  %-12s %s, before %s\n", "use by",
		    time_short(after, sizeof(after), f->use_by_utc),
		    time_short(before, sizeof(before), f->use_by_before_utc));
		trace_text_why(out, t->freezing_why[i]);
	}
}

/* What a tray was put together from, and where the rest of a unit went. */
static void
text_parts(struct buf *out, const char *name, const struct portion_part_list *l)
{
	const struct portion_part *p;
	char code[CODE_SIZE], text[64];
	size_t i;

	for (i = 0; i < l->count; i++) {
		p = &l->items[i];
		str_fmt(text, sizeof(text), "%s, %" PRId64 " portion%s",
		    code_show(code, p->code), p->servings,
		    p->servings == 1 ? "" : "s");
		field(out, name, text);
	}
}

static void
text_asked_portion(struct buf *out, const struct trace_report *r)
{
	const struct traced_portion *t = &r->portions[0];
	const struct portion *p = &t->portion;
	char code[CODE_SIZE], text[240], w[32], when[48];

	buf_printf(
	    out, "\nPORTION %s  %s\n", code_show(code, p->code), p->dish_name);
	str_fmt(text, sizeof(text), "%" PRId64 " made, %s; %" PRId64 " left",
	    p->servings, weight_print(w, sizeof(w), p->weight_g), p->left);
	field(out, "amount", text);
	str_fmt(text, sizeof(text), "%s by %s, breakdown %" PRId64,
	    time_minute(when, sizeof(when), p->made.utc), p->made.by,
	    p->prep_id);
	field(out, p->joined ? "put together" : "prepared", text);
	if (p->joined)
		field(out, "prepared",
		    time_minute(text, sizeof(text), p->prepared_utc));
	text_parts(out, "from", &t->parts);
	text_parts(out, "onto tray", &t->went);
	if (p->others > 0) {
		str_fmt(text, sizeof(text), "%s + %s",
		    code_show(code, p->batch), p->also);
		field(out, "batches", text);
	}
	if (p->keep != KEEP_CHILLED)
		field(out, "kept", keep_word(p->keep));
	field(out, "use by", time_short(text, sizeof(text), p->use_by_utc));
	trace_text_why(out, t->why);
	trace_text_freezings(out, t);
	if (p->left > 0)
		field(out, "place", t->place);
	text_holds(out, &t->holds);
	text_notes(out, &t->notes);
	text_labels(out, &t->labels);
	text_events(out, t);
}

static void
text_preps(
    struct buf *out, const struct trace_report *r, const struct prep_list *l)
{
	size_t i;

	for (i = 0; i < l->count; i++)
		text_prep(out, &l->items[i], &r->prep_holds);
}

static void
trace_text(struct buf *out, const struct trace_report *r)
{
	char code[CODE_SIZE], now[48];
	size_t i;

	buf_printf(out, "TRACE %s  %s   %s\n", code_show(code, r->asked),
	    time_minute(now, sizeof(now), r->now_utc), r->kitchen);
	if (r->of_portion)
		text_asked_portion(out, r);
	else
		text_batch(out, r);
	text_preps(out, r, &r->preps);
	text_preps(out, r, &r->struck);
	if (r->of_portion) {
		text_batch(out, r);
		for (i = 0; i < r->other_count; i++)
			text_batch(out, &r->others[i]);
		return;
	}
	text_balance(out, r);
	buf_printf(out, "\nPORTIONS %zu labelled units, with their use-by\n",
	    r->portion_count);
	for (i = 0; i < r->portion_count; i++)
		text_unit(out, &r->portions[i], r->now_utc);
}

void
trace_write(struct buf *out, const struct trace_report *r, enum format format)
{
	switch (format) {
	case FORMAT_TEXT:
		trace_text(out, r);
		break;
	case FORMAT_JSON:
		trace_json(out, r);
		break;
	case FORMAT_CSV:
		trace_csv(out, r);
		break;
	}
}
