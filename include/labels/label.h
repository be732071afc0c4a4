/*
 * labels/label.h - what stands on a label, and the label as a picture.
 *
 * A label is laid out in millimetres, rendered once to a one-bit bitmap at the
 * printer's resolution, and that bitmap is what is previewed, digested and
 * sent.  Layout never truncates: text shrinks within limits, wraps, and then
 * the label is refused with the field named.
 *
 * Black on white only; nothing is meant by colour.
 */
#ifndef LABELS_LABEL_H
#define LABELS_LABEL_H

#include <stdbool.h>

#include "base/bitmap.h"
#include "base/clock.h"
#include "base/err.h"

enum label_kind {
	LABEL_PORTION, /* one serving */
	LABEL_TRAY,    /* several servings labelled together */
	LABEL_BATCH,   /* goods in */
};

/* What the label says about the food; docs/labels.md has all of them. */
enum label_variant {
	LABEL_USE_BY, /* chilled, use by */
	LABEL_FROZEN, /* frozen on, use by while frozen */
	LABEL_THAWED, /* was frozen: defrosted, never to be frozen again */
	LABEL_HOLD,   /* do not use: blocked pending a decision */
};

/*
 * Everything printed; UTF-8, filled by print/, checked by label_render().
 * May be empty: species, by, code on a batch label, origin, storage, bars; the
 * fields of a variant other than the label's are not looked at.  The allergens
 * may not: a label that is silent about them is not printed.
 */
struct label_facts {
	enum label_kind kind;
	enum label_variant variant;
	char product[80];  /* dish or species, the largest words */
	char species[120]; /* common and scientific name */
	struct local_time use_by;
	struct local_time made; /* prepared, or received for a batch */
	char by[16];            /* initials of who did it */
	char batch[16];         /* as people read it */
	char also[160];         /* the other batches of it: "26338-024 +
				   26338-031"; or "" */
	int others;             /* how many those are */
	char code[16];          /* portion code; empty on a batch label */
	char quantity[48];      /* "6 portions, 960 g" */
	char allergens[120];    /* "Fish; milk": always printed bold */
	char origin[120];       /* method, area, gear in words */
	char storage[80];       /* "Keep at 0 to 2 C" */
	char symbol[96]; /* element string in brackets, core/label_code.h */
	/* GS1-128 short key in brackets, for a second code; empty: none. */
	char bars[96];
	struct local_time frozen; /* FROZEN and THAWED: when it was frozen */
	struct local_time thawed; /* THAWED: when it was taken out to thaw */
	struct local_time held;   /* HOLD: since when */
	char held_by[16];         /* HOLD: initials of who blocked it */
	char reason[200];         /* HOLD: why, for people */
	bool defrosted; /* sold or kept defrosted: said beside the name */
	bool training;  /* TRAINING, NOT FOR SERVICE */
	int reprint;    /* 0 first print, n the nth reprint */
};

struct label_media {
	int width_mm, height_mm; /* 60 x 40 or 50 x 25 */
	int dpi;                 /* 203 or 300 */
};

struct fonts; /* labels/font.h */

/*
 * label_render - draw a label.
 * RC_OK       *out is owned by the caller
 * RC_INVALID  unknown media, bars on a label too small for them, a field that
 *             does not fit (named), a symbol the encoder refuses, a character
 *             the font lacks
 */
enum rc label_render(struct bitmap **out, const struct label_facts *facts,
    const struct label_media *media, struct fonts *fonts,
    struct err *err) MUST_CHECK;

/* Where the symbol stands, without its quiet zone; dots from the top left. */
struct label_area {
	int x, y;
	int side;   /* of the square */
	int module; /* dots along one module; the quiet zone is as wide */
};

/* Where the bars stand, one below the other, without their quiet zones of
 * BARCODE_QUIET_GS1_128 modules above and below. */
struct label_bars {
	int x, y;
	int w;      /* how long each bar is */
	int h;      /* of all modules */
	int module; /* dots along one module; 0: the label has no bars */
};

/*
 * label_symbol_area, label_bars_area - where label_render() would draw them.
 * Returns as label_render().
 */
enum rc label_symbol_area(struct label_area *out,
    const struct label_facts *facts, const struct label_media *media,
    struct fonts *fonts, struct err *err) MUST_CHECK;
enum rc label_bars_area(struct label_bars *out, const struct label_facts *facts,
    const struct label_media *media, struct fonts *fonts,
    struct err *err) MUST_CHECK;

/* label_mm_to_dots - width or height of the printable bitmap, rounded down. */
int label_mm_to_dots(int mm, int dpi);

#endif /* LABELS_LABEL_H */
