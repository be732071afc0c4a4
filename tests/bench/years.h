/*
 * years.h - a station file as a kitchen has it after years of work.
 *
 * Invented, from a seed: about 6 000 batches and 250 000 labelled units a year
 * with all that became of them.  The first day is made by the operations
 * themselves; every later day repeats its texts with other dates, numbers and
 * codes, written straight into the tables, since doing each step would take
 * days.  The last days have stock on hand; before them everything was used,
 * thrown away, or is in the freezer.
 */
#ifndef YEARS_H
#define YEARS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/err.h"

/* The last record was made a little before this time. */
#define YEARS_NOW "2026-12-04T11:00"

struct years_wish {
	const char *db; /* must not be there; its settings: the same + ".ini" */
	int years;      /* 0: the kitchen without a record; at most 12 */
	int days;       /* and so many more days */
	bool small;     /* an eighth of it: fewer units, fewer covers */
	uint64_t seed;
};

struct years_made {
	int64_t batches, portions, events, jobs, audit;
};

/*
 * years_make - make the file and its settings (a training station, labels into
 * a folder db + ".labels").  Run from the top folder.
 * RC_OK; else what the operations said.  A fault of SQLite ends the program.
 */
enum rc years_make(struct years_made *out, const struct years_wish *w,
    struct err *err) MUST_CHECK;

#endif /* YEARS_H */
