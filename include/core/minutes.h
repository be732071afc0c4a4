/*
 * core/minutes.h - how long the work of a fish section takes.
 *
 * Start values are a data file (config/minutes.csv), house estimates every one
 * of them but the anchors that name a source; a recorded breakdown teaches the
 * station its own pace.  Per task, species and size band the pace is a Gamma
 * posterior on the rate: shape <- g shape + units, scale <- g scale + seconds,
 * seconds per unit = scale / shape.  Kept as integers in thousandths.  Pure.
 */
#ifndef CORE_MINUTES_H
#define CORE_MINUTES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "base/units.h"
#include "core/species.h"

enum task_kind {
	TASK_SCRUB,     /* shells scrubbed and bearded, per kg */
	TASK_SCALE,     /* per fish */
	TASK_TRIM,      /* whole flat fish trimmed, gutted, cleaned; per fish */
	TASK_GUT,       /* per fish */
	TASK_CLEAN,     /* squid and kin, each */
	TASK_PEEL,      /* prawns peeled and veined, each */
	TASK_FILLET,    /* per fish, all its fillets, loins or wings */
	TASK_PINBONE,   /* per piece */
	TASK_SKIN,      /* per piece */
	TASK_OPEN,      /* oysters, scallops, each */
	TASK_DRESS,     /* crab picked and dressed, each */
	TASK_PORTION,   /* cut and weighed, per portion */
	TASK_TRAY,      /* tray, film, label, per tray */
	TASK_CHANGE,    /* other board and knife, bench wiped, each */
	TASK_CLEANDOWN, /* full clean-down: wash, sanitise, other tools, each */
	TASK_COUNT
};

/* What the seconds of a row are counted by. */
enum task_unit {
	UNIT_EACH, /* one animal: a fish, an oyster, a prawn */
	UNIT_PIECE,
	UNIT_PORTION,
	UNIT_TRAY,
	UNIT_KG, /* begun kilograms */
	UNIT_TIME,
	UNIT_COUNT
};

/* One start value. */
struct minutes_row {
	enum task_kind task;
	char species[4]; /* or "" */
	bool any;        /* every species; else, without species: `form` */
	enum body_form form;
	grams from_g; /* size of one animal, this and above; 0 from the start */
	grams below_g; /* 0: no upper end */
	int seconds;   /* per unit, 0..7200; 0: the task is not done for it */
	bool verified; /* read in the source, not remembered */
	char source[200];
};

struct minutes_table {
	struct minutes_row *items; /* in file order, owned */
	size_t count;
};

/*
 * minutes_parse - read the table from the bytes of a CSV file.
 * RC_OK, or RC_INVALID with line and column; *out is then empty.  Refused are
 * also a unit that is not the task's, two rows of one task and group whose
 * bands overlap, and a table without a row for `change` or `clean-down`.
 * Columns: task, group (3-alpha code, body form or "any"), from_g, below_g
 * (either may be empty), seconds, unit, source, verified.
 */
enum rc minutes_parse(struct minutes_table *out, const char *name,
    const char *data, size_t len, struct err *err) MUST_CHECK;

void minutes_fini(struct minutes_table *t);

/*
 * minutes_find - the row of a task: the species' own before its body form's
 * before "any"; the band that holds `size_g`.  NULL when no row fits.
 */
const struct minutes_row *minutes_find(const struct minutes_table *t,
    enum task_kind task, const char *species, enum body_form form,
    grams size_g);

const char *task_word(enum task_kind k); /* "pin-bone" */
/* RC_OK or RC_INVALID listing the words. */
enum rc task_parse(
    enum task_kind *out, const char *s, struct err *err) MUST_CHECK;
enum task_unit task_unit(enum task_kind k);
const char *task_unit_word(enum task_unit u); /* "each" */

/*
 * A house estimate weighs as much as this many units done, and what was learned
 * keeps this share of its weight at each breakdown (memory of about ten).
 * Both are house estimates.
 */
#define PACE_START_UNITS 20
#define PACE_KEEP_BP 9000

/* The pace of one task, species and size band. */
struct pace {
	enum task_kind task;
	char species[4]; /* "" for work that is no one's: change, clean-down */
	grams from_g;    /* of the band in the table */
	int64_t shape;   /* thousandths of a unit, > 0 */
	int64_t scale;   /* thousandths of a second, >= 0 */
	bool learned;    /* from recorded breakdowns; else the house estimate */
};

/* Where paces come from; both borrowed. */
struct pace_book {
	const struct minutes_table *table;
	const struct pace *learned; /* may be NULL when learned_count is 0 */
	size_t learned_count;
};

/*
 * pace_find - the learned pace, else the table's as PACE_START_UNITS units.
 * False when the table has no row or says the task is not done for it.
 */
bool pace_find(struct pace *out, const struct pace_book *book,
    enum task_kind task, const char *species, enum body_form form,
    grams size_g);

/* pace_learn - `units` done in `ms` milliseconds; marks it learned.
 * 0 < units <= COUNT_MAX, 0 <= ms <= 10^10; asserted. */
void pace_learn(struct pace *p, int64_t units, int64_t ms);

/* pace_ms - milliseconds per unit as expected: scale / shape, rounded up. */
int64_t pace_ms(const struct pace *p);

/*
 * pace_slow_ms - milliseconds per unit that the pace keeps within in four
 * cases of five, as far as it is known: scale over the 20 % point of the Gamma
 * rate (Wilson and Hilferty 1931), rounded up.  Never below pace_ms(); three
 * times that while less than one unit stands behind it.
 */
int64_t pace_slow_ms(const struct pace *p);

#endif /* CORE_MINUTES_H */
