/* layout.c - what goes where on a label. */
#include "parts.h"

#include <assert.h>
#include <stdlib.h>

#include "base/mem.h"
#include "base/str.h"
#include "labels/barcode.h"

#define MARGIN_UM 1500
#define LEAD_MAX_UM 1250

/* The second code: 0.25 mm modules, in bars long enough for a hand held
 * scanner, and clear of everything beside it. */
#define BAR_MODULE_UM 250
#define BAR_LENGTH_UM 7000
#define BAR_CLEAR_UM 1250

/*
 * Modules: 0.5 mm where there is room, because it survives twice the blur of
 * 0.375 mm, which is what the small label can afford.  Both are whole dots at
 * 203 dpi; at 300 dpi the next whole dots up are taken (6 and 5), since 4 dots
 * would be 0.339 mm and below the size the small label was proved with.
 */
static const struct layout_size sizes[] = {
	{
	    .width_mm = 60,
	    .height_mm = 40,
	    .module_um = 500,
	    .side_max = 26,
	    .product = { 5250, 3000, 2250 },
	    .word = { 4500, 3500 },
	    .date = { 7000, 6500 },
	    .state = { 6500, 4250 },
	    .second = { 3750, 2500 },
	    .hold = { 6750, 3000 },
	    .code = { 3000, 2250 },
	    .strong = { 2875, BOLD_MIN_UM },
	    .detail = { 2625, TEXT_MIN_UM },
	},
	{
	    /* The same, beside a strip of bars. */
	    .width_mm = 60,
	    .height_mm = 40,
	    .module_um = 500,
	    .side_max = 26,
	    .bars = true,
	    .product = { 5250, 3000, 2250 },
	    .word = { 4500, 3000 },
	    .date = { 7000, 5500 },
	    .state = { 6000, 4250 },
	    .second = { 3500, 2250 },
	    .hold = { 6000, 3000 },
	    .code = { 3000, 2250 },
	    .strong = { 2875, BOLD_MIN_UM },
	    .detail = { 2625, TEXT_MIN_UM },
	},
	{
	    .width_mm = 50,
	    .height_mm = 25,
	    .module_um = 375,
	    .side_max = 24,
	    .small = true,
	    .product = { 4000, 2375, TEXT_MIN_UM },
	    .word = { 3250, 2500 },
	    .date = { 5750, 4750 },
	    .state = { 5500, 3250 },
	    .second = { 2750, TEXT_MIN_UM },
	    .hold = { 4500, 2250 },
	    .code = { 2875, 2250 },
	    .strong = { 2750, TEXT_MIN_UM },
	    .detail = { 2375, TEXT_MIN_UM },
	},
};

const struct layout_size *
layout_size_find(const struct label_media *media, bool bars)
{
	size_t i;

	if (media->dpi != 203 && media->dpi != 300)
		return NULL;
	for (i = 0; i < sizeof(sizes) / sizeof(sizes[0]); i++)
		if (media->width_mm == sizes[i].width_mm &&
		    media->height_mm == sizes[i].height_mm &&
		    bars == sizes[i].bars)
			return &sizes[i];
	return NULL;
}

int
layout_dots(int um, int dpi)
{
	return (um * dpi + 12700) / 25400;
}

int
layout_dots_up(int um, int dpi)
{
	/* 0.5 mm is 3.996 dots at 203 dpi: meant is 4, not the next up. */
	return (um * dpi + 25000) / 25400;
}

/* The symbol in the bottom right corner, with the code under it where there
 * is room for one; what is left of both is the flow's. */
static enum rc
put_symbol(struct page *page, const struct label_facts *facts, struct err *err)
{
	struct label_area *area = &page->l->area;
	struct text text = { facts->code, FONT_CODE,
		page_px(page, page->size->code), false };
	struct text_extent e = { 0 };
	int column = area->side, below = 0;
	enum rc rc;

	if (!page->size->small && facts->kind != LABEL_BATCH) {
		rc = page_shrink(
		    &text, page, page_dots(page, 2250), area->side, err);
		if (rc != RC_OK ||
		    (rc = font_measure(&e, page->fonts, &text, err)) != RC_OK)
			return rc;
		if (e.right - e.left > column)
			column = e.right - e.left;
		below =
		    area->module + page_dots(page, 200) + e.ascent + e.descent;
	}
	area->x = page->right - column + (column - area->side) / 2;
	area->y = page->bottom - below - area->side;
	page->hole_x = page->right;
	page->hole_y = page->bottom;
	if (below > 0)
		page_text(page, &text, &e,
		    page->right - (column + e.right - e.left) / 2,
		    page->bottom - e.descent);
	page->hole_x =
	    page->right - column - area->module - page_dots(page, 700);
	page->hole_y = area->y - area->module - page_dots(page, 200);
	return RC_OK;
}

static enum rc
attempt(struct page *page, const struct label_facts *facts, int name_pct,
    struct err *err)
{
	enum rc rc;

	page_start(page);
	if ((rc = put_symbol(page, facts, err)) != RC_OK ||
	    (facts->training && (rc = parts_training(page, err)) != RC_OK) ||
	    (rc = parts_name(page, facts, name_pct, err)) != RC_OK ||
	    (rc = parts_head(page, facts, err)) != RC_OK ||
	    (rc = parts_details(page, facts, err)) != RC_OK)
		return rc;
	/* The gap below the last part is not needed. */
	page->y -= page_dots(page, 150) + page->lead;
	page->parts--;
	return page->clash || page->y > page->bottom ? RC_END : RC_OK;
}

/* The largest text that fits; *pct is then the share of the product name. */
static enum rc
fit_text(int *pct, struct page *page, const struct label_facts *facts,
    struct err *err)
{
	static const int shares[] = { 100, 85, 70 };
	size_t i;
	enum rc rc;

	page->lead = 0;
	for (page->level = 0; page->level < PAGE_LEVELS; page->level++)
		for (i = 0; i < sizeof(shares) / sizeof(shares[0]); i++) {
			*pct = shares[i];
			rc = attempt(page, facts, *pct, err);
			if (rc != RC_END)
				return rc;
			if (page->name_whole)
				break;
		}
	return err_set(err, RC_INVALID, 0,
	    "%s: does not fit the %d x %d mm label even in the smallest text, "
	    "shorten it%s",
	    page->misfit, page->size->width_mm, page->size->height_mm,
	    page->size->small ? " or use a larger label" : "");
}

/*
 * What height is left goes between the parts.  RC_OK with *left the height
 * then still unused, or as attempt().
 */
static enum rc
spread(int *left, struct page *page, const struct label_facts *facts, int pct,
    struct err *err)
{
	int most = page_dots(page, LEAD_MAX_UM), lead;
	enum rc rc;

	page->lead = 0;
	if ((rc = attempt(page, facts, pct, err)) != RC_OK)
		return rc;
	lead = (page->bottom - page->y) / page->parts;
	for (lead = lead < most ? lead : most; lead >= 0; lead--) {
		page->lead = lead;
		if ((rc = attempt(page, facts, pct, err)) != RC_END)
			break;
	}
	*left = page->bottom - page->y;
	return rc;
}

/* Moving a part down may bring it beside the symbol, where it is too wide:
 * then slightly smaller text that can be spread looks better. */
static enum rc
fit(struct page *page, const struct label_facts *facts, struct err *err)
{
	int pct, left, level, best;
	int enough = (page->bottom - page->top) / 12;
	enum rc rc;

	if ((rc = fit_text(&pct, page, facts, err)) != RC_OK)
		return rc;
	best = page->level;
	for (level = best; level < best + 4 && level < PAGE_LEVELS; level++) {
		page->level = level;
		rc = spread(&left, page, facts, pct, err);
		if (rc == RC_OK && left <= enough)
			return RC_OK;
		if (rc != RC_OK && rc != RC_END)
			return rc;
	}
	page->level = best;
	return spread(&left, page, facts, pct, err);
}

/* The bars at the right edge, turned so that a burnt-out element of the head
 * shortens them instead of losing one.  Takes their room from the page. */
static enum rc
place_bars(struct page *page, const char *bars, struct err *err)
{
	struct layout *l = page->l;
	struct label_bars *b = &l->bars_area;
	int quiet;
	enum rc rc;

	rc = barcode_encode(&l->bars, BARCODE_KIND_GS1_128, bars, err);
	if (rc != RC_OK)
		return rc;
	b->module = layout_dots_up(BAR_MODULE_UM, page->dpi);
	quiet = BARCODE_QUIET_GS1_128 * b->module;
	b->h = l->bars->width * b->module;
	b->w = page_dots(page, BAR_LENGTH_UM);
	b->x = page->right - b->w;
	b->y = (l->height - b->h) / 2;
	if (b->y < quiet)
		return err_set(err, RC_INVALID, 0,
		    "bars: %d modules and their quiet zones are longer than "
		    "the label is high",
		    l->bars->width);
	page->right = b->x - page_dots(page, BAR_CLEAR_UM);
	return RC_OK;
}

static enum rc
place_symbol(struct page *page, const char *symbol, struct err *err)
{
	struct layout *l = page->l;
	const struct layout_size *size = page->size;
	enum rc rc;

	rc = barcode_encode(
	    &l->symbol, BARCODE_KIND_GS1_DATAMATRIX, symbol, err);
	if (rc != RC_OK)
		return rc;
	if (l->symbol->width > size->side_max)
		return err_set(err, RC_INVALID, 0,
		    "symbol text: needs %d x %d modules, at most %d fit the "
		    "%d x %d mm label",
		    l->symbol->width, l->symbol->height, size->side_max,
		    size->width_mm, size->height_mm);
	l->area.module = layout_dots_up(size->module_um, page->dpi);
	l->area.side = l->symbol->width * l->area.module;
	return RC_OK;
}

enum rc
layout_make(struct layout **out, const struct label_facts *facts,
    const struct label_media *media, struct fonts *fonts, struct err *err)
{
	bool bars = facts->bars[0] != '\0';
	struct page page = { 0 };
	struct layout *l = xcalloc(1, sizeof(*l));
	int margin;
	enum rc rc;

	*out = NULL;
	page.l = l;
	page.fonts = fonts;
	page.size = layout_size_find(media, bars);
	page.dpi = media->dpi;
	assert(page.size != NULL);
	l->width = label_mm_to_dots(media->width_mm, media->dpi);
	l->height = label_mm_to_dots(media->height_mm, media->dpi);
	margin = layout_dots_up(MARGIN_UM, media->dpi);
	page.left = page.top = margin;
	page.right = l->width - margin;
	page.bottom = l->height - margin;
	if ((rc = place_symbol(&page, facts->symbol, err)) == RC_OK &&
	    (!bars || (rc = place_bars(&page, facts->bars, err)) == RC_OK) &&
	    (rc = fit(&page, facts, err)) == RC_OK) {
		*out = l;
		l = NULL;
	}
	layout_free(l);
	return rc;
}

void
layout_free(struct layout *l)
{
	if (l == NULL)
		return;
	bitmap_free(l->symbol);
	bitmap_free(l->bars);
	free(l);
}
