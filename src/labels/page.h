/*
 * page.h - one attempt at filling a label: lines, paragraphs, what is left.
 *
 * Private to labels/.  Whatever is added is checked against the margin and the
 * symbol; `clash` then says that the attempt is void.  The pen goes down the
 * label; every part is placed below the one before, left of the symbol once the
 * pen is beside it.  A part that does not fit gives RC_END and leaves its name
 * in `misfit`, and the caller tries again with smaller text.
 */
#ifndef PAGE_H
#define PAGE_H

#include "layout.h"

/* Steps from the largest text to the smallest. */
#define PAGE_LEVELS 14

struct page {
	struct layout *l;
	struct fonts *fonts;
	const struct layout_size *size;
	int dpi;
	int level;                    /* 0 largest .. PAGE_LEVELS - 1 */
	int left, right, top, bottom; /* inside the margin; right, bottom out */
	int hole_x, hole_y; /* from row hole_y on, ink stays left of hole_x */
	int lead;           /* extra dots between parts */
	int y;              /* first free row */
	int parts;          /* placed so far */
	bool clash;         /* ink in the margin or too near the symbol */
	const char *misfit; /* part that did not fit, or the longest one */
	int longest_lines;  /* of the longest part so far */
	size_t longest_bytes;
	int name_px;     /* em height of the product name */
	bool name_whole; /* it is on one line at the size of this level */
};

struct part {
	const char *field; /* as refusals name it */
	const char *s;
	enum font_face face;
	int px;
	int lines_max;
};

/* page_start - forget everything placed; level and lead stay. */
void page_start(struct page *page);

/* page_dots - micrometres in dots. */
int page_dots(const struct page *page, int um);

/* page_px - em height at this level of a {largest, smallest} range. */
int page_px(const struct page *page, const int range[2]);

/* page_gap - room below a part before the next one. */
void page_gap(struct page *page, int um);

void page_black(struct page *page, int x, int y, int w, int h);
void page_white(struct page *page, int x, int y, int w, int h);

/* page_text - add a line as it is, its ink starting at column `x`; `e` is what
 * font_measure() said. */
void page_text(struct page *page, const struct text *text,
    const struct text_extent *e, int x, int baseline);

/* page_edge - how far right the next `height` rows may be used. */
int page_edge(const struct page *page, int height);

/*
 * page_part - a paragraph, wrapped between words.
 * RC_OK, RC_END with nothing of it placed, or what font_measure() returned.
 */
enum rc page_part(
    struct page *page, const struct part *part, struct err *err) MUST_CHECK;

/*
 * page_row - up to LAYOUT_SPANS_MAX texts on one line and one baseline, `gap`
 * dots apart.  Returns as page_part().
 */
enum rc page_row(struct page *page, const char *field, const struct text *spans,
    int count, int gap, struct err *err) MUST_CHECK;

/* page_shrink - the largest em height from text->px down to `min` at which the
 * text is `width` dots or less; `min` when none is. */
enum rc page_shrink(struct text *text, struct page *page, int min, int width,
    struct err *err) MUST_CHECK;

/* page_misfit - note what does not fit; always RC_END. */
enum rc page_misfit(struct page *page, const char *field);

#endif /* PAGE_H */
