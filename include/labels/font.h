/*
 * labels/font.h - text drawn in whole dots; the only user of FreeType.
 *
 * Two faces opened by path.  Glyphs are hinted for one-bit output and set one
 * after another from left to right at whole-dot advances, without kerning and
 * without shaping: characters that need shaping (combining marks, scripts
 * written right to left or joined, invisible controls) are refused like a
 * missing glyph, because they would read wrong.
 *
 * Threads: one `struct fonts`, one thread (it keeps a cache of glyphs).
 */
#ifndef LABELS_FONT_H
#define LABELS_FONT_H

#include <stdbool.h>

#include "base/bitmap.h"
#include "base/err.h"

/* Em heights in dots that can be asked for. */
#define FONT_PX_MIN 8
#define FONT_PX_MAX 400

enum font_face {
	FONT_TEXT, /* proportional, bold */
	FONT_CODE, /* fixed width, bold: 0 and O, 1 and I differ */
};

/* One line of text in one style. */
struct text {
	const char *s; /* UTF-8, checked by text_check() */
	enum font_face face;
	int px;     /* em height, FONT_PX_MIN..FONT_PX_MAX */
	bool white; /* drawn white instead of black */
};

/*
 * The dots a line inks, measured from its origin on the baseline: columns
 * left..right-1, `ascent` rows above the baseline and `descent` below.
 * Nothing inked: all zero but `advance`.
 */
struct text_extent {
	int left, right;
	int ascent, descent;
	int advance; /* to the origin of what would follow */
};

struct fonts; /* opaque */

/*
 * fonts_open - open both faces and see that they hold printable ASCII.
 * RC_OK     *out is owned by the caller
 * RC_FAILED a file is missing or no scalable font, or lacks a character
 */
enum rc fonts_open(struct fonts **out, const char *text_path,
    const char *code_path, struct err *err) MUST_CHECK;

void fonts_free(struct fonts *fonts);

/*
 * font_check - can the face set every character of `s`?
 * RC_OK, or RC_INVALID naming the font file, the character and the text.
 */
enum rc font_check(struct fonts *fonts, enum font_face face, const char *s,
    struct err *err) MUST_CHECK;

/*
 * font_measure - how much room a line takes.
 * RC_OK, RC_INVALID naming the character the face lacks, or RC_FAILED when
 * the font file turns out damaged.
 */
enum rc font_measure(struct text_extent *out, struct fonts *fonts,
    const struct text *text, struct err *err) MUST_CHECK;

/*
 * font_draw - draw a line with its origin at (x, baseline).  The caller has
 * measured it: its ink lies inside the picture.  Returns as font_measure().
 */
enum rc font_draw(struct bitmap *to, struct fonts *fonts,
    const struct text *text, int x, int baseline, struct err *err) MUST_CHECK;

#endif /* LABELS_FONT_H */
