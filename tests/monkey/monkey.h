/*
 * monkey.h - somebody who presses anything at a desk, and reads just enough of
 * the screen to record something now and then.
 */
#ifndef MONKEY_H
#define MONKEY_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stdint.h>

#include "ops/station.h"
#include "screens/desk.h"

#define TALE_ACTIONS 50
#define TALE_SIZE 160

/* What happened last, where the parent sees it after a crash. */
struct tale {
	uint64_t actions; /* begun */
	int64_t slowest_us;
	char slowest[TALE_SIZE];
	char last[TALE_ACTIONS][TALE_SIZE];
	char wrong[600]; /* what did not hold; empty: nothing */
};

struct monkey {
	uint64_t seed;   /* goes on */
	bool wild_clock; /* the clock is set back, too */
	struct tale *tale;
	struct station *sn;
	struct station *other; /* another program on the same file */
	struct desk *desk;
	sqlite3 *db; /* a third, that only looks */
	int64_t ms, print_wanted;
	int64_t utc;     /* time of the kitchen, when the clock is right */
	int odd_size;    /* actions until the screen has a usual size again */
	int astray;      /* actions until the clock is right again */
	char label[200]; /* left of the cursor, lower case, when drawn last */
	bool locked;     /* another program is writing during this action */
};

/* chance_of - 0 .. below - 1. */
int chance_of(struct monkey *m, int below);
/* monkey_tell - what is about to be done. */
void monkey_tell(struct monkey *m, const char *fmt, ...)
    __attribute__((format(printf, 2, 3)));
void monkey_wrong(struct monkey *m, const char *fmt, ...)
    __attribute__((format(printf, 2, 3)));

/* words.c: what might be typed into the field the cursor is in. */
const char *monkey_word(struct monkey *m);
/* words.c: a code of the file, of anything; false: none. */
bool monkey_code(struct monkey *m, char *dst, size_t size);
/* words.c: something to scan; returns its length. */
int monkey_label(struct monkey *m, char *dst, int size);

/* do.c: one action, whatever it is. */
void monkey_act(struct monkey *m);
/* do.c: draw, and look whether what is drawn can be. */
void monkey_draw(struct monkey *m);

/* errands.c: something meant, from the first key to the record. */
void monkey_errand(struct monkey *m);

/* What is done to the desk; each is timed. */
void monkey_key(struct monkey *m, struct key k);
void monkey_type(struct monkey *m, const char *text);
void monkey_scan(struct monkey *m, const char *text);

#endif /* MONKEY_H */
