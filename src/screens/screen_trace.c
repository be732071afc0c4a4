/* screen_trace.c - where a thing came from, and what became of it. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/scan.h"
#include "says_desk.h"
#include "says_recall.h"
#include "says_trace.h"
#include "trace_inner.h"

enum trace_action {
	ACT_OPEN = 1,
	ACT_HOLD,
	ACT_RELEASE,
	ACT_LABEL,
	ACT_RECALL,
	ACT_PRINT,
	ACT_WHY,
	ACT_COMPLAINT,
	ACT_BACK,
	ACT_NEW,
	ACT_RECALL_OPEN,
	ACT_FOUND,
	ACT_NOTE,
	ACT_END,
};

#define CH(c)                                                                  \
	{                                                                      \
		KEY_CODE_CHAR, c                                               \
	}
static const struct action actions[] = {
	{ ACT_OPEN, { KEY_CODE_ENTER, 0 }, SAY_TR_K_OPEN, SAY_TR_H_OPEN },
	{ ACT_HOLD, CH('o'), SAY_TR_K_HOLD, SAY_TR_H_HOLD },
	{ ACT_RELEASE, CH('r'), SAY_TR_K_RELEASE, SAY_TR_H_RELEASE },
	{ ACT_COMPLAINT, CH('g'), SAY_TR_K_COMPLAINT, SAY_TR_H_COMPLAINT },
	{ ACT_RECALL, CH('c'), SAY_TR_K_RECALL, SAY_TR_H_RECALL },
	{ ACT_FOUND, CH('f'), SAY_RC_K_FOUND, SAY_RC_H_FOUND },
	{ ACT_NOTE, CH('a'), SAY_RC_K_NOTE, SAY_RC_H_NOTE },
	{ ACT_END, CH('e'), SAY_RC_K_END, SAY_RC_H_END },
	{ ACT_LABEL, CH('l'), SAY_TR_K_LABEL, SAY_TR_H_LABEL },
	{ ACT_WHY, CH('y'), SAY_TR_K_WHY, SAY_TR_H_WHY },
	{ ACT_BACK, CH('b'), SAY_TR_K_BACK, SAY_TR_H_BACK },
	{ ACT_PRINT, CH('p'), SAY_TR_K_PRINT, SAY_TR_H_PRINT },
	{ ACT_NEW, CH('n'), SAY_TR_K_NEW, SAY_TR_H_NEW },
	{ ACT_RECALL_OPEN, CH('x'), SAY_RC_K_OPEN, SAY_RC_H_OPEN },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};
#undef CH

/* --- what is shown --------------------------------------------------------*/

static void
know_not(struct desk *d, struct trace *s, const char *code, const char *text,
    size_t len)
{
	struct buf out;
	struct err err = { 0 };

	s->mode = TRACE_UNKNOWN;
	d->notice[0] = '\0';
	str_copy(s->unknown, sizeof(s->unknown), code);
	buf_init(&out, 65536);
	ignore_rc(scan_say(&out, d->sn, text, len, FORMAT_TEXT, &err));
	pager_set(&s->itself, buf_text(&out));
	buf_fini(&out);
}

/* Load a chain in place of what is shown; that stays when it cannot be. */
static enum rc
fetch(struct desk *d, struct trace *s, const char *text,
    const struct trace_window *w, struct err *err)
{
	struct trace_page page;
	enum rc rc = trace_page_load(&page, d->sn, text, w, err);

	if (rc != RC_OK)
		return rc;
	trace_page_fini(&s->page);
	s->page = page;
	s->mode = TRACE_CHAIN;
	s->list.count = trace_row_count(s);
	list_fit(&s->list);
	return RC_OK;
}

void
trace_see(struct desk *d, struct trace *s, int from, int to)
{
	struct trace_window w = s->page.window;
	struct trace_row a, z;
	char code[CODE_SIZE];
	struct err err = { 0 };
	size_t i;

	if (s->mode != TRACE_CHAIN || s->page.of_portion || to <= from)
		return;
	a = trace_row(s, from);
	z = trace_row(s, to - 1);
	if (z.kind != TROW_UNIT)
		return;
	i = a.kind == TROW_UNIT ? a.i : 0;
	if (trace_unit_at(s, i) != NULL && trace_unit_at(s, z.i) != NULL)
		return;
	w.first = i < TRACE_UNITS_MAX / 2 ? 0 : i - TRACE_UNITS_MAX / 2;
	str_copy(code, sizeof(code), s->page.code);
	if (fetch(d, s, code, &w, &err) != RC_OK)
		desk_fail(d, &err);
}

void
trace_leave(struct trace *s)
{
	struct trace_step *step;

	if (s->mode == TRACE_ASK || s->mode == TRACE_UNKNOWN)
		return;
	if (s->steps == TRACE_WAY_MAX) {
		memmove(s->way, s->way + 1,
		    (TRACE_WAY_MAX - 1) * sizeof(s->way[0]));
		s->steps--;
	}
	step = &s->way[s->steps++];
	step->mode = s->mode;
	str_copy(step->code, sizeof(step->code), s->page.code);
	step->prep_id = s->page.window.prep_id;
	step->at = s->list.at;
}

void
trace_show_code(
    struct desk *d, struct trace *s, const char *text, int64_t prep_id)
{
	const struct trace_window w = { prep_id, 0, TRACE_UNITS_MAX };
	char code[CODE_SIZE] = "";
	enum code_kind kind;
	struct err err = { 0 };
	int steps = s->steps;
	enum rc rc;

	trace_leave(s);
	rc = fetch(d, s, text, &w, &err);
	if (rc == RC_OK) {
		s->list.at = s->list.top = s->list.number = 0;
		list_fit(&s->list);
		d->notice[0] = '\0';
		return;
	}
	if (rc == RC_NOTFOUND) {
		ignore_rc(code_parse(&kind, code, text, NULL));
		know_not(d, s, code, text, strlen(text));
		return;
	}
	s->steps = steps;
	if (s->mode == TRACE_ASK)
		form_wrong(&s->form, TRACE_F_CODE, err.text);
	desk_fail(d, &err);
}

void
trace_show_dish(
    struct desk *d, struct trace *s, const char *dish, const char *service)
{
	struct trace_guess g;
	struct err err = { 0 };

	if (trace_guess_at(&g, d->sn, dish, service,
		form_value(&s->form, TRACE_F_AT), &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	trace_guess_fini(&s->guess);
	s->guess = g;
	s->mode = TRACE_DISH;
	s->list.count = trace_row_count(s);
	list_fit(&s->list);
}

static void
ask(struct desk *d, struct trace *s)
{
	s->mode = TRACE_ASK;
	s->steps = 0;
	s->form.at = TRACE_F_CODE;
	trace_ask_load(d, s);
}

static void
back(struct desk *d, struct trace *s)
{
	const struct trace_step step = s->steps > 0
	    ? s->way[s->steps - 1]
	    : (struct trace_step){ .mode = TRACE_ASK };
	struct trace_window w = { step.prep_id, 0, TRACE_UNITS_MAX };
	char dish[32], service[48];
	struct err err = { 0 };

	d->notice[0] = '\0';
	if (step.mode == TRACE_ASK) {
		ask(d, s);
		return;
	}
	s->steps--;
	if (step.mode == TRACE_CHAIN) {
		if (fetch(d, s, step.code, &w, &err) != RC_OK)
			desk_fail(d, &err);
	} else if (step.mode == TRACE_LOTS) {
		trace_lots_show(d, s);
	} else if (step.mode == TRACE_RECALL) {
		trace_recall_load(d, s);
	} else {
		str_copy(dish, sizeof(dish), s->guess.dish.code);
		str_copy(service, sizeof(service), s->guess.service.word);
		trace_show_dish(d, s, dish, service);
	}
	s->list.at = step.at;
	list_fit(&s->list);
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct trace *s = state;

	if (s->mode == TRACE_ASK)
		return trace_ask_key(d, s, k);
	if (k->code == KEY_CODE_BACKSPACE || k->code == KEY_CODE_ESC) {
		back(d, s);
		return true;
	}
	if (s->mode == TRACE_UNKNOWN)
		return pager_key(&s->itself, k);
	if (!list_key(&s->list, k))
		return false;
	trace_see(d, s, s->list.at, s->list.at + 1);
	return true;
}

static bool
typing(const void *state, const struct key *k)
{
	const struct trace *s = state;

	return s->mode == TRACE_ASK && form_typing(&s->form, k);
}

static bool
scan(struct desk *d, void *state, const struct desk_scan *sc)
{
	struct trace *s = state;

	if (s->mode == TRACE_RECALL)
		return trace_recall_scan(d, s, sc);
	switch (sc->kind) {
	case SCAN_PORTION:
	case SCAN_BATCH:
		trace_show_code(d, s, sc->text, 0);
		return true;
	case SCAN_UNKNOWN:
		trace_leave(s);
		know_not(d, s, "", sc->text, sc->len);
		return true;
	case SCAN_SUPPLIER:
		break;
	}
	return false;
}

/* --- actions --------------------------------------------------------------*/

static void
open_row(struct desk *d, struct trace *s)
{
	const struct trace_page *p = &s->page;
	const struct trace_unit *u;
	struct trace_row row;

	if (s->list.at < 0)
		return;
	if (s->mode == TRACE_DISH) {
		trace_show_code(d, s, s->guess.items[s->list.at].is.batch, 0);
		return;
	}
	if (s->mode == TRACE_LOTS) {
		trace_show_code(
		    d, s, s->recalls.lots.list.items[s->list.at].code, 0);
		return;
	}
	if (s->mode == TRACE_RECALL) {
		trace_show_code(d, s, s->recalls.rows[s->list.at]->code, 0);
		return;
	}
	row = trace_row(s, s->list.at);
	if (row.kind == TROW_UNIT) {
		u = trace_unit_at(s, row.i);
		if (u != NULL)
			trace_show_code(d, s, u->portion.code, 0);
	} else if (row.kind == TROW_BATCH) {
		trace_show_code(d, s,
		    row.i > 0 ? p->others[row.i - 1].code : p->batch.code, 0);
	} else if (row.kind == TROW_PREP) {
		trace_show_code(d, s,
		    p->of_portion ? p->preps.items[row.i].batch : p->batch.code,
		    p->preps.items[row.i].id);
	}
}

/* Keys of a recall's page. */
static bool
act_recall(struct desk *d, struct trace *s, int action)
{
	if (action == ACT_FOUND)
		trace_recall_found(d, s);
	else if (action == ACT_NOTE)
		trace_recall_note(d, s);
	else if (action == ACT_END)
		trace_recall_end(d, s);
	else if (action == ACT_PRINT)
		trace_recall_page_print(d, s);
	else if (action == ACT_RECALL)
		trace_recall_read(d, s);
	else
		return false;
	return true;
}

static void
act(struct desk *d, void *state, int action)
{
	struct trace *s = state;

	if (s->mode == TRACE_RECALL && act_recall(d, s, action))
		return;
	if (action == ACT_OPEN)
		open_row(d, s);
	else if (action == ACT_HOLD)
		trace_hold(d, s);
	else if (action == ACT_RELEASE)
		trace_release(d, s);
	else if (action == ACT_LABEL)
		trace_labels(d, s);
	else if (action == ACT_RECALL)
		trace_recall(d, s);
	else if (action == ACT_PRINT)
		trace_recall_print(d, s);
	else if (action == ACT_RECALL_OPEN)
		trace_recall_open(d, s);
	else if (action == ACT_WHY)
		trace_read_why(d, s);
	else if (action == ACT_COMPLAINT)
		trace_complaint(d, s);
	else if (action == ACT_BACK)
		back(d, s);
	else
		ask(d, s);
}

/* Of a recall's page. */
static bool
can_recall(const struct trace *s, int action)
{
	bool open = s->recalls.page.recall.outcome == RECALL_OPEN;

	if (action == ACT_FOUND)
		return open && s->list.at >= 0 &&
		    s->list.at < s->recalls.row_count &&
		    recall_item_missing(s->recalls.rows[s->list.at]) > 0;
	return action == ACT_NOTE || action == ACT_PRINT ||
	    action == ACT_RECALL || (action == ACT_END && open);
}

static bool
can(const struct desk *d, const void *state, int action)
{
	const struct trace *s = state;
	const struct trace_page *p = &s->page;
	bool own = trace_own_hold(s);

	(void)d;
	if (s->mode == TRACE_ASK)
		return false;
	if (action == ACT_BACK || action == ACT_NEW)
		return true;
	if (action == ACT_OPEN)
		return s->mode != TRACE_UNKNOWN && s->list.count > 0;
	if (s->mode == TRACE_RECALL)
		return can_recall(s, action);
	if (action == ACT_COMPLAINT)
		return s->mode == TRACE_CHAIN || s->mode == TRACE_DISH;
	if (action == ACT_RECALL_OPEN)
		return s->mode == TRACE_CHAIN ||
		    (s->mode == TRACE_LOTS && s->list.count > 0);
	if (s->mode != TRACE_CHAIN || action == ACT_FOUND ||
	    action == ACT_NOTE || action == ACT_END)
		return false;
	if (action == ACT_HOLD)
		return !own;
	if (action == ACT_RELEASE)
		return p->hold.id != 0;
	if (action == ACT_LABEL)
		return p->hold.id != 0 &&
		    (!p->of_portion || p->unit.portion.left > 0);
	return true;
}

/* --- the screen -----------------------------------------------------------*/

static void
init(struct desk *d, void *state)
{
	struct trace *s = state;

	trace_ask_init(d, s);
}

static void
load(struct desk *d, void *state)
{
	struct trace *s = state;
	struct trace_window w = s->page.window;
	char code[CODE_SIZE], dish[32], service[48];
	struct err err = { 0 };

	if (s->mode == TRACE_ASK) {
		trace_ask_load(d, s);
	} else if (s->mode == TRACE_CHAIN) {
		str_copy(code, sizeof(code), s->page.code);
		if (fetch(d, s, code, &w, &err) != RC_OK)
			desk_fail(d, &err);
	} else if (s->mode == TRACE_DISH) {
		str_copy(dish, sizeof(dish), s->guess.dish.code);
		str_copy(service, sizeof(service), s->guess.service.word);
		trace_show_dish(d, s, dish, service);
	} else if (s->mode == TRACE_LOTS) {
		trace_lots_show(d, s);
	} else if (s->mode == TRACE_RECALL) {
		trace_recall_load(d, s);
	}
}

static void
fini(void *state)
{
	struct trace *s = state;

	trace_page_fini(&s->page);
	trace_guess_fini(&s->guess);
	trace_choices_fini(&s->choices);
	free(s->sittings);
	pager_fini(&s->itself);
	complaint_read_fini(&s->complaint.read);
	trace_recall_free(s);
}

const struct screen screen_trace = {
	.title = SAY_TRACE,
	.actions = actions,
	.state_size = sizeof(struct trace),
	.init = init,
	.fini = fini,
	.load = load,
	.draw = trace_draw,
	.key = key,
	.act = act,
	.scan = scan,
	.typing = typing,
	.can = can,
};
