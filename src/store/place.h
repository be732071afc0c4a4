/*
 * place.h - a file that is made beside its place, whole and on the disk, before
 * it gets its name: after a power cut there is none, or all of it.
 * Private to src/store.
 */
#ifndef STORE_PLACE_H
#define STORE_PLACE_H

#include <stdbool.h>

#include "base/err.h"

#define PLACE_SIZE 1056

/* place_beside - the name it is made under; what an earlier program with our
 * number left there is removed.  RC_OK, RC_FAILED: the path is too long. */
enum rc place_beside(
    char dst[PLACE_SIZE], const char *path, struct err *err) MUST_CHECK;

/*
 * place_take - the file made there, which nobody has open, becomes `path`; the
 * disk has all of it first.
 * RC_OK; RC_REFUSED: there is one; RC_FAILED.  On failure it is removed.
 */
enum rc place_take(
    const char *made, const char *path, struct err *err) MUST_CHECK;

/* place_fill - make an empty station file there (store.c). */
enum rc place_fill(const char *made, struct err *err) MUST_CHECK;

/* place_drop - remove it, and what SQLite keeps beside it. */
void place_drop(const char *made);

#endif /* STORE_PLACE_H */
