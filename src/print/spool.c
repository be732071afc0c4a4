/* spool.c - from the queue in the file to the printers. */
#include "print/spool.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

#include "base/file.h"
#include "base/clock.h"
#include "base/str.h"
#include "print/fault.h"
#include "store/store.h"

/* Another program writes for moments only; a sent label must be recorded. */
#define WRITE_TRIES 10
#define LOOK_MOST_MS 250

void
spool_init(struct spool *sp, struct store *st, const struct spool_host *host,
    void *arg, const volatile sig_atomic_t *stop)
{
	memset(sp, 0, sizeof(*sp));
	sp->st = st;
	sp->host = host;
	sp->arg = arg;
	sp->session.stop = stop;
}

void
spool_rest(struct spool *sp)
{
	session_close(&sp->session);
}

/* --- pauses ---------------------------------------------------------------*/

static struct spool_pause *
pause_of(struct spool *sp, const char *name)
{
	size_t i, n = sizeof(sp->pauses) / sizeof(sp->pauses[0]);

	for (i = 0; i < n; i++) {
		if (sp->pauses[i].name[0] == '\0')
			str_copy(sp->pauses[i].name, sizeof(sp->pauses[i].name),
			    name);
		if (str_eq(sp->pauses[i].name, name))
			return &sp->pauses[i];
	}
	/* More names than printers can be set: they share the last. */
	return &sp->pauses[n - 1];
}

/* How much longer this printer is waited for. */
static int
pause_left(struct spool *sp, const char *name)
{
	const struct spool_pause *p = pause_of(sp, name);
	int64_t past = clock_ticks_ms() - p->from_ms;

	return past < p->pause_ms ? (int)(p->pause_ms - past) : 0;
}

static void
pause_longer(struct spool *sp, const char *name)
{
	struct spool_pause *p = pause_of(sp, name);

	p->pause_ms = p->pause_ms == 0 ? SPOOL_PAUSE_FIRST_MS : 2 * p->pause_ms;
	if (p->pause_ms > SPOOL_PAUSE_MOST_MS)
		p->pause_ms = SPOOL_PAUSE_MOST_MS;
	p->from_ms = clock_ticks_ms();
}

void
spool_wake(struct spool *sp)
{
	memset(sp->pauses, 0, sizeof(sp->pauses));
}

/* --- states ---------------------------------------------------------------*/

/* A state in a transaction of its own, so that it is durable at once. */
static enum rc
move_once(struct spool *sp, struct print_job *job, enum job_state to,
    const char *why, struct err *err)
{
	struct print_job was = *job;
	enum rc rc;

	if ((rc = store_begin(sp->st, err)) != RC_OK)
		return rc;
	if ((rc = job_move(
		 sp->st, job, to, why, sp->host->now(sp->arg), err)) == RC_OK)
		rc = store_commit(sp->st, err);
	store_rollback(sp->st);
	if (rc != RC_OK)
		*job = was;
	return rc;
}

static enum rc
move(struct spool *sp, struct print_job *job, enum job_state to,
    const char *text, struct err *err)
{
	char why[sizeof(job->error)] = "";
	int i;
	enum rc rc = RC_RETRY;

	str_fmt(why, sizeof(why), "%.*s", (int)sizeof(why) - 1, text);
	utf8_clean(why); /* it may have been cut within a character */
	for (i = 0; i < WRITE_TRIES && rc == RC_RETRY; i++) {
		err_clear(err);
		rc = move_once(sp, job, to, why, err);
	}
	if (rc == RC_OK && sp->host->moved != NULL)
		sp->host->moved(sp->arg, job);
	return rc;
}

/* --- one label ------------------------------------------------------------*/

/* The same for one that is not being sent: somebody may have cancelled it. */
static enum rc
move_queued(struct spool *sp, struct print_job *job, enum job_state to,
    const char *text, struct err *err)
{
	enum rc rc = move(sp, job, to, text, err);

	if (rc != RC_NOTFOUND)
		return rc;
	err_clear(err);
	return RC_OK;
}

/* Stays queued, with the reason. */
static enum rc
wait_for(
    struct spool *sp, struct print_job *job, const char *why, struct err *err)
{
	pause_longer(sp, job->printer_name);
	if (job->state == JOB_SENDING)
		return move(sp, job, JOB_QUEUED, why, err);
	if (str_eq(job->error, why))
		return RC_OK;
	return move_queued(sp, job, JOB_QUEUED, why, err);
}

/* The digest is of what goes out, not of what was queued. */
static enum rc
start(struct spool *sp, struct print_job *job, const struct bitmap *picture,
    struct err *err)
{
	const struct printer *p = &sp->printer;

	digest_hex(job->picture, picture->bits,
	    picture->stride * (size_t)picture->height);
	if (!str_copy(job->language, sizeof(job->language), p->lang->name) ||
	    !str_copy(job->printer, sizeof(job->printer), p->configured))
		return err_set(err, RC_INVALID, 0, "printer name too long");
	return job_start(sp->st, job, sp->host->now(sp->arg), err);
}

/*
 * Look it up, draw it and move it to sending, all or nothing: what is put on
 * hold a moment later is put on hold after it was printed.
 * RC_END: it was cancelled by somebody meanwhile.
 */
static enum rc
prepare(struct spool *sp, struct print_job *job, struct buf *bytes, char *name,
    size_t name_size, struct err *err)
{
	struct spool_label label = { 0 };
	struct print_job now;
	enum rc rc;

	if ((rc = store_begin(sp->st, err)) != RC_OK)
		return rc;
	if ((rc = job_get(&now, sp->st, job->id, err)) != RC_OK)
		goto done;
	if (now.state != JOB_QUEUED) {
		*job = now;
		rc = RC_END;
		goto done;
	}
	*job = now;
	if ((rc = sp->host->draw(&label, sp->arg, &now, &sp->printer, err)) !=
		RC_OK ||
	    (rc = printer_encode(bytes, &sp->printer, label.picture, err)) !=
		RC_OK ||
	    (rc = start(sp, &now, label.picture, err)) != RC_OK ||
	    (rc = store_commit(sp->st, err)) != RC_OK)
		goto done;
	*job = now;
	str_copy(name, name_size, label.name);
	if (sp->host->moved != NULL)
		sp->host->moved(sp->arg, job);
done:
	store_rollback(sp->st);
	bitmap_free(label.picture);
	return rc;
}

/*
 * After the last byte: wait until the printer says that the label is out, or
 * its patience is over.  A fault is on record while it lasts.  A printer that
 * can only be asked by its port is waited for while the port tells a fault.
 */
static enum rc
follow(struct spool *sp, struct print_job *job, struct err *err)
{
	struct session *s = &sp->session;
	int64_t until = clock_ticks_ms() + sp->printer.patience_ms;
	int pause = sp->printer.look_ms;
	struct err why = { 0 };
	char words[256];
	enum rc rc;

	for (;;) {
		switch (session_look(s, &why)) {
		case LOOK_BLIND: /* what was wrong is over, or was nothing */
			return job->error[0] == '\0'
			    ? RC_OK
			    : move(sp, job, JOB_SENT, "", err);
		case LOOK_OUT:
			return move(sp, job, JOB_CONFIRMED, "", err);
		case LOOK_LOST:
			return move(sp, job, JOB_UNSURE,
			    why.text[0] == '\0' ? "the printer went away"
						: why.text,
			    err);
		case LOOK_WAIT:
			break;
		}
		fault_words(words, sizeof(words), s->state);
		if (clock_ticks_ms() >= until || session_hurried(s)) {
			session_forget(s);
			return move(sp, job, JOB_UNSURE, words, err);
		}
		if ((s->state & ~(unsigned)PRINTER_HARMLESS) == 0)
			words[0] = '\0';
		if (!str_eq(words, job->error) &&
		    (rc = move(sp, job, JOB_SENT, words, err)) != RC_OK)
			return rc;
		pause_ms(pause);
		pause = 2 * pause < LOOK_MOST_MS ? 2 * pause : LOOK_MOST_MS;
	}
}

/* What became of the bytes. */
static enum rc
send(struct spool *sp, struct print_job *job, const struct buf *bytes,
    const char *name, struct err *err)
{
	struct err why = { 0 };
	enum rc rc = session_send(&sp->session, bytes, name, &why);

	switch (rc) {
	case RC_OK:
		pause_of(sp, job->printer_name)->pause_ms = 0;
		rc = move(sp, job, JOB_SENT, "", err);
		return rc != RC_OK ? rc : follow(sp, job, err);
	case RC_RETRY:
		return wait_for(sp, job, why.text, err);
	case RC_INVALID:
		return move(sp, job, JOB_FAILED, why.text, err);
	case RC_END:
	case RC_NOTFOUND:
	case RC_REFUSED:
	case RC_FAILED:
	case RC_FATAL:
		break;
	}
	return move(sp, job, JOB_UNSURE, why.text, err);
}

/* Is its printer there and ready?  RC_RETRY: no, `why` has the reason. */
static enum rc
reach(struct spool *sp, const struct print_job *job, struct err *why,
    struct err *err)
{
	struct printer p;
	bool in_doubt = false;
	enum rc rc;

	rc = sp->host->printer(&p, sp->arg, job, why);
	if (rc != RC_OK)
		return RC_RETRY;
	/* The names are the settings' own: the same pointer, the same one. */
	if (sp->printer.name != p.name || sp->printer.via != p.via)
		session_close(&sp->session);
	sp->printer = p;
	if ((rc = job_in_doubt(&in_doubt, sp->st, job->printer_name, err)) !=
	    RC_OK)
		return rc;
	return session_open(&sp->session, &sp->printer, in_doubt, why);
}

static enum rc
do_label(struct spool *sp, struct print_job *job, struct err *err)
{
	struct err why = { 0 };
	char name[sizeof(((struct spool_label *)0)->name)];
	struct buf bytes;
	enum rc rc;

	if ((rc = reach(sp, job, &why, err)) != RC_OK)
		return why.text[0] != '\0' ? wait_for(sp, job, why.text, err)
					   : rc;
	buf_init(&bytes, LABEL_BYTES_MAX);
	rc = prepare(sp, job, &bytes, name, sizeof(name), &why);
	if (rc == RC_OK)
		rc = send(sp, job, &bytes, name, err);
	else if (rc == RC_REFUSED)
		rc = move_queued(sp, job, JOB_CANCELLED, why.text, err);
	else if (rc == RC_INVALID || rc == RC_NOTFOUND)
		rc = move_queued(sp, job, JOB_FAILED, why.text, err);
	else if (rc == RC_END)
		rc = RC_OK;
	else
		err_set(err, rc, why.lib, "%s", why.text);
	buf_fini(&bytes);
	return rc;
}

enum rc
spool_step(
    struct spool *sp, struct print_job *job, int *wait_ms, struct err *err)
{
	struct print_job own;
	int64_t after = 0;
	int left, least = SPOOL_PAUSE_MOST_MS;
	bool waiting = false;
	enum rc rc;

	*wait_ms = SPOOL_PAUSE_FIRST_MS;
	if (job == NULL)
		job = &own;
	for (;;) {
		rc = job_next(job, sp->st, after, err);
		if (rc == RC_END && waiting) {
			*wait_ms = least;
			return RC_RETRY;
		}
		if (rc != RC_OK)
			return rc;
		left = pause_left(sp, job->printer_name);
		if (left == 0)
			break;
		/* The others of this printer wait with it, in order. */
		waiting = true;
		after = job->id;
		least = left < least ? left : least;
	}
	if ((rc = sp->host->ready(sp->arg, err)) != RC_OK)
		return rc;
	return do_label(sp, job, err);
}

/* --- the lock -------------------------------------------------------------*/

enum rc
spool_lock(struct spool_lock *out, const char *station_file, struct err *err)
{
	struct flock whole = { .l_type = F_WRLCK, .l_whence = SEEK_SET };
	char path[1024];

	if (!str_fmt(path, sizeof(path), "%s-printing", station_file))
		return err_set(
		    err, RC_FAILED, 0, "the station file's path is too long");
	out->fd = open(
	    path, O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, FILE_OWN_MODE);
	if (out->fd < 0)
		return err_set(
		    err, RC_FAILED, errno, "%s: %s", path, strerror(errno));
	if (fcntl(out->fd, F_SETLK, &whole) == 0)
		return RC_OK;
	close(out->fd);
	return err_set(err, RC_RETRY, errno,
	    "another program is printing labels: try again");
}

void
spool_unlock(struct spool_lock *lock)
{
	close(lock->fd);
}
