/*
 * core/landing.h - may it have been landed: size, condition, season.
 *
 * Minimum conservation reference sizes and closed times change by law and by
 * place, so they are data with a date (config/sizes.csv, config/seasons.csv),
 * never code.  A size is a question to the supplier, a berried lobster is a
 * refusal, a season is advice.  Local law decides.  Pure.
 */
#ifndef CORE_LANDING_H
#define CORE_LANDING_H

#include <stdbool.h>
#include <stddef.h>

#include "base/day.h"
#include "base/err.h"
#include "core/area.h"

#define LANDING_AREAS_MAX 12
#define SEASON_ADVICE_MAX 8

/* What is measured.  Millimetres, except weight: grams. */
enum size_measure {
	SIZE_TOTAL_LENGTH,
	SIZE_LOWER_JAW, /* lower jaw to fork of the tail */
	SIZE_CARAPACE_LENGTH,
	SIZE_CARAPACE_WIDTH,
	SIZE_TAIL_LENGTH,
	SIZE_SHELL,  /* greatest length or width of the shell */
	SIZE_SQUARE, /* must not pass a square hole of this side */
	SIZE_RING,   /* must not pass a ring of this width */
	SIZE_WING,
	SIZE_WEIGHT,
	SIZE_MEASURE_COUNT
};

struct size_row {
	char species[4];
	enum size_measure measure;
	int minimum; /* the size itself is still allowed */
	char area[LANDING_AREAS_MAX][AREA_CODE_MAX + 1]; /* dot form */
	size_t areas;   /* 0: a place that has no area code */
	char where[80]; /* in words */
	char date[12];  /* of the source, "2019" or "2018-11-12" */
	bool verified;
	char source[160];
};

struct size_table {
	struct size_row *items; /* in file order, owned */
	size_t count;
};

enum size_verdict {
	SIZE_OK,
	SIZE_UNDER,
	SIZE_NO_RULE, /* no row for the species, or none for that area */
};

struct landing_size {
	enum size_verdict verdict;
	const struct size_row *row; /* the strictest; NULL for SIZE_NO_RULE */
	size_t considered;          /* rows that may apply */
	int lowest; /* smallest minimum among them; differs from the row's
		     * when places differ */
	bool held;  /* the species has rows, though none for this area */
};

enum season_kind {
	SEASON_CLOSED,
	SEASON_SPAWNING,
	SEASON_BERRIED, /* no dates: a condition that is refused */
	SEASON_SOFT,    /* soft-shelled */
	SEASON_NOTCHED, /* V notch, or mutilated to hide one */
	SEASON_KIND_COUNT
};

struct season_row {
	char species[4];
	enum season_kind kind;
	int from, to; /* month x 100 + day, inclusive, may run over the year
		       * end; 0 for a condition */
	char where[80];
	char status[80]; /* "statutory", "2025 notice" */
	bool verified;
	char source[160];
};

struct season_table {
	struct season_row *items; /* in file order, owned */
	size_t count;
};

/*
 * size_parse, season_parse - read the two files.
 * RC_OK, or RC_INVALID with line and column: an unknown word, a minimum not
 * above 0, a malformed area code or day, dates on a condition or none on a
 * time, the same row twice, no source.
 */
enum rc size_parse(struct size_table *out, const char *name, const char *data,
    size_t len, struct err *err) MUST_CHECK;
enum rc season_parse(struct season_table *out, const char *name,
    const char *data, size_t len, struct err *err) MUST_CHECK;

void size_fini(struct size_table *t);
void season_fini(struct season_table *t);

/* landing_measure - what the first row of the species measures; false when
 * there is none.  The form asks for that. */
bool landing_measure(
    enum size_measure *out, const struct size_table *t, const char *species);

/*
 * landing_size_check - is this size below the minimum?
 * `area` is a code in dot form, or NULL when it is not known.  Unknown: every
 * row of the species is considered.  Known: of the rows whose area holds it
 * the ones with the finest area, every row for a part of it, and every row
 * without a code.  The strictest decides.
 * RC_OK, or RC_INVALID when the species is measured in another way (named) or
 * the value is not above 0.
 */
struct size_asked {
	const char *species; /* 3-alpha, any case */
	const char *area;    /* dot form as area_find gives it, or NULL */
	enum size_measure measure;
	int value; /* mm; g for SIZE_WEIGHT */
};
enum rc landing_size_check(struct landing_size *out, const struct size_table *t,
    const struct size_asked *in, struct err *err) MUST_CHECK;

/*
 * landing_condition - berried, soft-shelled or notched animals of a species.
 * RC_OK, or RC_REFUSED with the rule and its source when a row forbids it;
 * *why (may be NULL) is then that row, borrowed.
 */
enum rc landing_condition(const struct season_row **why,
    const struct season_table *t, const char *species, enum season_kind kind,
    struct err *err) MUST_CHECK;

/* season_advice - closed and spawning times the day falls in; the number
 * filled, at most SEASON_ADVICE_MAX.  Advice only. */
size_t season_advice(const struct season_row *out[SEASON_ADVICE_MAX],
    const struct season_table *t, const char *species, day_no day);

/* Words: "total-length" and the like, "mm" or "g". */
const char *size_measure_word(enum size_measure m);
const char *size_measure_unit(enum size_measure m);
const char *season_kind_word(enum season_kind k);

#endif /* CORE_LANDING_H */
