/*
 * core/code.h - batch and portion codes: short enough to key with wet hands,
 * and safe against the slips hands make.
 *
 * Both end in an ISO/IEC 7064 MOD 37,36 check character, which finds every
 * wrong single character and every swap of two neighbours but a few.  Letters
 * easily taken for digits or each other (B G I L O Q S Z) never occur: serial
 * numbers whose check character would be one of them are left out.
 *
 *   batch    26330-09C  year, day of year, running number, check
 *   portion  001-H7C    serial number in base 28, check
 *
 * Stored and scanned without the hyphen, shown with it.  Pure.
 */
#ifndef CORE_CODE_H
#define CORE_CODE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"

#define BATCH_CODE_LEN 8
#define PORTION_CODE_LEN 6
/* Room for either code as shown, with hyphen and NUL. */
#define CODE_SIZE 16

/* The 28 characters used in portion codes. */
#define CODE_ALPHABET "0123456789ACDEFHJKMNPRTUVWXY"

/* Last numbers: 99 in a day (71 to 85 of them usable), 28^5 - 1 in all. */
#define BATCH_NUMBER_MAX 99
#define PORTION_SERIAL_MAX INT64_C(17210367)

enum code_kind {
	CODE_BATCH,
	CODE_PORTION,
};

/*
 * mod37_36 - ISO/IEC 7064 MOD 37,36 check character of `len` characters out
 * of 0-9 A-Z, or '\0' when another character occurs.
 */
char mod37_36(const char *s, size_t len);

/*
 * batch_code_make - code of the first usable running number >= `number`.
 * Returns that number, or 0 when the day has none left.  `code` without
 * hyphen.
 */
int batch_code_make(char code[CODE_SIZE], day_no day, int number);

/* portion_code_make - the same for a serial >= 1; 0 when none is left. */
int64_t portion_code_make(char code[CODE_SIZE], int64_t serial);

/*
 * code_parse - a code as keyed or scanned: any case, hyphens and blanks
 * ignored, O for 0 and I or L for 1 forgiven since those letters never occur.
 * A scanned label string (core/label_code.h) is taken too; the portion's code
 * is used, or the batch's on a batch label.
 * RC_OK: `code` without hyphen.  RC_INVALID: names what is wrong: the length,
 * a character, or the check character.
 */
enum rc code_parse(enum code_kind *kind, char code[CODE_SIZE], const char *s,
    struct err *err) MUST_CHECK;

/* code_show - with its hyphen, for people.  Returns `dst`. */
char *code_show(char dst[CODE_SIZE], const char *code);

#endif /* CORE_CODE_H */
