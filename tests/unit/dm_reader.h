/*
 * dm_reader.h - read a Data Matrix in a picture with libdmtx, an independent
 * reader.
 */
#ifndef DM_READER_H
#define DM_READER_H

#include <stdbool.h>

#include "base/bitmap.h"
#include "code_view.h"

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

/* dm_read_seen - the same, as a camera sees it. */
bool dm_read_seen(char text[DM_TEXT_MAX], bool *gs1, const struct bitmap *bm,
    const struct code_view *view, int deadline_ms);

#endif /* DM_READER_H */
