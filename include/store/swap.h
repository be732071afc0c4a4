/*
 * store/swap.h - a station file is put in place of another, which is set aside
 * whole; and who has a file open meanwhile.
 *
 * The order of what is done, so that a power cut at any step leaves the old
 * file, the new one, or a start that finishes: docs/decisions/0013-restore.md.
 *
 *   1  NAME.coming       the new file, whole, on the medium
 *   2  NAME.swap         what is meant, on the medium: from here it is done
 *   3  NAME, -wal, -shm  get the name they are set aside under
 *   4  NAME.coming       becomes NAME
 *   5  NAME.swap         is removed
 *
 * A start that finds NAME.swap does what is left of 3 to 5 before it opens
 * anything; one that finds only NAME.coming has nothing to do, since nothing
 * was decided.
 */
#ifndef STORE_SWAP_H
#define STORE_SWAP_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"
#include "base/file.h"

/* Room for a path with what is put behind it. */
#define SWAP_PATH_SIZE (FILE_PATH_SIZE + 64)

/*
 * open_lock - who has a station file open.  Everybody who opens it holds its
 * lock (NAME-open) with others; who swaps it holds it alone.
 * RC_OK: *fd, or -1 in a folder that cannot be written, where there is nothing
 * to hold.  RC_RETRY: another program has it open (alone), or swaps it (not
 * alone).  RC_FAILED.
 */
enum rc open_lock(
    int *fd, const char *path, bool alone, struct err *err) MUST_CHECK;
void open_unlock(int *fd);

/* swap_coming - NAME.coming, to be written by the caller. */
enum rc swap_coming(
    char out[SWAP_PATH_SIZE], const char *path, struct err *err) MUST_CHECK;

/* swap_aside - a name nothing has yet: NAME.aside-YYYY-MM-DD-N.  `date` as it
 * is to stand in it. */
enum rc swap_aside(char out[SWAP_PATH_SIZE], const char *path, const char *date,
    struct err *err) MUST_CHECK;

/* Told before each step that changes a name, for a test to cut it there.  False
 * stops as a cut would. */
enum swap_step {
	SWAP_DECIDE,
	SWAP_OLD_FILE,
	SWAP_OLD_LOG,
	SWAP_OLD_INDEX,
	SWAP_NEW_FILE,
	SWAP_FORGET,
	SWAP_DONE
};
typedef bool swap_fn(void *arg, enum swap_step step);

/*
 * swap_files - steps 2 to 5.  With `coming` false nothing takes the place: the
 * file is only set aside.  The caller holds open_lock() alone; `aside` is from
 * swap_aside().
 * RC_OK; RC_FAILED: before step 2 nothing was done, after it the next start
 * finishes.
 */
enum rc swap_files(const char *path, const char *aside, bool coming,
    swap_fn *tell, void *arg, struct err *err) MUST_CHECK;

/* swap_pending - was one decided on and cut? */
bool swap_pending(const char *path);

/*
 * swap_finish - what a cut left undone.  Takes the lock for itself.
 * RC_OK, with *done and where the old file is when there was something to do;
 * RC_RETRY another program is at it; RC_FAILED.
 */
enum rc swap_finish(bool *done, char aside[SWAP_PATH_SIZE], const char *path,
    struct err *err) MUST_CHECK;

#endif /* STORE_SWAP_H */
