/*
 * base/buf.h - growable bytes with a hard maximum.
 *
 * For everything whose size is decided outside the program.  The contents are
 * always followed by a NUL that `len` does not count.
 */
#ifndef BASE_BUF_H
#define BASE_BUF_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"

struct buf {
	char *data; /* owned; valid after the first append */
	size_t len; /* bytes in use */
	size_t cap; /* bytes allocated */
	size_t max; /* never more than this many bytes in use */
	bool full;  /* an append did not fit; it was left out whole */
};

/* buf_init - empty, at most `max` bytes.  No allocation yet. */
void buf_init(struct buf *b, size_t max);

/* buf_fini - free the bytes; the buffer may be initialised again. */
void buf_fini(struct buf *b);

/* buf_clear - forget the contents, keep the memory. */
void buf_clear(struct buf *b);

/*
 * buf_add, buf_puts, buf_putc, buf_printf - append.
 * What does not fit below `max` is left out whole and sets `full`; the
 * caller checks once at the end with buf_check().
 */
void buf_add(struct buf *b, const void *data, size_t len);
void buf_puts(struct buf *b, const char *s);
void buf_putc(struct buf *b, char c);
/* utf8_put - a code point as UTF-8. */
void utf8_put(struct buf *b, uint32_t ch);
void buf_printf(struct buf *b, const char *fmt, ...)
    __attribute__((format(printf, 2, 3)));

/*
 * buf_wrap - UTF-8 text as lines of at most `width` columns behind `indent`
 * blanks, broken between words; a LF in it breaks too.  Ends with LF.
 */
void buf_wrap(struct buf *b, const char *text, int indent, int width);

/* buf_text - the contents as a string; "" when nothing was appended. */
const char *buf_text(const struct buf *b);

/*
 * buf_check - did everything fit?
 * RC_OK or RC_INVALID naming `what` and the limit.
 */
enum rc buf_check(
    const struct buf *b, const char *what, struct err *err) MUST_CHECK;

#endif /* BASE_BUF_H */
