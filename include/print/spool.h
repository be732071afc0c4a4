/*
 * print/spool.h - from the queue in the file to the printers, one label at a
 * time.
 *
 * Durable before the first byte: a job is queued in the transaction that asks
 * for the label, and moved to sending, with the digest of what is sent, in the
 * transaction that looks its subject up once more.  Then the bytes go out;
 * afterwards it is sent, confirmed, unsure, or, when not one byte was taken,
 * queued again.  A program that ends in between leaves it in sending, which
 * job_orphans() makes unsure.  docs/printing.md "The queue".
 *
 * Only who holds the spool lock may call spool_step().
 */
#ifndef PRINT_SPOOL_H
#define PRINT_SPOOL_H

#include <signal.h>
#include <stdbool.h>

#include "base/bitmap.h"
#include "base/err.h"
#include "print/printer.h"
#include "print/session.h"
#include "store/jobs.h"

struct store;

/* A label drawn for its printer. */
struct spool_label {
	struct bitmap *picture; /* owned by who asked for it */
	char name[64];          /* fit for a file name */
};

/* What the spool has to be told; `arg` is the host's own. */
struct spool_host {
	/* RC_OK, or why nothing may be printed at all now (the clock). */
	enum rc (*ready)(void *arg, struct err *err);
	/* The printer a job names.  RC_OK, or why it cannot be had. */
	enum rc (*printer)(struct printer *out, void *arg,
	    const struct print_job *job, struct err *err);
	/*
	 * Look the subject up and draw it, inside a transaction.
	 * RC_OK; RC_REFUSED may not be printed any more: the job is cancelled;
	 * RC_INVALID cannot be drawn: it failed; else an error of the file.
	 */
	enum rc (*draw)(struct spool_label *out, void *arg,
	    const struct print_job *job, const struct printer *printer,
	    struct err *err);
	/* The instant, UTC. */
	int64_t (*now)(void *arg);
	/* Optional: a job's new state is durable.  Not for changing jobs. */
	void (*moved)(void *arg, const struct print_job *job);
};

/* Pauses after a printer was not ready: doubled each time. */
#define SPOOL_PAUSE_FIRST_MS 250
#define SPOOL_PAUSE_MOST_MS 8000

struct spool {
	struct store *st;
	const struct spool_host *host;
	void *arg;
	struct session session;
	struct printer printer; /* of the session */
	struct spool_pause {
		char name[PRINTER_NAME_SIZE];
		int pause_ms;    /* 0: it is not waited for */
		int64_t from_ms; /* ticks of the last try */
	} pauses[2 * CONFIG_PRINTERS_MAX];
};

/* spool_init - `stop` as in struct session. */
void spool_init(struct spool *sp, struct store *st,
    const struct spool_host *host, void *arg,
    const volatile sig_atomic_t *stop);

/* spool_rest - close the session; pauses are kept. */
void spool_rest(struct spool *sp);

/*
 * spool_step - do one thing: send the first label whose printer is not being
 * waited for, cancel it, or find its printer not ready.
 * RC_OK       one thing done; `job` (may be NULL) is what it was done to
 * RC_END      the queue is empty
 * RC_RETRY    every printer a job names is being waited for, at most *wait_ms
 *             longer; or the file is being written by another program
 * RC_REFUSED  nothing may be printed now: the clock is in doubt
 * RC_FAILED, RC_FATAL  the file; what is being sent stays "sending"
 */
enum rc spool_step(struct spool *sp, struct print_job *job, int *wait_ms,
    struct err *err) MUST_CHECK;

/* spool_wake - forget all pauses: somebody is waiting. */
void spool_wake(struct spool *sp);

/*
 * spool_lock - one program prints at a time; the lock is a file beside the
 * station file and goes with the process, however that ends.
 * RC_OK, RC_RETRY when another program is printing, RC_FAILED.
 */
struct spool_lock {
	int fd;
};
enum rc spool_lock(struct spool_lock *out, const char *station_file,
    struct err *err) MUST_CHECK;
void spool_unlock(struct spool_lock *lock);

#endif /* PRINT_SPOOL_H */
