/*
 * stmt.h - one SQL statement: bind by name, step, read, close.
 * Private to src/store.
 *
 * Binding errors are programming mistakes and are asserted.  A statement is
 * used as: open, bind, step..., close; close accepts a failed open.
 */
#ifndef STORE_STMT_H
#define STORE_STMT_H

#include <stdbool.h>
#include <stdint.h>

#include "base/err.h"
#include "sqlite.h"
#include "store/store.h"
#include "trail.h"
#include "store/swap.h"

/* Of a file that may never have been one. */
#define NOT_A_STATION                                                          \
	"not a Pinbone station file; if it was one it is damaged, and "        \
	"pinbone restore puts a backup in its place"

/* Written in a statement that means to read a whole table. */
#define SCAN_OK " /*scan-ok*/ "
/* Written in one that sorts what has a bound of its own: the units of a batch,
 * what happened on a day, the cuts of a dish. */
#define SORT_OK " /*sort-ok*/ "

/* Preparing a statement costs more than most of them take to run: those of the
 * program's own texts are kept prepared until the file is closed. */
#define KEPT_SLOTS 512 /* a power of two, well above the number of texts */
struct kept_stmt {
	sqlite3_stmt *s;
	bool busy; /* open: whoever asks for the same text gets its own */
};

struct store {
	sqlite3 *db;
	struct kept_stmt kept[KEPT_SLOTS];
	char *path;
	int schema;
	bool in_txn;
	/* A value was read that no program of ours writes: nothing is read or
	 * recorded any more. */
	bool spoilt;
	bool check_plans;
	struct trail trail;
	int lock;                       /* store/swap.h; -1: none */
	char set_aside[SWAP_PATH_SIZE]; /* by a restore finished just now */
};

struct stmt {
	struct store *st;
	sqlite3_stmt *s;
	struct kept_stmt *kept; /* where it goes back to; NULL: nowhere */
};

enum rc stmt_open(struct stmt *q, struct store *st, const char *sql,
    struct err *err) MUST_CHECK;
void stmt_close(struct stmt *q);
/* stmt_drop_kept - finalise what is kept; nothing may be open. */
void stmt_drop_kept(struct store *st);

void bind_int(struct stmt *q, const char *name, int64_t v);
void bind_text(struct stmt *q, const char *name, const char *v);
void bind_blob(struct stmt *q, const char *name, const void *v, size_t len);
/* bind_day - DAY_NONE becomes NULL. */
void bind_day(struct stmt *q, const char *name, int32_t day);
/* bind_id - 0 becomes NULL. */
void bind_id(struct stmt *q, const char *name, int64_t id);

/* stmt_step - RC_OK a row is there, RC_END no more, or an error. */
enum rc stmt_step(struct stmt *q, struct err *err) MUST_CHECK;

/* stmt_again - from the beginning, what is bound stays. */
void stmt_again(struct stmt *q);

/* stmt_run - step a statement that gives no rows, and close it. */
enum rc stmt_run(struct stmt *q, struct err *err) MUST_CHECK;

/*
 * stmt_rows - read every row into an array of items of `size` bytes, and close
 * the statement.  *items is owned by the caller, NULL with *count 0 on error.
 */
typedef enum rc row_fn(void *item, const struct stmt *q, struct err *err);
enum rc stmt_rows(void **items, size_t *count, size_t size, struct stmt *q,
    row_fn *read, struct err *err) MUST_CHECK;

/* stmt_between - the rows of `sql`, which takes :from and :to, as stmt_rows();
 * span[0] is the first instant, span[1] the one behind the last. */
enum rc stmt_between(void **items, size_t *count, size_t size, struct store *st,
    const char *sql, row_fn *read, const int64_t span[2],
    struct err *err) MUST_CHECK;

/*
 * Columns of the row.  What a column of ours cannot hold (a number beyond
 * COL_INT_MAX, a day outside the calendar) reads as 0, DAY_NONE or a shortened
 * text, and spoils the store: whatever is done next with the file fails with
 * RC_FATAL and DAMAGE_LIB, the row that is being read into a list too.
 */
#define COL_INT_MAX ((int64_t)1 << 46)
int64_t col_int(const struct stmt *q, int i); /* NULL is 0 */
/* col_in - what the schema's own CHECK says of the column; else as above, and
 * `from` is what is read. */
int64_t col_in(const struct stmt *q, int i, int64_t from, int64_t to);
int32_t col_day(const struct stmt *q, int i); /* NULL is DAY_NONE */
/* row_gone - a row that must be there, since another one names it, is not: the
 * store is spoilt.  RC_FATAL. */
enum rc row_gone(struct store *st, struct err *err);
/* col_text - copied.  The field's size is the column's own limit: what does not
 * fit, or is no text, was not written by us and spoils the store. */
void col_text(char *dst, size_t size, const struct stmt *q, int i);
/* col_codes - codes between commas as people read them: "26338-024 +
 * 26338-031"; asserted to fit. */
void col_codes(char *dst, size_t size, const struct stmt *q, int i);
/* col_dup - owned copy. */
char *col_dup(const struct stmt *q, int i);

/* db_fail - turn SQLite's last error into ours; `failed` is its statement. */
enum rc db_fail(struct store *st, const char *failed, struct err *err);

int64_t last_id(const struct store *st);
/* rows_changed - by the last insert or update. */
int rows_changed(const struct store *st);

#endif /* STORE_STMT_H */
