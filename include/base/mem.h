/*
 * base/mem.h - allocators that abort.
 *
 * The store is transactional, so ending the program when memory runs out loses
 * nothing.  Anything whose size comes from outside goes through base/buf.h,
 * which has a hard maximum and reports it instead.
 */
#ifndef BASE_MEM_H
#define BASE_MEM_H

#include <stddef.h>

/* xcalloc - zeroed memory for n items; the caller frees it with free(). */
void *xcalloc(size_t n, size_t size) __attribute__((malloc));

/* xrealloc - resize to n items; the old pointer is gone. */
void *xrealloc(void *p, size_t n, size_t size);

/* xstrdup - copy of a string, freed with free(). */
char *xstrdup(const char *s) __attribute__((malloc));

/*
 * grow - make room for one more item in an array that doubles.
 * `items` has `*cap` places of `size` bytes and `count` in use; returns the
 * array, moved when it had to be.  The new place is not zeroed.
 */
void *grow(void *items, size_t *cap, size_t count, size_t size);

#endif /* BASE_MEM_H */
