/*
 * test_ops_clock.c - a doubtful clock stops every record: on a real station,
 * on a training station whose clock nobody set, and never by --now.
 */
#include "unit.h"

#include <sqlite3.h>
#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/bring_in.h"
#include "ops/backup.h"
#include "ops/watch.h"
#include "store/audit.h"
#include "store/store.h"
#include "trail_rig.h"

static struct kitchen k;

static void
teardown(void)
{
	kitchen_close(&k);
}

static void
open_station(bool training, const char *now)
{
	struct err err = { 0 };

	kitchen_make(&k, training);
	ck_assert_msg(kitchen_station(&k, now, &err) == RC_OK, "%s", err.text);
}

/* A record `ahead` seconds from now, as an earlier and wrong clock left it. */
static void
record_ahead(int64_t ahead)
{
	struct moment at = { .utc = clock_now(&k.sn->clock) + ahead,
		.by = "AB" };

	rig_note(k.sn->st, &at);
}

/* clang-format off */
static const struct {
	const char *why;
	bool training;
	const char *now;
	int64_t ahead;
	enum rc rc;
} clocks[] = {
	{ "real, clock is right", false, NULL, -60, RC_OK },
	{ "real, last record an hour ahead", false, NULL, 3600, RC_REFUSED },
	{ "real, last record a year ahead", false, NULL, 31536000,
	    RC_REFUSED },
	{ "training, nobody set its clock", true, NULL, 3600, RC_REFUSED },
	{ "training, clock set back on purpose", true, KITCHEN_NOW, 3600,
	    RC_OK },
};
/* clang-format on */

START_TEST(clock_rows)
{
	struct import_result r;
	struct moment m;
	struct err err = { 0 };
	char path[320];

	open_station(clocks[_i].training, clocks[_i].now);
	record_ahead(clocks[_i].ahead);
	ck_assert_msg(station_moment(&m, k.sn, "AB", &err) == clocks[_i].rc,
	    "%s: %s", clocks[_i].why, err.text);
	kitchen_write(
	    path, &k, "s.csv", "code,name,address\na,Auk Fish,1 Quay\n");
	ck_assert_int_eq(
	    import_suppliers(&r, k.sn, path, "AB", NULL), clocks[_i].rc);
	ck_assert_int_eq(kitchen_count(&k, "SELECT count(*) FROM supplier"),
	    clocks[_i].rc == RC_OK);
	if (clocks[_i].rc != RC_OK)
		ck_assert_ptr_nonnull(strstr(err.text, "last record"));
}
END_TEST

/* Days the settings allow between two records: 10, as the sample says. */
static const struct {
	const char *why;
	int64_t ahead;    /* of the last record, seconds */
	const char *zone; /* recorded before; NULL: the settings' own */
	const char *says; /* NULL: no doubt */
} doubts[] = {
	{ "ten days is a holiday", -10 * 86400 + 60, NULL, NULL },
	{ "more asks", -10 * 86400 - 60, NULL, "more than 10 days after" },
	{ "another zone asks", -60, "Asia/Tokyo", "last record was in Asia" },
	{ "a clock that fell back asks", 3600, NULL, "before the last record" },
};

START_TEST(doubt_until_confirmed)
{
	struct moment m;
	struct err err = { 0 };
	struct buf out;
	char today[16], other[16], sql[120];
	day_no day;

	open_station(false, NULL);
	record_ahead(doubts[_i].ahead);
	if (doubts[_i].zone != NULL) {
		str_fmt(sql, sizeof(sql),
		    "UPDATE station SET value = '%s' WHERE key = 'zone'",
		    doubts[_i].zone);
		ck_assert_int_eq(kitchen_sql(k.db, sql), SQLITE_OK);
	}
	buf_init(&out, 1000);
	day = local_from_utc(clock_now(&k.sn->clock)).day;
	day_print(today, sizeof(today), day);
	day_print(other, sizeof(other), day + 1);
	if (doubts[_i].says == NULL) {
		ck_assert_int_eq(station_moment(&m, k.sn, "AB", NULL), RC_OK);
		ck_assert_int_eq(
		    watch_confirm(&out, k.sn, today, "AB", NULL), RC_REFUSED);
		buf_fini(&out);
		return;
	}
	ck_assert_int_eq(station_moment(&m, k.sn, "AB", &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text, doubts[_i].says) != NULL, "%s: %s",
	    doubts[_i].why, err.text);
	/* the wrong day is no confirmation */
	ck_assert_int_eq(
	    watch_confirm(&out, k.sn, other, "AB", NULL), RC_REFUSED);
	ck_assert_int_eq(station_moment(&m, k.sn, "AB", NULL), RC_REFUSED);
	ck_assert_int_eq(watch_confirm(&out, k.sn, today, "AB", NULL), RC_OK);
	ck_assert_int_eq(station_moment(&m, k.sn, "AB", NULL), RC_OK);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM clock_check"
			     " WHERE by = 'AB' AND doubt <> ''"),
	    1);
	buf_fini(&out);
}
END_TEST

START_TEST(now_is_for_training)
{
	struct err err = { 0 };

	open_station(false, NULL);
	ck_assert_int_eq(kitchen_station(&k, KITCHEN_NOW, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "training"));
	ck_assert_ptr_null(k.sn);
}
END_TEST

/* A training file under real settings, and the other way round. */
START_TEST(training_never_mixes)
{
	struct kitchen other;
	struct err err = { 0 };

	open_station(_i == 0, NULL);
	kitchen_make(&other, _i != 0);
	str_copy(other.db, sizeof(other.db), k.db);
	ck_assert_int_eq(kitchen_station(&other, NULL, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "training ="));
	kitchen_close(&other);
}
END_TEST

START_TEST(who_it_was)
{
	static const char *const bad[] = { "", "sixteen-letters!",
		"A\x07"
		"B",
		"\xff" };
	struct moment m;
	struct err err = { 0 };

	open_station(true, KITCHEN_NOW);
	ck_assert_int_eq(station_moment(&m, k.sn, bad[_i], &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "--by"));
	ck_assert_int_eq(
	    station_moment(&m, k.sn, "fifteen-letters", NULL), RC_OK);
	ck_assert_str_eq(m.by, "fifteen-letters");
	ck_assert_int_eq(m.offset_min, 0);
}
END_TEST

/*
 * The same station, its clock set while it is open: what a cook would be told
 * at the next record.  Both times stand in it.  Clocks in London went back at
 * 01:00 UTC on 25 October 2026 and go forward at 01:00 UTC on 28 March 2027
 * (tzdata; the last Sundays, Directive 2000/84/EC and SI 2002/262).
 */
static const struct {
	const char *why, *last, *now;
	const char *says; /* NULL: believed */
} sets[] = {
	{ "a minute on", "2026-11-25T10:05", "2026-11-25T10:06", NULL },
	{ "not a second passed", "2026-11-25T10:05", "2026-11-25T10:05", NULL },
	{ "a second back", "2026-11-25T10:05:01", "2026-11-25T10:05:00",
	    "before the last record of 2026-11-25 10:05" },
	{ "an hour back", "2026-11-25T10:05", "2026-11-25T09:05",
	    "before the last record of 2026-11-25 10:05" },
	{ "suspended over a week end", "2026-11-25T10:05", "2026-11-28T08:00",
	    NULL },
	{ "suspended for eleven days", "2026-11-25T10:05", "2026-12-06T10:06",
	    "more than 10 days after the last record of 2026-11-25 10:05" },
	{ "a lost battery", "2026-11-25T10:05", "2000-01-01T00:00",
	    "the last record is of 2026-11-25 10:05" },
	{ "last year", "2026-11-25T10:05", "2025-11-25T10:05",
	    "before this program was made" },
	{ "the hour that happens twice", "2026-10-25T01:30+01:00",
	    "2026-10-25T01:10Z", NULL },
	{ "the hour that happens twice, backwards", "2026-10-25T01:10Z",
	    "2026-10-25T01:30+01:00",
	    "before the last record of 2026-10-25 01:10" },
	{ "the hour that does not happen", "2027-03-28T00:59Z",
	    "2027-03-28T02:01+01:00", NULL },
};

START_TEST(set_while_open)
{
	struct moment at = { .by = "AB" };
	struct err err = { 0 };
	int64_t now;
	char reads[40];

	open_station(false, NULL);
	/* rows are numbered: this one is the last whatever its time */
	ck_assert_int_eq(
	    time_parse(&at.utc, "last", sets[_i].last, NULL), RC_OK);
	ck_assert_int_eq(store_begin(k.sn->st, NULL), RC_OK);
	ck_assert_int_eq(
	    audit_add(k.sn->st, &at, "test", "x", "y", NULL), RC_OK);
	ck_assert_int_eq(store_commit(k.sn->st, NULL), RC_OK);
	ck_assert_int_eq(time_parse(&now, "now", sets[_i].now, NULL), RC_OK);
	ck_assert_msg(watch_check(k.sn, now, &err) ==
		(sets[_i].says == NULL ? RC_OK : RC_REFUSED),
	    "%s: %s", sets[_i].why, err.text);
	if (sets[_i].says == NULL)
		return;
	ck_assert_msg(strstr(err.text, sets[_i].says) != NULL, "%s: %s",
	    sets[_i].why, err.text);
	str_fmt(reads, sizeof(reads), ", %02d:%02d (Europe/London)",
	    local_from_utc(now).hour, local_from_utc(now).minute);
	ck_assert_msg(
	    strstr(err.text, reads) != NULL, "%s: %s", sets[_i].why, err.text);
}
END_TEST

/* A backup never waits for a clock, and ends no doubt. */
START_TEST(backup_in_doubt)
{
	struct backup_wish w = { .folder = k.folder, .keep = 3, .by = "AB" };
	struct backup_done d;
	struct backup_list l;
	struct moment m;
	struct err err = { 0 };
	char today[16];
	struct buf out;

	open_station(false, NULL);
	record_ahead(3600);
	w.folder = k.folder;
	ck_assert_msg(backup_run(&d, k.sn, &w, &err) == RC_OK, "%s", err.text);
	ck_assert_str_eq(d.made.name, "pinbone-uncertain-0001.db");
	ck_assert_int_eq(d.made.day, DAY_NONE);
	/* its own row is the newest now, and the doubt stands */
	ck_assert_int_eq(station_moment(&m, k.sn, "AB", &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "before the last record of"));
	buf_init(&out, 1000);
	day_print(
	    today, sizeof(today), local_from_utc(clock_now(&k.sn->clock)).day);
	err_clear(&err);
	ck_assert_msg(watch_confirm(&out, k.sn, today, "AB", &err) == RC_OK,
	    "%s", err.text);
	buf_fini(&out);
	ck_assert_int_eq(station_moment(&m, k.sn, "AB", NULL), RC_OK);
	ck_assert_msg(backup_run(&d, k.sn, &w, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(d.made.number, 2);
	ck_assert_int_ne(d.made.day, DAY_NONE);
	ck_assert_int_eq(backup_list_open(&l, k.sn, k.folder, &err), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	backup_list_fini(&l);
}
END_TEST

Suite *
suite_ops_clock(void)
{
	Suite *s = suite_create("ops_clock");
	TCase *tc = tcase_create("clock");

	tcase_add_checked_fixture(tc, NULL, teardown);
	tcase_add_loop_test(tc, clock_rows, 0, (int)NELEM(clocks));
	tcase_add_loop_test(tc, doubt_until_confirmed, 0, (int)NELEM(doubts));
	tcase_add_test(tc, now_is_for_training);
	tcase_add_loop_test(tc, training_never_mixes, 0, 2);
	tcase_add_loop_test(tc, who_it_was, 0, 4);
	tcase_add_loop_test(tc, set_while_open, 0, NELEM(sets));
	tcase_add_test(tc, backup_in_doubt);
	suite_add_tcase(s, tc);
	return s;
}
