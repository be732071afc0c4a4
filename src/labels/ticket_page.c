/* ticket_page.c - the rows of a list put on pages. */
#include "ticket_page.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"

#define REPRINT_MAX 999 /* as on a label */

/* Fills page after page. */
struct fill {
	struct ticket_layout *l;
	const struct ticket *t;
	const struct ticket_rows *rows;
	struct fonts *fonts;
	bool training;
	int reprint;
	int room;    /* for rows, whatever marks there are */
	int y;       /* of the page: first free row */
	int used;    /* of the room */
	bool fresh;  /* nothing of this page's own on it yet */
	size_t head; /* rows of the group's head, and its end; equal: none */
	size_t head_end;
};

static struct ticket_page *
page_of(struct fill *f)
{
	return &f->l->pages[f->l->count - 1];
}

static struct ticket_piece *
add(struct fill *f, enum piece_kind kind, int x, int y, size_t line)
{
	struct ticket_page *p = page_of(f);
	struct ticket_piece *piece;

	p->pieces = grow(p->pieces, &p->cap, p->count, sizeof(*p->pieces));
	piece = &p->pieces[p->count++];
	memset(piece, 0, sizeof(*piece));
	piece->kind = kind;
	piece->x = x;
	piece->y = y;
	piece->line = line;
	return piece;
}

static struct ticket_piece *
add_area(struct fill *f, enum piece_kind kind, int x, int y, int w, int h,
    size_t line)
{
	struct ticket_piece *piece = add(f, kind, x, y, line);

	piece->w = w;
	piece->h = h;
	return piece;
}

static void
add_text(struct fill *f, const struct text *text, int x, int y, size_t line)
{
	struct ticket_piece *piece;

	if (text->s[0] == '\0')
		return;
	piece = add(f, PIECE_TEXT, x, y, line);
	piece->s = xstrdup(text->s);
	piece->px = text->px;
	piece->white = text->white;
}

/* --- marks and foot ------------------------------------------------------- */

static int
bar_height(const struct ticket_measure *m)
{
	return m->px[TICKET_LINE] + 2 * m->thick;
}

/* With the white below it. */
static int
mark_height(const struct ticket_measure *m)
{
	return bar_height(m) + m->above[TICKET_LINE];
}

/* White on black across the roll, as on a label. */
static enum rc
put_mark(struct fill *f, const char *words, struct err *err)
{
	const struct ticket_measure *m = &f->l->m;
	struct text text = { words, FONT_TEXT, m->px[TICKET_LINE], true };
	int h = bar_height(m);
	struct text_extent e;
	enum rc rc;

	for (;; text.px--) {
		if ((rc = font_measure(&e, f->fonts, &text, err)) != RC_OK)
			return rc;
		if (e.right - e.left <= m->room - 2 * m->gap)
			break;
		assert(text.px > m->least);
	}
	add_area(f, PIECE_BLACK, m->margin, f->y, m->room, h, PIECE_OWN);
	add_text(f, &text,
	    m->margin + (m->room - e.right + e.left) / 2 - e.left,
	    f->y + (h + e.ascent) / 2, PIECE_OWN);
	f->y += mark_height(m);
	return RC_OK;
}

static enum rc
put_marks(struct fill *f, struct err *err)
{
	char words[24];
	enum rc rc = RC_OK;

	if (f->training)
		rc = put_mark(f, "TRAINING, NOT FOR SERVICE", err);
	str_fmt(words, sizeof(words), "REPRINT %d", f->reprint);
	if (rc == RC_OK && f->reprint > 0)
		rc = put_mark(f, words, err);
	return rc;
}

static int
foot_height(const struct ticket_measure *m)
{
	return 2 * m->above[TICKET_SMALL] + m->thin + m->px[TICKET_SMALL];
}

static bool
ends_in_rule(const struct fill *f, const struct ticket_page *p)
{
	const struct ticket_piece *last =
	    p->count == 0 ? NULL : &p->pieces[p->count - 1];

	return last != NULL && last->line != PIECE_OWN &&
	    ticket_at(f->t, last->line)->style == TICKET_RULE;
}

/* Which page it is, and whether the list goes on: whoever holds the page can
 * tell that it is not the whole list. */
static enum rc
put_foot(struct fill *f, size_t page, struct err *err)
{
	const struct ticket_measure *m = &f->l->m;
	struct ticket_page *p = &f->l->pages[page];
	size_t last = f->l->count;
	char words[48];
	struct text text = { words, FONT_TEXT, m->px[TICKET_SMALL], false };
	struct text_extent e;
	int y = p->height + m->above[TICKET_SMALL];
	enum rc rc;

	f->l->count = page + 1;
	if (!ends_in_rule(f, p))
		add_area(
		    f, PIECE_BLACK, m->margin, y, m->room, m->thin, PIECE_OWN);
	y += m->thin + m->above[TICKET_SMALL] + (text.px * 76 + 99) / 100;
	str_fmt(words, sizeof(words), "page %zu of %zu", page + 1, last);
	if ((rc = font_measure(&e, f->fonts, &text, err)) == RC_OK)
		add_text(f, &text, m->margin - e.left, y, PIECE_OWN);
	str_copy(words, sizeof(words), page + 1 < last ? "goes on" : "end");
	if (rc == RC_OK &&
	    (rc = font_measure(&e, f->fonts, &text, err)) == RC_OK)
		add_text(f, &text, m->margin + m->room - e.right, y, PIECE_OWN);
	f->l->count = last;
	p->height += foot_height(m) + m->feed;
	return rc;
}

/* --- rows ----------------------------------------------------------------- */

static enum ticket_style
style_of(const struct fill *f, size_t row)
{
	return ticket_at(f->t, f->rows->items[row].line)->style;
}

/* From the top of a row to its baseline; capitals stand in the middle of a
 * tick box. */
static int
baseline(const struct fill *f, size_t i)
{
	const struct ticket_row *r = &f->rows->items[i];
	int capital = r->px * 73 / 100, middle = (f->l->m.box + capital) / 2;

	if (style_of(f, i) == TICKET_TICK && r->first && r->ascent < middle)
		return middle;
	return r->ascent;
}

static int
row_height(const struct fill *f, size_t i)
{
	const struct ticket_measure *m = &f->l->m;
	const struct ticket_row *r = &f->rows->items[i];
	enum ticket_style style = style_of(f, i);
	int h = baseline(f, i) + r->descent;

	if (style == TICKET_RULE)
		return m->thick;
	if (style == TICKET_HEAD && r->last)
		h += m->thin + m->above[TICKET_SMALL] / 2;
	if (style == TICKET_TICK && r->first && h < m->box)
		h = m->box;
	return h;
}

/* White above a row: none above the first of a page. */
static int
row_above(const struct fill *f, size_t i, int used)
{
	const struct ticket_row *r = &f->rows->items[i];

	if (used == 0)
		return 0;
	return r->first ? f->l->m.above[style_of(f, i)] : r->px / 12 + 1;
}

static int
height(const struct fill *f, size_t from, size_t end)
{
	int used = f->used;
	size_t i;

	for (i = from; i < end; i++)
		used += row_above(f, i, used) + row_height(f, i);
	return used - f->used;
}

static void
draw_row(struct fill *f, size_t i, bool again)
{
	const struct ticket_measure *m = &f->l->m;
	const struct ticket_row *r = &f->rows->items[i];
	const struct ticket_line *l = ticket_at(f->t, r->line);
	struct text text = { r->left, FONT_TEXT, r->px, false };
	size_t from = page_of(f)->count;
	int base = f->y + baseline(f, i);

	if (l->style == TICKET_RULE) {
		add_area(f, PIECE_BLACK, m->margin, f->y, m->room, m->thick,
		    r->line);
		return;
	}
	if (l->style == TICKET_TICK && r->first)
		add_area(
		    f, PIECE_BOX, m->margin, f->y, m->box, m->box, r->line);
	add_text(f, &text, r->x, base, r->line);
	text.s = l->right;
	if (r->first)
		add_text(f, &text, r->right_x, base, r->line);
	if (l->style == TICKET_HEAD && r->last)
		add_area(f, PIECE_BLACK, m->margin,
		    f->y + row_height(f, i) - m->thin, m->room, m->thin,
		    r->line);
	for (; from < page_of(f)->count; from++)
		page_of(f)->pieces[from].again = again;
}

static void
put_rows(struct fill *f, size_t from, size_t end, bool again)
{
	int above;
	size_t i;

	for (i = from; i < end; i++) {
		above = row_above(f, i, f->used);
		f->y += above;
		draw_row(f, i, again);
		f->y += row_height(f, i);
		f->used += above + row_height(f, i);
	}
	if (!again && from < end)
		f->fresh = false;
}

/* Behind the last row of the line of row `i`. */
static size_t
line_end(const struct fill *f, size_t i)
{
	while (!f->rows->items[i].last)
		i++;
	return i + 1;
}

/* Nothing on it: room to write in. */
static bool
is_blank(const struct fill *f, size_t i)
{
	const struct ticket_line *l = ticket_at(f->t, f->rows->items[i].line);

	return l->style == TICKET_LINE && l->left[0] == '\0' &&
	    l->right[0] == '\0';
}

/* What stays together: heads and rules with the entry behind them, an entry
 * with its remarks and the room to write below it; the rule that ends the list
 * with what it ends. */
static size_t
block_end(const struct fill *f, size_t i)
{
	enum ticket_style style;

	for (; i < f->rows->count; i = line_end(f, i)) {
		style = style_of(f, i);
		if (style != TICKET_HEAD && style != TICKET_RULE)
			break;
	}
	if (i < f->rows->count)
		i = line_end(f, i);
	while (i < f->rows->count &&
	    (style_of(f, i) == TICKET_SMALL || is_blank(f, i)))
		i = line_end(f, i);
	if (i + 1 == f->rows->count && style_of(f, i) == TICKET_RULE)
		i++;
	return i;
}

/* --- pages ---------------------------------------------------------------- */

static enum rc
start_page(struct fill *f, size_t row, struct err *err)
{
	const struct ticket_measure *m = &f->l->m;
	struct ticket_layout *l = f->l;
	enum ticket_style style = style_of(f, row);
	enum rc rc;

	if (l->count > 0)
		page_of(f)->height = f->y;
	l->pages = grow(l->pages, &l->cap, l->count, sizeof(*l->pages));
	memset(&l->pages[l->count++], 0, sizeof(*l->pages));
	f->y = m->margin;
	f->used = 0;
	f->fresh = true;
	if ((rc = put_marks(f, err)) != RC_OK || l->count == 1)
		return rc;
	if (style_of(f, 0) == TICKET_TITLE)
		put_rows(f, 0, line_end(f, 0), true);
	/* A head as long as that says itself only once. */
	if (style != TICKET_HEAD && style != TICKET_RULE &&
	    height(f, f->head, f->head_end) <= f->room / 2)
		put_rows(f, f->head, f->head_end, true);
	return RC_OK;
}

/* Rows from..end, on the next page when this one is full. */
static enum rc
flow(struct fill *f, size_t from, size_t end, struct err *err)
{
	enum rc rc;

	if (f->used + height(f, from, end) > f->room && !f->fresh &&
	    (rc = start_page(f, from, err)) != RC_OK)
		return rc;
	if (f->used + height(f, from, end) <= f->room) {
		put_rows(f, from, end, false);
		return RC_OK;
	}
	if (end - from == 1)
		return err_set(err, RC_INVALID, 0,
		    "the title or a head of the list leaves no room on a page");
	/* An entry longer than a page is parted between its rows. */
	for (rc = RC_OK; from < end && rc == RC_OK; from++)
		rc = flow(f, from, from + 1, err);
	return rc;
}

static void
note_head(struct fill *f, size_t from, size_t end)
{
	enum ticket_style style;

	for (; from < end; from = line_end(f, from)) {
		style = style_of(f, from);
		if (style == TICKET_HEAD) {
			f->head = from;
			f->head_end = line_end(f, from);
		} else if (style == TICKET_RULE) {
			f->head = f->head_end = 0;
		}
	}
}

static enum rc
fill_pages(struct fill *f, struct err *err)
{
	const struct ticket_measure *m = &f->l->m;
	size_t i, end;
	enum rc rc;

	/* Both marks are allowed for: a reprint has the pages of the first. */
	f->room = m->longest - m->margin - m->feed - foot_height(m) -
	    2 * mark_height(m);
	if ((rc = start_page(f, 0, err)) != RC_OK)
		return rc;
	for (i = 0; i < f->rows->count; i = end) {
		end = block_end(f, i);
		note_head(f, i, end);
		if ((rc = flow(f, i, end, err)) != RC_OK)
			return rc;
	}
	page_of(f)->height = f->y;
	for (i = 0; i < f->l->count && rc == RC_OK; i++)
		rc = put_foot(f, i, err);
	return rc;
}

enum rc
ticket_layout_make(struct ticket_layout **out, const struct ticket *t,
    bool training, int reprint, const struct label_media *media,
    struct fonts *fonts, struct err *err)
{
	struct ticket_layout *l = xcalloc(1, sizeof(*l));
	struct ticket_rows rows = { 0 };
	struct fill f = {
		.l = l,
		.t = t,
		.rows = &rows,
		.fonts = fonts,
		.training = training,
		.reprint = reprint,
	};
	enum rc rc;

	*out = NULL;
	if (ticket_count(t) == 0)
		rc = err_set(err, RC_INVALID, 0, "the list has no lines");
	else if (reprint < 0 || reprint > REPRINT_MAX)
		rc = err_set(err, RC_INVALID, 0,
		    "reprint %d is outside 0 to %d", reprint, REPRINT_MAX);
	else
		rc = ticket_measure_make(&l->m, media, err);
	if (rc == RC_OK)
		rc = ticket_rows_make(&rows, t, &l->m, fonts, err);
	if (rc == RC_OK)
		rc = fill_pages(&f, err);
	ticket_rows_fini(&rows);
	if (rc == RC_OK)
		*out = l;
	else
		ticket_layout_free(l);
	return rc;
}

void
ticket_layout_free(struct ticket_layout *l)
{
	size_t i, j;

	if (l == NULL)
		return;
	for (i = 0; i < l->count; i++) {
		for (j = 0; j < l->pages[i].count; j++)
			free(l->pages[i].pieces[j].s);
		free(l->pages[i].pieces);
	}
	free(l->pages);
	free(l);
}
