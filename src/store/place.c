/* place.c - a file that is whole before it gets its name. */
#include "place.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "base/str.h"

void
place_drop(const char *made)
{
	static const char *const tails[] = { "", "-wal", "-shm", "-journal" };
	char path[PLACE_SIZE + 16];
	size_t i;

	for (i = 0; i < sizeof(tails) / sizeof(tails[0]); i++)
		if (str_fmt(path, sizeof(path), "%s%s", made, tails[i]))
			unlink(path);
}

/* Said of the name that was asked for, not of the one it is made under. */
static enum rc
check_folder(const char *path, struct err *err)
{
	char folder[PLACE_SIZE];
	const char *slash = strrchr(path, '/');
	struct stat st;

	if (slash == NULL ||
	    !str_fmt(
		folder, sizeof(folder), "%.*s/", (int)(slash - path), path))
		return RC_OK;
	if (stat(folder, &st) == 0)
		return RC_OK;
	return err_set(err, RC_FAILED, errno, "%s: %s", path, strerror(errno));
}

enum rc
place_beside(char dst[PLACE_SIZE], const char *path, struct err *err)
{
	enum rc rc = check_folder(path, err);

	if (rc != RC_OK)
		return rc;
	if (!str_fmt(dst, PLACE_SIZE, "%s.new-%ld", path, (long)getpid()))
		return err_set(err, RC_FAILED, ENAMETOOLONG,
		    "%.60s...: the path is too long", path);
	place_drop(dst);
	return RC_OK;
}

static enum rc
on_disk(const char *made, struct err *err)
{
	int fd = open(made, O_RDWR | O_CLOEXEC), e = 0;

	if (fd < 0 || fsync(fd) != 0)
		e = errno;
	if (fd >= 0)
		close(fd);
	if (e == 0)
		return RC_OK;
	return err_set(err, RC_FAILED, e, "%s: %s", made, strerror(e));
}

enum rc
place_take(const char *made, const char *path, struct err *err)
{
	enum rc rc = on_disk(made, err);

	if (rc == RC_OK && file_rename_new(made, path) != 0)
		rc = errno == EEXIST
		    ? err_set(err, RC_REFUSED, EEXIST,
			  "%s: already there: it was left as it is", path)
		    : err_set(err, RC_FAILED, errno, "%s: %s", path,
			  strerror(errno));
	if (rc == RC_OK)
		file_sync_folder(path);
	else
		place_drop(made);
	return rc;
}
