/* ends.c - however the program ends, the terminal is as it was. */
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include "run_pty.h"

static void
must_end(struct pty *p, int want)
{
	int status = pty_end(p);

	if (!WIFEXITED(status) || WEXITSTATUS(status) != want)
		pty_fail(p, "ended with %x", (unsigned)status);
	if (!pty_left(p))
		pty_fail(p, "the terminal is not as it was");
	pty_free(p);
}

static void
open_on(struct pty *p, struct world *w, const char *term)
{
	world_open(p, w, term, 80, 24);
	pty_wait(p, "Today");
	pty_wait(p, "F1 Help");
	pty_quiet(p, 100);
}

static void
quit_on(struct world *w, const char *term)
{
	struct pty p;

	open_on(&p, w, term);
	pty_key(&p, "Ctrl-Q");
	pty_key(&p, "Enter");
	must_end(&p, 0);
}

static void
quits_on_xterm(struct world *w)
{
	quit_on(w, "xterm-256color");
}

static void
quits_on_the_console(struct world *w)
{
	quit_on(w, "linux");
}

static void
quits_in_monochrome(struct world *w)
{
	setenv("NO_COLOR", "1", 1);
	quit_on(w, "xterm-256color");
	quit_on(w, "vt220");
}

static void
end_by(struct world *w, int sig)
{
	struct pty p;

	open_on(&p, w, "xterm-256color");
	if (!p.alternate)
		pty_fail(&p, "not on the alternate screen");
	kill(p.pid, sig);
	must_end(&p, 0);
}

static void
ctrl_c(struct world *w)
{
	struct pty p;

	open_on(&p, w, "xterm-256color");
	pty_key(&p, "Ctrl-C");
	must_end(&p, 0);
}

static void
sigterm(struct world *w)
{
	end_by(w, SIGTERM);
}

static void
sighup(struct world *w)
{
	end_by(w, SIGHUP);
}

/* A PIN is not typed after all: what is typed next is seen again. */
static void
ctrl_c_at_a_pin(struct world *w)
{
	const char *const argv[] = { w->program, "--config", w->ini, "--db",
		w->db, "--by", "AK", "--now", WORLD_NOW, "people", "pin", "AK",
		NULL };
	struct pty p;

	if (world_count(w, "SELECT count(*) FROM person") == 0)
		MUST(w, "people", "add", "AK", "Ada");
	pty_start(&p, argv, "xterm-256color", 80, 24);
	pty_wait(&p, "new PIN");
	pty_type(&p, "246", 50000);
	pty_key(&p, "Ctrl-C");
	must_end(&p, 2);
	if (world_count(w,
		"SELECT count(*) FROM person WHERE pin_hash IS NOT NULL") != 0)
		pty_fail(&p, "a PIN was set");
}

static void
sigint(struct world *w)
{
	end_by(w, SIGINT);
}

/* The window is closed: the program must not stay behind, spinning. */
static void
closed_terminal(struct world *w)
{
	struct pty p;
	int status;

	open_on(&p, w, "xterm-256color");
	close(p.slave);
	close(p.master);
	p.slave = p.master = -1;
	status = pty_end(&p);
	if (!WIFEXITED(status) || WEXITSTATUS(status) != 0)
		pty_fail(&p, "ended with %x", (unsigned)status);
	pty_free(&p);
}

/* The same when no signal tells of it. */
static void
closed_unsaid(struct world *w)
{
	setenv(PTY_FOREIGN, "1", 1);
	closed_terminal(w);
	unsetenv(PTY_FOREIGN);
}

static void
crash_by(struct world *w, int sig, const char *term)
{
	struct pty p;
	int status;

	open_on(&p, w, term);
	kill(p.pid, sig);
	status = pty_end(&p);
	/* Under sanitizers their report ends it by exit. */
	if (!(WIFSIGNALED(status) && WTERMSIG(status) == sig) &&
	    getenv("ASAN_OPTIONS") == NULL)
		pty_fail(&p, "ended with %x", (unsigned)status);
	if (!pty_left(&p))
		pty_fail(&p, "the terminal is not as it was");
	pty_free(&p);
}

static void
crash(struct world *w)
{
	crash_by(w, SIGSEGV, "xterm-256color");
	crash_by(w, SIGABRT, "xterm-256color");
	crash_by(w, SIGSEGV, "linux");
}

static void
no_terminal(struct world *w)
{
	if (RUN(w, "station") != 2)
		exit(1);
}

/* Every screen, at sizes no one would choose, and back. */
static void
sizes(struct world *w)
{
	struct pty p;

	open_on(&p, w, "xterm-256color");
	pty_resize(&p, 40, 10);
	pty_quiet(&p, 300);
	pty_key(&p, "F1");
	pty_wait(&p, "Help");
	pty_resize(&p, 1, 1);
	pty_quiet(&p, 200);
	pty_resize(&p, 200, 60);
	pty_wait(&p, "Screens, from everywhere");
	pty_resize(&p, 80, 24);
	pty_wait(&p, "Screens, from everywhere");
	pty_key(&p, "F2");
	pty_wait(&p, "Today");
	pty_key(&p, "Ctrl-L");
	pty_wait(&p, "Today");
	pty_key(&p, "Ctrl-C");
	must_end(&p, 0);
}

const struct pty_test pty_ends[] = {
	{ "quits on xterm", quits_on_xterm, NULL },
	{ "quits on the console", quits_on_the_console, NULL },
	{ "quits in monochrome", quits_in_monochrome, NULL },
	{ "Ctrl-C", ctrl_c, NULL },
	{ "Ctrl-C at a PIN", ctrl_c_at_a_pin, NULL },
	{ "SIGINT", sigint, NULL },
	{ "SIGTERM", sigterm, NULL },
	{ "SIGHUP", sighup, NULL },
	{ "closed terminal", closed_terminal, NULL },
	{ "closed terminal, no signal", closed_unsaid, NULL },
	{ "crash", crash, NULL },
	{ "no terminal", no_terminal, NULL },
	{ "sizes", sizes, NULL },
	{ NULL, NULL, NULL },
};
