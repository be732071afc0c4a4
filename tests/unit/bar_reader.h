/*
 * bar_reader.h - read a Code 128 with zbar, an independent reader.
 */
#ifndef BAR_READER_H
#define BAR_READER_H

#include <stdbool.h>

#include "code_view.h"

#define BAR_TEXT_MAX 256

/*
 * bar_read - the only Code 128 a camera sees there.  Separators come back as
 * GS (0x1d); *gs1 tells that FNC1 was in first place.  False when there is
 * none, or more than one.
 */
bool bar_read(char text[BAR_TEXT_MAX], bool *gs1, const struct bitmap *bm,
    const struct code_view *view);

#endif /* BAR_READER_H */
