/* screen_on_hand.c - what is on hand, first to expire first, and what is done
 * with it. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "on_hand.h"
#include "says_on_hand.h"

enum on_hand_action {
	ACT_USE = 1,
	ACT_DISCARD,
	ACT_FREEZE,
	ACT_THAW,
	ACT_COUNT,
	ACT_HOLD,
	ACT_RELEASE,
	ACT_LABEL,
	ACT_MOVE,
	ACT_TRACE,
	ACT_EMPTY,
	ACT_MARK,
	ACT_TOGETHER,
	ACT_STATE,
	ACT_SPECIES,
	ACT_DISH,
	ACT_KIND,
	ACT_ALL,
};

#define CH(c)                                                                  \
	{                                                                      \
		KEY_CODE_CHAR, c                                               \
	}
static const struct action actions[] = {
	{ ACT_TOGETHER, CH('g'), SAY_HAND_TOGETHER, SAY_HAND_TOGETHER_HELP },
	{ ACT_EMPTY, CH('e'), SAY_HAND_EMPTY_KEY, SAY_HAND_EMPTY_HELP },
	{ ACT_USE, CH('u'), SAY_HAND_USE, SAY_HAND_USE_HELP },
	{ ACT_RELEASE, CH('r'), SAY_HAND_RELEASE, SAY_HAND_RELEASE_HELP },
	{ ACT_FREEZE, CH('f'), SAY_HAND_FREEZE, SAY_HAND_FREEZE_HELP },
	{ ACT_THAW, CH('h'), SAY_HAND_THAW, SAY_HAND_THAW_HELP },
	{ ACT_DISCARD, CH('d'), SAY_HAND_DISCARD, SAY_HAND_DISCARD_HELP },
	{ ACT_COUNT, CH('c'), SAY_HAND_COUNT, SAY_HAND_COUNT_HELP },
	{ ACT_HOLD, CH('o'), SAY_HAND_HOLD, SAY_HAND_HOLD_HELP },
	{ ACT_LABEL, CH('l'), SAY_HAND_LABEL, SAY_HAND_LABEL_HELP },
	{ ACT_TRACE, CH('t'), SAY_HAND_TRACE, SAY_HAND_TRACE_HELP },
	{ ACT_STATE, CH('s'), SAY_HAND_STATE, SAY_HAND_STATE_HELP },
	{ ACT_SPECIES, CH('y'), SAY_HAND_SPECIES, SAY_HAND_SPECIES_HELP },
	{ ACT_DISH, CH('i'), SAY_HAND_DISH, SAY_HAND_DISH_HELP },
	{ ACT_KIND, CH('b'), SAY_HAND_KIND, SAY_HAND_KIND_HELP },
	{ ACT_ALL, CH('x'), SAY_HAND_ALL, SAY_HAND_ALL_HELP },
	{ ACT_MOVE, CH('m'), SAY_HAND_MOVE, SAY_HAND_MOVE_HELP },
	{ ACT_MARK, CH(' '), SAY_HAND_MARK, SAY_HAND_MARK_HELP },
	{ 0, { KEY_CODE_NONE, 0 }, NULL, NULL },
};
#undef CH

/* --- the list -------------------------------------------------------------*/

const struct on_hand_row *
on_hand_row(const struct on_hand *s, int i)
{
	size_t at = (size_t)i;

	if (i < 0 || at < s->page.offset ||
	    at >= s->page.offset + s->page.count)
		return NULL;
	return &s->page.rows[at - s->page.offset];
}

bool
on_hand_marked(const struct on_hand *s, const char *code)
{
	size_t i;

	for (i = 0; i < s->mark_count; i++)
		if (str_eq(s->marks[i], code))
			return true;
	return false;
}

/* Load the window at `offset`; with `code` around that one, which is chosen.
 * What is shown stays when it cannot be read. */
static bool
fetch(struct desk *d, struct on_hand *s, size_t offset, const char *code)
{
	struct on_hand_wish w = { .filter = s->filter,
		.offset = offset,
		.limit = ON_HAND_WINDOW,
		.code = code };
	struct on_hand_page page;
	struct err err = { 0 };

	if (on_hand_load(&page, d->sn, &w, &err) != RC_OK) {
		desk_fail(d, &err);
		return false;
	}
	on_hand_fini(&s->page);
	s->page = page;
	s->list.count = (int)page.sum.rows;
	if (page.found >= 0)
		s->list.at = (int)page.found;
	list_fit(&s->list);
	return page.found >= 0;
}

/* The chosen row is in the window, and known by its code from now on. */
static void
settle(struct desk *d, struct on_hand *s)
{
	const struct on_hand_row *r;

	on_hand_see(d, s, s->list.at, s->list.at + 1);
	r = on_hand_row(s, s->list.at);
	str_copy(s->at, sizeof(s->at), r == NULL ? "" : r->code);
}

void
on_hand_see(struct desk *d, struct on_hand *s, int from, int to)
{
	int before = (ON_HAND_WINDOW - (to - from)) / 2;

	if (s->list.count == 0 ||
	    (on_hand_row(s, from) != NULL && on_hand_row(s, to - 1) != NULL))
		return;
	(void)fetch(d, s, from < before ? 0 : (size_t)(from - before), NULL);
}

static void
load(struct desk *d, void *state)
{
	struct on_hand *s = state;

	(void)fetch(d, s, s->page.offset, s->at[0] == '\0' ? NULL : s->at);
	settle(d, s);
}

/* Another filter: the chosen one stays if it is among what is left. */
static void
filtered(struct desk *d, struct on_hand *s)
{
	s->mark_count = 0;
	if (!fetch(d, s, 0, s->at[0] == '\0' ? NULL : s->at))
		s->list.at = 0;
	settle(d, s);
}

static void
fini(void *state)
{
	struct on_hand *s = state;

	on_hand_fini(&s->page);
	free(s->choices);
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct on_hand *s = state;

	if (!list_key(&s->list, k))
		return false;
	settle(d, s);
	return true;
}

/* A scan chooses its row, and changes nothing. */
static bool
scan(struct desk *d, void *state, const struct desk_scan *sc)
{
	struct on_hand *s = state;
	struct on_hand_wish w = { .limit = 1, .code = sc->code };
	struct on_hand_page page;
	struct err err = { 0 };
	char shown[CODE_SIZE];

	if (sc->kind != SCAN_PORTION && sc->kind != SCAN_BATCH)
		return false;
	if (fetch(d, s, s->page.offset, sc->code)) {
		settle(d, s);
		d->notice[0] = '\0';
		return true;
	}
	if (on_hand_load(&page, d->sn, &w, &err) != RC_OK) {
		desk_fail(d, &err);
		return true;
	}
	code_show(shown, sc->code);
	if (page.found >= 0)
		desk_say(d, LEVEL_NOTE, tr(SAY_BAR_NOT_SHOWN), shown);
	else
		desk_say(d, LEVEL_WARN, tr(SAY_BAR_GONE), shown);
	on_hand_fini(&page);
	load(d, s); /* the chosen one stays chosen */
	return true;
}

/* --- marks ----------------------------------------------------------------*/

static void
unmark(struct on_hand *s, const char *code)
{
	size_t i;

	for (i = 0; i < s->mark_count; i++)
		if (str_eq(s->marks[i], code))
			break;
	if (i == s->mark_count)
		return;
	s->mark_count--;
	memmove(s->marks[i], s->marks[i + 1],
	    (s->mark_count - i) * sizeof(s->marks[0]));
}

static void
mark(struct desk *d, struct on_hand *s, const struct on_hand_row *r)
{
	if (on_hand_marked(s, r->code))
		unmark(s, r->code);
	else if (s->mark_count == FREEZE_UNITS_MAX)
		desk_say(
		    d, LEVEL_NOTE, tr(SAY_HAND_MARKS_FULL), FREEZE_UNITS_MAX);
	else
		str_copy(s->marks[s->mark_count++], CODE_SIZE, r->code);
	if (s->list.at < s->list.count - 1)
		s->list.at++;
	settle(d, s);
}

/* --- filters --------------------------------------------------------------*/

static const char *
word(const void *arg, size_t i)
{
	const struct on_hand *s = arg;

	return s->choices[i].text;
}

static void
put_choice(struct on_hand_choice *c, const char *name, size_t rows)
{
	str_fmt(c->text, sizeof(c->text), tr(SAY_HAND_CHOICE), name, (int)rows);
}

static void
pick_state(struct desk *d, void *arg, size_t i)
{
	struct on_hand *s = arg;

	s->filter.state = (enum on_hand_state)i;
	filtered(d, s);
}

static void
pick_species(struct desk *d, void *arg, size_t i)
{
	struct on_hand *s = arg;
	const struct on_hand_choice *c = &s->choices[i];

	str_copy(s->filter.species, sizeof(s->filter.species), c->code);
	str_copy(s->species, sizeof(s->species), c->name);
	filtered(d, s);
}

static void
pick_dish(struct desk *d, void *arg, size_t i)
{
	struct on_hand *s = arg;
	const struct on_hand_choice *c = &s->choices[i];

	str_copy(s->filter.dish, sizeof(s->filter.dish), c->code);
	str_copy(s->dish, sizeof(s->dish), c->name);
	filtered(d, s);
}

static void
ask_state(struct desk *d, struct on_hand *s)
{
	struct choices c = { ON_HAND_STATE_COUNT, word, NULL, s };
	size_t i;

	free(s->choices);
	s->choices = xcalloc(c.count, sizeof(*s->choices));
	for (i = 0; i < c.count; i++)
		put_choice(&s->choices[i],
		    on_hand_state_word((enum on_hand_state)i),
		    s->page.states[i].rows);
	desk_ask_pick(d, tr(SAY_HAND_STATE_HELP), &c, pick_state, s);
}

/* The first is "any": without a code. */
static void
ask_group(struct desk *d, struct on_hand *s, bool dishes)
{
	const struct on_hand_group *groups =
	    dishes ? s->page.dishes : s->page.species;
	size_t n = dishes ? s->page.dish_count : s->page.species_count, i;
	struct choices c = { n + 1, word, NULL, s };
	struct on_hand_choice *to;

	free(s->choices);
	s->choices = xcalloc(c.count, sizeof(*s->choices));
	str_copy(s->choices[0].text, sizeof(s->choices[0].text),
	    tr(dishes ? SAY_HAND_ANY_DISH : SAY_HAND_ANY_SPECIES));
	for (i = 0; i < n; i++) {
		to = &s->choices[i + 1];
		put_choice(to, groups[i].name, groups[i].sum.rows);
		str_copy(to->code, sizeof(to->code), groups[i].code);
		str_copy(to->name, sizeof(to->name), groups[i].name);
	}
	desk_ask_pick(d,
	    tr(dishes ? SAY_HAND_DISH_HELP : SAY_HAND_SPECIES_HELP), &c,
	    dishes ? pick_dish : pick_species, s);
}

/* --- what is done ---------------------------------------------------------*/

/* Afterwards nothing is marked, but what was frozen or thawed still wants its
 * labels. */
static void
done(struct desk *d, struct deed *g)
{
	struct on_hand *s = g->owner;

	(void)d;
	if (g->kind == DEED_DISCARD)
		s->mark_count = 0;
}

/* Find each marked one again, wherever in the list it stands.  False: one is
 * gone, and is no longer marked. */
static bool
take_marked(struct desk *d, struct on_hand *s)
{
	struct on_hand_wish w = { .limit = 1 };
	struct on_hand_page page;
	struct err err = { 0 };
	char shown[CODE_SIZE];
	bool found;

	for (s->deed.count = 0; s->deed.count < s->mark_count;
	     s->deed.count++) {
		w.code = s->marks[s->deed.count];
		if (on_hand_load(&page, d->sn, &w, &err) != RC_OK) {
			desk_fail(d, &err);
			return false;
		}
		found = page.found >= 0;
		if (found)
			deed_take(&s->deed.units[s->deed.count], &page.rows[0]);
		on_hand_fini(&page);
		if (found)
			continue;
		desk_say(
		    d, LEVEL_WARN, tr(SAY_BAR_GONE), code_show(shown, w.code));
		unmark(s, w.code);
		return false;
	}
	return true;
}

static void
ask_deed(struct desk *d, struct on_hand *s, enum deed_kind kind)
{
	const struct on_hand_row *r = on_hand_row(s, s->list.at);
	bool several =
	    kind == DEED_FREEZE || kind == DEED_THAW || kind == DEED_DISCARD;
	size_t i;

	s->deed.kind = kind;
	s->deed.run = false;
	s->deed.done = done;
	s->deed.owner = s;
	if (several && s->mark_count > 0) {
		if (!take_marked(d, s))
			return;
	} else {
		s->deed.count = 1;
		deed_take(&s->deed.units[0], r);
	}
	for (i = 0; kind != DEED_DISCARD && several && i < s->deed.count; i++)
		if (s->deed.units[i].kind == CODE_BATCH) {
			desk_say(d, LEVEL_NOTE, "%s", tr(SAY_BAR_UNITS));
			return;
		}
	deed_ask(d, &s->deed);
}

static void
ask_release(struct desk *d, struct on_hand *s, const struct on_hand_row *r)
{
	char batch[CODE_SIZE];

	if (r->own_hold)
		ask_deed(d, s, DEED_RELEASE);
	else
		desk_say(d, LEVEL_NOTE,
		    tr(r->prep_hold ? SAY_BAR_PREP_HOLD : SAY_BAR_BATCH_HOLD),
		    code_show(batch, r->batch));
}

static void
print_labels(struct desk *d, struct on_hand *s, const struct on_hand_row *r)
{
	s->labels.count = s->mark_count;
	memcpy(s->labels.codes, s->marks, sizeof(s->marks));
	if (s->mark_count == 0) {
		s->labels.count = 1;
		str_copy(s->labels.codes[0], CODE_SIZE, r->code);
	}
	hand_label(d, &s->labels);
}

/* --- moved ----------------------------------------------------------------*/

static const char *
place_word(const void *arg, size_t i)
{
	const struct on_hand *s = arg;

	return s->places[i];
}

static void
move_go(struct desk *d, void *arg)
{
	struct on_hand *s = arg;
	const char *codes[FREEZE_UNITS_MAX];
	struct move_in in = { .codes = codes,
		.count = s->move_count,
		.place = s->place,
		.by = d->by };
	struct err err = { 0 };
	size_t i;

	for (i = 0; i < s->move_count; i++)
		codes[i] = s->move_codes[i];
	if (move(NULL, d->sn, &in, &err) != RC_OK) {
		desk_fail(d, &err);
		return;
	}
	desk_say(d, LEVEL_DONE, trn(SAY_HAND_MOVED, (long)s->move_count),
	    (long)s->move_count, s->place);
	s->mark_count = 0;
}

static void
pick_place(struct desk *d, void *arg, size_t i)
{
	struct on_hand *s = arg;

	str_copy(s->place, sizeof(s->place), s->places[i]);
	desk_record(d, DUTY_ANYONE, move_go, s);
}

static void
ask_place(struct desk *d, struct on_hand *s, const struct on_hand_row *r)
{
	struct choices c = { .word = place_word, .arg = s };

	s->move_count = s->mark_count;
	memcpy(s->move_codes, s->marks, sizeof(s->marks));
	if (s->mark_count == 0) {
		s->move_count = 1;
		str_copy(s->move_codes[0], CODE_SIZE, r->code);
	}
	c.count = place_words(s->places, &d->sn->cfg);
	desk_ask_pick(d, tr(SAY_HAND_MOVE_WHERE), &c, pick_place, s);
}

static void
act_on(
    struct desk *d, struct on_hand *s, const struct on_hand_row *r, int action)
{
	static const enum deed_kind deeds[] = {
		[ACT_DISCARD] = DEED_DISCARD,
		[ACT_FREEZE] = DEED_FREEZE,
		[ACT_THAW] = DEED_THAW,
		[ACT_COUNT] = DEED_COUNT,
		[ACT_HOLD] = DEED_HOLD,
	};

	if (action == ACT_USE) {
		s->deed.done = done;
		s->deed.owner = s;
		deed_use(d, &s->deed, r->code, "");
	} else if (action == ACT_RELEASE) {
		ask_release(d, s, r);
	} else if (action == ACT_LABEL) {
		print_labels(d, s, r);
	} else if (action == ACT_MOVE) {
		ask_place(d, s, r);
	} else if (action == ACT_TRACE) {
		desk_pass_code(d, SCREEN_TRACE, r->kind, r->code);
	} else if (action == ACT_TOGETHER) {
		on_hand_together(d, s);
	} else if (action == ACT_MARK) {
		mark(d, s, r);
	} else {
		ask_deed(d, s, deeds[action]);
	}
}

static void
act(struct desk *d, void *state, int action)
{
	struct on_hand *s = state;
	const struct on_hand_row *r = on_hand_row(s, s->list.at);

	if (action == ACT_EMPTY) {
		s->deed.done = done;
		s->deed.owner = s;
		deed_run(d, &s->deed);
	} else if (action == ACT_KIND) {
		s->filter.what = (enum on_hand_what)(
		    (s->filter.what + 1) % ON_HAND_WHAT_COUNT);
		filtered(d, s);
	} else if (action == ACT_ALL) {
		memset(&s->filter, 0, sizeof(s->filter));
		filtered(d, s);
	} else if (action == ACT_STATE) {
		ask_state(d, s);
	} else if (action == ACT_SPECIES || action == ACT_DISH) {
		ask_group(d, s, action == ACT_DISH);
	} else if (r == NULL) {
		desk_say(d, LEVEL_NOTE, "%s", tr(SAY_BAR_CHOOSE));
	} else {
		act_on(d, s, r, action);
	}
}

/* What the chosen one, or the marked ones, are good for. */
static bool
can_one(const struct on_hand *s, const struct on_hand_row *r, int action)
{
	bool unit = r->kind == CODE_PORTION;

	switch (action) {
	case ACT_USE:
		return unit && !r->held && !r->expired &&
		    r->keep != KEEP_FROZEN;
	case ACT_FREEZE:
		return s->mark_count > 0 ||
		    (unit && !r->held && !r->expired &&
			r->keep == KEEP_CHILLED);
	case ACT_THAW:
		return s->mark_count > 0 ||
		    (unit && !r->held && !r->expired && r->keep == KEEP_FROZEN);
	case ACT_COUNT:
		return unit;
	case ACT_HOLD:
		return !r->own_hold;
	case ACT_RELEASE:
		return r->held;
	default:
		return true;
	}
}

static bool
can(const struct desk *d, const void *state, int action)
{
	const struct on_hand *s = state;
	const struct on_hand_row *r = on_hand_row(s, s->list.at);
	bool narrowed = s->filter.what != ON_HAND_BOTH ||
	    s->filter.state != ON_HAND_ANY || s->filter.species[0] != '\0' ||
	    s->filter.dish[0] != '\0';

	(void)d;
	if (action == ACT_TOGETHER)
		return s->mark_count > 1;
	if (action == ACT_EMPTY)
		return s->page.expired_rows > 0;
	if (action == ACT_ALL)
		return narrowed || s->mark_count > 0;
	if (action == ACT_STATE || action == ACT_SPECIES ||
	    action == ACT_DISH || action == ACT_KIND)
		return s->page.all.rows > 0;
	return r != NULL && can_one(s, r, action);
}

const struct screen screen_on_hand = {
	.title = SAY_HAND_TITLE,
	.actions = actions,
	.state_size = sizeof(struct on_hand),
	.fini = fini,
	.load = load,
	.draw = on_hand_draw,
	.key = key,
	.act = act,
	.scan = scan,
	.can = can,
};
