/*
 * print/picture.h - a drawn label or page as a picture file to look at.
 */
#ifndef PRINT_PICTURE_H
#define PRINT_PICTURE_H

#include "base/bitmap.h"
#include "base/buf.h"
#include "base/err.h"
#include "labels/label.h"

/* picture_png - append it as PNG at the media's resolution.
 * RC_OK, RC_INVALID: larger than the buffer takes. */
enum rc picture_png(struct buf *out, const struct bitmap *picture,
    const struct label_media *media, struct err *err) MUST_CHECK;

#endif /* PRINT_PICTURE_H */
