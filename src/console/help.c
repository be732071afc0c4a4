/* help.c - what the commands and their options are, from their own tables. */
#include "help.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "core/caution.h"

/* X(status, meaning): the one table of exit statuses. */
static const struct {
	int status;
	const char *meaning;
} statuses[] = {
	{ 0, "done" },
	{ 1, "failed and nothing recorded, unless the text says it was" },
	{ 2, "bad input: a file, a value or a code" },
	{ 3, "refused by a kitchen rule; the text is the reason" },
	{ 4, "not found" },
	{ 5, "not ready, try again" },
	{ EXIT_USAGE, "the command line cannot be understood" },
	{ 70, "stop the station: data may be at risk" },
};

static void
put_options(struct buf *out, const struct opt *o)
{
	char left[40];

	for (; o != NULL && o->name != NULL; o++) {
		str_fmt(left, sizeof(left), "--%s%s%s", o->name,
		    o->arg == NULL ? "" : " ", o->arg == NULL ? "" : o->arg);
		buf_printf(out, "  %-22s %s\n", left, o->help);
	}
}

void
help_command(struct buf *out, const struct cmd *c)
{
	buf_printf(out, "usage: pinbone %s [OPTIONS]%s%s\n\n%s.\n", c->name,
	    c->operands[0] == '\0' ? "" : " ", c->operands, c->summary);
	if (c->help != NULL) {
		buf_putc(out, '\n');
		buf_wrap(out, c->help, 0, 79);
	}
	if (c->options != NULL)
		buf_puts(out, "\noptions\n");
	put_options(out, c->options);
	buf_puts(out, "\noptions of every command\n");
	put_options(out, args_common);
}

void
help_overview(struct buf *out)
{
	const struct cmd *const *c;
	size_t i;

	buf_puts(out,
	    "usage: pinbone [OPTIONS] COMMAND ...\n\n"
	    "The fish section's station: goods in, prep list, breakdown, "
	    "use-by labels, trace.\n\ncommands\n");
	for (c = commands; *c != NULL; c++)
		buf_printf(out, "  %-10s %s\n", (*c)->name, (*c)->summary);
	buf_puts(out,
	    "\npinbone COMMAND --help tells more.  Options of every command\n");
	put_options(out, args_common);
	buf_puts(out, "\nexit status\n");
	for (i = 0; i < sizeof(statuses) / sizeof(statuses[0]); i++)
		buf_printf(out, "  %3d  %s\n", statuses[i].status,
		    statuses[i].meaning);
	buf_putc(out, '\n');
	buf_wrap(out, caution_general(), 0, 79);
}

/* --- for the completion of a shell -----------------------------------------*/

/* Lower case is typed as it stands; DATE and CODE are names for something. */
static bool
is_word(const char *s, size_t len)
{
	size_t i;

	for (i = 0; i < len; i++)
		if ((s[i] < 'a' || s[i] > 'z') && s[i] != '-')
			return false;
	return len > 1;
}

static void
put_words(struct buf *out, const char *operands)
{
	static const char parts[] = " |[].";
	const char *gap = "";
	size_t len;

	while (*operands != '\0') {
		operands += strspn(operands, parts);
		len = strcspn(operands, parts);
		if (is_word(operands, len)) {
			buf_puts(out, gap);
			buf_add(out, operands, len);
			gap = " ";
		}
		operands += len;
	}
}

static void
put_option_words(struct buf *out, const struct opt *o)
{
	const char *gap = "";

	for (; o != NULL && o->name != NULL; o++) {
		buf_printf(out, "%s--%s", gap, o->name);
		if (o->arg != NULL)
			buf_printf(out, "=%s", o->arg);
		gap = " ";
	}
}

void
help_words(struct buf *out)
{
	const struct cmd *const *c;

	buf_puts(out, "\t\t");
	put_option_words(out, args_common);
	buf_putc(out, '\n');
	for (c = commands; *c != NULL; c++) {
		buf_printf(out, "%s\t", (*c)->name);
		put_words(out, (*c)->operands);
		buf_putc(out, '\t');
		put_option_words(out, (*c)->options);
		buf_putc(out, '\n');
	}
}

/* --- for the manual page ---------------------------------------------------*/

/* man(7): a minus that can be copied, no request at the start of a line. */
static void
put_roff(struct buf *out, const char *s)
{
	bool start = true;

	for (; *s != '\0'; s++) {
		if (start && (*s == '.' || *s == '\''))
			buf_puts(out, "\\&");
		start = *s == '\n';
		if (*s == '-' || *s == '\\')
			buf_putc(out, '\\');
		if (*s == '\\')
			buf_puts(out, "e"); /* \e prints one */
		else
			buf_putc(out, *s);
	}
}

static void
roff_options(struct buf *out, const struct opt *o)
{
	for (; o != NULL && o->name != NULL; o++) {
		buf_puts(out, ".TP\n.B \\-\\-");
		put_roff(out, o->name);
		if (o->arg != NULL) {
			buf_puts(out, " \\fI");
			put_roff(out, o->arg);
			buf_puts(out, "\\fR");
		}
		buf_putc(out, '\n');
		put_roff(out, o->help);
		buf_puts(out, "\n");
	}
}

static void
roff_command(struct buf *out, const struct cmd *c)
{
	buf_puts(out, ".SS \"");
	put_roff(out, c->name);
	if (c->operands[0] != '\0') {
		buf_putc(out, ' ');
		put_roff(out, c->operands);
	}
	buf_puts(out, "\"\n");
	put_roff(out, c->summary);
	buf_puts(out, ".\n");
	if (c->help != NULL) {
		buf_puts(out, ".PP\n");
		put_roff(out, c->help);
		buf_putc(out, '\n');
	}
	roff_options(out, c->options);
}

void
help_man(struct buf *out)
{
	const struct cmd *const *c;
	size_t i;

	buf_puts(out, ".SH COMMANDS\n");
	for (c = commands; *c != NULL; c++)
		roff_command(out, *c);
	buf_puts(out, ".SH OPTIONS\nOf every command, before or behind it.\n");
	roff_options(out, args_common);
	buf_puts(out, ".SH EXIT STATUS\n");
	for (i = 0; i < sizeof(statuses) / sizeof(statuses[0]); i++) {
		buf_printf(out, ".TP\n.B %d\n", statuses[i].status);
		put_roff(out, statuses[i].meaning);
		buf_putc(out, '\n');
	}
	buf_puts(out, ".SH CAUTIONS\n");
	put_roff(out, caution_general());
	buf_putc(out, '\n');
}
