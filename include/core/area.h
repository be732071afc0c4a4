/*
 * core/area.h - where it was caught: FAO areas and their parts.
 *
 * FAO major fishing areas ("27"), and below them subareas, divisions,
 * subdivisions and units in dot form ("27.3.d.28.2"): the codes GS1 AI 7005
 * carries and Reg. (EU) 1379/2013 Art. 38 asks for.  Data: config/areas.csv,
 * names in our own short words.  Words that are no area (a country of rearing,
 * a river) stay words: that is the caller's business.  Pure.
 */
#ifndef CORE_AREA_H
#define CORE_AREA_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"

#define AREA_CODE_MAX 12 /* what AI 7005 can hold */

struct area {
	char code[AREA_CODE_MAX + 1]; /* "27.7.e", letters in lower case */
	char name[64];
	bool verified; /* code read in the source, not remembered */
	char source[160];
};

struct area_table {
	struct area *items; /* sorted by code, owned */
	size_t count;
};

/*
 * area_parse - read the table from the bytes of a CSV file.
 * RC_OK, or RC_INVALID with line and column: a code not in dot form, one that
 * appears twice, a code whose parent the file does not name, no source.
 * Columns: code, name, verified, source.
 */
enum rc area_parse(struct area_table *out, const char *name, const char *data,
    size_t len, struct err *err) MUST_CHECK;

void area_fini(struct area_table *t);

/*
 * area_find - the area a text names, in any case.
 * Dot form ("27.7.e", "27.7.E", "FAO 27"); the old style of ICES with a roman
 * number ("VIIe", "IVb", "ICES VII e", "IIIa 20") or an arabic one and a letter
 * ("7e"), which becomes area 27.
 * RC_OK        *out is borrowed from the table
 * RC_NOTFOUND  no code of the table: free text is kept as words by the caller,
 *              and for a code the nearest area that is known is named
 */
enum rc area_find(const struct area **out, const struct area_table *t,
    const char *text, struct err *err) MUST_CHECK;

/* area_parent - the area it is a part of, or NULL for a major area. */
const struct area *area_parent(
    const struct area_table *t, const struct area *a);

/* area_depth - parts of the code: 1 major area .. 5 unit. */
int area_depth(const char *code);

/* area_major - 27 for "27.7.e". */
int area_major(const char *code);

/* area_within - is `code` the area `outer` or a part of it? */
bool area_within(const char *code, const char *outer);

/*
 * area_enough - fine enough for the guest's information?
 * Art. 38(1)(a): in FAO 27 and 37 a subarea or division must be given, outside
 * them the major area's name will do.
 */
bool area_enough(const char *code);

#endif /* CORE_AREA_H */
