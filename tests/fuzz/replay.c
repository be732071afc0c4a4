/*
 * replay.c - run one fuzz target over the files named on the command line.
 * Ends with status 1 when a file cannot be read or none was named; when a
 * property does not hold the target aborts, and the file is named.
 */
#include "fuzz.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/file.h"

#define INPUT_MAX ((size_t)1024 * 1024)

static const char *trying;

static void
name_it(int sig)
{
	(void)sig;
	/* Nothing is left to do when this fails: the program ends anyway. */
	if (write(STDERR_FILENO, trying, strlen(trying)) < 0 ||
	    write(STDERR_FILENO, "\n", 1) < 0)
		_exit(EXIT_FAILURE);
}

/* An exact copy, so that a read past the end is seen by the sanitizers. */
static void
try_bytes(const struct buf *b)
{
	uint8_t *copy = malloc(b->len == 0 ? 1 : b->len);

	if (copy == NULL)
		abort();
	if (b->len > 0)
		memcpy(copy, b->data, b->len);
	LLVMFuzzerTestOneInput(copy, b->len);
	free(copy);
}

int
main(int argc, char **argv)
{
	struct err err = { 0 };
	struct buf b;
	int i;

	if (argc < 2) {
		fprintf(stderr, "%s: no corpus files named\n", argv[0]);
		return EXIT_FAILURE;
	}
	signal(SIGABRT, name_it);
	for (i = 1; i < argc; i++) {
		buf_init(&b, INPUT_MAX);
		if (file_read(&b, argv[i], &err) != RC_OK) {
			fprintf(stderr, "%s\n", err.text);
			buf_fini(&b);
			return EXIT_FAILURE;
		}
		trying = argv[i];
		try_bytes(&b);
		buf_fini(&b);
	}
	printf("%s: %d inputs held\n", argv[0], argc - 1);
	return EXIT_SUCCESS;
}
