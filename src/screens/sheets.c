/* sheets.c - the small questions every screen asks. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "desk_inner.h"
#include "says_desk.h"
#include "term/list.h"
#include "term/pager.h"

#define ASK_W 64
#define ASK_LABEL_W 20

/* Titles are made at the time of asking. */
struct ask {
	struct sheet sheet;
	char title[160];
	char text[600];
	void *arg;
	desk_form_fn *on_form;
	desk_fn *on_yes;
	desk_pick_fn *on_pick;
	struct form form;
	struct choices choices;
	struct list list;
	struct pager pager;
};

static void
ask_fini(void *state)
{
	struct ask *a = state;

	pager_fini(&a->pager);
}

static struct ask *
ask_new(const char *title, void *arg, int w, int h)
{
	struct ask *a = xcalloc(1, sizeof(*a));

	str_fmt(a->title, sizeof(a->title), "%s", title);
	utf8_clean(a->title);
	a->arg = arg;
	a->sheet = (struct sheet){
		.title = a->title,
		.fini = ask_fini,
		.want_w = w,
		.want_h = h,
	};
	return a;
}

/* --- a form ----------------------------------------------------------------*/

static void
form_sheet_draw(struct desk *d, void *state, const struct pane *p)
{
	struct ask *a = state;

	(void)d;
	/* of a single field the title tells what it is */
	form_draw(&a->form, p, a->form.count == 1 ? 0 : ASK_LABEL_W);
}

static bool
form_sheet_typing(const void *state, const struct key *k)
{
	const struct ask *a = state;

	return form_typing(&a->form, k);
}

static void
form_done(struct desk *d, struct ask *a)
{
	struct err err = { 0 };

	if (form_check(&a->form, &err) != RC_OK)
		desk_say(d, LEVEL_NOTE, "%s", err.text);
	else if (a->on_form(d, a->arg, &a->form))
		desk_shut_one(d, a);
}

static bool
form_sheet_key(struct desk *d, void *state, const struct key *k)
{
	struct ask *a = state;
	enum form_said said = form_key(&a->form, k);

	if (said == FORM_END || k->code == (enum key_code)(KEY_CODE_F1 + 11))
		form_done(d, a);
	else if (said == FORM_NOT_MINE)
		return false;
	return true;
}

struct form *
desk_ask_fields(struct desk *d, const char *title, const struct field_row *rows,
    int count, desk_form_fn *go, void *arg)
{
	struct ask *a = ask_new(title, arg, ASK_W, count + 5);
	int i;

	for (i = 0; i < count; i++)
		if (rows[i].kind == FIELD_CHOICE)
			break;
	if (i == count)
		a->sheet.want_h -= 4; /* nothing to list below */
	a->sheet.draw = form_sheet_draw;
	a->sheet.key = form_sheet_key;
	a->sheet.typing = form_sheet_typing;
	a->on_form = go;
	form_init(&a->form, rows, count, desk_today(d));
	desk_open(d, &a->sheet, a);
	return &a->form;
}

/* --- yes -------------------------------------------------------------------*/

static void
yes_draw(struct desk *d, void *state, const struct pane *p)
{
	struct ask *a = state;

	(void)d;
	(void)pane_wrap(p, 0, STYLE_PLAIN, a->text);
}

static bool
yes_key(struct desk *d, void *state, const struct key *k)
{
	struct ask *a = state;
	desk_fn *go = a->on_yes;
	void *arg = a->arg;

	if (k->code != KEY_CODE_ENTER)
		return false;
	desk_shut(d);
	go(d, arg);
	return true;
}

void
desk_ask_yes(
    struct desk *d, const char *title, const char *text, desk_fn *go, void *arg)
{
	struct ask *a = ask_new(title, arg, ASK_W, pane_wrap_rows(ASK_W, text));

	a->sheet.draw = yes_draw;
	a->sheet.key = yes_key;
	str_fmt(a->text, sizeof(a->text), "%s", text);
	utf8_clean(a->text);
	a->on_yes = go;
	desk_open(d, &a->sheet, a);
}

/* --- one of a list ---------------------------------------------------------*/

static void
pick_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct choices *c = arg;

	pane_cut(row, 0, 0, row->w, style,
	    c->says == NULL ? c->word(c->arg, (size_t)i)
			    : c->says(c->arg, (size_t)i));
}

static void
pick_draw(struct desk *d, void *state, const struct pane *p)
{
	struct ask *a = state;

	(void)d;
	if (a->choices.count == 0)
		pane_put(p, 0, 0, STYLE_PLAIN, tr(SAY_PICK_NONE));
	a->list.count = (int)a->choices.count;
	list_draw(&a->list, p, pick_row, &a->choices);
}

static bool
pick_key(struct desk *d, void *state, const struct key *k)
{
	struct ask *a = state;
	desk_pick_fn *go = a->on_pick;
	void *arg = a->arg;
	size_t i = (size_t)a->list.at;

	if (list_key(&a->list, k))
		return true;
	if (k->code != KEY_CODE_ENTER || a->choices.count == 0)
		return false;
	desk_shut(d);
	go(d, arg, i);
	return true;
}

void
desk_ask_pick(struct desk *d, const char *title, const struct choices *choices,
    desk_pick_fn *go, void *arg)
{
	int h = choices->count > 14 ? 14 : (int)choices->count;
	struct ask *a = ask_new(title, arg, ASK_W, h < 1 ? 1 : h);

	a->sheet.draw = pick_draw;
	a->sheet.key = pick_key;
	a->choices = *choices;
	a->list.count = (int)choices->count;
	a->on_pick = go;
	desk_open(d, &a->sheet, a);
}

/* --- a long text -----------------------------------------------------------*/

static void
read_draw(struct desk *d, void *state, const struct pane *p)
{
	struct ask *a = state;

	(void)d;
	pager_draw(&a->pager, p);
}

static bool
read_key(struct desk *d, void *state, const struct key *k)
{
	struct ask *a = state;
	desk_fn *go = a->on_yes;
	void *arg = a->arg;

	if (k->code != KEY_CODE_ENTER)
		return pager_key(&a->pager, k);
	desk_shut(d);
	if (go != NULL)
		go(d, arg);
	return true;
}

void
desk_read(struct desk *d, const char *title, const char *text)
{
	desk_read_on(d, title, text, NULL, NULL);
}

void
desk_read_on(
    struct desk *d, const char *title, const char *text, desk_fn *go, void *arg)
{
	struct ask *a = ask_new(title, arg, CANVAS_MAX, CANVAS_MAX);

	a->on_yes = go;
	a->sheet.draw = read_draw;
	a->sheet.key = read_key;
	pager_set(&a->pager, text);
	desk_open(d, &a->sheet, a);
}
