/*
 * escpos_reader.h - a printer's side of the ESC/POS subset we send.
 *
 * Written from the command references of several makers (ESC @, GS v 0, GS V,
 * FF), not from the encoder.
 */
#ifndef ESCPOS_READER_H
#define ESCPOS_READER_H

#include "lang_readers.h"

/* Bands come back as one picture; one of more than 255 rows or bytes a row is
 * refused, since some printers read one byte of either.  A form feed says that
 * there is a gap. */
bool escpos_read(
    struct seen_label *out, const char **why, const char *data, size_t len);

#endif /* ESCPOS_READER_H */
