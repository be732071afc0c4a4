/*
 * core/icelife.h - how long a species keeps in ice, and how warmth eats it.
 *
 * Published days in ice, config/ice-life.csv, and the square-root relative
 * rate of spoilage RRS(T) = (1 + 0.1 T)^2 with T in degrees Celsius (Tmin -10;
 * Dalgaard 2002, DTU Aqua), in exact integers.  Storage adds up whatever its
 * order (time-temperature integration; Charm 1972, McMeekin 1988).
 * Fails closed: colder than the figure was measured at, or below 0 C, never
 * gives more days.  Quality and guidance, no safety promise: use-by rules and
 * the kitchen's own plan decide.  Pure.
 */
#ifndef CORE_ICELIFE_H
#define CORE_ICELIFE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"

#define ICELIFE_NO_WARNING (-1)

enum icelife_form {
	ICELIFE_WHOLE, /* gutted or not, head on or off */
	ICELIFE_FILLET,
	ICELIFE_MEAT, /* out of the shell, or cooked */
	ICELIFE_LIVE, /* survival, not spoilage: the rate does not apply */
	ICELIFE_FORM_COUNT
};

enum icelife_mark {
	ICELIFE_READ,    /* read in the source or its abstract */
	ICELIFE_DAMAGED, /* read in damaged copies that agree */
	ICELIFE_MEMORY,  /* from memory: never used */
	ICELIFE_MARK_COUNT
};

struct icelife {
	char species[4];
	enum icelife_form form;
	char medium[48];    /* "flake ice" */
	int temp_tenths;    /* what the figure was measured at */
	int low_x100;       /* days in 1/100; the figure that counts */
	int high_x100;      /* equal to low when there is no range */
	char criterion[64]; /* what ended it */
	int faster_above;   /* tenths: measured to spoil faster than the rate
			     * above this; ICELIFE_NO_WARNING when not known */
	bool use;
	enum icelife_mark mark;
	char source[160];
	char note[160];
};

struct icelife_table {
	struct icelife *items; /* in file order, owned */
	size_t count;
};

/* A time at one temperature. */
struct icelife_span {
	int temp_tenths; /* -600..600 */
	int64_t minutes; /* 0 or more */
};

/*
 * icelife_parse - read the table from the bytes of a CSV file.
 * RC_OK, or RC_INVALID with line and column: low above high, a figure from
 * memory or from below 0 C marked for use, a second one in use for the same
 * species and form, no source.
 * Columns: species, form, medium, temp_c, days_low, days_high, criterion,
 * faster_above_c, use, mark (read, damaged copy, memory), source, note.
 */
enum rc icelife_parse(struct icelife_table *out, const char *name,
    const char *data, size_t len, struct err *err) MUST_CHECK;

void icelife_fini(struct icelife_table *t);

/*
 * icelife_find - the figure to use, or NULL when there is none: then no limit
 * from ice is known, which is not the same as no limit.
 */
const struct icelife *icelife_find(
    const struct icelife_table *t, const char *species, enum icelife_form form);

/* icelife_rate_x10000 - RRS in 1/10 000: (100 + tenths)^2.  tenths > -100. */
int64_t icelife_rate_x10000(int tenths);

/*
 * icelife_convert - days (1/100) that keep `from` tenths of a degree, as days
 * at `to`; rounded down.  `to` below 0 C is taken as 0 C.  RRS(from)/RRS(to).
 * days_x100 0..1 000 000, from -99..600, to up to 600; asserted.
 */
int64_t icelife_convert(int64_t days_x100, int from, int to);

/*
 * icelife_days_left - days (1/100, rounded down, never negative) left at the
 * temperature the figure was measured at, after the spans:
 * left = days - sum(minutes x RRS(T)/RRS(at)), T never below `at` nor 0 C.
 * `at` is the figure's own temperature, 0 for ice, never below.  Order does not
 * matter.
 */
int64_t icelife_days_left(
    int64_t days_x100, int at, const struct icelife_span *spans, size_t count);

/*
 * icelife_faster - was this species measured to spoil faster than the rate at
 * this temperature?  Then days left are too many and must be said so.
 */
bool icelife_faster(const struct icelife *row, int tenths);

/* icelife_form_word - "whole". */
const char *icelife_form_word(enum icelife_form form);

#endif /* CORE_ICELIFE_H */
