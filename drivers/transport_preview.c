/*
 * transport_preview.c - each label in a file of its own, to be looked at.
 *
 * A label is held back until it is finished and then written whole: no half
 * label ever stands in the folder.
 */
#include "drivers.h"

#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"

struct preview_port {
	struct port base; /* must be first */
	char folder[PATH_MAX];
	char path[PATH_MAX]; /* of the label begun; empty: none */
	struct buf pending;
};

static enum rc
make_folder(const char *address, struct err *err)
{
	char path[PATH_MAX];
	struct stat st;
	enum rc rc;

	if (!str_fmt(path, sizeof(path), "%s/", address))
		return err_set(err, RC_INVALID, 0,
		    "%.60s...: the path is too long", address);
	if ((rc = file_make_folder(path, err)) != RC_OK)
		return rc;
	if (stat(path, &st) != 0)
		return err_set(
		    err, RC_FAILED, errno, "%s: %s", address, strerror(errno));
	return RC_OK;
}

static enum rc
preview_open(struct port **out, unsigned *state, const char *address,
    int deadline_ms, struct err *err)
{
	struct preview_port *port;
	enum rc rc;

	(void)deadline_ms;
	*out = NULL;
	*state = 0;
	if (address[0] == '\0')
		return err_set(err, RC_INVALID, 0,
		    "printer address preview: needs the path of a folder");
	if ((rc = make_folder(address, err)) != RC_OK)
		return rc;
	port = xcalloc(1, sizeof(*port));
	port->base.via = &transport_preview;
	str_copy(port->folder, sizeof(port->folder), address);
	buf_init(&port->pending, FILE_READ_MAX);
	*out = &port->base;
	return RC_OK;
}

/* Write out the label held back, if there is one. */
static enum rc
flush(struct preview_port *port, struct err *err)
{
	enum rc rc;

	if (port->path[0] == '\0' || port->pending.len == 0)
		return RC_OK;
	rc = file_write(port->path, port->pending.data, port->pending.len, err);
	port->path[0] = '\0';
	buf_clear(&port->pending);
	return rc;
}

/* Nothing that could leave the folder or hide in it. */
static bool
name_ok(const char *s)
{
	if (*s == '\0' || *s == '.')
		return false;
	return s[strspn(s,
		   "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
		   "abcdefghijklmnopqrstuvwxyz0123456789._-")] == '\0';
}

static enum rc
preview_begin(
    struct port *port, const char *name, const char *ending, struct err *err)
{
	struct preview_port *pp = (struct preview_port *)port;

	/* What was not finished is half a label: drop it. */
	pp->path[0] = '\0';
	buf_clear(&pp->pending);
	if (!name_ok(name) || !name_ok(ending))
		return err_set(err, RC_INVALID, 0,
		    "\"%s.%s\" is no file name for a label", name, ending);
	if (!str_fmt(pp->path, sizeof(pp->path), "%s/%s.%s", pp->folder, name,
		ending)) {
		pp->path[0] = '\0';
		return err_set(err, RC_INVALID, 0,
		    "%.60s...: the path is too long", pp->folder);
	}
	return RC_OK;
}

static enum rc
preview_send(size_t *sent, struct port *port, const uint8_t *buf, size_t len,
    int deadline_ms, struct err *err)
{
	struct preview_port *pp = (struct preview_port *)port;

	(void)deadline_ms;
	*sent = 0;
	if (pp->path[0] == '\0')
		return err_set(
		    err, RC_FAILED, 0, "%s: no label was begun", pp->folder);
	buf_add(&pp->pending, buf, len);
	if (pp->pending.full) {
		pp->path[0] = '\0';
		buf_clear(&pp->pending);
		return err_set(err, RC_FAILED, 0,
		    "%s: a label is larger than %zu bytes", pp->folder,
		    pp->pending.max);
	}
	*sent = len;
	return RC_OK;
}

static enum rc
preview_finish(struct port *port, struct err *err)
{
	return flush((struct preview_port *)port, err);
}

static void
preview_close(struct port *port)
{
	struct preview_port *pp = (struct preview_port *)port;

	if (pp == NULL)
		return;
	buf_fini(&pp->pending);
	free(pp);
}

const struct transport transport_preview = {
	.scheme = "preview",
	.address_help = "path of a folder; each label becomes a file in it",
	.open = preview_open,
	.begin = preview_begin,
	.write = preview_send,
	.finish = preview_finish,
	.close = preview_close,
};
