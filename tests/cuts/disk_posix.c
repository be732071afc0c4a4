/*
 * disk_posix.c - the program's own calls, seen by the disk: labels, exports,
 * backups.  The linker puts these in the place of the calls (--wrap).
 */
#include "disk_in.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/str.h"

#define FDS 256

int __real_open(const char *path, int flags, ...);
int __real_close(int fd);
ssize_t __real_write(int fd, const void *bytes, size_t n);
int __real_fsync(int fd);
int __real_rename(const char *from, const char *to);
int __real_unlink(const char *path);
int __wrap_open(const char *path, int flags, ...);
int __wrap_close(int fd);
ssize_t __wrap_write(int fd, const void *bytes, size_t n);
int __wrap_fsync(int fd);
int __wrap_rename(const char *from, const char *to);
int __wrap_unlink(const char *path);
int __real_renameat2(
    int d1, const char *from, int d2, const char *to, unsigned flags);
int __wrap_renameat2(
    int d1, const char *from, int d2, const char *to, unsigned flags);

static struct {
	char path[512];
	int file;
	bool watched, folder, append;
} fds[FDS];

static int
fail(int e)
{
	errno = e;
	return -1;
}

int
__wrap_open(const char *path, int flags, ...)
{
	bool there = access(path, F_OK) == 0;
	struct stat st;
	va_list ap;
	int fd, mode = 0;

	if ((flags & O_CREAT) != 0) {
		va_start(ap, flags);
		mode = va_arg(ap, int);
		va_end(ap);
	}
	if (disk_sees(path) && disk_fails(FAULT_OPEN))
		return fail(EMFILE);
	fd = __real_open(path, flags, mode);
	if (fd < 0 || fd >= FDS)
		return fd;
	fds[fd].watched = disk_sees(path) &&
	    str_copy(fds[fd].path, sizeof(fds[fd].path), path);
	if (!fds[fd].watched || fstat(fd, &st) != 0)
		return fd;
	fds[fd].folder = S_ISDIR(st.st_mode);
	fds[fd].append = (flags & O_APPEND) != 0;
	fds[fd].file = 0;
	/* A lock file says nothing. */
	if (S_ISREG(st.st_mode) && (!there || (flags & O_ACCMODE) != O_RDONLY))
		fds[fd].file = disk_opened(path, !there);
	return fd;
}

int
__wrap_close(int fd)
{
	if (fd >= 0 && fd < FDS)
		fds[fd].watched = false;
	return __real_close(fd);
}

ssize_t
__wrap_write(int fd, const void *bytes, size_t n)
{
	enum fault fault;
	struct stat st;
	off_t at;
	ssize_t done;

	if (fd < 0 || fd >= FDS || !fds[fd].watched)
		return __real_write(fd, bytes, n);
	fault = disk_fails_write();
	if (fault == FAULT_WRITE)
		return fail(EIO);
	if (fault == FAULT_FULL)
		return fail(ENOSPC);
	if (fault == FAULT_SHORT && n > 1)
		n /= 2;
	at = lseek(fd, 0, SEEK_CUR);
	if (fds[fd].append && fstat(fd, &st) == 0)
		at = st.st_size;
	done = __real_write(fd, bytes, n);
	if (done > 0)
		disk_wrote(fds[fd].file, at, bytes, (size_t)done);
	return fault == FAULT_LATE ? fail(EIO) : done;
}

int
__wrap_fsync(int fd)
{
	if (fd < 0 || fd >= FDS || !fds[fd].watched)
		return __real_fsync(fd);
	if (disk_fails(FAULT_SYNC))
		return fail(EIO);
	if (fds[fd].folder)
		disk_synced_dir(fds[fd].path, true);
	else
		disk_synced(fds[fd].file);
	return __real_fsync(fd);
}

int
__wrap_rename(const char *from, const char *to)
{
	int rc;

	if (!disk_sees(from))
		return __real_rename(from, to);
	if (disk_fails(FAULT_RENAME))
		return fail(EIO);
	rc = __real_rename(from, to);
	if (rc == 0)
		disk_moved(from, to);
	return rc;
}

int
__wrap_unlink(const char *path)
{
	int rc;

	if (!disk_sees(path))
		return __real_unlink(path);
	if (disk_fails(FAULT_DELETE))
		return fail(EIO);
	rc = __real_unlink(path);
	if (rc == 0)
		disk_gone(path);
	return rc;
}

int
__wrap_renameat2(
    int d1, const char *from, int d2, const char *to, unsigned flags)
{
	int rc;

	if (!disk_sees(from))
		return __real_renameat2(d1, from, d2, to, flags);
	if (disk_fails(FAULT_RENAME))
		return fail(EIO);
	rc = __real_renameat2(d1, from, d2, to, flags);
	if (rc == 0)
		disk_moved(from, to);
	return rc;
}
