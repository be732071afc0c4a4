/* testlabel.c - a label that shows whether a printer is set up right. */
#include "labels/testlabel.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "labels/barcode.h"
#include "parts.h"

#define WIDTH_MIN_MM 48
#define HEIGHT_MIN_MM 25
#define SIDE_MAX_MM 300
#define ROLL_MM 40 /* of a roll, whose length is not a setting */

#define MARGIN_UM 1500
#define CORNER_UM 4000 /* arm of a corner mark */
#define CORNER_LINE_UM 500
#define RAMP_UM 4000 /* how high the greys are */
#define RAMP_STEPS 8

/* A Bayer matrix: step n of 8 inks the dots below 2 n, evenly spread. */
static const int threshold[4][4] = {
	{ 0, 8, 2, 10 },
	{ 12, 4, 14, 6 },
	{ 3, 11, 1, 9 },
	{ 15, 7, 13, 5 },
};

/* What can stand in an element: set 82 without brackets is the barcode's to
 * check, a blank or an accent is not. */
static void
symbol_text(char dst[96], const char *name)
{
	size_t n;

	str_fmt(dst, 96, "[91]TEST%.40s", name);
	for (n = 4; dst[n] != '\0'; n++)
		if (dst[n] <= ' ' || dst[n] > 'z' ||
		    strchr("#$@[\\]^`", dst[n]) != NULL)
			dst[n] = '_';
}

static enum rc
place_symbol(struct page *page, const char *name, bool small, struct err *err)
{
	struct layout *l = page->l;
	char symbol[96];
	enum rc rc;

	symbol_text(symbol, name);
	rc = barcode_encode(
	    &l->symbol, BARCODE_KIND_GS1_DATAMATRIX, symbol, err);
	if (rc != RC_OK)
		return rc;
	l->area.module = layout_dots_up(small ? 375 : 500, page->dpi);
	l->area.side = l->symbol->width * l->area.module;
	l->area.x = page->right - l->area.side;
	l->area.y = page->bottom - l->area.side;
	page->hole_x = l->area.x - l->area.module - page_dots(page, 700);
	page->hole_y = l->area.y - l->area.module - page_dots(page, 200);
	return RC_OK;
}

/* Where the printable area ends: two arms at each corner. */
static void
put_corners(struct bitmap *bm, int dpi)
{
	int arm = layout_dots(CORNER_UM, dpi);
	int line = layout_dots(CORNER_LINE_UM, dpi), i, x, y;

	for (i = 0; i < 4; i++) {
		x = i % 2 == 0 ? 0 : bm->width - arm;
		y = i < 2 ? 0 : bm->height - line;
		bitmap_fill(bm, x, y, arm, line, true);
		x = i % 2 == 0 ? 0 : bm->width - line;
		y = i < 2 ? 0 : bm->height - arm;
		bitmap_fill(bm, x, y, line, arm, true);
	}
}

/* Where the greys stand: columns of equal width. */
struct ramp {
	int x, y, step, h;
};

static void
put_ramp(struct bitmap *bm, const struct ramp *r)
{
	int i, x, y;

	for (i = 0; i < RAMP_STEPS; i++)
		for (y = 0; y < r->h; y++)
			for (x = 0; x < r->step; x++)
				if (threshold[y % 4][x % 4] < 2 * (i + 1))
					bitmap_set(bm, r->x + i * r->step + x,
					    r->y + y, true);
}

/* The greys at the bottom, with how many of 8 dots are black below each. */
static enum rc
place_ramp(struct ramp *r, struct page *page, struct err *err)
{
	char words[8];
	struct text text = { words, FONT_TEXT, page_dots(page, TEXT_MIN_UM),
		false };
	struct text_extent e;
	int i;
	enum rc rc;

	r->h = page_dots(page, RAMP_UM) / 4 * 4;
	r->x = page->left;
	r->step = (page->hole_x - page->left) / RAMP_STEPS / 4 * 4;
	r->y = page->bottom - text.px - r->h;
	for (i = 0; i < RAMP_STEPS; i++) {
		str_fmt(words, sizeof(words), "%d/8", i + 1);
		rc = font_measure(&e, page->fonts, &text, err);
		if (rc != RC_OK)
			return rc;
		if (e.right - e.left > r->step)
			return err_set(err, RC_INVALID, 0,
			    "name: its symbol leaves no room for the greys");
		page_text(page, &text, &e,
		    r->x + i * r->step + (r->step - e.right + e.left) / 2,
		    page->bottom - e.descent);
	}
	return RC_OK;
}

static enum rc
put_words(struct page *page, const char *name, const char *settings, int floor,
    struct err *err)
{
	int small = page_dots(page, TEXT_MIN_UM);
	struct text title = { name, FONT_TEXT, page_dots(page, 3500), false };
	struct part parts[] = {
		{ "name", name, FONT_TEXT, 0, 2 },
		{ "settings", settings, FONT_TEXT, small, 12 },
		{ "smallest text", "Smallest text: 0O 1I 5S 8B", FONT_TEXT,
		    small, 1 },
		{ "smallest code", "0O 1I 5S 8B", FONT_CODE,
		    page_dots(page, 2250), 1 },
	};
	size_t i;
	enum rc rc;

	rc = page_shrink(&title, page, small, page->right - page->left, err);
	if (rc != RC_OK)
		return rc;
	parts[0].px = title.px;
	for (i = 0; i < sizeof(parts) / sizeof(parts[0]); i++) {
		rc = page_part(page, &parts[i], err);
		if (rc == RC_END || (rc == RC_OK && page->y > floor))
			return err_set(err, RC_INVALID, 0,
			    "%s: does not fit the test label, shorten it",
			    i < 2 ? parts[i].field : "settings");
		if (rc != RC_OK)
			return rc;
		page_gap(page, 300);
	}
	return RC_OK;
}

static enum rc
check(const char *name, const char *settings, const struct label_media *m,
    struct err *err)
{
	enum rc rc;

	if ((m->dpi != 203 && m->dpi != 300) || m->width_mm < WIDTH_MIN_MM ||
	    m->width_mm > SIDE_MAX_MM || m->height_mm > SIDE_MAX_MM ||
	    (m->height_mm != 0 && m->height_mm < HEIGHT_MIN_MM))
		return err_set(err, RC_INVALID, 0,
		    "no test label of %d x %d mm at %d dpi: at least %d x %d "
		    "mm, 203 or 300 dpi",
		    m->width_mm, m->height_mm, m->dpi, WIDTH_MIN_MM,
		    HEIGHT_MIN_MM);
	rc = text_check("name", name, LAYOUT_LINE_MAX - 1, false, err);
	if (rc != RC_OK)
		return rc;
	return text_check("settings", settings, 1000, false, err);
}

enum rc
testlabel_render(struct bitmap **out, const char *name, const char *settings,
    const struct label_media *media, struct fonts *fonts, struct err *err)
{
	int height = media->height_mm != 0 ? media->height_mm : ROLL_MM;
	struct page page = { .fonts = fonts, .dpi = media->dpi };
	struct layout *l = NULL;
	struct ramp ramp;
	int margin;
	enum rc rc;

	*out = NULL;
	if ((rc = check(name, settings, media, err)) != RC_OK)
		return rc;
	page.l = l = xcalloc(1, sizeof(*l));
	l->width = label_mm_to_dots(media->width_mm, media->dpi);
	l->height = label_mm_to_dots(height, media->dpi);
	margin = layout_dots_up(MARGIN_UM, media->dpi);
	page.left = page.top = margin;
	page.right = l->width - margin;
	page.bottom = l->height - margin;
	page_start(&page);
	if ((rc = place_symbol(&page, name, height < ROLL_MM, err)) != RC_OK ||
	    (rc = place_ramp(&ramp, &page, err)) != RC_OK ||
	    (rc = put_words(&page, name, settings, ramp.y, err)) != RC_OK)
		goto done;
	if ((rc = layout_draw(out, l, fonts, err)) != RC_OK)
		goto done;
	put_corners(*out, media->dpi);
	put_ramp(*out, &ramp);
done:
	layout_free(l);
	return rc;
}
