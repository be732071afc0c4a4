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

#endif /* STORE_MIGRATION_H */
