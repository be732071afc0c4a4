/*
 * test_ops_queue.c - the queue as a kitchen uses it: what is queued and which
 * copy it is, what is looked up once more before a label goes out, a printer
 * that is not there.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "ops/fate.h"
#include "ops/queue.h"
#include "queue_kitchen.h"

/* --- queueing -------------------------------------------------------------*/

START_TEST(all_or_none)
{
	const char *codes[] = { qk_code(0), qk_code(1), "001H7C", qk_code(2) };
	struct label_order o = { codes, 4, LABEL_FIRST, .by = "CD" };
	struct job_list jobs;
	int64_t before = kitchen_records(&qk);

	ck_assert_int_eq(label_print(&jobs, qk.sn, &o, NULL), RC_NOTFOUND);
	ck_assert_uint_eq(jobs.count, 0);
	ck_assert_int_eq(kitchen_records(&qk), before);
	codes[2] = qk_code(0); /* twice: one label */
	ck_assert_int_eq(label_print(&jobs, qk.sn, &o, NULL), RC_OK);
	ck_assert_uint_eq(jobs.count, 4);
	ck_assert_int_eq(jobs.items[0].id, jobs.items[2].id);
	ck_assert_uint_eq(queue_count_out(&jobs), 4);
	job_list_fini(&jobs);
	ck_assert_int_eq(
	    kitchen_count(&qk, "SELECT count(*) FROM print_job"), 3);
	ck_assert_int_eq(kitchen_count(&qk,
			     "SELECT count(*) FROM print_job"
			     " WHERE state = 'sent' AND error = ''"),
	    3);
}
END_TEST

/* Asked for again while it waits: that job, not another one. */
START_TEST(asked_again)
{
	struct print_job j = qk_queued(0, LABEL_FIRST), again;
	const char *c = qk_code(0);
	struct label_order o = { &c, 1, LABEL_AGAIN, "bench", "CD", true, 0 };
	struct job_list jobs;

	again = qk_queued(0, LABEL_FIRST);
	ck_assert_int_eq(again.id, j.id);
	again = qk_queued(0, LABEL_AGAIN);
	ck_assert_int_eq(again.id, j.id);
	ck_assert_int_eq(label_print(&jobs, qk.sn, &o, &qk_err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(qk_err.text, "there are: main"));
	ck_assert_int_eq(
	    kitchen_label(&again, &qk, qk_code(0), LABEL_FIRST), RC_OK);
	ck_assert_int_eq(again.id, j.id);
	ck_assert_int_eq(again.state, JOB_SENT);
	ck_assert_int_eq(
	    kitchen_count(&qk, "SELECT count(*) FROM print_job"), 1);
}
END_TEST

START_TEST(copies_count_per_kind)
{
	struct print_job j;

	ck_assert_int_eq(
	    kitchen_label(&j, &qk, qk_code(0), LABEL_FIRST), RC_OK);
	ck_assert_int_eq(
	    kitchen_label(&j, &qk, qk_code(0), LABEL_AGAIN), RC_OK);
	ck_assert_int_eq(j.copy, 1);
	ck_assert_int_eq(
	    kitchen_label(&j, &qk, qk_code(0), LABEL_ON_HOLD), RC_REFUSED);
	ck_assert_int_eq(
	    hold(NULL, qk.sn, qk_code(0), "smells", "AB", NULL), RC_OK);
	ck_assert_int_eq(
	    kitchen_label(&j, &qk, qk_code(0), LABEL_AGAIN), RC_REFUSED);
	ck_assert_int_eq(
	    kitchen_label(&j, &qk, qk_code(0), LABEL_ON_HOLD), RC_OK);
	ck_assert_int_eq(j.copy, 0);
	ck_assert_int_eq(j.says, SAYS_HOLD);
	ck_assert(qk_on_paper(0, "-hold"));
	ck_assert_int_eq(
	    kitchen_label(&j, &qk, qk_code(0), LABEL_ON_HOLD), RC_OK);
	ck_assert_int_eq(j.copy, 1);
	ck_assert(qk_on_paper(0, "-hold-reprint-1"));
	ck_assert_int_eq(
	    release(NULL, qk.sn, qk_code(0), "sniffed again", "AB", NULL),
	    RC_OK);
	ck_assert_int_eq(
	    kitchen_label(&j, &qk, qk_code(0), LABEL_ON_HOLD), RC_REFUSED);
	ck_assert_int_eq(
	    kitchen_label(&j, &qk, qk_code(0), LABEL_AGAIN), RC_OK);
	ck_assert_int_eq(j.copy, 2);
}
END_TEST

/* Which copies count: every one that may lie around somewhere. */
START_TEST(what_counts)
{
	static const struct {
		const char *state;
		int copy;
	} rows[] = { { "sent", 1 }, { "confirmed", 1 }, { "unsure", 1 },
		{ "failed", 0 }, { "cancelled", 0 } };
	struct print_job j = qk_queued(_i, LABEL_FIRST), next;

	qk_force(j.id, rows[_i].state);
	next = qk_queued(_i, rows[_i].copy > 0 ? LABEL_AGAIN : LABEL_FIRST);
	ck_assert_int_eq(next.copy, rows[_i].copy);
	ck_assert_int_ne(next.id, j.id);
}
END_TEST

/* --- looked up once more --------------------------------------------------*/

static void
make_held(int i)
{
	ck_assert_int_eq(hold(NULL, qk.sn, qk_code(i), "x", "AB", NULL), RC_OK);
}

static void
hold_batch(int i)
{
	(void)i;
	ck_assert_int_eq(
	    hold(NULL, qk.sn, qk_made.batch.code, "x", "AB", NULL), RC_OK);
}

static void
make_expired(int i)
{
	(void)i;
	kitchen_at(&qk, "2026-11-27T00:00");
}

static void
make_used(int i)
{
	struct use_in in = { .code = qk_code(i),
		.servings = 1,
		.by = "EF",
		.reason = "test" };
	struct portion p;

	ck_assert_int_eq(use(&p, qk.sn, &in, NULL), RC_OK);
}

static void
make_discarded(int i)
{
	struct discard_in in = { .code = qk_code(i),
		.servings = 1,
		.by = "EF",
		.reason = "fell down" };
	struct discarded d;

	ck_assert_int_eq(discard(&d, qk.sn, &in, NULL), RC_OK);
}

static const struct {
	void (*happens)(int i);
	const char *says;
} meanwhile[] = {
	{ make_held, "on hold: x" },
	{ hold_batch, "on hold: x" },
	{ make_expired, "has expired" },
	{ make_used, "is used up" },
	{ make_discarded, "is used up" },
};

START_TEST(not_any_more)
{
	struct print_job j = qk_queued(0, LABEL_FIRST);

	meanwhile[_i].happens(0);
	ck_assert_int_eq(qk_work(), RC_OK);
	j = qk_now(j.id);
	ck_assert_int_eq(j.state, JOB_CANCELLED);
	ck_assert_ptr_nonnull(strstr(j.error, meanwhile[_i].says));
	ck_assert(!qk_on_paper(0, ""));
}
END_TEST

START_TEST(hold_label_of_what_was_released)
{
	struct print_job j;

	make_held(0);
	j = qk_queued(0, LABEL_ON_HOLD);
	ck_assert_int_eq(
	    release(NULL, qk.sn, qk_code(0), "fine", "AB", NULL), RC_OK);
	ck_assert_int_eq(qk_work(), RC_OK);
	ck_assert_int_eq(qk_now(j.id).state, JOB_CANCELLED);
	ck_assert(!qk_on_paper(0, "-hold"));
}
END_TEST

/* The picture on record is of what went out, not of what was queued. */
START_TEST(drawn_anew)
{
	struct print_job j = qk_queued(0, LABEL_FIRST), sent;

	str_copy(
	    qk.sn->cfg.storage_text, sizeof(qk.sn->cfg.storage_text), "On ice");
	ck_assert_int_eq(qk_work(), RC_OK);
	sent = qk_now(j.id);
	ck_assert_int_eq(sent.state, JOB_SENT);
	ck_assert_str_ne(sent.picture, j.picture);
}
END_TEST

START_TEST(clock_in_doubt)
{
	struct print_job j = qk_queued(0, LABEL_FIRST);

	qk.sn->clock.fixed = false;
	/* The last record is of another time than the computer's. */
	qk.sn->cfg.jump_days = 0;
	ck_assert_int_eq(
	    kitchen_sql(qk.db,
		"UPDATE station SET value = 'Asia/Tokyo' WHERE key = 'zone'"),
	    0);
	ck_assert_int_eq(qk_work(), RC_REFUSED);
	ck_assert_int_eq(qk_now(j.id).state, JOB_QUEUED);
	ck_assert(!qk_on_paper(0, ""));
}
END_TEST

/* --- a printer that is not there ------------------------------------------*/

START_TEST(waits_and_comes_out)
{
	struct print_job j;

	qk_gone(true);
	ck_assert_int_eq(
	    kitchen_label(&j, &qk, qk_code(0), LABEL_FIRST), RC_RETRY);
	ck_assert_int_eq(j.state, JOB_QUEUED);
	ck_assert_str_ne(j.error, "");
	ck_assert_int_eq(qk_work(), RC_RETRY);
	ck_assert_ptr_nonnull(strstr(qk_err.text, "labels are left"));
	qk_gone(false);
	ck_assert_int_eq(qk_work(), RC_OK);
	ck_assert_int_eq(qk_now(j.id).state, JOB_SENT);
	ck_assert(qk_on_paper(0, ""));
}
END_TEST

START_TEST(waits_as_long_as_told)
{
	const char *c = qk_code(0);
	struct label_order o = { &c, 1, LABEL_FIRST, .by = "CD",
		.wait_ms = 400 };
	struct job_list jobs;
	int64_t from = clock_ticks_ms();

	qk_gone(true);
	ck_assert_int_eq(label_print(&jobs, qk.sn, &o, &qk_err), RC_RETRY);
	ck_assert_int_ge(clock_ticks_ms() - from, 400);
	ck_assert_int_lt(clock_ticks_ms() - from, 5000);
	ck_assert_ptr_nonnull(strstr(qk_err.text, "stays in the queue"));
	ck_assert_ptr_nonnull(strstr(qk_err.text, "pinbone printer cancel"));
	job_list_fini(&jobs);
}
END_TEST

Suite *
suite_ops_queue(void)
{
	Suite *s = suite_create("ops_queue");
	TCase *tc = tcase_create("queue");

	tcase_add_checked_fixture(tc, qk_setup, qk_teardown);
	tcase_set_timeout(tc, 30);
	tcase_add_test(tc, all_or_none);
	tcase_add_test(tc, asked_again);
	tcase_add_test(tc, copies_count_per_kind);
	tcase_add_loop_test(tc, what_counts, 0, 5);
	tcase_add_loop_test(tc, not_any_more, 0, (int)NELEM(meanwhile));
	tcase_add_test(tc, hold_label_of_what_was_released);
	tcase_add_test(tc, drawn_anew);
	tcase_add_test(tc, clock_in_doubt);
	tcase_add_test(tc, waits_and_comes_out);
	tcase_add_test(tc, waits_as_long_as_told);
	suite_add_tcase(s, tc);
	return s;
}
