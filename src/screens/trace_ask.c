/* trace_ask.c - what is asked on the Trace screen. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "says_recall.h"
#include "says_trace.h"
#include "trace_inner.h"

static const struct field_row rows[TRACE_F_COUNT] = {
	[TRACE_F_CODE] = { SAY_TR_CODE, FIELD_TEXT, 0, NULL },
	[TRACE_F_DISH] = { SAY_TR_DISH, FIELD_CHOICE, 0, SAY_TR_DISH_HINT },
	[TRACE_F_SERVICE] = { SAY_TR_SERVICE, FIELD_CHOICE, 0,
	    SAY_TR_SERVICE_HINT },
	[TRACE_F_AT] = { SAY_RC_AT, FIELD_TEXT, 0, SAY_RC_AT_HINT },
	[TRACE_F_LOT] = { SAY_RC_LOT, FIELD_TEXT, 0, NULL },
	[TRACE_F_DOCUMENT] = { SAY_RC_DOCUMENT, FIELD_TEXT, 0, NULL },
	[TRACE_F_SUPPLIER] = { SAY_RC_SUPPLIER, FIELD_TEXT, 0,
	    SAY_RC_SUPPLIER_HINT },
	[TRACE_F_DAY] = { SAY_RC_DAY, FIELD_DATE, FIELD_PAST, NULL },
	[TRACE_F_RECALL] = { SAY_RC_RECALL, FIELD_CHOICE, 0,
	    SAY_RC_RECALL_HINT },
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

static const char *
recall_word(const void *arg, size_t i)
{
	const struct trace *s = arg;

	return i < s->recalls.list.count ? s->recall_words[i][0] : "";
}

static const char *
recall_says(const void *arg, size_t i)
{
	const struct trace *s = arg;

	return i < s->recalls.list.count ? s->recall_words[i][1] : "";
}

static void
load_recalls(struct desk *d, struct trace *s)
{
	const struct recall_brief *b;
	size_t i;

	trace_recall_choices(d, s);
	for (i = 0; i < s->recalls.list.count; i++) {
		b = &s->recalls.list.items[i];
		str_fmt(s->recall_words[i][0], sizeof(s->recall_words[i][0]),
		    "%lld", (long long)b->recall.id);
		if (b->recall.outcome == RECALL_OPEN)
			str_fmt(s->recall_words[i][1],
			    sizeof(s->recall_words[i][1]),
			    tr(SAY_RC_CHOICE_OPEN), (long long)b->recall.id,
			    (long long)b->count.missing, b->recall.what);
		else
			str_fmt(s->recall_words[i][1],
			    sizeof(s->recall_words[i][1]), tr(SAY_RC_CHOICE),
			    (long long)b->recall.id, b->recall.what);
	}
	s->form.fields[TRACE_F_RECALL].choices =
	    (struct choices){ s->recalls.list.count, recall_word, recall_says,
		    s };
}

void
trace_ask_load(struct desk *d, struct trace *s)
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
	load_recalls(d, s);
	s->form.today = desk_today(d);
	s->form.fields[TRACE_F_DISH].choices =
	    (struct choices){ c.dish_count, dish_word, dish_says, s };
	s->form.fields[TRACE_F_SERVICE].choices =
	    (struct choices){ c.service_count, service_word, service_says, s };
}

/* --- asking ---------------------------------------------------------------*/

/* What a supplier names was typed. */
static bool
by_lot(const struct trace *s)
{
	int i;

	for (i = TRACE_F_LOT; i <= TRACE_F_DAY; i++)
		if (form_value(&s->form, i) != NULL)
			return true;
	return false;
}

static void
go(struct desk *d, struct trace *s)
{
	const char *code, *dish, *service, *recall;
	struct err err = { 0 };

	code = s->form.fields[TRACE_F_CODE].text;
	if (code[strspn(code, " ")] != '\0') {
		trace_show_code(d, s, code, 0);
		return;
	}
	if (form_check(&s->form, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	recall = form_value(&s->form, TRACE_F_RECALL);
	if (recall != NULL) {
		trace_recall_show(d, s, strtoll(recall, NULL, 10));
		return;
	}
	if (by_lot(s)) {
		s->steps = 0;
		s->list.at = 0;
		trace_lots_show(d, s);
		return;
	}
	dish = form_value(&s->form, TRACE_F_DISH);
	service = form_value(&s->form, TRACE_F_SERVICE);
	if (dish != NULL && service != NULL) {
		s->steps = 0;
		s->list.at = 0;
		d->notice[0] = '\0';
		trace_show_dish(d, s, dish, service);
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

static void
pick_recall(struct desk *d, void *arg, size_t i)
{
	struct trace *s = arg;

	if (i < s->recalls.list.count)
		trace_recall_show(d, s, s->recalls.list.items[i].recall.id);
}

static void
ask_recall(struct desk *d, struct trace *s)
{
	if (s->recalls.list.count == 0)
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_RC_NO_RECALL));
	else
		desk_ask_pick(d, tr(SAY_RC_WHICH),
		    &s->form.fields[TRACE_F_RECALL].choices, pick_recall, s);
}

/* Enter in an empty field lists what may stand in it. */
static bool
ask_list(struct desk *d, struct trace *s)
{
	if (s->form.fields[s->form.at].text[0] != '\0')
		return false;
	if (s->form.at == TRACE_F_SERVICE)
		ask_service(d, s);
	else if (s->form.at == TRACE_F_RECALL)
		ask_recall(d, s);
	else if (s->form.at == TRACE_F_DISH && s->choices.dish_count > 0)
		desk_ask_pick(d, tr(SAY_TR_WHICH_DISH),
		    &s->form.fields[TRACE_F_DISH].choices, pick_dish, s);
	else
		return false;
	return true;
}

bool
trace_ask_key(struct desk *d, struct trace *s, const struct key *k)
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

void
trace_ask_init(struct desk *d, struct trace *s)
{
	form_init(&s->form, rows, TRACE_F_COUNT, desk_today(d));
}
