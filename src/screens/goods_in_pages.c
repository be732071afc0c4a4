/* goods_in_pages.c - Goods in: the day's list, the decision, what was
 * recorded. */
#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "core/caution.h"
#include "goods_in.h"
#include "says_goods_in.h"
#include "says_goods_look.h"
#include "term/when.h"

#define LABEL_W 16

static const char *
species_name(const struct goods *g, const struct batch *b)
{
	const struct species *sp = species_find(g->species, b->species);

	return sp == NULL ? b->species : sp->name;
}

/* "10 fish, 20.000 kg" */
static char *
amount(char *dst, size_t size, const struct batch *b)
{
	char w[32];
	int n = (int)b->count;

	weight_print(w, sizeof(w), b->weight_g);
	if (n == 0)
		str_fmt(dst, size, "%s", w);
	else
		str_fmt(dst, size, trn(SAY_GI_SUM_FISH, n), n, w);
	return dst;
}

/* "FRI 27 NOV", and the hour where it is not the day's end. */
static char *
big_date(char *dst, size_t size, int64_t utc)
{
	struct local_time t = local_from_utc(utc);
	struct civil c = day_civil(t.day);
	int n;

	str_fmt(dst, size, "%s %d %s", tr(weekday_short(day_weekday(t.day))),
	    c.day, tr(month_short(c.month)));
	n = (int)strlen(dst);
	if (t.hour != 23 || t.minute != 59)
		str_fmt(
		    dst + n, size - (size_t)n, " %d:%02d", t.hour, t.minute);
	str_upper(dst);
	return dst;
}

/* --- today's list ----------------------------------------------------------*/

/* What became of it, or until when it keeps: the day alone only where its end
 * is meant. */
static char *
row_says(char *dst, size_t size, const struct batch *b)
{
	struct local_time t = local_from_utc(b->use_by_utc);
	char when[48], use_by[80];

	if (b->struck || b->decision == DECISION_REFUSED) {
		str_fmt(dst, size, "%s",
		    tr(b->struck ? SAY_GI_ROW_STRUCK : SAY_GI_ROW_REFUSED));
		return dst;
	}
	when_instant(when, sizeof(when), b->use_by_utc);
	if (t.hour == 23 && t.minute == 59 && strlen(when) > 6)
		when[strlen(when) - 6] = '\0';
	str_fmt(use_by, sizeof(use_by), tr(SAY_GI_ROW_USE_BY), when);
	str_fmt(dst, size,
	    b->decision == DECISION_NOTED ? tr(SAY_GI_ROW_NOTED) : "%s",
	    use_by);
	return dst;
}

static void
draw_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct goods *g = arg;
	const struct batch *b = &g->today.items[i];
	char code[CODE_SIZE], text[120];
	int x = 11, end = row->w - 25;

	code_show(code, b->code);
	pane_cut(row, 0, 0, row->w, style, "");
	pane_cut(row, 0, 0, 11, style, code);
	str_fmt(text, sizeof(text), "%s, %s", species_name(g, b),
	    presentation_word(b->presentation));
	x = pane_cut(row, x, 0, end - 22 - x, style, text) + 1;
	amount(text, sizeof(text), b);
	pane_cut(row, x, 0, end - x, style, text);
	pane_cut(row, end + 1, 0, row->w - end - 1, style,
	    row_says(text, sizeof(text), b));
}

void
goods_draw_day(struct desk *d, struct goods *g, const struct pane *p)
{
	int n = (int)g->today.count;
	bool half = g->form.dirty || g->scan_count > 0;
	struct pane part;

	(void)d;
	if (g->suppliers.count == 0) {
		(void)pane_wrap(p, 0, STYLE_PLAIN, tr(SAY_GI_NO_SUPPLIER));
		return;
	}
	if (half)
		pane_cut(p, 0, p->h - 1, p->w, STYLE_WARN, tr(SAY_GI_HALF));
	if (n == 0) {
		part = pane_part(p, 0, 0, p->w, p->h - half);
		(void)pane_wrap(&part, 0, STYLE_PLAIN, tr(SAY_GI_EMPTY));
		return;
	}
	pane_fmt(p, 0, 0, STYLE_STRONG, trn(SAY_GI_TODAY, n), n);
	part = pane_part(p, 0, 1, p->w, p->h - 1 - half);
	list_draw(&g->list, &part, draw_row, g);
}

/* --- the decision ----------------------------------------------------------*/

static int
draw_what(const struct goods *g, const struct pane *p, int y)
{
	const struct batch *b = &g->view.batch;
	char text[400], sum[80], temp[32], of[160];

	str_fmt(text, sizeof(text), tr(SAY_GI_SUM), species_name(g, b),
	    presentation_word(b->presentation), amount(sum, sizeof(sum), b),
	    temp_print(temp, sizeof(temp), b->temp_dc));
	pane_cut(p, 0, y, p->w, STYLE_STRONG, text);
	str_fmt(
	    of, sizeof(of), tr(SAY_GI_SUM_OF), b->document, b->supplier.name);
	if (text_columns(text) + 3 + text_columns(of) <= p->w) {
		pane_put(p, text_columns(text) + 3, y, STYLE_FAINT, of);
		return y + 1;
	}
	pane_cut(p, 0, y + 1, p->w, STYLE_FAINT, of);
	return y + 2;
}

/* The date it would get, or why it gets none. */
static int
draw_date(const struct goods *g, const struct pane *p, int y)
{
	const struct receive_view *v = &g->view;
	char text[ERR_TEXT_MAX + 80];
	struct pane part = pane_part(p, 0, y, p->w, p->h - y);
	int x;

	if (v->doubt[0] != '\0') {
		str_fmt(text, sizeof(text), tr(SAY_GI_NO_DATE_CLOCK), v->doubt);
		return y + pane_wrap(&part, 0, STYLE_BAD, text);
	}
	if (!v->dated) {
		pane_cut(p, 0, y, p->w, STYLE_BAD, tr(SAY_GI_NO_DATE_REFUSED));
		return y + 1;
	}
	x = pane_put(p, 0, y + 1, STYLE_PLAIN, tr(SAY_GI_USE_BY)) + 2;
	x = pane_big(p, x, y, STYLE_STRONG,
		big_date(text, sizeof(text), v->bound.utc)) +
	    2;
	part = pane_part(p, x, y, p->w - x, BIG_ROWS);
	str_fmt(text, sizeof(text), tr(SAY_GI_UNTIL), v->bound.name,
	    v->bound.source);
	(void)pane_wrap(&part, 0, STYLE_FAINT, text);
	return y + BIG_ROWS;
}

static int
draw_proposal(const struct goods *g, const struct pane *p, int y)
{
	static const struct {
		const char *word;
		enum style style;
	} says[] = {
		[DECISION_ACCEPTED] = { SAY_GI_PROPOSED_ACCEPT, STYLE_GOOD },
		[DECISION_NOTED] = { SAY_GI_PROPOSED_NOTE, STYLE_WARN },
		[DECISION_REFUSED] = { SAY_GI_PROPOSED_REFUSE, STYLE_BAD },
	};
	enum decision what = g->view.proposed;
	char words[ERR_TEXT_MAX], text[ERR_TEXT_MAX + 60];
	int at = goods_field_of(g->view.why_at), x;
	struct pane part;

	x = pane_put(p, 0, y, says[what].style, tr(says[what].word)) + 1;
	if (g->view.mildest == DECISION_REFUSED)
		pane_put(p, x, y, STYLE_BAD, tr(SAY_GI_ONLY_REFUSE));
	if (g->view.why[0] == '\0')
		return y + 1;
	goods_words(words, sizeof(words), g->view.why);
	if (at >= 0 &&
	    strncmp(words, tr(g->form.fields[at].row->label),
		strlen(tr(g->form.fields[at].row->label))) != 0)
		str_fmt(text, sizeof(text), tr(SAY_GI_UNTIL),
		    tr(g->form.fields[at].row->label), words);
	else
		str_copy(text, sizeof(text), words);
	part = pane_part(p, 0, y + 1, p->w, p->h - y - 1);
	return y + 1 + pane_wrap(&part, 0, says[what].style, text);
}

void
goods_draw_decide(struct desk *d, struct goods *g, const struct pane *p)
{
	enum { FORM = 2, MATCHES = 5 };
	struct pane part;
	struct buf found;
	int y, rest;

	goods_draw_steps(g, p);
	y = draw_what(g, p, 1);
	y = draw_date(g, p, y);
	y = draw_proposal(g, p, y);
	goods_decide_follow(g);
	part = pane_part(p, 0, y, p->w, FORM);
	form_draw(&g->decide, &part, LABEL_W);
	y += FORM;
	pane_rule(p, y++);
	rest = p->h - y;
	if (rest < 1)
		return;
	buf_init(&found, 16384);
	goods_found(&found, d, g);
	part = pane_part(p, 0, y, p->w, rest);
	if (pane_wrap_rows(p->w, buf_text(&found)) > rest) {
		part.h--;
		pane_right(p, p->w, p->h - 1, STYLE_STRONG, tr(SAY_GI_MORE));
	}
	(void)pane_wrap(&part, 0, STYLE_PLAIN, buf_text(&found));
	buf_fini(&found);
}

/* --- recorded --------------------------------------------------------------*/

void
goods_draw_done(struct desk *d, struct goods *g, const struct pane *p)
{
	const struct batch *b = &g->done;
	const struct species *sp = species_find(g->species, b->species);
	const char *cautions[CAUTIONS_MAX];
	char text[ERR_TEXT_MAX + 100], sum[80];
	struct pane part;
	int n, i, y = 11;

	(void)d;
	str_fmt(text, sizeof(text), "%s, %s, %s", species_name(g, b),
	    presentation_word(b->presentation), amount(sum, sizeof(sum), b));
	pane_cut(p, 0, 0, p->w, STYLE_STRONG, text);
	pane_put(p, 0, 2, STYLE_FAINT, tr(SAY_GI_BATCH));
	(void)pane_big(p, 9, 1, STYLE_STRONG, code_show(text, b->code));
	if (b->decision == DECISION_REFUSED) {
		pane_cut(p, 0, 5, p->w, STYLE_BAD, tr(SAY_GI_ROW_REFUSED));
		pane_cut(p, 0, 6, p->w, STYLE_PLAIN, b->note);
		y = 8;
	} else {
		pane_put(p, 0, 6, STYLE_FAINT, tr(SAY_GI_USE_BY));
		(void)pane_big(p, 9, 5, STYLE_STRONG,
		    big_date(text, sizeof(text), b->use_by_utc));
		if (g->done_why[0] == '\0')
			pane_cut(
			    p, 0, 9, p->w, STYLE_GOOD, tr(SAY_GI_LABEL_QUEUED));
	}
	n = sp == NULL || b->decision == DECISION_REFUSED
	    ? 0
	    : caution_list(cautions, sp, b->presentation);
	for (i = 0; i < n && y < p->h - 2; i++) {
		str_fmt(text, sizeof(text), tr(SAY_GI_CAUTION), cautions[i]);
		part = pane_part(p, 0, y, p->w, p->h - 2 - y);
		y += pane_wrap(&part, 0, STYLE_WARN, text);
	}
	if (b->decision == DECISION_REFUSED)
		pane_cut(p, 0, y, p->w, STYLE_FAINT, caution_general());
	pane_cut(p, 0, p->h - 1, p->w, STYLE_PLAIN, tr(SAY_GI_DONE_NEXT));
}
