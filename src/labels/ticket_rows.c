/* ticket_rows.c - the lines of a list wrapped to the width of the roll. */
#include "ticket_page.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "layout.h"

/* As on a label: below TEXT_MIN_UM strokes get lost. */
#define MARGIN_UM 1500
#define TEXT_MIN_UM 2000
/* The tear bar lies some 10 mm behind the head; common practice, no source. */
#define FEED_UM 12000

/* Em height, and the white above a line unless it is the first of a page. */
static const struct {
	int em_um, above_um;
} styles[] = {
	[TICKET_TITLE] = { 5000, 0 },
	[TICKET_HEAD] = { 3500, 2800 },
	[TICKET_LINE] = { 3000, 1100 },
	[TICKET_TICK] = { 3000, 1600 },
	[TICKET_SMALL] = { 2250, 500 },
	[TICKET_RULE] = { 2250, 1500 },
};

enum rc
ticket_measure_make(struct ticket_measure *out, const struct label_media *media,
    struct err *err)
{
	int page = media->height_mm == 0 ? TICKET_PAGE_MM : media->height_mm;
	size_t i;

	memset(out, 0, sizeof(*out));
	if (media->width_mm < TICKET_WIDTH_MIN_MM ||
	    media->width_mm > TICKET_WIDTH_MAX_MM ||
	    page < TICKET_PAGE_MIN_MM || page > TICKET_PAGE_MAX_MM ||
	    (media->dpi != 203 && media->dpi != 300))
		return err_set(err, RC_INVALID, 0,
		    "no list on a roll of %d mm in pages of %d mm at %d dpi: "
		    "rolls are %d to %d mm wide, pages %d to %d mm long, at "
		    "203 or 300 dpi",
		    media->width_mm, page, media->dpi, TICKET_WIDTH_MIN_MM,
		    TICKET_WIDTH_MAX_MM, TICKET_PAGE_MIN_MM,
		    TICKET_PAGE_MAX_MM);
	out->width = label_mm_to_dots(media->width_mm, media->dpi);
	out->longest = label_mm_to_dots(page, media->dpi);
	out->margin = layout_dots(MARGIN_UM, media->dpi);
	out->room = out->width - 2 * out->margin;
	out->feed = layout_dots(FEED_UM, media->dpi);
	out->least = layout_dots(TEXT_MIN_UM, media->dpi);
	for (i = 0; i <= TICKET_RULE; i++) {
		out->px[i] = layout_dots(styles[i].em_um, media->dpi);
		out->above[i] = layout_dots(styles[i].above_um, media->dpi);
	}
	out->box = layout_dots(3250, media->dpi);
	out->indent = layout_dots(4750, media->dpi);
	out->thin = layout_dots(250, media->dpi);
	out->thick = layout_dots(500, media->dpi);
	out->gap = layout_dots(1500, media->dpi);
	return RC_OK;
}

/* Wraps one line. */
struct wrap {
	struct ticket_rows *rows;
	const struct ticket_measure *m;
	struct fonts *fonts;
	const struct ticket_line *l;
	size_t line;
	int px, indent;
	const char *wide; /* the text that was too wide */
	int wide_len;
};

static enum rc
width_of(int *out, struct text_extent *e, const struct wrap *w, const char *s,
    struct err *err)
{
	struct text text = { s, FONT_TEXT, w->px, false };
	enum rc rc = font_measure(e, w->fonts, &text, err);

	*out = e->right - e->left;
	return rc;
}

/*
 * As many words of *rest as fit `room`: *row is owned, and empty when not even
 * one fits.  *rest moves to the next word.
 */
static enum rc
fill_row(char **row, const char **rest, const struct wrap *w, int room,
    struct err *err)
{
	char *trial = xstrdup(*rest), kept;
	size_t end = 0, stop = 0;
	struct text_extent e;
	int width;
	enum rc rc = RC_OK;

	while (trial[end] != '\0') {
		stop = end + ticket_piece_of(trial + end);
		kept = trial[stop];
		trial[stop] = '\0';
		if ((rc = width_of(&width, &e, w, trial, err)) != RC_OK)
			break;
		trial[stop] = kept;
		if (width > room)
			break;
		end = stop;
	}
	trial[end] = '\0';
	*row = trial;
	*rest += end;
	*rest += strspn(*rest, " ");
	return rc;
}

static int
max(int a, int b)
{
	return a > b ? a : b;
}

/* Every row is as high as its style, and higher for an accent on a capital. */
static enum rc
measure_row(struct ticket_row *r, const struct wrap *w, struct err *err)
{
	struct text_extent left, right = { 0 };
	int width;
	enum rc rc = width_of(&width, &left, w, r->left, err);

	if (rc == RC_OK && r->first)
		rc = width_of(&width, &right, w, w->l->right, err);
	r->px = w->px;
	r->ascent =
	    max((w->px * 76 + 99) / 100, max(left.ascent, right.ascent));
	r->descent =
	    max((w->px * 22 + 99) / 100, max(left.descent, right.descent));
	r->x = w->m->margin + w->indent - left.left;
	r->right_x = w->m->margin + w->m->room - right.right;
	return rc;
}

static struct ticket_row *
add_row(struct wrap *w, char *left)
{
	struct ticket_rows *rows = w->rows;
	struct ticket_row *r;

	rows->items =
	    grow(rows->items, &rows->cap, rows->count, sizeof(*rows->items));
	r = &rows->items[rows->count++];
	memset(r, 0, sizeof(*r));
	r->line = w->line;
	r->left = left;
	return r;
}

static enum rc
too_wide(struct wrap *w, const char *s)
{
	w->wide = s;
	w->wide_len = (int)ticket_piece_of(s);
	return RC_END;
}

/* Takes back the rows of an attempt. */
static void
drop_rows(struct ticket_rows *rows, size_t count)
{
	while (rows->count > count)
		free(rows->items[--rows->count].left);
}

/* The rows of the line at this size; RC_END when a word is too wide. */
static enum rc
try_size(struct wrap *w, struct err *err)
{
	const char *rest = w->l->left + strspn(w->l->left, " ");
	int room = w->m->room - w->indent, beside = room, width;
	struct ticket_row *r;
	struct text_extent e;
	bool first = true;
	char *row;
	enum rc rc;

	if ((rc = width_of(&width, &e, w, w->l->right, err)) != RC_OK)
		return rc;
	if (width > room) {
		w->wide_len = (int)strlen(w->l->right);
		w->wide = w->l->right;
		return RC_END;
	}
	if (width > 0)
		beside = room - width - w->m->gap;
	for (; first || *rest != '\0'; first = false) {
		rc = fill_row(&row, &rest, w, first ? beside : room, err);
		r = add_row(w, row);
		if (rc != RC_OK)
			return rc;
		/* No word fits beside the right text: below it, then. */
		if (row[0] == '\0' && *rest != '\0' && !(first && width > 0))
			return too_wide(w, rest);
		r->first = first;
		if ((rc = measure_row(r, w, err)) != RC_OK)
			return rc;
	}
	r->last = true;
	return RC_OK;
}

static enum rc
fit_line(struct wrap *w, struct err *err)
{
	size_t count = w->rows->count;
	enum rc rc;

	for (w->px = w->m->px[w->l->style];; w->px--) {
		rc = try_size(w, err);
		if (rc != RC_END)
			return rc;
		drop_rows(w->rows, count);
		if (w->px <= w->m->least)
			return err_set(err, RC_INVALID, 0,
			    "\"%.*s\" is wider than the roll even in the "
			    "smallest text",
			    w->wide_len > 80 ? 80 : w->wide_len, w->wide);
	}
}

enum rc
ticket_rows_make(struct ticket_rows *out, const struct ticket *t,
    const struct ticket_measure *m, struct fonts *fonts, struct err *err)
{
	struct wrap w = { .rows = out, .m = m, .fonts = fonts };
	enum rc rc = RC_OK;

	memset(out, 0, sizeof(*out));
	for (w.line = 0; w.line < ticket_count(t); w.line++) {
		w.l = ticket_at(t, w.line);
		/* A remark stands under the words it is about. */
		if (w.l->style == TICKET_TICK)
			w.indent = m->indent;
		else if (w.l->style != TICKET_SMALL)
			w.indent = 0;
		if ((rc = fit_line(&w, err)) != RC_OK)
			break;
	}
	if (rc != RC_OK)
		err_prefix(err, "line %zu of the list, \"%.40s\": ", w.line + 1,
		    w.l->left);
	return rc;
}

void
ticket_rows_fini(struct ticket_rows *rows)
{
	drop_rows(rows, 0);
	free(rows->items);
	memset(rows, 0, sizeof(*rows));
}
