/* page.c - one attempt at filling a label. */
#include "page.h"

#include <assert.h>
#include <string.h>

#include "base/str.h"

void
page_start(struct page *page)
{
	page->l->count = 0;
	page->y = page->top;
	page->parts = 0;
	page->clash = false;
	page->misfit = NULL;
	page->longest_lines = 0;
	page->longest_bytes = 0;
}

int
page_dots(const struct page *page, int um)
{
	return layout_dots(um, page->dpi);
}

int
page_px(const struct page *page, const int range[2])
{
	int um;

	um = range[0] - (range[0] - range[1]) * page->level / (PAGE_LEVELS - 1);
	return page_dots(page, um);
}

void
page_gap(struct page *page, int um)
{
	page->y += page_dots(page, um) + page->lead;
	page->parts++;
}

static void
guard(struct page *page, int x, int y, int w, int h)
{
	if (x < page->left || x + w > page->right || y < page->top ||
	    y + h > page->bottom ||
	    (x + w > page->hole_x && y + h > page->hole_y))
		page->clash = true;
}

static struct item *
add(struct page *page, enum item_kind kind, int x, int y)
{
	struct item *item;

	assert(page->l->count < LAYOUT_ITEMS_MAX);
	item = &page->l->items[page->l->count++];
	memset(item, 0, sizeof(*item));
	item->kind = kind;
	item->x = x;
	item->y = y;
	return item;
}

void
page_black(struct page *page, int x, int y, int w, int h)
{
	struct item *item = add(page, ITEM_BLACK, x, y);

	guard(page, x, y, w, h);
	item->w = w;
	item->h = h;
}

void
page_white(struct page *page, int x, int y, int w, int h)
{
	struct item *item = add(page, ITEM_WHITE, x, y);

	guard(page, x, y, w, h);
	item->w = w;
	item->h = h;
}

void
page_text(struct page *page, const struct text *text,
    const struct text_extent *e, int x, int baseline)
{
	struct item *item = add(page, ITEM_TEXT, x - e->left, baseline);
	bool fits;

	guard(page, x, baseline - e->ascent, e->right - e->left,
	    e->ascent + e->descent);
	item->face = text->face;
	item->px = text->px;
	item->white = text->white;
	fits = str_copy(item->s, sizeof(item->s), text->s);
	assert(fits);
	(void)fits;
}

enum rc
page_misfit(struct page *page, const char *field)
{
	page->misfit = field;
	return RC_END;
}

/* A tall accent or a deep tail may need more than the usual share. */
static void
heights(int *ascent, int *descent, const struct text_extent *e, int px)
{
	*ascent = (px * 76 + 99) / 100;
	*descent = (px * 22 + 99) / 100;
	if (e->ascent > *ascent)
		*ascent = e->ascent;
	if (e->descent > *descent)
		*descent = e->descent;
}

int
page_edge(const struct page *page, int height)
{
	return page->y + height > page->hole_y ? page->hole_x : page->right;
}

/*
 * As many whole words of `rest` as fit `width`, copied to `line`; rest->s
 * moves to where the following line starts.  `line` is empty when not even
 * one word fits.
 */
static enum rc
fill_line(char *line, struct text *rest, struct page *page, int width,
    struct err *err)
{
	const char *s = rest->s, *end = s, *stop;
	char trial[LAYOUT_LINE_MAX];
	struct text text = *rest;
	struct text_extent e;
	enum rc rc;

	line[0] = '\0';
	text.s = trial;
	while (*end != '\0') {
		stop = end + strspn(end, " ");
		stop += strcspn(stop, " ");
		if (!str_fmt(trial, sizeof(trial), "%.*s", (int)(stop - s), s))
			break;
		if ((rc = font_measure(&e, page->fonts, &text, err)) != RC_OK)
			return rc;
		if (e.right - e.left > width)
			break;
		memcpy(line, trial, sizeof(trial));
		end = stop;
		rest->s = end + strspn(end, " ");
	}
	return RC_OK;
}

/* A line whose ink, rather than its origin, starts at the left margin. */
static enum rc
put_line(struct page *page, const struct text *style, const char *line,
    int ascent, struct err *err)
{
	struct text text = *style;
	struct text_extent e;
	enum rc rc;

	text.s = line;
	if ((rc = font_measure(&e, page->fonts, &text, err)) != RC_OK)
		return rc;
	page_text(page, &text, &e, page->left, page->y + ascent);
	return RC_OK;
}

/* The lines of a part; on RC_END some may have been placed. */
static enum rc
put_lines(
    int *lines, struct page *page, const struct part *part, struct err *err)
{
	char line[LAYOUT_LINE_MAX];
	struct text text = { part->s, part->face, part->px, false };
	struct text_extent e;
	int ascent, descent, height, width;
	enum rc rc;

	if ((rc = font_measure(&e, page->fonts, &text, err)) != RC_OK)
		return rc;
	heights(&ascent, &descent, &e, part->px);
	height = ascent + descent;
	for (*lines = 0; *text.s != '\0'; (*lines)++) {
		if (*lines == part->lines_max)
			return page_misfit(page, part->field);
		if (*lines > 0)
			page->y += part->px / 16 + 1;
		width = page_edge(page, height) - page->left;
		rc = fill_line(line, &text, page, width, err);
		if (rc != RC_OK)
			return rc;
		if (line[0] == '\0')
			return page_misfit(page, part->field);
		if ((rc = put_line(page, &text, line, ascent, err)) != RC_OK)
			return rc;
		page->y += height;
	}
	return RC_OK;
}

/* Should all of it be too high in the end, the longest part is named. */
static void
blame(struct page *page, const char *field, int lines, size_t bytes)
{
	if (lines < page->longest_lines ||
	    (lines == page->longest_lines && bytes <= page->longest_bytes))
		return;
	page->longest_lines = lines;
	page->longest_bytes = bytes;
	page->misfit = field;
}

enum rc
page_part(struct page *page, const struct part *part, struct err *err)
{
	size_t count = page->l->count;
	int y = page->y, lines;
	enum rc rc;

	rc = put_lines(&lines, page, part, err);
	if (rc == RC_END) {
		page->l->count = count;
		page->y = y;
	} else if (rc == RC_OK) {
		blame(page, part->field, lines, strlen(part->s));
	}
	return rc;
}

enum rc
page_row(struct page *page, const char *field, const struct text *spans,
    int count, int gap, struct err *err)
{
	struct text_extent e[LAYOUT_SPANS_MAX];
	int i, x, a, d, ascent = 0, descent = 0;
	enum rc rc;

	assert(count <= LAYOUT_SPANS_MAX);
	for (i = 0; i < count; i++) {
		rc = font_measure(&e[i], page->fonts, &spans[i], err);
		if (rc != RC_OK)
			return rc;
		heights(&a, &d, &e[i], spans[i].px);
		ascent = a > ascent ? a : ascent;
		descent = d > descent ? d : descent;
	}
	for (i = 0, x = page->left; i < count; i++) {
		x += i > 0 ? gap : 0;
		if (x + e[i].right - e[i].left >
		    page_edge(page, ascent + descent))
			return page_misfit(page, field);
		page_text(page, &spans[i], &e[i], x, page->y + ascent);
		x += e[i].right - e[i].left;
	}
	page->y += ascent + descent;
	return RC_OK;
}

enum rc
page_shrink(
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
