/*
 * run_pty.c - the program itself on a terminal.
 *
 *	run_pty PROGRAM [FILTER]
 *
 * Every test is a process of its own with a kitchen of its own.
 */
#define _XOPEN_SOURCE 700 /* realpath() */
#include "run_pty.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/str.h"

static const struct pty_test *const tables[] = { pty_ends, pty_scans, pty_days,
	pty_lessons, pty_files };

#define TRIES 8 /* on a machine too busy to play a scanner */

/* The status of the test's process. */
static int
attempt(const struct pty_test *t, const char *program)
{
	struct world w;
	int status = -1;
	pid_t pid;

	fflush(stdout);
	world_make(&w, program, t->settings == NULL ? "" : t->settings);
	if ((pid = fork()) == 0) {
		alarm(120);
		t->run(&w);
		exit(0);
	}
	waitpid(pid, &status, 0);
	world_drop(&w);
	return status;
}

static bool
run(const struct pty_test *t, const char *program)
{
	int i, status = -1;

	for (i = 0; i < TRIES; i++) {
		status = attempt(t, program);
		if (!WIFEXITED(status) || WEXITSTATUS(status) != PTY_STALLED)
			break;
	}
	printf("%s\t%s\n", status == 0 ? "ok" : "FAILED", t->name);
	return status == 0;
}

int
main(int argc, char **argv)
{
	char program[512], *here = realpath(argc > 1 ? argv[1] : "", NULL);
	int failed = 0, count = 0;
	size_t i, j;

	if (here == NULL || !str_copy(program, sizeof(program), here)) {
		fprintf(stderr, "usage: run_pty PROGRAM [FILTER]\n");
		return 2;
	}
	free(here);
	for (i = 0; i < sizeof(tables) / sizeof(tables[0]); i++)
		for (j = 0; tables[i][j].name != NULL; j++) {
			if (argc > 2 &&
			    strstr(tables[i][j].name, argv[2]) == NULL)
				continue;
			count++;
			failed += !run(&tables[i][j], program);
		}
	printf("pty: %d of %d\n", count - failed, count);
	return failed != 0 || count == 0;
}
