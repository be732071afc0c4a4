/*
 * complaint_sheet.c - the answer at the pass, before anything is typed: which
 * batch, whose, how old, who cut it, and what else of it is about.
 */
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "hand_words.h"
#include "says_complaint.h"
#include "trace_inner.h"

#define LABEL_W 10
#define WANT_W 100
#define WANT_H 18

struct answer {
	struct trace *s;
};

static int
put_line(const struct pane *q, int y, const char *label, const char *text)
{
	pane_cut(q, 0, y, LABEL_W, STYLE_FAINT, label);
	pane_cut(q, LABEL_W, y, q->w - LABEL_W, STYLE_STRONG, text);
	return y + 1;
}

/* "Thu 3 Dec 09:10" */
static char *
at_text(char *dst, size_t size, int64_t utc)
{
	struct local_time t = local_from_utc(utc);
	char date[48];

	str_fmt(dst, size, "%s %02d:%02d", hand_date(date, sizeof(date), t.day),
	    t.hour, t.minute);
	return dst;
}

/* Large, side by side: until when, how many are left, how many went out. */
static void
draw_large(const struct trace_page *g, const struct pane *p, int y)
{
	struct local_time t = local_from_utc(
	    g->of_portion ? g->unit.portion.use_by_utc : g->batch.use_by_utc);
	const struct {
		int64_t n;
		const char *word;
	} counts[] = {
		{ g->counts.left, SAY_CO_ON_HAND },
		{ g->counts.used, SAY_CO_SERVED },
	};
	struct pane part = pane_part(p, 0, y, p->w / 2, BIG_ROWS + 1);
	char text[32];
	int i, w = p->w / 4;

	hand_big_date(&part, 0, 0, STYLE_STRONG, t.day);
	pane_cut(&part, 0, BIG_ROWS, part.w, STYLE_FAINT, tr(SAY_CO_USE_BY));
	for (i = 0; i < 2; i++) {
		part = pane_part(p, p->w / 2 + i * w, y, w - 1, BIG_ROWS + 1);
		str_fmt(text, sizeof(text), "%lld", (long long)counts[i].n);
		hand_big(&part, 0, 0, STYLE_STRONG, text);
		pane_cut(&part, 0, BIG_ROWS, part.w, STYLE_FAINT,
		    tr(counts[i].word));
	}
}

static int
put_cut(const struct trace_page *g, const struct pane *p, int y)
{
	const struct prep *r = NULL;
	char when[64], text[120];
	size_t i;

	if (g->of_portion)
		r = &g->prep;
	else
		for (i = 0; i < g->preps.count; i++)
			if (!g->preps.items[i].struck)
				r = &g->preps.items[i];
	if (r == NULL)
		return put_line(p, y, tr(SAY_CO_CUT), tr(SAY_CO_NOT_CUT));
	str_fmt(text, sizeof(text), tr(SAY_CO_CUT_BY),
	    at_text(when, sizeof(when), r->at.utc), r->at.by);
	return put_line(p, y, tr(SAY_CO_CUT), text);
}

static void
draw_code(const struct trace_page *g, const struct pane *p)
{
	const struct batch *b = &g->batch;
	const char *held = tr(g->hold.id != 0 ? SAY_CO_HELD : SAY_CO_NOT_HELD);
	char code[CODE_SIZE], when[64], temp[32], text[400];
	int y = BIG_ROWS;

	hand_big(p, 0, 0, STYLE_STRONG, code_show(code, b->code));
	pane_right(
	    p, p->w, BIG_ROWS, g->hold.id != 0 ? STYLE_BAD : STYLE_FAINT, held);
	str_fmt(text, sizeof(text), tr(SAY_CO_DISH), g->species,
	    presentation_word(b->presentation));
	pane_cut(p, 0, y, p->w - text_columns(held) - 2, STYLE_STRONG, text);
	draw_large(g, p, y + 1);
	y += 2 + BIG_ROWS + 1;
	if (g->of_portion) {
		str_fmt(text, sizeof(text), tr(SAY_CO_DISH),
		    code_show(code, g->code), g->unit.portion.dish_name);
		y = put_line(p, y, tr(SAY_CO_THIS), text);
	}
	if (b->supplier.contact[0] != '\0')
		str_fmt(text, sizeof(text), tr(SAY_CO_CALL), b->supplier.name,
		    b->supplier.contact);
	else
		str_copy(text, sizeof(text), b->supplier.name);
	y = put_line(p, y, tr(SAY_CO_FROM), text);
	str_fmt(text, sizeof(text), tr(SAY_CO_PAPER), b->lot, b->document);
	y = put_line(p, y, tr(SAY_CO_LOT), text);
	str_fmt(text, sizeof(text), tr(SAY_CO_RECEIVED),
	    at_text(when, sizeof(when), b->received.utc), b->received.by,
	    temp_print(temp, sizeof(temp), b->temp_dc));
	y = put_line(p, y, tr(SAY_CO_IN), text);
	(void)put_cut(g, p, y);
}

static void
draw_dish(const struct trace_guess *g, const struct pane *p)
{
	const struct trace_candidate *c;
	char text[300], code[CODE_SIZE], sure[80], sitting[80];
	size_t i;
	int y;

	str_fmt(text, sizeof(text), tr(SAY_CO_DISH), g->dish.name,
	    trace_sitting(sitting, sizeof(sitting), &g->service));
	pane_cut(p, 0, 0, p->w, STYLE_STRONG, text);
	if (g->count == 0) {
		pane_put(p, 0, 2, STYLE_WARN, tr(SAY_CO_NO_BATCH));
		return;
	}
	hand_big(p, 0, 2, STYLE_STRONG, code_show(code, g->items[0].is.batch));
	y = 2 + BIG_ROWS + 1;
	for (i = 0; i < g->count && y < p->h - 2; i++, y++) {
		c = &g->items[i];
		str_fmt(sure, sizeof(sure),
		    tr(i < g->certain ? SAY_CO_SURE : SAY_CO_LIKELY),
		    (long long)(i < g->certain ? c->is.scanned
					       : c->is.on_hand));
		str_fmt(text, sizeof(text), "%s  %s, %s, %s: %s",
		    code_show(code, c->is.batch), c->species, c->is.supplier,
		    c->is.lot, sure);
		pane_cut(p, 0, y, p->w,
		    i < g->certain ? STYLE_STRONG : STYLE_PLAIN, text);
	}
}

static void
draw(struct desk *d, void *state, const struct pane *p)
{
	struct answer *a = state;

	(void)d;
	if (a->s->mode == TRACE_DISH)
		draw_dish(&a->s->guess, p);
	else
		draw_code(&a->s->page, p);
	pane_cut(p, 0, p->h - 1, p->w, STYLE_FAINT, tr(SAY_CO_KEYS));
}

static bool
key(struct desk *d, void *state, const struct key *k)
{
	struct answer *a = state;
	struct trace *s = a->s;

	if (k->code != KEY_CODE_ENTER && !key_is(k, 'l'))
		return false;
	desk_shut(d); /* frees `a` */
	if (k->code == KEY_CODE_ENTER)
		(void)complaint_form(d, &s->complaint);
	else
		complaint_ask_list(d, &s->complaint.read);
	return true;
}

void
trace_complaint(struct desk *d, struct trace *s)
{
	static const struct sheet sheet = {
		.title = SAY_CO_TITLE,
		.draw = draw,
		.key = key,
		.want_w = WANT_W,
		.want_h = WANT_H,
	};
	struct complaint_ask *c = &s->complaint;
	struct answer *a = xcalloc(1, sizeof(*a));

	c->code[0] = c->dish[0] = c->service[0] = '\0';
	if (s->mode == TRACE_DISH) {
		str_copy(c->dish, sizeof(c->dish), s->guess.dish.code);
		str_copy(c->service, sizeof(c->service), s->guess.service.word);
	} else {
		str_copy(c->code, sizeof(c->code), s->page.code);
	}
	a->s = s;
	desk_open(d, &sheet, a);
}
