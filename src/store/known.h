/*
 * known.h - the digest each row must have, as far as the trail has been read.
 * Private to src/store.
 */
#ifndef STORE_KNOWN_H
#define STORE_KNOWN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "trail_row.h"

struct known; /* of one table; opaque */

struct known *known_new(bool numbered);
void known_free(struct known *k);

/*
 * known_at - where the digest of a row stands; all zero means that there is no
 * such row.  With `make` it is made room for.  NULL: none, or numbers so far
 * apart that no station wrote them.  Borrowed until the next call.
 */
unsigned char *known_at(
    struct known *k, const char *key, size_t len, bool make);

/* known_each - every row that is there; `seen` gets its key. */
typedef void known_fn(void *arg, const char *key);
void known_each(struct known *k, known_fn *seen, void *arg);

/* digest_none - all zero? */
bool digest_none(const unsigned char d[ROW_DIGEST_SIZE]);

#endif /* STORE_KNOWN_H */
