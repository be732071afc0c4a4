/*
 * print/session.h - one conversation with one printer: is it ready, take this
 * label, is it out?
 *
 * Knows bytes and states, nothing of labels, jobs or the file; the spool says
 * when.  docs/printing.md "The queue" and "Faults".
 *
 * Blocking: session_open and session_look a few deadlines of the printer,
 * session_send until its patience is over.  Threads: one session, one thread.
 */
#ifndef PRINT_SESSION_H
#define PRINT_SESSION_H

#include <signal.h>
#include <stdbool.h>

#include "base/buf.h"
#include "base/err.h"
#include "print/printer.h"

struct session {
	const struct printer *printer; /* borrowed while it is open */
	struct port *port;             /* NULL: not open */
	unsigned state;                /* PRINTER_ bits as last told */
	bool asked;                    /* it can be asked, and has answered */
	/* Set by a signal when somebody wants to go home: patience is over at
	 * 2.  May be NULL. */
	const volatile sig_atomic_t *stop;
};

/*
 * session_open - make sure that the printer is open, speaks the language and
 * is ready for a label.  Opens it when needed.  With `in_doubt` it is first
 * made to forget what it holds of an earlier label.
 * RC_OK; RC_RETRY not ready: nothing was sent, err has the reason.
 */
enum rc session_open(struct session *s, const struct printer *p, bool in_doubt,
    struct err *err) MUST_CHECK;

/*
 * session_send - one label, whole.  A printer that stops taking bytes is
 * waited for as long as its patience; each byte taken begins it anew.
 * RC_OK      the last byte was taken
 * RC_RETRY   not one byte was taken: as before
 * RC_INVALID the way in cannot take a label of this name: as before
 * RC_FAILED  a part may be out; the printer was made to forget the rest, and
 *            the session is closed
 */
enum rc session_send(struct session *s, const struct buf *bytes,
    const char *name, struct err *err) MUST_CHECK;

/*
 * What a look at the printer after the last byte says.  Many a port says that
 * all is well whatever happens: only the printer's own language makes a label
 * come out.
 */
enum look {
	LOOK_BLIND, /* nothing is known against it; it cannot say more */
	LOOK_OUT,  /* it says so itself: not busy, no fault, the label is out */
	LOOK_WAIT, /* s->state says why not yet */
	LOOK_LOST, /* it is gone; err says how */
};
enum look session_look(struct session *s, struct err *err);

/* session_forget - reset what it holds, and close. */
void session_forget(struct session *s);

/* session_close - accepts one that is not open. */
void session_close(struct session *s);

/* session_hurried - is patience over by order? */
bool session_hurried(const struct session *s);

/* pause_ms - sleep; a signal ends it early. */
void pause_ms(int ms);

#endif /* PRINT_SESSION_H */
