/*
 * code_view.h - a part of a picture as a camera would see it, in greys.
 */
#ifndef CODE_VIEW_H
#define CODE_VIEW_H

#include <stdbool.h>
#include <stdint.h>

#include "base/bitmap.h"

struct code_view {
	int x, y, w, h; /* rectangle, in dots; outside the picture is white */
	bool blur;      /* as optics do: binomial, sigma one dot */
	int turn_deg;   /* about the middle of the rectangle */
	int black;      /* grey of a black dot */
	int white;      /* 0 for both: 0 and 255 */
	int scale;      /* greys along one dot; 0: CODE_VIEW_SCALE */
};

#define CODE_VIEW_SCALE 2

/* code_view_scale - the scale in force. */
int code_view_scale(const struct code_view *view);

/* code_view - scale * w columns, scale * h rows top-down, one byte each.
 * The caller frees it. */
uint8_t *code_view(const struct bitmap *bm, const struct code_view *view);

#endif /* CODE_VIEW_H */
