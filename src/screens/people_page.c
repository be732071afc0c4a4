/* people_page.c - see, add and change people, set PINs. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/secret.h"
#include "base/str.h"
#include "ops/people.h"
#include "says_people.h"
#include "screens/people.h"
#include "term/list.h"

#define PAGE_W 70
#define LABEL_W 16
#define STATE_W 29 /* columns of what they are */
/* Who worked last first; who left long ago is found by pinbone people list. */
#define PAGE_MAX 300

struct page {
	struct person_list people;
	struct list list;
	int initials_w; /* columns of the longest */
	bool unlocked;  /* a chef's PIN was typed for this page */
	bool no_pin;    /* no chef has one */
	struct person chosen;
	int at; /* field to begin with */
};

static void edit_open(struct desk *d, void *arg);

static void
page_load(struct desk *d, struct page *g)
{
	struct err err = { 0 };
	enum pin_need need = PIN_NEEDED;
	size_t i;
	int w;

	person_list_fini(&g->people);
	if (people_list(&g->people, d->sn, true, 0, PAGE_MAX, &err) != RC_OK ||
	    people_duty_needs_pin(&need, d->sn, DUTY_PEOPLE, &err) != RC_OK)
		desk_fail(d, &err);
	g->no_pin = need == PIN_NOBODY_HAS_IT;
	g->list.count = (int)g->people.count;
	list_fit(&g->list);
	for (g->initials_w = 2, i = 0; i < g->people.count; i++) {
		w = text_columns(g->people.items[i].initials);
		g->initials_w = w > g->initials_w ? w : g->initials_w;
	}
}

static void
page_fini(void *state)
{
	struct page *g = state;

	person_list_fini(&g->people);
}

static void
page_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct page *g = arg;
	const struct person *p = &g->people.items[i];
	int wrong = p->wrong > 999 ? 999 : (int)p->wrong;
	int x;

	x = pane_cut(row, 0, 0, g->initials_w, style, p->initials) + 1;
	x = pane_cut(row, x, 0, row->w - x - STATE_W, style, p->name) + 1;
	if (!p->active)
		pane_put(row, x, 0, style, tr(SAY_PEOPLE_LEFT));
	else if (people_wait_s(p) > 0)
		pane_fmt(row, x, 0, style, trn(SAY_PEOPLE_WAITS, wrong), wrong);
	else if (p->chef)
		pane_put(row, x, 0, style,
		    p->has_pin ? tr(SAY_PEOPLE_CHEF)
			       : tr(SAY_PEOPLE_CHEF_NO_PIN));
	else if (p->has_pin)
		pane_put(row, x, 0, style, tr(SAY_PEOPLE_PIN));
}

static void
page_draw(struct desk *d, void *state, const struct pane *p)
{
	struct page *g = state;
	struct pane part;
	int y = 0;

	(void)d;
	if (g->no_pin && g->people.count > 0)
		y = pane_wrap(p, 0, STYLE_WARN, tr(SAY_PEOPLE_UNLOCKED)) + 1;
	part = pane_part(p, 0, y, p->w, p->h - y - 2);
	if (g->people.count == 0)
		(void)pane_wrap(&part, 0, STYLE_PLAIN, tr(SAY_PEOPLE_NONE));
	else
		list_draw(&g->list, &part, page_row, g);
	pane_cut(p, 0, p->h - 1, p->w, STYLE_FAINT, tr(SAY_PEOPLE_KEYS));
}

static void
unlocked(struct desk *d, void *arg)
{
	struct page *g = arg;

	g->unlocked = true;
	edit_open(d, g);
}

static void
named(struct desk *d, void *arg)
{
	people_pin(d, DUTY_PEOPLE, unlocked, arg);
}

/* Not through desk_record(): the page may be open over a record that waits. */
static void
edit(struct desk *d, struct page *g, bool new, int at)
{
	memset(&g->chosen, 0, sizeof(g->chosen));
	if (!new) {
		if (g->list.at < 0 || g->list.at >= (int)g->people.count)
			return;
		g->chosen = g->people.items[g->list.at];
	}
	g->at = at;
	if (d->by[0] == '\0')
		people_choose(d, named, g);
	else if (g->unlocked)
		edit_open(d, g);
	else
		named(d, g);
}

/* --- one person ------------------------------------------------------------*/

enum { E_INITIALS, E_NAME, E_CHEF, E_HERE, E_PIN, E_AGAIN, E_COUNT };

struct edit {
	struct page *page; /* the sheet below */
	struct form form;
};

static const struct field_row edit_rows[E_COUNT] = {
	{ SAY_WHO_INITIALS, FIELD_TEXT, FIELD_MUST, NULL },
	{ SAY_WHO_NAME, FIELD_TEXT, FIELD_MUST, NULL },
	{ SAY_PERSON_CHEF, FIELD_CHOICE, FIELD_MUST, SAY_PERSON_CHEF_HINT },
	{ SAY_PERSON_HERE, FIELD_CHOICE, FIELD_MUST, SAY_PERSON_HERE_HINT },
	{ SAY_PERSON_PIN, FIELD_TEXT, FIELD_HIDE, SAY_PERSON_PIN_HINT },
	{ SAY_PERSON_AGAIN, FIELD_TEXT, FIELD_HIDE, NULL },
};

static const char *
yes_no_word(const void *arg, size_t i)
{
	(void)arg;
	return i == 0 ? "yes" : "no";
}

static const char *
yes_no_says(const void *arg, size_t i)
{
	(void)arg;
	return i == 0 ? tr(SAY_YES) : tr(SAY_NO);
}

static void
edit_fini(void *state)
{
	secret_wipe(state, sizeof(struct edit));
}

static void
edit_draw(struct desk *d, void *state, const struct pane *p)
{
	struct edit *e = state;

	(void)d;
	form_draw(&e->form, p, LABEL_W);
}

/* May this PIN be set?  False: the field says why not. */
static bool
pin_fits(struct edit *e)
{
	const char *pin = form_value(&e->form, E_PIN);
	const char *again = form_value(&e->form, E_AGAIN);
	const char *chef = form_value(&e->form, E_CHEF);
	struct err err = { 0 };

	if (pin == NULL && again == NULL) {
		if (!e->page->no_pin || chef == NULL || !str_eq(chef, "yes") ||
		    e->page->chosen.has_pin)
			return true;
		form_wrong(&e->form, E_PIN, tr(SAY_PERSON_FIRST));
		return false;
	}
	if (pin == NULL || again == NULL || !str_eq(pin, again)) {
		form_wrong(&e->form, pin == NULL ? E_PIN : E_AGAIN,
		    tr(SAY_PERSON_DIFFER));
		return false;
	}
	if (people_pin_good(pin, &err) != RC_OK) {
		form_wrong(&e->form, E_PIN, err.text);
		return false;
	}
	return true;
}

static enum rc
save(struct person *p, struct desk *d, struct edit *e, struct err *err)
{
	struct person_in in = {
		.initials = form_value(&e->form, E_INITIALS),
		.name = form_value(&e->form, E_NAME),
		.chef = form_value(&e->form, E_CHEF),
		.active = form_value(&e->form, E_HERE),
		.by = d->by,
	};
	const char *pin = form_value(&e->form, E_PIN);
	struct page *g = e->page;
	enum rc rc;

	if (g->chosen.id != 0)
		in.initials = g->chosen.initials;
	rc = g->chosen.id != 0 ? people_change(p, d->sn, &in, err)
			       : people_add(p, d->sn, &in, err);
	if (rc != RC_OK)
		return rc;
	/* What was saved stays saved if the PIN cannot be. */
	g->chosen = *p;
	e->form.fields[E_INITIALS].off = true;
	if (pin == NULL)
		return RC_OK;
	return people_pin_set(d->sn, p->initials, pin, d->by, err);
}

static void
edit_save(struct desk *d, struct edit *e)
{
	struct page *g = e->page;
	struct err err = { 0 };
	struct person p;
	size_t i;
	enum rc rc;

	if (form_check(&e->form, &err) != RC_OK) {
		desk_say(d, LEVEL_NOTE, "%s", err.text);
		return;
	}
	if (!pin_fits(e))
		return;
	rc = save(&p, d, e, &err);
	page_load(d, g);
	if (rc != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	for (i = 0; i < g->people.count; i++)
		if (g->people.items[i].id == p.id)
			g->list.at = (int)i;
	desk_say(d, LEVEL_DONE, tr(SAY_PERSON_SAVED), p.initials, p.name);
	desk_shut(d);
}

static bool
edit_key(struct desk *d, void *state, const struct key *k)
{
	struct edit *e = state;
	enum form_said said = form_key(&e->form, k);

	if (said == FORM_END || k->code == KEY_CODE_F12)
		edit_save(d, e);
	else if (said == FORM_NOT_MINE)
		return false;
	return true;
}

static bool
edit_typing(const void *state, const struct key *k)
{
	const struct edit *e = state;

	return form_typing(&e->form, k);
}

static void
edit_open(struct desk *d, void *arg)
{
	static const struct sheet sheets[] = {
		{ .title = SAY_PERSON_NEW,
		    .draw = edit_draw,
		    .key = edit_key,
		    .typing = edit_typing,
		    .fini = edit_fini,
		    .want_w = PAGE_W,
		    .want_h = 11 },
		{ .title = SAY_PERSON_EDIT,
		    .draw = edit_draw,
		    .key = edit_key,
		    .typing = edit_typing,
		    .fini = edit_fini,
		    .want_w = PAGE_W,
		    .want_h = 11 },
	};
	static const struct choices yes_no = {
		.count = 2, .word = yes_no_word, .says = yes_no_says
	};
	struct page *g = arg;
	const struct person *p = &g->chosen;
	struct edit *e = xcalloc(1, sizeof(*e));

	e->page = g;
	form_init(&e->form, edit_rows, E_COUNT, desk_today(d));
	e->form.fields[E_CHEF].choices = yes_no;
	e->form.fields[E_HERE].choices = yes_no;
	form_set(&e->form, E_CHEF, p->chef ? "yes" : "no");
	e->form.fields[E_HERE].off = p->id == 0;
	e->form.fields[E_INITIALS].off = p->id != 0;
	if (p->id != 0) {
		form_set(&e->form, E_NAME, p->name);
		form_set(&e->form, E_HERE, p->active ? "yes" : "no");
	}
	e->form.at = g->at;
	desk_open(d, &sheets[p->id != 0], e);
}

/* --- the page --------------------------------------------------------------*/

static bool
page_key(struct desk *d, void *state, const struct key *k)
{
	struct page *g = state;

	if (list_key(&g->list, k))
		return true;
	if (k->code == KEY_CODE_ENTER)
		edit(d, g, false, E_NAME);
	else if (key_is(k, 'a'))
		edit(d, g, true, E_INITIALS);
	else if (key_is(k, 'p'))
		edit(d, g, false, E_PIN);
	else
		return false;
	return true;
}

void
people_page(struct desk *d)
{
	static const struct sheet sheet = {
		.title = SAY_PEOPLE,
		.draw = page_draw,
		.key = page_key,
		.fini = page_fini,
		.want_w = PAGE_W,
		.want_h = 16,
	};
	struct page *g;
	int i;

	/* Asked for from a question of its own: back to it.  A second one would
	 * lie over sheets that wait for the first. */
	for (i = 0; i < d->sheet_count; i++)
		if (d->sheets[i].sheet == &sheet) {
			while (d->sheet_count > i + 1)
				desk_shut(d);
			return;
		}
	g = xcalloc(1, sizeof(*g));
	page_load(d, g);
	desk_open(d, &sheet, g);
}
