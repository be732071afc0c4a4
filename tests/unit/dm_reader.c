/* dm_reader.c - read a Data Matrix with libdmtx. */
#include "dm_reader.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <dmtx.h>

#include "base/mem.h"

#define GS 29
#define SCALE 2

static int
dot(const struct bitmap *bm, int x, int y, bool blur)
{
	static const int weight[5] = { 1, 4, 6, 4, 1 };
	int i, j, sum = 0;

	if (!blur)
		return bitmap_get(bm, x, y) ? 0 : 255;
	for (j = -2; j <= 2; j++)
		for (i = -2; i <= 2; i++)
			sum += bitmap_get(bm, x + i, y + j)
			    ? 0
			    : weight[i + 2] * weight[j + 2];
	return sum * 255 / 256;
}

uint8_t *
dm_pixels(unsigned *width, unsigned *height, const struct bitmap *bm,
    const struct dm_view *view, int scale)
{
	size_t n = (size_t)scale;
	size_t w = (size_t)view->w * n, h = (size_t)view->h * n;
	uint8_t *pixels = xcalloc(w, h), *row;
	size_t x, y;

	for (y = 0; y < h; y++) {
		row = pixels + y * w;
		for (x = 0; y % n == 0 && x < w; x++)
			row[x] = x % n != 0
			    ? row[x - 1]
			    : (uint8_t)dot(bm, view->x + (int)(x / n),
				  view->y + (int)(y / n), view->blur);
		if (y % n != 0)
			memcpy(row, row - w, w);
	}
	*width = (unsigned)w;
	*height = (unsigned)h;
	return pixels;
}

static bool
take_text(char text[DM_TEXT_MAX], bool *gs1, const DmtxMessage *message)
{
	const unsigned char *p = message->output;
	size_t n = (size_t)message->outputIdx;

	*gs1 = n > 0 && p[0] == GS;
	if (*gs1) {
		p++;
		n--;
	}
	if (n >= DM_TEXT_MAX)
		return false;
	memcpy(text, p, n);
	text[n] = '\0';
	return true;
}

static bool
find(char text[DM_TEXT_MAX], bool *gs1, DmtxDecode *decode, int deadline_ms)
{
	DmtxTime until = dmtxTimeAdd(dmtxTimeNow(), deadline_ms);
	DmtxRegion *region;
	DmtxMessage *message;
	bool found = false;

	while (!found) {
		region = dmtxRegionFindNext(decode, &until);
		if (region == NULL)
			return false;
		message = dmtxDecodeMatrixRegion(decode, region, DmtxUndefined);
		if (message != NULL) {
			found = take_text(text, gs1, message);
			dmtxMessageDestroy(&message);
		}
		dmtxRegionDestroy(&region);
	}
	return true;
}

bool
dm_read_at(char text[DM_TEXT_MAX], bool *gs1, const struct bitmap *bm,
    const struct dm_view *view, int scale)
{
	unsigned w, h;
	uint8_t *pixels = dm_pixels(&w, &h, bm, view, scale);
	DmtxImage *image;
	DmtxDecode *decode;
	bool found;

	text[0] = '\0';
	*gs1 = false;
	image = dmtxImageCreate(pixels, (int)w, (int)h, DmtxPack8bppK);
	decode = dmtxDecodeCreate(image, 1);
	dmtxDecodeSetProp(decode, DmtxPropFnc1, GS);
	dmtxDecodeSetProp(decode, DmtxPropSymbolSize, DmtxSymbolSquareAuto);
	found = find(text, gs1, decode, view->deadline_ms);
	dmtxDecodeDestroy(&decode);
	dmtxImageDestroy(&image);
	free(pixels);
	return found;
}

bool
dm_read(char text[DM_TEXT_MAX], bool *gs1, const struct bitmap *bm,
    const struct dm_view *view)
{
	return dm_read_at(text, gs1, bm, view, SCALE);
}
