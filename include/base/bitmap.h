/*
 * base/bitmap.h - one-bit raster, the only picture the station knows.
 *
 * Rows top-down, each padded with white to whole bytes, most significant bit
 * leftmost, 1 = black.  Labels draw into it, printer languages encode it.
 */
#ifndef BASE_BITMAP_H
#define BASE_BITMAP_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define BITMAP_SIDE_MAX 4096 /* dots */

struct bitmap {
	int width, height; /* dots, 1..BITMAP_SIDE_MAX */
	size_t stride;     /* bytes per row */
	uint8_t *bits;     /* stride * height bytes, owned */
};

/* bitmap_new - all white; the size is asserted. Owned. */
struct bitmap *bitmap_new(int width, int height);
void bitmap_free(struct bitmap *bm);

/* bitmap_get - false outside the picture. */
bool bitmap_get(const struct bitmap *bm, int x, int y);
/* bitmap_set - outside the picture is asserted against: layout must refuse
 * before it draws. */
void bitmap_set(struct bitmap *bm, int x, int y, bool black);
/* bitmap_fill - rectangle, inside the picture. */
void bitmap_fill(struct bitmap *bm, int x, int y, int w, int h, bool black);
/* bitmap_invert - swap black and white in a rectangle inside the picture. */
void bitmap_invert(struct bitmap *bm, int x, int y, int w, int h);

#endif /* BASE_BITMAP_H */
