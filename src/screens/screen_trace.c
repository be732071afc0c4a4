/* screen_trace.c - where a thing came from, and what became of it. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "ops/scan.h"
#include "says_desk.h"
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
	ACT_BACK,
	ACT_NEW,
};

#define CH(c)                                                                  \
	{                                                                      \
		KEY_CODE_CHAR, c                                               \
	}
static const struct action actions[] = {
	{ ACT_OPEN, { KEY_CODE_ENTER, 0 }, SAY_TR_K_OPEN, SAY_TR_H_OPEN },
	{ ACT_HOLD, CH('o'), SAY_TR_K_HOLD, SAY_TR_H_HOLD },
	{ ACT_RELEASE, CH('r'), SAY_TR_K_RELEASE, SAY_TR_H_RELEASE },
	{ ACT_LABEL, CH('l'), SAY_TR_K_LABEL, SAY_TR_H_LABEL },
	{ ACT_RECALL, CH('c'), SAY_TR_K_RECALL, SAY_TR_H_RECALL },
	{ ACT_PRINT, CH('p'), SAY_TR_K_PRINT, SAY_TR_H_PRINT },
	{ ACT_WHY, CH('y'), SAY_TR_K_WHY, SAY_TR_H_WHY },
	{ ACT_BACK, CH('b'), SAY_TR_K_BACK, SAY_TR_H_BACK },
	{ ACT_NEW, CH('n'), SAY_TR_K_NEW, SAY_TR_H_NEW },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};
#undef CH

static const struct field_row rows[TRACE_F_COUNT] = {
	[TRACE_F_CODE] = { SAY_TR_CODE, FIELD_TEXT, 0, NULL },
	[TRACE_F_DISH] = { SAY_TR_DISH, FIELD_CHOICE, 0, SAY_TR_DISH_HINT },
	[TRACE_F_SERVICE] = { SAY_TR_SERVICE, FIELD_CHOICE, 0,
	    SAY_TR_SERVICE_HINT },
};

/* --- what may be chosen ---------------------------------------------------*/

/* Both lists may be read anew, and be shorter, while one of them is open. */

static const char *
dish_word(const void *arg, size_t i)
{
	const struct trace *s = arg;

	return i < s->choices.dish_count ? s->choices.dishes[i].code : "";
}

static const char *
dish_says(const void *arg, size_t i)
{
	const struct trace *s = arg;

	return i < s->choices.dish_count ? s->choices.dishes[i].name : "";
}

static const char *
service_word(const void *arg, size_t i)
{
	const struct trace *s = arg;

	return i < s->choices.service_count ? s->choices.services[i].word : "";
}

static const char *
service_says(const void *arg, size_t i)
{
	const struct trace *s = arg;

	return i < s->choices.service_count ? s->sittings[i] : "";
}

static void
load_choices(struct desk *d, struct trace *s)
{
	struct trace_choices c;
	struct err err = { 0 };
	size_t i;

	if (trace_choices_load(&c, d->sn, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	trace_choices_fini(&s->choices);
	s->choices = c;
	free(s->sittings);
	s->sittings = xcalloc(c.service_count, sizeof(*s->sittings));
	for (i = 0; i < c.service_count; i++)
		trace_sitting(
		    s->sittings[i], sizeof(s->sittings[i]), &c.services[i]);
	s->form.today = desk_today(d);
	s->form.fields[TRACE_F_DISH].choices =
	    (struct choices){ c.dish_count, dish_word, dish_says, s };
	s->form.fields[TRACE_F_SERVICE].choices =
	    (struct choices){ c.service_count, service_word, service_says, s };
}

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

/* Remember what is shown, to come back to it. */
static void
leave(struct trace *s)
{
	struct trace_step *step;

	if (s->mode != TRACE_CHAIN && s->mode != TRACE_DISH)
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

static void
show_code(struct desk *d, struct trace *s, const char *text, int64_t prep_id)
{
	const struct trace_window w = { prep_id, 0, TRACE_UNITS_MAX };
	char code[CODE_SIZE] = "";
	enum code_kind kind;
	struct err err = { 0 };
	int steps = s->steps;
	enum rc rc;

	leave(s);
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

static void
show_dish(
    struct desk *d, struct trace *s, const char *dish, const char *service)
{
	struct trace_guess g;
	struct err err = { 0 };

	if (trace_guess_load(&g, d->sn, dish, service, &err) != RC_OK) {
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
	load_choices(d, s);
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
	} else {
		str_copy(dish, sizeof(dish), s->guess.dish.code);
		str_copy(service, sizeof(service), s->guess.service.word);
		show_dish(d, s, dish, service);
	}
	s->list.at = step.at;
	list_fit(&s->list);
}

/* --- asking ---------------------------------------------------------------*/

static void
go(struct desk *d, struct trace *s)
{
	const char *code, *dish, *service;
	struct err err = { 0 };

	code = s->form.fields[TRACE_F_CODE].text;
	if (code[strspn(code, " ")] != '\0') {
		show_code(d, s, code, 0);
		return;
	}
	if (form_check(&s->form, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	dish = form_value(&s->form, TRACE_F_DISH);
	service = form_value(&s->form, TRACE_F_SERVICE);
	if (dish != NULL && service != NULL) {
		s->steps = 0;
		s->list.at = 0;
		d->notice[0] = '\0';
		show_dish(d, s, dish, service);
	} else if (dish == NULL && service == NULL) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_TR_NEED));
	} else if (s->choices.service_count == 0) {
		desk_say(
		    d, LEVEL_NOTE, tr(SAY_TR_NO_SERVICE), TRACE_SERVICES_DAYS);
	} else {
		desk_say(d, LEVEL_NOTE, "%s",
		    tr(dish == NULL ? SAY_TR_NEED_DISH : SAY_TR_NEED_SERVICE));
		s->form.at = dish == NULL ? TRACE_F_DISH : TRACE_F_SERVICE;
	}
}

static void
pick_service(struct desk *d, void *arg, size_t i)
{
	struct trace *s = arg;

	form_set(&s->form, TRACE_F_SERVICE, service_word(s, i));
	go(d, s);
}

static void
ask_service(struct desk *d, struct trace *s)
{
	if (s->choices.service_count == 0)
		desk_say(
		    d, LEVEL_NOTE, tr(SAY_TR_NO_SERVICE), TRACE_SERVICES_DAYS);
	else
		desk_ask_pick(d, tr(SAY_TR_WHICH_SERVICE),
		    &s->form.fields[TRACE_F_SERVICE].choices, pick_service, s);
}

static void
pick_dish(struct desk *d, void *arg, size_t i)
{
	struct trace *s = arg;

	form_set(&s->form, TRACE_F_DISH, dish_word(s, i));
	s->form.at = TRACE_F_SERVICE;
	ask_service(d, s);
}

/* Enter in an empty field lists what may stand in it. */
static bool
ask_list(struct desk *d, struct trace *s)
{
	if (s->form.fields[s->form.at].text[0] != '\0')
		return false;
	if (s->form.at == TRACE_F_SERVICE)
		ask_service(d, s);
	else if (s->form.at == TRACE_F_DISH && s->choices.dish_count > 0)
		desk_ask_pick(d, tr(SAY_TR_WHICH_DISH),
		    &s->form.fields[TRACE_F_DISH].choices, pick_dish, s);
	else
		return false;
	return true;
}

static bool
ask_key(struct desk *d, struct trace *s, const struct key *k)
{
	const char *code = s->form.fields[TRACE_F_CODE].text;

	if (k->code == KEY_CODE_F12 ||
	    (k->code == KEY_CODE_ENTER && s->form.at == TRACE_F_CODE &&
		code[strspn(code, " ")] != '\0')) {
		go(d, s);
		return true;
	}
	if (k->code == KEY_CODE_ENTER && ask_list(d, s))
		return true;
	switch (form_key(&s->form, k)) {
	case FORM_END:
		go(d, s);
		return true;
	case FORM_NOT_MINE:
		return false;
	case FORM_TAKEN:
	case FORM_MOVED:
		break;
	}
	return true;
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct trace *s = state;

	if (s->mode == TRACE_ASK)
		return ask_key(d, s, k);
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

	switch (sc->kind) {
	case SCAN_PORTION:
	case SCAN_BATCH:
		show_code(d, s, sc->text, 0);
		return true;
	case SCAN_UNKNOWN:
		leave(s);
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
		show_code(d, s, s->guess.items[s->list.at].is.batch, 0);
		return;
	}
	row = trace_row(s, s->list.at);
	if (row.kind == TROW_UNIT) {
		u = trace_unit_at(s, row.i);
		if (u != NULL)
			show_code(d, s, u->portion.code, 0);
	} else if (row.kind == TROW_BATCH) {
		show_code(d, s,
		    row.i > 0 ? p->others[row.i - 1].code : p->batch.code, 0);
	} else if (row.kind == TROW_PREP) {
		show_code(d, s,
		    p->of_portion ? p->preps.items[row.i].batch : p->batch.code,
		    p->preps.items[row.i].id);
	}
}

static void
act(struct desk *d, void *state, int action)
{
	struct trace *s = state;

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
	else if (action == ACT_WHY)
		trace_read_why(d, s);
	else if (action == ACT_BACK)
		back(d, s);
	else
		ask(d, s);
}

static bool
can(const struct desk *d, const void *state, int action)
{
	const struct trace *s = state;
	const struct trace_page *p = &s->page;
	bool own = p->hold.id != 0 && (!p->of_portion || !p->hold_of_batch);

	(void)d;
	if (s->mode == TRACE_ASK)
		return false;
	if (action == ACT_BACK || action == ACT_NEW)
		return true;
	if (action == ACT_OPEN)
		return s->mode != TRACE_UNKNOWN && s->list.count > 0;
	if (s->mode != TRACE_CHAIN)
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

	form_init(&s->form, rows, TRACE_F_COUNT, desk_today(d));
}

static void
load(struct desk *d, void *state)
{
	struct trace *s = state;
	struct trace_window w = s->page.window;
	char code[CODE_SIZE], dish[32], service[48];
	struct err err = { 0 };

	if (s->mode == TRACE_ASK) {
		load_choices(d, s);
	} else if (s->mode == TRACE_CHAIN) {
		str_copy(code, sizeof(code), s->page.code);
		if (fetch(d, s, code, &w, &err) != RC_OK)
			desk_fail(d, &err);
	} else if (s->mode == TRACE_DISH) {
		str_copy(dish, sizeof(dish), s->guess.dish.code);
		str_copy(service, sizeof(service), s->guess.service.word);
		show_dish(d, s, dish, service);
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
