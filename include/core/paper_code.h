/*
 * core/paper_code.h - the end of the audit trail as a person can key it from
 * paper: 06AJ-FK09-7MEK-EXDA-N66T-XNN6.
 *
 * The first 110 bits of the digest in the 28 characters of core/code.h, so 23
 * of them, and a check character: the recursion of ISO/IEC 7064's hybrid
 * systems with 28 and 29 in place of 36 and 37, which finds every wrong single
 * character and nearly every swap of two neighbours.  To make another record
 * that fits a code that is on paper takes about 2^110 tries; two records of
 * one's own making that share a code, 2^55, before the first is printed.  Pure.
 */
#ifndef CORE_PAPER_CODE_H
#define CORE_PAPER_CODE_H

#include "base/err.h"

#define PAPER_CODE_LEN 24
#define PAPER_CODE_SIZE (PAPER_CODE_LEN + 1) /* plain */
#define PAPER_SHOW_SIZE (PAPER_CODE_LEN + 6) /* in groups of four */

/* paper_code_make - from a digest of 64 hexadecimal digits; plain, without
 * hyphens.  Returns `out`; an empty one when it is no digest. */
char *paper_code_make(char out[PAPER_CODE_SIZE], const char *digest);

/* paper_code_show - in groups, for people.  Returns `dst`. */
char *paper_code_show(char dst[PAPER_SHOW_SIZE], const char *code);

/*
 * paper_code_parse - as keyed: any case, hyphens and blanks ignored, O for 0
 * and I or L for 1 forgiven.  RC_OK: `code` plain.  RC_INVALID: names what is
 * wrong.
 */
enum rc paper_code_parse(
    char code[PAPER_CODE_SIZE], const char *s, struct err *err) MUST_CHECK;

#endif /* CORE_PAPER_CODE_H */
