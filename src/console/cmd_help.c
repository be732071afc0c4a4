/* cmd_help.c - help. */
#include "cmds.h"

#include "base/str.h"
#include "help.h"

static enum rc
run_help(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const struct cmd *const *c;
	const char *what = a->operand_count > 0 ? a->operand[0] : "";

	(void)sn;
	if (what[0] == '\0') {
		help_overview(out);
		return RC_OK;
	}
	if (str_eq(what, "words")) {
		help_words(out);
		return RC_OK;
	}
	if (str_eq(what, "man")) {
		help_man(out);
		return RC_OK;
	}
	for (c = commands; *c != NULL; c++)
		if (str_eq((*c)->name, what)) {
			help_command(out, *c);
			return RC_OK;
		}
	return err_set(err, RC_INVALID, 0,
	    "\"%.30s\" is not a command: pinbone --help lists them", what);
}

const struct cmd cmd_help = {
	.name = "help",
	.operands = "[COMMAND|words|man]",
	.summary = "all commands, or one of them",
	.help =
	    "words is for the completion of a shell: a line for each command "
	    "with the words and options it takes.  man is the part of the "
	    "manual page that comes from the commands themselves.",
	.max_operands = 1,
	.run = run_help,
};
