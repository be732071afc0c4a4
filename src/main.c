/* main.c - the pinbone program. */
#include <locale.h>

#include "console/cmd.h"

int
main(int argc, char **argv)
{
	/* Text is UTF-8; numbers stay in the C locale whatever is set. */
	setlocale(LC_CTYPE, "");
	return cmd_main(argc, argv);
}
