/*
 * test_base_mount.c - lines of mountinfo, and names of labels.
 *
 * The first line is the example of proc_pid_mountinfo(5); the escapes are those
 * it names.  Names of labels: udev's encoding of ID_FS_LABEL_ENC, as
 * blkid_encode_string() of libblkid describes it.
 */
#include "unit.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "base/mount.h"
#include "base/str.h"
#include "ops/stick.h"

static const char table[] =
    "36 35 98:0 /mnt1 /mnt2 rw,noatime master:1 - ext3 /dev/root "
    "rw,errors=continue\n"
    "not a line\n"
    "40 35 8:17 / /media/fish\\040stick\\134x rw,nosuid shared:7 master:2 - "
    "vfat /dev/sdb1 rw,umask=0077\n"
    "41 35 8:33 / /mnt/locked ro,relatime - vfat /dev/sdc1 rw\n"
    "42 35 8:49 / /mnt/failed rw,relatime - ext4 /dev/sdd1 ro,errors=remount\n"
    "43 35 8:65 / /mnt/twice ro - vfat /dev/sde1 rw\n"
    "44 35 8:65 / /mnt/again rw - vfat /dev/sde1 rw\n"
    "45 35 0:50 / /mnt/rover rw - tmpfs none rw,rootcontext=ro\n"
    "46 35 8:81 / /cut rw -";

START_TEST(parse)
{
	const char *s = table;
	struct mount m;
	int n = 0;

	ck_assert(mount_parse(&m, &s));
	ck_assert_uint_eq(m.major, 98);
	ck_assert_uint_eq(m.minor, 0);
	ck_assert_str_eq(m.at, "/mnt2");
	ck_assert_str_eq(m.type, "ext3");
	ck_assert_str_eq(m.source, "/dev/root");
	ck_assert(!m.read_only);
	ck_assert(mount_parse(&m, &s));
	ck_assert_str_eq(m.at, "/media/fish stick\\x");
	ck_assert(!m.read_only);
	for (; mount_parse(&m, &s); n++)
		ck_assert_int_eq(m.read_only,
		    str_eq(m.at, "/mnt/locked") ||
			str_eq(m.at, "/mnt/failed") ||
			str_eq(m.at, "/mnt/twice"));
	ck_assert_int_eq(n, 5);
	ck_assert_int_eq(*s, '\0');
}
END_TEST

START_TEST(of_a_device)
{
	struct mount m;

	ck_assert(mount_of(&m, table, "/dev/sdb1", 0, 0));
	ck_assert_str_eq(m.at, "/media/fish stick\\x");
	/* under another name of the same device */
	ck_assert(mount_of(&m, table, "/dev/mapper/x", 8, 17));
	ck_assert_str_eq(m.source, "/dev/sdb1");
	ck_assert(mount_of(&m, table, "/dev/sde1", 8, 65));
	ck_assert_str_eq(m.at, "/mnt/again");
	ck_assert(!mount_of(&m, table, "/dev/sdz1", 9, 9));
	/* no device at all is no device like another */
	ck_assert(!mount_of(&m, table, "/dev/sdz1", 0, 50));
	ck_assert(!mount_of(&m, "", "/dev/sdb1", 8, 17));
}
END_TEST

static const struct {
	const char *label, *name;
} names[] = {
	{ "PINBONE", "PINBONE" },
	{ "my stick", "my\\x20stick" },
	{ "a/b", "a\\x2fb" },
	{ "50%", "50\\x25" },
	{ "x\\y", "x\\x5cy" },
	{ "#+-.:=@_", "#+-.:=@_" },
	{ "Fischküche", "Fischküche" },
};

START_TEST(label_names)
{
	char name[64];

	ck_assert(mount_label_name(name, sizeof(name), names[_i].label));
	ck_assert_str_eq(name, names[_i].name);
	ck_assert(!mount_label_name(name, 8, "a long label"));
	ck_assert(!mount_label_name(name, sizeof(name), ""));
}
END_TEST

/* --- a stick ---------------------------------------------------------------*/

static char folder[100], by_label[120], mounts[120];
static struct stick_place place = { by_label, mounts };

static void
setup(void)
{
	const char *tmp = getenv("TMPDIR");
	char path[300], to[200];
	const char *const labels[] = { "PINBONE", "my\\x20stick", "locked" };
	size_t i;
	FILE *f;

	str_fmt(folder, sizeof(folder), "%.60s/stick-XXXXXX",
	    tmp == NULL ? "/tmp" : tmp);
	ck_assert_ptr_nonnull(mkdtemp(folder));
	str_fmt(by_label, sizeof(by_label), "%s/by-label", folder);
	str_fmt(mounts, sizeof(mounts), "%s/mountinfo", folder);
	ck_assert_int_eq(mkdir(by_label, 0755), 0);
	f = fopen(mounts, "w");
	ck_assert_ptr_nonnull(f);
	for (i = 0; i < NELEM(labels); i++) {
		str_fmt(to, sizeof(to), "%s/sd%zu", folder, i);
		ck_assert_int_eq(file_write(to, "", 0, NULL), RC_OK);
		str_fmt(path, sizeof(path), "%s/%s", by_label, labels[i]);
		ck_assert_int_eq(symlink(to, path), 0);
		if (i > 0)
			fprintf(f,
			    "40 35 8:%zu / /media/at%zu %s - vfat %s rw\n", i,
			    i, i == 2 ? "ro" : "rw", to);
	}
	fclose(f);
}

static void
teardown(void)
{
	static const char *const there[] = { "by-label/PINBONE",
		"by-label/my\\x20stick", "by-label/locked", "sd0", "sd1", "sd2",
		"mountinfo" };
	char path[300];
	size_t i;

	for (i = 0; i < NELEM(there); i++) {
		str_fmt(path, sizeof(path), "%s/%s", folder, there[i]);
		ck_assert_int_eq(unlink(path), 0);
	}
	ck_assert_int_eq(rmdir(by_label), 0);
	ck_assert_int_eq(rmdir(folder), 0);
}

START_TEST(stick)
{
	char at[FILE_PATH_SIZE];
	struct err err = { 0 };

	ck_assert_msg(stick_find(at, "my stick", &place, NULL, &err) == RC_OK,
	    "%s", err.text);
	ck_assert_str_eq(at, "/media/at1");
	ck_assert_int_eq(
	    stick_find(at, "NONE", &place, "/nowhere", &err), RC_NOTFOUND);
	ck_assert_ptr_nonnull(strstr(err.text, "is it in?"));
	err_clear(&err);
	ck_assert_int_eq(
	    stick_find(at, "PINBONE", &place, NULL, &err), RC_NOTFOUND);
	ck_assert_ptr_nonnull(strstr(err.text, "not mounted"));
	err_clear(&err);
	ck_assert_int_eq(
	    stick_find(at, "locked", &place, NULL, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "read-only at /media/at2"));
	err_clear(&err);
	ck_assert_int_eq(stick_find(at, "", &place, NULL, &err), RC_INVALID);
	err_clear(&err);
	/* a label is a name, never a way to another folder */
	ck_assert_int_eq(
	    stick_find(at, "../sd1", &place, NULL, &err), RC_NOTFOUND);
}
END_TEST

Suite *
suite_base_mount(void)
{
	Suite *s = suite_create("base_mount");
	TCase *t = tcase_create("mount");

	tcase_add_test(t, parse);
	tcase_add_test(t, of_a_device);
	tcase_add_loop_test(t, label_names, 0, NELEM(names));
	suite_add_tcase(s, t);
	t = tcase_create("stick");
	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, stick);
	suite_add_tcase(s, t);
	return s;
}
