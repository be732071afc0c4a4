/*
 * base/str.h - bounded string helpers and UTF-8.
 */
#ifndef BASE_STR_H
#define BASE_STR_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"

/*
 * str_copy - copy into `dst` of `size` bytes, always terminated.
 * Returns false when it did not fit; `dst` is then empty, never cut short.
 */
bool str_copy(char *dst, size_t size, const char *src);

/* str_fmt - snprintf that is the program's only way to cut: false when cut. */
bool str_fmt(char *dst, size_t size, const char *fmt, ...)
    __attribute__((format(printf, 3, 4)));

bool str_eq(const char *a, const char *b);
/* str_eq_nocase - ASCII letters without regard to case. */
bool str_eq_nocase(const char *a, const char *b);
/* str_upper, str_lower - ASCII letters in place. */
void str_upper(char *s);
void str_lower(char *s);
/* str_trim - without leading and trailing blanks; returns inside `s`. */
char *str_trim(char *s);

/*
 * utf8_valid - well-formed UTF-8 (no overlong form, no surrogate, at most
 * U+10FFFF) without NUL.
 */
bool utf8_valid(const char *s, size_t len);

/* utf8_clean - each control character and each byte that is not part of
 * well-formed UTF-8 becomes '?', in place. */
void utf8_clean(char *s);

/* utf8_next - code point at *s and step over it; 0 at the end.  `s` is valid
 * UTF-8. */
uint32_t utf8_next(const char **s);

/* utf8_columns - terminal columns of a valid string, one a code point. */
size_t utf8_columns(const char *s);

/*
 * text_check - a text a person typed or a file held: valid UTF-8, no control
 * characters, at most `max` bytes, not empty unless `may_be_empty`.
 * RC_OK or RC_INVALID; the text names `what`.
 */
enum rc text_check(const char *what, const char *s, size_t max,
    bool may_be_empty, struct err *err) MUST_CHECK;

#endif /* BASE_STR_H */
