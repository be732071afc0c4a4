/*
 * labels/barcode.h - GS1 symbols as module matrices; the only user of zint.
 *
 * zint merely warns about most bad data and still makes the symbol, and some
 * inputs upset it, so the element string is checked here first and any result
 * but complete success is refused.  What the data means (check digits of our
 * codes, dates) is core/'s business.
 */
#ifndef LABELS_BARCODE_H
#define LABELS_BARCODE_H

#include "base/bitmap.h"
#include "base/err.h"

/* Not zint's names: its header defines BARCODE_GS1_128 and the like. */
enum barcode_kind {
	BARCODE_KIND_GS1_DATAMATRIX, /* ECC 200, square, ISO/IEC 16022 */
	BARCODE_KIND_GS1_128,        /* one row of bars, ISO/IEC 15417 */
};

/* libzint 2.11.1 overruns a buffer at 128 bytes of bracketed GS1-128. */
#define BARCODE_TEXT_MAX 127
/* GS1 General Specifications: data characters of one GS1-128 symbol, AIs and
 * separators included. */
#define BARCODE_GS1_128_DATA_MAX 48

/* Quiet zone in modules on every side of a Data Matrix (ISO/IEC 16022, 7.1). */
#define BARCODE_QUIET_DATAMATRIX 1

/* Quiet zone in modules at both ends of a GS1-128 (GS1 General Specifications,
 * release 18, p. 262). */
#define BARCODE_QUIET_GS1_128 10

/*
 * barcode_encode - modules of an element string such as "[91]1P7K2QX".
 * Only [AI]data, repeated, is accepted: 2 to 4 digits, then at least one
 * character of the GS1 set of 82 (which has no blank and no bracket).
 * RC_OK       *out is owned by the caller; one dot is one module, black as
 *             printed, without quiet zone; GS1-128 is one dot high
 * RC_INVALID  malformed, too long, or refused by the encoder, with its reason
 */
enum rc barcode_encode(struct bitmap **out, enum barcode_kind kind,
    const char *text, struct err *err) MUST_CHECK;

/*
 * barcode_draw - every black module as `dots` x `dots` black dots with the
 * top left corner of the symbol at (x, y); the symbol lies inside `to`.
 */
void barcode_draw(
    struct bitmap *to, const struct bitmap *modules, int x, int y, int dots);

/*
 * barcode_draw_ladder - the bars of a GS1-128 one below the other, each
 * `length` dots long and `dots` high a module.
 */
void barcode_draw_ladder(struct bitmap *to, const struct bitmap *modules, int x,
    int y, int dots, int length);

#endif /* LABELS_BARCODE_H */
