/* printing_draw.c - how Printing looks. */
#include <string.h>

#include "base/str.h"
#include "printing_inner.h"
#include "says_printing.h"
#include "term/when.h"

static const char *const state_words[JOB_STATE_COUNT] = {
	[JOB_QUEUED] = SAY_JOB_QUEUED,
	[JOB_SENDING] = SAY_JOB_SENDING,
	[JOB_SENT] = SAY_JOB_SENT,
	[JOB_CONFIRMED] = SAY_JOB_CONFIRMED,
	[JOB_UNSURE] = SAY_JOB_UNSURE,
	[JOB_FAILED] = SAY_JOB_FAILED,
	[JOB_CANCELLED] = SAY_JOB_CANCELLED,
};

static const char *const label_words[JOB_SAYS_COUNT] = {
	[SAYS_USE_BY] = SAY_LABEL,
	[SAYS_FROZEN] = SAY_LABEL_FROZEN,
	[SAYS_THAWED] = SAY_LABEL_THAWED,
	[SAYS_HOLD] = SAY_LABEL_HOLD,
};

const char *
job_state_words(enum job_state state)
{
	return tr(state_words[state]);
}

/* Without its copy. */
static void
kind_words(char dst[QUEUE_WHAT_SIZE], const struct print_job *j)
{
	if (j->list[0] == '\0')
		str_copy(dst, QUEUE_WHAT_SIZE, tr(label_words[j->says]));
	else if (str_eq(j->list, "test label"))
		str_copy(dst, QUEUE_WHAT_SIZE, tr(SAY_LABEL_TEST));
	else
		str_fmt(
		    dst, QUEUE_WHAT_SIZE, tr(SAY_LABEL_PAGE), j->page, j->list);
}

char *
job_words(char dst[QUEUE_WHAT_SIZE], const struct print_job *j)
{
	char what[QUEUE_WHAT_SIZE];

	kind_words(what, j);
	if (j->copy > 0)
		str_fmt(dst, QUEUE_WHAT_SIZE, tr(SAY_COPY), what, j->copy);
	else
		str_copy(dst, QUEUE_WHAT_SIZE, what);
	return dst;
}

char *
job_which(char dst[QUEUE_WHAT_SIZE], const struct print_job *j)
{
	char what[QUEUE_WHAT_SIZE], name[QUEUE_NAME_SIZE];

	kind_words(what, j);
	if (j->code[0] != '\0')
		str_fmt(dst, QUEUE_WHAT_SIZE, tr(SAY_WHICH), what,
		    queue_name(name, j));
	else
		str_copy(dst, QUEUE_WHAT_SIZE, what);
	return dst;
}

/* --- printers -------------------------------------------------------------*/

static void
draw_printer(const struct printing *s, const struct desk *d, int i,
    const struct pane *p, int y)
{
	const struct today_printer *t = &s->printers[i];
	const struct printer_setting *set = &d->sn->cfg.printers[i];
	char text[600];
	enum style style = STYLE_PLAIN;
	int x = pane_cut(p, 0, y, 12, STYLE_STRONG, t->name) + 1;

	text[0] = '\0';
	if (t->queued > 0)
		str_fmt(text, sizeof(text),
		    trn(SAY_PRINTER_HAS, (long)t->queued), (long)t->queued);
	else if (t->unsure > 0)
		str_fmt(text, sizeof(text),
		    trn(SAY_PRINTER_DOUBTS, (long)t->unsure), (long)t->unsure);
	else
		str_copy(text, sizeof(text), tr(SAY_PRINTER_NOTHING));
	x = pane_cut(p, x, y, 15, STYLE_PLAIN, text) + 1;
	/* What it says now, else why it waits, else what it is. */
	if (s->says[i][0] != '\0') {
		str_copy(text, sizeof(text), s->says[i]);
	} else if (t->why[0] != '\0') {
		str_copy(text, sizeof(text), t->why);
		style = STYLE_WARN;
	} else {
		str_fmt(text, sizeof(text), tr(SAY_PRINTER_PAPER),
		    set->language, set->address);
		style = STYLE_FAINT;
	}
	pane_cut(p, x, y, p->w - x, style, text);
}

/* Returns the row behind them. */
static int
draw_printers(
    const struct printing *s, const struct desk *d, const struct pane *p)
{
	char text[200], took[80];
	int i, y = 1;

	pane_put(p, 0, 0, STYLE_FAINT, tr(SAY_PRINTERS));
	for (i = 0; i < s->printer_count; i++)
		draw_printer(s, d, i, p, y++);
	if (beside_running(s->look)) {
		str_fmt(text, sizeof(text), tr(SAY_ASKING),
		    beside_progress(took, sizeof(took), s->look, d->now_ms));
		pane_cut(p, 0, y++, p->w, STYLE_PLAIN, text);
	}
	return y + 1;
}

/* --- the queue ------------------------------------------------------------*/

#define NAME_W 11
#define WHAT_W 17
#define STATE_W 14

static void
draw_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct printing *s = arg;
	const struct print_job *j = printing_job(s, i);
	char name[QUEUE_NAME_SIZE], what[QUEUE_WHAT_SIZE], why[300], when[48];
	bool unsure = j->state == JOB_UNSURE;
	int x, wide = row->w > 80 ? 10 : 0;

	x = pane_cut(row, 0, 0, NAME_W, style, queue_name(name, j));
	x = pane_cut(row, x, 0, WHAT_W - 1 + wide, style, job_words(what, j));
	x = pane_cut(row, x + 1, 0, STATE_W,
	    style == STYLE_PLAIN && unsure ? STYLE_BAD : style,
	    job_state_words(j->state));
	if (j->error[0] != '\0')
		str_copy(why, sizeof(why), j->error);
	else
		str_fmt(why, sizeof(why), "%s  %s",
		    when_instant(when, sizeof(when), j->changed_utc),
		    j->printer_name);
	pane_cut(row, x, 0, row->w - x, style, why);
}

static void
add(char *dst, size_t size, const char *text)
{
	char all[200];

	str_fmt(
	    all, sizeof(all), "%s%s%s", dst, dst[0] == '\0' ? "" : ", ", text);
	str_copy(dst, size, all);
}

static void
draw_heading(const struct printing *s, const struct pane *p, int y)
{
	char all[200] = "", text[80];
	int x = pane_put(p, 0, y, STYLE_FAINT, tr(SAY_LABELS)) + 2;

	if (s->unsure > 0) {
		str_fmt(text, sizeof(text),
		    trn(SAY_LABELS_UNSURE, (long)s->unsure), (long)s->unsure);
		add(all, sizeof(all), text);
	}
	if (s->queued > 0) {
		str_fmt(text, sizeof(text),
		    trn(SAY_LABELS_WAITING, (long)s->queued), (long)s->queued);
		add(all, sizeof(all), text);
	}
	if (s->rows.settled.count > 0)
		add(all, sizeof(all), tr(SAY_LABELS_SETTLED));
	pane_cut(p, x, y, p->w - x, STYLE_STRONG, all);
}

/* The whole reason of the chosen one, at the bottom where there is room;
 * returns the rows it takes. */
static int
draw_why(const struct printing *s, const struct pane *p, int y)
{
	const struct print_job *j = printing_job(s, s->list.at);
	int rows;

	if (j == NULL || j->error[0] == '\0')
		return 0;
	rows = pane_wrap_rows(p->w, j->error);
	if (p->h - y < rows + 6)
		return 0;
	(void)pane_wrap(p, p->h - rows, STYLE_FAINT, j->error);
	return rows + 1;
}

void
printing_draw(struct desk *d, void *state, const struct pane *p)
{
	struct printing *s = state;
	struct pane part;
	int y;

	if (!s->loaded)
		return;
	y = draw_printers(s, d, p);
	draw_heading(s, p, y++);
	if (s->rows.unsure.count > 0)
		y = pane_wrap(p, y, STYLE_WARN, tr(SAY_UNSURE_HOW));
	if (s->list.count == 0) {
		part = pane_part(p, 0, y, p->w, p->h - y);
		(void)pane_wrap(&part, 0, STYLE_PLAIN, tr(SAY_LABELS_NONE));
		return;
	}
	part = pane_part(p, 0, y, p->w, p->h - y - draw_why(s, p, y));
	list_draw(&s->list, &part, draw_row, s);
}
