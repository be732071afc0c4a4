/* main.c - the pinbone program. */
#include <fcntl.h>
#include <locale.h>
#include <stdlib.h>
#include <unistd.h>

#include "console/cmd.h"

/*
 * Whoever started the program may have closed its standard descriptors.  The
 * next file opened would get their numbers, and what is printed would be
 * written into it.  Nothing can be written to these, so that it is noticed.
 */
static void
hold_descriptors(void)
{
	int fd;

	for (fd = STDIN_FILENO; fd <= STDERR_FILENO; fd++)
		if (fcntl(fd, F_GETFD) < 0 && open("/dev/null", O_RDONLY) != fd)
			_exit(EXIT_FAILURE);
}

int
main(int argc, char **argv)
{
	hold_descriptors();
	/* Text is UTF-8; numbers stay in the C locale whatever is set. */
	setlocale(LC_CTYPE, "");
	return cmd_main(argc, argv);
}
