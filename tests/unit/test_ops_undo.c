/*
 * test_ops_undo.c - a use, discard, count, hold or label taken back leaves
 * everything as if it had never happened, and nothing of the record is gone.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "ops/close.h"
#include "ops/fate.h"
#include "ops/freeze.h"
#include "ops/undo.h"
#include "store/bookings.h"
#include "store/sales.h"
#include "undo_rig.h"

/* --- steps of units ------------------------------------------------------- */

static void
do_use(const struct breakdown *b)
{
	undo_use_of(b->portions[0].code, 3, "EF");
}

static void
do_discard(const struct breakdown *b)
{
	undo_discard_of(b->portions[1].code, "EF");
}

static void
do_missing(const struct breakdown *b)
{
	undo_count_of(b->portions[1].code, 1, "EF");
}

static void
do_found(const struct breakdown *b)
{
	undo_count_of(b->portions[1].code, 1, "AB");
	undo_count_of(b->portions[1].code, 3, "EF");
}

static void
do_hold_unit(const struct breakdown *b)
{
	ck_assert_int_eq(
	    hold(NULL, uk.sn, b->portions[2].code, "smells", "EF", NULL),
	    RC_OK);
}

static void
do_hold_batch(const struct breakdown *b)
{
	(void)b;
	ck_assert_int_eq(
	    hold(NULL, uk.sn, uk_cod.code, "recall call", "EF", NULL), RC_OK);
}

static void
do_discard_batch(const struct breakdown *b)
{
	(void)b;
	undo_discard_of(uk_cod.code, "EF");
}

static void
do_label(const struct breakdown *b)
{
	const char *codes[] = { b->portions[0].code, b->portions[1].code };
	struct label_order order = { codes, 2, LABEL_FIRST, .by = "EF",
		.only_queue = true };
	struct job_list jobs;

	ck_assert_int_eq(label_print(&jobs, uk.sn, &order, NULL), RC_OK);
	job_list_fini(&jobs);
}

static const struct {
	const char *why;
	void (*go)(const struct breakdown *b);
	enum undo_kind kind;
	const char *what, *does;
} step_rows[] = {
	{ "a use", do_use, UNDO_USE, "used 3 of 4 cod-leeks, 000-01U",
	    "4 of 4 are on hand again" },
	{ "a discard", do_discard, UNDO_DISCARD, "discarded 4 of 4 cod-leeks",
	    "4 of 4 are on hand again" },
	{ "some missing", do_missing, UNDO_COUNT, "counted and missed 3 of 4",
	    "4 of 4 are on hand again" },
	{ "some found", do_found, UNDO_COUNT, "counted and found 2 of 4",
	    "1 of 4 are on hand again" },
	{ "a unit held", do_hold_unit, UNDO_HOLD, "hold on 000-0",
	    "may be used again" },
	{ "a batch held", do_hold_batch, UNDO_HOLD, "(recall call)",
	    "may be used again" },
	{ "a batch discarded", do_discard_batch, UNDO_DISCARD,
	    "discarded 10.000 kg of batch", "10.000 kg of batch" },
	{ "two labels queued", do_label, UNDO_LABEL, "labels asked for: 2",
	    "2 queued labels will not print" },
};

START_TEST(step_row)
{
	struct breakdown b = undo_trays();
	struct undo_offer o;
	char *before;

	kitchen_at(&uk, "2026-11-25T10:20");
	if (step_rows[_i].go == do_found)
		undo_count_of(b.portions[1].code, 1, "AB");
	before = undo_state();
	kitchen_at(&uk, "2026-11-25T10:25");
	if (step_rows[_i].go == do_found)
		undo_count_of(b.portions[1].code, 3, "EF");
	else
		step_rows[_i].go(&b);
	kitchen_at(&uk, "2026-11-25T10:40");
	undo_nothing("XY");
	o = undo_offered("EF");
	ck_assert_msg(strstr(o.what, step_rows[_i].what) != NULL, "%s", o.what);
	ck_assert_msg(strstr(o.what, ", at 10:25 by EF") != NULL, "%s", o.what);
	ck_assert_msg(strstr(o.does, step_rows[_i].does) != NULL, "%s", o.does);
	undo_take_back("EF", step_rows[_i].kind);
	undo_same_state(before);
	undo_sums();
	/* Once: what is before it is somebody else's, or nothing. */
	undo_nothing("EF");
	ck_assert_int_eq(kitchen_count(&uk, "SELECT count(*) FROM undone"),
	    step_rows[_i].kind == UNDO_LABEL ? 2 : 1);
	breakdown_fini(&b);
}
END_TEST

/* After the sum of one sees what another took. */
START_TEST(each_their_own)
{
	struct breakdown b = undo_trays();
	char *before;

	undo_use_of(b.portions[0].code, 1, "EF");
	before = undo_state();
	undo_use_of(b.portions[0].code, 2, "CD");
	undo_use_of(b.portions[0].code, 1, "EF");
	undo_take_back("CD", UNDO_USE);
	/* EF's two, newest first. */
	undo_take_back("EF", UNDO_USE);
	undo_same_state(before);
	undo_take_back(NULL, UNDO_USE);
	undo_sums();
	ck_assert_int_eq(
	    kitchen_count(&uk, "SELECT min(left = servings) FROM portion"), 1);
	breakdown_fini(&b);
}
END_TEST

START_TEST(half_an_hour)
{
	struct breakdown b = undo_trays();

	undo_use_of(b.portions[0].code, 1, "EF");
	kitchen_at(&uk, "2026-11-25T10:35");
	undo_offered("EF");
	kitchen_at(&uk, "2026-11-25T10:36");
	undo_nothing("EF");
	undo_nothing(NULL);
	breakdown_fini(&b);
}
END_TEST

START_TEST(another_step_meanwhile)
{
	struct breakdown b = undo_trays();
	struct undo_offer o;
	struct undo_in in = { .of = "EF", .by = "EF" };
	struct err err = { 0 };
	int64_t records;

	undo_use_of(b.portions[0].code, 1, "EF");
	in.step = undo_offered("EF").step;
	undo_use_of(b.portions[0].code, 1, "EF");
	records = kitchen_records(&uk);
	ck_assert_int_eq(undo_do(&o, uk.sn, &in, &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text, "meanwhile") != NULL, "%s", err.text);
	ck_assert_int_eq(kitchen_records(&uk), records);
	breakdown_fini(&b);
}
END_TEST

START_TEST(release_back)
{
	struct breakdown b = undo_trays();

	ck_assert_int_eq(
	    hold(NULL, uk.sn, uk_cod.code, "recall call", "AB", NULL), RC_OK);
	ck_assert_int_eq(
	    release(NULL, uk.sn, uk_cod.code, "wrong lot", "EF", NULL), RC_OK);
	undo_take_back("EF", UNDO_RELEASE);
	ck_assert_int_eq(kitchen_count(&uk,
			     "SELECT count(*) FROM hold WHERE released_utc IS"
			     " NULL AND reason = 'recall call (released:"
			     " entered by mistake)'"),
	    1);
	/* Released again by another: nothing of it is left to take back. */
	undo_nothing("EF");
	breakdown_fini(&b);
}
END_TEST

/* --- what stays ----------------------------------------------------------- */

START_TEST(counted_since)
{
	struct breakdown b = undo_trays();

	undo_use_of(b.portions[0].code, 2, "EF");
	undo_count_of(b.portions[0].code, 2, "AB"); /* as recorded */
	undo_stays("EF", "was counted at 10:05 by AB");
	breakdown_fini(&b);
}
END_TEST

START_TEST(frozen_since)
{
	struct breakdown b = undo_trays();
	const char *code = b.portions[0].code;
	struct freeze_in in = { .codes = &code,
		.count = 1,
		.temp = "-20",
		.reason = "too many",
		.by = "AB" };
	struct kept f;
	struct err err = { 0 };

	undo_use_of(b.portions[0].code, 2, "EF");
	ck_assert_msg(freeze(&f, uk.sn, &in, &err) == RC_OK, "%s", err.text);
	undo_stays("EF", "was frozen at 10:05 by AB");
	undo_stays("AB", "comes out by thaw");
	breakdown_fini(&b);
}
END_TEST

START_TEST(service_closed)
{
	struct breakdown b = undo_trays();
	struct close_in in = { .service = "2026-11-25/lunch",
		.seated = 40,
		.walk_ins = 0,
		.by = "AB" };
	struct buf out;
	struct err err = { 0 };

	kitchen_at(&uk, "2026-11-25T14:50");
	undo_use_of(b.portions[0].code, 2, "EF");
	kitchen_at(&uk, "2026-11-25T15:01");
	buf_init(&out, 1 << 20);
	ck_assert_msg(
	    close_service(&out, uk.sn, &in, FORMAT_TEXT, &err) == RC_OK, "%s",
	    err.text);
	buf_fini(&out);
	undo_stays("EF", "service 2026-11-25/lunch is closed");
	undo_stays("AB", "close it again with the right numbers");
	breakdown_fini(&b);
}
END_TEST

/* --- scanned out ---------------------------------------------------------- */

START_TEST(sold_counts_follow)
{
	struct breakdown b = undo_trays();
	struct sale_list l;
	struct service s;
	int64_t used = -1;

	kitchen_at(&uk, "2026-11-25T12:30");
	ck_assert_int_eq(
	    service_get(&s, uk.sn->st,
		local_from_utc(clock_now(&uk.sn->clock)).day, "lunch", NULL),
	    RC_OK);
	undo_use_of(b.portions[0].code, 3, "EF");
	undo_use_of(b.portions[1].code, 2, "EF");
	undo_take_back("EF", UNDO_USE);
	ck_assert_int_eq(sale_list_used(&l, uk.sn->st, s.id, NULL), RC_OK);
	ck_assert_int_eq(l.count, 1);
	ck_assert_int_eq(l.items[0].sold, 3);
	sale_list_fini(&l);
	ck_assert_int_eq(
	    service_used(&used, uk.sn->st, s.id, "cod-leeks", "COD", NULL),
	    RC_OK);
	ck_assert_int_eq(used, 3);
	undo_take_back("EF", UNDO_USE);
	/* Nobody scanned anything out: there is no row, not a zero. */
	ck_assert_int_eq(sale_list_used(&l, uk.sn->st, s.id, NULL), RC_OK);
	ck_assert_int_eq(l.count, 0);
	sale_list_fini(&l);
	ck_assert_int_eq(
	    service_used(&used, uk.sn->st, s.id, "cod-leeks", "COD", NULL),
	    RC_OK);
	ck_assert_int_eq(used, 0);
	breakdown_fini(&b);
}
END_TEST

Suite *
suite_ops_undo(void)
{
	Suite *s = suite_create("ops_undo");
	TCase *tc = tcase_create("all");

	tcase_add_checked_fixture(tc, undo_setup, undo_teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, step_row, 0, NELEM(step_rows));
	tcase_add_test(tc, each_their_own);
	tcase_add_test(tc, half_an_hour);
	tcase_add_test(tc, another_step_meanwhile);
	tcase_add_test(tc, release_back);
	tcase_add_test(tc, counted_since);
	tcase_add_test(tc, frozen_since);
	tcase_add_test(tc, service_closed);
	tcase_add_test(tc, sold_counts_follow);
	suite_add_tcase(s, tc);
	return s;
}
