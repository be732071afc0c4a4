/* broken.c - what every fuzz target does when a property does not hold. */
#include "fuzz.h"

#include <stdio.h>
#include <stdlib.h>

_Noreturn void
fuzz_broken(const char *cond, const char *file, int line)
{
	fprintf(stderr, "%s:%d: does not hold: %s\n", file, line, cond);
	abort();
}
