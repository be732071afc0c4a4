/*
 * test_ops_worker.c - what people say about labels, and two programs at one
 * queue.
 */
#include "unit.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/str.h"
#include "ops/printers.h"
#include "ops/queue.h"
#include "print/session.h"
#include "print/spool.h"
#include "queue_kitchen.h"

/* --- answers and cancels --------------------------------------------------*/

START_TEST(answers)
{
	static const char *const states[] = { "confirmed", "failed", "unsure" };
	struct print_job j = qk_queued(0, LABEL_FIRST), old, again;
	enum queue_answer a = (enum queue_answer)_i;

	ck_assert_int_eq(
	    queue_answer(&old, &again, qk.sn, qk_code(0), a, "LM", &qk_err),
	    RC_REFUSED);
	qk_force(j.id, "unsure");
	ck_assert_int_eq(
	    queue_answer(&old, &again, qk.sn, qk_code(0), a, "LM", NULL),
	    RC_OK);
	j = qk_now(j.id);
	ck_assert_str_eq(job_state_word(j.state), states[_i]);
	ck_assert_str_eq(j.said_by, "LM");
	ck_assert_int_eq(again.id != 0, a == ANSWER_NO);
	ck_assert_int_eq(kitchen_count(&qk,
			     "SELECT count(*) FROM audit WHERE"
			     " action = 'answer' AND by = 'LM'"),
	    1);
	if (a == ANSWER_NO) {
		/* It may lie around: the next one is marked. */
		ck_assert_str_eq(j.error, "said not to have come out by LM");
		ck_assert_int_eq(again.copy, 1);
		ck_assert_int_eq(qk_work(), RC_OK);
		ck_assert(qk_on_paper(0, "-reprint-1"));
		ck_assert(!qk_on_paper(0, ""));
		ck_assert_int_eq(qk_queued(0, LABEL_AGAIN).copy, 2);
	}
	if (a != ANSWER_LATER)
		ck_assert_int_eq(queue_answer(&old, &again, qk.sn, qk_code(0),
				     a, "LM", NULL),
		    RC_REFUSED);
}
END_TEST

START_TEST(answer_by_job)
{
	struct print_job a = qk_queued(0, LABEL_FIRST), b, old, again;
	char name[32];

	qk_force(a.id, "unsure");
	b = qk_queued(0, LABEL_AGAIN);
	qk_force(b.id, "unsure");
	/* Two questions: which one is meant? */
	ck_assert_int_eq(queue_answer(&old, &again, qk.sn, qk_code(0),
			     ANSWER_YES, "LM", &qk_err),
	    RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(qk_err.text, "name one by its job"));
	str_fmt(name, sizeof(name), "job%lld", (long long)a.id);
	ck_assert_int_eq(
	    queue_answer(&old, &again, qk.sn, name, ANSWER_YES, "LM", NULL),
	    RC_OK);
	ck_assert_int_eq(qk_now(a.id).state, JOB_CONFIRMED);
	ck_assert_int_eq(qk_now(b.id).state, JOB_UNSURE);
	str_fmt(name, sizeof(name), "%lld", (long long)b.id);
	ck_assert_int_eq(
	    queue_answer(&old, &again, qk.sn, name, ANSWER_NO, "LM", NULL),
	    RC_OK);
	ck_assert_int_eq(again.copy, 2);
	ck_assert_int_eq(
	    queue_answer(&old, &again, qk.sn, "job999", ANSWER_YES, "LM", NULL),
	    RC_NOTFOUND);
	ck_assert_int_eq(
	    queue_answer(&old, &again, qk.sn, "jobx", ANSWER_YES, "LM", NULL),
	    RC_INVALID);
}
END_TEST

START_TEST(cancels)
{
	struct print_job j = qk_queued(0, LABEL_FIRST), out;

	ck_assert_int_eq(
	    queue_cancel(&out, qk.sn, qk_code(0), "", NULL), RC_INVALID);
	ck_assert_int_eq(
	    queue_cancel(&out, qk.sn, qk_code(0), "LM", NULL), RC_OK);
	j = qk_now(j.id);
	ck_assert_int_eq(j.state, JOB_CANCELLED);
	ck_assert_str_eq(j.error, "cancelled by LM");
	ck_assert_int_eq(
	    queue_cancel(&out, qk.sn, qk_code(0), "LM", NULL), RC_REFUSED);
	ck_assert_int_eq(kitchen_count(&qk,
			     "SELECT count(*) FROM audit WHERE"
			     " action = 'cancel' AND by = 'LM'"),
	    1);
	ck_assert_int_eq(qk_work(), RC_OK);
	ck_assert(!qk_on_paper(0, ""));
	/* It never was a label: the next one is a first print. */
	ck_assert_int_eq(qk_queued(0, LABEL_FIRST).copy, 0);
}
END_TEST

/* Nobody can look for "job7": a page is called by its list. */
START_TEST(question_about_a_page)
{
	struct buf out;

	ck_assert_int_eq(
	    kitchen_sql(qk.db,
		"INSERT INTO ticket (id, kind, title, body, at_utc,"
		" offset_min, by) VALUES (7, 'recall', 'Recall 26329-019', '',"
		" 0, 0, 'AB'), (8, 'test', 'main', '', 0, 0, 'AB');"
		"INSERT INTO print_job (id, ticket_id, page, copy, state,"
		" language, printer, picture, error, at_utc, changed_utc, by)"
		" VALUES (70, 7, 2, 0, 'unsure', 'png', 'x', '', '', 0, 0,"
		" 'AB'), (80, 8, 1, 0, 'unsure', 'png', 'x', '', '', 0, 0,"
		" 'AB')"),
	    0);
	buf_init(&out, 10000);
	ck_assert_int_eq(queue_questions(&out, qk.sn, NULL), RC_OK);
	ck_assert_str_eq(buf_text(&out),
	    "did page 2 of Recall 26329-019 come out? pinbone printer "
	    "answer job70 yes|no|later\n"
	    "did the test label come out? pinbone printer answer job80 "
	    "yes|no|later\n");
	buf_fini(&out);
}
END_TEST

START_TEST(questions)
{
	struct print_job j, old, again;
	struct buf out;
	int i;

	for (i = 0; i < 6; i++) {
		j = qk_queued(i, LABEL_FIRST);
		qk_force(j.id, "unsure");
	}
	buf_init(&out, 10000);
	ck_assert_int_eq(queue_questions(&out, qk.sn, NULL), RC_OK);
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "did the label of "));
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "and 1 more"));
	ck_assert_int_eq(queue_answer(&old, &again, qk.sn, qk_code(0),
			     ANSWER_LATER, "LM", NULL),
	    RC_OK);
	buf_clear(&out);
	ck_assert_int_eq(queue_questions(&out, qk.sn, NULL), RC_OK);
	ck_assert_ptr_null(strstr(buf_text(&out), "more"));
	buf_fini(&out);
}
END_TEST

/* --- two programs ---------------------------------------------------------*/

/*
 * A child that holds the printing lock, as one that sends would: for `ms`, or
 * with 0 until release_lock().  At its end it runs the SQL `then`.
 */
static int keep;

static pid_t
holder(int ms, const char *then)
{
	struct spool_lock lock;
	pid_t pid;
	int held[2], end[2];
	char c;

	ck_assert_int_eq(pipe(held), 0);
	ck_assert_int_eq(pipe(end), 0);
	pid = fork();
	ck_assert_int_ge(pid, 0);
	if (pid == 0) {
		close(end[1]);
		if (spool_lock(&lock, qk.db, NULL) != RC_OK ||
		    write(held[1], "x", 1) != 1)
			_exit(1);
		pause_ms(ms);
		if (ms == 0 && read(end[0], &c, 1) != 0)
			_exit(1);
		if (then != NULL && kitchen_sql(qk.db, then) != 0)
			_exit(1);
		_exit(0);
	}
	ck_assert_int_eq(read(held[0], &c, 1), 1);
	close(held[0]);
	close(held[1]);
	close(end[0]);
	keep = end[1];
	return pid;
}

static void
release_lock(pid_t pid)
{
	int status;

	close(keep);
	ck_assert_int_eq(waitpid(pid, &status, 0), pid);
	ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
}

/* Who is not first waits for the one who is. */
START_TEST(others_wait)
{
	const char *c = qk_code(0);
	struct label_order o = { &c, 1, LABEL_FIRST, .by = "CD",
		.wait_ms = 5000 };
	pid_t pid = holder(200, "UPDATE print_job SET state = 'sent'");
	struct job_list jobs;
	struct print_job j;

	ck_assert_int_eq(label_print(&jobs, qk.sn, &o, &qk_err), RC_OK);
	ck_assert_int_eq(jobs.items[0].state, JOB_SENT);
	job_list_fini(&jobs);
	release_lock(pid);
	ck_assert_msg(!qk_on_paper(0, ""), "sent twice");
	/* And takes over when that one has ended. */
	pid = holder(100, NULL);
	c = qk_code(1);
	ck_assert_int_eq(label_print(&jobs, qk.sn, &o, &qk_err), RC_OK);
	job_list_fini(&jobs);
	release_lock(pid);
	ck_assert(qk_on_paper(1, ""));
	/* Not for ever. */
	pid = holder(0, NULL);
	ck_assert_int_eq(
	    kitchen_label(&j, &qk, qk_code(2), LABEL_FIRST), RC_RETRY);
	release_lock(pid);
}
END_TEST

/* Nobody's label is called unsure while somebody is sending it. */
START_TEST(start_while_sending)
{
	struct print_job j = qk_queued(0, LABEL_FIRST);
	pid_t pid;

	qk_force(j.id, "sending");
	pid = holder(0, NULL);
	ck_assert_int_eq(kitchen_station(&qk, KITCHEN_NOW, NULL), RC_OK);
	ck_assert_int_eq(qk.sn->unsure_labels, 0);
	ck_assert_int_eq(qk_now(j.id).state, JOB_SENDING);
	release_lock(pid);
	/* It died over it: whoever works the queue next finds that out. */
	ck_assert_int_eq(qk_work(), RC_OK);
	ck_assert_int_eq(qk_now(j.id).state, JOB_UNSURE);
}
END_TEST

static int told;

static void
count_told(void *arg, const struct print_job *job, const char *text)
{
	(void)arg;
	(void)job;
	(void)text;
	told++;
}

/* A worker that sleeps is woken by another program's record, and ends by a
 * signal. */
START_TEST(worker_wakes)
{
	volatile sig_atomic_t stop = 0;
	struct queue_told says = { count_told, NULL };
	struct print_job j;
	int64_t from;
	int status = 0;
	pid_t pid;

	station_close(qk.sn); /* a file is not taken along into a child */
	qk.sn = NULL;
	pid = fork();
	ck_assert_int_ge(pid, 0);
	if (pid == 0) {
		if (kitchen_station(&qk, KITCHEN_NOW, NULL) != RC_OK)
			_exit(9);
		_exit(queue_run(qk.sn, false, &stop, &says, NULL) == RC_OK ? 0
									   : 1);
	}
	ck_assert_int_eq(kitchen_station(&qk, KITCHEN_NOW, NULL), RC_OK);
	pause_ms(300); /* it is asleep by now */
	j = qk_queued(0, LABEL_FIRST);
	from = clock_ticks_ms();
	while (qk_now(j.id).state != JOB_SENT &&
	    clock_ticks_ms() - from < SPOOL_PAUSE_MOST_MS)
		pause_ms(10);
	ck_assert_int_eq(kill(pid, SIGKILL), 0);
	ck_assert_int_eq(waitpid(pid, &status, 0), pid);
	ck_assert_int_eq(qk_now(j.id).state, JOB_SENT);
	/* Well before it would have looked by itself. */
	ck_assert_int_lt(clock_ticks_ms() - from, SPOOL_PAUSE_MOST_MS);
	stop = 1;
	told = 0;
	qk_queued(1, LABEL_FIRST);
	ck_assert_int_eq(queue_run(qk.sn, false, &stop, &says, NULL), RC_OK);
	ck_assert_int_eq(told, 0);
}
END_TEST

START_TEST(pages)
{
	struct buf out;
	int f;

	qk_queued(0, LABEL_FIRST);
	qk_force(qk_queued(1, LABEL_FIRST).id, "failed");
	buf_init(&out, 100000);
	for (f = FORMAT_TEXT; f <= FORMAT_CSV; f++) {
		buf_clear(&out);
		ck_assert_int_eq(
		    queue_list(&out, qk.sn, (enum format)f, NULL), RC_OK);
		ck_assert_ptr_nonnull(strstr(buf_text(&out), "queued"));
		ck_assert_ptr_nonnull(strstr(buf_text(&out), "failed"));
		buf_clear(&out);
		ck_assert_int_eq(
		    printers_list(&out, qk.sn, (enum format)f, NULL), RC_OK);
		ck_assert_ptr_nonnull(strstr(buf_text(&out), "preview:"));
		buf_clear(&out);
		ck_assert_int_eq(
		    printers_status(&out, qk.sn, NULL, (enum format)f, NULL),
		    RC_OK);
		ck_assert_ptr_nonnull(
		    strstr(buf_text(&out), "cannot be asked"));
	}
	qk_gone(true);
	ck_assert_int_eq(
	    printers_status(&out, qk.sn, "MAIN", FORMAT_TEXT, NULL), RC_RETRY);
	ck_assert_int_eq(
	    printers_status(&out, qk.sn, "no", FORMAT_TEXT, NULL), RC_INVALID);
	qk_gone(false);
	buf_fini(&out);
}
END_TEST

Suite *
suite_ops_worker(void)
{
	Suite *s = suite_create("ops_worker");
	TCase *tc = tcase_create("queue");

	tcase_add_checked_fixture(tc, qk_setup, qk_teardown);
	tcase_set_timeout(tc, 30);
	tcase_add_loop_test(tc, answers, 0, 3);
	tcase_add_test(tc, answer_by_job);
	tcase_add_test(tc, cancels);
	tcase_add_test(tc, questions);
	tcase_add_test(tc, question_about_a_page);
	tcase_add_test(tc, others_wait);
	tcase_add_test(tc, start_while_sending);
	tcase_add_test(tc, worker_wakes);
	tcase_add_test(tc, pages);
	suite_add_tcase(s, tc);
	return s;
}
