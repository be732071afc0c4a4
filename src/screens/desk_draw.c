/* desk_draw.c - the frame around every screen. */
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "desk_inner.h"
#include "says_desk.h"
#include "screens/lesson.h"

#define HEAD_ROWS 2
#define NOTICE_ROWS_MAX 4
#define SMALL_W 60 /* below it the body is cut, and the foot says so */
#define SMALL_H 16

static void
draw_head(const struct desk *d, const struct pane *p)
{
	struct local_time t = local_from_utc(clock_now(&d->sn->clock));
	struct civil c = day_civil(t.day);
	char right[80], when[64];
	const char *mark = tr(SAY_TRAINING);
	int w, x, end = p->w - 1;

	str_fmt(when, sizeof(when), tr(SAY_HEAD_TIME),
	    tr(weekday_short(day_weekday(t.day))), c.day,
	    tr(month_short(c.month)), t.hour, t.minute);
	str_fmt(right, sizeof(right), "%s  %s", when,
	    d->by[0] != '\0' ? d->by : tr(SAY_NOBODY));
	x = pane_put(p, 1, 0, STYLE_STRONG, tr(desk_screen(d)->title)) + 2;
	w = text_columns(right);
	if (w < end - x) {
		pane_right(p, end, 0, STYLE_PLAIN, right);
		end -= w + 2;
	}
	if (d->sn->cfg.training) {
		w = text_columns(mark);
		if (w + 2 > end - x)
			w = end - x - 2; /* cut, never left out */
		if (w < 0)
			return;
		pane_put(p, x, 0, STYLE_MARK, " ");
		pane_cut(p, x + 1, 0, w, STYLE_MARK, mark);
		pane_put(p, x + 1 + w, 0, STYLE_MARK, " ");
	} else if (end > x) {
		pane_cut(p, x, 0, end - x, STYLE_FAINT, d->sn->cfg.kitchen);
	}
}

/* A key and its word; returns the column behind, or `x` when it does not fit.
 */
static int
draw_key(
    const struct pane *p, int x, int end, const struct key *k, const char *word)
{
	char name[KEY_NAME_SIZE];
	const char *shown;
	int w;

	shown = tr(key_label(name, k));
	w = text_columns(shown) + 1 + text_columns(word);
	if (x + w > end)
		return x;
	x = pane_put(p, x, 0, STYLE_STRONG, shown);
	return pane_put(p, x + 1, 0, STYLE_PLAIN, word) + 2;
}

static void
draw_foot(const struct desk *d, const struct pane *p)
{
	static const struct key f1 = { KEY_CODE_F1, 0 };
	static const struct key f2 = { KEY_CODE_F1 + 1, 0 };
	static const struct key enter = { KEY_CODE_ENTER, 0 };
	static const struct key esc = { KEY_CODE_ESC, 0 };
	const struct action *a = desk_screen(d)->actions;
	int x = 1, end = p->w;

	if (d->sheet_count > 0) {
		x = draw_key(p, x, end, &enter, tr(SAY_FOOT_OK));
		draw_key(p, x, end, &esc, tr(SAY_FOOT_BACK));
		return;
	}
	/* Help first: what does not fit is found there. */
	if (d->only == NULL)
		x = draw_key(p, x, end, &f1, tr(SAY_FOOT_HELP));
	if (d->only == NULL && d->at != SCREEN_TODAY)
		x = draw_key(p, x, end, &f2, tr(SAY_FOOT_TODAY));
	for (; a != NULL && a->id != 0; a++)
		if (a->word != NULL && desk_can(d, a->id))
			x = draw_key(p, x, end, &a->key, tr(a->word));
}

static enum style
notice_text(char *dst, size_t size, const struct desk *d)
{
	static const enum style styles[] = {
		[LEVEL_DONE] = STYLE_GOOD,
		[LEVEL_NOTE] = STYLE_PLAIN,
		[LEVEL_WARN] = STYLE_WARN,
		[LEVEL_REFUSED] = STYLE_BAD,
	};

	dst[0] = '\0';
	if (d->notice[0] == '\0')
		return STYLE_PLAIN;
	if (d->level == LEVEL_NOTE)
		str_fmt(dst, size, tr(SAY_LEVEL_NOTE), d->notice);
	else if (d->level == LEVEL_WARN)
		str_fmt(dst, size, tr(SAY_LEVEL_WARN), d->notice);
	else if (d->level == LEVEL_REFUSED)
		str_fmt(dst, size, tr(SAY_LEVEL_REFUSED), d->notice);
	else
		str_copy(dst, size, d->notice);
	utf8_clean(dst);
	return styles[d->level];
}

/* Notice and standing fault; returns the rows they take from the bottom. */
static int
draw_notices(const struct desk *d, const struct pane *p, int bottom)
{
	char text[NOTICE_SIZE + 40];
	enum style style = notice_text(text, sizeof(text), d);
	struct pane part;
	int rows, most = p->h / 4 < 1 ? 1 : p->h / 4;

	if (d->foot[0] != '\0' && bottom > 2)
		pane_cut(p, 1, --bottom, p->w - 2, STYLE_WARN, d->foot);
	rows = pane_wrap_rows(p->w - 2, text);
	if (most > NOTICE_ROWS_MAX)
		most = NOTICE_ROWS_MAX;
	rows = rows < 1 ? 1 : rows > most ? most : rows;
	part = pane_part(p, 1, bottom - rows, p->w - 2, rows);
	(void)pane_wrap(&part, 0, style, text);
	return bottom - rows;
}

static void
draw_sheet(
    struct desk *d, const struct sheet *s, void *state, const struct pane *body)
{
	int w = s->want_w + 4, h = s->want_h + 2;
	struct pane box, in;

	w = w > body->w ? body->w : w;
	h = h > body->h ? body->h : h;
	box = pane_part(body, (body->w - w) / 2, (body->h - h) / 2, w, h);
	/* a blank column on each side, where there is room */
	pane_fill(body, (body->w - w) / 2 - 1, (body->h - h) / 2, w + 2, h,
	    STYLE_PLAIN);
	pane_frame(&box, s->title == NULL ? NULL : tr(s->title));
	in = pane_part(&box, 2, 1, w - 4, h - 2);
	d->canvas.cursor_x = d->canvas.cursor_y = -1;
	s->draw(d, state, &in);
}

void
desk_draw(struct desk *d)
{
	struct pane all = pane_whole(&d->canvas), body, row;
	const struct sheet *sheet;
	void *state;
	int bottom = all.h - 1, rows;

	canvas_blank(&d->canvas);
	draw_head(d, &all);
	if (all.h > 4)
		pane_rule(&all, 1);
	row = pane_part(&all, 0, bottom, all.w, 1);
	if (all.h > 2)
		draw_foot(d, &row);
	if (all.h > 3)
		bottom = draw_notices(d, &all, bottom);
	if (all.w < SMALL_W || all.h < SMALL_H)
		pane_cut(&row, 0, 0, all.w, STYLE_WARN, tr(SAY_SMALL));
	if (d->lesson != NULL && all.h >= SMALL_H) {
		rows = lesson_rows(d->lesson, all.w - 2);
		bottom -= rows;
		row = pane_part(&all, 1, bottom, all.w - 2, rows);
		lesson_draw(d->lesson, &row);
	}
	body = pane_part(&all, 1, HEAD_ROWS, all.w - 2, bottom - HEAD_ROWS);
	if (body.h < 1 || body.w < 1)
		return;
	desk_screen(d)->draw(d, desk_state(d), &body);
	if ((sheet = desk_sheet(d, &state)) != NULL)
		draw_sheet(d, sheet, state, &body);
}
