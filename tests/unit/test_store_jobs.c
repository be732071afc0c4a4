/*
 * test_store_jobs.c - labels asked for, as the station file keeps them: every
 * state, what is left in mid-air, and who said what.
 */
#include "unit.h"

#include <stdlib.h>

#include "base/str.h"
#include "kitchen.h"
#include "spool_rig.h"
#include "store/jobs.h"
#include "store/store.h"
#include "trail_rig.h"

static struct kitchen k;
static struct store *st;
static struct moment at = { 1795600000, 0, "AB" };

static void
setup(void)
{
	kitchen_open(&k);
	st = k.sn->st;
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static void
begin(void)
{
	ck_assert_int_eq(store_begin(st, NULL), RC_OK);
}

static void
commit(void)
{
	rig_commit(st);
}

/* A job put straight into a state. */
static int64_t
job(int64_t batch_id, enum job_state state, const char *error)
{
	struct print_job j = { .subject.batch_id = batch_id,
		.language = "png",
		.printer = "preview:x",
		.printer_name = "main",
		.picture = "0",
		.at = at };

	begin();
	ck_assert_int_eq(job_insert(st, &j, NULL), RC_OK);
	if (state != JOB_QUEUED)
		ck_assert_int_eq(
		    job_move(st, &j, state, error, at.utc, NULL), RC_OK);
	commit();
	return j.id;
}

START_TEST(job_round_trip)
{
	struct receive_in in = kitchen_cod();
	struct batch b = kitchen_receive(&k, &in);
	struct print_job j = { .says = SAYS_HOLD, .copy = 3, .at = at }, got;
	struct moment later = { at.utc + 60, 0, "XY" };
	int i;

	j.subject.batch_id = b.id;
	str_copy(j.language, sizeof(j.language), "zpl");
	str_copy(j.printer, sizeof(j.printer), "usb:any");
	str_copy(j.printer_name, sizeof(j.printer_name), "bench");
	str_copy(j.picture, sizeof(j.picture), "00ff");
	for (i = 0; i < JOB_SAYS_COUNT; i++) {
		j.says = (enum job_says)i;
		begin();
		ck_assert_int_eq(job_insert(st, &j, NULL), RC_OK);
		commit();
		ck_assert_int_eq(job_get(&got, st, j.id, NULL), RC_OK);
		ck_assert_int_eq(got.says, i);
	}
	ck_assert_int_eq(got.subject.batch_id, b.id);
	ck_assert_int_eq(got.subject.portion_id, 0);
	ck_assert_int_eq(got.ticket_id, 0);
	ck_assert_int_eq(got.page, 0);
	ck_assert_int_eq(got.copy, 3);
	ck_assert_int_eq(got.state, JOB_QUEUED);
	ck_assert_str_eq(got.language, "zpl");
	ck_assert_str_eq(got.printer, "usb:any");
	ck_assert_str_eq(got.printer_name, "bench");
	ck_assert_str_eq(got.picture, "00ff");
	ck_assert_str_eq(got.error, "");
	ck_assert_int_eq(got.at.utc, at.utc);
	ck_assert_str_eq(got.at.by, "AB");
	ck_assert_str_eq(got.said_by, "");
	ck_assert_str_eq(got.code, b.code);
	/* What is really sent stands on record before the first byte. */
	str_copy(got.language, sizeof(got.language), "tspl");
	str_copy(got.printer, sizeof(got.printer), "usb:1");
	str_copy(got.picture, sizeof(got.picture), "77");
	begin();
	ck_assert_int_eq(job_start(st, &got, at.utc + 5, NULL), RC_OK);
	commit();
	ck_assert_int_eq(job_get(&got, st, j.id, NULL), RC_OK);
	ck_assert_int_eq(got.state, JOB_SENDING);
	ck_assert_str_eq(got.language, "tspl");
	ck_assert_str_eq(got.printer, "usb:1");
	ck_assert_str_eq(got.picture, "77");
	ck_assert_int_eq(got.changed_utc, at.utc + 5);
	/* Who still holds the old state comes too late. */
	begin();
	ck_assert_int_eq(
	    job_move(st, &j, JOB_CANCELLED, "x", at.utc, NULL), RC_NOTFOUND);
	ck_assert_int_eq(
	    job_said(st, &got, JOB_UNSURE, "look", &later, NULL), RC_OK);
	commit();
	ck_assert_int_eq(job_get(&got, st, j.id, NULL), RC_OK);
	ck_assert_str_eq(got.said_by, "XY");
	ck_assert_str_eq(got.error, "look");
	ck_assert_int_eq(got.changed_utc, later.utc);
	ck_assert_int_eq(job_get(&got, st, j.id + 1, NULL), RC_NOTFOUND);
}
END_TEST

/* A page of a list is a job too; a test label is one. */
START_TEST(job_of_a_list)
{
	struct print_job j = { .page = 1,
		.language = "png",
		.printer = "preview:x",
		.printer_name = "main",
		.picture = "0",
		.at = at };
	struct print_job got;

	begin();
	j.ticket_id = spool_ticket(st, &at);
	ck_assert_int_eq(job_insert(st, &j, NULL), RC_OK);
	commit();
	ck_assert_int_eq(job_get(&got, st, j.id, NULL), RC_OK);
	ck_assert_int_eq(got.ticket_id, j.ticket_id);
	ck_assert_int_eq(got.page, 1);
	ck_assert_str_eq(got.code, "");
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM ticket WHERE kind = 'test'"
			     " AND title = 'x' AND body = ''"),
	    1);
}
END_TEST

START_TEST(queue_in_order)
{
	struct receive_in in = kitchen_cod();
	struct batch b = kitchen_receive(&k, &in);
	int64_t id[JOB_STATE_COUNT + 2], after = 0;
	struct print_job j;
	struct job_list l;
	int i;

	for (i = 0; i < JOB_STATE_COUNT; i++)
		id[i] = job(b.id, (enum job_state)i, "");
	id[i] = job(b.id, JOB_QUEUED, "");
	ck_assert_int_eq(job_next(&j, st, after, NULL), RC_OK);
	ck_assert_int_eq(j.id, id[JOB_QUEUED]);
	ck_assert_int_eq(job_next(&j, st, j.id, NULL), RC_OK);
	ck_assert_int_eq(j.id, id[JOB_STATE_COUNT]);
	ck_assert_int_eq(job_next(&j, st, j.id, NULL), RC_END);
	ck_assert_int_eq(job_list_open(&l, st, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 4);
	ck_assert_int_eq(l.items[0].id, id[JOB_QUEUED]);
	ck_assert_int_eq(l.items[1].id, id[JOB_SENDING]);
	ck_assert_int_eq(l.items[2].id, id[JOB_UNSURE]);
	ck_assert_int_eq(l.items[3].id, id[JOB_STATE_COUNT]);
	job_list_fini(&l);
	ck_assert_int_eq(job_list_settled(&l, st, 2, NULL), RC_OK);
	ck_assert_uint_eq(l.count, 2);
	ck_assert_int_eq(l.items[0].id, id[JOB_CANCELLED]);
	ck_assert_int_eq(l.items[1].id, id[JOB_FAILED]);
	job_list_fini(&l);
}
END_TEST

/* May half a label be stuck in the printer? */
START_TEST(printer_in_doubt)
{
	static const struct {
		enum job_state state;
		bool said, want;
		const char *why;
	} rows[] = {
		{ JOB_QUEUED, false, false, "never touched it" },
		{ JOB_SENDING, false, false, "is this one" },
		{ JOB_SENT, false, false, "went well" },
		{ JOB_CONFIRMED, false, false, "went well" },
		{ JOB_CONFIRMED, true, true, "a person saw it" },
		{ JOB_UNSURE, false, true, "half" },
		{ JOB_UNSURE, true, true, "half, later" },
		{ JOB_FAILED, false, false, "was never sent" },
		{ JOB_FAILED, true, true, "half, and did not come out" },
		{ JOB_CANCELLED, false, false, "was never sent" },
	};
	struct receive_in in = kitchen_cod();
	struct batch b = kitchen_receive(&k, &in);
	struct print_job j;
	bool got;
	size_t i;

	ck_assert_int_eq(job_in_doubt(&got, st, "main", NULL), RC_OK);
	ck_assert(!got);
	for (i = 0; i < NELEM(rows); i++) {
		/* What went before counts no more. */
		job(b.id, JOB_SENT, "");
		j.id = job(b.id, rows[i].said ? JOB_UNSURE : rows[i].state, "");
		j.state = JOB_UNSURE;
		begin();
		if (rows[i].said)
			ck_assert_int_eq(
			    job_said(st, &j, rows[i].state, "", &at, NULL),
			    RC_OK);
		commit();
		ck_assert_int_eq(job_in_doubt(&got, st, "main", NULL), RC_OK);
		ck_assert_msg(got == rows[i].want, "%s: %s",
		    job_state_word(rows[i].state), rows[i].why);
		ck_assert_int_eq(job_in_doubt(&got, st, "other", NULL), RC_OK);
		ck_assert(!got);
	}
}
END_TEST

/* What was in mid-air is unsure; what was only queued waits on; what was sent
 * but spoken against is unsure; the rest is as it was. */
START_TEST(orphans)
{
	static const enum job_state becomes[JOB_STATE_COUNT] = {
		[JOB_QUEUED] = JOB_QUEUED,
		[JOB_SENDING] = JOB_UNSURE,
		[JOB_SENT] = JOB_SENT,
		[JOB_CONFIRMED] = JOB_CONFIRMED,
		[JOB_UNSURE] = JOB_UNSURE,
		[JOB_FAILED] = JOB_FAILED,
		[JOB_CANCELLED] = JOB_CANCELLED,
	};
	struct receive_in in = kitchen_cod();
	struct batch b = kitchen_receive(&k, &in);
	struct subject s = { .batch_id = b.id };
	struct job_list l;
	int i, count = 0;
	bool orphan;

	for (i = 0; i < JOB_STATE_COUNT; i++)
		job(b.id, (enum job_state)i, "");
	job(b.id, JOB_SENT, "out of labels");
	ck_assert_int_eq(job_count_orphans(&count, st, NULL), RC_OK);
	ck_assert_int_eq(count, 2);
	begin();
	ck_assert_int_eq(job_orphans(&count, st, at.utc + 9, NULL), RC_OK);
	commit();
	ck_assert_int_eq(count, 2);
	ck_assert_int_eq(job_list_subject(&l, st, &s, NULL), RC_OK);
	ck_assert_uint_eq(l.count, JOB_STATE_COUNT + 1);
	for (i = 0; i < JOB_STATE_COUNT; i++) {
		orphan = i == JOB_SENDING;
		ck_assert_msg(l.items[i].state == becomes[i], "%s became %s",
		    job_state_word((enum job_state)i),
		    job_state_word(l.items[i].state));
		ck_assert_int_eq(
		    l.items[i].changed_utc, orphan ? at.utc + 9 : at.utc);
		ck_assert_str_eq(l.items[i].error,
		    orphan ? "the program ended while it was being sent" : "");
	}
	ck_assert_int_eq(l.items[i].state, JOB_UNSURE);
	ck_assert_str_eq(l.items[i].error, "out of labels");
	job_list_fini(&l);
	ck_assert_int_eq(job_count_orphans(&count, st, NULL), RC_OK);
	ck_assert_int_eq(count, 0);
}
END_TEST

/* A station that starts tells of them, once. */
START_TEST(start_after_a_cut)
{
	struct receive_in in = kitchen_cod();
	struct batch b = kitchen_receive(&k, &in);

	job(b.id, JOB_SENDING, "");
	job(b.id, JOB_QUEUED, "");
	ck_assert_int_eq(kitchen_station(&k, KITCHEN_NOW, NULL), RC_OK);
	ck_assert_int_eq(k.sn->unsure_labels, 1);
	ck_assert_int_eq(kitchen_station(&k, KITCHEN_NOW, NULL), RC_OK);
	ck_assert_int_eq(k.sn->unsure_labels, 0);
}
END_TEST

/* Another program's record is seen without reading the file, our own not. */
START_TEST(file_version)
{
	struct receive_in in = kitchen_cod();
	struct batch b = kitchen_receive(&k, &in);
	int64_t before, after;

	ck_assert_int_eq(job_file_version(&before, st, NULL), RC_OK);
	job(b.id, JOB_QUEUED, "");
	ck_assert_int_eq(job_file_version(&after, st, NULL), RC_OK);
	ck_assert_int_eq(before, after);
	ck_assert_int_eq(
	    kitchen_sql(k.db, "UPDATE print_job SET error = 'x'"), 0);
	ck_assert_int_eq(job_file_version(&after, st, NULL), RC_OK);
	ck_assert_int_ne(before, after);
}
END_TEST

Suite *
suite_store_jobs(void)
{
	Suite *s = suite_create("store_jobs");
	TCase *tc = tcase_create("jobs");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, job_round_trip);
	tcase_add_test(tc, job_of_a_list);
	tcase_add_test(tc, queue_in_order);
	tcase_add_test(tc, printer_in_doubt);
	tcase_add_test(tc, orphans);
	tcase_add_test(tc, start_after_a_cut);
	tcase_add_test(tc, file_version);
	suite_add_tcase(s, tc);
	return s;
}
