/*
 * look_at.h - what is in a station file, by SQL of its own and never through
 * src/store.
 */
#ifndef LOOK_AT_H
#define LOOK_AT_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stdint.h>

#include "day.h"

/* All rows of all tables and the schema. */
struct state {
	uint64_t hash;
	int64_t rows;
};

/* look_open - for looking at; NULL in *out when it cannot be opened. */
bool look_open(sqlite3 **out, const char *path);

/* look_state - false when it cannot be read to its end. */
bool look_state(struct state *out, sqlite3 *db);

/* look_sound - NULL, or what does not hold of it (tests/unit/sound.h; every
 * page and index).  look_trail - what verify finds in the file. */
const char *look_sound(sqlite3 *db);
const char *look_trail(const char *path);

/* look_facts - NULL, or the first thing a step up to `step` said that is not
 * so; *held counts those that are. */
const char *look_facts(
    int64_t *held, sqlite3 *db, const struct day *d, int step);

/* look_number - of one SQL; -1 when it gives none. */
int64_t look_number(sqlite3 *db, const char *sql);

/* look_labels - labels begun in the printer's bytes have a job that says so:
 * NULL, or a text. */
const char *look_labels(sqlite3 *db, const char *bytes, size_t len);

#endif /* LOOK_AT_H */
