/* beside.c - this same program, run beside the station. */
#include "screens/beside.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/str.h"
#include "ops/command.h"
#include "says_beside.h"

#define LOOK_MS 20
/* A process that cannot be started at all, as a shell says it. */
#define NOT_STARTED 127
/* Of one tick, so that a program that talks without end cannot hold it. */
#define READ_MOST (64 * 1024)

struct beside {
	pid_t pid; /* 0: it was reaped */
	int fd;    /* its output; -1 when it is shut */
	int status;
	int64_t began_ms, ended_ms, expect_ms;
	char lines[BESIDE_LINES][BESIDE_LINE_SIZE]; /* a ring */
	size_t count;                               /* of lines ever kept */
	char part[BESIDE_LINE_SIZE]; /* of the line that is not ended yet */
	size_t part_len;
	char last[BESIDE_LINE_SIZE];
};

/* --- start ----------------------------------------------------------------*/

/*
 * In the child, until it is another program: only calls a fork allows.  A
 * group of its own keeps the terminal's Ctrl-C and hangup away from a label
 * half out; should the station be gone already, nobody would stop it.
 */
static void
become(const char *program, char *const *argv, int out, pid_t parent)
{
	struct sigaction act = { .sa_handler = SIG_DFL };
	sigset_t none;
	int in = open("/dev/null", O_RDONLY | O_CLOEXEC), sig;

	sigemptyset(&act.sa_mask);
	for (sig = 1; sig < 32; sig++)
		sigaction(sig, &act, NULL);
	sigemptyset(&none);
	sigprocmask(SIG_SETMASK, &none, NULL);
	if (in < 0 || dup2(in, STDIN_FILENO) < 0 ||
	    dup2(out, STDOUT_FILENO) < 0 || dup2(out, STDERR_FILENO) < 0 ||
	    setpgid(0, 0) != 0 || prctl(PR_SET_PDEATHSIG, SIGTERM) != 0 ||
	    getppid() != parent)
		_exit(NOT_STARTED);
	execv(program, argv);
	_exit(NOT_STARTED);
}

/* Shut in other programs, and never waited for. */
static bool
make_pipe(int ends[2])
{
	if (pipe(ends) != 0)
		return false;
	if (fcntl(ends[0], F_SETFD, FD_CLOEXEC) == 0 &&
	    fcntl(ends[1], F_SETFD, FD_CLOEXEC) == 0 &&
	    fcntl(ends[0], F_SETFL, O_NONBLOCK) == 0)
		return true;
	close(ends[0]);
	close(ends[1]);
	return false;
}

static enum rc
start(struct beside *b, const char *program, char *const *argv, struct err *err)
{
	pid_t parent = getpid();
	sigset_t all, before;
	int ends[2];

	if (!make_pipe(ends))
		return err_set(err, RC_FAILED, errno,
		    "another program cannot be run beside this one: %s",
		    strerror(errno));
	/* A signal between the two would run the station's handlers, which put
	 * the terminal back, in a process that only looks like it. */
	sigfillset(&all);
	sigprocmask(SIG_SETMASK, &all, &before);
	b->pid = fork();
	if (b->pid == 0)
		become(program, argv, ends[1], parent);
	sigprocmask(SIG_SETMASK, &before, NULL);
	close(ends[1]);
	b->fd = ends[0];
	if (b->pid > 0)
		return RC_OK;
	close(b->fd);
	b->pid = 0;
	return err_set(err, RC_FAILED, errno,
	    "another program cannot be run beside this one: %s",
	    strerror(errno));
}

enum rc
beside_start(struct beside **out, const struct desk *d, const char *const *args,
    int64_t expect_ms, struct err *err)
{
	const char *argv[BESIDE_ARGS_MAX + COMMAND_ARGS_MAX + 2];
	struct command where;
	struct beside *b;
	size_t n = 0, i;
	enum rc rc;

	if (d->host == NULL || d->host->program == NULL)
		return err_set(err, RC_FAILED, 0,
		    "where this program lies is not known: it cannot be run "
		    "beside the station");
	command_of(&where, d->sn);
	argv[n++] = d->host->program;
	for (i = 0; i < where.count; i++)
		argv[n++] = where.args[i];
	for (i = 0; args[i] != NULL; i++) {
		assert(i < BESIDE_ARGS_MAX);
		argv[n++] = args[i];
	}
	argv[n] = NULL;
	b = xcalloc(1, sizeof(*b));
	b->began_ms = d->now_ms;
	b->expect_ms = expect_ms;
	b->status = -1;
	/* execv() changes none of them, whatever its type says */
	rc = start(b, d->host->program, (char *const *)(uintptr_t)argv, err);
	if (rc == RC_OK)
		*out = b;
	else
		free(b);
	return rc;
}

/* --- what it says ---------------------------------------------------------*/

static void
end_line(struct beside *b)
{
	char *line = b->lines[b->count % BESIDE_LINES];

	b->part[b->part_len] = '\0';
	b->part_len = 0;
	utf8_clean(b->part);
	if (b->part[0] == '\0')
		return;
	str_copy(line, BESIDE_LINE_SIZE, b->part);
	str_copy(b->last, sizeof(b->last), b->part);
	b->count++;
}

static void
take_byte(struct beside *b, char c)
{
	if (c == '\n' || c == '\r')
		end_line(b);
	else if (b->part_len + 1 < sizeof(b->part))
		b->part[b->part_len++] = c;
}

/* True: something was read. */
static bool
take_output(struct beside *b)
{
	char bytes[4096];
	size_t most = READ_MOST;
	bool any = false;
	ssize_t n, i;

	while (b->fd >= 0 && most >= sizeof(bytes)) {
		n = read(b->fd, bytes, sizeof(bytes));
		if (n < 0 && errno == EINTR)
			continue;
		if (n < 0 && (errno == EAGAIN || errno == EWOULDBLOCK))
			break;
		if (n <= 0) {
			close(b->fd);
			b->fd = -1;
			break;
		}
		any = true;
		most -= (size_t)n;
		for (i = 0; i < n; i++)
			take_byte(b, bytes[i]);
	}
	return any;
}

/* True: it has ended. */
static bool
reap(struct beside *b, int64_t now_ms)
{
	int status;
	pid_t got = waitpid(b->pid, &status, WNOHANG);

	if (got == 0 || (got < 0 && errno == EINTR))
		return false;
	b->pid = 0;
	b->ended_ms = now_ms;
	if (got < 0)
		b->status = NOT_STARTED;
	else if (WIFEXITED(status))
		b->status = WEXITSTATUS(status);
	else
		b->status = 128 + (WIFSIGNALED(status) ? WTERMSIG(status) : 0);
	return true;
}

bool
beside_tick(struct beside *b, int64_t now_ms)
{
	bool any;

	if (b == NULL)
		return false;
	any = take_output(b);
	if (b->pid == 0 || !reap(b, now_ms))
		return any;
	/* What it said last came in between, and nothing more will. */
	take_output(b);
	end_line(b);
	if (b->fd >= 0)
		close(b->fd);
	b->fd = -1;
	return true;
}

bool
beside_running(const struct beside *b)
{
	return b != NULL && b->pid != 0;
}

int
beside_status(const struct beside *b)
{
	return b == NULL ? -1 : b->status;
}

const char *
beside_last(const struct beside *b)
{
	return b == NULL ? "" : b->last;
}

void
beside_text(struct buf *out, const struct beside *b)
{
	size_t i;

	if (b == NULL)
		return;
	for (i = b->count > BESIDE_LINES ? b->count - BESIDE_LINES : 0;
	     i < b->count; i++)
		buf_printf(out, "%s\n", b->lines[i % BESIDE_LINES]);
}

static char *
time_words(char *dst, size_t size, int64_t ms)
{
	long s = (long)((ms + 500) / 1000);

	if (s < 120)
		str_fmt(dst, size, tr(SAY_BESIDE_SECONDS), s);
	else
		str_fmt(dst, size, tr(SAY_BESIDE_MINUTES), s / 60, s % 60);
	return dst;
}

char *
beside_progress(char *dst, size_t size, const struct beside *b, int64_t now_ms)
{
	char took[40], about[40];
	int64_t ms;

	dst[0] = '\0';
	if (b == NULL)
		return dst;
	ms = (b->pid != 0 ? now_ms : b->ended_ms) - b->began_ms;
	time_words(took, sizeof(took), ms > 0 ? ms : 0);
	if (b->expect_ms <= 0 || b->pid == 0)
		str_fmt(dst, size, "%s", took);
	else if (ms > b->expect_ms)
		str_fmt(dst, size, tr(SAY_BESIDE_LONGER), took);
	else
		str_fmt(dst, size, tr(SAY_BESIDE_OF_ABOUT), took,
		    time_words(about, sizeof(about), b->expect_ms));
	return dst;
}

/* --- end ------------------------------------------------------------------*/

void
beside_stop(struct beside *b)
{
	if (b != NULL && b->pid != 0)
		kill(b->pid, SIGTERM);
}

bool
beside_wait(struct beside *b, int64_t most_ms)
{
	int64_t until = clock_ticks_ms() + most_ms;

	while (beside_running(b)) {
		/* Its output is read on: a full pipe would keep it running. */
		if (beside_tick(b, b->began_ms))
			continue;
		if (clock_ticks_ms() >= until)
			return false;
		poll(NULL, 0, LOOK_MS);
	}
	return true;
}

void
beside_free(struct beside *b, int64_t patience_ms)
{
	if (b == NULL)
		return;
	beside_stop(b);
	while (!beside_wait(b, patience_ms)) {
		kill(b->pid, SIGKILL);
		patience_ms = LOOK_MS;
	}
	if (b->fd >= 0)
		close(b->fd);
	free(b);
}
