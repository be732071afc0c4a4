/* screen_menu.c - Menu and covers: dishes, their cuts and shares, bookings. */
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "menu_view.h"
#include "ops/bring_in.h"
#include "says_desk.h"
#include "says_menu.h"

#define DETAIL_ROWS 9 /* below the list: what the chosen dish is */
#define CODE_W 18

enum act {
	ACT_CHANGE = 1,
	ACT_NEW,
	ACT_OFF,
	ACT_BACK,
	ACT_COVERS,
	ACT_MENU,
	ACT_GONE,
	ACT_FORECAST,
	ACT_LATER,
	ACT_EARLIER,
	ACT_IMPORT,
	ACT_RECORD,
	ACT_NEXT_CUT,
	ACT_LAST_CUT,
};

#define CH(c)                                                                  \
	{                                                                      \
		KEY_CODE_CHAR, c                                               \
	}

static const struct action actions[] = {
	{ ACT_CHANGE, { KEY_CODE_ENTER, 0 }, SAY_MENU_CHANGE,
	    SAY_MENU_CHANGE_HELP },
	{ ACT_NEW, CH('n'), SAY_MENU_NEW, SAY_MENU_NEW_HELP },
	{ ACT_OFF, CH('o'), SAY_MENU_OFF, SAY_MENU_OFF_HELP },
	{ ACT_BACK, CH('b'), SAY_MENU_BACK, SAY_MENU_BACK_HELP },
	{ ACT_COVERS, CH('c'), SAY_MENU_COVERS, SAY_MENU_COVERS_HELP },
	{ ACT_MENU, CH('m'), SAY_MENU_MENU, SAY_MENU_MENU_HELP },
	{ ACT_GONE, CH('g'), SAY_MENU_GONE, SAY_MENU_GONE_HELP },
	{ ACT_FORECAST, CH('f'), SAY_MENU_FORECAST, SAY_MENU_FORECAST_HELP },
	{ ACT_LATER, CH('l'), SAY_MENU_LATER, SAY_MENU_LATER_HELP },
	{ ACT_EARLIER, CH('e'), SAY_MENU_EARLIER, SAY_MENU_EARLIER_HELP },
	{ ACT_IMPORT, CH('i'), SAY_MENU_IMPORT, SAY_MENU_IMPORT_HELP },
	{ ACT_RECORD, { KEY_CODE_F12, 0 }, SAY_MENU_RECORD,
	    SAY_MENU_RECORD_HELP },
	{ ACT_NEXT_CUT, { KEY_CODE_PAGE_DOWN, 0 }, SAY_MENU_NEXT_CUT,
	    SAY_MENU_NEXT_CUT_HELP },
	{ ACT_LAST_CUT, { KEY_CODE_PAGE_UP, 0 }, SAY_MENU_LAST_CUT,
	    SAY_MENU_LAST_CUT_HELP },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};

const struct menu_dish *
menu_chosen(const struct menu_state *m)
{
	int at = m->dish_list.at;

	return at < 0 || at >= (int)m->dishes.count ? NULL
						    : &m->dishes.items[at];
}

const struct menu_dish *
menu_find(const struct menu_state *m, const char *code)
{
	size_t i;

	for (i = 0; i < m->dishes.count; i++)
		if (str_eq(m->dishes.items[i].dish.code, code))
			return &m->dishes.items[i];
	return NULL;
}

static bool
can(const struct desk *d, const void *state, int action)
{
	const struct menu_state *m = state;
	bool list = m->view == VIEW_MENU || m->view == VIEW_GONE;
	bool dish = list && m->dishes.count > 0;

	(void)d;
	switch ((enum act)action) {
	case ACT_CHANGE:
		return dish || (m->view == VIEW_COVERS && m->covers.count > 0);
	case ACT_NEW:
		return m->view == VIEW_MENU;
	case ACT_OFF:
		return dish && m->view == VIEW_MENU;
	case ACT_BACK:
		return dish && m->view == VIEW_GONE;
	case ACT_COVERS:
		return list;
	case ACT_MENU:
		return m->view == VIEW_COVERS || m->view == VIEW_GONE;
	case ACT_GONE:
		return m->view == VIEW_MENU;
	case ACT_FORECAST:
		return m->view == VIEW_COVERS && m->covers.count > 0;
	case ACT_LATER:
		return m->view == VIEW_COVERS;
	case ACT_EARLIER:
		return m->view == VIEW_COVERS && m->from > 0;
	case ACT_IMPORT:
		return m->view == VIEW_MENU || m->view == VIEW_COVERS;
	case ACT_RECORD:
	case ACT_NEXT_CUT:
	case ACT_LAST_CUT:
		return m->view == VIEW_DISH;
	}
	return false;
}

/* --- what is shown ---------------------------------------------------------*/

static void
load(struct desk *d, void *state)
{
	struct menu_state *m = state;
	const struct menu_dish *at = menu_chosen(m);
	struct err err = { 0 };

	if (m->view == VIEW_COVERS) {
		covers_load(d, m);
		return;
	}
	if (m->view == VIEW_DISH)
		return;
	if (m->pick[0] == '\0' && at != NULL) /* it stays chosen */
		str_copy(m->pick, sizeof(m->pick), at->dish.code);
	menu_list_fini(&m->dishes);
	if (menu_list_open(&m->dishes, d->sn, m->view == VIEW_MENU, 0,
		DISHES_SHOWN_MAX, &err) != RC_OK)
		desk_fail(d, &err);
	m->dish_list.count = (int)m->dishes.count;
	list_fit(&m->dish_list);
	if ((at = menu_find(m, m->pick)) != NULL)
		m->dish_list.at = (int)(at - m->dishes.items);
	m->pick[0] = '\0';
}

struct row_arg {
	const struct menu_state *m;
	const struct config *cfg;
};

static void
dish_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct row_arg *a = arg;
	const struct menu_dish *dish = &a->m->dishes.items[i];
	char text[160] = "", percent[32];
	int s, w, x;

	for (s = 0; s < a->cfg->service_count; s++)
		if (dish->share_bp[s] > 0)
			str_fmt(text + strlen(text),
			    sizeof(text) - strlen(text), "  %s %s",
			    a->cfg->services[s].name,
			    percent_print(
				percent, sizeof(percent), dish->share_bp[s]));
	w = row->w > 90 ? 44 : 28;
	x = pane_cut(row, 0, 0, CODE_W, style, dish->dish.code) + 1;
	pane_cut(row, x, 0, row->w - x - w, style, dish->dish.name);
	pane_cut(row, row->w - w, 0, w, style, text);
}

/* The species of one part joined, "HKE|POK". */
static void
put_cut(const struct pane *p, int y, const struct plan_cut *c, size_t n)
{
	char line[300], species[80] = "", text[32];
	size_t i;

	for (i = 0; i < n; i++)
		str_fmt(species + strlen(species),
		    sizeof(species) - strlen(species), "%s%s", i > 0 ? "|" : "",
		    c[i].species);
	str_fmt(line, sizeof(line), tr(SAY_MENU_CUT_LINE), species,
	    cut_word(c->kind),
	    c->skin_on ? tr(SAY_MENU_SKIN_ON) : tr(SAY_MENU_SKIN_OFF),
	    presentation_word(c->bought), (int)c->low_g, (int)c->high_g,
	    (int)c->target_g);
	if (c->house_yield_bp > 0)
		str_fmt(line + strlen(line), sizeof(line) - strlen(line),
		    tr(SAY_MENU_CUT_YIELD),
		    percent_print(text, sizeof(text), c->house_yield_bp));
	if (c->finish_bp != BP_ONE)
		str_fmt(line + strlen(line), sizeof(line) - strlen(line),
		    tr(SAY_MENU_CUT_FINISH),
		    percent_print(text, sizeof(text), c->finish_bp));
	if (c->animals > 0 && c->animals_make == 1)
		str_fmt(line + strlen(line), sizeof(line) - strlen(line),
		    tr(SAY_MENU_CUT_PIECES), c->animals);
	else if (c->animals > 0)
		str_fmt(line + strlen(line), sizeof(line) - strlen(line),
		    tr(SAY_MENU_CUT_SHARED), c->animals_make);
	pane_cut(p, 2, y, p->w - 2, STYLE_PLAIN, line);
}

static void
draw_chosen(const struct menu_state *m, const struct pane *p, int rows)
{
	const struct menu_dish *dish = menu_chosen(m);
	const struct plan_cut *c;
	char price[32], line[300];
	size_t i, n;
	int y = 2;

	if (dish == NULL)
		return;
	pane_cut(p, 0, 0, p->w - 10, STYLE_STRONG, dish->dish.name);
	str_fmt(line, sizeof(line), "%s%s%s", food_state_word(dish->dish.state),
	    dish->dish.allergens[0] != '\0' ? "; " : "", dish->dish.allergens);
	pane_cut(p, 2, 1, p->w - 2, STYLE_PLAIN, line);
	if (dish->dish.price >= 0)
		pane_right(p, p->w, 0, STYLE_PLAIN,
		    price_print(price, sizeof(price), dish->dish.price));
	for (i = 0; i < dish->cuts; i += n) {
		c = &m->dishes.cuts[dish->first + i];
		for (n = 1; i + n < dish->cuts && c[n].part == c->part; n++)
			;
		if (y == rows - 1 && i + n < dish->cuts) {
			pane_fmt(p, 2, y, STYLE_FAINT, tr(SAY_MENU_CUTS_MORE),
			    (int)(dish->cuts - i));
			return;
		}
		put_cut(p, y++, c, n);
	}
}

static void
draw_shares(
    const struct menu_state *m, const struct config *cfg, const struct pane *p)
{
	char sums[300] = "", line[400], percent[32];
	int sum, s, y;
	size_t i;

	for (s = 0; s < cfg->service_count; s++) {
		for (sum = 0, i = 0; i < m->dishes.count; i++)
			sum += m->dishes.items[i].share_bp[s];
		str_fmt(sums + strlen(sums), sizeof(sums) - strlen(sums),
		    "%s %s %s", s > 0 ? "," : "", cfg->services[s].name,
		    percent_print(percent, sizeof(percent), sum));
	}
	str_fmt(line, sizeof(line), tr(SAY_MENU_SHARES), sums);
	y = pane_wrap(p, 0, STYLE_PLAIN, line);
	(void)pane_wrap(&(struct pane){ p->c, p->x, p->y + y, p->w, p->h - y },
	    0, STYLE_FAINT, tr(SAY_MENU_SHARES_MEAN));
}

static void
draw_dishes(const struct desk *d, struct menu_state *m, const struct pane *p)
{
	struct row_arg arg = { m, &d->sn->cfg };
	int n = (int)m->dishes.count, list_h = p->h - DETAIL_ROWS - 2, x;
	bool on = m->view == VIEW_MENU;
	struct pane part;

	x = on
	    ? pane_fmt(p, 0, 0, STYLE_STRONG, trn(SAY_MENU_COUNT, n), n)
	    : pane_fmt(p, 0, 0, STYLE_STRONG, trn(SAY_MENU_GONE_COUNT, n), n);
	if (n == DISHES_SHOWN_MAX)
		pane_fmt(p, x + 2, 0, STYLE_FAINT, tr(SAY_MENU_MORE), n);
	if (n == 0) {
		part = pane_part(p, 0, 2, p->w, p->h - 2);
		(void)pane_wrap(&part, 0, STYLE_PLAIN,
		    on ? tr(SAY_MENU_EMPTY) : tr(SAY_MENU_GONE_EMPTY));
		return;
	}
	part = pane_part(p, 0, 1, p->w, list_h);
	list_draw(&m->dish_list, &part, dish_row, &arg);
	pane_rule(p, list_h + 1);
	part = pane_part(p, 0, list_h + 2, p->w, DETAIL_ROWS - 4);
	draw_chosen(m, &part, DETAIL_ROWS - 4);
	part = pane_part(p, 0, p->h - 4, p->w, 4);
	if (on)
		draw_shares(m, &d->sn->cfg, &part);
}

static void
draw(struct desk *d, void *state, const struct pane *p)
{
	struct menu_state *m = state;

	if (m->view == VIEW_DISH)
		dish_draw(m, p);
	else if (m->view == VIEW_COVERS)
		covers_draw(d, m, p);
	else
		draw_dishes(d, m, p);
}

/* --- keys ------------------------------------------------------------------*/

static void
show(struct desk *d, struct menu_state *m, enum menu_view view)
{
	m->view = view;
	if (view != VIEW_DISH && view != VIEW_COVERS)
		m->list_view = view;
	load(d, m);
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct menu_state *m = state;

	if (m->view == VIEW_DISH) {
		if (dish_key(d, m, k))
			return true;
		if (k->code != KEY_CODE_ESC)
			return false;
		if (m->draft.form.dirty)
			desk_say(d, LEVEL_NOTE, "%s", tr(SAY_MENU_KEPT));
		else
			m->draft.open = false;
		show(d, m, m->list_view);
		return true;
	}
	if (k->code == KEY_CODE_ESC && m->view != VIEW_MENU) {
		show(d, m, VIEW_MENU);
		return true;
	}
	return list_key(
	    m->view == VIEW_COVERS ? &m->covers_rows : &m->dish_list, k);
}

static bool
typing(const void *state, const struct key *k)
{
	const struct menu_state *m = state;

	return m->view == VIEW_DISH && form_typing(&m->draft.form, k);
}

static void
take(struct desk *d, void *arg)
{
	struct menu_state *m = arg;
	bool on = m->view == VIEW_GONE;
	struct err err = { 0 };

	if (menu_take(d->sn, m->about.code, on, d->by, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	desk_say(d, LEVEL_DONE,
	    on ? tr(SAY_MENU_PUT_BACK) : tr(SAY_MENU_TAKEN_OFF), m->about.name);
}

static void
bring_in(struct desk *d, void *arg)
{
	struct menu_state *m = arg;
	struct import_result r = { 0 };
	struct err err = { 0 };
	enum rc rc;

	rc = m->view == VIEW_COVERS
	    ? import_bookings(&r, d->sn, m->path, d->by, &err)
	    : import_menu(&r, d->sn, m->path, d->by, &err);
	if (rc != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	desk_say(d, LEVEL_DONE, tr(SAY_FILE_DONE), m->path, r.added, r.changed,
	    r.same, r.dropped);
	desk_shut(d); /* the sheet that asked for the path */
}

static bool
path_typed(struct desk *d, void *arg, struct form *f)
{
	struct menu_state *m = arg;

	str_copy(m->path, sizeof(m->path), form_value(f, 0));
	desk_record(d, DUTY_ANYONE, bring_in, m);
	return false; /* the sheet stays until the file is in */
}

static void
ask_path(struct desk *d, struct menu_state *m, bool covers)
{
	static const struct field_row row[] = {
		{ SAY_FILE_PATH, FIELD_TEXT, FIELD_MUST, NULL },
	};
	struct form *f;

	f = desk_ask_fields(d, covers ? tr(SAY_COVERS_FILE) : tr(SAY_MENU_FILE),
	    row, 1, path_typed, m);
	if (m->path[0] != '\0')
		form_set(f, 0, m->path);
}

static void
act(struct desk *d, void *state, int action)
{
	struct menu_state *m = state;
	const struct menu_dish *dish = menu_chosen(m);
	bool covers = m->view == VIEW_COVERS;

	d->notice[0] = '\0';
	memset(&m->about, 0, sizeof(m->about));
	if (dish != NULL && action != ACT_NEW)
		m->about = dish->dish;
	m->dish_list.number = m->covers_rows.number = 0;
	switch ((enum act)action) {
	case ACT_CHANGE:
	case ACT_NEW:
		if (covers)
			covers_edit(d, m);
		else
			dish_open(d, m);
		break;
	case ACT_OFF:
	case ACT_BACK:
		desk_record(d, DUTY_ANYONE, take, m);
		break;
	case ACT_COVERS:
		show(d, m, VIEW_COVERS);
		break;
	case ACT_MENU:
		show(d, m, VIEW_MENU);
		break;
	case ACT_GONE:
		show(d, m, VIEW_GONE);
		break;
	case ACT_FORECAST:
		covers_forecast(d, m);
		break;
	case ACT_LATER:
	case ACT_EARLIER:
		m->from += action == ACT_LATER ? COVERS_DAYS : -COVERS_DAYS;
		covers_load(d, m);
		break;
	case ACT_IMPORT:
		ask_path(d, m, covers);
		break;
	case ACT_RECORD:
		dish_record(d, m);
		break;
	case ACT_NEXT_CUT:
	case ACT_LAST_CUT:
		dish_turn(d, m, action == ACT_NEXT_CUT ? 1 : -1);
		break;
	}
}

static void
fini(void *state)
{
	struct menu_state *m = state;

	menu_list_fini(&m->dishes);
	covers_list_fini(&m->covers);
}

const struct screen screen_menu = {
	.title = SAY_MENU,
	.actions = actions,
	.state_size = sizeof(struct menu_state),
	.fini = fini,
	.load = load,
	.draw = draw,
	.key = key,
	.act = act,
	.typing = typing,
	.can = can,
};
