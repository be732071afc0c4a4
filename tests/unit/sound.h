/*
 * sound.h - is a station file sound?  What must hold of every file, whatever
 * was done to it, asked in SQL of its own and never through src/store.
 */
#ifndef SOUND_H
#define SOUND_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * sound_check - NULL, or what does not hold, in words with a row that shows
 * it.  `since_id`: only units and jobs with a greater id are looked at, so
 * that it stays quick on a file of years; 0: all, and every page of the file.
 * The text stands until the next call.
 */
const char *sound_check(sqlite3 *db, int64_t since_id);
/* sound_check_undated - the same of a training file whose clock was set back
 * and forth: without what compares one record's time with another's. */
const char *sound_check_undated(sqlite3 *db, int64_t since_id);

/* sound_count - rows of a table. */
int64_t sound_count(sqlite3 *db, const char *table);

#endif /* SOUND_H */
