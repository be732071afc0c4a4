/*
 * base/digest.h - BLAKE2b-256 of bytes as text.
 *
 * Names a file, a rule table or a label bitmap by its content, so that an old
 * record can say exactly which figures or picture it was made with.
 */
#ifndef BASE_DIGEST_H
#define BASE_DIGEST_H

#include <stddef.h>

#define DIGEST_HEX_MAX 65 /* 64 hexadecimal digits and a NUL */

/* digest_hex - lower-case hexadecimal digest.  Cannot fail.  Returns `out`. */
char *digest_hex(char out[DIGEST_HEX_MAX], const void *data, size_t len);

/* digest_bytes - BLAKE2b of `size` bytes, 16 to 64 (RFC 7693: not the first
 * bytes of a longer one).  Cannot fail. */
void digest_bytes(
    unsigned char *out, size_t size, const void *data, size_t len);

/* The same of bytes that come in parts. */
struct digest;
struct digest *digest_new(void);
void digest_add(struct digest *d, const void *data, size_t len);
/* digest_end - as digest_hex(); frees `d`. */
char *digest_end(char out[DIGEST_HEX_MAX], struct digest *d);

#endif /* BASE_DIGEST_H */
