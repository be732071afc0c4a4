/* on_hand_draw.c - what is on hand, as a list with the chosen one below. */
#include <string.h>

#include "base/str.h"
#include "hand_words.h"
#include "on_hand.h"
#include "says_hand.h"
#include "says_on_hand.h"
#include "term/when.h"

/* Columns of a row; what is left over is the name's. */
#define W_MARK 2
#define W_DATE 11
#define W_STANDS 17
#define W_AMOUNT 13
#define W_CODE 10

#define HEAD_ROWS 3
#define DETAIL_ROWS (1 + BIG_ROWS) /* a rule and the large digits */

const char *
on_hand_state_word(enum on_hand_state s)
{
	static const char *const words[] = {
		[ON_HAND_ANY] = SAY_HAND_ANY_STATE,
		[ON_HAND_RAW] = SAY_HAND_RAW,
		[ON_HAND_COOKED] = SAY_HAND_COOKED,
		[ON_HAND_LIVE] = SAY_HAND_LIVE,
		[ON_HAND_FROZEN] = SAY_HAND_IS_FROZEN,
		[ON_HAND_THAWED] = SAY_HAND_IS_THAWED,
		[ON_HAND_HELD] = SAY_HAND_HELD,
		[ON_HAND_EXPIRED] = SAY_HAND_IS_EXPIRED,
		[ON_HAND_TODAY] = SAY_HAND_IS_TODAY,
	};

	return tr(words[s]);
}

/* --- the head -------------------------------------------------------------*/

static void
join(char *text, size_t size, const char *more)
{
	char was[400];

	str_fmt(was, sizeof(was), "%s", text);
	str_fmt(text, size, tr(SAY_HAND_AND), was, more);
}

/* "Shown: portions and trays, frozen, Atlantic cod" */
static void
draw_filter(const struct on_hand *s, const struct pane *p, int end)
{
	static const char *const what[] = {
		[ON_HAND_BOTH] = SAY_HAND_WHAT_BOTH,
		[ON_HAND_BATCHES] = SAY_HAND_WHAT_BATCHES,
		[ON_HAND_UNITS] = SAY_HAND_WHAT_UNITS,
	};
	const struct on_hand_filter *f = &s->filter;
	char text[400], line[440];

	str_copy(text, sizeof(text), tr(what[f->what]));
	if (f->state != ON_HAND_ANY)
		join(text, sizeof(text), on_hand_state_word(f->state));
	if (f->species[0] != '\0')
		join(text, sizeof(text), s->species);
	if (f->dish[0] != '\0')
		join(text, sizeof(text), s->dish);
	str_fmt(line, sizeof(line), tr(SAY_HAND_SHOWS), text);
	pane_cut(p, 0, 0, end, STYLE_PLAIN, line);
}

/* One part more of the total, when there is any of it. */
static void
add_part(char *text, size_t size, bool any, const char *part)
{
	if (any && text[0] != '\0')
		join(text, size, part);
	else if (any)
		str_copy(text, size, part);
}

static int
draw_total(const struct on_hand *s, const struct pane *p)
{
	const struct on_hand_sum *t = &s->page.sum;
	char part[48], text[200] = "";

	str_fmt(part, sizeof(part), trn(SAY_HAND_BATCHES, (long)t->batches),
	    (int)t->batches);
	add_part(text, sizeof(text), t->batches > 0, part);
	str_fmt(part, sizeof(part), trn(SAY_HAND_UNITS, (long)t->units),
	    (int)t->units);
	add_part(text, sizeof(text), t->units > 0, part);
	hand_portions(part, sizeof(part), t->servings);
	add_part(text, sizeof(text), t->units > 0, part);
	weight_print(part, sizeof(part), t->weight_g);
	add_part(text, sizeof(text), t->rows > 0, part);
	pane_right(p, p->w, 0, STYLE_FAINT, text);
	return p->w - text_columns(text) - 2;
}

/* The one line that matters most: marks, what expired, what expires today. */
static void
draw_urgent(const struct on_hand *s, const struct pane *p)
{
	int expired = (int)s->page.expired_rows;
	int today = (int)s->page.today_rows;
	int x = 0;

	if (s->mark_count > 0)
		x = pane_fmt(p, x, 1, STYLE_STRONG,
			trn(SAY_HAND_MARKED, (long)s->mark_count),
			(int)s->mark_count) +
		    2;
	if (expired > 0)
		pane_fmt(p, x, 1, STYLE_BAD, trn(SAY_HAND_EXPIRED_N, expired),
		    expired);
	else if (today > 0)
		pane_fmt(
		    p, x, 1, STYLE_WARN, trn(SAY_HAND_TODAY_N, today), today);
}

/* --- the list -------------------------------------------------------------*/

static void
draw_row(const void *arg, int i, const struct pane *row, enum style style)
{
	const struct on_hand *s = arg;
	const struct on_hand_row *r = on_hand_row(s, i);
	char date[48], stands[64], amount[64], code[CODE_SIZE];
	int name = row->w - W_MARK - W_DATE - W_STANDS - W_AMOUNT - W_CODE;
	enum style how;
	int x;

	if (r == NULL)
		return;
	how = hand_standing(stands, sizeof(stands), r);
	if (style == STYLE_CHOSEN)
		how = style;
	x = pane_cut(
	    row, 0, 0, W_MARK, style, on_hand_marked(s, r->code) ? "*" : "");
	x = pane_cut(
	    row, x, 0, W_DATE, style, hand_date(date, sizeof(date), r->use_by));
	x = pane_cut(row, x, 0, W_STANDS - 1, how, stands) + 1;
	x = pane_cut(row, x, 0, name - 1, style, r->name) + 1;
	x = pane_cut(row, x, 0, W_AMOUNT - 1, style,
		hand_amount(amount, sizeof(amount), r)) +
	    1;
	pane_cut(row, x, 0, W_CODE - 1, style, code_show(code, r->code));
}

static void
draw_columns(const struct pane *p, int y)
{
	int x = LIST_NUMBER + W_MARK;
	int code = p->w - W_CODE;

	pane_put(p, x, y, STYLE_FAINT, tr(SAY_HAND_COL_USE_BY));
	pane_put(
	    p, x + W_DATE + W_STANDS, y, STYLE_FAINT, tr(SAY_HAND_COL_WHAT));
	pane_put(p, code - W_AMOUNT, y, STYLE_FAINT, tr(SAY_HAND_COL_LEFT));
	pane_put(p, code, y, STYLE_FAINT, tr(SAY_HAND_COL_CODE));
}

/* --- the chosen one -------------------------------------------------------*/

static void
code_line(char *dst, size_t size, const struct on_hand_row *r)
{
	char code[CODE_SIZE], batch[CODE_SIZE + 8];
	size_t n;

	code_show(batch, r->batch);
	n = strlen(batch);
	if (r->others > 0)
		str_fmt(batch + n, sizeof(batch) - n, " +%d", r->others);
	if (r->kind == CODE_BATCH)
		str_fmt(dst, size, tr(SAY_HAND_BATCH_CODE),
		    code_show(code, r->code),
		    presentation_word(r->presentation));
	else
		str_fmt(dst, size, tr(SAY_HAND_UNIT_CODE),
		    code_show(code, r->code), batch, r->species_name);
}

static void
amount_line(char *dst, size_t size, const struct on_hand_row *r)
{
	char weight[32], fish[64];

	weight_print(weight, sizeof(weight), r->weight_g);
	if (r->kind == CODE_PORTION)
		str_fmt(dst, size, tr(SAY_HAND_UNIT_LEFT), (long long)r->count,
		    (long long)r->made, weight);
	else if (r->count > 0)
		str_fmt(dst, size, tr(SAY_HAND_BATCH_LEFT),
		    hand_amount(fish, sizeof(fish), r), weight);
	else
		str_copy(dst, size, weight);
}

/* What else there is to know, in order of weight. */
static enum style
state_line(char *dst, size_t size, const struct on_hand_row *r, day_no today)
{
	char day[80];
	struct local_time t;

	if (r->held) {
		str_fmt(dst, size,
		    tr(r->own_hold ? SAY_HAND_HELD_WHY : SAY_HAND_HELD_BATCH),
		    r->hold_reason);
		return STYLE_BAD;
	}
	if (r->expired) {
		str_copy(dst, size, tr(SAY_HAND_OUT));
		return STYLE_BAD;
	}
	when_words(day, sizeof(day), r->use_by, today);
	str_fmt(
	    dst, size, tr(SAY_HAND_IS_UNTIL), on_hand_state_word(r->is), day);
	if (!hand_at_end(r->use_by_utc, &t)) {
		str_fmt(day, sizeof(day), tr(SAY_HAND_UNTIL), t.hour, t.minute);
		join(dst, size, day);
	}
	return r->days_left == 0 ? STYLE_WARN : STYLE_PLAIN;
}

static void
draw_detail(const struct on_hand_row *r, day_no today, const struct pane *p)
{
	char text[400];
	enum style how;
	struct pane side;
	int x;

	pane_rule(p, 0);
	x = hand_big_date(
		p, 0, 1, r->expired ? STYLE_BAD : STYLE_STRONG, r->use_by) +
	    2;
	if (x > p->w - 24)
		x = p->w - 24 < 0 ? 0 : p->w - 24;
	side = pane_part(p, x, 1, p->w - x, BIG_ROWS);
	amount_line(text, sizeof(text), r);
	pane_right(&side, side.w, 0, STYLE_STRONG, text);
	pane_cut(&side, 0, 0, side.w - text_columns(text) - 1, STYLE_STRONG,
	    r->name);
	code_line(text, sizeof(text), r);
	pane_cut(&side, 0, 1, side.w, STYLE_PLAIN, text);
	if (r->place[0] != '\0') {
		str_fmt(text, sizeof(text), tr(SAY_HAND_PLACE), r->place);
		pane_right(&side, side.w, 1, STYLE_STRONG, text);
	}
	how = state_line(text, sizeof(text), r, today);
	pane_cut(&side, 0, 2, side.w, how, text);
}

/* --- all of it ------------------------------------------------------------*/

static void
draw_list(struct desk *d, struct on_hand *s, const struct pane *p)
{
	int to;

	list_draw(&s->list, p, draw_row, s);
	to = s->list.top + p->h;
	to = to > s->list.count ? s->list.count : to;
	if (on_hand_row(s, s->list.top) != NULL &&
	    on_hand_row(s, to - 1) != NULL)
		return;
	/* Scrolled out of the window: fetch another and draw once more. */
	on_hand_see(d, s, s->list.top, to);
	pane_fill(p, 0, 0, p->w, p->h, STYLE_PLAIN);
	list_draw(&s->list, p, draw_row, s);
}

void
on_hand_draw(struct desk *d, void *state, const struct pane *p)
{
	struct on_hand *s = state;
	const struct on_hand_row *r;
	int detail = p->h > HEAD_ROWS + DETAIL_ROWS + 3 ? DETAIL_ROWS : 0;
	struct pane part;
	int end = draw_total(s, p);

	draw_filter(s, p, end);
	draw_urgent(s, p);
	if (s->list.count == 0) {
		part = pane_part(p, 0, HEAD_ROWS, p->w, p->h - HEAD_ROWS);
		(void)pane_wrap(&part, 0, STYLE_PLAIN,
		    tr(s->page.all.rows == 0 ? SAY_HAND_EMPTY
					     : SAY_HAND_EMPTY_FILTER));
		return;
	}
	draw_columns(p, HEAD_ROWS - 1);
	part = pane_part(p, 0, HEAD_ROWS, p->w, p->h - HEAD_ROWS - detail);
	draw_list(d, s, &part);
	r = on_hand_row(s, s->list.at); /* the window may have moved */
	if (detail == 0 || r == NULL)
		return;
	part = pane_part(p, 0, p->h - detail, p->w, detail);
	draw_detail(r, s->page.today, &part);
}
