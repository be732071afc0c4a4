/* label_look.c - look at the picture of a label. */
#include "label_look.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bar_reader.h"
#include "base/mem.h"
#include "base/str.h"
#include "labels/barcode.h"

void
look_blank(
    const struct bitmap *bm, int x0, int y0, int w, int h, const char *why)
{
	int x, y, inked = 0;

	for (y = y0; y < y0 + h; y++)
		for (x = x0; x < x0 + w; x++)
			inked += bitmap_get(bm, x, y);
	ck_assert_msg(inked == 0, "%d dots of ink: %s", inked, why);
}

/* ISO/IEC 16022: one module of quiet zone on four sides.  Every module is
 * exactly n x n dots because the picture of the symbol is the matrix
 * magnified, dot by dot. */
void
look_symbol(
    const struct bitmap *bm, const struct label_area *a, const char *symbol)
{
	struct bitmap *modules;
	int x, y, wrong = 0, q = a->module;

	ck_assert_int_eq(
	    barcode_encode(&modules, BARCODE_KIND_GS1_DATAMATRIX, symbol, NULL),
	    RC_OK);
	ck_assert_int_eq(a->side, modules->width * a->module);
	for (y = 0; y < a->side; y++)
		for (x = 0; x < a->side; x++)
			wrong += bitmap_get(bm, a->x + x, a->y + y) !=
			    bitmap_get(modules, x / q, y / q);
	ck_assert_msg(wrong == 0, "%d dots of the symbol differ", wrong);
	bitmap_free(modules);
	look_blank(
	    bm, a->x - q, a->y - q, a->side + 2 * q, q, "quiet zone above");
	look_blank(bm, a->x - q, a->y + a->side, a->side + 2 * q, q,
	    "quiet zone below");
	look_blank(bm, a->x - q, a->y, q, a->side, "quiet zone left");
	look_blank(bm, a->x + a->side, a->y, q, a->side, "quiet zone right");
}

/* Table 7-6 of the GS1 General Specifications, as far as our labels go. */
static bool
predefined(const char *ai)
{
	return strncmp(ai, "01", 2) == 0 || strncmp(ai, "17", 2) == 0;
}

void
look_bare(char bare[DM_TEXT_MAX], const char *symbol)
{
	bool gap = false;
	size_t n = 0;

	for (; *symbol != '\0'; symbol++) {
		if (*symbol == '[') {
			if (gap)
				bare[n++] = '\x1d';
			gap = !predefined(symbol + 1);
		} else if (*symbol != ']') {
			bare[n++] = *symbol;
		}
	}
	bare[n] = '\0';
}

void
look_read(const struct bitmap *bm, const struct dm_view *view, int scale,
    const char *symbol, const char *why)
{
	char text[DM_TEXT_MAX], bare[DM_TEXT_MAX];
	bool gs1;

	ck_assert_msg(dm_read_at(text, &gs1, bm, view, scale), "not read%s: %s",
	    view->blur ? " blurred" : "", why);
	ck_assert_msg(gs1, "no FNC1 in first place: %s", why);
	look_bare(bare, symbol);
	ck_assert_msg(
	    str_eq(text, bare), "read %s, not %s: %s", text, bare, why);
}

/* The whole label is shown to the reader, so everything else on it may
 * distract it; once sharp, once smeared. */
void
look_read_label(const struct bitmap *bm, const char *symbol, const char *why)
{
	struct dm_view view = { 0, 0, bm->width, bm->height, false, 3000 };

	look_read(bm, &view, 2, symbol, why);
	view.blur = true;
	look_read(bm, &view, 2, symbol, why);
}

/* Ten modules of quiet zone at both ends; the bars are the row of modules, each
 * as high as it is wide and all equally long. */
void
look_bars(const struct bitmap *bm, const struct label_bars *b, const char *bars)
{
	struct bitmap *modules;
	int x, y, wrong = 0, quiet = 10 * b->module;

	ck_assert_int_eq(
	    barcode_encode(&modules, BARCODE_KIND_GS1_128, bars, NULL), RC_OK);
	ck_assert_int_eq(b->h, modules->width * b->module);
	for (y = 0; y < b->h; y++)
		for (x = 0; x < b->w; x++)
			wrong += bitmap_get(bm, b->x + x, b->y + y) !=
			    bitmap_get(modules, y / b->module, 0);
	ck_assert_msg(wrong == 0, "%d dots of the bars differ", wrong);
	bitmap_free(modules);
	ck_assert_int_ge(b->y, quiet);
	ck_assert_int_le(b->y + b->h + quiet, bm->height);
	look_blank(bm, b->x, b->y - quiet, b->w, quiet, "quiet zone above");
	look_blank(bm, b->x, b->y + b->h, b->w, quiet, "quiet zone below");
	look_blank(bm, b->x - 4 * b->module, 0, 4 * b->module, bm->height,
	    "beside the bars");
}

void
look_read_bars(const struct bitmap *bm, const char *bars, const char *why)
{
	char text[BAR_TEXT_MAX], bare[DM_TEXT_MAX];
	struct code_view all = { .w = bm->width, .h = bm->height };
	bool gs1;
	int blur;

	look_bare(bare, bars);
	for (blur = 0; blur < 2; blur++) {
		all.blur = blur == 1;
		ck_assert_msg(bar_read(text, &gs1, bm, &all),
		    "bars not read%s: %s", blur ? " blurred" : "", why);
		ck_assert_msg(gs1, "no FNC1 in first place: %s", why);
		ck_assert_msg(str_eq(text, bare), "read %s: %s", text, why);
	}
}

/* One byte a dot, so that rows compare quickly; `white` swaps the colours. */
static uint8_t *
expand(const struct bitmap *bm, bool white)
{
	uint8_t *dots = xcalloc((size_t)bm->width, (size_t)bm->height);
	int x, y;

	for (y = 0; y < bm->height; y++)
		for (x = 0; x < bm->width; x++)
			dots[y * bm->width + x] = bitmap_get(bm, x, y) != white;
	return dots;
}

/* Does the picture hold the patch, dot for dot? */
static bool
holds(const struct bitmap *bm, const uint8_t *dots, const struct bitmap *patch)
{
	uint8_t *part = expand(patch, false);
	bool found = false;
	int x, y, j;

	for (y = 0; y + patch->height <= bm->height && !found; y++)
		for (x = 0; x + patch->width <= bm->width && !found; x++) {
			for (j = 0; j < patch->height; j++)
				if (memcmp(dots + (y + j) * bm->width + x,
					part + j * patch->width,
					(size_t)patch->width) != 0)
					break;
			found = j == patch->height;
		}
	free(part);
	return found;
}

/* The em height at which `s` stands on the label, 0 when it does not. */
int
look_text(struct fonts *fonts, const struct bitmap *bm, enum font_face face,
    const char *s, bool white)
{
	struct text text = { s, face, 0, false };
	uint8_t *dots = expand(bm, white);
	struct text_extent e;
	struct bitmap *patch;
	bool found = false;
	int px;

	for (px = 16; px <= 90 && !found; px++) {
		text.px = px;
		ck_assert_int_eq(font_measure(&e, fonts, &text, NULL), RC_OK);
		if (e.right - e.left > bm->width ||
		    e.ascent + e.descent > bm->height)
			break;
		patch = bitmap_new(e.right - e.left, e.ascent + e.descent);
		ck_assert_int_eq(
		    font_draw(patch, fonts, &text, -e.left, e.ascent, NULL),
		    RC_OK);
		found = holds(bm, dots, patch);
		bitmap_free(patch);
	}
	free(dots);
	return found ? px - 1 : 0;
}
