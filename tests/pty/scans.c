/* scans.c - a scanner that types. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "run_pty.h"

#define BURST_US 2000 /* between two characters: a fast wedge scanner */

static void
scan(struct pty *p, const char *code)
{
	char burst[200];

	/* its Enter comes in the same time */
	str_fmt(burst, sizeof(burst), "%s\r", code);
	pty_type(p, burst, BURST_US);
}

/* On Today no character may act as a key; the code opens Trace. */
static void
burst(struct world *w)
{
	char code[16];
	struct pty p;

	world_fish(code, w);
	world_open(&p, w, "xterm-256color", 80, 24);
	pty_wait(&p, "Today");
	pty_quiet(&p, 100);
	scan(&p, code);
	pty_wait(&p, "Trace");
	pty_wait(&p, code);
	pty_key(&p, "Ctrl-C");
	if (pty_end(&p) != 0 || !pty_left(&p))
		pty_fail(&p, "it did not end well");
	pty_free(&p);
}

/* Alt and the row of digits, on a keyboard without function keys. */
static void
alt_row(struct world *w)
{
	static const char *const titles[] = { "Goods in", "Prep list",
		"Breakdown", "On hand", "Service", "Trace", "Menu and covers",
		"Printing", "Records" };
	char key[3] = "\033?", seen[40];
	struct pty p;
	size_t i;

	world_open(&p, w, "xterm-256color", 80, 24);
	pty_wait(&p, "F1 Help");
	pty_quiet(&p, 100);
	for (i = 0; i < sizeof(titles) / sizeof(titles[0]); i++) {
		key[1] = "34567890-"[i];
		pty_key(&p, key);
		str_fmt(seen, sizeof(seen), " %s   TRAINING", titles[i]);
		pty_wait(&p, seen);
	}
	pty_key(&p, "\0333");
	pty_wait(&p, "take in");
	pty_key(&p, "n");
	pty_key(&p, "\033="); /* would record, were all of it typed */
	pty_wait(&p, "Caution: Supplier");
	pty_key(&p, "Ctrl-C");
	if (pty_end(&p) != 0 || !pty_left(&p))
		pty_fail(&p, "it did not end well");
	pty_free(&p);
}

const struct pty_test pty_scans[] = {
	{ "Alt and the row of digits", alt_row, NULL },
	{ "a burst opens Trace", burst, NULL },
	{ NULL, NULL, NULL },
};
