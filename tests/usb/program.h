/*
 * program.h - the whole program at work in a kitchen, on the test's bus.
 */
#ifndef PROGRAM_H
#define PROGRAM_H

#include "rig.h"
#include "tests/unit/kitchen.h"

/* The program as PINBONE names it, at KITCHEN_NOW, with the words of `line` and
 * then `more`, unless that is NULL. */
#define PROGRAM_WORDS 48
struct program_line {
	char words[400];
	const char *argv[PROGRAM_WORDS];
};
void program_line(struct program_line *l, const struct kitchen *k,
    const char *line, const char *more);

/* program_run - as rig_child(). */
int program_run(char *out, size_t size, const struct kitchen *k,
    const char *line, const char *more);

#endif /* PROGRAM_H */
