/* file.c - whole files in and out. */
#include "base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/str.h"

static enum rc
fail_errno(const char *path, struct err *err)
{
	int e = errno;

	return err_set(err, e == ENOENT ? RC_NOTFOUND : RC_FAILED, e, "%s: %s",
	    path, strerror(e));
}

/* A pipe or a device may never end, and opening one may wait for ever. */
static enum rc
open_plain(int *fd, const char *path, struct err *err)
{
	struct stat st;

	*fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
	if (*fd < 0)
		return fail_errno(path, err);
	if (fstat(*fd, &st) == 0 &&
	    (S_ISREG(st.st_mode) || S_ISDIR(st.st_mode)))
		return RC_OK; /* reading a folder says that it is one */
	close(*fd);
	return err_set(err, RC_INVALID, 0,
	    "%s: not a file; standard input is called -", path);
}

enum rc
file_read(struct buf *out, const char *path, struct err *err)
{
	char chunk[65536];
	ssize_t n;
	int fd = STDIN_FILENO;
	enum rc rc = RC_OK;

	if (!str_eq(path, "-") && (rc = open_plain(&fd, path, err)) != RC_OK)
		return rc;
	for (;;) {
		n = read(fd, chunk, sizeof(chunk));
		if (n < 0 && errno == EINTR)
			continue;
		if (n < 0)
			rc = fail_errno(path, err);
		if (n <= 0)
			break;
		buf_add(out, chunk, (size_t)n);
		if ((rc = buf_check(out, path, err)) != RC_OK)
			break;
	}
	if (!str_eq(path, "-"))
		close(fd);
	return rc;
}

static enum rc
write_all(
    int fd, const char *path, const void *data, size_t len, struct err *err)
{
	const char *p = data;
	ssize_t n;

	while (len > 0) {
		n = write(fd, p, len);
		if (n < 0 && errno == EINTR)
			continue;
		if (n < 0) {
			ignore_rc(fail_errno(path, err)); /* rc fixed below */
			return RC_FAILED;
		}
		p += n;
		len -= (size_t)n;
	}
	return RC_OK;
}

static enum rc
fail_write(const char *path, struct err *err)
{
	int e = errno;

	return err_set(err, RC_FAILED, e, "%s: %s", path, strerror(e));
}

/* A rename is only durable once the folder that holds it is. */
void
file_sync_folder(const char *path)
{
	char dir[PATH_MAX];
	int fd;

	if (!file_beside(dir, sizeof(dir), path, "."))
		return;
	fd = open(dir, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (fd < 0)
		return;
	fsync(fd);
	close(fd);
}

/* A pipe or device is written to; replacing it with a file is never meant. */
static enum rc
write_special(const char *path, const void *data, size_t len, struct err *err)
{
	int fd = open(path, O_WRONLY | O_NOCTTY | O_CLOEXEC);
	enum rc rc;

	if (fd < 0)
		return fail_write(path, err);
	rc = write_all(fd, path, data, len, err);
	if (close(fd) != 0 && rc == RC_OK)
		rc = fail_write(path, err);
	return rc;
}

enum rc
file_new_open(struct file_new *f, const char *path, struct err *err)
{
	f->fd = -1;
	if (!str_copy(f->path, sizeof(f->path), path) ||
	    !str_fmt(
		f->part, sizeof(f->part), "%s.new-%ld", path, (long)getpid()))
		return err_set(err, RC_FAILED, ENAMETOOLONG,
		    "%.60s...: the path is too long", path);
	/* Left by a program that was cut short, or put there: never written
	 * through, should it be a link. */
	unlink(f->part);
	f->fd = open(f->part, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0644);
	return f->fd < 0 ? fail_errno(path, err) : RC_OK;
}

enum rc
file_new_add(struct file_new *f, const void *data, size_t len, struct err *err)
{
	return write_all(f->fd, f->path, data, len, err);
}

/* Why the new name could not be given. */
static enum rc
fail_name(const struct file_new *f, bool replace, struct err *err)
{
	if (!replace && errno == EEXIST)
		return err_set(err, RC_REFUSED, EEXIST,
		    "%s: already there: it was left as it is", f->path);
	return fail_write(f->path, err);
}

enum rc
file_new_done(struct file_new *f, bool replace, struct err *err)
{
	enum rc rc;

	if (fsync(f->fd) != 0)
		return fail_write(f->path, err);
	close(f->fd);
	f->fd = -1;
	if ((replace ? rename(f->part, f->path)
		     : file_rename_new(f->part, f->path)) != 0) {
		rc = fail_name(f, replace, err); /* before unlink's errno */
		unlink(f->part);
		return rc;
	}
	file_sync_folder(f->path);
	return RC_OK;
}

void
file_new_drop(struct file_new *f)
{
	if (f->fd < 0)
		return;
	close(f->fd);
	f->fd = -1;
	unlink(f->part);
}

enum rc
file_write(const char *path, const void *data, size_t len, struct err *err)
{
	struct file_new f;
	struct stat st;
	enum rc rc;

	if (str_eq(path, "-"))
		return write_all(
		    STDOUT_FILENO, "standard output", data, len, err);
	if (stat(path, &st) == 0 && !S_ISREG(st.st_mode) &&
	    !S_ISDIR(st.st_mode))
		return write_special(path, data, len, err);
	rc = file_new_open(&f, path, err);
	if (rc == RC_OK && (rc = file_new_add(&f, data, len, err)) == RC_OK)
		rc = file_new_done(&f, true, err);
	file_new_drop(&f);
	/* One word for all of them here: the old file is untouched. */
	return rc == RC_OK ? RC_OK : RC_FAILED;
}

enum rc
file_make_folder(const char *path, struct err *err)
{
	char dir[PATH_MAX];
	struct stat st;
	char *p;

	if (path[0] == '\0')
		return RC_OK;
	if (!str_copy(dir, sizeof(dir), path))
		return err_set(err, RC_FAILED, ENAMETOOLONG,
		    "%.60s...: the path is too long", path);
	for (p = strchr(dir + 1, '/'); p != NULL; p = strchr(p + 1, '/')) {
		*p = '\0';
		if (mkdir(dir, 0750) != 0 && errno != EEXIST)
			return err_set(err, RC_FAILED, errno, "%s: %s", dir,
			    strerror(errno));
		if (stat(dir, &st) != 0 || !S_ISDIR(st.st_mode))
			return err_set(err, RC_FAILED, ENOTDIR, "%s: %s", dir,
			    strerror(ENOTDIR));
		*p = '/';
	}
	return RC_OK;
}

bool
file_exists(const char *path)
{
	return access(path, F_OK) == 0;
}

bool
file_same(const char *a, const char *b)
{
	struct stat x, y;

	return stat(a, &x) == 0 && stat(b, &y) == 0 && x.st_dev == y.st_dev &&
	    x.st_ino == y.st_ino;
}

bool
file_linked(const char *a, const char *b)
{
	struct stat x, y;

	return !str_eq(a, b) && lstat(a, &x) == 0 && lstat(b, &y) == 0 &&
	    S_ISREG(x.st_mode) && x.st_nlink > 1 && x.st_dev == y.st_dev &&
	    x.st_ino == y.st_ino;
}

enum rc
file_plain(const char *path, struct err *err)
{
	struct stat st;

	if (stat(path, &st) != 0)
		return fail_errno(path, err);
	if (S_ISREG(st.st_mode))
		return RC_OK;
	return err_set(err, RC_INVALID, 0, "%s: not a file", path);
}

bool
file_beside(char *dst, size_t size, const char *base, const char *name)
{
	const char *slash = strrchr(base, '/');

	if (name[0] == '/' || slash == NULL)
		return str_copy(dst, size, name);
	return str_fmt(dst, size, "%.*s/%s", (int)(slash - base), base, name);
}
