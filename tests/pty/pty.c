/* pty.c - the program on a terminal of its own. */
#define _DEFAULT_SOURCE 1 /* termios' own flags */
#define _XOPEN_SOURCE 700 /* posix_openpt() */
#include "pty.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

int64_t
pty_now_us(void)
{
	struct timespec t;

	clock_gettime(CLOCK_MONOTONIC, &t);
	return (int64_t)t.tv_sec * 1000000 + t.tv_nsec / 1000;
}

void
pty_nap(int ms)
{
	struct timespec t = { ms / 1000, ms % 1000 * 1000000L };

	nanosleep(&t, NULL);
}

void
pty_fail(struct pty *p, const char *fmt, ...)
{
	va_list ap;

	va_start(ap, fmt);
	vfprintf(stderr, fmt, ap);
	va_end(ap);
	fprintf(stderr, "\n--- %dx%d%s\n%s---\n", p->w, p->h,
	    p->alternate ? "" : ", not the alternate screen", pty_text(p));
	if (p->pid > 0)
		kill(p->pid, SIGKILL);
	exit(1);
}

/* --- the terminal ----------------------------------------------------------*/

static int
on_prop(VTermProp prop, VTermValue *v, void *arg)
{
	struct pty *p = arg;

	if (prop == VTERM_PROP_ALTSCREEN)
		p->alternate = v->boolean;
	if (prop == VTERM_PROP_CURSORVISIBLE)
		p->cursor = v->boolean;
	return 1;
}

static void
open_terminal(struct pty *p)
{
	static VTermScreenCallbacks calls = { .settermprop = on_prop };

	p->vt = vterm_new(p->h, p->w);
	vterm_set_utf8(p->vt, 1);
	p->screen = vterm_obtain_screen(p->vt);
	vterm_screen_set_callbacks(p->screen, &calls, p);
	vterm_screen_enable_altscreen(p->screen, 1);
	vterm_screen_reset(p->screen, 1);
	p->cursor = true;
}

static void
set_size(struct pty *p)
{
	struct winsize ws = { .ws_row = (unsigned short)p->h,
		.ws_col = (unsigned short)p->w };

	if (ioctl(p->master, TIOCSWINSZ, &ws) != 0)
		pty_fail(p, "the size: %s", strerror(errno));
}

static void
in_child(struct pty *p, const char *const *argv, const char *term)
{
	int fd;

	setsid();
	fd = open(ptsname(p->master), O_RDWR | O_NOCTTY);
	if (fd < 0 ||
	    (getenv(PTY_FOREIGN) == NULL && ioctl(fd, TIOCSCTTY, 0) != 0))
		_exit(126);
	dup2(fd, 0);
	dup2(fd, 1);
	dup2(fd, 2);
	if (fd > 2)
		close(fd);
	close(p->master);
	close(p->slave);
	setenv("TERM", term, 1);
	setenv("LC_ALL", "C.UTF-8", 1);
	unsetenv("LANGUAGE");
	unsetenv("LINES");
	unsetenv("COLUMNS");
	execv(argv[0], (char *const *)(uintptr_t)argv);
	_exit(127);
}

void
pty_start(
    struct pty *p, const char *const *argv, const char *term, int w, int h)
{
	memset(p, 0, sizeof(*p));
	p->w = w;
	p->h = h;
	p->on_console = strcmp(term, "linux") == 0;
	open_terminal(p);
	p->master = posix_openpt(O_RDWR | O_NOCTTY);
	if (p->master < 0 || grantpt(p->master) != 0 ||
	    unlockpt(p->master) != 0)
		pty_fail(p, "no pseudo-terminal: %s", strerror(errno));
	p->slave = open(ptsname(p->master), O_RDWR | O_NOCTTY);
	if (p->slave < 0 || tcgetattr(p->slave, &p->before) != 0)
		pty_fail(p, "no terminal: %s", strerror(errno));
	set_size(p);
	p->started_us = pty_now_us();
	if ((p->pid = fork()) == 0)
		in_child(p, argv, term);
}

void
pty_free(struct pty *p)
{
	int status;

	if (p->pid > 0) {
		kill(p->pid, SIGKILL);
		waitpid(p->pid, &status, 0);
	}
	if (p->master >= 0)
		close(p->master);
	if (p->slave >= 0)
		close(p->slave);
	vterm_free(p->vt);
	memset(p, 0, sizeof(*p));
}

/* --- what it shows ---------------------------------------------------------*/

/* False: nothing came for `ms`. */
static bool
take(struct pty *p, int ms)
{
	struct pollfd in = { .fd = p->master, .events = POLLIN };
	char bytes[8192];
	ssize_t n;

	if (poll(&in, 1, ms) <= 0 || (in.revents & POLLIN) == 0)
		return false;
	if ((n = read(p->master, bytes, sizeof(bytes))) <= 0)
		return false;
	if (p->first_us == 0)
		p->first_us = pty_now_us();
	vterm_input_write(p->vt, bytes, (size_t)n);
	return true;
}

void
pty_read(struct pty *p, int ms)
{
	int64_t until = pty_now_us() + (int64_t)ms * 1000, left;

	while ((left = until - pty_now_us()) > 0)
		(void)take(p, (int)(left / 1000) + 1);
}

void
pty_quiet(struct pty *p, int ms)
{
	while (take(p, ms))
		;
}

static size_t
put_cell(char *dst, uint32_t ch)
{
	if (ch == 0)
		ch = ' ';
	if (ch < 0x80) {
		dst[0] = (char)ch;
		return 1;
	}
	if (ch < 0x800) {
		dst[0] = (char)(0xc0 | ch >> 6);
		dst[1] = (char)(0x80 | (ch & 0x3f));
		return 2;
	}
	if (ch < 0x10000) {
		dst[0] = (char)(0xe0 | ch >> 12);
		dst[1] = (char)(0x80 | (ch >> 6 & 0x3f));
		dst[2] = (char)(0x80 | (ch & 0x3f));
		return 3;
	}
	dst[0] = '?';
	return 1;
}

const char *
pty_text(struct pty *p)
{
	static char text[512 * 3 * 208];
	size_t n = 0, end;
	VTermScreenCell cell;
	VTermPos at;

	for (at.row = 0; at.row < p->h && at.row < 200; at.row++) {
		end = n;
		for (at.col = 0; at.col < p->w && at.col < 500;) {
			if (!vterm_screen_get_cell(p->screen, at, &cell))
				break;
			n += put_cell(text + n, cell.chars[0]);
			if (text[n - 1] != ' ')
				end = n;
			at.col += cell.width > 1 ? cell.width : 1;
		}
		n = end;
		text[n++] = '\n';
	}
	text[n] = '\0';
	return text;
}

bool
pty_shows(struct pty *p, const char *text)
{
	return strstr(pty_text(p), text) != NULL;
}

static void
wait_for(struct pty *p, const char *text, bool there)
{
	int64_t until = pty_now_us() + (int64_t)PTY_WAIT_MS * 1000;

	while (pty_shows(p, text) != there) {
		if (pty_now_us() > until)
			pty_fail(p, "%s \"%s\"",
			    there ? "waited in vain for" : "still there:",
			    text);
		(void)take(p, 50);
	}
}

void
pty_wait(struct pty *p, const char *text)
{
	wait_for(p, text, true);
}

void
pty_gone(struct pty *p, const char *text)
{
	wait_for(p, text, false);
}

/* --- what is done to it ----------------------------------------------------*/

void
pty_type(struct pty *p, const char *bytes, int gap_us)
{
	struct timespec gap = { 0, gap_us * 1000L };
	int64_t last = 0, now;

	for (; *bytes != '\0'; bytes++) {
		now = pty_now_us();
		if (gap_us > 0 && gap_us < PTY_STALL_US && last != 0 &&
		    now - last > PTY_STALL_US) {
			/* no scanner does that: this machine is too busy */
			kill(p->pid, SIGKILL);
			exit(PTY_STALLED);
		}
		last = now;
		if (write(p->master, bytes, 1) != 1)
			pty_fail(p, "typing: %s", strerror(errno));
		if (gap_us > 0)
			nanosleep(&gap, NULL);
		while (take(p, 0))
			;
	}
}

/* As an xterm sends them; the Linux console's differ for F1 to F5. */
static const struct {
	const char *name, *bytes, *linux_bytes;
} keys[] = {
	{ "F1", "\033OP", "\033[[A" },
	{ "F2", "\033OQ", "\033[[B" },
	{ "F3", "\033OR", "\033[[C" },
	{ "F4", "\033OS", "\033[[D" },
	{ "F5", "\033[15~", "\033[[E" },
	{ "F6", "\033[17~", NULL },
	{ "F7", "\033[18~", NULL },
	{ "F8", "\033[19~", NULL },
	{ "F9", "\033[20~", NULL },
	{ "F10", "\033[21~", NULL },
	{ "F11", "\033[23~", NULL },
	{ "F12", "\033[24~", NULL },
	{ "Up", "\033OA", "\033[A" },
	{ "Down", "\033OB", "\033[B" },
	{ "Right", "\033OC", "\033[C" },
	{ "Left", "\033OD", "\033[D" },
	{ "PageUp", "\033[5~", NULL },
	{ "PageDown", "\033[6~", NULL },
	{ "Enter", "\r", NULL },
	{ "Esc", "\033", NULL },
	{ "Tab", "\t", NULL },
	{ "Backspace", "\177", NULL },
	{ "Ctrl-C", "\003", NULL },
	{ "Ctrl-L", "\014", NULL },
	{ "Ctrl-O", "\017", NULL },
	{ "Ctrl-Q", "\021", NULL },
	{ "Ctrl-U", "\025", NULL },
	{ "Ctrl-Z", "\032", NULL },
};

static void
press(struct pty *p, const char *name)
{
	const char *bytes = name;
	size_t i;

	for (i = 0; i < sizeof(keys) / sizeof(keys[0]); i++)
		if (strcmp(keys[i].name, name) == 0)
			bytes = p->on_console && keys[i].linux_bytes != NULL
			    ? keys[i].linux_bytes
			    : keys[i].bytes;
	if (write(p->master, bytes, strlen(bytes)) != (ssize_t)strlen(bytes))
		pty_fail(p, "key %s: %s", name, strerror(errno));
}

#define HAND_US 40000 /* slower than any scanner */

void
pty_fields(struct pty *p, const char *const *texts)
{
	for (; *texts != NULL; texts++) {
		pty_type(p, *texts, HAND_US);
		pty_key(p, "Enter");
	}
}

int64_t
pty_answer_us(struct pty *p, const char *name)
{
	int64_t since = pty_now_us();

	press(p, name);
	if (!take(p, PTY_WAIT_MS))
		pty_fail(p, "no answer to %s", name);
	return pty_now_us() - since;
}

void
pty_key(struct pty *p, const char *name)
{
	press(p, name);
	/* Longer than the gap that tells a scanner, and an Esc from a key. */
	pty_read(p, 60);
}

void
pty_resize(struct pty *p, int w, int h)
{
	p->w = w;
	p->h = h;
	vterm_set_size(p->vt, h, w);
	set_size(p);
}

int
pty_end(struct pty *p)
{
	int64_t until = pty_now_us() + (int64_t)PTY_WAIT_MS * 1000;
	int status = 0;

	while (waitpid(p->pid, &status, WNOHANG) == 0) {
		if (pty_now_us() > until)
			pty_fail(p, "it does not end");
		if (p->master >= 0)
			(void)take(p, 20);
		else
			pty_nap(20);
	}
	p->pid = 0;
	while (p->master >= 0 && take(p, 0))
		;
	return status;
}

/* Is what the shell prints next plain? */
static bool
plain(struct pty *p)
{
	VTermScreenCell cell;
	VTermPos at = { p->h - 1, 0 };

	vterm_input_write(p->vt, "\r\nx", 3);
	while (at.row > 0 &&
	    (!vterm_screen_get_cell(p->screen, at, &cell) ||
		cell.chars[0] != 'x'))
		at.row--;
	return !cell.attrs.bold && !cell.attrs.underline && !cell.attrs.reverse;
}

bool
pty_left(struct pty *p)
{
	struct termios now;

	if (tcgetattr(p->slave, &now) != 0) {
		fprintf(stderr, "the terminal is gone\n");
		return false;
	}
	if (now.c_iflag != p->before.c_iflag ||
	    now.c_oflag != p->before.c_oflag ||
	    now.c_cflag != p->before.c_cflag ||
	    now.c_lflag != p->before.c_lflag ||
	    memcmp(now.c_cc, p->before.c_cc, sizeof(now.c_cc)) != 0)
		fprintf(stderr, "the terminal's settings are not as before\n");
	else if (p->alternate)
		fprintf(stderr, "the alternate screen was not left\n");
	else if (!p->cursor)
		fprintf(stderr, "the cursor is hidden\n");
	else if (!plain(p))
		fprintf(stderr, "text is still bold, underlined or reversed\n");
	else
		return true;
	return false;
}

void
pty_leave(struct pty *p)
{
	int status;

	pty_key(p, "Ctrl-C");
	status = pty_end(p);
	if (!WIFEXITED(status) || WEXITSTATUS(status) != 0 || !pty_left(p))
		pty_fail(p, "it did not end well: %x", (unsigned)status);
	pty_free(p);
}
