/* cut_child.c - run a program or a function in a process of its own. */
#define _DEFAULT_SOURCE 1 /* wait4: what one child took, not all of them */
#include "cut_child.h"

#include <fcntl.h>
#include <stdint.h>
#include <stdio.h>
#include <sys/resource.h>
#include <sys/time.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

#define RESULT_MAX 4096 /* a pipe takes this much without a reader */

static double
seconds_of(const struct timeval *t)
{
	return (double)t->tv_sec + (double)t->tv_usec / 1e6;
}

/* The exit status, or -1. */
static int
reap(struct child_use *use, pid_t pid)
{
	struct rusage u;
	int status;

	if (wait4(pid, &status, 0, &u) != pid)
		return -1;
	if (use != NULL) {
		use->cpu_s = seconds_of(&u.ru_utime) + seconds_of(&u.ru_stime);
		use->peak_kib = u.ru_maxrss;
	}
	return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

int
child_run(struct child_use *use, const char *const *argv, const char *output)
{
	pid_t pid;
	int fd;

	fflush(NULL);
	pid = fork();
	if (pid < 0)
		return 127;
	if (pid == 0) {
		fd = open(output, O_WRONLY | O_CREAT | O_TRUNC, 0644);
		if (fd < 0 || dup2(fd, STDOUT_FILENO) < 0 ||
		    dup2(fd, STDERR_FILENO) < 0)
			_exit(127);
		execvp(argv[0], (char *const *)(uintptr_t)argv);
		_exit(127);
	}
	return reap(use, pid);
}

bool
child_call(struct child_use *use, void *result, size_t size,
    void (*fn)(void *result, const void *arg), const void *arg,
    unsigned seconds)
{
	ssize_t got;
	pid_t pid;
	int p[2];

	if (size > RESULT_MAX || pipe(p) != 0)
		return false;
	fflush(NULL);
	pid = fork();
	if (pid == 0) {
		alarm(seconds);
		fn(result, arg);
		_exit(write(p[1], result, size) == (ssize_t)size ? 0 : 1);
	}
	close(p[1]);
	if (pid < 0 || reap(use, pid) != 0) {
		close(p[0]);
		return false;
	}
	got = read(p[0], result, size);
	close(p[0]);
	return got == (ssize_t)size;
}
