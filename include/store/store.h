/*
 * store/store.h - the station file: open, upgrade, transaction, close.
 *
 * One SQLite file.  What a committed transaction holds survives a power cut at
 * the next instant (write-ahead log, synchronous FULL).  Single-threaded.
 */
#ifndef STORE_STORE_H
#define STORE_STORE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"

struct store; /* opaque */

/* "Pinb" in ASCII; tells our file from any other SQLite file. */
#define STORE_APPLICATION_ID 0x50696e62

/*
 * store_create - make a new station file at `path`; its folder must exist.
 * RC_OK, RC_REFUSED when something is already there, RC_FAILED.  On failure
 * nothing is left behind.
 */
enum rc store_create(const char *path, struct err *err) MUST_CHECK;

/*
 * store_new - the same in two steps: open under another name beside `path`, to
 * be filled; store_name() gives it its name once all of it is on the disk,
 * store_drop() removes it.  A power cut leaves no file of that name, or all of
 * it.  store_name() ends with the file closed whatever it returns.
 * Returns as store_create().
 */
enum rc store_new(
    struct store **out, const char *path, struct err *err) MUST_CHECK;
enum rc store_name(
    struct store *st, const char *path, struct err *err) MUST_CHECK;
void store_drop(struct store *st);

/*
 * store_open - open a station file, upgrading an older schema after a backup
 * beside it.
 * RC_OK        *out is owned by the caller
 * RC_NOTFOUND  no such file
 * RC_INVALID   not a station file (store/damage.h)
 * RC_FATAL     damaged (store/damage.h)
 * RC_RETRY     a backup is just being put in its place
 * RC_REFUSED   written by a newer program
 * RC_FAILED    cannot be opened or upgraded; unchanged
 */
enum rc store_open(
    struct store **out, const char *path, struct err *err) MUST_CHECK;

/*
 * store_open_copy - a file that is not the station yet: upgraded without a copy
 * beside it, and not locked.  store_close_copy - the same of one piece, without
 * companions, on the medium; frees `st` whatever is returned.
 */
enum rc store_open_copy(
    struct store **out, const char *path, struct err *err) MUST_CHECK;
enum rc store_close_copy(struct store *st, struct err *err) MUST_CHECK;

/* store_set_aside - opening it finished a restore that a cut had stopped: where
 * the file before is; NULL: no.  Borrowed. */
const char *store_set_aside(const struct store *st);

void store_close(struct store *st);

/* store_path - as given to store_open(); borrowed. */
const char *store_path(const struct store *st);

/*
 * store_begin, store_commit, store_rollback - one transaction for one thing a
 * cook does.  Not nested.  begin: RC_OK or RC_RETRY when another program is
 * writing.  commit: RC_OK, or an error after which everything since begin is
 * undone; RC_FATAL when the disk fails so that this cannot be known, and the
 * text says so.  rollback accepts that no transaction is open.
 */
enum rc store_begin(struct store *st, struct err *err) MUST_CHECK;
enum rc store_commit(struct store *st, struct err *err) MUST_CHECK;
void store_rollback(struct store *st);

/* Facts about the file: kitchen, training, created. */
enum rc store_fact_set(struct store *st, const char *key, const char *value,
    struct err *err) MUST_CHECK;
/* RC_OK, RC_NOTFOUND. */
enum rc store_fact_get(char *dst, size_t size, struct store *st,
    const char *key, struct err *err) MUST_CHECK;

/* store_newest_schema - the newest this program knows. */
int store_newest_schema(void);

/* store_schema - number of the schema in the file. */
int store_schema(const struct store *st);

/*
 * store_check_plans - from now on refuse every statement whose query plan
 * scans a whole table without saying so with a comment scan-ok.  For tests.
 */
void store_check_plans(struct store *st, bool on);

#endif /* STORE_STORE_H */
