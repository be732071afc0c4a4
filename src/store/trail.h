/*
 * trail.h - what a transaction changed, and the rows of the audit trail that
 * tell of it.  Private to src/store.  docs/trail.md explains the whole.
 *
 * SQLite says of every row that is put in, changed or taken out; a line is kept
 * of it.  audit_add() keeps a row with the lines so far; store_commit() writes
 * the rows, each with the digest that ends the chain until then.
 */
#ifndef STORE_TRAIL_H
#define STORE_TRAIL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buf.h"
#include "base/digest.h"
#include "base/err.h"
#include "sqlite.h"
#include "store/moment.h"
#include "trail_row.h"

struct store;

/* A row of the audit trail, as far as its digest goes. */
struct trail_entry {
	int64_t id;
	struct moment at;
	const char *action, *subject, *detail, *changes;
};

/* One that is not written yet. */
struct trail_pending {
	int64_t id;
	struct moment at;
	char *action, *subject, *detail; /* owned */
	struct buf changes;
};

struct trail {
	bool on;      /* the file is watched; not while it is upgraded */
	bool sealing; /* the rows are being written: nobody else may */
	bool unknown; /* a table changed that was not there at the opening */
	struct trail_tables tables;
	struct buf lines; /* changes since the last row */
	struct trail_pending *rows;
	size_t count, cap;
	int64_t last_id; /* of a row that is written, or pending */
	struct buf scratch;
};

/* trail_watch - from now on every change of `st` is seen.  RC_OK, RC_FATAL. */
enum rc trail_watch(struct store *st, struct err *err) MUST_CHECK;
/* trail_unwatch - when the file is closed. */
void trail_unwatch(struct store *st);
/* trail_forget - the transaction is over. */
void trail_forget(struct store *st);

/* trail_mark, trail_back - a statement that fails undoes its own changes, so
 * their lines go too. */
size_t trail_mark(const struct store *st);
void trail_back(struct store *st, size_t mark);

/* trail_seal - write the rows of the open transaction.  RC_OK; RC_FATAL when
 * something changed and no row tells of it. */
enum rc trail_seal(struct store *st, struct err *err) MUST_CHECK;

/* trail_digest - of a row behind the one whose digest is `before`. */
void trail_digest(char out[DIGEST_HEX_MAX], const char *before,
    const struct trail_entry *e, struct buf *scratch);
/* trail_genesis - what stands for the digest before the first row. */
void trail_genesis(char out[DIGEST_HEX_MAX], const char *file);

/* trail_pending_last - id of the last row of the open transaction; 0: none. */
int64_t trail_pending_last(const struct store *st);

/* trail_begin - the step of schema 7: what is in the file already is taken into
 * the trail as it is.  In the transaction of its script. */
enum rc trail_begin(struct store *st, struct err *err) MUST_CHECK;

#endif /* STORE_TRAIL_H */
