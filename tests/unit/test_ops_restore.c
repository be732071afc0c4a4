/*
 * test_ops_restore.c - a backup in place of the file: nothing of before is
 * destroyed, no code is given twice, a cut at any step leaves one of the two.
 */
#include "unit.h"

#include <fcntl.h>
#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/digest.h"
#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "kitchen.h"
#include "ops/fate.h"
#include "ops/restore.h"
#include "sound.h"
#include "store/damage.h"
#include "store/store.h"

#define CODES_MAX 200

static struct kitchen k;
static char stick[400], from[500];
static char old_batch[CODE_SIZE], new_batch[CODE_SIZE];
static int64_t backup_row;
/* every code that stood on a label before the restore */
static char codes[CODES_MAX][CODE_SIZE];
static int code_count;

static void
keep_codes(void)
{
	sqlite3_stmt *q;
	sqlite3 *db;

	ck_assert_int_eq(sqlite3_open(k.db, &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db,
			     "SELECT code FROM batch UNION ALL"
			     " SELECT code FROM portion",
			     -1, &q, NULL),
	    SQLITE_OK);
	for (code_count = 0; sqlite3_step(q) == SQLITE_ROW; code_count++)
		ck_assert(str_copy(codes[code_count], CODE_SIZE,
		    (const char *)sqlite3_column_text(q, 0)));
	sqlite3_finalize(q);
	sqlite3_close(db);
}

static void
hold_it(const char *code, const char *reason)
{
	struct err err = { 0 };

	ck_assert_msg(hold(NULL, k.sn, code, reason, "AK", &err) == RC_OK, "%s",
	    err.text);
}

/* A day: a batch and its trays, the backup, then another batch, its trays, two
 * holds. */
static void
setup(void)
{
	struct receive_in in = kitchen_cod();
	struct kitchen_cut cut = { .dish = "cod-leeks",
		.portions = 8,
		.per_label = 4,
		.portions_g = 1320,
		.in_g = 4000,
		.fish = 2 };
	struct backup_wish w = { .folder = stick, .keep = 3, .by = "AK" };
	struct backup_done d;
	struct breakdown b;
	struct batch batch;
	struct err err = { 0 };

	kitchen_open(&k);
	str_fmt(stick, sizeof(stick), "%s/stick", k.folder);
	ck_assert_int_eq(mkdir(stick, 0755), 0);
	batch = kitchen_receive(&k, &in);
	str_copy(old_batch, sizeof(old_batch), batch.code);
	b = kitchen_break(&k, old_batch, &cut);
	breakdown_fini(&b);
	ck_assert_msg(backup_run(&d, k.sn, &w, &err) == RC_OK, "%s", err.text);
	str_copy(from, sizeof(from), d.path);
	backup_row = d.made.head.last_row;

	kitchen_at(&k, "2026-11-25T14:00");
	in.document = "N-2";
	batch = kitchen_receive(&k, &in);
	str_copy(new_batch, sizeof(new_batch), batch.code);
	b = kitchen_break(&k, new_batch, &cut);
	breakdown_fini(&b);
	hold_it(old_batch, "smells");
	hold_it(new_batch, "warm");
	keep_codes();
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static void
leave(void)
{
	station_close(k.sn);
	k.sn = NULL;
}

/* A program that was killed: what it recorded last is in the log alone. */
static void
leave_by_kill(void)
{
	struct err err = { 0 };
	const struct discard_in in = { .code = old_batch,
		.fish = 1,
		.weight_g = 2000,
		.reason = "dropped",
		.by = "AK" };
	struct discarded out;
	int status;
	pid_t pid;

	leave();
	fflush(NULL);
	if ((pid = fork()) == 0) {
		if (kitchen_station(&k, "2026-11-25T14:30", &err) == RC_OK &&
		    discard(&out, k.sn, &in, &err) == RC_OK)
			kill(getpid(), SIGKILL);
		_exit(1);
	}
	ck_assert_int_eq(waitpid(pid, &status, 0), pid);
	ck_assert(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL);
}

static struct station *
bare(void)
{
	struct station_options o = {
		.config = k.ini, .db = k.db, .now = "2026-11-25T15:00"
	};
	struct err err = { 0 };
	struct station *sn;

	ck_assert_msg(
	    station_open(&sn, &o, false, &err) == RC_OK, "%s", err.text);
	return sn;
}

static void
digest_of(char out[DIGEST_HEX_MAX], const char *path, const char *tail)
{
	char name[600];
	struct buf b;

	str_fmt(name, sizeof(name), "%s%s", path, tail);
	buf_init(&b, FILE_READ_MAX);
	out[0] = '\0';
	if (file_read(&b, name, NULL) == RC_OK)
		digest_hex(out, b.data, b.len);
	buf_fini(&b);
}

static void
must_be_sound(void)
{
	const char *what;
	sqlite3 *db;

	ck_assert_int_eq(sqlite3_open(k.db, &db), SQLITE_OK);
	what = sound_check(db, 0);
	ck_assert_msg(what == NULL, "%s", what);
	sqlite3_close(db);
}

static bool
given_before(const char *code)
{
	int i;

	for (i = 0; i < code_count; i++)
		if (str_eq(codes[i], code))
			return true;
	return false;
}

/* The station works, and gives no code that stands on a label already. */
static void
must_go_on(void)
{
	struct receive_in in = kitchen_cod();
	struct kitchen_cut cut = { .dish = "cod-leeks",
		.portions = 4,
		.per_label = 1,
		.portions_g = 660,
		.in_g = 2000,
		.fish = 1 };
	struct breakdown b;
	struct batch batch;
	struct err err = { 0 };
	size_t i;

	ck_assert_msg(kitchen_station(&k, "2026-11-25T15:30", &err) == RC_OK,
	    "%s", err.text);
	in.document = "N-3";
	batch = kitchen_receive(&k, &in);
	ck_assert_msg(!given_before(batch.code), "%s again", batch.code);
	b = kitchen_break(&k, batch.code, &cut);
	ck_assert_uint_gt(b.portion_count, 0);
	for (i = 0; i < b.portion_count; i++)
		ck_assert_msg(!given_before(b.portions[i].code), "%s again",
		    b.portions[i].code);
	breakdown_fini(&b);
	leave();
	must_be_sound();
}

static enum rc
restore(struct restore_done *d, struct err *err)
{
	struct restore_wish w = { .file = k.db, .from = from, .by = "CD" };
	struct station *sn = bare();
	enum rc rc;

	memset(err, 0, sizeof(*err));
	rc = restore_run(d, sn, &w, err);
	station_close(sn);
	return rc;
}

/* --- a file that is whole --------------------------------------------------*/

START_TEST(what_would_be_lost)
{
	struct restore_look l;
	struct station *sn;
	struct err err = { 0 };
	struct buf words;
	char before[DIGEST_HEX_MAX], after[DIGEST_HEX_MAX];

	leave();
	digest_of(before, k.db, "");
	sn = bare();
	ck_assert_msg(
	    restore_look(&l, sn, k.db, from, NULL, NULL, &err) == RC_OK, "%s",
	    err.text);
	ck_assert(l.known && l.there && !l.lost.cut);
	ck_assert_int_eq(l.lost.after_row, backup_row);
	/* backup, receive, prep, two holds */
	ck_assert_int_eq(l.lost.rows, 5);
	ck_assert_uint_eq(l.lost.batch_count, 1);
	ck_assert_str_eq(l.lost.batches[0].code, new_batch);
	ck_assert_uint_eq(l.lost.unit_count, 2);
	ck_assert_int_eq(l.lost.units[0].servings, 4);
	ck_assert_uint_eq(l.lost.hold_count, 2);
	buf_init(&words, 65536);
	restore_words(&words, &l);
	ck_assert_ptr_nonnull(strstr(buf_text(&words), "ON HOLD now"));
	ck_assert_ptr_nonnull(strstr(buf_text(&words), "smells"));
	buf_fini(&words);
	restore_look_fini(&l);
	station_close(sn);
	digest_of(after, k.db, "");
	ck_assert_str_eq(before, after);
}
END_TEST

START_TEST(in_place)
{
	char old[DIGEST_HEX_MAX], aside[DIGEST_HEX_MAX];
	struct restore_done d;
	struct err err = { 0 };

	leave();
	digest_of(old, k.db, "");
	ck_assert_msg(restore(&d, &err) == RC_OK, "%s", err.text);
	digest_of(aside, d.aside, "");
	ck_assert_str_eq(old, aside);
	ck_assert_int_eq(d.held_again, 1);
	ck_assert_int_eq(d.held_gone, 1);
	must_be_sound();
	/* Every row of the backup, then the restore and the hold. */
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT max(id) FROM audit"), backup_row + 2);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM batch"), 1);
	ck_assert_int_eq(
	    kitchen_count(
		&k, "SELECT count(*) FROM hold WHERE released_utc IS NULL"),
	    1);
	ck_assert_int_eq(
	    kitchen_count(&k,
		"SELECT count(*) FROM audit WHERE action = 'restore'"
		" AND by = 'CD' AND detail LIKE '%aside-2026-11-25-1%'"),
	    1);
	restore_done_fini(&d);
	must_go_on();
	/* And once more: the next one has a name of its own. */
	keep_codes();
	ck_assert_msg(restore(&d, &err) == RC_OK, "%s", err.text);
	ck_assert_ptr_nonnull(strstr(d.aside, "aside-2026-11-25-2"));
	restore_done_fini(&d);
	must_go_on();
}
END_TEST

/* Its log holds what its pages do not: both are set aside as they are. */
START_TEST(log_and_all)
{
	char old[2][DIGEST_HEX_MAX], aside[2][DIGEST_HEX_MAX];
	struct restore_done d;
	struct err err = { 0 };
	char path[320];

	leave_by_kill();
	digest_of(old[0], k.db, "");
	digest_of(old[1], k.db, "-wal");
	ck_assert_msg(restore(&d, &err) == RC_OK, "%s", err.text);
	/* the discard that only the log knew */
	ck_assert_int_eq(d.look.lost.rows, 6);
	digest_of(aside[0], d.aside, "");
	digest_of(aside[1], d.aside, "-wal");
	ck_assert_str_eq(old[0], aside[0]);
	ck_assert_str_eq(old[1], aside[1]);
	must_go_on();
	/* What was set aside still opens as it was. */
	str_copy(path, sizeof(path), k.db);
	ck_assert(str_copy(k.db, sizeof(k.db), d.aside));
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM batch_event"), 1);
	str_copy(k.db, sizeof(k.db), path);
	restore_done_fini(&d);
}
END_TEST

/* What waits in the backup may have come out since: a person is asked. */
START_TEST(labels_that_wait)
{
	struct print_job job;
	struct restore_done d;
	struct err err = { 0 };
	char sql[700];

	ck_assert_int_eq(
	    kitchen_label(&job, &k, old_batch, LABEL_ON_HOLD), RC_OK);
	leave();
	ck_assert_int_eq(unlink(from), 0);
	str_fmt(sql, sizeof(sql),
	    "UPDATE print_job SET state = 'queued'; VACUUM INTO '%s'", from);
	ck_assert_int_eq(kitchen_sql(k.db, sql), SQLITE_OK);
	ck_assert_int_eq(
	    kitchen_sql(k.db, "UPDATE print_job SET state = 'confirmed'"),
	    SQLITE_OK);
	ck_assert_msg(restore(&d, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(d.unsure, 1);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM print_job"
			     " WHERE state = 'unsure'"),
	    1);
	restore_done_fini(&d);
}
END_TEST

/* --- damage ----------------------------------------------------------------*/

static void
overwrite(off_t at, size_t len)
{
	char *bytes = xcalloc(1, len);
	int fd = open(k.db, O_WRONLY);

	memset(bytes, 0xa5, len);
	ck_assert_int_ge(fd, 0);
	ck_assert_int_eq(pwrite(fd, bytes, len, at), (ssize_t)len);
	close(fd);
	free(bytes);
}

static const char *const damages[] = { "header", "half", "empty", "gone",
	"middle", "end", "folder of pages" };

static void
do_damage(const char *how)
{
	struct stat st;

	ck_assert_int_eq(stat(k.db, &st), 0);
	if (str_eq(how, "header"))
		overwrite(0, 60);
	else if (str_eq(how, "half"))
		ck_assert_int_eq(truncate(k.db, st.st_size / 2), 0);
	else if (str_eq(how, "empty"))
		ck_assert_int_eq(truncate(k.db, 0), 0);
	else if (str_eq(how, "gone"))
		ck_assert_int_eq(unlink(k.db), 0);
	else if (str_eq(how, "middle"))
		overwrite(st.st_size / 2, 3 * 4096);
	else if (str_eq(how, "end"))
		overwrite(st.st_size - 8 * 4096, 8 * 4096);
	else
		overwrite(4096, 40 * 4096);
}

START_TEST(drill)
{
	char old[DIGEST_HEX_MAX], aside[DIGEST_HEX_MAX];
	const char *how = damages[_i];
	struct restore_done d;
	struct err err = { 0 };
	int64_t highest = kitchen_count(&k, "SELECT max(serial) FROM portion");

	leave();
	do_damage(how);
	digest_of(old, k.db, "");
	ck_assert_msg(restore(&d, &err) == RC_OK, "%s: %s", how, err.text);
	ck_assert_int_eq(d.aside[0] == '\0', str_eq(how, "gone"));
	if (d.aside[0] != '\0') {
		digest_of(aside, d.aside, "");
		ck_assert_str_eq(old, aside);
	}
	ck_assert_int_ge(d.serial, highest);
	must_be_sound();
	ck_assert_int_ge(
	    kitchen_count(&k, "SELECT max(id) FROM audit"), backup_row + 1);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM batch"), 1);
	must_go_on();
	restore_done_fini(&d);
}
END_TEST

/* Nobody writes to a file that was seen to be damaged. */
START_TEST(never_written_again)
{
	char old[DIGEST_HEX_MAX], now[DIGEST_HEX_MAX];
	struct err err = { 0 };
	char aside[SWAP_PATH_SIZE], path[400];
	struct station *sn;
	int i;

	leave();
	do_damage("folder of pages");
	digest_of(old, k.db, "");
	for (i = 0; i < 3; i++) {
		err_clear(&err);
		ck_assert_int_ne(
		    kitchen_station(&k, "2026-11-25T15:00", &err), RC_OK);
		ck_assert_msg(damage_said(&err), "%s", err.text);
		ck_assert_ptr_nonnull(strstr(err.text, "pinbone restore"));
	}
	digest_of(now, k.db, "");
	ck_assert_str_eq(old, now);
	/* Set aside whole when asked to, and only then. */
	sn = bare();
	err_clear(&err);
	ck_assert_msg(
	    restore_set_aside(aside, sn, k.db, &err) == RC_OK, "%s", err.text);
	station_close(sn);
	digest_of(now, aside, "");
	ck_assert_str_eq(old, now);
	ck_assert(!file_exists(k.db));
	str_fmt(path, sizeof(path), "%s" DAMAGE_TAIL, k.db);
	ck_assert(!file_exists(path));
}
END_TEST

/* --- cuts ------------------------------------------------------------------*/

static bool
die_at(void *arg, int step)
{
	const int *at = arg;

	if (step == *at)
		kill(getpid(), SIGKILL);
	return true;
}

/* Every step of it, in a process that is killed there. */
START_TEST(cut_at)
{
	char old[2][DIGEST_HEX_MAX], aside[DIGEST_HEX_MAX], path[400];
	struct restore_wish w = { .file = k.db,
		.from = from,
		.by = "CD",
		.step = die_at,
		.step_arg = &_i };
	struct restore_done d;
	struct err err = { 0 };
	struct station_options o = {
		.config = k.ini, .db = k.db, .now = "2026-11-25T15:00"
	};
	bool decided = _i > RESTORE_SWAP + (int)SWAP_DECIDE, whole;
	struct station *sn;
	int64_t rows;
	int status;
	pid_t pid;

	leave_by_kill();
	digest_of(old[0], k.db, "");
	digest_of(old[1], k.db, "-wal");
	sn = bare();
	fflush(NULL);
	if ((pid = fork()) == 0) {
		(void)!restore_run(&d, sn, &w, &err);
		_exit(1);
	}
	ck_assert_int_eq(waitpid(pid, &status, 0), pid);
	ck_assert_msg(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL,
	    "step %d was never reached", _i);
	station_close(sn);

	ck_assert_msg(
	    station_open(&k.sn, &o, true, &err) == RC_OK, "%s", err.text);
	/* A start that had something to finish says so. */
	whole = station_set_aside(k.sn) != NULL;
	ck_assert_int_eq(whole, decided && _i < RESTORE_SWAP + (int)SWAP_DONE);
	rows = kitchen_count(&k, "SELECT max(id) FROM audit");
	leave();
	str_fmt(path, sizeof(path), "%s.swap", k.db);
	ck_assert(!file_exists(path));
	str_fmt(path, sizeof(path), "%s.aside-2026-11-25-1", k.db);
	if (decided) {
		ck_assert_int_eq(rows, backup_row + 2);
		digest_of(aside, path, "");
		ck_assert_str_eq(aside, old[0]);
		digest_of(aside, path, "-wal");
		ck_assert_str_eq(aside, old[1]);
	} else {
		/* the old file, with what only its log knew */
		ck_assert_int_eq(rows, backup_row + 6);
		ck_assert(!file_exists(path));
	}
	must_be_sound();
	must_go_on();
	/* Nothing in the way of doing it after all. */
	keep_codes();
	ck_assert_msg(restore(&d, &err) == RC_OK, "%s", err.text);
	restore_done_fini(&d);
	must_go_on();
}
END_TEST

Suite *
suite_ops_restore(void)
{
	Suite *s = suite_create("ops_restore");
	TCase *t = tcase_create("restore");

	tcase_set_timeout(t, 60);
	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, what_would_be_lost);
	tcase_add_test(t, in_place);
	tcase_add_test(t, log_and_all);
	tcase_add_test(t, labels_that_wait);
	tcase_add_loop_test(t, drill, 0, NELEM(damages));
	tcase_add_test(t, never_written_again);
	tcase_add_loop_test(t, cut_at, 0, RESTORE_SWAP + (int)SWAP_DONE + 1);
	suite_add_tcase(s, t);
	return s;
}
