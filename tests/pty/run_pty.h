/*
 * run_pty.h - the tests on a terminal, a table each file.
 */
#ifndef RUN_PTY_H
#define RUN_PTY_H

#include "world.h"

struct pty_test {
	const char *name;
	void (*run)(struct world *w);
	const char *settings; /* more of them, or NULL */
};

/* Each ended by a row without a name. */
extern const struct pty_test pty_ends[];
extern const struct pty_test pty_scans[];
extern const struct pty_test pty_days[];
extern const struct pty_test pty_lessons[];
extern const struct pty_test pty_files[];

#endif /* RUN_PTY_H */
