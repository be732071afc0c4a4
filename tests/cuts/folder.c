/* folder.c - folders of test files. */
#include "folder.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"

_Noreturn void
give_up(const char *fmt, ...)
{
	va_list ap;

	va_start(ap, fmt);
	fprintf(stderr, "cuts: ");
	vfprintf(stderr, fmt, ap);
	fprintf(stderr, "\n");
	va_end(ap);
	exit(2);
}

void
folder_new(char path[256], const char *what)
{
	const char *base = getenv("CUTS_FOLDER");

	if (base == NULL)
		base = access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp";
	str_fmt(path, 256, "%s/pinbone-%s-XXXXXX", base, what);
	if (mkdtemp(path) == NULL)
		give_up("%s: %s", path, strerror(errno));
}

void
folder_make(const char *path)
{
	if (mkdir(path, 0755) != 0 && errno != EEXIST)
		give_up("%s: %s", path, strerror(errno));
}

static void
each(const char *path, const char *below, bool with_folders,
    void (*fn)(void *arg, const char *whole, const char *name), void *arg)
{
	char whole[700], name[400];
	struct dirent *e;
	struct stat st;
	DIR *d = opendir(path);

	if (d == NULL)
		return;
	while ((e = readdir(d)) != NULL) {
		if (str_eq(e->d_name, ".") || str_eq(e->d_name, ".."))
			continue;
		str_fmt(whole, sizeof(whole), "%s/%s", path, e->d_name);
		str_fmt(name, sizeof(name), "%s%s%s", below,
		    below[0] == '\0' ? "" : "/", e->d_name);
		if (lstat(whole, &st) != 0)
			continue;
		if (!S_ISDIR(st.st_mode)) {
			fn(arg, whole, name);
			continue;
		}
		each(whole, name, with_folders, fn, arg);
		if (with_folders)
			fn(arg, whole, name);
	}
	closedir(d);
}

void
folder_each(const char *path,
    void (*fn)(void *arg, const char *whole, const char *name), void *arg)
{
	each(path, "", false, fn, arg);
}

static void
drop(void *arg, const char *whole, const char *name)
{
	(void)arg;
	(void)name;
	if (unlink(whole) != 0 && rmdir(whole) != 0)
		give_up("%s: %s", whole, strerror(errno));
}

void
folder_empty(const char *path)
{
	each(path, "", false, drop, NULL);
}

void
folder_drop(const char *path)
{
	each(path, "", true, drop, NULL);
	if (rmdir(path) != 0)
		give_up("%s: %s", path, strerror(errno));
}

void
folder_put(const char *path, const void *bytes, size_t size)
{
	int fd = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0644);

	if (fd < 0 || (size > 0 && write(fd, bytes, size) != (ssize_t)size) ||
	    close(fd) != 0)
		give_up("%s: %s", path, strerror(errno));
}

static void
copy_one(void *arg, const char *whole, const char *name)
{
	const char *to = arg;
	char path[700];
	struct buf b;
	size_t len = strlen(name);

	if (len > 4 && str_eq(name + len - 4, "-shm"))
		return;
	buf_init(&b, FILE_READ_MAX);
	if (file_read(&b, whole, NULL) != RC_OK)
		give_up("%s: cannot be read", whole);
	str_fmt(path, sizeof(path), "%s/%s", to, name);
	folder_put(path, b.data, b.len);
	buf_fini(&b);
}

void
folder_copy(const char *from, const char *to)
{
	char place[512];

	folder_empty(to);
	str_copy(place, sizeof(place), to);
	each(from, "", false, copy_one, place);
}
