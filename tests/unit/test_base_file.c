/*
 * test_base_file.c - whole files, and that a failed write leaves the old one.
 *
 * A folder without write permission proves nothing to root, so failures come
 * from a limit on file size (as a full disk would), from /dev/full and from
 * paths that cannot be written whoever asks.  Not tested here: that the bytes
 * survive a power cut, which fsync promises and only a cut could show.
 */
#include "unit.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "base/str.h"

static char folder[PATH_MAX - 64];
static char path[PATH_MAX];

static void
make_folder(void)
{
	const char *tmp = getenv("TMPDIR");

	ck_assert(str_fmt(folder, sizeof(folder), "%s/unit-XXXXXX",
	    tmp == NULL ? "/tmp" : tmp));
	ck_assert_ptr_nonnull(mkdtemp(folder));
	ck_assert(str_fmt(path, sizeof(path), "%s/a.txt", folder));
}

static int
entries(const char *dir)
{
	DIR *d = opendir(dir);
	struct dirent *e;
	int n = 0;

	ck_assert_ptr_nonnull(d);
	while ((e = readdir(d)) != NULL)
		n += !str_eq(e->d_name, ".") && !str_eq(e->d_name, "..");
	closedir(d);
	return n;
}

static void
remove_folder(void)
{
	char name[PATH_MAX];
	DIR *d = opendir(folder);
	struct dirent *e;

	while (d != NULL && (e = readdir(d)) != NULL) {
		ck_assert(
		    str_fmt(name, sizeof(name), "%s/%.60s", folder, e->d_name));
		if (unlink(name) != 0)
			rmdir(name);
	}
	if (d != NULL)
		closedir(d);
	rmdir(folder);
}

static void
expect_contents(const char *want, size_t len)
{
	struct err err = { .rc = RC_OK };
	struct buf b;

	buf_init(&b, FILE_READ_MAX);
	ck_assert_msg(file_read(&b, path, &err) == RC_OK, "%s", err.text);
	ck_assert_uint_eq(b.len, len);
	ck_assert_int_eq(memcmp(buf_text(&b), want, len), 0);
	buf_fini(&b);
}

START_TEST(write_and_read)
{
	struct err err = { .rc = RC_OK };

	ck_assert(!file_exists(path));
	ck_assert_int_eq(file_write(path, "old", 3, &err), RC_OK);
	ck_assert(file_exists(path));
	expect_contents("old", 3);
	ck_assert_int_eq(file_write(path, "n\0w\n", 4, &err), RC_OK);
	expect_contents("n\0w\n", 4);
	ck_assert_int_eq(file_write(path, "", 0, &err), RC_OK);
	expect_contents("", 0);
	ck_assert_int_eq(entries(folder), 1);
}
END_TEST

START_TEST(large)
{
	size_t len = 300 * 1000; /* more than one read */
	char *data = malloc(len);
	size_t i;

	ck_assert_ptr_nonnull(data);
	for (i = 0; i < len; i++)
		data[i] = (char)(i * 7 % 251);
	ck_assert_int_eq(file_write(path, data, len, NULL), RC_OK);
	expect_contents(data, len);
	free(data);
}
END_TEST

/* As when the disk is full: the kernel takes some of it, then no more. */
START_TEST(no_room)
{
	struct rlimit limit, few;
	struct err err = { .rc = RC_OK };
	char *data = calloc(1, 100000);
	enum rc rc;

	ck_assert_ptr_nonnull(data);
	ck_assert_int_eq(file_write(path, "old", 3, NULL), RC_OK);
	signal(SIGXFSZ, SIG_IGN);
	ck_assert_int_eq(getrlimit(RLIMIT_FSIZE, &limit), 0);
	few = limit;
	few.rlim_cur = 4096;
	ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &few), 0);
	rc = file_write(path, data, 100000, &err);
	ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
	signal(SIGXFSZ, SIG_DFL);
	ck_assert_int_eq(rc, RC_FAILED);
	ck_assert_int_eq(err.lib, EFBIG);
	ck_assert_int_eq(strncmp(err.text, path, strlen(path)), 0);
	expect_contents("old", 3);
	ck_assert_int_eq(entries(folder), 1); /* no half file stays behind */
	free(data);
}
END_TEST

/* Standard output on a full device, as in `pinbone export - > /dev/full`. */
START_TEST(full_device)
{
	struct err err = { .rc = RC_OK };
	int kept, full;
	enum rc rc;

	full = open("/dev/full", O_WRONLY);
	ck_assert_int_ge(full, 0);
	fflush(stdout);
	kept = dup(STDOUT_FILENO);
	ck_assert_int_ge(kept, 0);
	ck_assert_int_ge(dup2(full, STDOUT_FILENO), 0);
	rc = file_write("-", "x", 1, &err);
	ck_assert_int_ge(dup2(kept, STDOUT_FILENO), 0);
	close(kept);
	close(full);
	ck_assert_int_eq(rc, RC_FAILED);
	ck_assert_int_eq(err.lib, ENOSPC);
	ck_assert_int_eq(strncmp(err.text, "standard output: ", 17), 0);
}
END_TEST

START_TEST(standard_streams)
{
	struct buf b;
	int pipes[2], kept;
	enum rc rc;

	/* file_write to "-" into a pipe, file_read of "-" out of it. */
	ck_assert_int_eq(pipe(pipes), 0);
	fflush(stdout);
	kept = dup(STDOUT_FILENO);
	ck_assert_int_ge(dup2(pipes[1], STDOUT_FILENO), 0);
	rc = file_write("-", "through", 7, NULL);
	ck_assert_int_ge(dup2(kept, STDOUT_FILENO), 0);
	close(kept);
	close(pipes[1]);
	ck_assert_int_eq(rc, RC_OK);
	kept = dup(STDIN_FILENO);
	ck_assert_int_ge(dup2(pipes[0], STDIN_FILENO), 0);
	close(pipes[0]);
	buf_init(&b, 100);
	rc = file_read(&b, "-", NULL);
	if (kept >= 0) {
		ck_assert_int_ge(dup2(kept, STDIN_FILENO), 0);
		close(kept);
	}
	ck_assert_int_eq(rc, RC_OK);
	ck_assert_str_eq(buf_text(&b), "through");
	buf_fini(&b);
}
END_TEST

/* The half-written file has a name that can be guessed: a link put there is not
 * followed, a leftover does not stand in the way. */
START_TEST(link_in_the_way)
{
	char part[PATH_MAX], other[PATH_MAX];
	struct buf b;

	str_fmt(other, sizeof(other), "%s/other", folder);
	str_fmt(part, sizeof(part), "%s.new-%ld", path, (long)getpid());
	ck_assert_int_eq(file_write(other, "kept", 4, NULL), RC_OK);
	ck_assert_int_eq(symlink(other, part), 0);
	ck_assert_int_eq(file_write(path, "new", 3, NULL), RC_OK);
	buf_init(&b, 100);
	ck_assert_int_eq(file_read(&b, other, NULL), RC_OK);
	ck_assert_str_eq(buf_text(&b), "kept");
	buf_clear(&b);
	ck_assert_int_eq(file_read(&b, path, NULL), RC_OK);
	ck_assert_str_eq(buf_text(&b), "new");
	buf_fini(&b);
	ck_assert_int_eq(entries(folder), 2);
}
END_TEST

START_TEST(write_over_folder)
{
	struct err err = { .rc = RC_OK };
	struct stat st;

	ck_assert_int_eq(mkdir(path, 0700), 0);
	ck_assert_int_eq(file_write(path, "x", 1, &err), RC_FAILED);
	ck_assert_int_eq(stat(path, &st), 0);
	ck_assert(S_ISDIR(st.st_mode));
	ck_assert_int_eq(entries(folder), 1);
}
END_TEST

START_TEST(write_nowhere)
{
	static char longest[PATH_MAX + 10];
	struct err err = { .rc = RC_OK };
	char nowhere[PATH_MAX];

	ck_assert(str_fmt(nowhere, sizeof(nowhere), "%s/no/a", folder));
	ck_assert_int_eq(file_write(nowhere, "x", 1, &err), RC_FAILED);
	ck_assert_int_eq(err.lib, ENOENT);
	err_clear(&err);
	memset(longest, 'x', sizeof(longest) - 1);
	ck_assert_int_eq(file_write(longest, "x", 1, &err), RC_FAILED);
	ck_assert_int_eq(err.lib, ENAMETOOLONG);
	ck_assert_int_eq(entries(folder), 0);
}
END_TEST

START_TEST(read_failures)
{
	struct err err = { .rc = RC_OK };
	struct buf b;

	buf_init(&b, 4);
	ck_assert_int_eq(file_read(&b, path, &err), RC_NOTFOUND);
	ck_assert_int_eq(err.lib, ENOENT);
	ck_assert_int_eq(strncmp(err.text, path, strlen(path)), 0);
	err_clear(&err);
	ck_assert_int_eq(file_read(&b, folder, &err), RC_FAILED);
	ck_assert_int_eq(err.lib, EISDIR);
	err_clear(&err);
	ck_assert_int_eq(file_write(path, "1234", 4, NULL), RC_OK);
	ck_assert_int_eq(file_read(&b, path, &err), RC_OK);
	ck_assert_str_eq(buf_text(&b), "1234");
	buf_clear(&b);
	ck_assert_int_eq(file_write(path, "12345", 5, NULL), RC_OK);
	ck_assert_int_eq(file_read(&b, path, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "larger than 4 bytes"));
	buf_fini(&b);
}
END_TEST

START_TEST(folders)
{
	struct err err = { .rc = RC_OK };
	char deep[PATH_MAX];
	struct stat st;

	ck_assert(str_fmt(deep, sizeof(deep), "%s/b/c/d.txt", folder));
	ck_assert_int_eq(file_make_folder(deep, &err), RC_OK);
	ck_assert_int_eq(file_make_folder(deep, &err), RC_OK);
	ck_assert_int_eq(stat(deep, &st), -1); /* only up to the last slash */
	ck_assert_int_eq(file_write(deep, "x", 1, &err), RC_OK);
	unlink(deep);
	ck_assert(str_fmt(deep, sizeof(deep), "%s/b/c", folder));
	ck_assert_int_eq(rmdir(deep), 0);
	/* A file stands where a folder should be. */
	ck_assert_int_eq(file_write(path, "x", 1, &err), RC_OK);
	ck_assert(str_fmt(deep, sizeof(deep), "%s/e.txt", path));
	ck_assert_int_eq(file_make_folder(deep, &err), RC_FAILED);
	ck_assert_int_eq(err.lib, ENOTDIR);
	ck_assert_int_eq(file_make_folder("plain.txt", NULL), RC_OK);
	ck_assert_int_eq(file_make_folder("", NULL), RC_OK);
}
END_TEST

static const struct beside_row {
	const char *base, *name, *want;
} beside_rows[] = {
	{ "/etc/pinbone/station.ini", "menu.csv", "/etc/pinbone/menu.csv" },
	{ "config/station.ini", "menu.csv", "config/menu.csv" },
	{ "station.ini", "menu.csv", "menu.csv" },
	{ "/station.ini", "menu.csv", "/menu.csv" },
	{ "/etc/pinbone/station.ini", "/srv/menu.csv", "/srv/menu.csv" },
	{ "a/b", "../c", "a/../c" },
};

START_TEST(beside_row)
{
	const struct beside_row *r = &beside_rows[_i];
	char s[64];

	ck_assert(file_beside(s, sizeof(s), r->base, r->name));
	ck_assert_str_eq(s, r->want);
	ck_assert(!file_beside(s, strlen(r->want), r->base, r->name));
}
END_TEST

Suite *
suite_base_file(void)
{
	Suite *s = suite_create("base_file");
	TCase *t = tcase_create("all");

	tcase_add_checked_fixture(t, make_folder, remove_folder);
	tcase_add_test(t, write_and_read);
	tcase_add_test(t, large);
	tcase_add_test(t, no_room);
	tcase_add_test(t, full_device);
	tcase_add_test(t, standard_streams);
	tcase_add_test(t, link_in_the_way);
	tcase_add_test(t, write_over_folder);
	tcase_add_test(t, write_nowhere);
	tcase_add_test(t, read_failures);
	tcase_add_test(t, folders);
	tcase_add_loop_test(t, beside_row, 0, (int)NELEM(beside_rows));
	suite_add_tcase(s, t);
	return s;
}
