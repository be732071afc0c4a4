/*
 * base/csv.h - reader for comma-separated values over bytes in memory.
 *
 * RFC 4180 with what people's programs really write: LF or CRLF line ends and
 * a UTF-8 byte order mark are accepted.  Everything else that is not well
 * formed is refused with line and column: a stray quote, text after a closing
 * quote, a NUL, bytes that are not UTF-8, a field over CSV_FIELD_MAX.
 * The first record is the header and names the columns; order is free.
 * An apostrophe csv_quote() put before a text is taken off again.
 */
#ifndef BASE_CSV_H
#define BASE_CSV_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"

#define CSV_FIELD_MAX 1000 /* bytes in one field */
#define CSV_COLUMNS_MAX 64

struct csv; /* opaque */

/*
 * csv_open - read the header of `len` bytes at `data`, kept by the caller.
 * `name` is used in messages.  `columns` (NULL-terminated) must all be there;
 * `optional` (may be NULL) may be; anything else is refused.
 * RC_OK *out is owned by the caller; RC_INVALID.
 */
enum rc csv_open(struct csv **out, const char *name, const char *data,
    size_t len, const char *const *columns, const char *const *optional,
    struct err *err) MUST_CHECK;

/*
 * csv_next - step to the next record; blank lines are skipped.
 * RC_OK, RC_END, or RC_INVALID with line and column.
 */
enum rc csv_next(struct csv *c, struct err *err) MUST_CHECK;

/* csv_get - the field in `column` of this record; "" when the optional column
 * is absent.  Valid until the next csv_next(). */
const char *csv_get(const struct csv *c, const char *column);

/*
 * csv_text - copy the field in `column` into `dst`, where `size` counts the
 * NUL.  RC_OK, or RC_INVALID with line and column: too long, control
 * characters, blanks at an end, or empty unless `may_be_empty`.
 */
enum rc csv_text(char *dst, size_t size, const struct csv *c,
    const char *column, bool may_be_empty, struct err *err) MUST_CHECK;

/* csv_line - line on which this record started, from 1. */
int csv_line(const struct csv *c);

/*
 * csv_fail - set an error at the field in `column`: "NAME:LINE:COLUMN: text".
 * Use after a parser refused the field's value; keeps err's text behind the
 * place.  Returns `rc`.
 */
enum rc csv_fail(
    const struct csv *c, const char *column, enum rc rc, struct err *err);

void csv_close(struct csv *c);

/*
 * csv_quote - append `s` to a line as one field, quoted when needed.  A text a
 * spreadsheet would run as a formula (first character = + - @, tab, line feed
 * or carriage return, and no number) gets an apostrophe in front, and so does
 * one that is such a text behind apostrophes of its own: what the reader above
 * gives is what was written.  The characters are those OWASP's page on CSV
 * injection names (from memory, unverified).
 */
struct buf;
void csv_quote(struct buf *b, const char *s);

#endif /* BASE_CSV_H */
