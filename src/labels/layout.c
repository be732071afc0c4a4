/* layout.c - what goes where on a label. */
#include "page.h"

#include <assert.h>
#include <stdlib.h>

#include "base/day.h"
#include "base/mem.h"
#include "base/str.h"
#include "labels/barcode.h"

#define MARGIN_UM 1500
#define TEXT_MIN_UM 2000 /* 16 dots at 203 dpi: below it strokes get lost */
#define BOLD_MIN_UM 2125 /* from 17 dots on stems are 3 dots, not 2 */
#define LEAD_MAX_UM 1250

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
	    .code = { 2875, 2250 },
	    .strong = { 2750, TEXT_MIN_UM },
	    .detail = { 2375, TEXT_MIN_UM },
	},
};

const struct layout_size *
layout_size_find(const struct label_media *media)
{
	size_t i;

	if (media->dpi != 203 && media->dpi != 300)
		return NULL;
	for (i = 0; i < sizeof(sizes) / sizeof(sizes[0]); i++)
		if (media->width_mm == sizes[i].width_mm &&
		    media->height_mm == sizes[i].height_mm)
			return &sizes[i];
	return NULL;
}

int
layout_dots(int um, int dpi)
{
	return (um * dpi + 12700) / 25400;
}

static int
dots_up(int um, int dpi)
{
	/* 0.5 mm is 3.996 dots at 203 dpi: meant is 4, not the next up. */
	return (um * dpi + 25000) / 25400;
}

/* Largest em height in [min, max] at which the text is `width` dots or less;
 * `min` when none is. */
static enum rc
shrink(
    struct text *text, struct page *page, int min, int width, struct err *err)
{
	struct text_extent e;
	enum rc rc;

	for (;; text->px--) {
		if ((rc = font_measure(&e, page->fonts, text, err)) != RC_OK)
			return rc;
		if (e.right - e.left <= width || text->px <= min)
			return RC_OK;
	}
}

/* White on black across the label; nothing else on it looks like this but
 * the USE BY bar, which has a date below it. */
static enum rc
put_training(struct page *page, struct err *err)
{
	struct text text = { "TRAINING, NOT FOR SERVICE", FONT_TEXT,
		page_dots(page, page->size->small ? 2250 : 2750), true };
	struct text_extent e;
	int width = page->right - page->left, pad = page_dots(page, 400), h;
	enum rc rc;

	rc = shrink(
	    &text, page, page_dots(page, TEXT_MIN_UM), width - 2 * pad, err);
	if (rc != RC_OK ||
	    (rc = font_measure(&e, page->fonts, &text, err)) != RC_OK)
		return rc;
	h = e.ascent + e.descent + 2 * page_dots(page, 300);
	page_black(page, page->left, page->y, width, h);
	page_text(page, &text, &e, page->left + (width - e.right + e.left) / 2,
	    page->y + page_dots(page, 300) + e.ascent);
	page->y += h;
	page_gap(page, 250);
	return RC_OK;
}

/* One line unless two lines can be clearly larger.  `pct` of the size that
 * goes with this level: a long name gives way before everything else does. */
static enum rc
put_product(struct page *page, const char *name, int pct, struct err *err)
{
	const int *range = page->size->product;
	struct part part = { "product", name, FONT_TEXT, 0, 1 };
	int px = page_px(page, range) * pct / 100;
	int least = page_dots(page, range[2]);
	enum rc rc = RC_END;

	page->name_whole = false;
	if (px < least)
		px = least;
	for (part.px = px; rc == RC_END; part.px--) {
		if (part.lines_max == 1 &&
		    (part.px < px * 85 / 100 || part.px < least)) {
			part.lines_max = 2;
			part.px = px;
		}
		if (part.px < least)
			break;
		if ((rc = page_part(page, &part, err)) == RC_OK) {
			page->name_px = part.px;
			page->name_whole = part.lines_max == 1 && part.px == px;
		}
	}
	if (rc == RC_OK)
		page_gap(page, 250);
	return rc;
}

/* A black chip is no use on the black bar: black on white inside it, at the
 * right end and clear of the words, which reach to `from`. */
static enum rc
put_reprint(struct page *page, int number, int from, int bar, struct err *err)
{
	char words[24];
	struct text text = { words, FONT_TEXT, 0, false };
	struct text_extent e;
	int inset = page_dots(page, 375), pad = page_dots(page, 500);
	int least = page_dots(page, BOLD_MIN_UM), h = bar - 2 * inset, w, room;
	enum rc rc;

	if (number == 0)
		return RC_OK;
	str_fmt(words, sizeof(words), "REPRINT %d", number);
	text.px = h * 9 / 10 > least ? h * 9 / 10 : least;
	room = page->right - inset - from - 4 * pad;
	if ((rc = shrink(&text, page, least, room, err)) != RC_OK ||
	    (rc = font_measure(&e, page->fonts, &text, err)) != RC_OK)
		return rc;
	if (e.right - e.left > room)
		return page_misfit(page, "reprint");
	w = e.right - e.left + 2 * pad;
	page_white(page, page->right - inset - w, page->y + inset, w, h);
	page_text(page, &text, &e, page->right - inset - w + pad,
	    page->y + inset + (h + e.ascent) / 2);
	return RC_OK;
}

/* The bar: USE BY and the weekday, white on black. */
static enum rc
put_bar(struct page *page, const struct label_facts *facts, struct err *err)
{
	char day[8], words[24];
	struct text text = { words, FONT_TEXT, page_px(page, page->size->word),
		true };
	struct text_extent e;
	int pad, h;
	enum rc rc;

	str_copy(
	    day, sizeof(day), weekday_short(day_weekday(facts->use_by.day)));
	str_upper(day);
	str_fmt(words, sizeof(words), "USE BY %s", day);
	if ((rc = font_measure(&e, page->fonts, &text, err)) != RC_OK)
		return rc;
	pad = text.px / 6;
	h = e.ascent + 2 * pad;
	page_black(page, page->left, page->y, page->right - page->left, h);
	page_text(
	    page, &text, &e, page->left + pad + 2, page->y + pad + e.ascent);
	if ((rc = put_reprint(page, facts->reprint,
		 page->left + pad + 2 + e.right - e.left, h, err)) != RC_OK)
		return rc;
	page->y += h;
	return RC_OK;
}

/* Day and month as large as the label allows, then the year small, and the
 * time at the right edge. */
static enum rc
put_date(struct page *page, const struct local_time *t, struct err *err)
{
	char day[16], year[8], time[8];
	struct text texts[3] = { { day, FONT_TEXT, 0, false },
		{ year, FONT_TEXT, 0, false }, { time, FONT_TEXT, 0, false } };
	struct text_extent e[3];
	struct civil c = day_civil(t->day);
	int px, i, gap, right, used;
	enum rc rc;

	str_fmt(day, sizeof(day), "%d %s", c.day, month_short(c.month));
	str_upper(day);
	str_fmt(year, sizeof(year), "%04d", c.year);
	str_fmt(time, sizeof(time), "%02d:%02d", t->hour, t->minute);
	px = page_px(page, page->size->date);
	for (;; px--) {
		if (px < page_dots(page, page->size->date[1]))
			return page_misfit(page, "use by");
		texts[0].px = px;
		texts[1].px = px * 36 / 100;
		if (texts[1].px < page_dots(page, TEXT_MIN_UM))
			texts[1].px = page_dots(page, TEXT_MIN_UM);
		texts[2].px = px * 3 / 4;
		gap = px / 8;
		for (i = 0, used = 3 * gap; i < 3; i++) {
			rc = font_measure(&e[i], page->fonts, &texts[i], err);
			if (rc != RC_OK)
				return rc;
			used += e[i].right - e[i].left;
		}
		right = page_edge(page, px / 8 + e[0].ascent);
		if (used <= right - page->left)
			break;
	}
	page->y += px / 8 + e[0].ascent;
	page_text(page, &texts[0], &e[0], page->left, page->y);
	page_text(page, &texts[1], &e[1],
	    page->left + e[0].right - e[0].left + gap, page->y);
	page_text(
	    page, &texts[2], &e[2], right - e[2].right + e[2].left, page->y);
	page->y += px / 8;
	return RC_OK;
}

/* "Batch 26330-09C", behind the portion code where that is not under the
 * symbol. */
static enum rc
put_codes(struct page *page, const struct label_facts *facts, struct err *err)
{
	struct text spans[3];
	int n = 0, px = page_px(page, page->size->code);
	int detail = page_px(page, page->size->detail);
	enum rc rc;

	if (facts->kind == LABEL_BATCH) {
		spans[n++] = (struct text){ "Batch", FONT_TEXT, detail, false };
		spans[n++] =
		    (struct text){ facts->batch, FONT_CODE, px, false };
	} else {
		if (page->size->small)
			spans[n++] =
			    (struct text){ facts->code, FONT_CODE, px, false };
		spans[n++] = (struct text){ "Batch", FONT_TEXT, detail, false };
		spans[n++] =
		    (struct text){ facts->batch, FONT_CODE, detail + 1, false };
	}
	rc = page_row(page, n == 3 ? "code and batch" : "batch", spans, n,
	    page_dots(page, 1000), err);
	if (rc == RC_OK)
		page_gap(page, 150);
	return rc;
}

/* Two lines only once smaller text alone has not helped: a last line of one
 * word looks like a mistake. */
static enum rc
put_detail(struct page *page, const char *field, const char *s, int lines,
    struct err *err)
{
	struct part part = { field, s, FONT_TEXT,
		page_px(page, page->size->detail), lines };
	enum rc rc;

	if (lines == 2 && page->level < PAGE_LEVELS / 2)
		part.lines_max = 1;
	if (s[0] == '\0')
		return RC_OK;
	rc = page_part(page, &part, err);
	if (rc == RC_OK)
		page_gap(page, 150);
	return rc;
}

static enum rc
put_allergens(struct page *page, const char *allergens, struct err *err)
{
	char s[LAYOUT_LINE_MAX];
	struct part part = { "allergens", s, FONT_TEXT,
		page_px(page, page->size->strong), 3 };
	enum rc rc;

	/* Nothing on the label but the date is larger than the name. */
	if (part.px > page->name_px)
		part.px = page->name_px;
	str_fmt(s, sizeof(s), "Contains: %s", allergens);
	rc = page_part(page, &part, err);
	if (rc == RC_OK)
		page_gap(page, 200);
	return rc;
}

static enum rc
put_made(struct page *page, const struct label_facts *facts, struct err *err)
{
	struct civil c = day_civil(facts->made.day);
	char s[LAYOUT_LINE_MAX];

	str_fmt(s, sizeof(s), "%s %s %d %s %02d:%02d%s%s",
	    facts->kind == LABEL_BATCH ? "Received" : "Prepared",
	    weekday_short(day_weekday(facts->made.day)), c.day,
	    month_short(c.month), facts->made.hour, facts->made.minute,
	    facts->by[0] != '\0' ? " by " : "", facts->by);
	return put_detail(page, "prepared", s, 2, err);
}

/* Below the date.  On goods in the origin is what the next person asks for;
 * on prepared food it is the allergens. */
static enum rc
put_details(struct page *page, const struct label_facts *f, struct err *err)
{
	bool batch = f->kind == LABEL_BATCH, small = page->size->small;
	enum rc rc;

	if (batch && (rc = put_codes(page, f, err)) != RC_OK)
		return rc;
	if (batch && !small &&
	    (rc = put_detail(page, "origin", f->origin, 3, err)) != RC_OK)
		return rc;
	if ((rc = put_allergens(page, f->allergens, err)) != RC_OK)
		return rc;
	/* High up there is room for a whole line above the symbol. */
	if (!batch && !small && (rc = put_made(page, f, err)) != RC_OK)
		return rc;
	if (!batch && (rc = put_codes(page, f, err)) != RC_OK)
		return rc;
	if ((rc = put_detail(page, "quantity", f->quantity, 2, err)) != RC_OK)
		return rc;
	if (small)
		return RC_OK;
	if (batch && (rc = put_made(page, f, err)) != RC_OK)
		return rc;
	if ((rc = put_detail(page, "storage", f->storage, 2, err)) != RC_OK)
		return rc;
	return batch ? RC_OK : put_detail(page, "origin", f->origin, 3, err);
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
		rc =
		    shrink(&text, page, page_dots(page, 2250), area->side, err);
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
	struct part species = { "species", facts->species, FONT_TEXT, 0, 2 };
	enum rc rc;

	page_start(page);
	if ((rc = put_symbol(page, facts, err)) != RC_OK)
		return rc;
	if (facts->training && (rc = put_training(page, err)) != RC_OK)
		return rc;
	if ((rc = put_product(page, facts->product, name_pct, err)) != RC_OK)
		return rc;
	if (!page->size->small && facts->species[0] != '\0') {
		species.px = page_px(page, page->size->detail);
		if ((rc = page_part(page, &species, err)) != RC_OK)
			return rc;
		page_gap(page, 350);
	}
	if ((rc = put_bar(page, facts, err)) != RC_OK ||
	    (rc = put_date(page, &facts->use_by, err)) != RC_OK)
		return rc;
	page_gap(page, 400);
	if ((rc = put_details(page, facts, err)) != RC_OK)
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

enum rc
layout_make(struct layout **out, const struct label_facts *facts,
    const struct label_media *media, struct fonts *fonts, struct err *err)
{
	struct page page = { 0 };
	struct layout *l = xcalloc(1, sizeof(*l));
	int margin;
	enum rc rc;

	*out = NULL;
	page.l = l;
	page.fonts = fonts;
	page.size = layout_size_find(media);
	page.dpi = media->dpi;
	assert(page.size != NULL);
	l->width = label_mm_to_dots(media->width_mm, media->dpi);
	l->height = label_mm_to_dots(media->height_mm, media->dpi);
	rc = barcode_encode(
	    &l->symbol, BARCODE_KIND_GS1_DATAMATRIX, facts->symbol, err);
	if (rc != RC_OK)
		goto done;
	if (l->symbol->width > page.size->side_max) {
		rc = err_set(err, RC_INVALID, 0,
		    "symbol text: needs %d x %d modules, at most %d fit the "
		    "%d x %d mm label",
		    l->symbol->width, l->symbol->height, page.size->side_max,
		    media->width_mm, media->height_mm);
		goto done;
	}
	l->area.module = dots_up(page.size->module_um, media->dpi);
	l->area.side = l->symbol->width * l->area.module;
	margin = dots_up(MARGIN_UM, media->dpi);
	page.left = page.top = margin;
	page.right = l->width - margin;
	page.bottom = l->height - margin;
	if ((rc = fit(&page, facts, err)) != RC_OK)
		goto done;
	*out = l;
	l = NULL;
done:
	layout_free(l);
	return rc;
}

void
layout_free(struct layout *l)
{
	if (l == NULL)
		return;
	bitmap_free(l->symbol);
	free(l);
}
