/* service_draw.c - one service: covers, dishes, and what went out last. */
#include <string.h>

#include "base/str.h"
#include "hand_words.h"
#include "says_hand.h"
#include "says_service.h"
#include "service.h"
#include "term/when.h"

#define BIG_GAP 3
#define NUMBERS_AT 1 /* row of the large numbers' labels */
#define DISHES_AT (NUMBERS_AT + 1 + BIG_ROWS)
#define OUT_ROWS (1 + 1 + BIG_ROWS) /* rule, what it is, large date */

/* Columns behind the name. */
#define W_WANT 6
#define W_OUT 6
#define W_HAND 8
#define W_NOTE 12
#define W_NEXT 9
#define W_DATE 10
#define W_LIKELY 9

/* --- head -----------------------------------------------------------------*/

static void
span_words(char *dst, size_t size, int64_t seconds)
{
	int minutes = (int)((seconds + 59) / 60);

	if (minutes < 90)
		str_fmt(dst, size, trn(SAY_SERVE_MINUTES, minutes), minutes);
	else if (minutes < 36 * 60)
		str_fmt(dst, size, trn(SAY_SERVE_HOURS, minutes / 60),
		    minutes / 60);
	else
		str_fmt(dst, size, trn(SAY_SERVE_DAYS, minutes / 1440),
		    minutes / 1440);
}

static enum style
phase_words(char *dst, size_t size, const struct service_page *g)
{
	char span[64];

	if (g->closed) {
		str_fmt(dst, size, tr(SAY_SERVE_CLOSED), g->closing.at.by);
		return STYLE_STRONG;
	}
	if (g->phase == SERVICE_AHEAD) {
		span_words(span, sizeof(span), g->begins_utc - g->now_utc);
		str_fmt(dst, size, tr(SAY_SERVE_AHEAD), span);
		return STYLE_PLAIN;
	}
	str_copy(dst, size,
	    tr(g->phase == SERVICE_NOW ? SAY_SERVE_NOW : SAY_SERVE_OVER));
	return g->phase == SERVICE_NOW ? STYLE_GOOD : STYLE_WARN;
}

static void
draw_head(
    const struct desk *d, const struct service_page *g, const struct pane *p)
{
	const struct service_window *w = g->window;
	char day[80], text[200], phase[120];
	enum style style = phase_words(phase, sizeof(phase), g);

	when_words(day, sizeof(day), g->day, desk_today(d));
	str_fmt(text, sizeof(text), tr(SAY_SERVE_HEAD), w->name, day,
	    w->starts_min / 60, w->starts_min % 60, w->ends_min / 60,
	    w->ends_min % 60);
	pane_cut(p, 0, 0, p->w - text_columns(phase) - 1, STYLE_STRONG, text);
	pane_right(p, p->w, 0, style, phase);
}

/* A large number below its word; returns the column behind both. */
static int
draw_number(
    const struct pane *p, int x, enum style style, const char *word, int64_t n)
{
	char text[32];
	int end, below;

	if (n < 0)
		str_copy(text, sizeof(text), "-");
	else
		str_fmt(text, sizeof(text), "%lld", (long long)n);
	end = pane_put(p, x, NUMBERS_AT, STYLE_FAINT, word);
	below = hand_big(p, x, NUMBERS_AT + 1, style, text);
	return (end > below ? end : below) + BIG_GAP;
}

static void
draw_numbers(const struct service_screen *s, const struct pane *p)
{
	const struct service_page *g = &s->page;
	int x = 0;

	if (!g->booked) {
		struct pane part = pane_part(p, 0, NUMBERS_AT, p->w, 4);

		(void)pane_wrap(&part, 0, STYLE_PLAIN,
		    tr(s->other ? SAY_SERVE_NO_BOOK_OTHER : SAY_SERVE_NO_BOOK));
		return;
	}
	x = draw_number(p, x, STYLE_STRONG, tr(SAY_SERVE_BOOKED),
	    g->closed ? g->closing.booked : g->covers);
	if (g->typed >= 0)
		x = draw_number(
		    p, x, STYLE_STRONG, tr(SAY_SERVE_TYPED), g->typed);
	else
		x = draw_number(p, x, STYLE_STRONG,
		    tr(g->due ? SAY_SERVE_EXPECTING : SAY_SERVE_EXPECTED),
		    g->forecast ? (g->report.covers_c + 50) / 100 : -1);
	if (g->closed) {
		x = draw_number(p, x, STYLE_STRONG, tr(SAY_SERVE_SEATED),
		    g->closing.seated);
		x = draw_number(p, x, STYLE_STRONG, tr(SAY_SERVE_WALKED),
		    g->closing.walk_ins);
	}
	(void)draw_number(p, x, STYLE_STRONG, tr(SAY_SERVE_OUT), g->out_total);
}

/* --- dishes ---------------------------------------------------------------*/

static void
put_count(const struct pane *row, int x, int w, enum style style, bool known,
    int64_t n)
{
	char text[32];

	if (known)
		str_fmt(text, sizeof(text), "%lld", (long long)n);
	else
		str_copy(text, sizeof(text), "-");
	pane_right(row, x + w - 2, 0, style, text);
}

/* What a cook should know of it; the gravest first. */
static enum style
note_words(char *dst, size_t size, const struct service_dish *s)
{
	int64_t missing = s->target - s->out - s->ready - s->early;

	dst[0] = '\0';
	if (s->forecast && missing > 0) {
		str_fmt(dst, size, tr(SAY_SERVE_SHORT), (long long)missing);
		return STYLE_WARN;
	}
	if (s->early > 0)
		str_fmt(dst, size, tr(SAY_SERVE_EARLY), (long long)s->early);
	else if (s->frozen > 0)
		str_fmt(dst, size, tr(SAY_SERVE_FROZEN), (long long)s->frozen);
	else if (s->barred > 0)
		str_fmt(dst, size, tr(SAY_SERVE_BARRED), (long long)s->barred);
	return STYLE_PLAIN;
}

static void
draw_dish(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct service_page *g = arg;
	const struct service_dish *s = &g->dishes[i];
	char text[64], code[CODE_SIZE];
	int x = row->w - W_WANT - W_OUT - W_HAND - W_NOTE - W_NEXT - W_DATE;
	enum style note;

	pane_cut(row, 0, 0, x - 1, style, s->name);
	put_count(row, x, W_WANT, style, s->forecast, s->target);
	put_count(row, x += W_WANT, W_OUT, style, true, s->out);
	put_count(row, x += W_OUT, W_HAND, style, true, s->ready);
	note = note_words(text, sizeof(text), s);
	x += W_HAND;
	pane_cut(
	    row, x, 0, W_NOTE - 1, style == STYLE_CHOSEN ? style : note, text);
	if (s->next_count == 0)
		return;
	x += W_NOTE;
	pane_cut(
	    row, x, 0, W_NEXT - 1, style, code_show(code, s->next[0].code));
	pane_cut(row, x + W_NEXT, 0, W_DATE, style,
	    hand_date_at(text, sizeof(text), s->next[0].use_by_utc));
}

static void
sold_note(char *dst, size_t size, const struct service_dish *s)
{
	if (!s->sold_known)
		str_copy(dst, size, tr(SAY_SERVE_NOT_COUNTED));
	else if (s->ran_out_at >= 0)
		str_fmt(dst, size, tr(SAY_SERVE_RAN_OUT_AT),
		    (long long)s->ran_out_at);
	else
		str_copy(dst, size,
		    s->ran_out_at == SOLD_ON ? "" : tr(SAY_SERVE_RAN_OUT));
}

/* Of a closed service: what was expected beside what was sold. */
static void
draw_sold(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct service_page *g = arg;
	const struct service_dish *s = &g->dishes[i];
	char text[64];
	int x = row->w - W_WANT - W_LIKELY - W_OUT - W_OUT - W_NOTE;

	pane_cut(row, 0, 0, x - 1, style, s->name);
	put_count(row, x, W_WANT, style, s->forecast, s->target);
	x += W_WANT;
	str_copy(text, sizeof(text), "-");
	if (s->forecast)
		str_fmt(text, sizeof(text), tr(SAY_SERVE_LIKELY),
		    (long long)s->low80, (long long)s->high80);
	pane_right(row, x + W_LIKELY - 2, 0, style, text);
	x += W_LIKELY;
	put_count(row, x, W_OUT, style, true, s->out);
	put_count(row, x += W_OUT, W_OUT, style, s->sold_known, s->sold);
	sold_note(text, sizeof(text), s);
	pane_cut(row, x + W_OUT, 0, W_NOTE, style, text);
}

static void
head_right(const struct pane *p, int end, const char *word)
{
	pane_right(p, end, 0, STYLE_FAINT, word);
}

static void
draw_columns(const struct service_page *g, const struct pane *p)
{
	int x = p->w - W_WANT - W_OUT - W_HAND - W_NOTE - W_NEXT - W_DATE;

	pane_put(p, LIST_NUMBER, 0, STYLE_FAINT, tr(SAY_SERVE_COL_DISH));
	if (g->closed) {
		x = p->w - W_WANT - W_LIKELY - W_OUT - W_OUT - W_NOTE - 2;
		head_right(p, x += W_WANT, tr(SAY_SERVE_COL_WANT));
		head_right(p, x += W_LIKELY, tr(SAY_SERVE_COL_LIKELY));
		head_right(p, x += W_OUT, tr(SAY_SERVE_COL_OUT));
		head_right(p, x + W_OUT, tr(SAY_SERVE_COL_SOLD));
		return;
	}
	head_right(p, x + W_WANT - 2, tr(SAY_SERVE_COL_WANT));
	x += W_WANT;
	head_right(p, x + W_OUT - 2, tr(SAY_SERVE_COL_OUT));
	x += W_OUT;
	head_right(p, x + W_HAND - 2, tr(SAY_SERVE_COL_HAND));
	x += W_HAND + W_NOTE;
	pane_put(p, x, 0, STYLE_FAINT, tr(SAY_SERVE_COL_NEXT));
	pane_put(p, x + W_NEXT, 0, STYLE_FAINT, tr(SAY_SERVE_COL_USE_BY));
}

static void
draw_dishes(struct service_screen *s, const struct pane *p)
{
	struct pane part;

	if (s->page.dish_count == 0) {
		(void)pane_wrap(p, 0, STYLE_PLAIN, tr(SAY_SERVE_NO_DISHES));
		return;
	}
	draw_columns(&s->page, p);
	part = pane_part(p, 0, 1, p->w, p->h - 1);
	list_draw(
	    &s->list, &part, s->page.closed ? draw_sold : draw_dish, &s->page);
}

/* --- what went out last ---------------------------------------------------*/

static void
use_row(char *dst, size_t size, const struct portion_use *u)
{
	struct local_time t = local_from_utc(u->at.utc);
	char code[CODE_SIZE], text[200];

	str_fmt(text, sizeof(text), tr(SAY_SERVE_USE_ROW), t.hour, t.minute,
	    u->at.by, (long long)u->servings, code_show(code, u->code),
	    u->dish_name);
	if (u->reason[0] == '\0')
		str_copy(dst, size, text);
	else
		str_fmt(dst, size, tr(SAY_HAND_AND), text, u->reason);
}

/* The last one so large that it is read without coming near. */
static void
draw_last(const struct service_page *g, const struct pane *p)
{
	const struct portion_use *u = &g->uses.items[0];
	char code[CODE_SIZE], text[400];
	struct pane side;
	int x, i;

	pane_put(p, 0, 0, STYLE_FAINT, tr(SAY_SERVE_LAST));
	pane_cut(p, text_columns(tr(SAY_SERVE_LAST)) + 2, 0, p->w / 2 - 8,
	    STYLE_STRONG, u->dish_name);
	x = hand_big_date(
		p, 0, 1, STYLE_STRONG, local_from_utc(u->use_by_utc).day) +
	    2;
	code_show(code, u->code);
	if (u->left > 0)
		str_fmt(text, sizeof(text), tr(SAY_SERVE_LAST_LEFT),
		    (long long)u->left, code);
	else
		str_fmt(text, sizeof(text), tr(SAY_SERVE_USED_UP), code);
	pane_right(p, p->w, 0, STYLE_STRONG, text);
	side = pane_part(p, x, 1, p->w - x, p->h - 1);
	for (i = 0; i < side.h && i < (int)g->uses.count; i++) {
		use_row(text, sizeof(text), &g->uses.items[i]);
		pane_cut(&side, 0, i, side.w,
		    i == 0 ? STYLE_PLAIN : STYLE_FAINT, text);
	}
}

static void
draw_out(const struct service_page *g, const struct pane *p)
{
	struct pane part = pane_part(p, 0, 1, p->w, p->h - 1);

	pane_rule(p, 0);
	if (g->uses.count > 0)
		draw_last(g, &part);
	else
		(void)pane_wrap(
		    &part, 0, STYLE_PLAIN, tr(SAY_SERVE_NOTHING_OUT));
}

/* --- all of it ------------------------------------------------------------*/

void
service_draw(struct desk *d, void *state, const struct pane *p)
{
	struct service_screen *s = state;
	int out = p->h >= DISHES_AT + OUT_ROWS + 4 ? OUT_ROWS : 0;
	struct pane part;

	if (!s->loaded)
		return;
	if (s->close.shown) {
		service_close_draw(s, p);
		return;
	}
	draw_head(d, &s->page, p);
	draw_numbers(s, p);
	part = pane_part(p, 0, DISHES_AT, p->w, p->h - DISHES_AT - out);
	draw_dishes(s, &part);
	if (out == 0)
		return;
	part = pane_part(p, 0, p->h - out, p->w, out);
	draw_out(&s->page, &part);
}
