/* trace_draw.c - the Trace screen: what is asked, and the batches behind a
 * dish. */
#include <string.h>

#include "base/str.h"
#include "hand_words.h"
#include "says_trace.h"
#include "trace_inner.h"

#define LABEL_W 16

/* Columns of a row; what is left over is the supplier's. */
#define W_CODE 10
#define W_SPECIES 14
#define W_SCANNED 9
#define W_THEN 9
#define W_DATE 11

char *
trace_sitting(char *dst, size_t size, const struct trace_service *s)
{
	char date[48];

	str_fmt(dst, size, tr(SAY_TR_SITTING),
	    hand_date(date, sizeof(date), s->day), s->name);
	return dst;
}

static void
draw_ask(struct trace *s, const struct pane *p)
{
	struct pane part;
	int y = pane_wrap(p, 0, STYLE_PLAIN, tr(SAY_TR_EMPTY)) + 1;

	part = pane_part(p, 0, y, p->w, p->h - y);
	form_draw(&s->form, &part, LABEL_W);
}

static void
draw_unknown(struct trace *s, const struct pane *p)
{
	char shown[CODE_SIZE], text[400];
	struct pane part;
	int y;

	pane_put(p, 0, 0, STYLE_BAD, tr(SAY_TR_UNKNOWN));
	if (s->unknown[0] == '\0')
		str_copy(text, sizeof(text), tr(SAY_TR_UNKNOWN_LABEL));
	else
		str_fmt(text, sizeof(text), tr(SAY_TR_UNKNOWN_CODE),
		    code_show(shown, s->unknown));
	y = pane_wrap(p, 2, STYLE_PLAIN, text) + 1;
	pane_put(p, 0, y, STYLE_FAINT, tr(SAY_TR_ITSELF));
	part = pane_part(p, 2, y + 1, p->w - 2, p->h - y - 1);
	pager_draw(&s->itself, &part);
}

/* --- dish and service -----------------------------------------------------*/

/* What is certain of it, and what is not. */
static const char *
how_sure(char *dst, size_t size, const struct trace_guess *g)
{
	long long sold = (long long)g->sold, scanned = (long long)g->scanned;

	if (g->count == 0)
		str_copy(dst, size, tr(SAY_TR_G_EMPTY));
	else if (g->certain == 0)
		str_copy(dst, size, tr(SAY_TR_G_NONE));
	else if (g->sold < 0)
		str_fmt(dst, size, tr(SAY_TR_G_UNSURE), scanned);
	else if (g->scanned >= g->sold)
		str_fmt(dst, size, tr(SAY_TR_G_ALL), sold);
	else
		str_fmt(dst, size, tr(SAY_TR_G_SOME), scanned, sold);
	return dst;
}

static void
draw_candidate(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct trace *s = arg;
	const struct trace_candidate *c = &s->guess.items[i];
	int from = row->w - W_CODE - W_SPECIES - W_SCANNED - W_THEN - W_DATE;
	enum style strong = style == STYLE_PLAIN ? STYLE_STRONG : style;
	char code[CODE_SIZE], text[120];
	struct local_time t;
	int x;

	x = pane_cut(row, 0, 0, W_CODE, style, code_show(code, c->is.batch));
	x = pane_cut(row, x, 0, W_SPECIES - 1, style, c->species) + 1;
	str_fmt(text, sizeof(text), "%s, %s", c->is.supplier, c->is.lot);
	x = pane_cut(row, x, 0, from - 1, style, text) + 1;
	text[0] = '\0';
	if (c->is.scanned > 0)
		str_fmt(text, sizeof(text), "%lld", (long long)c->is.scanned);
	x = pane_cut(row, x, 0, W_SCANNED, strong, text);
	text[0] = '\0';
	if (c->is.on_hand > 0)
		str_fmt(text, sizeof(text), "%lld", (long long)c->is.on_hand);
	x = pane_cut(row, x, 0, W_THEN, style, text);
	text[0] = '\0';
	if (c->is.use_by_utc != 0) {
		t = local_from_utc(c->is.use_by_utc);
		hand_date(text, sizeof(text), t.day);
	}
	pane_cut(row, x, 0, W_DATE, style, text);
}

void
trace_draw_dish(struct trace *s, const struct pane *p)
{
	const struct trace_guess *g = &s->guess;
	char text[600], sitting[120], head[200];
	struct pane part;
	int x, y;

	str_fmt(head, sizeof(head), tr(SAY_TR_GUESS), g->dish.name,
	    trace_sitting(sitting, sizeof(sitting), &g->service));
	pane_cut(p, 0, 0, p->w, STYLE_STRONG, head);
	y = pane_wrap(p, 2, g->certain > 0 ? STYLE_PLAIN : STYLE_WARN,
		how_sure(text, sizeof(text), g)) +
	    1;
	if (g->count == 0)
		return;
	x = LIST_NUMBER;
	pane_put(p, x, y, STYLE_FAINT, tr(SAY_TR_COL_BATCH));
	pane_put(
	    p, x + W_CODE + W_SPECIES, y, STYLE_FAINT, tr(SAY_TR_COL_FROM));
	x = p->w - W_SCANNED - W_THEN - W_DATE;
	pane_put(p, x, y, STYLE_FAINT, tr(SAY_TR_COL_SCANNED));
	pane_put(p, x + W_SCANNED, y, STYLE_FAINT, tr(SAY_TR_COL_THEN));
	pane_put(
	    p, x + W_SCANNED + W_THEN, y, STYLE_FAINT, tr(SAY_TR_COL_USE_BY));
	part = pane_part(p, 0, y + 1, p->w, p->h - y - 1);
	list_draw(&s->list, &part, draw_candidate, s);
}

void
trace_draw(struct desk *d, void *state, const struct pane *p)
{
	struct trace *s = state;

	switch (s->mode) {
	case TRACE_ASK:
		draw_ask(s, p);
		break;
	case TRACE_CHAIN:
		trace_draw_chain(d, s, p);
		break;
	case TRACE_DISH:
		trace_draw_dish(s, p);
		break;
	case TRACE_UNKNOWN:
		draw_unknown(s, p);
		break;
	case TRACE_LOTS:
		trace_draw_lots(s, p);
		break;
	case TRACE_RECALL:
		trace_draw_recall(d, s, p);
		break;
	}
}
