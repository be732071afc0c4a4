/* goods_in_decide.c - Goods in: from page to page, the decision, the record. */
#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "core/caution.h"
#include "goods_in.h"
#include "ops/label.h"
#include "says_goods_look.h"

static const struct field_row decide_rows[DECIDE_FIELDS] = {
	[DECIDE_WHAT] = { SAY_GI_DECISION, FIELD_CHOICE, FIELD_MUST,
	    SAY_GI_HINT_DECISION },
	[DECIDE_NOTE] = { SAY_GI_NOTE, FIELD_TEXT, FIELD_MUST,
	    SAY_GI_HINT_NOTE },
};

static const struct {
	const char *word, *says, *means;
} decisions[] = {
	[DECISION_ACCEPTED] = { "accept", SAY_GI_ACCEPT, SAY_GI_MEANS_ACCEPT },
	[DECISION_NOTED] = { "note", SAY_GI_WITH_NOTE, SAY_GI_MEANS_NOTE },
	[DECISION_REFUSED] = { "refuse", SAY_GI_REFUSE, SAY_GI_MEANS_REFUSE },
};

static const char *
decision_at(const void *arg, size_t i)
{
	(void)arg;
	return decisions[i].word;
}

static const char *
decision_says(const void *arg, size_t i)
{
	(void)arg;
	return tr(decisions[i].says);
}

void
goods_decide_init(struct goods *g, day_no today)
{
	form_init(&g->decide, decide_rows, DECIDE_FIELDS, today);
	g->decide.fields[DECIDE_WHAT].choices =
	    (struct choices){ 3, decision_at, decision_says, NULL };
	goods_decide_follow(g);
}

/* Which decision is typed; false: none yet. */
static bool
decided(enum decision *out, const struct goods *g)
{
	const char *v = form_value(&g->decide, DECIDE_WHAT);
	size_t i;

	for (i = 0; v != NULL && i < 3; i++)
		if (str_eq(v, decisions[i].word)) {
			*out = (enum decision)i;
			return true;
		}
	return false;
}

void
goods_decide_follow(struct goods *g)
{
	struct field *f = &g->decide.fields[DECIDE_WHAT];
	enum decision what;
	bool known = decided(&what, g);

	/* A plain acceptance asks for no words; what was typed is kept. */
	g->decide.fields[DECIDE_NOTE].off = !known || what == DECISION_ACCEPTED;
	if (known)
		str_fmt(f->shown, sizeof(f->shown), "%s",
		    tr(decisions[what].means));
}

/* --- from page to page -----------------------------------------------------*/

/* Show a refusal at its field, on its page; the words also at the foot. */
static void
point_at(struct desk *d, struct goods *g, enum receive_field at,
    const struct err *err)
{
	char words[ERR_TEXT_MAX];
	int i = goods_field_of(at), k = goods_look_field(g, at);

	goods_words(words, sizeof(words), err->text);
	if (at == RECEIVE_NOTE) {
		form_wrong(&g->decide, DECIDE_NOTE, words);
		g->page = PAGE_DECIDE;
	} else if (i >= 0) {
		form_wrong(&g->form, i, words);
		g->page = PAGE_GOODS;
	} else if (k >= 0) {
		form_wrong(&g->look, k, words);
		g->page = PAGE_LOOK;
	} else if (at == RECEIVE_SCAN) {
		g->page = PAGE_GOODS;
	}
	if (err->rc == RC_FATAL)
		desk_fail(d, err);
	else
		desk_say(d, err->rc == RC_REFUSED ? LEVEL_REFUSED : LEVEL_WARN,
		    "%s", words);
}

/* The words at the field they concern, without going there. */
static void
mark_at(struct goods *g, enum receive_field at, const char *text)
{
	int i = goods_field_of(at), k = goods_look_field(g, at);
	struct field *f = i >= 0 ? &g->form.fields[i]
	    : k >= 0             ? &g->look.fields[k]
				 : NULL;
	char words[ERR_TEXT_MAX];

	if (f == NULL || text[0] == '\0')
		return;
	goods_words(words, sizeof(words), text);
	str_fmt(f->wrong, sizeof(f->wrong), "%s", words);
	utf8_clean(f->wrong);
}

static bool
look(struct desk *d, struct goods *g)
{
	enum receive_field at = RECEIVE_WHOLE;
	struct receive_in in;
	struct err err = { 0 };

	if (form_check(&g->form, &err) != RC_OK) {
		g->page = PAGE_GOODS;
		desk_say(d, LEVEL_WARN, "%s", err.text);
		return false;
	}
	goods_in_fill(&in, g);
	if (receive_look(&g->view, &at, d->sn, &in, &err) != RC_OK) {
		point_at(d, g, at, &err);
		return false;
	}
	mark_at(g, g->view.why_at, g->view.why);
	g->decide.fields[DECIDE_WHAT].wrong[0] = '\0'; /* of other facts */
	return true;
}

static void
from_goods(struct desk *d, struct goods *g)
{
	if (!look(d, g))
		return;
	goods_weigh_off(g);
	goods_look_make(g, d->sn, &g->view.batch);
	d->notice[0] = '\0';
	g->page = g->look_count > 0 ? PAGE_LOOK : PAGE_DECIDE;
}

static void
from_look(struct desk *d, struct goods *g)
{
	struct err err = { 0 };

	if (form_check(&g->look, &err) != RC_OK) {
		desk_say(d, LEVEL_WARN, "%s", err.text);
		return;
	}
	if (!look(d, g))
		return;
	d->notice[0] = '\0';
	g->page = PAGE_DECIDE;
}

void
goods_on(struct desk *d, struct goods *g)
{
	if (g->page == PAGE_GOODS)
		from_goods(d, g);
	else if (g->page == PAGE_LOOK)
		from_look(d, g);
	if (g->page == PAGE_DECIDE)
		goods_decide_follow(g);
}

void
goods_back(struct goods *g)
{
	if (g->page == PAGE_DECIDE && g->look_count > 0)
		g->page = PAGE_LOOK;
	else if (g->page == PAGE_DECIDE || g->page == PAGE_LOOK ||
	    g->page == PAGE_EACH)
		g->page = PAGE_GOODS;
	else
		g->page = PAGE_DAY;
}

/* --- the record ------------------------------------------------------------*/

/* The record stands whatever becomes of its label. */
static void
queue_label(struct desk *d, struct goods *g)
{
	const char *code = g->done.code;
	struct label_order order = {
		.codes = &code,
		.count = 1,
		.want = LABEL_FIRST,
		.by = d->by,
		.only_queue = true,
	};
	struct job_list jobs;
	struct err err = { 0 };

	g->done_why[0] = '\0';
	if (g->done.decision == DECISION_REFUSED)
		return;
	if (label_print(&jobs, d->sn, &order, &err) == RC_OK)
		desk_print(d);
	else
		str_copy(g->done_why, sizeof(g->done_why), err.text);
	job_list_fini(&jobs);
}

/* A rule against the decision is answered by another decision. */
static void
not_recorded(struct desk *d, struct goods *g, enum receive_field at,
    const struct err *err)
{
	char words[ERR_TEXT_MAX];

	if (err->rc != RC_REFUSED || at == RECEIVE_NOTE) {
		point_at(d, g, at, err);
		return;
	}
	mark_at(g, at, err->text);
	goods_words(words, sizeof(words), err->text);
	form_wrong(&g->decide, DECIDE_WHAT, words);
	desk_say(d, LEVEL_REFUSED, "%s", words);
}

static void
record(struct desk *d, void *arg)
{
	struct goods *g = arg;
	enum receive_field at = RECEIVE_WHOLE;
	enum decision what;
	struct receive_in in;
	struct err err = { 0 };
	char code[CODE_SIZE];

	if (g->page != PAGE_DECIDE || !decided(&what, g))
		return;
	goods_in_fill(&in, g);
	in.decision = what;
	in.note = form_value(&g->decide, DECIDE_NOTE);
	in.by = d->by;
	if (receive_at(&g->done, &at, d->sn, &in, &err) != RC_OK) {
		not_recorded(d, g, at, &err);
		return;
	}
	queue_label(d, g);
	g->page = PAGE_DONE;
	code_show(code, g->done.code);
	if (g->done.decision == DECISION_REFUSED)
		desk_say(d, LEVEL_DONE, tr(SAY_GI_SENT_BACK), code);
	else
		desk_say(d, LEVEL_DONE,
		    tr(what == DECISION_NOTED ? SAY_GI_DONE_NOTE : SAY_GI_DONE),
		    code);
	if (g->done_why[0] != '\0')
		desk_say(d, LEVEL_WARN, tr(SAY_GI_LABEL_NOT), g->done_why);
	goods_form_next(g);
}

void
goods_record(struct desk *d, struct goods *g)
{
	struct err err = { 0 };

	goods_decide_follow(g);
	if (form_check(&g->decide, &err) != RC_OK) {
		desk_say(d, LEVEL_WARN, "%s", err.text);
		return;
	}
	goods_decide_follow(g);
	desk_record(d, DUTY_ANYONE, record, g);
}

/* --- what was found --------------------------------------------------------*/

void
goods_found(struct buf *out, const struct desk *d, const struct goods *g)
{
	const struct receive_view *v = &g->view;
	const struct species *sp =
	    species_find(&d->sn->species, v->batch.species);
	const char *cautions[CAUTIONS_MAX];
	struct buf found;
	int n, i;

	n = sp == NULL ? 0 : caution_list(cautions, sp, v->batch.presentation);
	for (i = 0; i < n; i++) {
		buf_printf(out, tr(SAY_GI_CAUTION), cautions[i]);
		buf_putc(out, '\n');
	}
	if (!v->judged.graded)
		buf_printf(out, "%s\n", tr(SAY_GI_NOT_GRADED));
	buf_init(&found, 16384);
	judge_text(&found, &v->judged);
	buf_puts(out, buf_text(&found));
	buf_fini(&found);
	buf_puts(out, caution_general());
}
