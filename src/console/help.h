/*
 * help.h - what the commands and their options are, from their own tables: for
 * a person, for the completion of a shell, for the manual page.  Private to
 * src/console.
 */
#ifndef CONSOLE_HELP_H
#define CONSOLE_HELP_H

#include "base/buf.h"
#include "console/cmd.h"

/* help_command - of one.  help_overview - all commands, a line each. */
void help_command(struct buf *out, const struct cmd *c);
void help_overview(struct buf *out);

/*
 * help_words - a line for each command: its name, the words its operands may
 * be and its options, parted by TAB, words by blanks; an option that takes a
 * value is --NAME=WHAT.  The first line has no name: the options of every
 * command.
 */
void help_words(struct buf *out);

/* help_man - the sections COMMANDS, OPTIONS and EXIT STATUS of pinbone(1), in
 * the macros of man(7). */
void help_man(struct buf *out);

#endif /* CONSOLE_HELP_H */
