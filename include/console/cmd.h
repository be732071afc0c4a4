/*
 * console/cmd.h - one command: a row of a table and a function.
 *
 * A command is one file with one const row, listed in cmd_table.c.  run() puts
 * what goes to standard output into `out`; it is printed whole when the
 * command is done, and errors go to standard error as one line.
 */
#ifndef CONSOLE_CMD_H
#define CONSOLE_CMD_H

#include "base/buf.h"
#include "console/args.h"

struct cmd {
	const char *name;
	const char *operands;      /* for the usage line; "" for none */
	const char *summary;       /* one line */
	const char *help;          /* more lines for --help, or NULL */
	const struct opt *options; /* beyond args_common, or NULL */
	size_t min_operands, max_operands;
	enum {
		NEEDS_NOTHING,
		NEEDS_TABLES,
		USES_STORE, /* the tables, and the station file if one is there
			     */
		NEEDS_STORE,
	} needs;
	bool records; /* changes the file: must not be repeated blindly */

	/* `sn` is NULL when nothing is needed.  Returns as ops do. */
	enum rc (*run)(struct buf *out, struct station *sn,
	    const struct args *a, struct err *err);
};

/* All commands, NULL-terminated. */
extern const struct cmd *const commands[];

/*
 * cmd_main - the whole program behind main(): find the command, parse, run,
 * print.  Returns the exit status.
 */
int cmd_main(int argc, char **argv);

/* cmd_by - the initials a record needs.  RC_OK, RC_INVALID. */
enum rc cmd_by(
    const char **out, const struct args *a, struct err *err) MUST_CHECK;

#endif /* CONSOLE_CMD_H */
