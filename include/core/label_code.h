/*
 * core/label_code.h - the string inside the symbol on our own labels.
 *
 * A kitchen without a GS1 company prefix has no GTIN, and the application
 * identifiers for lot, expiry and serial (10, 17, 21, 7003) may only stand
 * beside one; 91 to 99 are free for use inside a company (GS1 Barcode Syntax
 * Dictionary).  So one element (91) carries one fixed-width string:
 *
 *   1      version
 *   6      portion code, or "000000" on a batch label
 *   8      batch code
 *   10     use-by YYMMDDHHMM in the kitchen's local time
 *   1      ISO/IEC 7064 MOD 37,36 check over the 25 before it
 *
 * The label explains itself if the station is lost, and since every width is
 * fixed a scanner that drops the GS character does no harm.
 *
 * A bar code has no room for that.  Its short key is one element (92) of
 * digits only, which GS1-128 packs in pairs (123 modules):
 *
 *   1      version
 *   1      1 portion, 2 batch
 *   8      serial number of the portion, or the batch code without its check
 *          character, zeros in front
 *   2      ISO/IEC 7064 MOD 97-10 check over the 10 before it
 *
 * Pure.
 */
#ifndef CORE_LABEL_CODE_H
#define CORE_LABEL_CODE_H

#include <stdbool.h>

#include "base/clock.h"
#include "base/err.h"
#include "core/code.h"

#define LABEL_CODE_LEN 26
#define LABEL_KEY_LEN 12
#define LABEL_SYMBOL_SIZE 40 /* "[91]" + string + NUL, with room */

struct label_code {
	char portion[CODE_SIZE];  /* "" on a batch label */
	char batch[CODE_SIZE];    /* "" in a portion's short key */
	struct local_time use_by; /* day, hour and minute are set; the day of
				   * a short key is DAY_NONE */
};

/* label_code_make - the bracketed element string, "[91]1...". */
void label_code_make(
    char symbol[LABEL_SYMBOL_SIZE], const struct label_code *c);

/*
 * label_code_key - the short key of a code without hyphen, "[92]1...", or ""
 * when it is neither a portion's nor a batch's.
 */
void label_code_key(char symbol[LABEL_SYMBOL_SIZE], const char *code);

/*
 * label_code_looks_like - is this a scan of such a label (right or damaged),
 * rather than a code someone keyed?
 */
bool label_code_looks_like(const char *s);

/*
 * label_code_parse - what a scanner typed: with or without symbology
 * identifier (]d2, ]C1), leading or trailing GS, "91" or "92" bare or in
 * brackets.
 * RC_OK or RC_INVALID: length, version, a check character, or the date.
 * Two-digit years are 2000 to 2099.
 */
enum rc label_code_parse(
    struct label_code *out, const char *s, struct err *err) MUST_CHECK;

#endif /* CORE_LABEL_CODE_H */
