/*
 * test_ops_backup.c - backups: whole or not at all, kept in generations, never
 * at the cost of an older one.
 */
#include "unit.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "base/str.h"
#include "kitchen.h"
#include "ops/backup.h"
#include "ops/fate.h"
#include "store/store.h"

static struct kitchen k;
static char stick[400];

static void
setup(void)
{
	struct receive_in in = kitchen_cod();

	kitchen_open(&k);
	kitchen_receive(&k, &in);
	str_fmt(stick, sizeof(stick), "%s/stick", k.folder);
	ck_assert_int_eq(mkdir(stick, 0755), 0);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static enum rc
make(struct backup_done *out, int keep, copy_fn *tell, void *arg,
    struct err *err)
{
	struct backup_wish w = {
		.folder = stick,
		.keep = keep,
		.by = "AK",
		.tell = tell,
		.arg = arg,
	};

	memset(err, 0, sizeof(*err));
	return backup_run(out, k.sn, &w, err);
}

static size_t
listed(void)
{
	struct backup_list l;
	struct err err = { 0 };
	size_t n;

	ck_assert_msg(
	    backup_list_open(&l, k.sn, stick, &err) == RC_OK, "%s", err.text);
	n = l.count;
	backup_list_fini(&l);
	return n;
}

static bool
there(const char *name)
{
	char path[500];

	str_fmt(path, sizeof(path), "%s/%s", stick, name);
	return file_exists(path);
}

START_TEST(a_station_of_its_own)
{
	struct backup_done d;
	struct backup_last last;
	struct err err;
	char path[600];
	int64_t rows = kitchen_count(&k, "SELECT max(id) FROM audit");

	ck_assert_msg(make(&d, 3, NULL, NULL, &err) == RC_OK, "%s", err.text);
	ck_assert_str_eq(d.made.name, "pinbone-2026-11-25-0001.db");
	ck_assert_int_eq(d.made.head.last_row, rows);
	ck_assert_int_eq(d.dropped, 0);
	/* One file: nothing beside it that would have to be copied too. */
	ck_assert(there("pinbone-2026-11-25-0001.db"));
	ck_assert(!there("pinbone-2026-11-25-0001.db-wal"));
	ck_assert(!there("pinbone-2026-11-25-0001.db-shm"));
	ck_assert(!there("pinbone-2026-11-25-0001.db.part"));
	ck_assert_int_eq(backup_last(&last, k.sn, &err), RC_OK);
	ck_assert_str_eq(last.name, d.made.name);
	ck_assert_str_eq(last.folder, stick);
	ck_assert_int_ne(last.utc, 0);
	/* It opens as a station with the same record. */
	str_copy(path, sizeof(path), k.db);
	str_copy(k.db, sizeof(k.db), d.path);
	ck_assert_int_eq(kitchen_count(&k, "SELECT max(id) FROM audit"), rows);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM batch"), 1);
	str_copy(k.db, sizeof(k.db), path);
}
END_TEST

START_TEST(generations)
{
	struct backup_done d;
	struct err err;
	int i;

	for (i = 1; i <= 5; i++)
		ck_assert_msg(
		    make(&d, 3, NULL, NULL, &err) == RC_OK, "%s", err.text);
	ck_assert_str_eq(d.made.name, "pinbone-2026-11-25-0005.db");
	ck_assert_int_eq(d.dropped, 1);
	ck_assert_uint_eq(listed(), 3);
	ck_assert(!there("pinbone-2026-11-25-0002.db"));
	ck_assert(there("pinbone-2026-11-25-0003.db"));
}
END_TEST

/* Files that only look like ours are nobody's to remove. */
START_TEST(others_stay)
{
	static const char *const names[] = {
		"pinbone-2026-11-01-0007.db", /* another station's */
		"pinbone-2026-11-02-0008.db", /* not even a database */
		"pinbone-2026-13-02-0009.db", /* no such day */
		"pinbone-2026-11-02-10.db",
		"letter.txt",
	};
	struct station_options o = { .config = k.ini };
	char path[600], at[CONFIG_PATH_SIZE];
	struct backup_done d;
	struct err err = { 0 };
	size_t i;

	for (i = 1; i < NELEM(names); i++) {
		str_fmt(path, sizeof(path), "%s/%s", stick, names[i]);
		ck_assert_int_eq(file_write(path, "x", 1, NULL), RC_OK);
	}
	str_fmt(path, sizeof(path), "%s/%s", stick, names[0]);
	o.db = path;
	/* Made in another year, so another station of the same name. */
	o.now = "2025-01-01";
	ck_assert_msg(station_init(at, &o, &err) == RC_OK, "%s", err.text);
	for (i = 0; i < 4; i++)
		ck_assert_msg(
		    make(&d, 1, NULL, NULL, &err) == RC_OK, "%s", err.text);
	/* Numbers go on behind the highest, whosever it is. */
	ck_assert_str_eq(d.made.name, "pinbone-2026-11-25-0012.db");
	ck_assert_uint_eq(listed(), 1);
	for (i = 0; i < NELEM(names); i++)
		ck_assert_msg(there(names[i]), "%s", names[i]);
}
END_TEST

/* Somebody works with a backup as the station, where it lies: it is never an
 * old copy to be removed; nor is a link, or what it points at. */
START_TEST(never_the_open_file)
{
	struct station_options o = { .config = k.ini };
	struct station *kept = k.sn;
	char path[500], far[500], link[500];
	struct backup_done d;
	struct err err;

	ck_assert_int_eq(make(&d, 1, NULL, NULL, &err), RC_OK);
	str_copy(path, sizeof(path), d.path);
	ck_assert_int_eq(make(&d, 2, NULL, NULL, &err), RC_OK);
	str_fmt(far, sizeof(far), "%s/far.db", k.folder);
	str_fmt(link, sizeof(link), "%s", d.path);
	ck_assert_int_eq(rename(link, far), 0);
	ck_assert_int_eq(symlink(far, link), 0);
	o.db = path;
	err_clear(&err);
	ck_assert_msg(
	    station_open(&k.sn, &o, true, &err) == RC_OK, "%s", err.text);
	ck_assert_msg(make(&d, 1, NULL, NULL, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(d.dropped, 0);
	ck_assert_msg(make(&d, 1, NULL, NULL, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(d.dropped, 1);
	station_close(k.sn);
	k.sn = kept;
	ck_assert(file_exists(path));
	ck_assert(file_exists(far));
	ck_assert(file_exists(link));
}
END_TEST

struct stopper {
	enum copy_phase at;
	int calls;
};

static bool
stop_at(void *arg, enum copy_phase phase, int64_t done, int64_t total)
{
	struct stopper *s = arg;

	ck_assert_int_ge(done, 0);
	ck_assert(total == 0 || done <= total);
	s->calls++;
	return phase != s->at;
}

/* Stopped in each phase that reports on a small file: the older one stays. */
START_TEST(stopped)
{
	struct stopper s = { .at = _i == 0 ? COPY_WRITING : COPY_READING };
	struct backup_done d;
	struct err err;

	ck_assert_int_eq(make(&d, 1, NULL, NULL, &err), RC_OK);
	ck_assert_int_eq(make(&d, 1, stop_at, &s, &err), RC_REFUSED);
	ck_assert_ptr_ne(strstr(err.text, "stopped"), NULL);
	ck_assert_int_gt(s.calls, 0);
	ck_assert(there("pinbone-2026-11-25-0001.db"));
	ck_assert(!there("pinbone-2026-11-25-0002.db"));
	ck_assert(!there("pinbone-2026-11-25-0002.db.part"));
	ck_assert_uint_eq(listed(), 1);
}
END_TEST

static const char one_row_more[] =
    "INSERT INTO audit (at_utc, offset_min, by, action, subject, detail)"
    " SELECT at_utc, 0, 'X', 'x', 'x', 'x' FROM audit"
    " ORDER BY id DESC LIMIT 1";

/* The stick goes away, or gives back what it never got, in mid-copy. */
static bool
spoil(void *arg, enum copy_phase phase, int64_t done, int64_t total)
{
	const char *how = arg;
	char part[500];
	int fd;

	(void)done;
	(void)total;
	str_fmt(
	    part, sizeof(part), "%s/pinbone-2026-11-25-0002.db.part", stick);
	if (phase != COPY_READING)
		return true;
	if (str_eq(how, "gone")) {
		unlink(part);
		return true;
	}
	if (str_eq(how, "row")) {
		/* After it was compared, before it is checked. */
		ck_assert_int_le(done, total);
		if (done == total)
			ck_assert_int_eq(kitchen_sql(part, one_row_more), 0);
		return true;
	}
	fd = open(part, O_WRONLY);
	ck_assert_int_ge(fd, 0);
	/* Behind what was read already: the pages of the tables. */
	ck_assert_int_eq(pwrite(fd, "spoilt", 6, 70000), 6);
	close(fd);
	return true;
}

START_TEST(spoilt)
{
	static const char *const says[] = { "taken out", "other bytes",
		"does not end" };
	char how[3][8] = { "gone", "other", "row" };
	struct backup_done d;
	struct err err;

	ck_assert_int_eq(make(&d, 1, NULL, NULL, &err), RC_OK);
	ck_assert_int_eq(make(&d, 1, spoil, how[_i], &err), RC_FAILED);
	ck_assert_msg(strstr(err.text, says[_i]) != NULL, "%s", err.text);
	ck_assert(there("pinbone-2026-11-25-0001.db"));
	ck_assert(!there("pinbone-2026-11-25-0002.db"));
	ck_assert_uint_eq(listed(), 1);
}
END_TEST

/* Something is recorded while it is written: that is not in it, nor lost. */
static bool
record_meanwhile(void *arg, enum copy_phase phase, int64_t done, int64_t total)
{
	struct receive_in in = kitchen_cod();
	int *n = arg;

	(void)done;
	(void)total;
	if (phase == COPY_WRITING && (*n)++ == 0) {
		in.document = "N-2";
		kitchen_receive(&k, &in);
	}
	return true;
}

START_TEST(at_one_instant)
{
	int64_t rows = kitchen_count(&k, "SELECT max(id) FROM audit");
	struct backup_done d;
	struct err err;
	int n = 0;

	ck_assert_msg(
	    make(&d, 1, record_meanwhile, &n, &err) == RC_OK, "%s", err.text);
	ck_assert_int_gt(n, 0);
	ck_assert_int_eq(d.made.head.last_row, rows);
	ck_assert_int_gt(kitchen_count(&k, "SELECT max(id) FROM audit"), rows);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM batch"), 2);
}
END_TEST

/* A leftover of a pulled stick is tidied away; one at a time. */
START_TEST(leftovers)
{
	struct backup_done d;
	struct err err;
	char path[500];
	int fd;

	str_fmt(
	    path, sizeof(path), "%s/pinbone-2026-11-24-0004.db.part", stick);
	ck_assert_int_eq(file_write(path, "half", 4, NULL), RC_OK);
	fd = open(stick, O_RDONLY | O_DIRECTORY);
	ck_assert_int_eq(flock(fd, LOCK_EX), 0);
	ck_assert_int_eq(make(&d, 1, NULL, NULL, &err), RC_RETRY);
	ck_assert(file_exists(path));
	close(fd);
	ck_assert_int_eq(make(&d, 1, NULL, NULL, &err), RC_OK);
	ck_assert(!file_exists(path));
}
END_TEST

START_TEST(refused)
{
	struct backup_done d;
	struct err err;
	int64_t records = kitchen_records(&k);

	ck_assert_int_eq(make(&d, 0, NULL, NULL, &err), RC_INVALID);
	ck_assert_int_eq(make(&d, 1000, NULL, NULL, &err), RC_INVALID);
	str_fmt(stick, sizeof(stick), "%s/none", k.folder);
	ck_assert_int_eq(make(&d, 1, NULL, NULL, &err), RC_NOTFOUND);
	ck_assert_ptr_ne(strstr(err.text, "is the stick in"), NULL);
	ck_assert(!file_exists(stick));
	str_copy(stick, sizeof(stick), k.ini);
	ck_assert_int_eq(make(&d, 1, NULL, NULL, &err), RC_NOTFOUND);
	ck_assert_int_eq(kitchen_records(&k), records);
}
END_TEST

/* Two stations on copies of one file: which is whose, and after which row. */
START_TEST(apart)
{
	struct receive_in in = kitchen_cod();
	struct backup_done mine, theirs, after;
	struct backup_list l;
	struct station *kept;
	struct station_options o = { .config = k.ini, .now = KITCHEN_NOW };
	struct err err = { 0 };
	char copy[400];
	int64_t fork = kitchen_count(&k, "SELECT max(id) FROM audit");
	size_t i;

	str_fmt(copy, sizeof(copy), "%s/copy.db", k.folder);
	ck_assert_int_eq(make(&mine, 9, NULL, NULL, &err), RC_OK);
	ck_assert_int_eq(rename(mine.path, copy), 0);
	in.document = "N-9";
	kitchen_receive(&k, &in); /* here */
	ck_assert_int_eq(make(&mine, 9, NULL, NULL, &err), RC_OK);
	kept = k.sn;
	o.db = copy;
	ck_assert_msg(
	    station_open(&k.sn, &o, true, &err) == RC_OK, "%s", err.text);
	in.document = "N-8";
	kitchen_receive(&k, &in); /* and there */
	ck_assert_int_eq(make(&theirs, 9, NULL, NULL, &err), RC_OK);
	station_close(k.sn);
	k.sn = kept;
	ck_assert_int_eq(make(&after, 1, NULL, NULL, &err), RC_OK);
	/* ours that is old went, theirs stays: nobody else has its rows */
	ck_assert_int_eq(after.dropped, 1);
	ck_assert_int_eq(backup_list_open(&l, k.sn, stick, &err), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	for (i = 0; i < l.count; i++)
		ck_assert_int_eq(l.items[i].apart_after,
		    str_eq(l.items[i].name, theirs.made.name)
			? fork
			: BACKUP_TOGETHER);
	backup_list_fini(&l);
}
END_TEST

/* For nobody but their owner, whatever the umask. */
START_TEST(modes)
{
	static const char *const tails[] = { "", "-wal", "-shm", "-open" };
	struct backup_done d;
	struct err err;
	struct stat st;
	char path[400];
	mode_t before = umask(0);
	size_t i;

	ck_assert_int_eq(make(&d, 1, NULL, NULL, &err), RC_OK);
	umask(before);
	ck_assert_int_eq(stat(d.path, &st), 0);
	ck_assert_int_eq(st.st_mode & 0777, 0600);
	for (i = 0; i < NELEM(tails); i++) {
		str_fmt(path, sizeof(path), "%s%s", k.db, tails[i]);
		ck_assert_msg(stat(path, &st) == 0, "%s", path);
		ck_assert_msg((st.st_mode & 0777) == 0600, "%s: %o", path,
		    (unsigned)st.st_mode);
	}
}
END_TEST

Suite *
suite_ops_backup(void)
{
	Suite *s = suite_create("ops_backup");
	TCase *t = tcase_create("backup");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, a_station_of_its_own);
	tcase_add_test(t, generations);
	tcase_add_test(t, others_stay);
	tcase_add_test(t, never_the_open_file);
	tcase_add_loop_test(t, stopped, 0, 2);
	tcase_add_loop_test(t, spoilt, 0, 3);
	tcase_add_test(t, at_one_instant);
	tcase_add_test(t, leftovers);
	tcase_add_test(t, refused);
	tcase_add_test(t, apart);
	tcase_add_test(t, modes);
	suite_add_tcase(s, t);
	return s;
}
