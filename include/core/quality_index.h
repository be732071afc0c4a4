/*
 * core/quality_index.h - published Quality Index schemes.
 *
 * A Quality Index scheme (QIM) gives each attribute of a raw fish 0 to 3
 * demerit points; the sum grows in a straight line with days in ice.  No single
 * attribute can reject a fish, and at least three fish of a batch are judged
 * (qim-eurofish.com, nofima.no).  Data: config/quality-index.csv.
 * Days are told only where a line was published for that very scheme.  Pure.
 */
#ifndef CORE_QUALITY_INDEX_H
#define CORE_QUALITY_INDEX_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"

#define QI_ATTRIBUTES_MAX 16
#define QI_FISH_MIN 3 /* fish of a batch to judge; nofima.no 2010 */

struct qi_attribute {
	char name[24]; /* "" in a scheme of which only the total is published */
	int max_points;
};

struct qi_scheme {
	char name[48];   /* "cod, raw whole" */
	char species[4]; /* "" when the species is not in our table */
	struct qi_attribute attribute[QI_ATTRIBUTES_MAX];
	size_t attributes;
	int total;           /* sum of the maxima, checked when read */
	bool printed;        /* the source prints the total; else summed here */
	bool has_line;       /* points = slope x day + intercept is published */
	int slope_milli;     /* points a day, in 1/1000 */
	int intercept_milli; /* points on day 0, in 1/1000 */
	bool verified;
	char source[160];
};

struct qi_table {
	struct qi_scheme *items; /* in file order, owned */
	size_t count;
};

struct qi_mark {
	const char *attribute; /* its name, in any case */
	int points;
};

/*
 * qi_parse - read the table from the bytes of a CSV file.
 * RC_OK, or RC_INVALID with line and column: maxima that do not add up to the
 * total, rows of one scheme that disagree or do not stand together, an
 * attribute twice, half a line, a slope not above 0, no source.
 * Columns: scheme, species, attribute, max_points, total, total_is (printed,
 * summed), slope, intercept (1/1000, both or none), verified, source.
 */
enum rc qi_parse(struct qi_table *out, const char *name, const char *data,
    size_t len, struct err *err) MUST_CHECK;

void qi_fini(struct qi_table *t);

/*
 * qi_for_species - the n-th scheme of a species (3-alpha, any case), or NULL.
 * A scheme without a species is never given.
 */
const struct qi_scheme *qi_for_species(
    const struct qi_table *t, const char *species, size_t n);

/* qi_find - a scheme by its name in any case, or NULL. */
const struct qi_scheme *qi_find(const struct qi_table *t, const char *name);

/*
 * qi_total - the points of one fish.  Every attribute must be marked: a part
 * of a sum would make the fish look fresher than it is.
 * RC_OK, or RC_INVALID naming the attribute that is missing, unknown, marked
 * twice or above its maximum; also for a scheme without attributes.
 */
enum rc qi_total(int *out, const struct qi_scheme *s,
    const struct qi_mark *marks, size_t count, struct err *err) MUST_CHECK;

/*
 * qi_days - days in ice (or after thawing, as the scheme's source says) in
 * tenths, rounded up, from the scheme's own line; 0 below its start.
 * RC_OK, RC_NOTFOUND without a published line, RC_INVALID when the points are
 * negative or above the total.
 */
enum rc qi_days(int *tenths, const struct qi_scheme *s, int points,
    struct err *err) MUST_CHECK;

#endif /* CORE_QUALITY_INDEX_H */
