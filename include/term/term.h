/*
 * term/term.h - the terminal: the only part that knows ncurses.
 *
 * One terminal per process.  Whatever ends the program, the terminal is put
 * back as it was: term_close(), or for a crash the handlers of term_open().
 */
#ifndef TERM_TERM_H
#define TERM_TERM_H

#include <signal.h>
#include <stdbool.h>

#include "base/err.h"
#include "term/canvas.h"
#include "term/key.h"

struct term_options {
	bool no_colour; /* as NO_COLOR asks */
	bool ascii;     /* draw with ASCII alone */
};

/*
 * term_open - take the terminal of standard input and output over.
 * RC_OK, RC_INVALID (no terminal, or TERM not known to terminfo).
 */
enum rc term_open(const struct term_options *o, struct err *err) MUST_CHECK;
void term_close(void);

/*
 * term_key - wait at most `wait_ms` (-1: for ever) for a key.
 * RC_OK; RC_RETRY nothing came; RC_END the terminal is closed or a signal
 * asks to end.  *resized tells of a new size, which term_size() gives.
 */
enum rc term_key(
    struct key *out, bool *resized, int wait_ms, struct err *err) MUST_CHECK;
void term_size(int *w, int *h);

/* term_paint - make the terminal look like the canvas. */
void term_paint(const struct canvas *c);
/* term_anew - repaint everything at the next term_paint(). */
void term_anew(void);

#endif /* TERM_TERM_H */
