/* test_ops_today.c - the day at a glance: what is shown when, and what counts.
 */
#include "unit.h"

#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "ops/close.h"
#include "ops/expect.h"
#include "ops/fate.h"
#include "ops/queue.h"
#include "ops/today.h"
#include "queue_kitchen.h"
#include "store/audit.h"
#include "store/store.h"
#include "trail_rig.h"

static struct kitchen k;
static struct err err;

static void
setup(void)
{
	err_clear(&err);
	kitchen_open(&k);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static struct today
load(struct station *sn)
{
	struct today t;

	ck_assert_msg(today_load(&t, sn, &err) == RC_OK, "%s", err.text);
	return t;
}

START_TEST(a_new_file)
{
	struct today t;

	kitchen_make(&k, true);
	ck_assert_int_eq(kitchen_station(&k, KITCHEN_NOW, &err), RC_OK);
	t = load(k.sn);
	ck_assert(!t.begun.menu && !t.begun.bookings && !t.begun.batches);
	ck_assert_int_eq(t.service_count, 0);
	ck_assert_int_eq(t.expired_count.units + t.today_count.units, 0);
	ck_assert_int_eq(t.held_count + t.queued + t.unsure, 0);
	ck_assert_str_eq(t.doubt, "");
	ck_assert_str_eq(t.path, k.db);
	ck_assert_int_gt(t.bytes, 4096);
	ck_assert_int_gt(t.free_bytes, 0);
	ck_assert_int_eq(t.schema, store_schema(k.sn->st));
	ck_assert_int_eq(t.printer_count, 1);
	ck_assert_str_eq(t.printers[0].name, "main");
	ck_assert(!t.scale);
	ck_assert_int_eq(today_work(&t, k.sn, &err), RC_OK);
	today_fini(&t);
	kitchen_close(&k);
}
END_TEST

/* Lunch is 12 to 15, dinner 18 to 23; both on 25 November, dinner on the 26th.
 */
static const struct {
	const char *why, *now;
	int count;
	enum today_stage stages[3];
	int day_offset[3];
} stages[] = {
	{ "in the morning all are to come", "2026-11-25T10:05", 3,
	    { TODAY_COMING, TODAY_COMING, TODAY_COMING }, { 0, 0, 1 } },
	{ "at its start it runs", "2026-11-25T12:00", 3,
	    { TODAY_RUNNING, TODAY_COMING, TODAY_COMING }, { 0, 0, 1 } },
	{ "a second before its end too", "2026-11-25T14:59:59", 3,
	    { TODAY_RUNNING, TODAY_COMING, TODAY_COMING }, { 0, 0, 1 } },
	{ "at its end it is over", "2026-11-25T15:00", 3,
	    { TODAY_OVER, TODAY_COMING, TODAY_COMING }, { 0, 0, 1 } },
	{ "after midnight yesterday's are to be closed", "2026-11-26T00:10", 3,
	    { TODAY_OVER, TODAY_OVER, TODAY_COMING }, { -1, -1, 0 } },
	{ "the day after only what yesterday left", "2026-11-27T09:00", 1,
	    { TODAY_OVER }, { -1 } },
	{ "a week later nothing", "2026-12-09T09:00", 0, { 0 }, { 0 } },
	{ "days before: the next day that has any", "2026-11-20T09:00", 2,
	    { TODAY_COMING, TODAY_COMING }, { 5, 5 } },
	{ "further ahead it is not looked", "2026-11-10T09:00", 0, { 0 },
	    { 0 } },
};

START_TEST(services)
{
	struct today t;
	int i;

	kitchen_at(&k, stages[_i].now);
	t = load(k.sn);
	ck_assert_msg(t.service_count == stages[_i].count, "%s: %d",
	    stages[_i].why, t.service_count);
	for (i = 0; i < t.service_count; i++) {
		ck_assert_msg(t.services[i].stage == stages[_i].stages[i],
		    "%s: %d is %d", stages[_i].why, i,
		    (int)t.services[i].stage);
		ck_assert_int_eq(
		    t.services[i].day - t.day, stages[_i].day_offset[i]);
	}
	/* the order is that of the day, not of the alphabet */
	if (t.service_count > 1 && t.services[0].day == t.services[1].day) {
		ck_assert_str_eq(t.services[0].name, "lunch");
		ck_assert_str_eq(t.services[1].name, "dinner");
		ck_assert_int_eq(t.services[0].covers, 40);
	}
	today_fini(&t);
}
END_TEST

START_TEST(a_closed_service)
{
	struct close_in in = { .service = "2026-11-25/lunch",
		.seated = 38,
		.walk_ins = 2,
		.by = "AB" };
	struct today t;
	struct buf out;

	kitchen_at(&k, "2026-11-25T15:30");
	buf_init(&out, 100000);
	ck_assert_msg(
	    close_service(&out, k.sn, &in, FORMAT_TEXT, &err) == RC_OK, "%s",
	    err.text);
	buf_fini(&out);
	t = load(k.sn);
	ck_assert_int_eq(t.services[0].stage, TODAY_CLOSED);
	today_fini(&t);
	/* and the next morning nobody has to be reminded of it */
	kitchen_at(&k, "2026-11-26T08:00");
	t = load(k.sn);
	ck_assert_int_eq(t.service_count, 2);
	ck_assert_str_eq(t.services[0].name, "dinner");
	ck_assert_int_eq(t.services[0].stage, TODAY_OVER);
	today_fini(&t);
}
END_TEST

/* Raw portions keep two days, the day of making is the first: until the end of
 * the 26th; gutted cod keeps four, until the end of the 28th. */
static const struct {
	const char *why, *now;
	int64_t expired, today, batches_expired, batches_today;
} expiries[] = {
	{ "the day they are made", "2026-11-25T20:00", 0, 0, 0, 0 },
	{ "from the first second of their last day", "2026-11-26T00:00:00", 0,
	    3, 0, 0 },
	{ "to the last", "2026-11-26T23:59:59", 0, 3, 0, 0 },
	{ "a second later they are expired", "2026-11-27T00:00:00", 3, 0, 0,
	    0 },
	{ "the batch's last day", "2026-11-28T12:00", 3, 0, 0, 1 },
	{ "all is expired", "2026-11-29T00:00", 3, 0, 1, 0 },
};

START_TEST(what_expires)
{
	struct batch b;
	struct breakdown made = kitchen_trays(&b, &k);
	struct today t;

	kitchen_at(&k, expiries[_i].now);
	t = load(k.sn);
	ck_assert_msg(t.expired_count.units == expiries[_i].expired &&
		t.today_count.units == expiries[_i].today &&
		t.expired_count.batches == expiries[_i].batches_expired &&
		t.today_count.batches == expiries[_i].batches_today,
	    "%s: %d %d %d %d", expiries[_i].why, (int)t.expired_count.units,
	    (int)t.today_count.units, (int)t.expired_count.batches,
	    (int)t.today_count.batches);
	ck_assert_int_eq(t.expired_count.servings, 4 * expiries[_i].expired);
	ck_assert_uint_eq(t.expired.count,
	    (size_t)(expiries[_i].expired + expiries[_i].batches_expired));
	ck_assert_uint_eq(t.expiring.count,
	    (size_t)(expiries[_i].today + expiries[_i].batches_today));
	if (expiries[_i].expired > 0) {
		ck_assert_str_eq(
		    t.expired.items[0].code, made.portions[0].code);
		ck_assert_str_eq(t.expired.items[0].name, "Cod, leeks");
		ck_assert_int_eq(t.expired.items[0].servings, 4);
	}
	if (expiries[_i].batches_expired > 0) {
		ck_assert(t.expired.items[3].batch);
		ck_assert_str_eq(t.expired.items[3].code, b.code);
		ck_assert_int_eq(t.expired.items[3].weight_g, 10000);
		ck_assert_int_eq(t.expired.items[3].fish, 5);
	}
	today_fini(&t);
	breakdown_fini(&made);
}
END_TEST

START_TEST(an_emptied_list_is_empty)
{
	struct batch b;
	struct breakdown made = kitchen_trays(&b, &k);
	struct discard_in in = { .reason = "past its use-by", .by = "CD" };
	struct discarded d;
	struct today t;
	int i;

	kitchen_at(&k, "2026-11-27T08:00");
	for (i = 0; i < 3; i++) {
		in.code = made.portions[i].code;
		ck_assert_int_eq(discard(&d, k.sn, &in, &err), RC_OK);
	}
	t = load(k.sn);
	ck_assert_int_eq(t.expired_count.units, 0);
	ck_assert_uint_eq(t.expired.count, 0);
	today_fini(&t);
	breakdown_fini(&made);
}
END_TEST

/* Nobody emptied anything for years: counts and lists stop. */
START_TEST(it_stops_counting)
{
	struct batch b;
	struct breakdown made = kitchen_trays(&b, &k);
	struct today t;

	ck_assert_int_eq(
	    kitchen_sql(k.db,
		"WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL"
		" SELECT i + 1 FROM n WHERE i < 3000)"
		"INSERT INTO portion (serial, code, prep_output_id,"
		" batch_id, cut_id, servings, left, weight_g,"
		" made_utc, made_offset_min, use_by_utc,"
		" use_by_why, by)"
		" SELECT 100000 + i, 'X' || i, prep_output_id,"
		" batch_id, cut_id, 2, 2, 100, made_utc,"
		" made_offset_min, use_by_utc, '{}', by"
		" FROM portion, n WHERE serial ="
		" (SELECT min(serial) FROM portion)"),
	    0);
	kitchen_at(&k, "2026-11-27T08:00");
	t = load(k.sn);
	ck_assert_int_eq(t.expired_count.units, STOP_COUNTING);
	ck_assert_uint_eq(t.expired.count, TODAY_ROWS_MAX);
	today_fini(&t);
	breakdown_fini(&made);
}
END_TEST

static void
put_hold(const char *code, const char *reason)
{
	ck_assert_msg(hold(NULL, k.sn, code, reason, "CD", &err) == RC_OK, "%s",
	    err.text);
}

START_TEST(holds)
{
	struct batch b;
	struct breakdown made = kitchen_trays(&b, &k);
	struct today t;

	put_hold(made.portions[1].code, "a box on the floor");
	put_hold(b.code, "the supplier called");
	kitchen_at(&k, "2026-11-26T08:00");
	t = load(k.sn);
	ck_assert_int_eq(t.held_count, 2);
	ck_assert_uint_eq(t.held.count, 2);
	ck_assert(t.held.items[0].batch);
	ck_assert_str_eq(t.held.items[0].code, b.code);
	ck_assert_str_eq(t.held.items[0].species, "COD");
	ck_assert(!t.held.items[1].batch);
	ck_assert_str_eq(t.held.items[1].name, "Cod, leeks");
	ck_assert_str_eq(t.held.items[1].reason, "a box on the floor");
	/* a hold on the batch is one on all its portions */
	ck_assert(t.expiring.items[0].held && t.expiring.items[2].held);
	today_fini(&t);
	ck_assert_int_eq(
	    release(NULL, k.sn, b.code, "it was another lot", "CD", &err),
	    RC_OK);
	t = load(k.sn);
	ck_assert_int_eq(t.held_count, 1);
	ck_assert(!t.expiring.items[0].held && t.expiring.items[1].held);
	today_fini(&t);
	breakdown_fini(&made);
}
END_TEST

/* --- what is left to make -------------------------------------------------*/

static void
want(const char *service, const char *a, const char *b, const char *c)
{
	struct expect_in in = { .service = service, .covers = -1, .by = "CD" };
	const char *words[] = { a, b, c };
	struct buf out;
	size_t i;

	for (i = 0; i < 3 && words[i] != NULL; i++) {
		in.words[i].kind = EXPECT_FIXED;
		in.words[i].text = words[i];
		in.count++;
	}
	buf_init(&out, 100000);
	ck_assert_msg(expect(&out, k.sn, &in, FORMAT_TEXT, &err) == RC_OK, "%s",
	    err.text);
	buf_fini(&out);
}

static void
to_make(int64_t lunch, int64_t dinner)
{
	struct today t = load(k.sn);

	ck_assert_int_eq(t.services[0].to_make, TODAY_NOT_ASKED);
	ck_assert_msg(today_work(&t, k.sn, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(t.services[0].to_make, lunch);
	ck_assert_int_eq(t.services[1].to_make, dinner);
	today_fini(&t);
}

/* The chef fixed every dish, so the sums can be worked by hand. */
START_TEST(left_to_make)
{
	struct batch b;
	struct breakdown made;
	struct use_in in = { .service = "2026-11-25/lunch", .by = "CD" };
	struct portion p;

	want(
	    "2026-11-25/lunch", "cod-leeks:5", "plaice-crumb:7", "cod-cakes:3");
	want(
	    "2026-11-25/dinner", "cod-leeks:20", "sole-bone:6", "mussel-pot:9");
	to_make(5 + 7 + 3, 20 + 6 + 9);
	/* 12 portions of cod on hand: lunch takes 5, dinner has the other 7 */
	made = kitchen_trays(&b, &k);
	to_make(7 + 3, 20 - 7 + 6 + 9);
	/* one tray of 4 on hold: 8 are left, 5 for lunch, 3 for dinner */
	put_hold(made.portions[2].code, "to be looked at");
	to_make(7 + 3, 20 - 3 + 6 + 9);
	/* 4 used for lunch: it wants one more, and dinner has the other 3 */
	in.code = made.portions[0].code;
	ck_assert_msg(use(&p, k.sn, &in, &err) == RC_OK, "%s", err.text);
	to_make(7 + 3, 20 - 3 + 6 + 9);
	/* lunch is over: only dinner is left, and nothing is reckoned for it */
	kitchen_at(&k, "2026-11-25T15:10");
	to_make(TODAY_UNKNOWN, 20 - 4 + 6 + 9);
	breakdown_fini(&made);
}
END_TEST

/* --- labels, faults -------------------------------------------------------*/

START_TEST(labels)
{
	struct print_job a, b;
	struct today t;
	struct today_fault f;

	t = load(qk.sn);
	ck_assert_int_eq(t.queued + t.unsure, 0);
	today_fini(&t);
	a = qk_queued(0, LABEL_FIRST);
	b = qk_queued(1, LABEL_FIRST);
	ck_assert_int_eq(today_fault(&f, qk.sn, &err), RC_OK);
	ck_assert_int_eq(f.kind, FAULT_NONE); /* nobody has tried them yet */
	qk_gone(true);
	ck_assert_int_eq(qk_work(), RC_RETRY);
	t = load(qk.sn);
	ck_assert_int_eq(t.queued, 2);
	ck_assert_int_eq(t.printers[0].queued, 2);
	ck_assert_str_ne(t.printers[0].why, "");
	today_fini(&t);
	ck_assert_int_eq(today_fault(&f, qk.sn, &err), RC_OK);
	ck_assert_int_eq(f.kind, FAULT_PRINTER);
	ck_assert_int_eq(f.count, 2);
	ck_assert_str_eq(f.printer, "main");
	qk_force(a.id, "unsure");
	qk_force(b.id, "cancelled");
	t = load(qk.sn);
	ck_assert_int_eq(t.unsure, 1);
	ck_assert_int_eq(t.queued, 0);
	today_fini(&t);
	ck_assert_int_eq(today_fault(&f, qk.sn, &err), RC_OK);
	ck_assert_int_eq(f.kind, FAULT_UNSURE);
	/* somebody looks later: it is still unsure, and no longer a fault */
	ck_assert_int_eq(
	    queue_answer(&a, &b, qk.sn, qk_code(0), ANSWER_LATER, "CD", &err),
	    RC_OK);
	ck_assert_int_eq(today_fault(&f, qk.sn, &err), RC_OK);
	ck_assert_int_eq(f.kind, FAULT_NONE);
	t = load(qk.sn);
	ck_assert_int_eq(t.unsure, 1);
	ck_assert_int_eq(t.later, 1);
	today_fini(&t);
}
END_TEST

/* A printer that was taken out of the settings keeps its labels. */
START_TEST(labels_of_no_printer)
{
	struct print_job a = qk_queued(0, LABEL_FIRST);
	struct today t;

	(void)a;
	kitchen_sql(qk.db, "UPDATE print_job SET printer_name = 'gone'");
	t = load(qk.sn);
	ck_assert_int_eq(t.queued, 1);
	ck_assert_int_eq(t.printers[0].queued, 0);
	today_fini(&t);
}
END_TEST

START_TEST(given_up)
{
	struct print_job a = qk_queued(0, LABEL_FIRST), old, again;
	struct today t;

	qk_force(a.id, "unsure");
	ck_assert_int_eq(queue_answer(&old, &again, qk.sn, qk_code(0),
			     ANSWER_DROP, "CD", &err),
	    RC_OK);
	ck_assert_int_eq(again.id, 0);
	a = qk_now(a.id);
	ck_assert_int_eq(a.state, JOB_FAILED);
	ck_assert_str_eq(a.said_by, "CD");
	t = load(qk.sn);
	ck_assert_int_eq(t.unsure + t.queued, 0);
	today_fini(&t);
	/* it may lie around all the same */
	ck_assert_int_eq(qk_queued(0, LABEL_AGAIN).copy, 1);
}
END_TEST

START_TEST(rows)
{
	struct print_job a, b, c;
	struct queue_rows r;

	a = qk_queued(0, LABEL_FIRST);
	b = qk_queued(1, LABEL_FIRST);
	c = qk_queued(2, LABEL_FIRST);
	(void)qk_queued(3, LABEL_FIRST);
	qk_force(c.id, "unsure");
	qk_force(a.id, "sent");
	ck_assert_int_eq(queue_rows(&r, qk.sn, 50, &err), RC_OK);
	ck_assert_uint_eq(r.unsure.count, 1);
	ck_assert_int_eq(r.unsure.items[0].id, c.id);
	ck_assert_uint_eq(r.waiting.count, 2);
	ck_assert_int_eq(r.waiting.items[0].id, b.id);
	ck_assert_uint_eq(r.settled.count, 1);
	ck_assert_int_eq(r.settled.items[0].id, a.id);
	ck_assert_str_eq(r.settled.items[0].code, qk_code(0));
	queue_rows_fini(&r);
	ck_assert_int_eq(queue_rows(&r, qk.sn, 1, &err), RC_OK);
	ck_assert_uint_eq(r.waiting.count, 1);
	queue_rows_fini(&r);
}
END_TEST

START_TEST(the_clock_is_the_gravest)
{
	struct moment at = { .by = "AB" };
	struct today_fault f;
	struct today t;

	kitchen_make(&k, false);
	ck_assert_int_eq(kitchen_station(&k, NULL, &err), RC_OK);
	at.utc = clock_now(&k.sn->clock) + 3600;
	rig_note(k.sn->st, &at);
	ck_assert_int_eq(today_fault(&f, k.sn, &err), RC_OK);
	ck_assert_int_eq(f.kind, FAULT_CLOCK);
	ck_assert_ptr_nonnull(strstr(f.text, "before the last record"));
	t = load(k.sn);
	ck_assert_str_eq(t.doubt, f.text);
	ck_assert_int_eq(t.last_utc, at.utc);
	today_fini(&t);
	kitchen_close(&k);
}
END_TEST

Suite *
suite_ops_today(void)
{
	Suite *s = suite_create("ops_today");
	TCase *c = tcase_create("day");

	tcase_add_checked_fixture(c, setup, teardown);
	tcase_add_loop_test(c, services, 0, NELEM(stages));
	tcase_add_test(c, a_closed_service);
	tcase_add_loop_test(c, what_expires, 0, NELEM(expiries));
	tcase_add_test(c, an_emptied_list_is_empty);
	tcase_add_test(c, it_stops_counting);
	tcase_add_test(c, holds);
	tcase_add_test(c, left_to_make);
	suite_add_tcase(s, c);
	c = tcase_create("labels");
	tcase_add_checked_fixture(c, qk_setup, qk_teardown);
	tcase_add_test(c, labels);
	tcase_add_test(c, labels_of_no_printer);
	tcase_add_test(c, given_up);
	tcase_add_test(c, rows);
	suite_add_tcase(s, c);
	c = tcase_create("alone");
	tcase_add_test(c, a_new_file);
	tcase_add_test(c, the_clock_is_the_gravest);
	suite_add_tcase(s, c);
	return s;
}
