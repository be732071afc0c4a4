/*
 * story.h - a day that was recorded: every change of its disk, and which states
 * of the station file there were.
 */
#ifndef STORY_H
#define STORY_H

#include "day.h"
#include "disk.h"
#include "image.h"
#include "look_at.h"

/* A state of the file: from the change that finishes its transaction on. */
struct known {
	size_t from;    /* changes done when it is wholly written */
	size_t durable; /* and synced; SIZE_MAX: never alone */
	bool no_file;
	struct state is;
	int step; /* in which it came to be */
};

/* A plain file as a step left it: a list, an export, a backup. */
struct plain {
	int step;
	char name[120];
	uint64_t hash;
};

struct story {
	struct day day;
	struct journal j;
	size_t base;           /* changes before the first cut */
	size_t *began, *acked; /* change by step; acked SIZE_MAX: not */
	struct known *states;
	size_t state_count, state_cap;
	struct plain *plains;
	size_t plain_count, plain_cap;
	int64_t facts; /* compared with the states */
	int steps;
};

/* story_day - play and record the day.  False when the states are not what the
 * steps said. */
bool story_day(struct story *s);
/* story_begin, story_end - record something else: what is there is durable. */
void story_begin(struct story *s);
bool story_end(struct story *s);
void story_ack(struct story *s, int step);
void story_fini(struct story *s);

/* story_bounds - the states a cut after `done` changes may show: at least the
 * last that was acknowledged or synced, at most the last that was written. */
void story_bounds(size_t *lo, size_t *hi, const struct story *s, size_t done);
/* story_step - the last acknowledged step then; -1 none. */
int story_step(const struct story *s, size_t done);

/* story_plain_wrong - NULL, or which plain file is not as it should be. */
const char *story_plain_wrong(
    const struct story *s, const struct left *l, size_t done);

/* story_plain_name - is it a file that must be whole?  Not the printer's
 * bytes, nor what is on its way to be one. */
bool story_plain_name(const char *name);

#endif /* STORY_H */
