/*
 * test_ops_restore_refused.c - backups that never take the place of a file, and
 * that nothing is touched then.
 */
#include "unit.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/digest.h"
#include "base/file.h"
#include "base/str.h"
#include "kitchen.h"
#include "ops/restore.h"
#include "store/store.h"

static struct kitchen k;
static char from[500], before[DIGEST_HEX_MAX];
static bool (*step)(void *arg, int step);

static void
digest_file(char out[DIGEST_HEX_MAX], const char *path)
{
	struct buf b;

	buf_init(&b, FILE_READ_MAX);
	ck_assert_int_eq(file_read(&b, path, NULL), RC_OK);
	digest_hex(out, b.data, b.len);
	buf_fini(&b);
}

static void
setup(void)
{
	struct receive_in in = kitchen_cod();
	struct backup_wish w = { .keep = 3, .by = "AK" };
	struct backup_done d;
	struct err err = { 0 };

	step = NULL;
	kitchen_open(&k);
	kitchen_receive(&k, &in);
	w.folder = k.folder;
	ck_assert_msg(backup_run(&d, k.sn, &w, &err) == RC_OK, "%s", err.text);
	str_copy(from, sizeof(from), d.path);
	station_close(k.sn);
	k.sn = NULL;
	digest_file(before, k.db);
}

static void
teardown(void)
{
	char after[DIGEST_HEX_MAX], aside[500];

	digest_file(after, k.db);
	ck_assert_str_eq(before, after);
	str_fmt(aside, sizeof(aside), "%s.aside-2026-11-25-1", k.db);
	ck_assert(!file_exists(aside));
	str_fmt(aside, sizeof(aside), "%s.coming", k.db);
	ck_assert(!file_exists(aside));
	kitchen_close(&k);
}

/* Returns what the refusal says. */
static const char *
refuse(enum rc want)
{
	static struct err err;
	struct restore_wish w = {
		.file = k.db, .from = from, .by = "CD", .step = step
	};
	struct station_options o = {
		.config = k.ini, .db = k.db, .now = "2026-11-25T15:00"
	};
	struct restore_done d;
	struct station *sn;

	memset(&err, 0, sizeof(err));
	ck_assert_msg(
	    station_open(&sn, &o, false, &err) == RC_OK, "%s", err.text);
	ck_assert_msg(restore_run(&d, sn, &w, &err) == want, "%s", err.text);
	restore_done_fini(&d);
	station_close(sn);
	return err.text;
}

static void
must_say(enum rc want, const char *text)
{
	const char *says = refuse(want);

	ck_assert_msg(strstr(says, text) != NULL, "%s", says);
}

static void
other_station(const char *now)
{
	struct station_options o = { .config = k.ini, .now = now };
	char path[CONFIG_PATH_SIZE];
	struct err err = { 0 };

	str_fmt(from, sizeof(from), "%s/other.db", k.folder);
	o.db = from;
	ck_assert_msg(station_init(path, &o, &err) == RC_OK, "%s", err.text);
}

START_TEST(open_elsewhere)
{
	struct err err = { 0 };

	ck_assert_msg(kitchen_station(&k, "2026-11-25T15:00", &err) == RC_OK,
	    "%s", err.text);
	must_say(RC_RETRY, "has it open");
	station_close(k.sn);
	k.sn = NULL;
}
END_TEST

START_TEST(not_ours)
{
	other_station("2026-11-01");
	must_say(RC_REFUSED, "another station");
	ck_assert_int_eq(
	    kitchen_sql(from,
		"UPDATE station SET value = 'Elsewhere' WHERE key = 'kitchen'"),
	    0);
	must_say(RC_REFUSED, "another kitchen");
	ck_assert_int_eq(
	    kitchen_sql(
		from, "UPDATE station SET value = 'no' WHERE key = 'training'"),
	    0);
	must_say(RC_REFUSED, "real station");
}
END_TEST

START_TEST(newer)
{
	ck_assert_int_eq(kitchen_sql(from, "PRAGMA user_version = 999"), 0);
	must_say(RC_REFUSED, "newer program");
}
END_TEST

START_TEST(not_whole)
{
	char junk[4096];
	int fd = open(from, O_WRONLY);

	memset(junk, 0xa5, sizeof(junk));
	ck_assert_int_ge(fd, 0);
	ck_assert_int_eq(pwrite(fd, junk, sizeof(junk), 20 * 4096), 4096);
	close(fd);
	must_say(RC_INVALID, "not whole");
	ck_assert_int_eq(truncate(from, 5000), 0);
	(void)refuse(RC_INVALID);
	ck_assert_int_eq(truncate(from, 0), 0);
	(void)refuse(RC_INVALID);
	str_copy(from, sizeof(from), k.ini);
	(void)refuse(RC_INVALID);
	str_fmt(from, sizeof(from), "%s/none.db", k.folder);
	(void)refuse(RC_NOTFOUND);
}
END_TEST

/* A pipe would be waited for; the name a restore uses itself would be removed
 * before it is read. */
START_TEST(odd_files)
{
	char coming[500];

	str_fmt(coming, sizeof(coming), "%s.coming", k.db);
	ck_assert_int_eq(rename(from, coming), 0);
	str_copy(from, sizeof(from), coming);
	must_say(RC_REFUSED, "another one first");
	ck_assert(file_exists(coming));
	str_fmt(from, sizeof(from), "%s/link.db", k.folder);
	ck_assert_int_eq(symlink(coming, from), 0);
	must_say(RC_REFUSED, "another one first");
	ck_assert_int_eq(rename(coming, from), 0);
	ck_assert_int_eq(unlink(from), 0);
	ck_assert_int_eq(mkfifo(from, 0600), 0);
	must_say(RC_INVALID, "not a file");
	must_say(RC_INVALID, "not a file");
	str_copy(from, sizeof(from), k.folder);
	must_say(RC_INVALID, "not a file");
}
END_TEST

static bool
other_stick(void *arg, int at)
{
	char other[500];

	(void)arg;
	str_fmt(other, sizeof(other), "%s/other.db", k.folder);
	if (at == RESTORE_COPY)
		ck_assert_int_eq(rename(other, from), 0);
	return true;
}

START_TEST(changed_meanwhile)
{
	char mine[500];

	str_copy(mine, sizeof(mine), from);
	other_station("2026-11-01");
	str_copy(from, sizeof(from), mine);
	step = other_stick;
	must_say(RC_REFUSED, "looked at");
}
END_TEST

Suite *
suite_ops_restore_refused(void)
{
	Suite *s = suite_create("ops_restore_refused");
	TCase *t = tcase_create("refused");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, open_elsewhere);
	tcase_add_test(t, not_ours);
	tcase_add_test(t, newer);
	tcase_add_test(t, not_whole);
	tcase_add_test(t, odd_files);
	tcase_add_test(t, changed_meanwhile);
	suite_add_tcase(s, t);
	return s;
}
