/*
 * print/fault.h - what the spool does about what a printer says.
 *
 * One row for each state of driver/state.h; docs/printing.md "Faults" is this
 * table for people.  Of several states the gravest act counts.
 */
#ifndef PRINT_FAULT_H
#define PRINT_FAULT_H

#include <stddef.h>

#include "driver/state.h"

/* In order of gravity. */
enum fault_act {
	ACT_GO,   /* as if nothing had been said */
	ACT_WAIT, /* before a label: it stays queued; else be patient */
	ACT_END,  /* the printer is gone: no use in being patient */
};

/* When it is said. */
enum fault_when {
	FAULT_BEFORE, /* a label; nothing is sent */
	FAULT_DURING, /* a label; it takes no more bytes */
	FAULT_AFTER,  /* the last byte; not confirmed */
	FAULT_WHEN_COUNT
};

/* fault_act - what to do about a state, a set of PRINTER_ bits. */
enum fault_act fault_act(enum fault_when when, unsigned state);

/*
 * fault_words - "out of labels: put in a new roll", "ready" for 0.  Returns
 * `dst`, which holds at least 200 bytes.
 */
const char *fault_words(char *dst, size_t size, unsigned state);

#endif /* PRINT_FAULT_H */
