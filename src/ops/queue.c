/* queue.c - work the queue of labels. */
#include "ops/queue.h"

#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "ops/printers.h"
#include "ops/watch.h"
#include "picture.h"
#include "print/spool.h"
#include "store/store.h"

/* How often the file is asked whether another program wrote to it. */
#define IDLE_MS 250
#define TURN_MS 50

/* --- what the spool asks --------------------------------------------------*/

static int64_t
host_now(void *arg)
{
	struct station *sn = arg;

	return clock_now(&sn->clock);
}

static enum rc
host_ready(void *arg, struct err *err)
{
	struct station *sn = arg;
	enum rc rc = watch_check(sn, clock_now(&sn->clock), err);

	return rc != RC_OK ? rc : picture_fonts(sn, err);
}

static enum rc
host_printer(struct printer *out, void *arg, const struct print_job *job,
    struct err *err)
{
	return printers_get(out, arg, job->printer_name, err);
}

/* docs/rules.md R-L4: what may not be printed now is not, whenever it was
 * asked for. */
static enum rc
host_draw(struct spool_label *out, void *arg, const struct print_job *job,
    const struct printer *p, struct err *err)
{
	struct station *sn = arg;
	struct about a;
	enum rc rc;

	if (job->ticket_id != 0) {
		str_fmt(out->name, sizeof(out->name), "list-%lld-page-%d",
		    (long long)job->ticket_id, job->page);
		return ticket_picture(&out->picture, sn, job, p, err);
	}
	if ((rc = about_find(&a, sn, job->code, err)) != RC_OK ||
	    (rc = about_may_print(&a, job->says, clock_now(&sn->clock), err)) !=
		RC_OK)
		return rc;
	about_name(out->name, sizeof(out->name), &a, job->says, job->copy);
	return about_draw(&out->picture, sn, &a, job->says, job->copy, p, err);
}

static const struct spool_host host = {
	.ready = host_ready,
	.printer = host_printer,
	.draw = host_draw,
	.now = host_now,
};

/* --- the lock and what it allows ------------------------------------------*/

static struct moment
by_itself(struct station *sn, const char *who)
{
	struct moment at = { .utc = clock_now(&sn->clock) };

	at.offset_min = local_from_utc(at.utc).offset_min;
	str_copy(at.by, sizeof(at.by), who);
	return at;
}

/* Only with the lock: then nobody is alive who sends. */
static enum rc
settle(int *count, struct station *sn, struct err *err)
{
	struct moment at = by_itself(sn, "start");
	enum rc rc;

	if ((rc = job_count_orphans(count, sn->st, err)) != RC_OK ||
	    *count == 0)
		return rc;
	if ((rc = store_begin(sn->st, err)) != RC_OK)
		return rc;
	if ((rc = job_orphans(count, sn->st, at.utc, err)) == RC_OK &&
	    (rc = station_audit(sn, &at, err, "start", "labels",
		 "%d label%s on the way when the program ended", *count,
		 *count == 1 ? " was" : "s were")) == RC_OK)
		rc = store_commit(sn->st, err);
	store_rollback(sn->st);
	return rc;
}

enum rc
queue_start(struct station *sn, struct err *err)
{
	struct spool_lock lock;
	int count = 0;
	enum rc rc;

	if ((rc = job_count_orphans(&count, sn->st, err)) != RC_OK ||
	    count == 0)
		return rc;
	rc = spool_lock(&lock, store_path(sn->st), err);
	if (rc == RC_RETRY) {
		err_clear(err); /* whoever has it is alive and sending */
		return RC_OK;
	}
	if (rc != RC_OK)
		return rc;
	rc = settle(&count, sn, err);
	spool_unlock(&lock);
	sn->unsure_labels = rc == RC_OK ? count : 0;
	return rc;
}

struct worker {
	struct station *sn;
	struct spool spool;
	struct spool_lock lock;
	bool locked;
};

static void
rest(struct worker *w)
{
	spool_rest(&w->spool);
	if (w->locked)
		spool_unlock(&w->lock);
	w->locked = false;
}

/*
 * One step, as spool_step().  RC_RETRY without the lock: another program is at
 * it.
 */
static enum rc
step(struct worker *w, struct print_job *job, int *wait_ms, struct err *err)
{
	int count;
	enum rc rc;

	*wait_ms = TURN_MS;
	if (!w->locked) {
		rc = spool_lock(&w->lock, store_path(w->sn->st), err);
		if (rc != RC_OK)
			return rc;
		w->locked = true;
		if ((rc = settle(&count, w->sn, err)) != RC_OK)
			return rc;
	}
	return spool_step(&w->spool, job, wait_ms, err);
}

/* --- for one command ------------------------------------------------------*/

static bool
is_settled(const struct print_job *j)
{
	return j->state != JOB_QUEUED && j->state != JOB_SENDING;
}

/* Read the jobs anew; *open is how many are still on their way. */
static enum rc
refresh(
    struct job_list *jobs, size_t *open, struct station *sn, struct err *err)
{
	size_t i;
	enum rc rc;

	*open = 0;
	for (i = 0; i < jobs->count; i++) {
		rc = job_get(&jobs->items[i], sn->st, jobs->items[i].id, err);
		if (rc != RC_OK)
			return rc;
		*open += !is_settled(&jobs->items[i]);
	}
	return RC_OK;
}

static enum rc
work_for(struct worker *w, struct job_list *jobs, int wait_ms, struct err *err)
{
	int64_t until = clock_ticks_ms() + wait_ms, left;
	struct print_job job;
	size_t open;
	int pause;
	enum rc rc;

	for (;;) {
		if ((rc = refresh(jobs, &open, w->sn, err)) != RC_OK ||
		    open == 0)
			return rc;
		rc = step(w, &job, &pause, err);
		/* As long as labels come out nobody is kept waiting. */
		if (rc == RC_OK && is_settled(&job))
			until = clock_ticks_ms() + wait_ms;
		if (rc == RC_OK)
			continue;
		if (rc != RC_RETRY)
			break;
		err_clear(err);
		left = until - clock_ticks_ms();
		if (left <= 0)
			break;
		pause_ms(pause < left ? pause : (int)left);
	}
	if (rc == RC_END || rc == RC_RETRY)
		rc = refresh(jobs, &open, w->sn, err);
	return rc;
}

static enum rc
verdict_of(const struct print_job *j)
{
	switch (j->state) {
	case JOB_UNSURE:
	case JOB_FAILED:
		return RC_FAILED;
	case JOB_CANCELLED:
		return RC_REFUSED;
	case JOB_QUEUED:
	case JOB_SENDING:
		return RC_RETRY;
	case JOB_SENT:
	case JOB_CONFIRMED:
	case JOB_STATE_COUNT:
		break;
	}
	return RC_OK;
}

static enum rc
tell(const struct print_job *j, struct err *err)
{
	char name[QUEUE_NAME_SIZE], which[QUEUE_WHAT_SIZE];
	enum rc rc = verdict_of(j);

	queue_name(name, j);
	queue_which(which, j);
	if (j->state == JOB_UNSURE)
		return err_set(err, rc, 0,
		    "%s may be half printed: %s: look for it, then pinbone "
		    "printer answer %s yes|no|later",
		    which, j->error, name);
	if (rc != RC_RETRY)
		return err_set(
		    err, rc, 0, "%s was not printed: %s", which, j->error);
	return err_set(err, rc, 0,
	    "%s is not printed, printer %s: %s; it stays in the queue and "
	    "comes out with pinbone printer work when the printer is ready, or "
	    "pinbone printer cancel %s",
	    which, j->printer_name,
	    j->error[0] == '\0' ? "busy with other labels" : j->error, name);
}

/* The gravest of them is the answer. */
static enum rc
verdict(const struct job_list *jobs, struct err *err)
{
	static const enum rc order[] = { RC_FAILED, RC_REFUSED, RC_RETRY };
	size_t i, k;

	for (k = 0; k < sizeof(order) / sizeof(order[0]); k++)
		for (i = 0; i < jobs->count; i++)
			if (verdict_of(&jobs->items[i]) == order[k])
				return tell(&jobs->items[i], err);
	return RC_OK;
}

size_t
queue_count_out(const struct job_list *jobs)
{
	size_t i, n = 0;

	for (i = 0; i < jobs->count; i++)
		n += verdict_of(&jobs->items[i]) == RC_OK;
	return n;
}

enum rc
queue_finish(struct job_list *jobs, struct station *sn,
    const struct label_order *order, struct err *err)
{
	struct worker w = { .sn = sn };
	size_t open;
	enum rc rc;

	if (order->only_queue)
		return refresh(jobs, &open, sn, err);
	spool_init(&w.spool, sn->st, &host, sn, NULL);
	rc = work_for(&w, jobs, order->wait_ms, err);
	rest(&w);
	return rc != RC_OK ? rc : verdict(jobs, err);
}

/* --- the worker -----------------------------------------------------------*/

/*
 * Nothing can be done for `most` ms: sleep, but for a record that another
 * program makes after `before` was read.  The number SQLite is asked for lies
 * in memory that is shared.
 */
static enum rc
sleep_on(struct station *sn, int most, int64_t before,
    const volatile sig_atomic_t *stop, struct err *err)
{
	int64_t until = clock_ticks_ms() + most, now = before;
	enum rc rc;

	do {
		pause_ms(IDLE_MS);
		if ((rc = job_file_version(&now, sn->st, err)) != RC_OK)
			return rc;
	} while (now == before && *stop == 0 && clock_ticks_ms() < until);
	return RC_OK;
}

static void
told_of(const struct queue_told *told, const struct print_job *job,
    const char *text)
{
	if (told != NULL && told->said != NULL)
		told->said(told->arg, job, text);
}

static enum rc
run(struct worker *w, bool once, const volatile sig_atomic_t *stop,
    const struct queue_told *told, struct err *err)
{
	struct print_job job;
	bool in_doubt = false;
	int64_t version;
	int wait_ms;
	enum rc rc;

	while (*stop == 0) {
		rc = job_file_version(&version, w->sn->st, err);
		if (rc == RC_OK)
			rc = step(w, &job, &wait_ms, err);
		if (rc == RC_OK) {
			told_of(told, &job, "");
			in_doubt = false;
			continue;
		}
		rest(w);
		if (rc == RC_FAILED || rc == RC_FATAL || (once && rc != RC_END))
			return rc;
		if (once)
			return RC_OK;
		/* Said once, however long it lasts. */
		if (rc == RC_REFUSED && !in_doubt)
			told_of(told, NULL, err == NULL ? "" : err->text);
		in_doubt = rc == RC_REFUSED;
		err_clear(err);
		if (rc != RC_RETRY)
			wait_ms = SPOOL_PAUSE_MOST_MS;
		if ((rc = sleep_on(w->sn, wait_ms, version, stop, err)) !=
		    RC_OK)
			return rc;
	}
	return RC_OK;
}

enum rc
queue_run(struct station *sn, bool once, const volatile sig_atomic_t *stop,
    const struct queue_told *told, struct err *err)
{
	struct worker w = { .sn = sn };
	enum rc rc;

	spool_init(&w.spool, sn->st, &host, sn, stop);
	rc = run(&w, once, stop, told, err);
	rest(&w);
	if (rc == RC_RETRY)
		err_set(err, rc, 0,
		    "labels are left in the queue: pinbone printer queue says "
		    "why");
	return rc;
}
