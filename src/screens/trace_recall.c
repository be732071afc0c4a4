/* trace_recall.c - a recall on the Trace screen: opened, ticked off, noted,
 * closed. */
#include "trace_recall.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/ticket.h"
#include "says_recall.h"
#include "says_trace.h"
#include "trace_inner.h"

/* --- loading --------------------------------------------------------------*/

void
trace_recall_choices(struct desk *d, struct trace *s)
{
	struct recall_brief_list l;
	struct err err = { 0 };

	if (recall_briefs(&l, d->sn, false, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	recall_briefs_fini(&s->recalls.list);
	s->recalls.list = l;
}

/* What is missing stands first, then what was found; the rest is read. */
static void
put_rows(struct trace_recalls *r)
{
	const struct recall_item *i;
	size_t k;
	int pass;

	free(r->rows);
	r->rows = xcalloc(r->page.items.count, sizeof(*r->rows));
	r->row_count = 0;
	for (pass = 0; pass < 2; pass++)
		for (k = 0; k < r->page.items.count; k++) {
			i = &r->page.items.items[k];
			if (recall_item_pull(i) &&
			    (recall_item_missing(i) > 0) == (pass == 0))
				r->rows[r->row_count++] = i;
		}
}

void
trace_recall_load(struct desk *d, struct trace *s)
{
	struct trace_recalls *r = &s->recalls;
	struct recall_page page;
	struct err err = { 0 };

	if (recall_load(&page, d->sn, r->id, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	recall_fini(&r->page);
	r->page = page;
	put_rows(r);
	s->mode = TRACE_RECALL;
	s->list.count = r->row_count;
	list_fit(&s->list);
}

void
trace_recall_show(struct desk *d, struct trace *s, int64_t id)
{
	trace_leave(s);
	s->recalls.id = id;
	s->recalls.scanned = false;
	s->list.at = s->list.top = s->list.number = 0;
	d->notice[0] = '\0';
	trace_recall_load(d, s);
}

void
trace_recall_free(struct trace *s)
{
	recall_briefs_fini(&s->recalls.list);
	trace_lots_fini(&s->recalls.lots);
	recall_fini(&s->recalls.page);
	free(s->recalls.rows);
}

/* --- opening --------------------------------------------------------------*/

enum { OPEN_F_WHY, OPEN_F_FROM, OPEN_F_COUNT };

static const struct field_row open_rows[OPEN_F_COUNT] = {
	{ SAY_RC_WHY, FIELD_TEXT, FIELD_MUST, NULL },
	{ SAY_RC_FROM, FIELD_CHOICE, FIELD_MUST, SAY_RC_FROM_HINT },
};

static const char *
origin_word(const void *arg, size_t i)
{
	(void)arg;
	return recall_origin_word((enum recall_origin)i);
}

static const char *
origin_says(const void *arg, size_t i)
{
	static const char *const words[] = { SAY_RC_FROM_SUPPLIER,
		SAY_RC_FROM_AUTHORITY, SAY_RC_FROM_GUEST, SAY_RC_FROM_KITCHEN };

	(void)arg;
	return tr(words[i]);
}

static void
open_go(struct desk *d, void *arg)
{
	struct trace *s = arg;
	struct trace_recalls *r = &s->recalls;
	const char *codes[TRACE_LOTS_MAX];
	struct recall_in in = { .codes = codes,
		.breakdown = r->of == OPEN_PREP,
		.origin = r->origin,
		.reason = r->reason,
		.by = d->by };
	struct recall_brief b;
	struct err err = { 0 };

	if (r->of == OPEN_LOTS) {
		trace_lot_wish(&in.lot, s);
	} else {
		codes[0] = r->codes[0];
		in.count = 1;
	}
	if (recall_open(&b, d->sn, &in, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	trace_recall_show(d, s, b.recall.id);
	desk_say(d, LEVEL_DONE, trn(SAY_RC_DID_OPEN, (long)b.count.pull),
	    (long long)b.recall.id, (long)b.count.pull);
}

static bool
open_read(struct desk *d, void *arg, struct form *f)
{
	struct trace *s = arg;
	struct trace_recalls *r = &s->recalls;

	str_copy(r->reason, sizeof(r->reason), form_value(f, OPEN_F_WHY));
	str_copy(r->origin, sizeof(r->origin), form_value(f, OPEN_F_FROM));
	desk_record(d, DUTY_ANYONE, open_go, s);
	return true;
}

void
trace_recall_open(struct desk *d, struct trace *s)
{
	const struct choices from = { RECALL_ORIGIN_COUNT, origin_word,
		origin_says, NULL };
	struct trace_recalls *r = &s->recalls;
	char title[200], what[160], shown[CODE_SIZE];
	struct form *f;

	if (s->mode == TRACE_LOTS) {
		r->of = OPEN_LOTS;
		str_fmt(what, sizeof(what), "%.150s", r->lots.what);
	} else if (trace_of_prep(s)) {
		r->of = OPEN_PREP;
		str_copy(r->codes[0], CODE_SIZE, s->page.units[0].portion.code);
		str_fmt(what, sizeof(what), tr(SAY_TR_BREAKDOWN_OF),
		    (long long)s->page.window.prep_id, s->page.species);
	} else {
		r->of = s->page.of_portion ? OPEN_UNIT : OPEN_BATCH;
		str_copy(r->codes[0], CODE_SIZE, s->page.code);
		str_copy(what, sizeof(what), code_show(shown, s->page.code));
	}
	str_fmt(title, sizeof(title), tr(SAY_RC_ASK_OPEN), what);
	f = desk_ask_fields(d, title, open_rows, OPEN_F_COUNT, open_read, s);
	f->fields[OPEN_F_FROM].choices = from;
	form_set(f, OPEN_F_FROM, recall_origin_word(RECALL_SUPPLIER));
}

/* --- ticked off -----------------------------------------------------------*/

static void
tick_go(struct desk *d, void *arg)
{
	struct trace *s = arg;
	struct trace_recalls *r = &s->recalls;
	struct err err = { 0 };

	if (recall_tick(&r->last, d->sn, r->id, r->scan, r->found, d->by,
		&err) != RC_OK) {
		r->scanned = false;
		desk_fail(d, &err);
		return;
	}
	r->scanned = true;
	d->notice[0] = '\0';
	trace_recall_load(d, s);
}

bool
trace_recall_scan(struct desk *d, struct trace *s, const struct desk_scan *sc)
{
	struct trace_recalls *r = &s->recalls;

	if (sc->kind == SCAN_SUPPLIER)
		return false;
	if (r->page.recall.outcome != RECALL_OPEN) {
		desk_say(
		    d, LEVEL_NOTE, tr(SAY_RC_CLOSED_SCAN), (long long)r->id);
		return true;
	}
	/* What does not fit is no label of ours, and is refused as such. */
	str_fmt(r->scan, sizeof(r->scan), "%.500s", sc->text);
	r->found = 0;
	desk_record(d, DUTY_ANYONE, tick_go, s);
	return true;
}

static const struct field_row found_rows[] = {
	{ SAY_RC_HOW_MANY, FIELD_COUNT, 0, SAY_RC_HOW_MANY_HINT },
};

static bool
found_read(struct desk *d, void *arg, struct form *f)
{
	struct trace *s = arg;
	const char *n = form_value(f, 0);

	s->recalls.found = n == NULL ? 0 : strtoll(n, NULL, 10);
	desk_record(d, DUTY_ANYONE, tick_go, s);
	return true;
}

void
trace_recall_found(struct desk *d, struct trace *s)
{
	struct trace_recalls *r = &s->recalls;
	const struct recall_item *i = r->rows[s->list.at];
	char title[80], shown[CODE_SIZE];

	str_copy(r->scan, sizeof(r->scan), i->code);
	r->found = 0;
	if (i->subject.batch_id != 0 || i->left == 1) {
		desk_record(d, DUTY_ANYONE, tick_go, s);
		return;
	}
	str_fmt(title, sizeof(title), tr(SAY_RC_ASK_FOUND),
	    code_show(shown, i->code));
	(void)desk_ask_fields(d, title, found_rows, 1, found_read, s);
}

/* --- notes ----------------------------------------------------------------*/

static const struct field_row note_rows[] = {
	{ SAY_RC_NOTE, FIELD_TEXT, FIELD_MUST, NULL },
};

static void
note_go(struct desk *d, void *arg)
{
	struct trace *s = arg;
	struct trace_recalls *r = &s->recalls;
	struct err err = { 0 };

	if (recall_note(d->sn, r->id, r->text, d->by, &err) != RC_OK)
		desk_fail(d, &err);
	else
		desk_say(d, LEVEL_DONE, tr(SAY_RC_DID_NOTE), (long long)r->id);
}

static bool
note_read(struct desk *d, void *arg, struct form *f)
{
	struct trace *s = arg;

	str_copy(s->recalls.text, sizeof(s->recalls.text), form_value(f, 0));
	desk_record(d, DUTY_ANYONE, note_go, s);
	return true;
}

void
trace_recall_note(struct desk *d, struct trace *s)
{
	char title[80];

	str_fmt(title, sizeof(title), tr(SAY_RC_ASK_NOTE),
	    (long long)s->recalls.id);
	(void)desk_ask_fields(d, title, note_rows, 1, note_read, s);
}

/* --- paper ----------------------------------------------------------------*/

static void
print_go(struct desk *d, void *arg)
{
	struct trace *s = arg;
	struct ticket *t;
	struct err err = { 0 };

	if (recall_ticket(&t, d->sn, s->recalls.id, &err) == RC_OK)
		trace_print_list(d, t);
	else
		desk_fail(d, &err);
}

void
trace_recall_page_print(struct desk *d, struct trace *s)
{
	desk_record(d, DUTY_ANYONE, print_go, s);
}

void
trace_recall_read(struct desk *d, struct trace *s)
{
	struct buf out;
	char title[80];
	struct err err = { 0 };

	buf_init(&out, 1 << 22);
	if (recall_show(&out, d->sn, s->recalls.id, FORMAT_TEXT, &err) ==
	    RC_OK) {
		str_fmt(title, sizeof(title), tr(SAY_RC_READ),
		    (long long)s->recalls.id);
		desk_read(d, title, buf_text(&out));
	} else {
		desk_fail(d, &err);
	}
	buf_fini(&out);
}

/* --- closing --------------------------------------------------------------*/

enum { END_F_OUTCOME, END_F_WHY, END_F_COUNT };

static const struct field_row end_rows[END_F_COUNT] = {
	{ SAY_RC_OUTCOME, FIELD_CHOICE, FIELD_MUST, SAY_RC_OUTCOME_HINT },
	{ SAY_RC_WHY, FIELD_TEXT, 0, NULL },
};

static const char *
outcome_word(const void *arg, size_t i)
{
	(void)arg;
	return recall_outcome_word((enum recall_outcome)(i + 1));
}

const char *
trace_outcome_says(const void *arg, size_t i)
{
	static const char *const words[] = { SAY_RC_END_DISCARDED,
		SAY_RC_END_RETURNED, SAY_RC_END_RELEASED, SAY_RC_END_MISTAKE };

	(void)arg;
	return tr(words[i]);
}

static void
end_go(struct desk *d, void *arg)
{
	struct trace *s = arg;
	struct trace_recalls *r = &s->recalls;
	const struct recall_close_in in = { .id = r->id,
		.outcome = r->outcome,
		.reason = r->reason[0] == '\0' ? NULL : r->reason,
		.by = d->by };
	struct recall_closed c;
	struct err err = { 0 };

	if (recall_close(&c, d->sn, &in, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	r->scanned = false;
	if (c.labels > 0)
		desk_say(d, LEVEL_DONE, tr(SAY_RC_DID_END_LABELS),
		    (long long)r->id, (long long)c.released, c.codes);
	else
		desk_say(d, LEVEL_DONE, tr(SAY_RC_DID_END), (long long)r->id,
		    (long long)c.discarded, (long long)c.released,
		    (long long)c.kept);
}

static bool
end_read(struct desk *d, void *arg, struct form *f)
{
	struct trace *s = arg;
	struct trace_recalls *r = &s->recalls;
	const char *why = form_value(f, END_F_WHY);
	int64_t missing = r->page.count.missing;
	char text[120];
	bool lift, mistake;

	str_copy(r->outcome, sizeof(r->outcome), form_value(f, END_F_OUTCOME));
	str_copy(r->reason, sizeof(r->reason), why == NULL ? "" : why);
	mistake = str_eq(r->outcome, recall_outcome_word(RECALL_MISTAKE));
	lift =
	    mistake || str_eq(r->outcome, recall_outcome_word(RECALL_RELEASED));
	if (why == NULL && missing > 0 && !mistake) {
		str_fmt(text, sizeof(text), trn(SAY_RC_MUST_WHY, (long)missing),
		    (long long)missing);
		form_wrong(f, END_F_WHY, text);
		desk_say(d, LEVEL_NOTE, "%s", text);
		f->at = END_F_WHY;
		return false;
	}
	desk_record(d, lift ? DUTY_RELEASE : DUTY_ANYONE, end_go, s);
	return true;
}

void
trace_recall_end(struct desk *d, struct trace *s)
{
	const struct choices outcomes = { RECALL_OUTCOME_COUNT - 1,
		outcome_word, trace_outcome_says, NULL };
	char title[80];
	struct form *f;

	str_fmt(
	    title, sizeof(title), tr(SAY_RC_ASK_END), (long long)s->recalls.id);
	f = desk_ask_fields(d, title, end_rows, END_F_COUNT, end_read, s);
	f->fields[END_F_OUTCOME].choices = outcomes;
}
