/*
 * core/gear.h - what it was caught with.
 *
 * Two alphabets meet on a delivery note: FAO's International Standard
 * Statistical Classification of Fishing Gear (ISSCFG) with a number and a
 * letter code, and Annex III of Reg. (EU) 1379/2013, whose first column is the
 * category the guest must be told and whose codes FAO does not all have.
 * Data: config/gear.csv.  Pure.
 */
#ifndef CORE_GEAR_H
#define CORE_GEAR_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"

/* First column of Annex III. */
enum gear_category {
	GEAR_NONE, /* Annex III does not list this gear */
	GEAR_SEINES,
	GEAR_TRAWLS,
	GEAR_GILLNETS,
	GEAR_SURROUNDING,
	GEAR_HOOKS,
	GEAR_DREDGES,
	GEAR_POTS,
	GEAR_CATEGORY_COUNT
};

struct gear {
	char isscfg[8]; /* "03.12"; "" when FAO does not list it */
	char code[4];   /* letter code, 2 or 3 capitals */
	char name[48];
	enum gear_category category;
	bool in_fao;
	bool verified; /* code read in the source, not remembered */
	char source[160];
};

struct gear_table {
	struct gear *items; /* sorted by letter code, owned */
	size_t count;
};

/* What a text named: one gear, or a category as a whole. */
struct gear_found {
	const struct gear *gear; /* borrowed; NULL when a category was named */
	enum gear_category category;
};

/*
 * gear_parse - read the table from the bytes of a CSV file.
 * RC_OK, or RC_INVALID with line and column: a letter code or number twice,
 * a gear of FAO's list without a number, one with a number that is not in it,
 * an unknown category, no source.
 * Columns: isscfg, code, name, category, in_fao, verified, source.
 */
enum rc gear_parse(struct gear_table *out, const char *name, const char *data,
    size_t len, struct err *err) MUST_CHECK;

void gear_fini(struct gear_table *t);

/*
 * gear_find - by letter code, ISSCFG number ("09.31", also "9.31") or category
 * name, in any case.
 * RC_OK, or RC_NOTFOUND naming the categories.  A gear Annex III does not list
 * has category GEAR_NONE: the supplier must say which category it is, none is
 * guessed here.
 */
enum rc gear_find(struct gear_found *out, const struct gear_table *t,
    const char *text, struct err *err) MUST_CHECK;

/* gear_category_name - "Pots and traps"; "no Annex III category". */
const char *gear_category_name(enum gear_category c);

#endif /* CORE_GEAR_H */
