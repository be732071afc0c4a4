/*
 * script.h - a script of keys and scans played on a desk.
 */
#ifndef SCRIPT_H
#define SCRIPT_H

#include "base/buf.h"

/*
 * script_play - run the script at `path` with `program` for its commands, in a
 * folder of its own; what was to be shown is appended.  Returns 0, or 1 after
 * saying on standard error which line failed.
 */
int script_play(struct buf *out, const char *program, const char *path);

/* script_child - run a program to its end; its output is ours.  Returns its
 * status as waitpid() gives it, -1 when it cannot be started. */
int script_child(char **argv);

/* script_split - the words of a line, with "..." kept together; `text` is cut
 * up.  How many; a NULL stands behind the last. */
#define SCRIPT_WORDS_MAX 90
int script_split(char **words, char *text);

/* What $NAME stands for. */
#define SCRIPT_NAMES_MAX 64
struct script_names {
	struct {
		char name[32], value[256];
	} items[SCRIPT_NAMES_MAX];
	size_t count;
};

/* script_replace - `line` with every $NAME replaced, the longest name first. */
void script_replace(
    char *dst, size_t size, const struct script_names *names, const char *line);

#endif /* SCRIPT_H */
