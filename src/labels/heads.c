/* heads.c - what is read first: state, day, and the marks beside them. */
#include "parts.h"

#include <stdlib.h>

#include "base/day.h"
#include "base/str.h"

char *
parts_day(char dst[PARTS_DATE_SIZE], const struct local_time *t)
{
	struct civil c = day_civil(t->day);

	str_fmt(dst, PARTS_DATE_SIZE, "%s %d %s %04d",
	    weekday_short(day_weekday(t->day)), c.day, month_short(c.month),
	    c.year);
	return dst;
}

char *
parts_time(char dst[PARTS_DATE_SIZE], const struct local_time *t)
{
	struct civil c = day_civil(t->day);

	str_fmt(dst, PARTS_DATE_SIZE, "%s %d %s %02d:%02d",
	    weekday_short(day_weekday(t->day)), c.day, month_short(c.month),
	    t->hour, t->minute);
	return dst;
}

char *
parts_day_time(char dst[PARTS_DATE_SIZE], const struct local_time *t)
{
	char day[PARTS_DATE_SIZE];

	str_fmt(dst, PARTS_DATE_SIZE, "%s %02d:%02d", parts_day(day, t),
	    t->hour, t->minute);
	return dst;
}

/* White on black across the top: only the bar above a date and the block of a
 * hold look like this too, and those say what they are. */
enum rc
parts_training(struct page *page, struct err *err)
{
	struct text text = { "TRAINING, NOT FOR SERVICE", FONT_TEXT,
		page_dots(page, page->size->small ? 2250 : 2750), true };
	struct text_extent e;
	int width = page->right - page->left, pad = page_dots(page, 400), h;
	enum rc rc;

	rc = page_shrink(
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
	if ((rc = page_shrink(&text, page, least, room, err)) != RC_OK ||
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

/* The bar: what the date below it is, and its weekday, white on black. */
static enum rc
put_bar(struct page *page, const char *what, day_no day, int reprint,
    struct err *err)
{
	char weekday[8], words[24];
	struct text text = { words, FONT_TEXT, page_px(page, page->size->word),
		true };
	struct text_extent e;
	int pad, h;
	enum rc rc;

	str_copy(weekday, sizeof(weekday), weekday_short(day_weekday(day)));
	str_upper(weekday);
	str_fmt(words, sizeof(words), "%s %s", what, weekday);
	if ((rc = font_measure(&e, page->fonts, &text, err)) != RC_OK)
		return rc;
	pad = text.px / 6;
	h = e.ascent + 2 * pad;
	page_black(page, page->left, page->y, page->right - page->left, h);
	page_text(
	    page, &text, &e, page->left + pad + 2, page->y + pad + e.ascent);
	if ((rc = put_reprint(page, reprint,
		 page->left + pad + 2 + e.right - e.left, h, err)) != RC_OK)
		return rc;
	page->y += h;
	return RC_OK;
}

/* Only a plain use-by can be sure of its room. */
static const int *
date_range(const struct page *page, enum label_variant variant)
{
	return variant == LABEL_USE_BY ? page->size->date : page->size->state;
}

/*
 * Day and month as large as the label allows.  A use-by has its year small and
 * the time at the right edge; the day something was frozen may be long ago, so
 * its year is as large, and has no time.
 */
static enum rc
put_date(struct page *page, const struct local_time *t,
    enum label_variant variant, struct err *err)
{
	const int *range = date_range(page, variant);
	bool long_ago = variant == LABEL_FROZEN;
	char day[16], year[8], time[8];
	struct text texts[3] = { { day, FONT_TEXT, 0, false },
		{ year, FONT_TEXT, 0, false }, { time, FONT_TEXT, 0, false } };
	struct text_extent e[3];
	struct civil c = day_civil(t->day);
	int px, i, gap, right, used, least, n = long_ago ? 2 : 3;
	enum rc rc;

	str_fmt(day, sizeof(day), "%d %s", c.day, month_short(c.month));
	str_upper(day);
	str_fmt(year, sizeof(year), "%04d", c.year);
	str_fmt(time, sizeof(time), "%02d:%02d", t->hour, t->minute);
	px = page_px(page, range);
	/* Rather than no label at all. */
	if (page->level == PAGE_LEVELS - 1)
		range = page->size->state;
	least = page_dots(page, range[1]);
	for (;; px--) {
		if (px < least)
			return page_misfit(
			    page, long_ago ? "frozen" : "use by");
		texts[0].px = px;
		texts[1].px = long_ago ? px : px * 36 / 100;
		if (texts[1].px < page_dots(page, TEXT_MIN_UM))
			texts[1].px = page_dots(page, TEXT_MIN_UM);
		texts[2].px = px * 3 / 4;
		gap = long_ago ? px * 3 / 8 : px / 8;
		for (i = 0, used = n * gap; i < n; i++) {
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
	if (n == 3)
		page_text(page, &texts[2], &e[2],
		    right - e[2].right + e[2].left, page->y);
	page->y += px / 8;
	return RC_OK;
}

/* Not a bar, so that a date under a bar is never taken for this one: a frame
 * with the word and, at its right end, since when. */
static enum rc
put_frame(
    struct page *page, const char *word, const char *since, struct err *err)
{
	struct text texts[2] = { { word, FONT_TEXT, 0, false },
		{ since, FONT_TEXT, page_px(page, page->size->detail),
		    false } };
	int width = page->right - page->left, line = page_dots(page, 300);
	int pad = page_dots(page, 500), least = page_dots(page, BOLD_MIN_UM);
	struct text_extent e[2];
	int h, room, y;
	enum rc rc;

	if ((rc = font_measure(&e[1], page->fonts, &texts[1], err)) != RC_OK)
		return rc;
	texts[0].px = page_px(page, page->size->word) * 4 / 5;
	if (texts[0].px < least)
		texts[0].px = least;
	room = width - 2 * line - 4 * pad - (e[1].right - e[1].left);
	if ((rc = page_shrink(&texts[0], page, least, room, err)) != RC_OK ||
	    (rc = font_measure(&e[0], page->fonts, &texts[0], err)) != RC_OK)
		return rc;
	if (e[0].right - e[0].left > room)
		return page_misfit(page, "thawed");
	h = e[0].ascent + 2 * (pad * 2 / 3 + line);
	y = page->y + pad * 2 / 3 + line + e[0].ascent;
	page_black(page, page->left, page->y, width, h);
	page_white(page, page->left + line, page->y + line, width - 2 * line,
	    h - 2 * line);
	page_text(page, &texts[0], &e[0], page->left + line + pad, y);
	page_text(page, &texts[1], &e[1],
	    page->right - line - pad - (e[1].right - e[1].left), y);
	page->y += h;
	page_gap(page, 250);
	return RC_OK;
}

/* Nothing on this label may be read as leave to use the food: a black block
 * where else there is a date. */
static enum rc
put_hold(struct page *page, int reprint, struct err *err)
{
	struct text texts[2] = { { "ON HOLD", FONT_TEXT, 0, true },
		{ "DO NOT USE", FONT_TEXT, 0, true } };
	struct text_extent e[2];
	int px, pad, width = page->right - page->left, h, chip;
	enum rc rc;

	texts[1].px = page_px(page, page->size->hold);
	rc = page_shrink(&texts[1], page, page_dots(page, page->size->hold[1]),
	    width * 15 / 16, err);
	if (rc != RC_OK)
		return rc;
	px = texts[0].px = texts[1].px;
	if ((rc = font_measure(&e[0], page->fonts, &texts[0], err)) != RC_OK ||
	    (rc = font_measure(&e[1], page->fonts, &texts[1], err)) != RC_OK)
		return rc;
	pad = px / 5;
	h = e[0].ascent + e[1].ascent + 3 * pad;
	page_black(page, page->left, page->y, width, h);
	page_text(page, &texts[0], &e[0], page->left + pad + 2,
	    page->y + pad + e[0].ascent);
	page_text(
	    page, &texts[1], &e[1], page->left + pad + 2, page->y + h - pad);
	/* No larger than on other labels: the words are what counts here. */
	chip = page_px(page, page->size->word);
	if (chip > e[0].ascent + 2 * pad)
		chip = e[0].ascent + 2 * pad;
	if ((rc = put_reprint(page, reprint,
		 page->left + pad + 2 + e[0].right - e[0].left, chip, err)) !=
	    RC_OK)
		return rc;
	page->y += h;
	page_gap(page, 500);
	return RC_OK;
}

/*
 * The date that stays good for months is the smaller one, and says on what it
 * depends: read on a thawed tray, the large one is in the past.
 */
static enum rc
put_frozen(struct page *page, const struct label_facts *f, struct err *err)
{
	char until[PARTS_DATE_SIZE];
	struct text condition = { "If kept frozen, use by", FONT_TEXT,
		page_px(page, page->size->detail), false };
	struct text date = { parts_day_time(until, &f->use_by), FONT_TEXT,
		page_px(page, page->size->second), false };
	enum rc rc;

	if ((rc = put_bar(page, "FROZEN", f->frozen.day, f->reprint, err)) !=
		RC_OK ||
	    (rc = put_date(page, &f->frozen, f->variant, err)) != RC_OK)
		return rc;
	page_gap(page, page->size->small ? 250 : 500);
	if ((rc = page_row(page, "use by", &condition, 1, 0, err)) != RC_OK ||
	    (rc = page_row(page, "use by", &date, 1, 0, err)) != RC_OK)
		return rc;
	page_gap(page, page->size->small ? 200 : 350);
	return RC_OK;
}

enum rc
parts_head(struct page *page, const struct label_facts *f, struct err *err)
{
	char since[PARTS_DATE_SIZE];
	enum rc rc = RC_OK;

	switch (f->variant) {
	case LABEL_HOLD:
		return put_hold(page, f->reprint, err);
	case LABEL_FROZEN:
		return put_frozen(page, f, err);
	case LABEL_THAWED:
		rc = put_frame(
		    page, "DEFROSTED", parts_time(since, &f->thawed), err);
		break;
	case LABEL_USE_BY:
		break;
	}
	if (rc != RC_OK ||
	    (rc = put_bar(page, "USE BY", f->use_by.day, f->reprint, err)) !=
		RC_OK ||
	    (rc = put_date(page, &f->use_by, f->variant, err)) != RC_OK)
		return rc;
	page_gap(page, 400);
	return RC_OK;
}
