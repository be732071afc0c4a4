/*
 * term/canvas.h - what is on the screen, as cells in memory.
 *
 * Screens draw into a canvas; term/term.h copies it to a terminal, tests read
 * it as text.  Columns and rows count from 0 at the top left.  Text is UTF-8;
 * what does not fit is left out, never wrapped into another column.
 */
#ifndef TERM_CANVAS_H
#define TERM_CANVAS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/buf.h"

#define CANVAS_MAX 500 /* columns, and rows */

/*
 * How a cell looks.  A style helps the eye and never carries a meaning alone:
 * what is wrong also says so in words.
 */
enum style {
	STYLE_PLAIN,
	STYLE_STRONG, /* bold */
	STYLE_FAINT,  /* labels, hints */
	STYLE_CHOSEN, /* the row or button the keys act on: reversed */
	STYLE_FIELD,  /* where something may be typed: underlined */
	STYLE_GOOD,
	STYLE_WARN,
	STYLE_BAD,  /* bold in monochrome */
	STYLE_MARK, /* the training mark: bold and reversed */
	STYLE_COUNT
};

struct cell {
	uint32_t ch;   /* code point; 0: the right half of a wide one */
	uint8_t style; /* enum style */
};

struct canvas {
	int w, h;
	struct cell *cells;     /* w * h of them, row by row; owned */
	int cursor_x, cursor_y; /* -1: no cursor */
};

/* canvas_init - a blank canvas; w and h 1..CANVAS_MAX (others are brought into
 * it).  canvas_fini() frees. */
void canvas_init(struct canvas *c, int w, int h);
void canvas_fini(struct canvas *c);
/* canvas_size - blank at another size. */
void canvas_size(struct canvas *c, int w, int h);
void canvas_blank(struct canvas *c);

/* canvas_text - append its rows as text, without blanks at their ends. */
void canvas_text(struct buf *out, const struct canvas *c);

/* A part of a canvas, with columns and rows of its own; never wider or higher
 * than its parent.  Drawing outside of it does nothing. */
struct pane {
	struct canvas *c;
	int x, y, w, h;
};

struct pane pane_whole(struct canvas *c);
struct pane pane_part(const struct pane *p, int x, int y, int w, int h);

/* pane_put - text from (x, y) on; returns the column behind it. */
int pane_put(
    const struct pane *p, int x, int y, enum style style, const char *text);
int pane_fmt(const struct pane *p, int x, int y, enum style style,
    const char *fmt, ...) __attribute__((format(printf, 5, 6)));
/* pane_cut - the same in `w` columns: padded with blanks, or cut with an
 * ellipsis.  Returns x + w. */
int pane_cut(const struct pane *p, int x, int y, int w, enum style style,
    const char *text);
/* pane_right - so that it ends before column `end`; cut on the left side. */
void pane_right(
    const struct pane *p, int end, int y, enum style style, const char *text);
/* pane_wrap - in lines broken between words, from row y; '\n' breaks too.
 * Returns the row behind it.  pane_wrap_rows - how many rows `w` columns need.
 */
int pane_wrap(const struct pane *p, int y, enum style style, const char *text);
int pane_wrap_rows(int w, const char *text);
void pane_rule(const struct pane *p, int y);
void pane_fill(
    const struct pane *p, int x, int y, int w, int h, enum style style);
/* pane_frame - a frame on its edge, with a title in it (may be NULL). */
void pane_frame(const struct pane *p, const char *title);
/* pane_bar - `part` of `whole` as a bar in `w` columns, never empty when
 * part > 0. */
void pane_bar(const struct pane *p, int x, int y, int w, enum style style,
    int64_t part, int64_t whole);
void pane_cursor(const struct pane *p, int x, int y);

/*
 * pane_big - text in large digits, BIG_ROWS rows high, to be read at arm's
 * length: digits, letters, blank and . , : / + - %.  Returns the column behind
 * it.  big_columns - how many it takes.
 */
#define BIG_ROWS 3
int pane_big(
    const struct pane *p, int x, int y, enum style style, const char *text);
int big_columns(const char *text);

/* glyph_columns - 0, 1 or 2 columns of a character on a terminal. */
int glyph_columns(uint32_t ch);
/* glyph_plain - what stands in for a character a font lacks: ASCII. */
char glyph_plain(uint32_t ch);
/* text_columns - of a whole UTF-8 text. */
int text_columns(const char *text);

#endif /* TERM_CANVAS_H */
