/*
 * migration.h - the numbered schema scripts, embedded at build time.
 * Private to src/store.
 */
#ifndef STORE_MIGRATION_H
#define STORE_MIGRATION_H

#include <stddef.h>

struct migration {
	int version; /* 1, 2, ... without gaps; 0 ends the table */
	const char *name;
	const char *sql;
};

extern const struct migration migrations[];

struct sqlite3;
/* schema_make - all of them on an empty database; SQLite's result code. */
int schema_make(struct sqlite3 *db);

#endif /* STORE_MIGRATION_H */
