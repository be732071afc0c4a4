/* canvas.c - cells in memory and the panes that draw into them. */
#include "term/canvas.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"

#define ELLIPSIS 0x2026

static int
within(int n)
{
	return n < 1 ? 1 : n > CANVAS_MAX ? CANVAS_MAX : n;
}

void
canvas_blank(struct canvas *c)
{
	int i;

	for (i = 0; i < c->w * c->h; i++)
		c->cells[i] = (struct cell){ ' ', STYLE_PLAIN };
	c->cursor_x = c->cursor_y = -1;
}

void
canvas_init(struct canvas *c, int w, int h)
{
	*c = (struct canvas){ .cells = NULL };
	canvas_size(c, w, h);
}

void
canvas_fini(struct canvas *c)
{
	free(c->cells);
	*c = (struct canvas){ .cells = NULL };
}

void
canvas_size(struct canvas *c, int w, int h)
{
	c->w = within(w);
	c->h = within(h);
	free(c->cells);
	c->cells = xcalloc((size_t)c->w * (size_t)c->h, sizeof(*c->cells));
	canvas_blank(c);
}

void
canvas_text(struct buf *out, const struct canvas *c)
{
	const struct cell *row;
	int x, y, end;

	for (y = 0; y < c->h; y++) {
		row = c->cells + (size_t)y * (size_t)c->w;
		for (end = c->w; end > 0 && row[end - 1].ch == ' '; end--)
			;
		for (x = 0; x < end; x++)
			if (row[x].ch != 0)
				utf8_put(out, row[x].ch);
		buf_putc(out, '\n');
	}
}

/* --- panes -----------------------------------------------------------------*/

struct pane
pane_whole(struct canvas *c)
{
	return (struct pane){ c, 0, 0, c->w, c->h };
}

struct pane
pane_part(const struct pane *p, int x, int y, int w, int h)
{
	struct pane part = { p->c, p->x + x, p->y + y, w, h };

	if (x < 0 || y < 0 || x >= p->w || y >= p->h) {
		part.w = part.h = 0;
		return part;
	}
	if (part.w > p->w - x)
		part.w = p->w - x;
	if (part.h > p->h - y)
		part.h = p->h - y;
	if (part.w < 0)
		part.w = 0;
	if (part.h < 0)
		part.h = 0;
	return part;
}

static struct cell *
cell_at(const struct pane *p, int x, int y)
{
	if (x < 0 || y < 0 || x >= p->w || y >= p->h)
		return NULL;
	return p->c->cells + (size_t)(p->y + y) * (size_t)p->c->w + p->x + x;
}

/* One half of a wide character that is overwritten leaves no other half. */
static void
part_wide(const struct pane *p, int x, int y)
{
	struct pane all = pane_whole(p->c);
	struct cell *c;

	if (cell_at(p, x, y)->ch == 0 &&
	    (c = cell_at(&all, p->x + x - 1, p->y + y)) != NULL)
		c->ch = ' ';
	if ((c = cell_at(&all, p->x + x + 1, p->y + y)) != NULL && c->ch == 0)
		c->ch = ' ';
}

/* One character; returns the column behind it.  A combining mark and a control
 * character take none and are left out. */
static int
put_char(const struct pane *p, int x, int y, enum style style, uint32_t ch)
{
	int w = glyph_columns(ch);
	struct cell *c = cell_at(p, x, y);

	if (w == 0)
		return x;
	if (c == NULL)
		return x + w;
	part_wide(p, x, y);
	if (w == 2 && cell_at(p, x + 1, y) == NULL) {
		*c = (struct cell){ ' ', (uint8_t)style };
		return x + w;
	}
	if (w == 2) {
		part_wide(p, x + 1, y);
		*cell_at(p, x + 1, y) = (struct cell){ 0, (uint8_t)style };
	}
	*c = (struct cell){ ch, (uint8_t)style };
	return x + w;
}

int
pane_put(const struct pane *p, int x, int y, enum style style, const char *text)
{
	while (*text != '\0')
		x = put_char(p, x, y, style, utf8_next(&text));
	return x;
}

int
pane_fmt(
    const struct pane *p, int x, int y, enum style style, const char *fmt, ...)
{
	char text[1024];
	va_list ap;

	va_start(ap, fmt);
	(void)vsnprintf(text, sizeof(text), fmt, ap);
	va_end(ap);
	utf8_clean(text);
	return pane_put(p, x, y, style, text);
}

int
pane_cut(const struct pane *p, int x, int y, int w, enum style style,
    const char *text)
{
	bool whole = text_columns(text) <= w;
	int end = x + w, room = whole ? w : w - 1, at = x, cols;
	const char *s = text;
	uint32_t ch;

	while (*s != '\0') {
		ch = utf8_next(&s);
		cols = glyph_columns(ch);
		if (at + cols > x + room)
			break;
		at = put_char(p, at, y, style, ch);
	}
	if (!whole && w > 0)
		at = put_char(p, at, y, style, ELLIPSIS);
	while (at < end)
		at = put_char(p, at, y, style, ' ');
	return end;
}

void
pane_right(
    const struct pane *p, int end, int y, enum style style, const char *text)
{
	int skip = text_columns(text) - end;

	while (skip > 0 && *text != '\0')
		skip -= glyph_columns(utf8_next(&text));
	pane_put(p, end - text_columns(text), y, style, text);
}

void
pane_rule(const struct pane *p, int y)
{
	int x;

	for (x = 0; x < p->w; x++)
		put_char(p, x, y, STYLE_FAINT, 0x2500);
}

void
pane_fill(const struct pane *p, int x, int y, int w, int h, enum style style)
{
	int i, j;

	for (j = 0; j < h; j++)
		for (i = 0; i < w; i++)
			put_char(p, x + i, y + j, style, ' ');
}

void
pane_frame(const struct pane *p, const char *title)
{
	int i;

	for (i = 1; i < p->w - 1; i++) {
		put_char(p, i, 0, STYLE_FAINT, 0x2500);
		put_char(p, i, p->h - 1, STYLE_FAINT, 0x2500);
	}
	for (i = 1; i < p->h - 1; i++) {
		put_char(p, 0, i, STYLE_FAINT, 0x2502);
		put_char(p, p->w - 1, i, STYLE_FAINT, 0x2502);
	}
	put_char(p, 0, 0, STYLE_FAINT, 0x250c);
	put_char(p, p->w - 1, 0, STYLE_FAINT, 0x2510);
	put_char(p, 0, p->h - 1, STYLE_FAINT, 0x2514);
	put_char(p, p->w - 1, p->h - 1, STYLE_FAINT, 0x2518);
	if (title != NULL && p->w > 6) {
		i = text_columns(title);
		if (i > p->w - 6)
			i = p->w - 6;
		put_char(p, 2, 0, STYLE_PLAIN, ' ');
		pane_cut(p, 3, 0, i, STYLE_STRONG, title);
		put_char(p, 3 + i, 0, STYLE_PLAIN, ' ');
	}
}

void
pane_bar(const struct pane *p, int x, int y, int w, enum style style,
    int64_t part, int64_t whole)
{
	int64_t n = whole <= 0 ? 0 : part >= whole ? w : part * w / whole;
	int i;

	if (n == 0 && part > 0 && whole > 0)
		n = 1;
	for (i = 0; i < w; i++)
		put_char(p, x + i, y, i < n ? style : STYLE_FAINT,
		    i < n ? 0x2588 : 0xb7);
}

void
pane_cursor(const struct pane *p, int x, int y)
{
	if (cell_at(p, x, y) == NULL)
		return;
	p->c->cursor_x = p->x + x;
	p->c->cursor_y = p->y + y;
}
