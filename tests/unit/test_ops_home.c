/*
 * test_ops_home.c - the computer a file works on; one station at a time; is the
 * file whole.
 */
#include "unit.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file.h"
#include "base/str.h"
#include "kitchen.h"
#include "ops/home.h"
#include "ops/inspect.h"
#include "ops/look.h"
#include "ops/seat.h"
#include "ops/today.h"
#include "store/store.h"

static struct kitchen k;

static void
setup(void)
{
	struct receive_in in = kitchen_cod();

	kitchen_open(&k);
	kitchen_receive(&k, &in);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

/* Another computer, as far as anybody can tell. */
static void
be_computer(const char *id)
{
	char path[320];

	kitchen_write(path, &k, "machine-id", id);
	str_copy(k.sn->cfg.machine_id, sizeof(k.sn->cfg.machine_id), path);
}

static enum home
home_now(void)
{
	struct err err = { 0 };
	enum home at;

	ck_assert_msg(home_of(&at, k.sn, &err) == RC_OK, "%s", err.text);
	return at;
}

static void
branch_of(char out[64])
{
	ck_assert_int_eq(
	    store_fact_get(out, 64, k.sn->st, "branch", NULL), RC_OK);
}

START_TEST(moved)
{
	struct today_fault f;
	struct moment m;
	struct buf out;
	struct err err = { 0 };
	char first[64], second[64];
	int64_t rows;

	branch_of(first);
	ck_assert_uint_eq(strlen(first), 32);
	be_computer("0123456789abcdef0123456789abcdef\n");
	ck_assert_int_eq(home_now(), HOME_ELSEWHERE);
	rows = kitchen_records(&k);
	ck_assert_int_eq(station_moment(&m, k.sn, "AK", &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "the same code twice"));
	ck_assert_ptr_nonnull(strstr(err.text, "pinbone moved --by"));
	ck_assert_int_eq(kitchen_records(&k), rows);
	/* Reading goes on, and the desk says why recording does not. */
	buf_init(&out, 65536);
	err_clear(&err);
	ck_assert_int_eq(stock(&out, k.sn, FORMAT_TEXT, &err), RC_OK);
	buf_fini(&out);
	ck_assert_int_eq(today_fault(&f, k.sn, &err), RC_OK);
	ck_assert_int_eq(f.kind, FAULT_HOME);

	ck_assert_int_eq(home_moved(k.sn, "", &err), RC_INVALID);
	err_clear(&err);
	ck_assert_msg(home_moved(k.sn, "AK", &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(home_now(), HOME_HERE);
	ck_assert_int_eq(station_moment(&m, k.sn, "AK", &err), RC_OK);
	branch_of(second);
	ck_assert_str_ne(first, second);
	ck_assert_int_eq(
	    kitchen_count(&k,
		"SELECT count(*) FROM audit WHERE action = 'moved' AND by = "
		"'AK' AND detail LIKE '%' || (SELECT value FROM station"
		" WHERE key = 'branch')"),
	    1);
	/* The id itself is nowhere in the file. */
	ck_assert_int_eq(
	    kitchen_count(&k,
		"SELECT count(*) FROM station WHERE value LIKE '%0123456789%'"),
	    0);
	ck_assert_int_eq(home_moved(k.sn, "AK", &err), RC_REFUSED);
}
END_TEST

/* What cannot be told apart is not asked about. */
START_TEST(cannot_tell)
{
	static const char *const ids[] = { "", "\n", "uninitialized\n" };
	struct moment m;
	size_t i;

	for (i = 0; i < NELEM(ids); i++) {
		be_computer(ids[i]);
		ck_assert_int_eq(home_now(), HOME_UNKNOWN);
		ck_assert_int_eq(station_moment(&m, k.sn, "AK", NULL), RC_OK);
		ck_assert_int_eq(home_moved(k.sn, "AK", NULL), RC_REFUSED);
	}
	str_copy(k.sn->cfg.machine_id, sizeof(k.sn->cfg.machine_id),
	    "/nowhere/machine-id");
	ck_assert_int_eq(home_now(), HOME_UNKNOWN);
	str_copy(k.sn->cfg.machine_id, sizeof(k.sn->cfg.machine_id), "none");
	ck_assert_int_eq(home_now(), HOME_UNKNOWN);
}
END_TEST

/* A file of before this was kept works where it is opened first, once. */
START_TEST(adopted)
{
	struct err err = { 0 };
	char path[320];

	be_computer("00112233445566778899aabbccddeeff\n");
	str_copy(path, sizeof(path), k.sn->cfg.machine_id);
	ck_assert_int_eq(
	    kitchen_sql(k.db, "DELETE FROM station WHERE key = 'computer'"), 0);
	ck_assert_int_eq(home_now(), HOME_NEW);
	ck_assert_msg(home_adopt(k.sn, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(home_now(), HOME_HERE);
	ck_assert_int_eq(home_adopt(k.sn, &err), RC_OK);
	ck_assert_int_eq(
	    kitchen_count(
		&k, "SELECT count(*) FROM audit WHERE action = 'computer'"),
	    1);
	be_computer("ffeeddccbbaa99887766554433221100\n");
	ck_assert_int_eq(home_now(), HOME_ELSEWHERE);
}
END_TEST

START_TEST(one_station)
{
	struct err err = { 0 };
	int first, second;
	char pid[32];

	ck_assert_msg(seat_take(&first, k.db, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(seat_take(&second, k.db, &err), RC_REFUSED);
	str_fmt(pid, sizeof(pid), "process %ld since 20", (long)getpid());
	ck_assert_msg(strstr(err.text, pid) != NULL, "%s", err.text);
	ck_assert_int_eq(second, -1);
	seat_leave(&first);
	err_clear(&err);
	ck_assert_int_eq(seat_take(&second, k.db, &err), RC_OK);
	seat_leave(&second);
}
END_TEST

/* --- whole -----------------------------------------------------------------*/

static bool
never(void *arg)
{
	int *calls = arg;

	(*calls)++;
	return false;
}

START_TEST(inspected)
{
	struct inspected i;
	struct err err = { 0 };
	int64_t last;

	ck_assert_msg(inspect_file(&i, k.db, 5000, NULL, NULL, &err) == RC_OK,
	    "%s", err.text);
	ck_assert(i.whole.good && i.whole.all);
	ck_assert_int_gt(i.whole.tables, 20);
	ck_assert_int_eq(i.whole.tables, i.whole.tables_all);
	ck_assert_str_eq(i.open_to_world, "");
	ck_assert_int_eq(inspect_file(&i, k.db, 0, NULL, NULL, &err), RC_OK);
	ck_assert_int_eq(inspect_last(&last, k.sn, &err), RC_OK);
	ck_assert_int_eq(last, 0);
	ck_assert_int_eq(inspect_record(k.sn, &i, &err), RC_OK);
	ck_assert_int_eq(inspect_last(&last, k.sn, &err), RC_OK);
	ck_assert_int_eq(last, clock_now(&k.sn->clock));
	/* others may read it */
	ck_assert_int_eq(chmod(k.db, 0644), 0);
	ck_assert_int_eq(inspect_file(&i, k.db, 0, NULL, NULL, &err), RC_OK);
	ck_assert_ptr_nonnull(strstr(i.open_to_world, "(mode 644)"));
}
END_TEST

/* In no time at all something is left out, and that is said. */
START_TEST(budget)
{
	struct inspected i;
	struct buf out;
	struct err err = { 0 };
	int64_t n;
	int calls = 0;

	/* more to look at than a look of a millisecond */
	ck_assert_int_eq(
	    kitchen_sql(k.db,
		"WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1"
		" FROM n WHERE i < 60000) INSERT INTO audit (at_utc,"
		" offset_min, by, action, subject, detail)"
		" SELECT 1764064000, 0, 'X', 'x', 'x', 'x' FROM n"),
	    0);
	ck_assert_int_eq(inspect_file(&i, k.db, 1, NULL, NULL, &err), RC_OK);
	ck_assert(i.whole.good);
	ck_assert(!i.whole.all);
	ck_assert_int_lt(i.whole.tables, i.whole.tables_all);
	buf_init(&out, 1000);
	inspect_words(&out, &i, FORMAT_TEXT);
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "not reached"));
	buf_fini(&out);
	n = kitchen_records(&k);
	ck_assert_int_eq(
	    inspect_file(&i, k.db, 0, never, &calls, &err), RC_REFUSED);
	ck_assert_int_gt(calls, 0);
	ck_assert_int_eq(kitchen_records(&k), n);
}
END_TEST

/* A broken link, which no page shows; and what was written down is forgotten
 * once the file is whole again. */
START_TEST(damage_is_remembered)
{
	struct inspected i;
	struct err err = { 0 };
	char mark[400];

	str_fmt(mark, sizeof(mark), "%s" DAMAGE_TAIL, k.db);
	ck_assert_int_eq(
	    kitchen_sql(k.db,
		"PRAGMA foreign_keys = OFF; INSERT INTO batch_fish VALUES"
		" (99, 1, 2000, NULL)"),
	    0);
	ck_assert_int_eq(inspect_file(&i, k.db, 0, NULL, NULL, &err), RC_FATAL);
	ck_assert(damage_said(&err));
	ck_assert_msg(
	    strstr(err.text, "batch_fish row") != NULL, "%s", err.text);
	ck_assert(file_exists(mark));
	err_clear(&err);
	ck_assert_int_eq(kitchen_station(&k, KITCHEN_NOW, &err), RC_FATAL);
	ck_assert_ptr_nonnull(strstr(err.text, "not written to any more"));
	err_clear(&err);
	ck_assert_int_eq(
	    kitchen_sql(k.db, "DELETE FROM batch_fish WHERE batch_id = 99"), 0);
	/* a quick look does not absolve */
	ck_assert_int_eq(inspect_file(&i, k.db, 5000, NULL, NULL, &err), RC_OK);
	ck_assert(file_exists(mark));
	ck_assert_int_eq(inspect_file(&i, k.db, 0, NULL, NULL, &err), RC_OK);
	ck_assert(!file_exists(mark));
	ck_assert_msg(
	    kitchen_station(&k, KITCHEN_NOW, &err) == RC_OK, "%s", err.text);
}
END_TEST

Suite *
suite_ops_home(void)
{
	Suite *s = suite_create("ops_home");
	TCase *t = tcase_create("home");

	tcase_add_checked_fixture(t, setup, teardown);
	tcase_add_test(t, moved);
	tcase_add_test(t, cannot_tell);
	tcase_add_test(t, adopted);
	tcase_add_test(t, one_station);
	tcase_add_test(t, inspected);
	tcase_add_test(t, budget);
	tcase_add_test(t, damage_is_remembered);
	suite_add_tcase(s, t);
	return s;
}
