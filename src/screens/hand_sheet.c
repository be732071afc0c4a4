/* hand_sheet.c - the question before something is done to stock. */
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "hand_deed.h"
#include "hand_words.h"
#include "says_hand.h"

#define SHEET_W 66
#define LABEL_W 22
#define NAMED_MAX 6 /* of several units */

/* What a field of the form is for. */
enum asks { ASKS_NUMBER, ASKS_FISH, ASKS_WEIGHT, ASKS_TEMP, ASKS_REASON };

#define FIELDS_MAX 3

struct question {
	struct field_row rows[FIELDS_MAX];
	enum asks asks[FIELDS_MAX];
	int count;
};

static const struct question q_use = {
	{ { SAY_DEED_HOW_MANY, FIELD_COUNT, 0, SAY_DEED_ONE_HINT } },
	{ ASKS_NUMBER },
	1,
};
static const struct question q_older = {
	{ { SAY_DEED_WHY_THIS, FIELD_TEXT, FIELD_MUST, NULL },
	    { SAY_DEED_HOW_MANY, FIELD_COUNT, 0, SAY_DEED_ONE_HINT } },
	{ ASKS_REASON, ASKS_NUMBER },
	2,
};
static const struct question q_freeze = {
	{ { SAY_DEED_TEMP, FIELD_DEGREES, FIELD_MUST, SAY_DEED_TEMP_HINT },
	    { SAY_DEED_WHY_MAY, FIELD_TEXT, 0, NULL } },
	{ ASKS_TEMP, ASKS_REASON },
	2,
};
static const struct question q_thaw = {
	{ { SAY_DEED_WHY_MAY, FIELD_TEXT, 0, NULL } },
	{ ASKS_REASON },
	1,
};
static const struct question q_discard = {
	{ { SAY_DEED_HOW_MANY, FIELD_COUNT, 0, SAY_DEED_ALL_HINT },
	    { SAY_DEED_WHY, FIELD_TEXT, FIELD_MUST, NULL } },
	{ ASKS_NUMBER, ASKS_REASON },
	2,
};
static const struct question q_batch = {
	{ { SAY_DEED_FISH, FIELD_COUNT, 0, SAY_DEED_ALL_HINT },
	    { SAY_DEED_WEIGHT, FIELD_WEIGHT, 0, SAY_DEED_ALL_HINT },
	    { SAY_DEED_WHY, FIELD_TEXT, FIELD_MUST, NULL } },
	{ ASKS_FISH, ASKS_WEIGHT, ASKS_REASON },
	3,
};
static const struct question q_count = {
	{ { SAY_DEED_SEEN, FIELD_COUNT, FIELD_MUST, NULL },
	    { SAY_DEED_WHY_DIFFERS, FIELD_TEXT, 0, NULL } },
	{ ASKS_NUMBER, ASKS_REASON },
	2,
};
static const struct question q_why = {
	{ { SAY_DEED_WHY, FIELD_TEXT, FIELD_MUST, NULL } },
	{ ASKS_REASON },
	1,
};

static const struct question *
question_of(const struct deed *g)
{
	static const struct question *const questions[] = {
		[DEED_USE] = &q_use,
		[DEED_FREEZE] = &q_freeze,
		[DEED_THAW] = &q_thaw,
		[DEED_DISCARD] = &q_discard,
		[DEED_COUNT] = &q_count,
		[DEED_HOLD] = &q_why,
		[DEED_RELEASE] = &q_why,
	};

	if (g->kind == DEED_USE && g->look.verdict == USE_OLDER_FIRST)
		return &q_older;
	if (g->kind == DEED_DISCARD && g->count > 1)
		return &q_why;
	if (g->kind == DEED_DISCARD && g->units[0].kind == CODE_BATCH)
		return &q_batch;
	return questions[g->kind];
}

struct deed_sheet {
	struct sheet sheet;
	char title[120];
	struct deed *deed;
	const struct question *q;
	struct form form;
};

/* --- what it says ---------------------------------------------------------*/

static void
title_of(char *dst, size_t size, const struct deed *g)
{
	char code[CODE_SIZE];
	int n = (int)g->count;

	if (g->kind == DEED_FREEZE)
		str_fmt(dst, size, trn(SAY_DEED_FREEZE, n), n);
	else if (g->kind == DEED_THAW)
		str_fmt(dst, size, trn(SAY_DEED_THAW, n), n);
	else if (g->kind == DEED_USE && g->look.verdict == USE_OLDER_FIRST)
		str_copy(dst, size, tr(SAY_OLDER_TITLE));
	else if (g->run)
		str_fmt(dst, size, trn(SAY_DEED_EXPIRED, (long)g->run_left),
		    (int)g->run_left);
	else if (n > 1)
		str_fmt(dst, size, trn(SAY_DEED_DISCARD_N, n), n);
	else
		str_fmt(dst, size,
		    tr(g->kind == DEED_USE            ? SAY_DEED_USE
			    : g->kind == DEED_COUNT   ? SAY_DEED_COUNT
			    : g->kind == DEED_HOLD    ? SAY_DEED_HOLD
			    : g->kind == DEED_RELEASE ? SAY_DEED_RELEASE
						      : SAY_DEED_DISCARD),
		    code_show(code, g->units[0].code));
}

/* One unit: its name, and where the `fields` below leave room its date in large
 * digits and what is left. */
static int
draw_one(const struct deed *g, const struct pane *p, int fields)
{
	const struct deed_unit *u = &g->units[0];
	char code[CODE_SIZE], text[320];
	int x;

	str_fmt(text, sizeof(text), tr(SAY_DEED_ONE_LINE),
	    code_show(code, u->code), u->name);
	pane_cut(p, 0, 0, p->w, STYLE_STRONG, text);
	if (u->held[0] != '\0' && g->kind != DEED_HOLD) {
		str_fmt(text, sizeof(text), tr(SAY_HAND_HELD_WHY), u->held);
		pane_cut(p, 0, 1, p->w, STYLE_BAD, text);
	}
	if (p->h < 2 + BIG_ROWS + 1 + fields)
		return u->held[0] != '\0' ? 2 : 1;
	x = hand_big_date(
	    p, 0, 2, STYLE_STRONG, local_from_utc(u->use_by_utc).day);
	if (u->kind == CODE_PORTION) {
		str_fmt(text, sizeof(text), trn(SAY_DEED_LEFT, (long)u->left),
		    (long long)u->left);
		pane_put(p, x + 3, 3, STYLE_STRONG, text);
	}
	return 2 + BIG_ROWS + 1;
}

static int
draw_several(const struct deed *g, const struct pane *p)
{
	char code[CODE_SIZE], text[160];
	int y, n = (int)g->count;

	for (y = 0; y < n && y < NAMED_MAX; y++) {
		str_fmt(text, sizeof(text), tr(SAY_DEED_ONE_LINE),
		    code_show(code, g->units[y].code), g->units[y].name);
		pane_cut(p, 0, y, p->w, STYLE_STRONG, text);
	}
	if (n > NAMED_MAX)
		pane_fmt(p, 0, y++, STYLE_PLAIN,
		    trn(SAY_DEED_MORE, n - NAMED_MAX), n - NAMED_MAX);
	return y + 1;
}

/* The one to take instead, to be read at arm's length. */
static int
draw_older(const struct deed *g, const struct pane *p)
{
	const struct portion *o = &g->look.older, *u = &g->look.portion;
	char code[CODE_SIZE], this[CODE_SIZE], text[400], was[64], date[64];
	struct pane below;

	str_fmt(
	    text, sizeof(text), tr(SAY_OLDER_TAKE), code_show(code, o->code));
	hand_big(p, 0, 0, STYLE_BAD, text);
	str_fmt(text, sizeof(text), tr(SAY_OLDER_TEXT), code, o->dish_name,
	    hand_date_at(date, sizeof(date), o->use_by_utc),
	    (long long)g->older_row, code_show(this, u->code),
	    hand_date_at(was, sizeof(was), u->use_by_utc));
	below = pane_part(p, 0, BIG_ROWS + 1, p->w, p->h - BIG_ROWS - 1);
	return BIG_ROWS + 1 + pane_wrap(&below, 0, STYLE_PLAIN, text) + 1;
}

static void
sheet_draw(struct desk *d, void *state, const struct pane *p)
{
	struct deed_sheet *s = state;
	const struct deed *g = s->deed;
	struct pane form;
	int y;

	(void)d;
	if (s->q == &q_older)
		y = draw_older(g, p);
	else if (g->count > 1)
		y = draw_several(g, p);
	else
		y = draw_one(g, p, s->q->count);
	form = pane_part(p, 0, y, p->w, s->q->count);
	form_draw(&s->form, &form, LABEL_W);
	y += s->q->count + 1;
	if (g->run || s->q == &q_older)
		pane_cut(p, 0, y, p->w, STYLE_FAINT,
		    tr(g->run ? SAY_DEED_SKIP : SAY_DEED_WHY_THIS_HINT));
}

static int
rows_of(const struct deed_sheet *s)
{
	int n = (int)s->deed->count;
	int about = s->q == &q_older ? BIG_ROWS + 4
	    : n > NAMED_MAX          ? NAMED_MAX + 2
	    : n > 1                  ? n + 1
				     : BIG_ROWS + 3;

	return about + s->q->count + (s->deed->run || s->q == &q_older ? 2 : 0);
}

/* --- what is typed --------------------------------------------------------*/

static const char *
typed(const struct deed_sheet *s, enum asks what)
{
	int i;

	for (i = 0; i < s->q->count; i++)
		if (s->q->asks[i] == what)
			return form_value(&s->form, i);
	return NULL;
}

static void
put(struct deed_sheet *s, enum asks what, const char *text)
{
	int i;

	for (i = 0; i < s->q->count; i++)
		if (s->q->asks[i] == what)
			form_set(&s->form, i, text);
}

static int64_t
number(const char *text)
{
	int64_t n;

	if (text == NULL ||
	    int_parse(&n, "number", text, 0, COUNT_MAX, NULL) != RC_OK)
		return -1;
	return n;
}

static void
text_into(char *dst, size_t size, const char *text)
{
	str_copy(dst, size, text == NULL ? "" : text);
}

static void
submit(struct desk *d, struct deed_sheet *s)
{
	struct deed *g = s->deed;
	struct err err = { 0 };

	if (form_check(&s->form, &err) != RC_OK) {
		desk_say(d, LEVEL_NOTE, "%s", err.text);
		return;
	}
	g->number = number(typed(s, ASKS_NUMBER));
	g->fish = number(typed(s, ASKS_FISH));
	/* Never the whole tray because nobody said how many. */
	if (g->kind == DEED_USE && g->number < 0)
		g->number = 1;
	text_into(g->reason, sizeof(g->reason), typed(s, ASKS_REASON));
	text_into(g->temp, sizeof(g->temp), typed(s, ASKS_TEMP));
	text_into(g->weight, sizeof(g->weight), typed(s, ASKS_WEIGHT));
	if (g->kind == DEED_COUNT && g->number != g->units[0].left &&
	    g->reason[0] == '\0') {
		form_wrong(&s->form, 1, tr(SAY_DEED_DIFFERS));
		return;
	}
	deed_record(d, g);
}

static bool
sheet_key(struct desk *d, void *state, const struct key *k)
{
	struct deed_sheet *s = state;
	enum form_said said = form_key(&s->form, k);

	if (said == FORM_END || k->code == KEY_CODE_F12)
		submit(d, s); /* which may end the sheet */
	else if (said == FORM_NOT_MINE)
		return false;
	return true;
}

static bool
sheet_typing(const void *state, const struct key *k)
{
	const struct deed_sheet *s = state;

	return form_typing(&s->form, k);
}

/* Who was told to take the older one takes it: that scan goes on.  With a
 * reason half typed it does not. */
static bool
sheet_scan(struct desk *d, void *state, const struct desk_scan *scan)
{
	struct deed_sheet *s = state;
	struct desk_scan copy = *scan;

	if (s->q != &q_older || s->form.dirty)
		return false;
	desk_pass(d, d->at, &copy);
	return true;
}

static void
sheet_fini(void *state)
{
	struct deed_sheet *s = state;

	s->deed->open = false;
}

/* What is most often meant stands there already. */
static void
prefill(struct deed_sheet *s)
{
	const struct deed *g = s->deed;

	/* What is on hold may be wanted as it is: somebody types why not. */
	if (g->run && g->units[0].held[0] == '\0')
		put(s, ASKS_REASON, tr(SAY_DEED_PAST));
	s->form.dirty = false;
	/* Little is left to say but yes: begin at the end. */
	if (g->run)
		s->form.at = s->q->count - 1;
}

void
deed_sheet(struct desk *d, struct deed *g)
{
	struct deed_sheet *s = xcalloc(1, sizeof(*s));

	s->deed = g;
	s->q = question_of(g);
	title_of(s->title, sizeof(s->title), g);
	form_init(&s->form, s->q->rows, s->q->count, desk_today(d));
	prefill(s);
	s->sheet = (struct sheet){
		.title = s->title,
		.draw = sheet_draw,
		.key = sheet_key,
		.scan = sheet_scan,
		.typing = sheet_typing,
		.fini = sheet_fini,
		.want_w = SHEET_W,
		.want_h = rows_of(s),
	};
	g->open = true;
	desk_open(d, &s->sheet, s);
}
