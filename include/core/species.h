/*
 * core/species.h - the species table: names, body form, allergen group.
 *
 * The figures are a data file (config/species.csv), loaded and checked at
 * start; sources stand in the file, row by row.  Pure: parses bytes it is
 * given.
 */
#ifndef CORE_SPECIES_H
#define CORE_SPECIES_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"
#include "core/cut.h"

/* How the animal is built, which decides how it is taken apart. */
enum body_form {
	FORM_ROUND,
	FORM_FLAT,
	FORM_CARTILAGINOUS,
	FORM_CRUSTACEAN,
	FORM_BIVALVE,
	FORM_GASTROPOD,
	FORM_CEPHALOPOD,
};

/* The three groups of Reg. (EU) 1169/2011 Annex II a fish section meets. */
enum allergen {
	ALLERGEN_FISH,
	ALLERGEN_CRUSTACEANS,
	ALLERGEN_MOLLUSCS,
};

struct species {
	char code[4];  /* FAO ASFIS 3-alpha, upper case */
	char name[48]; /* what the kitchen calls it */
	char scientific[48];
	enum body_form form;
	int pieces;          /* fillets, loins or wings per fish; 0 none */
	char piece_word[12]; /* "fillet", "loin", "wing"; "" when pieces is 0 */
	enum allergen allergen;
	bool histamine; /* family that can form histamine */
	char code_source[200];
	char pieces_source[200]; /* "common practice, no source" included */
	char note[300];
};

struct species_table {
	struct species *items; /* sorted by code, owned */
	size_t count;
};

/*
 * species_parse - read the table from the bytes of a CSV file.
 * RC_OK or RC_INVALID with line and column; *out is then empty.  Refused are
 * also a code or name that two rows answer to, an allergen group that does not
 * go with the body form, a figure without a source, and a table without a row.
 */
enum rc species_parse(struct species_table *out, const char *name,
    const char *data, size_t len, struct err *err) MUST_CHECK;

void species_fini(struct species_table *t);

/* species_find - by 3-alpha code in any case, or NULL. */
const struct species *species_find(
    const struct species_table *t, const char *code);

/*
 * species_get - by code, or by common or scientific name in any case.
 * RC_OK *out is borrowed from the table; RC_NOTFOUND, naming a few codes whose
 * names begin alike when there are any.
 */
enum rc species_get(const struct species **out, const struct species_table *t,
    const char *text, struct err *err) MUST_CHECK;

/*
 * species_sold_as - may this species be bought in this presentation?  Fish is
 * gutted, headed, filleted; crustaceans and molluscs are live or shucked; only
 * rays have wings.  Whole, and the tail or meat of what has one, always may.
 * common practice, no source.
 */
bool species_sold_as(const struct species *sp, enum presentation p);

/* Words of the enums as files, commands and labels write them. */
const char *body_form_word(enum body_form form); /* "round" */
const char *allergen_word(enum allergen a);      /* "fish" */

#endif /* CORE_SPECIES_H */
