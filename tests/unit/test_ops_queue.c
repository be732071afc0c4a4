/*
 * test_ops_queue.c - the queue as a kitchen uses it: real records, what is
 * looked up once more before a label goes out, answers, cancels, hold labels,
 * a worker, and two programs at it.
 */
#include "unit.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/file.h"
#include "base/str.h"
#include "kitchen.h"
#include "ops/fate.h"
#include "ops/printers.h"
#include "ops/queue.h"
#include "print/session.h"
#include "print/spool.h"
#include "store/store.h"

static struct kitchen k;
static struct breakdown made;
static struct err err;

static void
setup(void)
{
	struct receive_in in = kitchen_cod();
	struct kitchen_cut cut = { "cod-leeks", 6, 1, 990, 10000, 5 };
	struct batch b;

	kitchen_open(&k);
	b = kitchen_receive(&k, &in);
	made = kitchen_break(&k, b.code, &cut);
	err_clear(&err);
}

static void
teardown(void)
{
	breakdown_fini(&made);
	kitchen_close(&k);
}

static const char *
code(int i)
{
	return made.portions[i].code;
}

/* Only queued. */
static struct print_job
queued(int i, enum label_want want)
{
	const char *c = code(i);
	struct label_order o = { &c, 1, want, .by = "CD", .only_queue = true };
	struct print_job j;
	struct job_list jobs;

	ck_assert_msg(
	    label_print(&jobs, k.sn, &o, &err) == RC_OK, "%s", err.text);
	ck_assert_uint_eq(jobs.count, 1);
	j = jobs.items[0];
	job_list_fini(&jobs);
	ck_assert_int_eq(j.state, JOB_QUEUED);
	return j;
}

static struct print_job
now(int64_t id)
{
	struct print_job j;

	ck_assert_int_eq(job_get(&j, k.sn->st, id, NULL), RC_OK);
	return j;
}

static enum rc
work(void)
{
	volatile sig_atomic_t stop = 0;

	err_clear(&err);
	return queue_run(k.sn, true, &stop, NULL, &err);
}

/* Set straight into the file, as a crash would leave it. */
static void
force(int64_t id, const char *state)
{
	char sql[160];

	str_fmt(sql, sizeof(sql),
	    "UPDATE print_job SET state = '%s', error = 'x' WHERE id = %lld",
	    state, (long long)id);
	ck_assert_int_eq(kitchen_sql(k.db, sql), 0);
}

static bool
on_paper(int i, const char *rest)
{
	char path[600], shown[CODE_SIZE];

	str_fmt(path, sizeof(path), "%s/labels/portion-%s%s.png", k.folder,
	    code_show(shown, code(i)), rest);
	return file_exists(path);
}

/* A printer that is not there: a folder that cannot be made. */
static void
printer_gone(bool gone)
{
	char path[400];

	str_fmt(path, sizeof(path), "%s/labels", k.folder);
	if (gone)
		rmdir(path); /* an empty one; else there is none */
	if (gone)
		ck_assert_int_eq(file_write(path, "x", 1, NULL), RC_OK);
	else
		ck_assert_int_eq(unlink(path), 0);
}

/* --- queueing -------------------------------------------------------------*/

START_TEST(all_or_none)
{
	const char *codes[] = { code(0), code(1), "001H7C", code(2) };
	struct label_order o = { codes, 4, LABEL_FIRST, .by = "CD" };
	struct job_list jobs;
	int64_t before = kitchen_records(&k);

	ck_assert_int_eq(label_print(&jobs, k.sn, &o, NULL), RC_NOTFOUND);
	ck_assert_uint_eq(jobs.count, 0);
	ck_assert_int_eq(kitchen_records(&k), before);
	codes[2] = code(0); /* twice: one label */
	ck_assert_int_eq(label_print(&jobs, k.sn, &o, NULL), RC_OK);
	ck_assert_uint_eq(jobs.count, 4);
	ck_assert_int_eq(jobs.items[0].id, jobs.items[2].id);
	ck_assert_uint_eq(queue_count_out(&jobs), 4);
	job_list_fini(&jobs);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM print_job"), 3);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM print_job"
			     " WHERE state = 'sent' AND error = ''"),
	    3);
}
END_TEST

/* Asked for again while it waits: that job, not another one. */
START_TEST(asked_again)
{
	struct print_job j = queued(0, LABEL_FIRST), again;
	const char *c = code(0);
	struct label_order o = { &c, 1, LABEL_AGAIN, "bench", "CD", true, 0 };
	struct job_list jobs;

	again = queued(0, LABEL_FIRST);
	ck_assert_int_eq(again.id, j.id);
	again = queued(0, LABEL_AGAIN);
	ck_assert_int_eq(again.id, j.id);
	ck_assert_int_eq(label_print(&jobs, k.sn, &o, &err), RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "there are: main"));
	ck_assert_int_eq(
	    kitchen_label(&again, &k, code(0), LABEL_FIRST), RC_OK);
	ck_assert_int_eq(again.id, j.id);
	ck_assert_int_eq(again.state, JOB_SENT);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM print_job"), 1);
}
END_TEST

START_TEST(copies_count_per_kind)
{
	struct print_job j;

	ck_assert_int_eq(kitchen_label(&j, &k, code(0), LABEL_FIRST), RC_OK);
	ck_assert_int_eq(kitchen_label(&j, &k, code(0), LABEL_AGAIN), RC_OK);
	ck_assert_int_eq(j.copy, 1);
	ck_assert_int_eq(
	    kitchen_label(&j, &k, code(0), LABEL_ON_HOLD), RC_REFUSED);
	ck_assert_int_eq(
	    hold(NULL, k.sn, code(0), "smells", "AB", NULL), RC_OK);
	ck_assert_int_eq(
	    kitchen_label(&j, &k, code(0), LABEL_AGAIN), RC_REFUSED);
	ck_assert_int_eq(kitchen_label(&j, &k, code(0), LABEL_ON_HOLD), RC_OK);
	ck_assert_int_eq(j.copy, 0);
	ck_assert_int_eq(j.says, SAYS_HOLD);
	ck_assert(on_paper(0, "-hold"));
	ck_assert_int_eq(kitchen_label(&j, &k, code(0), LABEL_ON_HOLD), RC_OK);
	ck_assert_int_eq(j.copy, 1);
	ck_assert(on_paper(0, "-hold-reprint-1"));
	ck_assert_int_eq(
	    release(NULL, k.sn, code(0), "sniffed again", "AB", NULL), RC_OK);
	ck_assert_int_eq(
	    kitchen_label(&j, &k, code(0), LABEL_ON_HOLD), RC_REFUSED);
	ck_assert_int_eq(kitchen_label(&j, &k, code(0), LABEL_AGAIN), RC_OK);
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
	struct print_job j = queued(_i, LABEL_FIRST), next;

	force(j.id, rows[_i].state);
	next = queued(_i, rows[_i].copy > 0 ? LABEL_AGAIN : LABEL_FIRST);
	ck_assert_int_eq(next.copy, rows[_i].copy);
	ck_assert_int_ne(next.id, j.id);
}
END_TEST

/* --- looked up once more --------------------------------------------------*/

static void
make_held(int i)
{
	ck_assert_int_eq(hold(NULL, k.sn, code(i), "x", "AB", NULL), RC_OK);
}

static void
hold_batch(int i)
{
	(void)i;
	ck_assert_int_eq(
	    hold(NULL, k.sn, made.batch.code, "x", "AB", NULL), RC_OK);
}

static void
make_expired(int i)
{
	(void)i;
	kitchen_at(&k, "2026-11-27T00:00");
}

static void
make_used(int i)
{
	struct use_in in = {
		.code = code(i), .servings = 1, .by = "EF", .reason = "test"
	};
	struct portion p;

	ck_assert_int_eq(use(&p, k.sn, &in, NULL), RC_OK);
}

static void
make_discarded(int i)
{
	struct discard_in in = { .code = code(i),
		.servings = 1,
		.by = "EF",
		.reason = "fell down" };
	struct discarded d;

	ck_assert_int_eq(discard(&d, k.sn, &in, NULL), RC_OK);
}

static const struct {
	void (*happens)(int i);
	const char *says;
} meanwhile[] = {
	{ make_held, "is on hold" },
	{ hold_batch, "is on hold" },
	{ make_expired, "has expired" },
	{ make_used, "is used up" },
	{ make_discarded, "is used up" },
};

START_TEST(not_any_more)
{
	struct print_job j = queued(0, LABEL_FIRST);

	meanwhile[_i].happens(0);
	ck_assert_int_eq(work(), RC_OK);
	j = now(j.id);
	ck_assert_int_eq(j.state, JOB_CANCELLED);
	ck_assert_ptr_nonnull(strstr(j.error, meanwhile[_i].says));
	ck_assert(!on_paper(0, ""));
}
END_TEST

START_TEST(hold_label_of_what_was_released)
{
	struct print_job j;

	make_held(0);
	j = queued(0, LABEL_ON_HOLD);
	ck_assert_int_eq(
	    release(NULL, k.sn, code(0), "fine", "AB", NULL), RC_OK);
	ck_assert_int_eq(work(), RC_OK);
	ck_assert_int_eq(now(j.id).state, JOB_CANCELLED);
	ck_assert(!on_paper(0, "-hold"));
}
END_TEST

/* The picture on record is of what went out, not of what was queued. */
START_TEST(drawn_anew)
{
	struct print_job j = queued(0, LABEL_FIRST), sent;

	str_copy(
	    k.sn->cfg.storage_text, sizeof(k.sn->cfg.storage_text), "On ice");
	ck_assert_int_eq(work(), RC_OK);
	sent = now(j.id);
	ck_assert_int_eq(sent.state, JOB_SENT);
	ck_assert_str_ne(sent.picture, j.picture);
}
END_TEST

START_TEST(clock_in_doubt)
{
	struct print_job j = queued(0, LABEL_FIRST);

	k.sn->clock.fixed = false;
	/* The last record is of another time than the computer's. */
	k.sn->cfg.jump_days = 0;
	ck_assert_int_eq(
	    kitchen_sql(k.db,
		"UPDATE station SET value = 'Asia/Tokyo' WHERE key = 'zone'"),
	    0);
	ck_assert_int_eq(work(), RC_REFUSED);
	ck_assert_int_eq(now(j.id).state, JOB_QUEUED);
	ck_assert(!on_paper(0, ""));
}
END_TEST

/* --- a printer that is not there ------------------------------------------*/

START_TEST(waits_and_comes_out)
{
	struct print_job j;

	printer_gone(true);
	ck_assert_int_eq(kitchen_label(&j, &k, code(0), LABEL_FIRST), RC_RETRY);
	ck_assert_int_eq(j.state, JOB_QUEUED);
	ck_assert_str_ne(j.error, "");
	ck_assert_int_eq(work(), RC_RETRY);
	ck_assert_ptr_nonnull(strstr(err.text, "labels are left"));
	printer_gone(false);
	ck_assert_int_eq(work(), RC_OK);
	ck_assert_int_eq(now(j.id).state, JOB_SENT);
	ck_assert(on_paper(0, ""));
}
END_TEST

START_TEST(waits_as_long_as_told)
{
	const char *c = code(0);
	struct label_order o = { &c, 1, LABEL_FIRST, .by = "CD",
		.wait_ms = 400 };
	struct job_list jobs;
	int64_t from = clock_ticks_ms();

	printer_gone(true);
	ck_assert_int_eq(label_print(&jobs, k.sn, &o, &err), RC_RETRY);
	ck_assert_int_ge(clock_ticks_ms() - from, 400);
	ck_assert_int_lt(clock_ticks_ms() - from, 5000);
	ck_assert_ptr_nonnull(strstr(err.text, "stays in the queue"));
	ck_assert_ptr_nonnull(strstr(err.text, "pinbone printer cancel"));
	job_list_fini(&jobs);
}
END_TEST

/* --- answers and cancels --------------------------------------------------*/

START_TEST(answers)
{
	static const char *const states[] = { "confirmed", "failed", "unsure" };
	struct print_job j = queued(0, LABEL_FIRST), old, again;
	enum queue_answer a = (enum queue_answer)_i;

	ck_assert_int_eq(
	    queue_answer(&old, &again, k.sn, code(0), a, "LM", &err),
	    RC_REFUSED);
	force(j.id, "unsure");
	ck_assert_int_eq(
	    queue_answer(&old, &again, k.sn, code(0), a, "LM", NULL), RC_OK);
	j = now(j.id);
	ck_assert_str_eq(job_state_word(j.state), states[_i]);
	ck_assert_str_eq(j.said_by, "LM");
	ck_assert_int_eq(again.id != 0, a == ANSWER_NO);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit WHERE"
			     " action = 'answer' AND by = 'LM'"),
	    1);
	if (a == ANSWER_NO) {
		/* It may lie around: the next one is marked. */
		ck_assert_str_eq(j.error, "said not to have come out by LM");
		ck_assert_int_eq(again.copy, 1);
		ck_assert_int_eq(work(), RC_OK);
		ck_assert(on_paper(0, "-reprint-1"));
		ck_assert(!on_paper(0, ""));
		ck_assert_int_eq(queued(0, LABEL_AGAIN).copy, 2);
	}
	if (a != ANSWER_LATER)
		ck_assert_int_eq(
		    queue_answer(&old, &again, k.sn, code(0), a, "LM", NULL),
		    RC_REFUSED);
}
END_TEST

START_TEST(answer_by_job)
{
	struct print_job a = queued(0, LABEL_FIRST), b, old, again;
	char name[32];

	force(a.id, "unsure");
	b = queued(0, LABEL_AGAIN);
	force(b.id, "unsure");
	/* Two questions: which one is meant? */
	ck_assert_int_eq(
	    queue_answer(&old, &again, k.sn, code(0), ANSWER_YES, "LM", &err),
	    RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "name one by its job"));
	str_fmt(name, sizeof(name), "job%lld", (long long)a.id);
	ck_assert_int_eq(
	    queue_answer(&old, &again, k.sn, name, ANSWER_YES, "LM", NULL),
	    RC_OK);
	ck_assert_int_eq(now(a.id).state, JOB_CONFIRMED);
	ck_assert_int_eq(now(b.id).state, JOB_UNSURE);
	str_fmt(name, sizeof(name), "%lld", (long long)b.id);
	ck_assert_int_eq(
	    queue_answer(&old, &again, k.sn, name, ANSWER_NO, "LM", NULL),
	    RC_OK);
	ck_assert_int_eq(again.copy, 2);
	ck_assert_int_eq(
	    queue_answer(&old, &again, k.sn, "job999", ANSWER_YES, "LM", NULL),
	    RC_NOTFOUND);
	ck_assert_int_eq(
	    queue_answer(&old, &again, k.sn, "jobx", ANSWER_YES, "LM", NULL),
	    RC_INVALID);
}
END_TEST

START_TEST(cancels)
{
	struct print_job j = queued(0, LABEL_FIRST), out;

	ck_assert_int_eq(
	    queue_cancel(&out, k.sn, code(0), "", NULL), RC_INVALID);
	ck_assert_int_eq(queue_cancel(&out, k.sn, code(0), "LM", NULL), RC_OK);
	j = now(j.id);
	ck_assert_int_eq(j.state, JOB_CANCELLED);
	ck_assert_str_eq(j.error, "cancelled by LM");
	ck_assert_int_eq(
	    queue_cancel(&out, k.sn, code(0), "LM", NULL), RC_REFUSED);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM audit WHERE"
			     " action = 'cancel' AND by = 'LM'"),
	    1);
	ck_assert_int_eq(work(), RC_OK);
	ck_assert(!on_paper(0, ""));
	/* It never was a label: the next one is a first print. */
	ck_assert_int_eq(queued(0, LABEL_FIRST).copy, 0);
}
END_TEST

START_TEST(questions)
{
	struct print_job j, old, again;
	struct buf out;
	int i;

	for (i = 0; i < 6; i++) {
		j = queued(i, LABEL_FIRST);
		force(j.id, "unsure");
	}
	buf_init(&out, 10000);
	ck_assert_int_eq(queue_questions(&out, k.sn, NULL), RC_OK);
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "portion "));
	ck_assert_ptr_nonnull(strstr(buf_text(&out), "and 1 more"));
	ck_assert_int_eq(
	    queue_answer(&old, &again, k.sn, code(0), ANSWER_LATER, "LM", NULL),
	    RC_OK);
	buf_clear(&out);
	ck_assert_int_eq(queue_questions(&out, k.sn, NULL), RC_OK);
	ck_assert_ptr_null(strstr(buf_text(&out), "more"));
	buf_fini(&out);
}
END_TEST

/* --- two programs ---------------------------------------------------------*/

/* A child that holds the printing lock for `ms`, as one that sends would. */
static pid_t
holder(int ms, const char *then)
{
	struct spool_lock lock;
	pid_t pid;
	int p[2];
	char c;

	ck_assert_int_eq(pipe(p), 0);
	pid = fork();
	ck_assert_int_ge(pid, 0);
	if (pid == 0) {
		if (spool_lock(&lock, k.db, NULL) != RC_OK)
			_exit(1);
		if (write(p[1], "x", 1) != 1)
			_exit(1);
		pause_ms(ms);
		if (then != NULL && kitchen_sql(k.db, then) != 0)
			_exit(1);
		_exit(0);
	}
	ck_assert_int_eq(read(p[0], &c, 1), 1);
	close(p[0]);
	close(p[1]);
	return pid;
}

static void
gone(pid_t pid)
{
	int status;

	ck_assert_int_eq(waitpid(pid, &status, 0), pid);
	ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
}

/* Who is not first waits for the one who is. */
START_TEST(others_wait)
{
	const char *c = code(0);
	struct label_order o = { &c, 1, LABEL_FIRST, .by = "CD",
		.wait_ms = 5000 };
	pid_t pid = holder(200, "UPDATE print_job SET state = 'sent'");
	struct job_list jobs;
	struct print_job j;

	ck_assert_int_eq(label_print(&jobs, k.sn, &o, &err), RC_OK);
	ck_assert_int_eq(jobs.items[0].state, JOB_SENT);
	job_list_fini(&jobs);
	gone(pid);
	ck_assert_msg(!on_paper(0, ""), "sent twice");
	/* And takes over when that one has ended. */
	pid = holder(100, NULL);
	c = code(1);
	ck_assert_int_eq(label_print(&jobs, k.sn, &o, &err), RC_OK);
	job_list_fini(&jobs);
	gone(pid);
	ck_assert(on_paper(1, ""));
	/* Not for ever. */
	pid = holder(300, NULL);
	ck_assert_int_eq(kitchen_label(&j, &k, code(2), LABEL_FIRST), RC_RETRY);
	gone(pid);
}
END_TEST

/* Nobody's label is called unsure while somebody is sending it. */
START_TEST(start_while_sending)
{
	struct print_job j = queued(0, LABEL_FIRST);
	pid_t pid;

	force(j.id, "sending");
	pid = holder(300, NULL);
	ck_assert_int_eq(kitchen_station(&k, KITCHEN_NOW, NULL), RC_OK);
	ck_assert_int_eq(k.sn->unsure_labels, 0);
	ck_assert_int_eq(now(j.id).state, JOB_SENDING);
	gone(pid);
	/* It died over it: whoever works the queue next finds that out. */
	ck_assert_int_eq(work(), RC_OK);
	ck_assert_int_eq(now(j.id).state, JOB_UNSURE);
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
	int status = 0, i;
	pid_t pid;

	station_close(k.sn); /* a file is not taken along into a child */
	k.sn = NULL;
	pid = fork();
	ck_assert_int_ge(pid, 0);
	if (pid == 0) {
		if (kitchen_station(&k, KITCHEN_NOW, NULL) != RC_OK)
			_exit(9);
		_exit(queue_run(k.sn, false, &stop, &says, NULL) == RC_OK ? 0
									  : 1);
	}
	ck_assert_int_eq(kitchen_station(&k, KITCHEN_NOW, NULL), RC_OK);
	pause_ms(300);
	j = queued(0, LABEL_FIRST);
	for (i = 0; i < 100 && now(j.id).state == JOB_QUEUED; i++)
		pause_ms(50);
	ck_assert_int_eq(kill(pid, SIGKILL), 0);
	ck_assert_int_eq(waitpid(pid, &status, 0), pid);
	ck_assert_int_eq(now(j.id).state, JOB_SENT);
	/* Well before it would have looked by itself. */
	ck_assert_int_lt(i, 60);
	stop = 1;
	told = 0;
	queued(1, LABEL_FIRST);
	ck_assert_int_eq(queue_run(k.sn, false, &stop, &says, NULL), RC_OK);
	ck_assert_int_eq(told, 0);
}
END_TEST

START_TEST(pages)
{
	struct buf out;
	int f;

	queued(0, LABEL_FIRST);
	force(queued(1, LABEL_FIRST).id, "failed");
	buf_init(&out, 100000);
	for (f = FORMAT_TEXT; f <= FORMAT_CSV; f++) {
		buf_clear(&out);
		ck_assert_int_eq(
		    queue_list(&out, k.sn, (enum format)f, NULL), RC_OK);
		ck_assert_ptr_nonnull(strstr(buf_text(&out), "queued"));
		ck_assert_ptr_nonnull(strstr(buf_text(&out), "failed"));
		buf_clear(&out);
		ck_assert_int_eq(
		    printers_list(&out, k.sn, (enum format)f, NULL), RC_OK);
		ck_assert_ptr_nonnull(strstr(buf_text(&out), "preview:"));
		buf_clear(&out);
		ck_assert_int_eq(
		    printers_status(&out, k.sn, NULL, (enum format)f, NULL),
		    RC_OK);
		ck_assert_ptr_nonnull(
		    strstr(buf_text(&out), "cannot be asked"));
	}
	printer_gone(true);
	ck_assert_int_eq(
	    printers_status(&out, k.sn, "MAIN", FORMAT_TEXT, NULL), RC_RETRY);
	ck_assert_int_eq(
	    printers_status(&out, k.sn, "no", FORMAT_TEXT, NULL), RC_INVALID);
	printer_gone(false);
	buf_fini(&out);
}
END_TEST

Suite *
suite_ops_queue(void)
{
	Suite *s = suite_create("ops_queue");
	TCase *tc = tcase_create("queue");

	tcase_add_checked_fixture(tc, setup, teardown);
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
	tcase_add_loop_test(tc, answers, 0, 3);
	tcase_add_test(tc, answer_by_job);
	tcase_add_test(tc, cancels);
	tcase_add_test(tc, questions);
	tcase_add_test(tc, others_wait);
	tcase_add_test(tc, start_while_sending);
	tcase_add_test(tc, worker_wakes);
	tcase_add_test(tc, pages);
	suite_add_tcase(s, tc);
	return s;
}
