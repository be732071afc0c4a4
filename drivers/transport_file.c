/*
 * transport_file.c - labels appended to a file, or sent to a device node or
 * named pipe.  Opened without blocking, so that a pipe nobody reads or a
 * printer that takes nothing cannot hold the station up.
 */
#include "drivers.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/mem.h"

struct file_port {
	struct port base; /* must be first */
	int fd;
	char *path;
	bool touched; /* something was taken: a fault leaves half a label */
};

static enum rc
file_open(struct port **out, unsigned *state, const char *address,
    int deadline_ms, struct err *err)
{
	struct file_port *port;
	int fd;

	(void)deadline_ms;
	*out = NULL;
	*state = 0;
	if (address[0] == '\0')
		return err_set(err, RC_INVALID, 0,
		    "printer address file: needs the path of a file");
	fd = open(address,
	    O_WRONLY | O_CREAT | O_APPEND | O_NONBLOCK | O_NOCTTY | O_CLOEXEC,
	    0644);
	if (fd < 0) {
		int e = errno;
		/* a pipe without a reader, a device that is gone or in use */
		bool later = e == ENXIO || e == ENODEV || e == EBUSY;

		*state = PRINTER_ABSENT;
		return err_set(err, later ? RC_RETRY : RC_FAILED, e, "%s: %s",
		    address,
		    e == ENXIO ? "nobody reads it: is the printer on?"
			       : strerror(e));
	}
	port = xcalloc(1, sizeof(*port));
	port->base.via = &transport_file;
	port->fd = fd;
	port->path = xstrdup(address);
	*out = &port->base;
	return RC_OK;
}

/* False when the deadline has passed. */
static bool
wait_writable(int fd, int64_t until)
{
	struct pollfd p = { .fd = fd, .events = POLLOUT };
	int64_t left = until - clock_ticks_ms();

	if (left <= 0)
		return false;
	return poll(&p, 1, (int)left) != 0;
}

static enum rc
send_all(size_t *sent, struct file_port *fp, const uint8_t *buf, size_t len,
    int deadline_ms, struct err *err)
{
	int64_t until = clock_ticks_ms() + deadline_ms;
	ssize_t n;

	while (*sent < len) {
		n = write(fp->fd, buf + *sent, len - *sent);
		if (n > 0) {
			*sent += (size_t)n;
			fp->touched = true;
			continue;
		}
		if (n < 0 && errno == EINTR)
			continue;
		if (n < 0 && errno != EAGAIN && errno != EWOULDBLOCK)
			return err_set(err, fp->touched ? RC_FAILED : RC_RETRY,
			    errno, "%s: %s", fp->path, strerror(errno));
		if (!wait_writable(fp->fd, until))
			return err_set(err, RC_RETRY, ETIMEDOUT,
			    "%s: took %zu of %zu bytes in %d ms", fp->path,
			    *sent, len, deadline_ms);
	}
	return RC_OK;
}

static enum rc
file_send(size_t *sent, struct port *port, const uint8_t *buf, size_t len,
    int deadline_ms, struct err *err)
{
	struct sigaction ignore = { .sa_handler = SIG_IGN }, before;
	enum rc rc;

	*sent = 0;
	/* A reader that goes away must not take the station with it. */
	sigemptyset(&ignore.sa_mask);
	sigaction(SIGPIPE, &ignore, &before);
	rc = send_all(
	    sent, (struct file_port *)port, buf, len, deadline_ms, err);
	sigaction(SIGPIPE, &before, NULL);
	return rc;
}

static enum rc
file_finish(struct port *port, struct err *err)
{
	struct file_port *fp = (struct file_port *)port;

	/* A device or pipe cannot be synced and says so. */
	if (fsync(fp->fd) == 0 || errno == EINVAL || errno == EROFS)
		return RC_OK;
	return err_set(
	    err, RC_FAILED, errno, "%s: %s", fp->path, strerror(errno));
}

static void
file_close(struct port *port)
{
	struct file_port *fp = (struct file_port *)port;

	if (fp == NULL)
		return;
	close(fp->fd);
	free(fp->path);
	free(fp);
}

const struct transport transport_file = {
	.scheme = "file",
	.address_help = "path of a file to append to, or of a device",
	.open = file_open,
	.write = file_send,
	.finish = file_finish,
	.close = file_close,
};
