/* days.c - a day at the station. */
#include "run_pty.h"

const struct pty_test pty_days[] = {
	{ NULL, NULL, NULL },
};
