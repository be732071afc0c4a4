/*
 * steps.h - how much work each SQL statement of the program makes SQLite do,
 * counted in steps of its virtual machine: the same on every machine.
 */
#ifndef STEPS_H
#define STEPS_H

#include <stddef.h>
#include <stdint.h>

struct steps_row {
	char *sql; /* as prepared; owned here */
	int64_t runs;
	int64_t most; /* steps of the longest run */
};

/* steps_watch - every connection opened from now on. */
void steps_watch(void);
/* steps_into - what is run from now on counts for this set, 0 .. STEPS_SETS
 * - 1.
 */
#define STEPS_SETS 8
void steps_into(int set);
/* steps_rows - what was run for a set so far; borrowed. */
const struct steps_row *steps_rows(size_t *count, int set);
/* steps_of - the longest run of a statement, -1: it was not run. */
int64_t steps_of(const struct steps_row *rows, size_t count, const char *sql);

#endif /* STEPS_H */
