/*
 * base/file.h - whole files in and out.
 */
#ifndef BASE_FILE_H
#define BASE_FILE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/buf.h"
#include "base/err.h"

/* Nothing the station reads whole is larger. */
#define FILE_READ_MAX ((size_t)16 * 1024 * 1024)

#define FILE_PATH_SIZE 1024

/*
 * file_read - the whole of a file, or of standard input for "-".
 * RC_OK        the bytes are in `out`, which was initialised by the caller
 * RC_NOTFOUND  no such file
 * RC_INVALID   larger than out->max
 * RC_FAILED    anything else
 */
enum rc file_read(
    struct buf *out, const char *path, struct err *err) MUST_CHECK;

/*
 * file_write - replace a file so that after a power cut it holds either the
 * old or the new bytes: new file beside it, fsync, rename, fsync of the
 * folder.  "-" writes to standard output; a pipe or device is written to.
 * RC_OK or RC_FAILED, the old file untouched.
 */
enum rc file_write(
    const char *path, const void *data, size_t len, struct err *err) MUST_CHECK;

/*
 * A file written in parts, durable and whole or not at all: file_new_open()
 * beside its place, file_new_add() any number of times, then file_new_done()
 * or file_new_drop().  done with `replace` false leaves a file that is there
 * alone.
 * RC_OK; RC_REFUSED: one is there; RC_NOTFOUND: no such folder; RC_FAILED.
 * After an error nothing is left but to call file_new_drop().
 */
struct file_new {
	int fd; /* -1: none */
	char path[FILE_PATH_SIZE], part[FILE_PATH_SIZE + 16];
};
enum rc file_new_open(
    struct file_new *f, const char *path, struct err *err) MUST_CHECK;
enum rc file_new_add(struct file_new *f, const void *data, size_t len,
    struct err *err) MUST_CHECK;
enum rc file_new_done(
    struct file_new *f, bool replace, struct err *err) MUST_CHECK;
void file_new_drop(struct file_new *f);

/*
 * file_rename_new - rename, but never over a file that is there: no other
 * program can put one there in between.  0, or -1 with errno (EEXIST).
 */
int file_rename_new(const char *from, const char *to);

/* The mode of everything that holds the record: for its owner alone, whatever
 * the umask. */
#define FILE_OWN_MODE 0600

/* file_sync_folder - make a rename in the folder of `path` durable. */
void file_sync_folder(const char *path);

/* file_make_folder - make every missing folder of the path up to its last
 * slash, closed to the world.  RC_OK or RC_FAILED. */
enum rc file_make_folder(const char *path, struct err *err) MUST_CHECK;

bool file_exists(const char *path);
/* file_same - do both names lead to one file?  file_linked - are both names of
 * one file, neither of them a symbolic link? */
bool file_same(const char *a, const char *b);
bool file_linked(const char *a, const char *b);
/* file_plain - is it a file?  Opening a pipe may wait for ever.  RC_OK,
 * RC_NOTFOUND, RC_INVALID something else. */
enum rc file_plain(const char *path, struct err *err) MUST_CHECK;

/*
 * file_beside - `name` as it is when absolute, else taken from the folder of
 * `base`.  False when it does not fit `size`.
 */
bool file_beside(char *dst, size_t size, const char *base, const char *name);

#endif /* BASE_FILE_H */
