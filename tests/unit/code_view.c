/* code_view.c - a part of a picture as a camera would see it, in greys. */
#include "code_view.h"

#include <math.h>

#include "base/mem.h"

/* 0 black to 255 white of one dot. */
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

/* Between the four dots around a point; dot centres are at .5. */
static int
between(const struct bitmap *bm, double x, double y, bool blur)
{
	int x0 = (int)floor(x - 0.5), y0 = (int)floor(y - 0.5);
	double fx = x - 0.5 - x0, fy = y - 0.5 - y0;
	double top =
	    (1 - fx) * dot(bm, x0, y0, blur) + fx * dot(bm, x0 + 1, y0, blur);
	double low = (1 - fx) * dot(bm, x0, y0 + 1, blur) +
	    fx * dot(bm, x0 + 1, y0 + 1, blur);

	return (int)((1 - fy) * top + fy * low + 0.5);
}

int
code_view_scale(const struct code_view *view)
{
	return view->scale > 0 ? view->scale : CODE_VIEW_SCALE;
}

uint8_t *
code_view(const struct bitmap *bm, const struct code_view *v)
{
	int scale = code_view_scale(v);
	int columns = v->w * scale, rows = v->h * scale;
	int span = v->white == 0 ? 255 : v->white - v->black;
	double turn = v->turn_deg * atan(1) / 45, dx, dy;
	uint8_t *pixels = xcalloc((size_t)columns, (size_t)rows);
	int x, y, grey;

	for (y = 0; y < rows; y++)
		for (x = 0; x < columns; x++) {
			dx = (x + 0.5) / scale - v->w / 2.0;
			dy = (y + 0.5) / scale - v->h / 2.0;
			if (v->turn_deg == 0)
				grey = dot(bm, v->x + x / scale,
				    v->y + y / scale, v->blur);
			else
				grey = between(bm,
				    v->x + v->w / 2.0 + dx * cos(turn) -
					dy * sin(turn),
				    v->y + v->h / 2.0 + dx * sin(turn) +
					dy * cos(turn),
				    v->blur);
			pixels[(size_t)y * (size_t)columns + (size_t)x] =
			    (uint8_t)(v->black + grey * span / 255);
		}
	return pixels;
}
