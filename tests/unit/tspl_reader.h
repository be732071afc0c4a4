/*
 * tspl_reader.h - a label printer's side of the TSPL subset we send.
 *
 * Written from the command descriptions of the TSPL/TSPL2 manual (SIZE, GAP,
 * DENSITY, SPEED, DIRECTION, CLS, BITMAP, PRINT), not from the encoder.  That
 * in BITMAP a 0 prints rests on two open drivers and a public issue thread,
 * not on the manual's page, which was not seen.
 */
#ifndef TSPL_READER_H
#define TSPL_READER_H

#include "lang_readers.h"

/* Width and height of the label and its gap are millimetres. */
bool tspl_read(
    struct seen_label *out, const char **why, const char *data, size_t len);

#endif /* TSPL_READER_H */
