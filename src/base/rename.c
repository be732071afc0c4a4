/* rename.c - a new name for a file, never over another file. */

/* renameat2() is Linux's own; the only file that asks for it. */
#define _GNU_SOURCE
#include "base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <unistd.h>

int
file_rename_new(const char *from, const char *to)
{
	if (renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE) == 0)
		return 0;
	/* A file system that cannot promise it: a link is as exclusive. */
	if ((errno == EINVAL || errno == ENOSYS) && link(from, to) == 0)
		return unlink(from);
	/* Cut before the old name went. */
	if (errno == EEXIST && file_linked(from, to))
		return unlink(from);
	return -1;
}
