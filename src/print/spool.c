/* spool.c - from a recorded label to a printer. */
#include "print/spool.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

#include "base/str.h"
#include "driver/transport.h"
#include "store/store.h"

#define LABEL_BYTES_MAX ((size_t)4 * 1024 * 1024)

enum rc
printer_check(const struct printer *p, struct err *err)
{
	const struct transport *const *t;
	const struct lang *const *l;
	struct buf known;
	const char *address;
	enum rc rc = RC_OK;

	buf_init(&known, 400);
	if (lang_find(p->language) == NULL) {
		for (l = langs; *l != NULL; l++)
			buf_printf(&known, " %s", (*l)->name);
		rc = err_set(err, RC_INVALID, 0,
		    "[printer] language = %.20s: not known, there are:%s",
		    p->language, buf_text(&known));
	} else if (transport_find(&address, p->address) == NULL) {
		for (t = transports; *t != NULL; t++)
			buf_printf(&known, " %s:", (*t)->scheme);
		rc = err_set(err, RC_INVALID, 0,
		    "[printer] address = %.60s: must begin with one of:%s",
		    p->address, buf_text(&known));
	}
	buf_fini(&known);
	return rc;
}

enum rc
printer_encode(struct buf *out, const struct printer *p,
    const struct bitmap *picture, struct err *err)
{
	const struct lang *lang = lang_find(p->language);
	enum rc rc;

	if (lang == NULL)
		return err_set(err, RC_INVALID, 0,
		    "printer language \"%.20s\" is not known", p->language);
	if ((rc = lang->encode(out, picture, &p->media, err)) != RC_OK)
		return rc;
	return buf_check(out, "the label in the printer's language", err);
}

enum rc
spool_queue(struct store *st, struct print_job *job, const struct printer *p,
    const struct bitmap *picture, struct err *err)
{
	digest_hex(job->picture, picture->bits,
	    picture->stride * (size_t)picture->height);
	if (!str_copy(job->language, sizeof(job->language), p->language) ||
	    !str_copy(job->printer, sizeof(job->printer), p->address))
		return err_set(err, RC_INVALID, 0, "printer name too long");
	return job_insert(st, job, err);
}

/* A state in a transaction of its own, so that it is durable at once. */
static enum rc
move(struct store *st, struct print_job *job, enum job_state state,
    const char *why, int64_t now_utc, struct err *err)
{
	enum rc rc;

	if ((rc = store_begin(st, err)) != RC_OK)
		return rc;
	if ((rc = job_set(st, job->id, state, why, now_utc, err)) != RC_OK ||
	    (rc = store_commit(st, err)) != RC_OK) {
		store_rollback(st);
		return rc;
	}
	job->state = state;
	return RC_OK;
}

/* Send the bytes; *sent says how many may have reached paper. */
static enum rc
transfer(size_t *sent, const struct printer *p, const struct buf *bytes,
    const char *name, struct err *err)
{
	const struct transport *via;
	const char *address;
	struct port *port = NULL;
	unsigned state;
	enum rc rc;

	*sent = 0;
	via = transport_find(&address, p->address);
	if (via == NULL)
		return err_set(err, RC_INVALID, 0,
		    "printer address \"%.60s\" is not known: see [printer] "
		    "address in the settings",
		    p->address);
	if ((rc = via->open(&port, &state, address, p->deadline_ms, err)) !=
	    RC_OK)
		return rc;
	if (via->begin != NULL)
		rc =
		    via->begin(port, name, lang_find(p->language)->ending, err);
	if (rc == RC_OK)
		rc = via->write(sent, port, (const uint8_t *)bytes->data,
		    bytes->len, p->deadline_ms, err);
	if (rc == RC_OK && via->finish != NULL)
		rc = via->finish(port, err);
	via->close(port);
	return rc;
}

enum rc
spool_send(struct store *st, struct print_job *job, const struct printer *p,
    const struct bitmap *picture, const char *name, int64_t now_utc,
    struct err *err)
{
	char why[sizeof(job->error)];
	struct err fault = { 0 };
	struct buf bytes;
	size_t sent = 0;
	enum rc rc;

	buf_init(&bytes, LABEL_BYTES_MAX);
	rc = printer_encode(&bytes, p, picture, &fault);
	if (rc == RC_OK) {
		rc = move(st, job, JOB_SENDING, "", now_utc, err);
		if (rc != RC_OK)
			goto done;
		rc = transfer(&sent, p, &bytes, name, &fault);
	}
	if (rc == RC_OK) {
		rc = move(st, job, JOB_SENT, "", now_utc, err);
		goto done;
	}
	why[0] = '\0';
	str_fmt(why, sizeof(why), "%.190s", fault.text);
	utf8_clean(why);
	ignore_rc(move(st, job, sent == 0 ? JOB_FAILED : JOB_UNSURE, why,
	    now_utc, NULL)); /* the printer's fault is the one to report */
	err_set(err, rc, fault.lib,
	    sent == 0 ? "label not printed: %.300s"
		      : "the label may be half printed: %.300s",
	    fault.text);
done:
	buf_fini(&bytes);
	return rc;
}

enum rc
spool_lock(struct spool_lock *out, const char *station_file, struct err *err)
{
	struct flock whole = { .l_type = F_WRLCK, .l_whence = SEEK_SET };
	char path[1024];

	if (!str_fmt(path, sizeof(path), "%s-printing", station_file))
		return err_set(
		    err, RC_FAILED, 0, "the station file's path is too long");
	out->fd = open(path, O_RDWR | O_CREAT | O_CLOEXEC, 0644);
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
