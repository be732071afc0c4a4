/*
 * run_screens.c - play the scripts of tests/screens on a desk without a
 * terminal, and compare what is seen with literal text.
 *
 *	run_screens PROGRAM FOLDER [FILTER]
 */
#include <fcntl.h>
#include <glob.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/buf.h"
#include "base/file.h"
#include "base/mem.h"
#include "base/str.h"
#include "script.h"

#define TEXT_MAX ((size_t)4 * 1024 * 1024)

static int
differs(char *want_path, const struct buf *got)
{
	char diff[] = "diff", u[] = "-u", path[] = "/tmp/pinbone-seen-XXXXXX";
	char *argv[] = { diff, u, want_path, path, NULL };
	int fd = mkstemp(path), rc;

	if (fd < 0 || write(fd, got->data, got->len) != (ssize_t)got->len ||
	    close(fd) != 0) {
		perror(path);
		return 1;
	}
	rc = script_child(argv);
	unlink(path);
	return rc != 0;
}

static int
renew(const char *path, const struct buf *got)
{
	FILE *f = fopen(path, "w");

	if (f == NULL || fwrite(got->data, 1, got->len, f) != got->len ||
	    fclose(f) != 0) {
		perror(path);
		return 1;
	}
	return 0;
}

static int
one(const char *program, const char *keys)
{
	char want[600];
	struct buf got;
	int bad;

	str_fmt(want, sizeof(want), "%.*s.txt", (int)(strlen(keys) - 5), keys);
	buf_init(&got, TEXT_MAX);
	bad = script_play(&got, program, keys);
	if (!bad && getenv("RENEW") != NULL)
		bad = renew(want, &got);
	else if (!bad)
		bad = differs(want, &got);
	buf_fini(&got);
	return bad;
}

int
main(int argc, char **argv)
{
	char pattern[600];
	const char *name;
	size_t i;
	glob_t g;
	int ran = 0, failed = 0;

	if (argc < 3 || argc > 4) {
		fprintf(stderr, "usage: run_screens PROGRAM FOLDER [FILTER]\n");
		return 2;
	}
	(void)setenv("LC_ALL", "C.UTF-8", 1);
	(void)setlocale(LC_CTYPE, "");
	str_fmt(pattern, sizeof(pattern), "%s/*.keys", argv[2]);
	if (glob(pattern, 0, NULL, &g) != 0) {
		fprintf(stderr, "run_screens: no scripts in %s\n", argv[2]);
		return 2;
	}
	for (i = 0; i < g.gl_pathc; i++) {
		name = strrchr(g.gl_pathv[i], '/') + 1;
		if (argc == 4 && strstr(name, argv[3]) == NULL)
			continue;
		ran++;
		if (one(argv[1], g.gl_pathv[i])) {
			printf("FAIL %s\n", name);
			failed++;
		}
	}
	globfree(&g);
	printf("screens: %d scripts, %d failed\n", ran, failed);
	return failed > 0 || ran == 0;
}
