/*
 * trail_row.h - which rows the audit trail proves, and a row as the bytes its
 * digest is made of.  docs/trail.md has the format.  Private to src/store.
 */
#ifndef STORE_TRAIL_ROW_H
#define STORE_TRAIL_ROW_H

#include <stdbool.h>
#include <stddef.h>

#include "base/buf.h"
#include "base/err.h"
#include "sqlite.h"

/*
 * Of one row: 128 bits.  Somebody who wants another row of the same digest must
 * try about 2^128 of them; for two rows of their own making 2^64, and the
 * station would have to record one of those.  The chain over the rows has 256.
 */
#define ROW_DIGEST_SIZE 16
#define ROW_HEX_SIZE 33 /* as hexadecimal digits and a NUL */

#define TRAIL_COLUMNS_MAX 64

struct trail_column {
	char *name;  /* owned */
	int index;   /* in the table */
	bool secret; /* digested, never written out */
};

struct trail_table {
	char *name;    /* owned */
	bool covered;  /* else its rows are no record */
	bool numbered; /* its key is one whole number */
	struct trail_column
	    *columns; /* covered, in byte order of their names */
	size_t column_count;
	int all;                    /* columns there are */
	int key[TRAIL_COLUMNS_MAX]; /* columns of the primary key, in order */
	int key_count;
};

struct trail_tables {
	struct trail_table *items; /* by name; owned */
	size_t count;
};

/* trail_tables_load - the tables of an open file.  RC_OK, RC_FATAL. */
enum rc trail_tables_load(
    struct trail_tables *out, sqlite3 *db, struct err *err) MUST_CHECK;
void trail_tables_fini(struct trail_tables *t);
/* trail_table_find - NULL when there is none of that name. */
const struct trail_table *trail_table_find(
    const struct trail_tables *t, const char *name);

/* row_select - append a statement that gives every row by its key, all columns
 * in the order of the table; row_values - those of the row it stands at. */
void row_select(struct buf *out, const struct trail_table *t);
void row_values(
    sqlite3_value **out, const struct trail_table *t, sqlite3_stmt *s);

/* net_add - "LENGTH:BYTES,", a netstring. */
void net_add(struct buf *b, const char *bytes, size_t len);
void net_text(struct buf *b, const char *text);
void net_int(struct buf *b, int64_t v);

/* row_digest - of a row whose column i is values[i].  `scratch` is used. */
void row_digest(unsigned char out[ROW_DIGEST_SIZE], const struct trail_table *t,
    sqlite3_value *const *values, struct buf *scratch);
char *row_hex(char out[ROW_HEX_SIZE], const unsigned char d[ROW_DIGEST_SIZE]);
/* row_unhex - from 32 digits, whatever comes behind; false: they are not. */
bool row_unhex(unsigned char d[ROW_DIGEST_SIZE], const char *hex);

/* row_key - append the key: "12", or "12/trim"; other bytes than letters,
 * digits, '.', '_' and '-' as %XX. */
void row_key(
    struct buf *out, const struct trail_table *t, sqlite3_value *const *values);

/* row_changes - append {"left":[2,1]}, the covered columns that differ. */
void row_changes(struct buf *out, const struct trail_table *t,
    sqlite3_value *const *before, sqlite3_value *const *after);

#endif /* STORE_TRAIL_ROW_H */
