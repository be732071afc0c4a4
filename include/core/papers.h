/*
 * core/papers.h - is the goods-in record complete, rule by rule?
 *
 * Published lists: Reg. (EC) 178/2002 Art. 18 (who supplied it), Reg. (EU)
 * 931/2011 Art. 3 (food of animal origin), Reg. (EC) 1224/2009 Art. 58 (lot
 * data of fish; as a public body for seafood lists them, the article itself
 * was not read), Reg. (EU) 1379/2013 Art. 35 (what a mass caterer must be told
 * of fish), and 21 CFR 1.1345(a) and (b) (US receiving record, per
 * traceability lot).  Only completeness: whether what was written is true is
 * for the person.  Pure.
 */
#ifndef CORE_PAPERS_H
#define CORE_PAPERS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"

/* Rules to check against, as bits. */
#define PAPERS_EU_931 1u
#define PAPERS_EU_1379 2u
#define PAPERS_US_1345 4u
#define PAPERS_EU_178 8u
#define PAPERS_EU_1224 16u
#define PAPERS_ALL 31u

#define PAPERS_LINES_MAX 48

/* papers_laws - those a rule set of config/rules stands for; all of them for a
 * set that is not known. */
unsigned papers_laws(const char *rule_set);

/* What a line asks for: X(id, word). */
#define PAPER_DATUM_LIST(X)                                                    \
	X(DATUM_DESCRIPTION, "description")                                    \
	X(DATUM_QUANTITY, "quantity")                                          \
	X(DATUM_DISPATCHER, "dispatcher")                                      \
	X(DATUM_CONSIGNOR, "consignor")                                        \
	X(DATUM_RECEIVER, "receiver")                                          \
	X(DATUM_CONSIGNEE, "consignee")                                        \
	X(DATUM_LOT, "lot")                                                    \
	X(DATUM_DISPATCHED, "dispatched")                                      \
	X(DATUM_RECEIVED, "received")                                          \
	X(DATUM_COMMERCIAL, "commercial-name")                                 \
	X(DATUM_SCIENTIFIC, "scientific-name")                                 \
	X(DATUM_METHOD, "method")                                              \
	X(DATUM_AREA, "area")                                                  \
	X(DATUM_GEAR, "gear")                                                  \
	X(DATUM_FROZEN, "frozen")                                              \
	X(DATUM_DURABILITY, "durability")                                      \
	X(DATUM_LOT_SOURCE, "lot-source")                                      \
	X(DATUM_DOCUMENT, "document-type")                                     \
	X(DATUM_VESSEL, "vessel")                                              \
	X(DATUM_SPECIES, "species")                                            \
	X(DATUM_CAUGHT, "caught")                                              \
	X(DATUM_EXEMPT, "supplier-exempt")                                     \
	X(DATUM_FIRST, "first-receiver")                                       \
	X(DATUM_GUESTS, "guests")

enum paper_datum {
#define PAPER_DATUM_ENUM(id, word) id,
	PAPER_DATUM_LIST(PAPER_DATUM_ENUM)
#undef PAPER_DATUM_ENUM
	    DATUM_COUNT
};

const char *paper_datum_word(enum paper_datum d);

enum papers_method {
	METHOD_UNKNOWN,
	METHOD_CAUGHT,
	METHOD_CAUGHT_FRESHWATER,
	METHOD_FARMED,
};

/* What is known of freezing; Art. 35(1)(d) and its four exceptions. */
enum papers_frozen {
	FROZEN_UNKNOWN,
	FROZEN_NEVER,
	FROZEN_STATED,     /* frozen or "defrosted", and the papers say so */
	FROZEN_INGREDIENT, /* exempt: an ingredient of a final product */
	FROZEN_NECESSARY,  /* exempt: freezing belongs to making the food */
	FROZEN_PARASITES,  /* exempt: frozen only against parasites */
	FROZEN_THEN_CURED, /* exempt: defrosted before smoking, salting,
			    * cooking, pickling or drying */
};

/* What the record holds: true where a field has been filled. */
struct papers {
	bool description;
	bool quantity;      /* number and unit: papers_quantity() */
	bool dispatcher;    /* name and address of who sent it */
	bool owner_differs; /* the consignor is someone else */
	bool consignor;     /* name and address, when owner_differs */
	bool receiver;      /* name and address of the kitchen */
	bool consignee_differs;
	bool consignee;
	bool lot;        /* supplier's lot, or US traceability lot code */
	bool dispatched; /* date */
	bool received;   /* date */
	bool commercial_name;
	bool scientific_name;
	enum papers_method method;
	bool area;          /* a code, or words */
	bool area_too_wide; /* a code for which area_enough() is false */
	bool gear;          /* a category: gear_find(), not GEAR_NONE */
	enum papers_frozen frozen;
	bool durability_due;  /* the food carries a date mark */
	bool durability;      /* that date */
	bool came_from;       /* place of the immediate previous source */
	bool came_to;         /* place where it was received */
	bool lot_source;      /* who gave the lot code, or a reference to it */
	bool document;        /* type and number */
	bool supplier_exempt; /* outside the US rule: 1.1345(b) */
	bool restaurant;      /* need not assign a lot code under (b) */
	bool first_receiver;  /* first on land from a boat: 1.1335 instead */
	bool vessel;          /* vessel, or farm */
	bool species_code;    /* FAO 3-alpha */
	bool caught;          /* date or dates of catch or production */
};

/* frozen_word, frozen_parse - "never", "stated", "ingredient", "necessary",
 * "parasites", "then-cured".  RC_OK, RC_INVALID. */
const char *frozen_word(enum papers_frozen f);
enum rc frozen_parse(
    enum papers_frozen *out, const char *s, struct err *err) MUST_CHECK;

enum paper_state {
	PAPER_HAVE,
	PAPER_MISSING,
	PAPER_NOT_NEEDED, /* `words` say why */
};

struct paper_line {
	const char *rule;  /* "Reg. (EU) 931/2011 Art. 3(1)" */
	const char *field; /* "a", "(4)" */
	const char *words; /* what the rule asks for; static */
	enum paper_datum datum;
	enum paper_state state;
};

/*
 * papers_check - one line a field of every rule in `rules`; the number filled,
 * at most PAPERS_LINES_MAX.  An unknown method or freezing counts as missing,
 * never as not needed.
 */
size_t papers_check(struct paper_line out[PAPERS_LINES_MAX],
    const struct papers *in, unsigned rules);

/* papers_missing - lines that are PAPER_MISSING; 0 means complete. */
size_t papers_missing(const struct paper_line *lines, size_t count);

/*
 * papers_quantity - a quantity with its unit: "6 cases", "200 pounds",
 * "12.5 kg".  *thousandths the number, *unit where the unit begins in `s`.
 * RC_OK, or RC_INVALID when either is missing, the number is not above 0, or
 * a comma could mean a decimal or a thousand ("1,000 pounds").
 */
enum rc papers_quantity(int64_t *thousandths, const char **unit, const char *s,
    struct err *err) MUST_CHECK;

/*
 * papers_oldest - the production or freezing date of batches that are mixed:
 * the oldest (Reg. (EU) 16/2012).  DAY_NONE when any of them is unknown, since
 * that one could be the oldest.  count > 0.
 */
day_no papers_oldest(const day_no *days, size_t count);

#endif /* CORE_PAPERS_H */
