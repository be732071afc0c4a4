/*
 * base/units.h - grams, counts, temperatures and shares as exact integers.
 *
 * Parsers take what a person types: a decimal comma or point, blanks around.
 * No floating point, no locale.
 */
#ifndef BASE_UNITS_H
#define BASE_UNITS_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"

typedef int64_t grams;

/* The largest weight the station believes for one batch: 1 000 kg. */
#define WEIGHT_MAX_G 1000000
#define COUNT_MAX 100000

/* Shares and yields are integers in 1/10 000. */
#define BP_ONE 10000

/*
 * decimal_parse - a decimal number scaled to an integer.
 * `scale` digits are kept after the point ("3,25" at scale 2 is 325); more
 * digits than that are RC_INVALID unless they are zeros, so nothing is rounded
 * unseen.  At scale 0 a point or comma is RC_INVALID, so that "1,000" is never
 * taken for 1.  A sign is allowed.  |result| < 10^15.
 */
enum rc decimal_parse(int64_t *out, const char *what, const char *s, int scale,
    struct err *err) MUST_CHECK;

/* int_parse - whole number in [min, max]; RC_INVALID names `what`. */
enum rc int_parse(int64_t *out, const char *what, const char *s, int64_t min,
    int64_t max, struct err *err) MUST_CHECK;

/*
 * weight_parse - grams from "850", "850 g", "1,2 kg" or "1.2kg".
 * A bare number is grams.  Grams take no point or comma: "1,000" could be meant
 * as 1 or as 1000.  Kilograms take at most three decimals.  RC_INVALID when
 * malformed, not above zero, or above WEIGHT_MAX_G.
 */
enum rc weight_parse(
    grams *out, const char *what, const char *s, struct err *err) MUST_CHECK;

/*
 * temp_parse - tenths of a degree Celsius from "1.5", "-18", "2 C".
 * An F is refused rather than converted: the caller must say what was meant.
 * Range -60.0 to 60.0.
 */
enum rc temp_parse(
    int *out, const char *what, const char *s, struct err *err) MUST_CHECK;

/*
 * freezer_temp_parse - the same, and below 0: 20 for -20 would otherwise pass
 * as a freeze record.
 */
enum rc freezer_temp_parse(
    int *out, const char *what, const char *s, struct err *err) MUST_CHECK;

/* percent_parse - 1/10 000 from "12.5" or "12.5 %", in [0, 100] percent. */
enum rc percent_parse(
    int *out, const char *what, const char *s, struct err *err) MUST_CHECK;

/*
 * price_parse - smallest coins from "12.50" or "12,5"; two decimals at most.
 * Range 0 to PRICE_MAX.
 */
#define PRICE_MAX 10000000 /* 100 000.00 */
enum rc price_parse(
    int64_t *out, const char *what, const char *s, struct err *err) MUST_CHECK;

/* Text forms; `size` 32 always suffices.  Return `dst`. */
char *weight_print(char *dst, size_t size, grams g);  /* "850 g", "1.200 kg" */
char *temp_print(char *dst, size_t size, int tenths); /* "1.5 C" */
char *percent_print(char *dst, size_t size, int bp);  /* "45.2 %" */
char *price_print(char *dst, size_t size, int64_t coins); /* "12.50" */

/* div_up, div_down - quotient of non-negative numbers, rounded as named. */
int64_t div_up(int64_t a, int64_t b);
int64_t div_down(int64_t a, int64_t b);

#endif /* BASE_UNITS_H */
