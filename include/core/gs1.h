/*
 * core/gs1.h - what a scanner or a person delivers: supplier labels in the GS1
 * system, plain trade item numbers, and our own codes.
 *
 * Reads GS1 element strings with or without symbology identifier, text with
 * identifiers in brackets, ISO/IEC 15434 envelopes of format 05, EAN-13, EAN-8,
 * UPC-A, GTIN-14 and restricted circulation numbers, GS1 Digital Link URIs, and
 * the codes of core/code.h, core/label_code.h and core/trade_item.h.  Rules and
 * their sources are in docs/gs1.md.  Nothing is guessed silently: what had to
 * be assumed is a problem in the result.
 *
 * Element strings use the byte GS (0x1D) as separator.  Pure: bytes in, a
 * struct without pointers of its own out; today is passed in.
 */
#ifndef CORE_GS1_H
#define CORE_GS1_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/day.h"
#include "base/err.h"
#include "base/units.h"

struct species_table;

#define GS1_GS '\x1d'
#define GS1_SCAN_MAX 4096 /* bytes in one scan */
#define GS1_ELEMENTS_MAX 64
#define GS1_PROBLEMS_MAX 24
/* The longest value of any application identifier is X..90. */
#define GS1_VALUE_MAX 90

/* X(code, word) */
#define GS1_KIND_LIST(X)                                                       \
	X(GS1_UNKNOWN, "unknown")                                              \
	X(GS1_ELEMENT_STRING, "gs1")                                           \
	X(GS1_EAN, "ean")                                                      \
	X(GS1_DIGITAL_LINK, "digital-link")                                    \
	X(GS1_OWN_BATCH, "batch")                                              \
	X(GS1_OWN_PORTION, "portion")

enum gs1_kind {
#define GS1_KIND_ENUM(code, word) code,
	GS1_KIND_LIST(GS1_KIND_ENUM)
#undef GS1_KIND_ENUM
};

const char *gs1_kind_word(enum gs1_kind kind);

/* How much a problem weighs. */
enum gs1_grade {
	GS1_NOTE,    /* to be read; the scan stays valid */
	GS1_PARTNER, /* a required element is missing: it may be on another
		      * symbol of the item, see gs1_join() */
	GS1_BAD,     /* wrong, or could be read in two ways */
};

struct gs1_problem {
	enum gs1_grade grade;
	char text[240]; /* one line, no full stop */
};

struct gs1_element {
	char ai[5]; /* "01"; "91" for our own codes; "" for a number that is
		     * no GTIN */
	char value[GS1_VALUE_MAX + 1];
	const char *title; /* GS1 data title, static; "" when not known */
	char meaning[160];
	bool good; /* content is as the identifier demands, and not doubted */
};

struct gs1_scan {
	enum gs1_kind kind;
	bool valid;        /* no problem above GS1_NOTE */
	char symbology[4]; /* "]C1", or "" */
	bool restricted;   /* a restricted circulation number, no GTIN */
	day_no today;
	struct gs1_element elements[GS1_ELEMENTS_MAX];
	size_t count;
	struct gs1_problem problems[GS1_PROBLEMS_MAX];
	size_t problem_count;
};

/*
 * Names for codes, all optional.  A lookup gives a name, borrowed until the
 * next call, or NULL when it does not know the code.
 */
struct gs1_names {
	const struct species_table *species;              /* AI 7008 */
	const char *(*area)(void *ctx, const char *code); /* AI 7005 */
	const char *(*gear)(void *ctx, const char *code); /* AI 7009 */
	void *ctx;
};

struct gs1_reader {
	day_no today;           /* the century window turns on it */
	char separator;         /* printable stand-in for GS, or '\0' */
	const char *own_prefix; /* core/trade_item.h; NULL or "none": none */
	struct gs1_names names;
};

/* gs1_separator_ok - may this character stand in for GS?  Only one that no
 * value can hold (outside GS1 character set 82) and no other form needs. */
bool gs1_separator_ok(char c);

/*
 * gs1_read - read one scan of `len` bytes.  Always gives a result; when the
 * bytes are nothing known, the kind is GS1_UNKNOWN and a problem says why.
 * GS may be the byte 0x1D, the escape sequence ESC [ 2 4 ~ of key F12, or the
 * reader's stand-in.  A carriage return or line feed at the end is ignored.
 */
void gs1_read(struct gs1_scan *out, const char *bytes, size_t len,
    const struct gs1_reader *r);

/*
 * gs1_join - add the elements of another symbol on the same item, and judge
 * which elements need or exclude each other over both, as GS1 demands.  Both
 * are element strings, Digital Links or trade item numbers; anything else is a
 * problem.
 */
void gs1_join(struct gs1_scan *into, const struct gs1_scan *more);

/* gs1_first_problem - the first that makes the scan invalid, or NULL. */
const struct gs1_problem *gs1_first_problem(const struct gs1_scan *s);

/*
 * gs1_build - append the element string: identifiers and values with GS only
 * where one of no pre-defined length is followed by another.
 * RC_OK, or RC_INVALID: an identifier that is not 2 to 4 digits, a value that
 * is empty, too long, outside character set 82 or not of its pre-defined
 * length.
 */
enum rc gs1_build(struct buf *out, const struct gs1_element *elements,
    size_t count, struct err *err) MUST_CHECK;

/* gs1_check_digit - mod-10 check digit of `n` digits, '\0' if one is none. */
char gs1_check_digit(const char *digits, size_t n);

/* gs1_year - four digits for two: 49 years back to 50 ahead of `this_year`
 * (General Specifications 7.12). */
int gs1_year(int yy, int this_year);

/* What a scan can fill in at goods in.  "" , 0 or DAY_NONE: not given. */
struct gs1_prefill {
	char species[4];      /* 7008, in upper case */
	char lot[21];         /* 10 */
	char gtin[15];        /* 01, 02 or 03; never a restricted number */
	grams net_g;          /* 310n, rounded down to whole grams */
	int64_t count;        /* 30 or 37 */
	day_no use_by;        /* the earlier of 17 and 7003 */
	int use_by_min;       /* minutes after midnight from 7003, else -1 */
	day_no best_before;   /* 15 */
	char area[13];        /* 7005 */
	day_no harvest_first; /* 7007; both the same for one date */
	day_no harvest_last;
	day_no first_freeze; /* 7006 */
	char gear[11];       /* 7009 */
	char method[3];      /* 7010 */
	char country[4];     /* 422, ISO 3166-1 numeric */
};

/*
 * gs1_prefill_from - from the elements whose content is good; a doubted lot is
 * left out.  The scan need not be valid: whoever uses it shows its problems.
 */
void gs1_prefill_from(struct gs1_prefill *out, const struct gs1_scan *s);

#endif /* CORE_GS1_H */
