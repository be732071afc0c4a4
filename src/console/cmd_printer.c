/* cmd_printer.c - printers, and the queue of labels. */
#include "cmds.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "ops/printers.h"
#include "ops/queue.h"

static const struct opt options[] = {
	CMD_LABEL_OPTIONS,
	{ "once", NULL, "work: until the queue is empty or nothing is ready" },
	{ NULL, NULL, NULL },
};

/* Signals so far; the worker reads it between bytes. */
static volatile sig_atomic_t stop;

static void
on_signal(int sig)
{
	(void)sig;
	if (stop < 2)
		stop = stop + 1;
}

/* What the worker did last: a printer that is not ready is said once. */
struct teller {
	int64_t id;
	enum job_state state;
	char reason[200];
};

static void
said(void *arg, const struct print_job *job, const char *text)
{
	char name[QUEUE_NAME_SIZE], what[QUEUE_WHAT_SIZE];
	struct teller *t = arg;

	if (job == NULL) {
		printf("waiting: %s\n", text);
	} else if (t->id != job->id || t->state != job->state ||
	    !str_eq(t->reason, job->error)) {
		printf("%s: %s %s%s%s, on %s\n", queue_name(name, job),
		    queue_what(what, job), job_state_word(job->state),
		    job->error[0] == '\0' ? "" : ": ", job->error,
		    job->printer_name);
		t->id = job->id;
		t->state = job->state;
		str_copy(t->reason, sizeof(t->reason), job->error);
	}
	/* Who reads along is no reason to stop: the record is in the file. */
	fflush(stdout);
}

static enum rc
work(struct station *sn, const struct args *a, struct err *err)
{
	struct sigaction act = { .sa_handler = on_signal };
	struct sigaction ignore = { .sa_handler = SIG_IGN };
	struct teller teller = { 0 };
	struct queue_told told = { said, &teller };

	sigemptyset(&act.sa_mask);
	sigaction(SIGTERM, &act, NULL);
	sigaction(SIGINT, &act, NULL);
	sigemptyset(&ignore.sa_mask);
	sigaction(SIGPIPE, &ignore, NULL);
	return queue_run(sn, args_flag(a, "once"), &stop, &told, err);
}

static enum rc
list(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	return printers_list(out, sn, a->format, err);
}

static enum rc
status(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	return printers_status(out, sn,
	    a->operand_count > 1 ? a->operand[1] : args_get(a, "printer"),
	    a->format, err);
}

static enum rc
test(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct label_order order = { 0 };
	struct job_list jobs = { 0 };
	enum rc rc;

	if ((rc = cmd_label_order(&order, a, err)) != RC_OK)
		return rc;
	if (a->operand_count > 1)
		order.printer = a->operand[1];
	rc = printers_test(&jobs, sn, &order, err);
	if (jobs.count > 0)
		cmd_put_jobs(out, &jobs, a->format);
	job_list_fini(&jobs);
	return rc;
}

static enum rc
queue(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	return queue_list(out, sn, a->format, err);
}

static enum rc
answer(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	static const char *const words[] = {
		[ANSWER_YES] = "yes",
		[ANSWER_NO] = "no",
		[ANSWER_LATER] = "later",
	};
	struct label_order order = { 0 };
	struct print_job jobs[2];
	struct job_list both = { jobs, 1 };
	struct job_list again = { &jobs[1], 1 };
	int i;
	enum rc rc;

	for (i = 0; i < 3 && !str_eq(a->operand[2], words[i]); i++)
		;
	if (i == 3)
		return err_set(err, RC_INVALID, 0,
		    "\"%.20s\": did it come out? answer yes, no or later",
		    a->operand[2]);
	if ((rc = cmd_label_order(&order, a, err)) != RC_OK ||
	    (rc = queue_answer(&jobs[0], &jobs[1], sn, a->operand[1],
		 (enum queue_answer)i, order.by, err)) != RC_OK)
		return rc;
	if (jobs[1].id != 0) {
		both.count = 2;
		rc = queue_finish(&again, sn, &order, err);
	}
	cmd_put_jobs(out, &both, a->format);
	return rc;
}

static enum rc
cancel(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct print_job job;
	struct job_list one = { &job, 1 };
	const char *by;
	enum rc rc;

	if ((rc = cmd_by(&by, a, err)) != RC_OK ||
	    (rc = queue_cancel(&job, sn, a->operand[1], by, err)) != RC_OK)
		return rc;
	cmd_put_jobs(out, &one, a->format);
	return RC_OK;
}

static enum rc
work_queue(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	(void)out;
	return work(sn, a, err);
}

/* operands: with the verb */
static const struct verb {
	const char *name, *takes;
	size_t min, max;
	enum rc (*run)(struct buf *out, struct station *sn,
	    const struct args *a, struct err *err);
} verbs[] = {
	{ "list", "nothing", 1, 1, list },
	{ "status", "[NAME]", 1, 2, status },
	{ "test", "[NAME]", 1, 2, test },
	{ "queue", "nothing", 1, 1, queue },
	{ "answer", "CODE|JOB yes|no|later", 3, 3, answer },
	{ "cancel", "CODE|JOB", 2, 2, cancel },
	{ "work", "nothing", 1, 1, work_queue },
};

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const struct verb *v;
	size_t i;

	for (i = 0; i < sizeof(verbs) / sizeof(verbs[0]); i++) {
		v = &verbs[i];
		if (!str_eq(v->name, a->operand[0]))
			continue;
		if (a->operand_count < v->min || a->operand_count > v->max)
			return err_set(err, RC_INVALID, 0,
			    "printer %s takes %s", v->name, v->takes);
		return v->run(out, sn, a, err);
	}
	return err_set(err, RC_INVALID, 0,
	    "printer takes list, status, test, queue, answer, cancel or work, "
	    "not \"%.30s\"",
	    a->operand[0]);
}

const struct cmd cmd_printer = {
	.name = "printer",
	.operands =
	    "list | status|test [NAME] | queue | answer CODE|JOB yes|no|later "
	    "| cancel CODE|JOB | work",
	.summary = "printers, and the queue of labels",
	.help =
	    "list: the printers of the settings and every device seen. status: "
	    "ask how they are now. test: a label that shows whether it is set "
	    "up right. queue: labels that wait, and questions. answer: did an "
	    "unsure label come out? no prints it once more, marked. cancel: "
	    "take a waiting label out. work: send what is queued until told "
	    "to stop; the label being sent is finished first.\nJOB is a "
	    "number from the queue, such as job12.",
	.options = options,
	.min_operands = 1,
	.max_operands = 3,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
