/* people_sheet.c - who works, and a chef's PIN. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/secret.h"
#include "base/str.h"
#include "ops/people.h"
#include "ops/watch.h"
#include "says_people.h"
#include "screens/people.h"
#include "term/list.h"

#define SHEET_W 60
#define LABEL_W 12
#define CHOICES_MAX 30 /* who worked last; others type their initials */

/* --- who works -------------------------------------------------------------*/

struct choose {
	desk_fn *go;
	void *arg;
	bool stale; /* people may have been changed over this sheet */
	struct person_list people;
	struct list list;
	struct form form;
};

enum { CHOOSE_INITIALS, CHOOSE_NAME };

static const struct field_row choose_rows[] = {
	{ SAY_WHO_INITIALS, FIELD_TEXT, 0, SAY_WHO_HINT },
	{ SAY_WHO_NAME, FIELD_TEXT, 0, NULL },
};

static void
choose_fini(void *state)
{
	struct choose *c = state;

	person_list_fini(&c->people);
}

static void
choose_load(struct desk *d, struct choose *c)
{
	struct err err = { 0 };

	person_list_fini(&c->people);
	if (people_list(&c->people, d->sn, false, 0, CHOICES_MAX, &err) !=
	    RC_OK)
		desk_fail(d, &err);
	c->list.count = (int)c->people.count;
	list_fit(&c->list);
	c->stale = false;
}

static bool
naming(const struct choose *c)
{
	return !c->form.fields[CHOOSE_NAME].off;
}

static void
choose_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct person_list *l = arg;
	int x;

	x = pane_cut(
	    row, 0, 0, PERSON_INITIALS_MAX, style, l->items[i].initials);
	pane_cut(row, x + 1, 0, row->w - x - 1, style, l->items[i].name);
}

static void
choose_draw(struct desk *d, void *state, const struct pane *p)
{
	struct choose *c = state;
	struct pane part = pane_part(p, 0, 0, p->w, p->h - 5);
	char text[200];

	if (c->stale)
		choose_load(d, c);
	if (naming(c)) {
		str_fmt(text, sizeof(text), tr(SAY_WHO_NEW),
		    c->form.fields[CHOOSE_INITIALS].text);
		(void)pane_wrap(&part, 0, STYLE_PLAIN, text);
	} else if (c->people.count == 0) {
		(void)pane_wrap(&part, 0, STYLE_PLAIN, tr(SAY_WHO_NONE));
	} else {
		list_draw(&c->list, &part, choose_row, &c->people);
	}
	part = pane_part(p, 0, p->h - 4, p->w, 2);
	form_draw(&c->form, &part, LABEL_W);
	pane_cut(p, 0, p->h - 1, p->w, STYLE_FAINT, tr(SAY_WHO_KEYS));
}

/* Initials are known: they stand on what is recorded from now on. */
static void
works(struct desk *d, struct choose *c, const char *initials)
{
	desk_fn *go = c->go;
	void *arg = c->arg;

	str_copy(d->by, sizeof(d->by), initials);
	desk_shut(d);
	if (go != NULL)
		go(d, arg);
}

static void
choose_known(struct desk *d, struct choose *c, const struct person *p)
{
	struct err err = { 0 };
	enum rc rc = people_works(d->sn, p->initials, &err);

	/* That the list is in order is not worth waiting for a busy file. */
	if (rc == RC_REFUSED || rc == RC_NOTFOUND || rc == RC_FATAL) {
		desk_fail(d, &err);
		return;
	}
	desk_say(d, LEVEL_DONE, tr(SAY_WHO_WORKS), p->initials);
	works(d, c, p->initials);
}

static void
choose_typed(struct desk *d, struct choose *c, const char *initials)
{
	struct person p;
	struct err err = { 0 };
	enum rc rc = people_get(&p, d->sn, initials, &err);

	if (rc == RC_OK) {
		choose_known(d, c, &p);
	} else if (rc == RC_NOTFOUND) {
		c->form.fields[CHOOSE_NAME].off = false;
		c->form.at = CHOOSE_NAME;
		d->notice[0] = '\0';
	} else {
		desk_fail(d, &err);
	}
}

static void
choose_add(struct desk *d, struct choose *c)
{
	struct person_in in = {
		.initials = form_value(&c->form, CHOOSE_INITIALS),
		.name = form_value(&c->form, CHOOSE_NAME),
		.by = d->by,
	};
	char initials[PERSON_INITIALS_MAX + 1];
	struct err err = { 0 };
	struct person p;

	if (d->by[0] == '\0')
		in.by = in.initials;
	if (people_add(&p, d->sn, &in, &err) == RC_OK) {
		desk_say(d, LEVEL_DONE, tr(SAY_WHO_ADDED), p.initials, p.name);
		works(d, c, p.initials);
		return;
	}
	/* Somebody has to be able to confirm the date. */
	if (err.rc == RC_REFUSED &&
	    watch_check(d->sn, clock_now(&d->sn->clock), NULL) == RC_REFUSED &&
	    str_copy(initials, sizeof(initials), in.initials)) {
		desk_say(d, LEVEL_NOTE, tr(SAY_WHO_UNLISTED), initials);
		works(d, c, initials);
		return;
	}
	desk_fail(d, &err);
}

static void
choose_enter(struct desk *d, struct choose *c)
{
	const char *initials = form_value(&c->form, CHOOSE_INITIALS);
	struct person p;

	if (naming(c)) {
		choose_add(d, c);
	} else if (initials != NULL) {
		choose_typed(d, c, initials);
	} else if (c->list.at >= 0 && c->list.at < (int)c->people.count) {
		p = c->people.items[c->list.at];
		choose_known(d, c, &p);
	} else {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_WHO_NONE));
	}
}

static bool
choose_key(struct desk *d, void *state, const struct key *k)
{
	struct choose *c = state;
	struct field *initials = &c->form.fields[CHOOSE_INITIALS];
	bool digit = k->code == KEY_CODE_CHAR && k->ch >= '0' && k->ch <= '9';

	if (k->code == KEY_CODE_ESC && naming(c)) {
		c->form.fields[CHOOSE_NAME].off = true;
		c->form.at = CHOOSE_INITIALS;
		return true;
	}
	if (k->code == KEY_CODE_TAB && !naming(c)) {
		c->stale = true;
		people_page(d); /* which may end this sheet */
		return true;
	}
	if (!naming(c) && (!digit || initials->text[0] == '\0') &&
	    (digit || k->code != KEY_CODE_CHAR) && k->code != KEY_CODE_HOME &&
	    k->code != KEY_CODE_END && list_key(&c->list, k))
		return true;
	if (k->code != KEY_CODE_ENTER)
		return form_key(&c->form, k) != FORM_NOT_MINE;
	if (form_key(&c->form, k) == FORM_END)
		choose_enter(d, c);
	return true;
}

static bool
choose_typing(const void *state, const struct key *k)
{
	const struct choose *c = state;

	if (k->code == KEY_CODE_CHAR && k->ch >= '0' && k->ch <= '9' &&
	    !naming(c) && c->form.fields[CHOOSE_INITIALS].text[0] == '\0')
		return false;
	return form_typing(&c->form, k);
}

void
people_choose(struct desk *d, desk_fn *go, void *arg)
{
	static const struct sheet sheet = {
		.title = SAY_WHO,
		.draw = choose_draw,
		.key = choose_key,
		.typing = choose_typing,
		.fini = choose_fini,
		.want_w = SHEET_W,
		.want_h = 15,
	};
	struct choose *c = xcalloc(1, sizeof(*c));

	c->go = go;
	c->arg = arg;
	choose_load(d, c);
	form_init(&c->form, choose_rows, 2, desk_today(d));
	c->form.fields[CHOOSE_NAME].off = true;
	desk_open(d, &sheet, c);
}

/* --- a chef's PIN ----------------------------------------------------------*/

struct ask_pin {
	desk_fn *go;
	void *arg;
	enum duty duty;
	struct form form;
};

enum { PIN_WHOSE, PIN_DIGITS };

static const struct field_row pin_rows[] = {
	{ SAY_PIN_CHEF, FIELD_TEXT, 0, NULL },
	{ SAY_PIN_PIN, FIELD_TEXT, FIELD_HIDE, SAY_PIN_HINT },
};

static void
pin_fini(void *state)
{
	secret_wipe(state, sizeof(struct ask_pin));
}

static void
pin_draw(struct desk *d, void *state, const struct pane *p)
{
	static const char *const words[DUTY_COUNT] = {
		[DUTY_ANYONE] = SAY_DUTY_ANYONE,
		[DUTY_RELEASE] = SAY_DUTY_RELEASE,
		[DUTY_CLOCK] = SAY_DUTY_CLOCK,
		[DUTY_CANCEL_UNSURE] = SAY_DUTY_CANCEL,
		[DUTY_DISCARD_BATCH] = SAY_DUTY_DISCARD,
		[DUTY_RESTORE] = SAY_DUTY_RESTORE,
		[DUTY_PRUNE] = SAY_DUTY_PRUNE,
		[DUTY_PEOPLE] = SAY_DUTY_PEOPLE,
	};
	struct ask_pin *a = state;
	struct pane part;
	char text[200];
	int y;

	(void)d;
	str_fmt(text, sizeof(text), tr(SAY_PIN_ASKS), tr(words[a->duty]));
	y = pane_wrap(p, 0, STYLE_PLAIN, text) + 1;
	part = pane_part(p, 0, y, p->w, p->h - y);
	form_draw(&a->form, &part, LABEL_W);
}

static void
pin_forget(struct form *f, int i)
{
	struct field *e = &f->fields[i];

	secret_wipe(e->text, sizeof(e->text));
	secret_wipe(e->before, sizeof(e->before));
	secret_wipe(e->value, sizeof(e->value));
	e->caret = e->before_caret = 0;
	e->wrong[0] = '\0';
}

static void
pin_enter(struct desk *d, struct ask_pin *a)
{
	const char *chef, *pin;
	struct err err = { 0 };
	struct person p;
	desk_fn *go = a->go;
	void *arg = a->arg;

	/* F12 comes before the field was left */
	ignore_rc(form_check(&a->form, NULL));
	chef = form_value(&a->form, PIN_WHOSE);
	pin = form_value(&a->form, PIN_DIGITS);
	if (chef == NULL || pin == NULL) {
		a->form.at = chef == NULL ? PIN_WHOSE : PIN_DIGITS;
		desk_say(d, LEVEL_NOTE, "%s",
		    chef == NULL ? tr(SAY_PIN_WHOSE) : tr(SAY_PIN_EMPTY));
		return;
	}
	if (people_get(&p, d->sn, chef, &err) != RC_OK) {
		a->form.at = PIN_WHOSE;
		desk_fail(d, &err);
		return;
	}
	if (people_allow(d->sn, a->duty, p.initials, pin, d->by, &err) !=
	    RC_OK) {
		pin_forget(&a->form, PIN_DIGITS);
		a->form.at = PIN_DIGITS;
		desk_fail(d, &err);
		return;
	}
	/* Who vouches for the date is who its record names. */
	if (a->duty == DUTY_CLOCK)
		str_copy(d->by, sizeof(d->by), p.initials);
	d->notice[0] = '\0';
	desk_shut(d);
	go(d, arg);
}

static bool
pin_key(struct desk *d, void *state, const struct key *k)
{
	struct ask_pin *a = state;
	enum form_said said = form_key(&a->form, k);

	if (said == FORM_END || k->code == KEY_CODE_F12)
		pin_enter(d, a);
	else if (said == FORM_NOT_MINE)
		return false;
	return true;
}

static bool
pin_typing(const void *state, const struct key *k)
{
	const struct ask_pin *a = state;

	return form_typing(&a->form, k);
}

/* Whose PIN it is likely to be: the chef's who works, else who worked last. */
static void
likely_chef(struct form *f, struct desk *d)
{
	struct person_list l;
	const char *best = NULL;
	size_t i;

	if (people_list(&l, d->sn, false, 0, CHOICES_MAX, NULL) != RC_OK)
		return;
	for (i = 0; i < l.count; i++)
		if (l.items[i].chef && l.items[i].has_pin &&
		    (best == NULL || str_eq_nocase(l.items[i].initials, d->by)))
			best = l.items[i].initials;
	if (best != NULL) {
		form_set(f, PIN_WHOSE, best);
		f->at = PIN_DIGITS;
	}
	person_list_fini(&l);
}

static void
ask_pin(struct desk *d, enum duty duty, desk_fn *go, void *arg)
{
	static const struct sheet sheet = {
		.title = SAY_PIN_TITLE,
		.draw = pin_draw,
		.key = pin_key,
		.typing = pin_typing,
		.fini = pin_fini,
		.want_w = SHEET_W,
		.want_h = 5,
	};
	struct ask_pin *a = xcalloc(1, sizeof(*a));

	a->go = go;
	a->arg = arg;
	a->duty = duty;
	form_init(&a->form, pin_rows, 2, desk_today(d));
	likely_chef(&a->form, d);
	desk_open(d, &sheet, a);
}

void
people_pin(struct desk *d, enum duty duty, desk_fn *go, void *arg)
{
	char said[NOTICE_SIZE];
	struct err err = { 0 };
	enum pin_need need;

	if (people_duty_needs_pin(&need, d->sn, duty, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	if (need == PIN_NEEDED) {
		ask_pin(d, duty, go, arg);
		return;
	}
	go(d, arg);
	/* The page of people says so itself. */
	if (need != PIN_NOBODY_HAS_IT || duty == DUTY_PEOPLE ||
	    d->level == LEVEL_WARN || d->level == LEVEL_REFUSED)
		return;
	str_copy(said, sizeof(said), d->notice);
	desk_say(d, d->level, "%s%s%s", said, said[0] == '\0' ? "" : " ",
	    tr(SAY_PIN_NOBODY));
}
