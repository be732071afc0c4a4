/*
 * pty.h - the program on a terminal of its own: what a person would see of it,
 * and what it leaves of the terminal.
 *
 * The terminal is libvterm behind a pseudo-terminal.  A wait that comes to
 * nothing prints the screen and ends the test's process.
 */
#ifndef PTY_H
#define PTY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/types.h>
#include <termios.h>
#include <vterm.h>

#define PTY_WAIT_MS 10000 /* far longer than anything takes, sanitizers too */

struct pty {
	int master, slave; /* the slave stays open here, to be looked at */
	pid_t pid;
	int w, h;
	VTerm *vt;
	VTermScreen *screen;
	bool on_console;        /* TERM=linux: it sends other keys */
	bool alternate, cursor; /* alternate screen; cursor seen */
	struct termios before;
	int64_t started_us, first_us; /* exec; first byte of the first screen */
};

/* When this is set in the environment the terminal is not the program's own: no
 * signal says that it is closed. */
#define PTY_FOREIGN "PTY_FOREIGN"

/* pty_start - argv on a new terminal of w by h cells called `term`. */
void pty_start(
    struct pty *p, const char *const *argv, const char *term, int w, int h);
/* pty_free - end what still runs, and close. */
void pty_free(struct pty *p);

/* pty_read - take what the program writes for `ms`. */
void pty_read(struct pty *p, int ms);
/* pty_quiet - until it has written nothing for `ms`. */
void pty_quiet(struct pty *p, int ms);
/* pty_wait - until the text is on the screen; pty_gone - until it is not. */
void pty_wait(struct pty *p, const char *text);
void pty_gone(struct pty *p, const char *text);
bool pty_shows(struct pty *p, const char *text);
/* pty_text - the whole screen, a line for each row; owned by the harness. */
const char *pty_text(struct pty *p);

/* pty_type - bytes, with so long between two.  When this machine is too busy to
 * play a scanner the process ends with PTY_STALLED: to be tried again. */
#define PTY_STALL_US 15000
#define PTY_STALLED 77
void pty_type(struct pty *p, const char *bytes, int gap_us);
/* pty_key - "F3", "Enter", "Esc", "Up", ..., or a character. */
void pty_key(struct pty *p, const char *name);
/* pty_fields - texts, ended by NULL, each typed as by hand and then Enter; an
 * empty one passes its field by. */
void pty_fields(struct pty *p, const char *const *texts);
/* pty_answer_us - press it, until the program writes. */
int64_t pty_answer_us(struct pty *p, const char *name);
void pty_resize(struct pty *p, int w, int h);

/* pty_end - until it has ended; the status as waitpid() gives it. */
int pty_end(struct pty *p);
/* pty_left - is the terminal as it was before?  Says what is not. */
bool pty_left(struct pty *p);

/* pty_leave - Ctrl-C: it must end well, and leave the terminal as it was.
 * Frees. */
void pty_leave(struct pty *p);

/* pty_fail - print what and the screen, and end the test. */
void pty_fail(struct pty *p, const char *fmt, ...)
    __attribute__((format(printf, 2, 3), noreturn));
int64_t pty_now_us(void);
void pty_nap(int ms);

#endif /* PTY_H */
