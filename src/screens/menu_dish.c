/* menu_dish.c - one dish in a form, with one of its cuts at a time. */
#include <string.h>

#include "base/str.h"
#include "core/useby.h"
#include "menu_view.h"
#include "says_menu.h"

#define LABEL_W 16

/* --- words that can be chosen ----------------------------------------------*/

static const char *
state_word(const void *arg, size_t i)
{
	(void)arg;
	return food_state_word((enum food_state)i);
}

static const char *
kind_word(const void *arg, size_t i)
{
	(void)arg;
	return cut_word((enum cut_kind)i);
}

static const char *
skin_word(const void *arg, size_t i)
{
	(void)arg;
	return i == 0 ? "on" : "off";
}

static const char *
bought_word(const void *arg, size_t i)
{
	(void)arg;
	return presentation_word((enum presentation)i);
}

/* --- the form --------------------------------------------------------------*/

static const struct field_row dish_rows[DISH_SHARES] = {
	[DISH_CODE] = { SAY_MENU_F_CODE, FIELD_TEXT, FIELD_MUST,
	    SAY_MENU_F_CODE_HINT },
	[DISH_NAME] = { SAY_MENU_F_NAME, FIELD_TEXT, FIELD_MUST,
	    SAY_MENU_F_NAME_HINT },
	[DISH_STATE] = { SAY_MENU_F_STATE, FIELD_CHOICE, FIELD_MUST,
	    SAY_MENU_F_STATE_HINT },
	[DISH_ALLERGENS] = { SAY_MENU_F_ALLERGENS, FIELD_TEXT, 0,
	    SAY_MENU_F_ALLERGENS_HINT },
	[DISH_PRICE] = { SAY_MENU_F_PRICE, FIELD_PRICE, 0,
	    SAY_MENU_F_PRICE_HINT },
};

/* By column, from MENU_SPECIES on. */
static const struct field_row cut_rows[CUT_FIELDS] = {
	{ SAY_MENU_F_SPECIES, FIELD_TEXT, 0, SAY_MENU_F_SPECIES_HINT },
	{ SAY_MENU_F_CUT, FIELD_CHOICE, 0, NULL },
	{ SAY_MENU_F_SKIN, FIELD_CHOICE, 0, NULL },
	{ SAY_MENU_F_BOUGHT, FIELD_CHOICE, 0, NULL },
	{ SAY_MENU_F_LOW, FIELD_WEIGHT, 0, SAY_MENU_F_LOW_HINT },
	{ SAY_MENU_F_TARGET, FIELD_WEIGHT, 0, NULL },
	{ SAY_MENU_F_HIGH, FIELD_WEIGHT, 0, NULL },
	{ SAY_MENU_F_YIELD, FIELD_TEXT, 0, SAY_MENU_F_YIELD_HINT },
	{ SAY_MENU_F_FINISH, FIELD_TEXT, 0, SAY_MENU_F_FINISH_HINT },
	{ SAY_MENU_F_PIECES, FIELD_TEXT, 0, SAY_MENU_F_PIECES_HINT },
};

/* The form's field of a cut's column. */
static int
cut_field(const struct dish_draft *t, int column)
{
	return DISH_SHARES + t->services + column - MENU_SPECIES;
}

static void
form_new(struct desk *d, struct dish_draft *t)
{
	const struct config *cfg = &d->sn->cfg;
	int i;

	memset(t, 0, sizeof(*t));
	t->open = true;
	t->services = cfg->service_count;
	memcpy(t->rows, dish_rows, sizeof(dish_rows));
	for (i = 0; i < t->services; i++) {
		str_fmt(t->labels[i], sizeof(t->labels[i]),
		    tr(SAY_MENU_F_SHARE), cfg->services[i].name);
		t->rows[DISH_SHARES + i] = (struct field_row){ t->labels[i],
			FIELD_TEXT, 0, SAY_MENU_F_SHARE_HINT };
	}
	memcpy(&t->rows[DISH_SHARES + t->services], cut_rows, sizeof(cut_rows));
	form_init(&t->form, t->rows, DISH_SHARES + t->services + CUT_FIELDS,
	    desk_today(d));
	/* raw, served-raw, cooked and live: what a dish may be */
	t->form.fields[DISH_STATE].choices =
	    (struct choices){ .count = STATE_LIVE + 1, .word = state_word };
	t->form.fields[cut_field(t, MENU_CUT)].choices =
	    (struct choices){ .count = CUT_COUNT, .word = kind_word };
	t->form.fields[cut_field(t, MENU_SKIN)].choices =
	    (struct choices){ .count = 2, .word = skin_word };
	t->form.fields[cut_field(t, MENU_BOUGHT)].choices =
	    (struct choices){ .count = PRES_COUNT, .word = bought_word };
	t->cuts = 1;
}

/* The cut shown, to the draft and back. */
static void
keep_cut(struct dish_draft *t)
{
	const struct field *e;
	int i;

	for (i = 0; i < CUT_FIELDS; i++) {
		e = &t->form.fields[cut_field(t, MENU_SPECIES) + i];
		str_copy(t->text[t->cut][i], FIELD_SIZE,
		    e->value[0] != '\0' ? e->value : e->text);
	}
}

static void
show_cut(struct dish_draft *t, int cut)
{
	int i;

	t->cut = cut;
	for (i = 0; i < CUT_FIELDS; i++)
		form_set(
		    &t->form, cut_field(t, MENU_SPECIES) + i, t->text[cut][i]);
}

static void
put_percent(char *dst, size_t size, int bp)
{
	char *blank;

	percent_print(dst, size, bp);
	blank = strchr(dst, ' ');
	if (blank != NULL)
		*blank = '\0';
}

/* The cuts of one part are one line here, as in the file. */
static void
take_part(struct dish_draft *t, const struct plan_cut *c, size_t n)
{
	char(*text)[FIELD_SIZE] = t->text[t->cuts];
	const size_t size = FIELD_SIZE;
	size_t i;

#define TEXT(column) text[(column)-MENU_SPECIES]
	for (i = 0; i < n; i++)
		str_fmt(TEXT(MENU_SPECIES) + strlen(TEXT(MENU_SPECIES)),
		    size - strlen(TEXT(MENU_SPECIES)), "%s%s", i > 0 ? "|" : "",
		    c[i].species);
	str_copy(TEXT(MENU_CUT), size, cut_word(c->kind));
	str_copy(TEXT(MENU_SKIN), size, c->skin_on ? "on" : "off");
	str_copy(TEXT(MENU_BOUGHT), size, presentation_word(c->bought));
	str_fmt(TEXT(MENU_LOW), size, "%d", (int)c->low_g);
	str_fmt(TEXT(MENU_TARGET), size, "%d", (int)c->target_g);
	str_fmt(TEXT(MENU_HIGH), size, "%d", (int)c->high_g);
	if (c->house_yield_bp > 0)
		put_percent(TEXT(MENU_YIELD), size, c->house_yield_bp);
	if (c->finish_bp != BP_ONE)
		put_percent(TEXT(MENU_FINISH), size, c->finish_bp);
	if (c->animals > 0 && c->animals_make == 1)
		str_fmt(TEXT(MENU_PIECES), size, "%d", c->animals);
	else if (c->animals > 0)
		str_fmt(TEXT(MENU_PIECES), size, "%d/%d", c->animals,
		    c->animals_make);
#undef TEXT
	t->cuts++;
}

static int
parts_of(const struct menu_list *l, const struct menu_dish *dish)
{
	const struct plan_cut *c = &l->cuts[dish->first];
	size_t i;
	int n = dish->cuts > 0;

	for (i = 1; i < dish->cuts; i++)
		n += c[i].part != c[i - 1].part;
	return n;
}

static void
take_dish(struct dish_draft *t, const struct menu_list *l,
    const struct menu_dish *dish)
{
	const struct plan_cut *c;
	char text[48];
	size_t i, n;
	int s;

	str_copy(t->code, sizeof(t->code), dish->dish.code);
	str_copy(t->name, sizeof(t->name), dish->dish.name);
	form_set(&t->form, DISH_CODE, dish->dish.code);
	t->form.fields[DISH_CODE].off = true;
	form_set(&t->form, DISH_NAME, dish->dish.name);
	form_set(&t->form, DISH_STATE, food_state_word(dish->dish.state));
	form_set(&t->form, DISH_ALLERGENS, dish->dish.allergens);
	if (dish->dish.price >= 0)
		form_set(&t->form, DISH_PRICE,
		    price_print(text, sizeof(text), dish->dish.price));
	for (s = 0; s < t->services; s++) {
		put_percent(text, sizeof(text), dish->share_bp[s]);
		form_set(&t->form, DISH_SHARES + s,
		    dish->share_bp[s] > 0 ? text : "");
	}
	t->cuts = 0;
	for (i = 0; i < dish->cuts && t->cuts < DISH_CUTS_MAX; i += n) {
		c = &l->cuts[dish->first + i];
		for (n = 1; i + n < dish->cuts && c[n].part == c->part; n++)
			;
		take_part(t, c, n);
	}
	t->cuts = t->cuts < 1 ? 1 : t->cuts;
	t->form.at = DISH_NAME;
}

static void
open_now(struct desk *d, void *arg)
{
	struct menu_state *m = arg;
	struct dish_draft *t = &m->draft;
	const struct menu_dish *dish = menu_find(m, m->about.code);

	if (m->about.code[0] != '\0' &&
	    (dish == NULL || parts_of(&m->dishes, dish) > DISH_CUTS_MAX)) {
		desk_say(d, LEVEL_WARN,
		    dish == NULL ? tr(SAY_MENU_WENT) : tr(SAY_MENU_TOO_MANY),
		    m->about.name);
		return;
	}
	form_new(d, t);
	if (dish == NULL)
		t->add = true;
	else
		take_dish(t, &m->dishes, dish);
	show_cut(t, 0);
	t->form.dirty = false;
	m->view = VIEW_DISH;
	d->notice[0] = '\0';
}

void
dish_open(struct desk *d, struct menu_state *m)
{
	struct dish_draft *t = &m->draft;
	char text[300];

	if (t->open && t->form.dirty) {
		/* the same dish again: go on where it was left */
		if (str_eq(t->code, m->about.code)) { /* a new one has none */
			m->view = VIEW_DISH;
			return;
		}
		str_fmt(text, sizeof(text), tr(SAY_MENU_DROP_TEXT),
		    t->add ? tr(SAY_MENU_EDIT_NEW) : t->name);
		desk_ask_yes(d, tr(SAY_MENU_DROP), text, open_now, m);
		return;
	}
	open_now(d, m);
}

void
dish_draw(struct menu_state *m, const struct pane *p)
{
	struct dish_draft *t = &m->draft;
	struct pane part;
	char cut[64];

	if (t->add)
		pane_put(p, 0, 0, STYLE_STRONG, tr(SAY_MENU_EDIT_NEW));
	else
		pane_fmt(p, 0, 0, STYLE_STRONG, tr(SAY_MENU_EDIT_OLD), t->name,
		    t->code);
	str_fmt(cut, sizeof(cut), tr(SAY_MENU_EDIT_CUT), t->cut + 1, t->cuts);
	pane_fill(p, p->w - 16, 0, 16, 1, STYLE_PLAIN);
	pane_right(p, p->w, 0, STYLE_STRONG, cut);
	part = pane_part(p, 0, 1, p->w, p->h - 2);
	form_draw(&t->form, &part, LABEL_W);
	pane_cut(p, 0, p->h - 1, p->w, STYLE_FAINT, tr(SAY_MENU_EDIT_KEYS));
}

bool
dish_key(struct desk *d, struct menu_state *m, const struct key *k)
{
	enum form_said said = form_key(&m->draft.form, k);

	if (said == FORM_END)
		dish_record(d, m);
	return said != FORM_NOT_MINE;
}

static bool
cut_empty(const struct dish_draft *t, int cut)
{
	int i;

	for (i = 0; i < CUT_FIELDS; i++)
		if (t->text[cut][i][0] != '\0')
			return false;
	return true;
}

void
dish_turn(struct desk *d, struct menu_state *m, int step)
{
	struct dish_draft *t = &m->draft;
	int to = t->cut + step;

	keep_cut(t);
	if (to < 0) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_MENU_EARLIER_CUT));
		return;
	}
	if (to >= DISH_CUTS_MAX) {
		desk_say(d, LEVEL_NOTE, tr(SAY_MENU_CUTS_MOST), DISH_CUTS_MAX);
		return;
	}
	if (to >= t->cuts && cut_empty(t, t->cut)) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_MENU_FILL_FIRST));
		return;
	}
	if (to >= t->cuts)
		t->cuts = to + 1;
	while (t->cuts - 1 > to && cut_empty(t, t->cuts - 1))
		t->cuts--;
	show_cut(t, to);
	t->form.at = cut_field(t, MENU_SPECIES);
	d->notice[0] = '\0';
}

/* --- recording -------------------------------------------------------------*/

/* "lunch:18 dinner:16" */
static void
mix_text(char *dst, size_t size, const struct desk *d, struct dish_draft *t)
{
	const char *share;
	int i;

	dst[0] = '\0';
	for (i = 0; i < t->services; i++) {
		share = form_value(&t->form, DISH_SHARES + i);
		if (share != NULL)
			str_fmt(dst + strlen(dst), size - strlen(dst),
			    "%s%s:%s", dst[0] != '\0' ? " " : "",
			    d->sn->cfg.services[i].name, share);
	}
}

/* The field an operation found wrong. */
static void
mark(struct dish_draft *t, const struct dish_wrong *w,
    const int cut_of[DISH_CUTS_MAX], const char *why)
{
	static const int fields[MENU_SPECIES] = {
		[MENU_DISH] = DISH_CODE,
		[MENU_NAME] = DISH_NAME,
		[MENU_STATE] = DISH_STATE,
		[MENU_ALLERGENS] = DISH_ALLERGENS,
		[MENU_PRICE] = DISH_PRICE,
		[MENU_MIX] = DISH_SHARES,
	};

	if (w->column == MENU_COLUMNS)
		return;
	if (w->cut < DISH_CUTS_MAX && cut_of[w->cut] != t->cut)
		show_cut(t, cut_of[w->cut]);
	if (w->column >= MENU_SPECIES)
		form_wrong(&t->form, cut_field(t, (int)w->column), why);
	else if (w->column == MENU_DISH && !t->add)
		/* the same species twice: its code is not asked */
		form_wrong(&t->form, cut_field(t, MENU_SPECIES), why);
	else
		form_wrong(&t->form, fields[w->column], why);
}

static void
record_now(struct desk *d, void *arg)
{
	struct menu_state *m = arg;
	struct dish_draft *t = &m->draft;
	struct dish_in in = { .add = t->add, .by = d->by };
	int cut_of[DISH_CUTS_MAX] = { 0 };
	struct dish_wrong wrong;
	struct err err = { 0 };
	char mix[400];
	int c, i;

	mix_text(mix, sizeof(mix), d, t);
	in.dish[MENU_DISH] = t->add ? form_value(&t->form, DISH_CODE) : t->code;
	in.dish[MENU_NAME] = form_value(&t->form, DISH_NAME);
	in.dish[MENU_STATE] = form_value(&t->form, DISH_STATE);
	in.dish[MENU_ALLERGENS] = form_value(&t->form, DISH_ALLERGENS);
	in.dish[MENU_PRICE] = form_value(&t->form, DISH_PRICE);
	in.dish[MENU_MIX] = mix;
	for (c = 0; c < t->cuts; c++) {
		if (cut_empty(t, c) || t->text[c][0][0] == '\0')
			continue;
		cut_of[in.cut_count] = c;
		for (i = 0; i < CUT_FIELDS; i++)
			in.cuts[in.cut_count][MENU_SPECIES + i] = t->text[c][i];
		in.cut_count++;
	}
	if (menu_put(&wrong, d->sn, &in, &err) != RC_OK) {
		mark(t, &wrong, cut_of, err.text);
		desk_fail(d, &err);
		return;
	}
	desk_say(d, LEVEL_DONE, tr(SAY_MENU_RECORDED), in.dish[MENU_NAME]);
	str_copy(m->pick, sizeof(m->pick), in.dish[MENU_DISH]);
	t->open = t->form.dirty = false;
	m->view = VIEW_MENU;
}

void
dish_record(struct desk *d, struct menu_state *m)
{
	struct err err = { 0 };

	if (form_check(&m->draft.form, &err) != RC_OK) {
		desk_say(d, LEVEL_NOTE, "%s", err.text);
		return;
	}
	keep_cut(&m->draft);
	desk_record(d, DUTY_ANYONE, record_now, m);
}
