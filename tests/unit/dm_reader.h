/*
 * dm_reader.h - read a Data Matrix in a picture with libdmtx, an independent
 * reader.
 */
#ifndef DM_READER_H
#define DM_READER_H

#include <stdbool.h>
#include <stdint.h>

#include "base/bitmap.h"

#define DM_TEXT_MAX 256

/*
 * dm_read - the first Data Matrix found in the rectangle x, y, w, h, shown to
 * the reader at twice its size.  `blur` smears it as optics do: a binomial
 * filter whose standard deviation is one dot.  Separators come back as GS
 * (0x1d); the one for the leading FNC1 is taken off and *gs1 tells that it
 * was there.  False when nothing is found in `deadline_ms`.
 */
struct dm_view {
	int x, y, w, h;
	bool blur;
	int deadline_ms;
};

bool dm_read(char text[DM_TEXT_MAX], bool *gs1, const struct bitmap *bm,
    const struct dm_view *view);

/* dm_read_at - the same at `scale` times its size. */
bool dm_read_at(char text[DM_TEXT_MAX], bool *gs1, const struct bitmap *bm,
    const struct dm_view *view, int scale);

/* dm_pixels - the grey picture a reader is shown, owned by the caller. */
uint8_t *dm_pixels(unsigned *width, unsigned *height, const struct bitmap *bm,
    const struct dm_view *view, int scale);

#endif /* DM_READER_H */
