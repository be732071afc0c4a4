/*
 * script.h - a script of keys and scans played on a desk.
 */
#ifndef SCRIPT_H
#define SCRIPT_H

#include "base/buf.h"
#include "ops/station.h"
#include "screens/desk.h"

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

/* script_mask - X for the code at the foot of a day sheet, which is another one
 * in every file. */
void script_mask(char *text);

/*
 * script_rescue - as the program does when the file cannot be used: the one
 * screen there is then.  NULL: it is not damaged.  script_swap - as it does
 * when desk `d`, which it frees, ended with a backup that is wanted.  NULL:
 * there is no station afterwards.
 */
struct desk *script_rescue(struct station **sn, const struct station_options *o,
    const struct desk_host *host, int w, int h, const struct err *why);
struct desk *script_swap(struct desk *d, struct station **sn, const char *now,
    const struct desk_host *host, int w, int h, struct err *err);

#endif /* SCRIPT_H */
