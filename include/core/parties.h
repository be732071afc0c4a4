/*
 * core/parties.h - the parties that booked, as the book lists them.
 *
 * Written guests x tables, parties of one size together: "2x8 4x5 6" is eight
 * tables for two, five for four and one for six, 42 covers.  Pure.
 */
#ifndef CORE_PARTIES_H
#define CORE_PARTIES_H

#include <stddef.h>
#include <stdint.h>

#include "base/err.h"

#define PARTY_SIZES_MAX 24
#define PARTY_GUESTS_MAX 500
#define PARTIES_TEXT_SIZE 240

struct parties {
	struct {
		int guests, tables;
	} items[PARTY_SIZES_MAX]; /* by guests, each size once */
	size_t count;             /* 0: nobody said */
};

/*
 * parties_parse - read the form above; sizes may come in any order and more
 * than once.  Blank text gives count 0.
 * RC_OK, RC_INVALID: not that form, a size beyond PARTY_GUESTS_MAX, more than
 * PARTY_SIZES_MAX sizes or 5000 tables of one.
 */
enum rc parties_parse(
    struct parties *out, const char *s, struct err *err) MUST_CHECK;

/* parties_print - the form above, sizes ascending; `size` PARTIES_TEXT_SIZE
 * suffices.  Returns `dst`. */
char *parties_print(char *dst, size_t size, const struct parties *p);

/* parties_covers - guests in all. */
int64_t parties_covers(const struct parties *p);

#endif /* CORE_PARTIES_H */
