/* ask.c - ask a printer how it is. */
#include "print/ask.h"

#include <string.h>

#include "base/clock.h"

#define ANSWER_MAX 1024
#define STALE_READS_MAX 32

enum rc
printer_ask_port(struct answer *out, const struct printer *p, struct port *port,
    struct err *err)
{
	unsigned state = 0;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if (p->via->status == NULL || p->ask == ASK_NO ||
	    p->ask == ASK_LANGUAGE)
		return RC_OK;
	rc = p->via->status(&state, port, p->deadline_ms, err);
	if (rc == RC_FAILED)
		return rc;
	out->able = rc != RC_NOTFOUND;
	if (out->able)
		out->state = rc == RC_OK ? state : PRINTER_SILENT;
	err_clear(err); /* silence is an answer */
	return RC_OK;
}

/* An answer that came too late for an earlier question is not this one's. */
static enum rc
drop_stale(const struct printer *p, struct port *port, struct err *err)
{
	uint8_t bytes[256];
	size_t got;
	int i;
	enum rc rc;

	for (i = 0; i < STALE_READS_MAX; i++) {
		rc = p->via->read(&got, port, bytes, sizeof(bytes), 1, err);
		if (rc == RC_FAILED)
			return rc;
		if (rc != RC_OK)
			break;
	}
	err_clear(err);
	return RC_OK;
}

static enum rc
put_question(struct answer *out, const struct printer *p, struct port *port,
    int64_t until, struct err *err)
{
	const uint8_t *q = (const uint8_t *)p->lang->query;
	size_t sent, done = 0;
	int64_t left;
	enum rc rc;

	while (done < p->lang->query_len) {
		left = until - clock_ticks_ms();
		if (left <= 0) {
			out->half = done > 0;
			out->state |= PRINTER_SILENT;
			return RC_END;
		}
		rc = p->via->write(&sent, port, q + done,
		    p->lang->query_len - done, (int)left, err);
		if (rc == RC_FAILED)
			return rc;
		done += sent;
		err_clear(err);
	}
	return RC_OK;
}

static enum rc
hear_answer(struct answer *out, const struct printer *p, struct port *port,
    int64_t until, struct err *err)
{
	uint8_t bytes[ANSWER_MAX];
	size_t len = 0, got;
	unsigned state;
	int64_t left;
	enum rc rc;

	while (len < sizeof(bytes) && (left = until - clock_ticks_ms()) > 0) {
		rc = p->via->read(&got, port, bytes + len, sizeof(bytes) - len,
		    (int)left, err);
		if (rc == RC_FAILED)
			return rc;
		err_clear(err);
		if (rc != RC_OK)
			continue;
		len += got;
		state = 0;
		rc = p->lang->answer(&state, bytes, len, err);
		err_clear(err);
		if (rc == RC_OK) {
			out->state |= state;
			out->told = true;
			return RC_OK;
		}
		if (rc != RC_RETRY)
			break;
	}
	out->state |= PRINTER_SILENT;
	return RC_OK;
}

static enum rc
ask_language(struct answer *out, const struct printer *p, struct port *port,
    struct err *err)
{
	int64_t until;
	enum rc rc;

	if (p->lang->query == NULL || p->ask == ASK_NO || p->ask == ASK_PORT)
		return RC_OK;
	if (!port->answers || p->via->read == NULL) {
		/* Told to ask so, and there is no way back: never "ready". */
		if (p->ask == ASK_LANGUAGE) {
			out->able = true;
			out->state |= PRINTER_SILENT;
		}
		return RC_OK;
	}
	out->able = true;
	if ((rc = drop_stale(p, port, err)) != RC_OK)
		return rc;
	until = clock_ticks_ms() + p->deadline_ms;
	rc = put_question(out, p, port, until, err);
	if (rc != RC_OK)
		return rc == RC_END ? RC_OK : rc;
	return hear_answer(out, p, port, until, err);
}

enum rc
printer_ask(struct answer *out, const struct printer *p, struct port *port,
    struct err *err)
{
	enum rc rc;

	if ((rc = printer_ask_port(out, p, port, err)) != RC_OK)
		return rc;
	return ask_language(out, p, port, err);
}
