/*
 * doubt.h - what a disk may do to a transaction, and what is done about it.
 * docs/decisions/0015-power-cuts.md.  Private to src/store.
 */
#ifndef STORE_DOUBT_H
#define STORE_DOUBT_H

#include "base/err.h"
#include "store/store.h"

/*
 * careful_name - the file's path as SQLite is to open it (SQLITE_OPEN_URI): the
 * disk may spoil a whole sector when the power fails while it is written, so
 * nothing that was committed shares a sector of the log with what is written
 * later.  Owned by the caller.
 */
char *careful_name(const char *path);

/*
 * commit_failed - a COMMIT that ended with `rc` and was rolled back.  All of it
 * may be in the log nevertheless, and come back when the file is opened next:
 * it is overwritten there.
 * Returns rc; RC_FATAL when that fails too, so that nobody can know.
 */
enum rc commit_failed(struct store *st, enum rc rc, struct err *err) MUST_CHECK;

#endif /* STORE_DOUBT_H */
