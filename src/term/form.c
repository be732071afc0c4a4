/* form.c - fields to fill in. */
#include "term/form.h"

#include <string.h>

#include "base/str.h"
#include "field.h"
#include "says_term.h"

#define SHOWN_MATCHES 4 /* rows that list what fits */

void
form_init(struct form *f, const struct field_row *rows, int count, day_no today)
{
	int i;

	memset(f, 0, sizeof(*f));
	f->count = count > FORM_FIELDS_MAX ? FORM_FIELDS_MAX : count;
	f->today = today;
	for (i = 0; i < f->count; i++)
		f->fields[i].row = &rows[i];
}

void
form_clear(struct form *f)
{
	struct field *e;

	for (e = f->fields; e < f->fields + f->count; e++) {
		e->text[0] = e->before[0] = e->value[0] = '\0';
		e->shown[0] = e->wrong[0] = '\0';
		e->caret = e->before_caret = 0;
	}
	f->at = f->top = f->pick = 0;
	f->dirty = false;
	while (f->at < f->count - 1 && f->fields[f->at].off)
		f->at++;
}

/* The next field that is asked, from `at` on; -1 when there is none. */
static int
next_asked(const struct form *f, int at, int step)
{
	for (at += step; at >= 0 && at < f->count; at += step)
		if (!f->fields[at].off)
			return at;
	return -1;
}

/* With several that fit, Enter takes the one the arrows chose. */
static void
take_pick(struct form *f)
{
	struct field *e = &f->fields[f->at];
	size_t found[SHOWN_MATCHES], n, at = (size_t)f->pick;

	if (e->row->kind != FIELD_CHOICE || e->text[0] == '\0')
		return;
	n = field_matches(e, found, SHOWN_MATCHES);
	if (n > 1 && at >= 1 && at <= n && at <= SHOWN_MATCHES) {
		str_fmt(e->text, sizeof(e->text), "%s",
		    e->choices.word(e->choices.arg, found[at - 1]));
		e->caret = strlen(e->text);
	}
}

static enum form_said
leave(struct form *f, int step)
{
	struct field *e = &f->fields[f->at];
	int to = next_asked(f, f->at, step);

	(void)field_settle(e, f->today);
	e->caret = strlen(e->text);
	f->pick = 0;
	if (to < 0)
		return step > 0 ? FORM_END : FORM_TAKEN;
	f->at = to;
	return FORM_MOVED;
}

/* Up and down among what fits, while that is more than one. */
static bool
pick_key(struct form *f, const struct key *k)
{
	struct field *e = &f->fields[f->at];
	size_t found[SHOWN_MATCHES], n;
	int max;

	if (e->row->kind != FIELD_CHOICE || e->text[0] == '\0' ||
	    e->value[0] != '\0' || /* chosen already */
	    (k->code != KEY_CODE_UP && k->code != KEY_CODE_DOWN))
		return false;
	n = field_matches(e, found, SHOWN_MATCHES);
	if (n < 2)
		return false;
	max = n > SHOWN_MATCHES ? SHOWN_MATCHES : (int)n;
	f->pick += k->code == KEY_CODE_DOWN ? 1 : -1;
	f->pick = f->pick < 0 ? 0 : f->pick > max ? max : f->pick;
	return true;
}

/* Was something typed?  What a scan left behind and took back was not. */
static void
note_typing(struct form *f, const struct key *k)
{
	if (k->code == KEY_CODE_LEFT || k->code == KEY_CODE_RIGHT ||
	    k->code == KEY_CODE_HOME || k->code == KEY_CODE_END)
		return;
	if (k->code == KEY_CODE_TAKE_BACK) {
		f->dirty = f->was_dirty;
		return;
	}
	f->was_dirty = f->dirty;
	f->dirty = true;
}

enum form_said
form_key(struct form *f, const struct key *k)
{
	enum form_said said;

	if (f->count == 0)
		return FORM_NOT_MINE;
	if (pick_key(f, k))
		return FORM_TAKEN;
	if (field_edit(&f->fields[f->at], k)) {
		f->pick = 0;
		note_typing(f, k);
		return FORM_TAKEN;
	}
	if (k->code == KEY_CODE_ENTER) {
		take_pick(f);
		if (!field_settle(&f->fields[f->at], f->today) &&
		    f->fields[f->at].text[0] != '\0')
			return FORM_TAKEN; /* wrong: stay and see why */
		return leave(f, 1);
	}
	if (k->code == KEY_CODE_TAB || k->code == KEY_CODE_DOWN) {
		said = leave(f, 1);
		return said == FORM_END ? FORM_TAKEN : said;
	}
	if (k->code == KEY_CODE_BACKTAB || k->code == KEY_CODE_UP)
		return leave(f, -1);
	return FORM_NOT_MINE;
}

bool
form_typing(const struct form *f, const struct key *k)
{
	return f->count > 0 && k->code == KEY_CODE_CHAR &&
	    field_takes(&f->fields[f->at], k->ch);
}

const char *
form_value(const struct form *f, int i)
{
	const struct field *e = &f->fields[i];

	return e->off || e->value[0] == '\0' ? NULL : e->value;
}

void
form_set(struct form *f, int i, const char *text)
{
	struct field *e = &f->fields[i];

	str_fmt(e->text, sizeof(e->text), "%s", text);
	utf8_clean(e->text);
	e->caret = strlen(e->text);
	memcpy(e->before, e->text, sizeof(e->before));
	e->before_caret = e->caret;
	e->value[0] = '\0'; /* of another text */
	(void)field_settle(e, f->today);
	if (text[0] == '\0')
		e->wrong[0] = '\0';
}

enum rc
form_check(struct form *f, struct err *err)
{
	int i, first = -1;

	for (i = 0; i < f->count; i++)
		if (!f->fields[i].off &&
		    !field_settle(&f->fields[i], f->today) && first < 0)
			first = i;
	if (first < 0)
		return RC_OK;
	f->at = first;
	return err_set(err, RC_INVALID, 0, tr(SAY_FIELD_WRONG),
	    tr(f->fields[first].row->label), f->fields[first].wrong);
}

void
form_wrong(struct form *f, int i, const char *why)
{
	str_fmt(f->fields[i].wrong, sizeof(f->fields[i].wrong), "%s", why);
	utf8_clean(f->fields[i].wrong);
	f->at = i;
}

/* --- drawing ---------------------------------------------------------------*/

/* The part of the text that is seen in `w` columns with the caret in it. */
static void
draw_text(const struct field *e, const struct pane *p, int w, bool chosen)
{
	char left[FIELD_SIZE], dots[FIELD_SIZE];
	const char *text = e->text;
	/* a field that is left is read from its beginning */
	size_t caret = chosen ? e->caret : 0, n;
	int cols;

	if ((e->row->flags & FIELD_HIDE) != 0) {
		n = strlen(e->text);
		memset(dots, '*', n);
		dots[n] = '\0';
		text = dots;
	}
	memcpy(left, text, caret);
	left[caret] = '\0';
	/* Without the caret in it, the beginning tells it apart. */
	for (cols = chosen ? text_columns(left) : 0; cols >= w && *text != '\0';
	     cols--)
		(void)utf8_next(&text);
	pane_cut(p, 0, 0, w, chosen ? STYLE_FIELD : STYLE_PLAIN, text);
	if (chosen)
		pane_cursor(p, cols, 0);
}

static void
draw_field(struct form *f, int i, const struct pane *p, int label_w)
{
	const struct field *e = &f->fields[i];
	struct pane box;
	bool chosen = i == f->at;
	bool hinting = chosen && e->text[0] == '\0' && e->row->hint != NULL;
	int w = p->w - label_w - 1, used = w, after;
	const char *note = e->wrong[0] != '\0' ? e->wrong : e->shown;

	/* what the value means stands behind it, if it is not long */
	if (note[0] != '\0' || w > 40)
		used = w * 2 / 5 < 16 ? (w < 16 ? w : 16) : w * 2 / 5;
	if (e->row->kind == FIELD_TEXT || e->row->kind == FIELD_WEIGHTS)
		used = note[0] == '\0' && !hinting ? w : w / 2;
	pane_cut(p, 0, 0, label_w, chosen ? STYLE_STRONG : STYLE_FAINT,
	    tr(e->row->label));
	box = pane_part(p, label_w, 0, used, 1);
	draw_text(e, &box, box.w, chosen);
	after = label_w + used + 1;
	if (note[0] != '\0')
		pane_cut(p, after, 0, p->w - after,
		    e->wrong[0] != '\0' ? STYLE_BAD : STYLE_FAINT, note);
	else if (hinting)
		pane_cut(
		    p, after, 0, p->w - after, STYLE_FAINT, tr(e->row->hint));
}

static void
draw_matches(struct form *f, const struct pane *p)
{
	const struct field *e = &f->fields[f->at];
	size_t found[SHOWN_MATCHES], n, i;
	struct pane line;

	n = field_matches(e, found, SHOWN_MATCHES);
	for (i = 0; i < n && i < SHOWN_MATCHES; i++) {
		line = pane_part(p, 2, (int)i, p->w - 2, 1);
		pane_cut(&line, 0, 0, line.w,
		    (int)i + 1 == f->pick ? STYLE_CHOSEN : STYLE_PLAIN,
		    e->choices.says == NULL
			? e->choices.word(e->choices.arg, found[i])
			: e->choices.says(e->choices.arg, found[i]));
	}
	if (n > SHOWN_MATCHES)
		pane_fmt(p, 2, SHOWN_MATCHES, STYLE_FAINT,
		    trn(SAY_MORE_FIT, (long)n - SHOWN_MATCHES),
		    (int)n - SHOWN_MATCHES);
}

/* Is the list of what fits shown now? */
static bool
matching(const struct form *f)
{
	const struct field *e = &f->fields[f->at];
	size_t found;

	return f->count > 0 && e->row->kind == FIELD_CHOICE &&
	    e->text[0] != '\0' && e->value[0] == '\0' &&
	    field_matches(e, &found, 1) > 0;
}

void
form_draw(struct form *f, const struct pane *p, int label_w)
{
	int rows = p->h, asked = 0, at = 0, i, y;
	struct pane line;

	if (matching(f) && rows > SHOWN_MATCHES + 2)
		rows -= SHOWN_MATCHES + 1;
	for (i = 0; i < f->count; i++) {
		if (i == f->at)
			at = asked;
		asked += !f->fields[i].off;
	}
	if (f->top > at)
		f->top = at;
	if (at >= f->top + rows)
		f->top = at - rows + 1;
	for (i = 0, y = -f->top; i < f->count; i++) {
		if (f->fields[i].off)
			continue;
		if (y >= 0 && y < rows) {
			line = pane_part(p, 0, y, p->w, 1);
			draw_field(f, i, &line, label_w);
		}
		y++;
	}
	if (rows < p->h) {
		line = pane_part(p, 0, rows, p->w, p->h - rows);
		draw_matches(f, &line);
	}
}
