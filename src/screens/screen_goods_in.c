/* screen_goods_in.c - Goods in: a delivery comes through the door. */
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "goods_in.h"
#include "says_goods_in.h"
#include "says_goods_look.h"

extern const struct screen screen_goods_in;

enum {
	ACT_NEW = 1,
	ACT_TRACE,
	ACT_LABEL_OFF,
	ACT_CLEAR,
	ACT_WEIGH,
	ACT_EACH,
	ACT_RECORD,
	ACT_ON,
	ACT_BACK,
	ACT_READ,
};

static const struct action actions[] = {
	{ ACT_NEW, { KEY_CODE_CHAR, 'n' }, SAY_GI_NEW, SAY_GI_NEW_HELP },
	{ ACT_LABEL_OFF, { KEY_CODE_CHAR, 'x' }, SAY_GI_LABEL_OFF,
	    SAY_GI_LABEL_OFF_HELP },
	{ ACT_CLEAR, { KEY_CODE_CHAR, 'e' }, SAY_GI_CLEAR, SAY_GI_CLEAR_HELP },
	{ ACT_TRACE, { KEY_CODE_CHAR, 't' }, SAY_GI_TRACE, SAY_GI_TRACE_HELP },
	{ ACT_WEIGH, { KEY_CODE_CHAR, 'w' }, SAY_GI_WEIGH, SAY_GI_WEIGH_HELP },
	{ ACT_EACH, { KEY_CODE_CHAR, 'f' }, SAY_GI_EACH, SAY_GI_EACH_HELP },
	{ ACT_RECORD, { KEY_CODE_F12, 0 }, SAY_GI_RECORD, SAY_GI_RECORD_HELP },
	{ ACT_ON, { KEY_CODE_PAGE_DOWN, 0 }, SAY_GI_ON, SAY_GI_ON_HELP },
	{ ACT_BACK, { KEY_CODE_PAGE_UP, 0 }, SAY_GI_BACK, SAY_GI_BACK_HELP },
	{ ACT_READ, { KEY_CODE_TAB, 0 }, SAY_GI_READ, SAY_GI_READ_HELP },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};

static void
init(struct desk *d, void *state)
{
	struct goods *g = state;
	day_no today = desk_today(d);

	g->label.first_freeze = g->label.best_before = DAY_NONE;
	goods_form_init(g, d->sn, today);
	goods_weigh_init(g, today);
	goods_decide_init(g, today);
}

static void
fini(void *state)
{
	struct goods *g = state;

	beside_free(g->scale, 0);
	while (g->scan_count > 0)
		free(g->scans[--g->scan_count]);
	supplier_list_fini(&g->suppliers);
	free(g->supplier_says);
	free(g->species_says);
	batch_list_fini(&g->today);
}

static void
load(struct desk *d, void *state)
{
	struct goods *g = state;
	struct supplier_list known;
	struct batch_list today;
	struct err err = { 0 };

	g->form.today = g->look.today = g->decide.today = desk_today(d);
	if (suppliers_known(&known, d->sn, GOODS_SUPPLIERS_MAX, &err) !=
	    RC_OK) {
		desk_fail(d, &err);
		return;
	}
	goods_form_suppliers(g, &known);
	if (received_on(&today, d->sn, g->form.today, BATCH_NUMBER_MAX, &err) !=
	    RC_OK) {
		desk_fail(d, &err);
		return;
	}
	batch_list_fini(&g->today);
	g->today = today;
	g->list.count = (int)today.count;
	list_fit(&g->list);
}

static void
draw(struct desk *d, void *state, const struct pane *p)
{
	typedef void page_fn(
	    struct desk *, struct goods *, const struct pane *);
	static page_fn *const pages[] = {
		[PAGE_DAY] = goods_draw_day,
		[PAGE_GOODS] = goods_draw_form,
		[PAGE_EACH] = goods_draw_each,
		[PAGE_LOOK] = goods_draw_look,
		[PAGE_DECIDE] = goods_draw_decide,
		[PAGE_DONE] = goods_draw_done,
	};
	struct goods *g = state;

	pages[g->page](d, g, p);
}

/* --- keys ------------------------------------------------------------------*/

static bool
form_page_key(struct desk *d, struct goods *g, const struct key *k)
{
	struct form *f = g->page == PAGE_GOODS ? &g->form : &g->look;
	int at = f->at;
	enum form_said said;

	if (k->code == KEY_CODE_ESC) {
		goods_back(g);
		return true;
	}
	if (k->code == KEY_CODE_F12) {
		goods_on(d, g);
		return true;
	}
	said = f->count == 0 && k->code == KEY_CODE_ENTER ? FORM_END
							  : form_key(f, k);
	if (g->page == PAGE_GOODS && at == GOODS_SPECIES)
		goods_form_choices(g);
	if (said == FORM_END)
		goods_on(d, g);
	return said != FORM_NOT_MINE;
}

static bool
decide_key(struct goods *g, const struct key *k)
{
	bool first = g->decide.at == DECIDE_WHAT;
	enum form_said said;

	if (k->code == KEY_CODE_ESC) {
		goods_back(g);
		return true;
	}
	said = form_key(&g->decide, k);
	goods_decide_follow(g);
	/* Whether a note is asked is known only now. */
	if (first && k->code == KEY_CODE_ENTER &&
	    g->decide.fields[DECIDE_WHAT].value[0] != '\0' &&
	    !g->decide.fields[DECIDE_NOTE].off)
		g->decide.at = DECIDE_NOTE;
	if (g->decide.fields[g->decide.at].off)
		g->decide.at = DECIDE_WHAT;
	return said != FORM_NOT_MINE;
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct goods *g = state;

	switch (g->page) {
	case PAGE_DAY:
		if (k->code == KEY_CODE_ENTER && g->list.count > 0) {
			screen_goods_in.act(d, state, ACT_TRACE);
			return true;
		}
		return list_key(&g->list, k);
	case PAGE_GOODS:
	case PAGE_LOOK:
		return form_page_key(d, g, k);
	case PAGE_EACH:
		return goods_each_key(d, g, k);
	case PAGE_DECIDE:
		return decide_key(g, k);
	case PAGE_DONE:
		if (k->code != KEY_CODE_ENTER && k->code != KEY_CODE_ESC)
			return false;
		g->page = k->code == KEY_CODE_ENTER ? PAGE_GOODS : PAGE_DAY;
		d->notice[0] = '\0';
		return true;
	}
	return false;
}

static bool
typing(const void *state, const struct key *k)
{
	const struct goods *g = state;

	switch (g->page) {
	case PAGE_GOODS:
		return form_typing(&g->form, k);
	case PAGE_EACH:
		return form_typing(&g->next, k);
	case PAGE_LOOK:
		return form_typing(&g->look, k);
	case PAGE_DECIDE:
		return form_typing(&g->decide, k);
	case PAGE_DAY:
	case PAGE_DONE:
		break;
	}
	return false;
}

/* --- actions ---------------------------------------------------------------*/

static bool
can(const struct desk *d, const void *state, int action)
{
	const struct goods *g = state;
	bool weight = g->page == PAGE_GOODS &&
	    (g->form.at == GOODS_COUNT || g->form.at == GOODS_WEIGHT);
	bool step = g->page == PAGE_GOODS || g->page == PAGE_LOOK;

	(void)d;
	switch (action) {
	case ACT_NEW:
		return g->page == PAGE_DAY && g->suppliers.count > 0;
	case ACT_TRACE:
		return g->page == PAGE_DAY && g->list.count > 0;
	case ACT_LABEL_OFF:
		return g->page == PAGE_DAY && g->scan_count > 0;
	case ACT_CLEAR:
		return g->page == PAGE_DAY && g->form.dirty;
	case ACT_WEIGH:
		return weight || g->page == PAGE_EACH;
	case ACT_EACH:
		return weight;
	case ACT_RECORD:
	case ACT_READ:
		return g->page == PAGE_DECIDE;
	case ACT_ON:
		return step;
	case ACT_BACK:
		return step || g->page == PAGE_DECIDE;
	default:
		return false;
	}
}

static void
clear(struct desk *d, void *arg)
{
	struct goods *g = arg;

	goods_form_next(g);
	form_clear(&g->form);
	d->notice[0] = '\0';
}

static void
read_all(struct desk *d, const struct goods *g)
{
	struct buf text;

	buf_init(&text, 32768);
	goods_found(&text, d, g);
	desk_read(d, tr(SAY_GI_FOUND), buf_text(&text));
	buf_fini(&text);
}

static void
act(struct desk *d, void *state, int action)
{
	struct goods *g = state;

	switch (action) {
	case ACT_NEW:
		g->page = PAGE_GOODS;
		d->notice[0] = '\0';
		return;
	case ACT_TRACE:
		desk_pass_code(d, SCREEN_TRACE, CODE_BATCH,
		    g->today.items[g->list.at].code);
		return;
	case ACT_LABEL_OFF:
		goods_label_off(g);
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_GI_LABEL_IS_OFF));
		return;
	case ACT_CLEAR:
		desk_ask_yes(d, tr(SAY_GI_ASK_CLEAR), tr(SAY_GI_ASK_CLEAR_TEXT),
		    clear, g);
		return;
	case ACT_WEIGH:
		goods_weigh(d, g);
		return;
	case ACT_EACH:
		g->page = PAGE_EACH;
		return;
	case ACT_RECORD:
		goods_record(d, g);
		return;
	case ACT_ON:
		goods_on(d, g);
		return;
	case ACT_BACK:
		goods_back(g);
		return;
	case ACT_READ:
		read_all(d, g);
		return;
	default:
		return;
	}
}

static bool
scan(struct desk *d, void *state, const struct desk_scan *s)
{
	if (s->kind != SCAN_SUPPLIER)
		return false;
	goods_scan(d, state, s->text);
	return true;
}

static void
tick(struct desk *d, void *state)
{
	goods_weigh_tick(d, state);
}

const struct screen screen_goods_in = {
	.title = SAY_GI_TITLE,
	.actions = actions,
	.state_size = sizeof(struct goods),
	.init = init,
	.fini = fini,
	.load = load,
	.draw = draw,
	.key = key,
	.act = act,
	.scan = scan,
	.typing = typing,
	.can = can,
	.tick = tick,
};
