/*
 * layout.h - where everything stands on a label, in dots.
 *
 * Private to labels/.  layout.c fits the text, render.c draws the result.
 */
#ifndef LAYOUT_H
#define LAYOUT_H

#include "labels/font.h"
#include "labels/label.h"

#define LAYOUT_LINE_MAX 160 /* bytes of one line of text */
#define LAYOUT_TEXT_MAX 256 /* bytes of a text that may take many lines */
#define LAYOUT_ITEMS_MAX 64
#define LAYOUT_SPANS_MAX 4

enum item_kind {
	ITEM_TEXT,  /* a line with its origin at x, y the baseline */
	ITEM_BLACK, /* a filled rectangle, corner x, y */
	ITEM_WHITE, /* the same, cut out again */
};

struct item {
	enum item_kind kind;
	int x, y, w, h; /* w, h of rectangles only */
	enum font_face face;
	int px;
	bool white;
	char s[LAYOUT_LINE_MAX];
};

/* A finished label.  Items are drawn in order, the codes last. */
struct layout {
	int width, height;           /* dots */
	struct bitmap *symbol;       /* modules, owned */
	struct label_area area;      /* of the symbol, without quiet zone */
	struct bitmap *bars;         /* modules, owned; NULL: no second code */
	struct label_bars bars_area; /* without quiet zone */
	struct item items[LAYOUT_ITEMS_MAX];
	size_t count;
};

/* What differs between the label sizes; lengths in micrometres. */
struct layout_size {
	int width_mm, height_mm;
	int module_um;
	int side_max; /* modules of the largest symbol that leaves room */
	bool small;   /* only what nobody can do without */
	bool bars;    /* with a second code */
	/* em heights, largest and smallest; [2] is how far the product name
	 * may shrink for its own width alone */
	int product[3];
	int word[2];   /* USE BY or FROZEN, and the weekday */
	int date[2];   /* day and month */
	int state[2];  /* the same where a state takes room too */
	int second[2]; /* the use-by of frozen food */
	int hold[2];   /* ON HOLD, DO NOT USE */
	int code[2];   /* code and batch, fixed width */
	int strong[2]; /* allergens */
	int detail[2]; /* everything else */
};

/* layout_size_find - with or without a second code; NULL when the media is none
 * of the sizes known, or too small for it. */
const struct layout_size *layout_size_find(
    const struct label_media *media, bool bars);

/* layout_dots - micrometres in dots, to the nearest. */
int layout_dots(int um, int dpi);

/* layout_dots_up - the next whole dots up, for modules and margins. */
int layout_dots_up(int um, int dpi);

/*
 * layout_make - fit `facts`, already validated, to the label.
 * RC_OK       *out is owned by the caller
 * RC_INVALID  the field named does not fit, or the symbol is refused
 * RC_FAILED   the font is damaged
 */
enum rc layout_make(struct layout **out, const struct label_facts *facts,
    const struct label_media *media, struct fonts *fonts,
    struct err *err) MUST_CHECK;

/* layout_draw - as a picture, owned by the caller.  RC_OK, RC_FAILED. */
enum rc layout_draw(struct bitmap **out, const struct layout *l,
    struct fonts *fonts, struct err *err) MUST_CHECK;

void layout_free(struct layout *l);

#endif /* LAYOUT_H */
