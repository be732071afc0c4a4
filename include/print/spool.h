/*
 * print/spool.h - from a recorded label to a printer, one at a time.
 *
 * Durable before the first byte: a job is queued in the transaction that asks
 * for the label, moved to sending before anything is sent, and to sent,
 * failed or unsure afterwards.  A crash in between leaves queued or sending,
 * which the next start turns into failed or unsure (store/jobs.h).
 */
#ifndef PRINT_SPOOL_H
#define PRINT_SPOOL_H

#include "base/bitmap.h"
#include "base/buf.h"
#include "base/err.h"
#include "driver/lang.h"
#include "store/jobs.h"

struct store;

/* A configured printer. */
struct printer {
	const char *language; /* name of a struct lang */
	const char *address;  /* "preview:labels", "file:/tmp/out.zpl" */
	struct lang_media media;
	int deadline_ms;
};

/*
 * printer_check - can this printer's settings work at all?  Sends nothing.
 * RC_OK, or RC_INVALID naming the setting and what is known.
 */
enum rc printer_check(const struct printer *p, struct err *err) MUST_CHECK;

/*
 * printer_encode - append a picture in the printer's language.
 * RC_OK, or RC_INVALID: unknown language, or a picture beyond its limits.
 */
enum rc printer_encode(struct buf *out, const struct printer *p,
    const struct bitmap *picture, struct err *err) MUST_CHECK;

/*
 * spool_queue - record a job for this picture; the caller has a transaction
 * open.  Fills language, printer, picture and id of `job`.
 */
enum rc spool_queue(struct store *st, struct print_job *job,
    const struct printer *p, const struct bitmap *picture,
    struct err *err) MUST_CHECK;

/*
 * spool_send - send a queued job.  `name` is a file-name-safe name of the
 * label.  The job's state is durable when this returns.
 * RC_OK      sent
 * RC_RETRY   printer not ready: job failed, nothing was printed
 * RC_FAILED  job failed (nothing sent) or unsure (something was); err says
 */
enum rc spool_send(struct store *st, struct print_job *job,
    const struct printer *p, const struct bitmap *picture, const char *name,
    int64_t now_utc, struct err *err);

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
