/*
 * progress.h - a line on standard error now and then while something takes
 * long: a person reads it, and so does the station, which runs these commands
 * beside itself (screens/beside.h).  Private to src/console.
 */
#ifndef CONSOLE_PROGRESS_H
#define CONSOLE_PROGRESS_H

#include <stdbool.h>
#include <stdint.h>

#include "ops/backup.h"

struct progress {
	int64_t next_ms;
};

void progress_begin(struct progress *p);
/* As copy_fn, and for exports and checks; `arg` is the struct. */
bool progress_copy(
    void *arg, enum copy_phase phase, int64_t done, int64_t total);
bool progress_rows(void *arg, int64_t done, int64_t total);
bool progress_check(void *arg);

#endif /* CONSOLE_PROGRESS_H */
