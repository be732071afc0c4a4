/* dm_reader.c - read a Data Matrix with libdmtx. */
#include "dm_reader.h"

#include <stdlib.h>
#include <string.h>

#include <dmtx.h>

#include "code_view.h"

#define GS 29

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
dm_read_seen(char text[DM_TEXT_MAX], bool *gs1, const struct bitmap *bm,
    const struct code_view *view, int deadline_ms)
{
	uint8_t *pixels = code_view(bm, view);
	DmtxImage *image;
	DmtxDecode *decode;
	bool found;

	text[0] = '\0';
	*gs1 = false;
	image = dmtxImageCreate(pixels, view->w * code_view_scale(view),
	    view->h * code_view_scale(view), DmtxPack8bppK);
	decode = dmtxDecodeCreate(image, 1);
	dmtxDecodeSetProp(decode, DmtxPropFnc1, GS);
	dmtxDecodeSetProp(decode, DmtxPropSymbolSize, DmtxSymbolSquareAuto);
	found = find(text, gs1, decode, deadline_ms);
	dmtxDecodeDestroy(&decode);
	dmtxImageDestroy(&image);
	free(pixels);
	return found;
}

bool
dm_read_at(char text[DM_TEXT_MAX], bool *gs1, const struct bitmap *bm,
    const struct dm_view *view, int scale)
{
	struct code_view seen = { .x = view->x,
		.y = view->y,
		.w = view->w,
		.h = view->h,
		.blur = view->blur,
		.scale = scale };

	return dm_read_seen(text, gs1, bm, &seen, view->deadline_ms);
}

bool
dm_read(char text[DM_TEXT_MAX], bool *gs1, const struct bitmap *bm,
    const struct dm_view *view)
{
	return dm_read_at(text, gs1, bm, view, CODE_VIEW_SCALE);
}
