/*
 * bar_reader.h - read a GS1-128 in a picture with zbar, an independent reader.
 */
#ifndef BAR_READER_H
#define BAR_READER_H

#include <stdbool.h>

#include "base/bitmap.h"

#define BAR_TEXT_MAX 256

/*
 * bar_read - the Code 128 symbols found in the whole picture, shown to the
 * reader at twice its size, in whatever direction they run; `blur` as in
 * dm_reader.h.  Returns how many; `text` holds the first, with GS as separator,
 * and *gs1 tells whether it begins with FNC1.
 */
int bar_read(
    char text[BAR_TEXT_MAX], bool *gs1, const struct bitmap *bm, bool blur);

#endif /* BAR_READER_H */
