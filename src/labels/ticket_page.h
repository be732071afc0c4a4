/*
 * ticket_page.h - where everything stands on the pages of a list, in dots.
 *
 * Private to labels/.  ticket_rows.c wraps the lines, ticket_page.c fills the
 * pages, ticket_draw.c draws them.
 */
#ifndef TICKET_PAGE_H
#define TICKET_PAGE_H

#include <stdint.h>

#include "labels/font.h"
#include "labels/ticket.h"

/* ticket_piece_of - bytes of the blanks and words at `s` that stay on one row:
 * a unit with its number, the parts of a date. */
size_t ticket_piece_of(const char *s);

/* Lengths and em heights in dots. */
struct ticket_measure {
	int width, margin, room; /* of the picture; left and right; between */
	int longest;             /* page */
	int feed;                /* white at the foot, to tear it off */
	int px[TICKET_RULE + 1]; /* em height of a style */
	int above[TICKET_RULE + 1]; /* white above a line of a style */
	int least;                  /* smallest em height of all */
	int box, indent;            /* side of a tick box; text behind it */
	int thin, thick;            /* rules */
	int gap;                    /* between left and right */
};

/* A line of the list as it stands on the roll: one row or several. */
struct ticket_row {
	size_t line;
	bool first; /* of its line: with its box and right text */
	bool last;  /* of its line */
	char *left; /* owned */
	int px, ascent, descent;
	int x;       /* of the ink of left */
	int right_x; /* origin of the line's right text */
};

struct ticket_rows {
	struct ticket_row *items; /* owned */
	size_t count, cap;
};

/*
 * ticket_measure_make - RC_OK, or RC_INVALID: no such roll or resolution.
 * ticket_rows_make - every line wrapped.  A line with a word wider than the
 * roll is set smaller.  RC_OK, RC_INVALID as ticket_render(); the caller frees
 * with ticket_rows_fini() whatever is returned.
 */
enum rc ticket_measure_make(struct ticket_measure *out,
    const struct label_media *media, struct err *err) MUST_CHECK;
enum rc ticket_rows_make(struct ticket_rows *out, const struct ticket *t,
    const struct ticket_measure *m, struct fonts *fonts,
    struct err *err) MUST_CHECK;
void ticket_rows_fini(struct ticket_rows *rows);

enum piece_kind {
	PIECE_TEXT,  /* origin x, baseline y */
	PIECE_BOX,   /* outline, corner x, y */
	PIECE_BLACK, /* filled */
};

#define PIECE_OWN SIZE_MAX /* of no line: a mark or the foot */

struct ticket_piece {
	enum piece_kind kind;
	int x, y, w, h;
	int px; /* of text */
	bool white;
	char *s;     /* owned; of text */
	size_t line; /* it comes from, or PIECE_OWN */
	bool again;  /* repeated at the head of a page */
};

struct ticket_page {
	int height;
	struct ticket_piece *pieces; /* owned */
	size_t count, cap;
};

struct ticket_layout {
	struct ticket_measure m;
	struct ticket_page *pages; /* owned; at least one */
	size_t count, cap;
};

/* ticket_layout_make - returns as ticket_render(); *out is owned. */
enum rc ticket_layout_make(struct ticket_layout **out, const struct ticket *t,
    bool training, int reprint, const struct label_media *media,
    struct fonts *fonts, struct err *err) MUST_CHECK;
void ticket_layout_free(struct ticket_layout *l);

#endif /* TICKET_PAGE_H */
