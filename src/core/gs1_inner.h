/*
 * gs1_inner.h - shared by the gs1 files.  Private to src/core.
 */
#ifndef CORE_GS1_INNER_H
#define CORE_GS1_INNER_H

#include "core/gs1.h"

/* One value being read: in, and what came of it. */
struct gs1_value {
	const char *s; /* n bytes, not terminated */
	size_t n;
	const char *ai; /* as scanned, its last digit may be a decimals count */
	const struct gs1_ai *row;
	const struct gs1_reader *r;
	char meaning[160];
	char why[120];  /* what is wrong, when reading gave false */
	char note[120]; /* something to be read although it is right */
};

typedef bool gs1_reading(struct gs1_value *v);

/* May a tail of a lot that reads as this element raise doubt? */
enum gs1_sure {
	SURE_NO,    /* its form is so free that any lot would be doubted */
	SURE_WORD,  /* when a word follows: a letter, four characters or more */
	SURE_MIXED, /* when it is not digits only */
	SURE,       /* its content is checked closely enough */
};

struct gs1_ai {
	const char *ai; /* a last 'n' stands for a digit */
	const char *title;
	gs1_reading *read;
	int min, max;        /* characters */
	const char *with;    /* required: "01,02;37" = (01 or 02) and 37;
			      * "00+02" = both */
	const char *without; /* excluded, comma separated */
	enum gs1_sure sure;
};

/* gs1_ai_find - row of the identifier that `s` begins with, or NULL. */
const struct gs1_ai *gs1_ai_find(const char *s, size_t n);

/* gs1_ai_digits - how many digits the identifier at `s` has by its first two,
 * also when it is not in the table; 0 when there are not so many digits. */
int gs1_ai_digits(const char *s, size_t n);

/* gs1_predefined - data characters when the length is pre-defined by the first
 * two digits (General Specifications table 7-6), else 0. */
int gs1_predefined(const char *ai);

/* gs1_ai_matches - "3103" against "310n". */
bool gs1_ai_matches(const char *pattern, const char *ai);

/* gs1_partners - report missing and excluded partners. */
void gs1_partners(struct gs1_scan *s);

void gs1_problem(struct gs1_scan *s, enum gs1_grade grade, const char *fmt, ...)
    __attribute__((format(printf, 3, 4)));

/* gs1_add - check one element, and keep it. */
void gs1_add(struct gs1_scan *s, const struct gs1_reader *r, const char *ai,
    const char *value, size_t n);

/* The forms of a scan; `text` is n bytes and a NUL. */
void gs1_read_string(
    struct gs1_scan *s, const struct gs1_reader *r, const char *text, size_t n);
void gs1_read_brackets(
    struct gs1_scan *s, const struct gs1_reader *r, const char *text, size_t n);
void gs1_read_link(
    struct gs1_scan *s, const struct gs1_reader *r, const char *text, size_t n);

/* gs1_take_number - a trade item number of 8, 12, 13 or 14 digits. */
void gs1_take_number(
    struct gs1_scan *s, const struct gs1_reader *r, const char *text, size_t n);
bool gs1_number_length(size_t n);
/* False: it is not that, and nothing was changed. */
bool gs1_try_marked(
    struct gs1_scan *s, const struct gs1_reader *r, const char *text);
bool gs1_try_own_label(struct gs1_scan *s, const char *text);
bool gs1_try_own_item(
    struct gs1_scan *s, const struct gs1_reader *r, const char *text);
bool gs1_try_own_code(struct gs1_scan *s, const char *text);
/* gs1_own_shape - which of our codes it would be, were it right. */
enum gs1_kind gs1_own_shape(const char *text);

bool gs1_all_digits(const char *s, size_t n);
bool gs1_in_set82(const char *s, size_t n);

/* gs1_restricted - name of the range of a restricted circulation number of 8
 * or 13 digits, or of 14 where zeros were put in front; else NULL. */
const char *gs1_restricted(const char *digits, size_t n);

/* gs1_date - YYMMDD; day 00 is the last of the month when allowed. */
bool gs1_date(day_no *out, const char *s, day_no today, bool day_may_be_00);

/* Readings, see gs1_value.c. */
gs1_reading gs1_text, gs1_number, gs1_count, gs1_key, gs1_gtin, gs1_day,
    gs1_day_exact, gs1_day_span, gs1_day_time, gs1_made_at, gs1_test_by,
    gs1_measure, gs1_price, gs1_country, gs1_countries, gs1_country_text,
    gs1_piece, gs1_temperature, gs1_species, gs1_area, gs1_gear, gs1_method,
    gs1_uic;

#endif /* CORE_GS1_INNER_H */
