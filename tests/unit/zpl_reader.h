/*
 * zpl_reader.h - a label printer's side of the ZPL subset we send.
 *
 * Written from the command descriptions in the ZPL II Programming Guide (^GF
 * with its alternative compression, ^PW, ^LL, ^MN, ^MT, ^PR, ^FO, ^PQ, ~SD),
 * not from the encoder.  Stricter than a printer: what is not understood is an
 * error.
 */
#ifndef ZPL_READER_H
#define ZPL_READER_H

#include <stdbool.h>
#include <stddef.h>

#include "base/bitmap.h"

struct zpl_label {
	struct bitmap *picture; /* owned by the caller; NULL after a failure */
	int darkness;           /* 0..30, -1 not said */
	int copies;             /* -1 not said */
	int speed;              /* inches a second, -1 not said */
	char tracking;          /* letter after ^MN, 0 not said */
	char media;             /* letter after ^MT, 0 not said */
};

/* zpl_read - exactly one label.  False: *why says what was wrong. */
bool zpl_read(
    struct zpl_label *out, const char **why, const char *data, size_t len);

#endif /* ZPL_READER_H */
