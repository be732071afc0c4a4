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

#endif /* SCRIPT_H */
