/*
 * label_look.h - look at the picture of a label: what is blank, what is where,
 * and what two independent readers make of its codes.  Each fails the test.
 */
#ifndef LABEL_LOOK_H
#define LABEL_LOOK_H

#include <stdbool.h>

#include "base/bitmap.h"
#include "dm_reader.h"
#include "labels/font.h"
#include "labels/label.h"

/* look_blank - no ink in a rectangle. */
void look_blank(
    const struct bitmap *bm, int x0, int y0, int w, int h, const char *why);

/* look_symbol, look_bars - every module is exactly what the encoder made of
 * the text, magnified, and the quiet zones hold no ink. */
void look_symbol(
    const struct bitmap *bm, const struct label_area *a, const char *symbol);
void look_bars(
    const struct bitmap *bm, const struct label_bars *b, const char *bars);

/* look_bare - a text in brackets as a reader gives it: GS between elements
 * where GS1 asks for it. */
void look_bare(char bare[DM_TEXT_MAX], const char *symbol);

/* look_read - libdmtx finds the symbol in the view, magnified `scale` times.
 * look_read_label - in the whole label, sharp and smeared.  look_read_bars -
 * zbar finds the bars in the whole label, once, sharp and smeared. */
void look_read(const struct bitmap *bm, const struct dm_view *view, int scale,
    const char *symbol, const char *why);
void look_read_label(
    const struct bitmap *bm, const char *symbol, const char *why);
void look_read_bars(const struct bitmap *bm, const char *bars, const char *why);

/* look_text - the em height at which `s` stands on the label, 0 when it does
 * not; `white` on black. */
int look_text(struct fonts *fonts, const struct bitmap *bm, enum font_face face,
    const char *s, bool white);

#endif /* LABEL_LOOK_H */
