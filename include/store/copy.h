/*
 * store/copy.h - a whole copy of a station file, while it is in use.
 *
 * Takes the file as it is at one instant, page by page, on a connection of its
 * own: the station goes on recording meanwhile and what it records is not in
 * the copy.  Nothing here knows what copies are called or how many are kept:
 * ops/backup.h does.
 */
#ifndef STORE_COPY_H
#define STORE_COPY_H

#include <stdbool.h>
#include <stdint.h>

#include "base/err.h"

/* What a station file says of itself, read without changing it. */
struct file_head {
	int schema;
	char kitchen[64], created[48], training[8];
	int64_t last_row; /* of the audit trail; 0: none */
	int64_t last_utc; /* of that row */
};

/*
 * file_head_read - open read-only, look, close.  Also of a copy on a medium
 * that cannot be written.
 * RC_OK; RC_NOTFOUND no such file; RC_INVALID not a station file, or damaged
 * at its head; RC_FAILED it cannot be read.
 */
enum rc file_head_read(
    struct file_head *out, const char *path, struct err *err) MUST_CHECK;

/* file_head_same - are both of one and the same station? */
bool file_head_same(const struct file_head *a, const struct file_head *b);

enum copy_phase {
	COPY_WRITING,
	COPY_READING, /* back from the medium, to compare */
	COPY_CHECKING /* that the file is whole inside */
};

/* Told of `done` of `total` bytes of a phase; total 0: not known.  False
 * stops. */
typedef bool copy_fn(
    void *arg, enum copy_phase phase, int64_t done, int64_t total);

/*
 * store_copy - write the file at `from` as it is now to `to`, which is there
 * already and empty.  Afterwards it is on the medium (fsync), was read back
 * and compared, is whole (SQLite's quick_check) and ends with the same row of
 * the audit trail; *out is its head and *bytes its size.  One file without
 * companions: its journal is put back to the plain kind.
 * RC_OK; RC_REFUSED: `tell` stopped it; RC_NOTFOUND, RC_INVALID: as
 * file_head_read() of `from`; RC_FAILED: the medium is full, was taken out, or
 * gave back other bytes.  On failure `to` is left for the caller to remove.
 */
enum rc store_copy(struct file_head *out, int64_t *bytes, const char *from,
    const char *to, copy_fn *tell, void *arg, struct err *err) MUST_CHECK;

#endif /* STORE_COPY_H */
