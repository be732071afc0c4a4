/* trace_act.c - what is done to what is traced: hold, labels, recall, why. */
#include <string.h>

#include "base/str.h"
#include "ops/ticket.h"
#include "says_trace.h"
#include "trace_inner.h"

/* Of one breakdown its first unit names it. */
static void
ask_deed(struct desk *d, struct trace *s, enum deed_kind kind)
{
	const struct trace_page *p = &s->page;
	struct deed_unit *u = &s->deed.units[0];

	s->deed.kind = kind;
	s->deed.count = 1;
	s->deed.run = false;
	s->deed.done = NULL;
	s->deed.owner = s;
	s->deed.breakdown = trace_of_prep(s);
	memset(u, 0, sizeof(*u));
	u->kind = p->of_portion ? CODE_PORTION : CODE_BATCH;
	str_copy(u->code, sizeof(u->code), p->code);
	str_copy(u->name, sizeof(u->name),
	    p->of_portion ? p->unit.portion.dish_name : p->species);
	u->left = p->of_portion ? p->unit.portion.left : p->batch.count_left;
	u->use_by_utc =
	    p->of_portion ? p->unit.portion.use_by_utc : p->batch.use_by_utc;
	if (s->deed.breakdown) {
		str_copy(u->code, sizeof(u->code), p->units[0].portion.code);
		str_fmt(u->name, sizeof(u->name), tr(SAY_TR_BREAKDOWN_OF),
		    (long long)p->window.prep_id, p->species);
		u->left = p->counts.left;
	}
	deed_ask(d, &s->deed);
}

bool
trace_of_prep(const struct trace *s)
{
	return s->mode == TRACE_CHAIN && !s->page.of_portion &&
	    s->page.window.prep_id != 0 && s->page.unit_count > 0;
}

bool
trace_own_hold(const struct trace *s)
{
	const struct hold *h = &s->page.hold;

	if (h->id == 0)
		return false;
	if (s->page.of_portion)
		return h->subject.portion_id != 0;
	return trace_of_prep(s) ? h->subject.prep_id != 0
				: h->subject.batch_id != 0;
}

void
trace_hold(struct desk *d, struct trace *s)
{
	ask_deed(d, s, DEED_HOLD);
}

/* The hold may be the batch's or the breakdown's: it is lifted there. */
void
trace_release(struct desk *d, struct trace *s)
{
	char shown[CODE_SIZE];

	if (trace_own_hold(s))
		ask_deed(d, s, DEED_RELEASE);
	else if (s->page.hold_of_prep)
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_TR_PREP_HOLD));
	else
		desk_say(d, LEVEL_NOTE, tr(SAY_TR_BATCH_HOLD),
		    code_show(shown, s->page.batch.code));
}

static const char *
which_word(const void *arg, size_t i)
{
	const struct trace *s = arg;

	return s->which[i];
}

static void
print_which(struct desk *d, void *arg, size_t i)
{
	struct trace *s = arg;
	struct err err = { 0 };
	size_t n;

	if (i == 0) {
		s->labels.count = 1;
		str_copy(s->labels.codes[0], CODE_SIZE, s->page.code);
	} else {
		if (trace_on_hand(s->labels.codes, FREEZE_UNITS_MAX, &n, d->sn,
			s->page.batch.code, &err) != RC_OK) {
			desk_fail(d, &err);
			return;
		}
		s->labels.count = n < FREEZE_UNITS_MAX ? n : FREEZE_UNITS_MAX;
		if (n > FREEZE_UNITS_MAX)
			desk_say(d, LEVEL_WARN, tr(SAY_TR_LABELS_MANY),
			    (long long)n, FREEZE_UNITS_MAX);
	}
	hand_label(d, &s->labels);
}

/* Of one breakdown its own units on hand. */
static void
labels_of_prep(struct desk *d, struct trace *s)
{
	const struct portion *p;
	size_t i;

	s->labels.count = 0;
	for (i = 0; i < s->page.unit_count; i++) {
		p = &s->page.units[i].portion;
		if (p->left > 0 && s->labels.count < FREEZE_UNITS_MAX)
			str_copy(s->labels.codes[s->labels.count++], CODE_SIZE,
			    p->code);
	}
	if (s->page.counts.left > 0 && s->labels.count == FREEZE_UNITS_MAX)
		desk_say(d, LEVEL_WARN, tr(SAY_TR_LABELS_MANY),
		    (long long)s->page.counts.units, FREEZE_UNITS_MAX);
	hand_label(d, &s->labels);
}

void
trace_labels(struct desk *d, struct trace *s)
{
	struct choices c = { 2, which_word, NULL, s };
	struct err err = { 0 };
	size_t n = 0;

	if (trace_of_prep(s) && s->page.hold.subject.prep_id != 0 &&
	    s->page.counts.left > 0) {
		labels_of_prep(d, s);
		return;
	}
	if (!s->page.of_portion &&
	    trace_on_hand(s->labels.codes, FREEZE_UNITS_MAX, &n, d->sn,
		s->page.batch.code, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	if (n == 0) {
		print_which(d, s, 0);
		return;
	}
	str_copy(s->which[0], sizeof(s->which[0]), tr(SAY_TR_LABELS_BATCH));
	str_fmt(s->which[1], sizeof(s->which[1]),
	    trn(SAY_TR_LABELS_UNITS, (long)n), (long long)n);
	desk_ask_pick(d, tr(SAY_TR_LABELS_WHICH), &c, print_which, s);
}

static enum rc
make_recall(
    struct ticket **out, struct desk *d, struct trace *s, struct err *err)
{
	const struct ticket_wish wish = { .kind = TICKET_RECALL,
		.what = s->page.batch.code };

	return ticket_make(out, d->sn, &wish, err);
}

void
trace_recall(struct desk *d, struct trace *s)
{
	struct ticket *t;
	struct buf out;
	char shown[CODE_SIZE], title[80];
	struct err err = { 0 };

	if (make_recall(&t, d, s, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	buf_init(&out, 1 << 22);
	ticket_show(&out, t, FORMAT_TEXT);
	ticket_free(t);
	str_fmt(title, sizeof(title), tr(SAY_TR_RECALL),
	    code_show(shown, s->page.batch.code));
	desk_read(d, title, buf_text(&out));
	buf_fini(&out);
}

/* `t` is freed. */
void
trace_print_list(struct desk *d, struct ticket *t)
{
	struct label_order order = { .by = d->by, .only_queue = true };
	struct job_list jobs = { 0 };
	struct err err = { 0 };
	enum rc rc;

	rc = ticket_print(&jobs, d->sn, TICKET_RECALL, t, &order, &err);
	ticket_free(t);
	if (rc == RC_OK) {
		desk_print(d);
		desk_say(d, LEVEL_DONE, trn(SAY_TR_PRINTED, (long)jobs.count),
		    (int)jobs.count);
	} else {
		desk_fail(d, &err);
	}
	job_list_fini(&jobs);
}

static void
print_recall(struct desk *d, void *arg)
{
	struct ticket *t;
	struct err err = { 0 };

	if (make_recall(&t, d, arg, &err) == RC_OK)
		trace_print_list(d, t);
	else
		desk_fail(d, &err);
}

void
trace_recall_print(struct desk *d, struct trace *s)
{
	desk_record(d, DUTY_ANYONE, print_recall, s);
}

void
trace_read_why(struct desk *d, struct trace *s)
{
	char shown[CODE_SIZE], title[80];
	struct buf out;
	struct err err = { 0 };

	buf_init(&out, 1 << 20);
	if (trace_why(&out, d->sn, s->page.code, &err) == RC_OK) {
		str_fmt(title, sizeof(title), tr(SAY_TR_WHY),
		    code_show(shown, s->page.code));
		desk_read(d, title, buf_text(&out));
	} else {
		desk_fail(d, &err);
	}
	buf_fini(&out);
}
