/* bitmap.c - one-bit raster. */
#include "base/bitmap.h"

#include <assert.h>
#include <stdlib.h>

#include "base/mem.h"

struct bitmap *
bitmap_new(int width, int height)
{
	struct bitmap *bm;

	assert(width > 0 && width <= BITMAP_SIDE_MAX);
	assert(height > 0 && height <= BITMAP_SIDE_MAX);
	bm = xcalloc(1, sizeof(*bm));
	bm->width = width;
	bm->height = height;
	bm->stride = ((size_t)width + 7) / 8;
	bm->bits = xcalloc(bm->stride, (size_t)height);
	return bm;
}

void
bitmap_free(struct bitmap *bm)
{
	if (bm == NULL)
		return;
	free(bm->bits);
	free(bm);
}

bool
bitmap_get(const struct bitmap *bm, int x, int y)
{
	if (x < 0 || y < 0 || x >= bm->width || y >= bm->height)
		return false;
	return bm->bits[(size_t)y * bm->stride + (size_t)x / 8] >> (7 - x % 8) &
	    1;
}

void
bitmap_set(struct bitmap *bm, int x, int y, bool black)
{
	uint8_t *p, mask;

	assert(x >= 0 && y >= 0 && x < bm->width && y < bm->height);
	p = &bm->bits[(size_t)y * bm->stride + (size_t)x / 8];
	mask = (uint8_t)(0x80 >> x % 8);
	if (black)
		*p = (uint8_t)(*p | mask);
	else
		*p = (uint8_t)(*p & ~mask);
}

void
bitmap_fill(struct bitmap *bm, int x, int y, int w, int h, bool black)
{
	int i, j;

	for (j = 0; j < h; j++)
		for (i = 0; i < w; i++)
			bitmap_set(bm, x + i, y + j, black);
}

void
bitmap_invert(struct bitmap *bm, int x, int y, int w, int h)
{
	int i, j;

	for (j = 0; j < h; j++)
		for (i = 0; i < w; i++)
			bitmap_set(
			    bm, x + i, y + j, !bitmap_get(bm, x + i, y + j));
}
