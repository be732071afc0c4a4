/*
 * weighing.h - the scale behind an option of a command.  Private to
 * src/console.
 */
#ifndef CONSOLE_WEIGHING_H
#define CONSOLE_WEIGHING_H

#include "console/cmd.h"
#include "ops/weigh.h"

#define WEIGHING_WAIT_OPT                                                      \
	{                                                                      \
		"wait", "SECONDS", "for each weight from the scale"            \
	}

/*
 * weighing_take - weigh once (each 0) or `each` one after another, for as long
 * as --wait says.  What the scale says meanwhile goes to standard error when
 * that is a terminal.  Returns as weigh() does.
 */
enum rc weighing_take(struct weighing *out, struct station *sn,
    const struct args *a, size_t each, struct err *err) MUST_CHECK;

/*
 * weighing_keep - the command failed although the fish were weighed: append
 * how to key their weights, so that none is weighed again.
 */
void weighing_keep(struct buf *out, const struct weighing *w, bool each);

#endif /* CONSOLE_WEIGHING_H */
