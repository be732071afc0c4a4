/* trace_recall_draw.c - recalls, and batches by what a supplier names, as they
 * look on the Trace screen. */
#include <string.h>

#include "base/str.h"
#include "hand_words.h"
#include "says_recall.h"
#include "trace_inner.h"
#include "trace_recall.h"

#define W_CODE 10
#define W_BOX 4
#define W_AMOUNT 17
#define W_PLACE 14
#define W_STATE 11

static char *
at_text(char *dst, size_t size, int64_t utc)
{
	struct local_time t = local_from_utc(utc);
	char date[48];

	str_fmt(dst, size, "%s %02d:%02d", hand_date(date, sizeof(date), t.day),
	    t.hour, t.minute);
	return dst;
}

/* --- by lot ---------------------------------------------------------------*/

static void
draw_lot(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct trace *s = arg;
	const struct lot_batch *b = &s->recalls.lots.list.items[i];
	char code[CODE_SIZE], text[300], w[32], date[48];
	int rest = 30, x;

	x = pane_cut(row, 0, 0, W_CODE, style, code_show(code, b->code));
	x = pane_cut(
	    row, x, 0, W_CODE, style, hand_date(date, sizeof(date), b->day));
	str_fmt(text, sizeof(text), tr(SAY_RC_LOT_ROW), b->document, b->lot,
	    b->supplier);
	x = pane_cut(row, x, 0, row->w - x - rest - 1, style, text) + 1;
	if (b->refused)
		str_copy(text, sizeof(text), tr(SAY_RC_LOT_REFUSED));
	else if (b->held)
		str_copy(text, sizeof(text), tr(SAY_RC_LOT_HELD));
	else
		str_fmt(text, sizeof(text), tr(SAY_RC_LOT_LEFT),
		    weight_print(w, sizeof(w), b->weight_left),
		    (long long)b->left, (long long)b->used);
	pane_cut(row, x, 0, row->w - x, style, text);
}

void
trace_draw_lots(struct trace *s, const struct pane *p)
{
	const struct trace_lots *t = &s->recalls.lots;
	char text[300];
	struct pane part;
	int y = 1;

	str_fmt(text, sizeof(text), trn(SAY_RC_LOTS, (long)t->list.count),
	    t->what, (long)t->list.count);
	pane_cut(p, 0, 0, p->w, STYLE_STRONG, text);
	if (t->list.count == 0) {
		part = pane_part(p, 0, 2, p->w, p->h - 2);
		(void)pane_wrap(&part, 0, STYLE_PLAIN, tr(SAY_RC_LOTS_EMPTY));
		return;
	}
	if (t->more) {
		str_fmt(
		    text, sizeof(text), tr(SAY_RC_LOTS_MORE), TRACE_LOTS_MAX);
		pane_cut(p, 0, y++, p->w, STYLE_WARN, text);
	}
	part = pane_part(p, 0, y + 1, p->w, p->h - y - 1);
	list_draw(&s->list, &part, draw_lot, s);
}

/* --- a recall -------------------------------------------------------------*/

/* What the last scan was, or what to do. */
static enum style
answer(char *dst, size_t size, const struct trace_recalls *r)
{
	const struct recall_scan *l = &r->last;
	const struct recall_count *c = &r->page.count;
	const struct species *sp = species_find(r->page.species, l->name);
	const char *name = sp == NULL ? l->name : sp->name; /* of a batch */
	char code[CODE_SIZE];

	code_show(code, l->code);
	if (r->page.recall.outcome != RECALL_OPEN) {
		str_fmt(dst, size, tr(SAY_RC_STOOD), (long long)c->found,
		    (long long)c->pull, (long long)c->missing);
		return STYLE_PLAIN;
	}
	if (!r->scanned && c->pull == 0) {
		str_copy(dst, size, tr(SAY_RC_NOTHING));
		return STYLE_PLAIN;
	}
	if (!r->scanned && c->missing == 0) {
		str_fmt(dst, size, tr(SAY_RC_ALL_FOUND), (long long)c->pull);
		return STYLE_GOOD;
	}
	if (!r->scanned) {
		str_fmt(dst, size, tr(SAY_RC_SCAN_NOW), (long long)c->found,
		    (long long)c->pull, (long long)c->missing);
		return STYLE_PLAIN;
	}
	switch (l->verdict) {
	case TICK_FOUND:
		if (l->lacking > 0)
			str_fmt(dst, size, tr(SAY_RC_FOUND_PART), code, name,
			    (long long)l->found, (long long)l->lacking);
		else
			str_fmt(dst, size, tr(SAY_RC_FOUND), code, name,
			    (long long)l->found);
		return STYLE_GOOD;
	case TICK_AGAIN:
		str_fmt(dst, size, tr(SAY_RC_AGAIN), code, name);
		return STYLE_WARN;
	case TICK_SURPRISE:
		str_fmt(dst, size, tr(SAY_RC_SURPRISE), code, name, l->says);
		return STYLE_BAD;
	case TICK_OTHER:
		str_fmt(dst, size, tr(SAY_RC_OTHER), code, name, l->says);
		return STYLE_WARN;
	case TICK_UNKNOWN:
	case TICK_COUNT:
		break;
	}
	str_fmt(dst, size, tr(SAY_RC_UNKNOWN), code, l->says);
	return STYLE_BAD;
}

static void
draw_item(const void *arg, int n, const struct pane *row, enum style style)
{
	const struct trace *s = arg;
	const struct recall_item *i = s->recalls.rows[n];
	const struct species *sp =
	    species_find(s->recalls.page.species, i->name);
	bool batch = i->subject.batch_id != 0;
	int64_t missing = recall_item_missing(i);
	char code[CODE_SIZE], text[120], w[32];
	int x;

	x = pane_cut(row, 0, 0, W_BOX, style, missing > 0 ? "[ ]" : "[x]");
	x = pane_cut(row, x, 0, W_CODE, style, code_show(code, i->code));
	x = pane_cut(row, x, 0, row->w - x - W_AMOUNT - W_PLACE - W_STATE - 1,
		style, batch && sp != NULL ? sp->name : i->name) +
	    1;
	if (batch)
		str_fmt(text, sizeof(text), tr(SAY_RC_WHOLE),
		    weight_print(w, sizeof(w), i->weight_g));
	else
		str_fmt(text, sizeof(text), tr(SAY_RC_OF), (long long)i->left,
		    (long long)i->made);
	x = pane_cut(row, x, 0, W_AMOUNT, style, text);
	if (i->place_now[0] == '\0')
		str_copy(text, sizeof(text), i->place);
	else
		str_fmt(text, sizeof(text), tr(SAY_RC_MOVED), i->place,
		    i->place_now);
	x = pane_cut(row, x, 0, W_PLACE - 1, style, text) + 1;
	if (missing == 0)
		str_copy(text, sizeof(text),
		    tr(i->found > 0 ? SAY_RC_ROW_FOUND : SAY_RC_GONE));
	else if (!batch && missing < i->left)
		str_fmt(text, sizeof(text), tr(SAY_RC_MISSING_PART),
		    (long long)missing);
	else
		str_copy(text, sizeof(text), tr(SAY_RC_MISSING));
	pane_cut(row, x, 0, row->w - x, style, text);
}

static void
draw_head(const struct recall_page *g, const struct pane *p)
{
	const struct recall *r = &g->recall;
	bool open = r->outcome == RECALL_OPEN;
	const char *stands = tr(open ? SAY_RC_OPEN : SAY_RC_CLOSED);
	char text[500], when[64];

	pane_right(p, p->w, 0, open ? STYLE_BAD : STYLE_STRONG, stands);
	str_fmt(
	    text, sizeof(text), tr(SAY_RC_TITLE), (long long)r->id, r->what);
	pane_cut(p, 0, 0, p->w - text_columns(stands) - 2, STYLE_STRONG, text);
	if (open)
		str_fmt(text, sizeof(text), tr(SAY_RC_OPENED),
		    at_text(when, sizeof(when), r->at.utc), r->at.by,
		    r->reason);
	else
		str_fmt(text, sizeof(text), tr(SAY_RC_ENDED),
		    at_text(when, sizeof(when), r->end.utc), r->end.by,
		    trace_outcome_says(NULL, (size_t)r->outcome - 1),
		    r->end_reason);
	pane_cut(p, 0, 1, p->w, STYLE_FAINT, text);
}

void
trace_draw_recall(struct desk *d, struct trace *s, const struct pane *p)
{
	const struct trace_recalls *r = &s->recalls;
	const struct recall_page *g = &r->page;
	char text[600], served[80], notes[80], big[48];
	struct pane part;
	enum style style;
	int x, y = 3 + BIG_ROWS;

	(void)d;
	draw_head(g, p);
	style = answer(text, sizeof(text), r);
	str_fmt(big, sizeof(big), "%lld/%lld", (long long)g->count.found,
	    (long long)g->count.pull);
	x = hand_big(p, 0, 2, style, big) + 2;
	part = pane_part(p, x, 2, p->w - x, BIG_ROWS + 1);
	(void)pane_wrap(&part, 0, style, text);
	pane_rule(p, y - 1);
	str_fmt(served, sizeof(served), trn(SAY_RC_SERVED, (long)g->use_count),
	    (long)g->use_count);
	str_fmt(notes, sizeof(notes), trn(SAY_RC_NOTES, (long)g->notes.count),
	    (long)g->notes.count);
	str_fmt(text, sizeof(text), tr(SAY_RC_FOOT), served, notes);
	pane_cut(p, 0, p->h - 1, p->w, STYLE_FAINT, text);
	part = pane_part(p, 0, y, p->w, p->h - y - 1);
	list_draw(&s->list, &part, draw_item, s);
}
