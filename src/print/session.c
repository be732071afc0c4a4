/* session.c - one conversation with one printer. */
#include "print/session.h"

#include <poll.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "print/ask.h"
#include "print/fault.h"

void
pause_ms(int ms)
{
	poll(NULL, 0, ms);
}

bool
session_hurried(const struct session *s)
{
	return s->stop != NULL && *s->stop >= 2;
}

void
session_close(struct session *s)
{
	if (s->port != NULL)
		s->printer->via->close(s->port);
	s->port = NULL;
	s->asked = false;
}

/* A printer that takes no reset is not helped by saying so twice. */
static enum rc
reset(struct session *s, struct err *err)
{
	const struct printer *p = s->printer;
	enum rc rc;

	if (p->via->reset == NULL)
		return RC_OK;
	rc = p->via->reset(s->port, p->deadline_ms, err);
	if (rc == RC_FAILED)
		return rc;
	err_clear(err);
	return RC_OK;
}

void
session_forget(struct session *s)
{
	if (s->port == NULL)
		return;
	ignore_rc(reset(s, NULL)); /* the next label's session does it again */
	session_close(s);
}

/* Not ready, with what the printer says as the reason. */
static enum rc
not_ready(const struct session *s, struct err *err)
{
	char words[256];

	return err_set(err, RC_RETRY, 0, "%s",
	    fault_words(words, sizeof(words), s->state));
}

static enum rc
check_language(struct session *s, struct err *err)
{
	const struct printer *p = s->printer;
	char sets[128] = "";

	if (p->via->commands == NULL)
		return RC_OK;
	p->via->commands(sets, sizeof(sets), s->port);
	if (sets[0] == '\0' || lang_spoken(p->lang, sets))
		return RC_OK;
	return err_set(err, RC_RETRY, 0,
	    "it understands %s, not %s: set [printer] language to what it "
	    "understands",
	    sets, p->lang->name);
}

static enum rc
open_port(struct session *s, struct err *err)
{
	const struct printer *p = s->printer;
	enum rc rc;

	s->state = 0;
	rc = p->via->open(&s->port, &s->state, p->address, p->deadline_ms, err);
	if (rc != RC_OK) {
		s->port = NULL;
		if (s->state == 0)
			s->state = PRINTER_ABSENT;
		return RC_RETRY; /* whatever it is, nothing was sent */
	}
	s->state = 0;
	return check_language(s, err);
}

/* Ask; leaves the answer in s->state. */
static enum rc
ask(struct session *s, struct answer *a, struct err *err)
{
	enum rc rc;

	if ((rc = printer_ask(a, s->printer, s->port, err)) != RC_OK)
		return rc;
	s->state = a->state;
	if ((a->state & PRINTER_SILENT) == 0)
		s->asked = a->able;
	if (a->half)
		ignore_rc(reset(s, NULL)); /* silent: it is not used now */
	return RC_OK;
}

enum rc
session_open(
    struct session *s, const struct printer *p, bool in_doubt, struct err *err)
{
	struct answer a;
	enum rc rc = RC_OK;

	if (s->port != NULL && s->printer != p)
		session_close(s);
	s->printer = p;
	if (s->port == NULL)
		rc = open_port(s, err);
	if (rc == RC_OK && in_doubt)
		rc = reset(s, err);
	if (rc == RC_OK)
		rc = ask(s, &a, err);
	if (rc == RC_OK && fault_act(FAULT_BEFORE, s->state) != ACT_GO)
		rc = not_ready(s, err);
	if (rc == RC_OK)
		return RC_OK;
	session_close(s);
	return RC_RETRY;
}

/* The reason a label stopped in the middle, put before how far it got. */
static enum rc
stuck(struct session *s, size_t done, size_t len, struct err *err)
{
	char words[256] = "";

	err_clear(err);
	if (s->state != 0)
		fault_words(words, sizeof(words), s->state);
	err_set(err, RC_FAILED, 0, "stopped after %zu of %zu bytes%s%s", done,
	    len, words[0] == '\0' ? "" : ": ", words);
	session_forget(s);
	return RC_FAILED;
}

static enum rc
broke(struct session *s, struct err *err)
{
	session_close(s);
	return err_set(err, RC_FAILED, 0, "the printer went away");
}

/* Inside a label only the port may be asked.  RC_END: no use in waiting. */
static enum rc
ask_inside(struct session *s, struct err *err)
{
	struct answer a;

	if (printer_ask_port(&a, s->printer, s->port, err) != RC_OK)
		return RC_FAILED;
	s->state = a.state;
	return fault_act(FAULT_DURING, a.state) == ACT_END ? RC_END : RC_OK;
}

/* One write is not waited for longer than the printer is. */
static int
deadline(const struct printer *p, int64_t until)
{
	int64_t left = until - clock_ticks_ms();

	if (left < 1)
		left = 1;
	return left < p->deadline_ms ? (int)left : p->deadline_ms;
}

static enum rc
send_all(struct session *s, const struct buf *bytes, struct err *err)
{
	const struct printer *p = s->printer;
	const uint8_t *data = (const uint8_t *)bytes->data;
	int64_t until = clock_ticks_ms() + p->patience_ms;
	size_t done = 0, sent;
	enum rc rc;

	for (;;) {
		rc = p->via->write(&sent, s->port, data + done,
		    bytes->len - done, deadline(p, until), err);
		if (rc == RC_OK && sent == bytes->len - done)
			return RC_OK;
		/* A count that cannot be is a driver that cannot be trusted. */
		if (rc != RC_RETRY || sent >= bytes->len - done)
			return broke(s, err);
		done += sent;
		if (done == 0)
			return RC_RETRY;
		if (sent > 0)
			until = clock_ticks_ms() + p->patience_ms;
		err_clear(err);
		if ((rc = ask_inside(s, err)) == RC_FAILED)
			return broke(s, err);
		if (rc == RC_END || clock_ticks_ms() >= until ||
		    session_hurried(s))
			return stuck(s, done, bytes->len, err);
		if (sent == 0)
			pause_ms(p->look_ms);
	}
}

enum rc
session_send(struct session *s, const struct buf *bytes, const char *name,
    struct err *err)
{
	const struct printer *p = s->printer;
	enum rc rc;

	s->state = 0;
	if (p->via->begin != NULL &&
	    (rc = p->via->begin(s->port, name, p->lang->ending, err)) !=
		RC_OK) {
		session_close(s);
		return rc == RC_INVALID ? rc : RC_RETRY;
	}
	rc = send_all(s, bytes, err);
	if (rc == RC_RETRY)
		session_close(s);
	if (rc != RC_OK)
		return rc;
	if (p->via->finish != NULL && p->via->finish(s->port, err) != RC_OK)
		return broke(s, err);
	return RC_OK;
}

enum look
session_look(struct session *s, struct err *err)
{
	struct answer a;

	if (!s->asked)
		return LOOK_BLIND;
	if (ask(s, &a, err) != RC_OK) {
		session_close(s);
		return LOOK_LOST;
	}
	switch (fault_act(FAULT_AFTER, s->state)) {
	case ACT_GO:
		return a.told ? LOOK_OUT : LOOK_BLIND;
	case ACT_WAIT:
		return LOOK_WAIT;
	case ACT_END:
		break;
	}
	ignore_rc(not_ready(s, err)); /* for its words */
	session_close(s);
	return LOOK_LOST;
}
