/* help.c - what the commands and their options are, from their own tables. */
#include "help.h"

#include <stdlib.h>
#include <string.h>

#include "base/buf.h"
#include "base/mem.h"
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

enum {
	HELP_WIDTH = 79,
	NARROWEST = 24, /* columns a text may be squeezed into */
	OPTION_COLUMNS = 22,
	OPTION_INDENT = 2 + OPTION_COLUMNS + 1,
	OPERAND_INDENT = 4,
	HELP_MAX = 8192, /* bytes of one text */
};

/* A line of one word among others looks like a slip. */
static bool
has_lone_word(const char *lines, int indent)
{
	const char *end;

	for (; *lines != '\0'; lines = end + 1) {
		end = strchr(lines, '\n');
		if (memchr(lines + indent, ' ',
			(size_t)(end - lines - indent)) == NULL)
			return true;
	}
	return false;
}

/* One paragraph, as wide as leaves no word alone on a line. */
static void
put_paragraph(struct buf *out, const char *text, int indent)
{
	struct buf lines;
	int width;

	buf_init(&lines, HELP_MAX);
	buf_wrap(&lines, text, indent, HELP_WIDTH);
	for (width = HELP_WIDTH - 1; has_lone_word(buf_text(&lines), indent) &&
	     width >= indent + NARROWEST;
	     width--) {
		buf_clear(&lines);
		buf_wrap(&lines, text, indent, width);
	}
	if (has_lone_word(buf_text(&lines), indent)) {
		buf_clear(&lines);
		buf_wrap(&lines, text, indent, HELP_WIDTH);
	}
	buf_puts(out, buf_text(&lines));
	buf_fini(&lines);
}

static void
put_text(struct buf *out, const char *text)
{
	size_t len;
	char *one;

	for (; *text != '\0'; text += len + (text[len] == '\n')) {
		len = strcspn(text, "\n");
		one = xstrdup(text);
		one[len] = '\0';
		put_paragraph(out, one, 0);
		free(one);
	}
}

static void
put_summary(struct buf *out, const struct cmd *c)
{
	buf_puts(out, c->summary);
	if (c->summary[strlen(c->summary) - 1] != '?')
		buf_putc(out, '.');
	buf_putc(out, '\n');
}

static void
put_usage(struct buf *out, const struct cmd *c)
{
	char head[80];

	str_fmt(head, sizeof(head), "usage: pinbone %s [OPTIONS]", c->name);
	buf_puts(out, head);
	if (c->operands[0] == '\0') {
		buf_putc(out, '\n');
	} else if (strlen(head) + 1 + strlen(c->operands) <= HELP_WIDTH) {
		buf_printf(out, " %s\n", c->operands);
	} else {
		buf_putc(out, '\n');
		buf_wrap(out, c->operands, OPERAND_INDENT, HELP_WIDTH);
	}
}

static void
put_option(struct buf *out, const struct opt *o)
{
	struct buf lines;
	char left[40];

	buf_init(&lines, HELP_MAX);
	str_fmt(left, sizeof(left), "--%s%s%s", o->name,
	    o->arg == NULL ? "" : " ", o->arg == NULL ? "" : o->arg);
	put_paragraph(&lines, o->help, OPTION_INDENT);
	buf_printf(out, "  %-*s ", OPTION_COLUMNS, left);
	if (strlen(left) > OPTION_COLUMNS)
		buf_printf(out, "\n%*s", OPTION_INDENT, "");
	buf_puts(out, buf_text(&lines) + OPTION_INDENT);
	buf_fini(&lines);
}

static void
put_options(struct buf *out, const struct opt *o)
{
	for (; o != NULL && o->name != NULL; o++)
		put_option(out, o);
}

void
help_command(struct buf *out, const struct cmd *c)
{
	put_usage(out, c);
	buf_putc(out, '\n');
	put_summary(out, c);
	if (c->help != NULL) {
		buf_putc(out, '\n');
		put_text(out, c->help);
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
	put_text(out, caution_general());
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
	buf_puts(out, c->summary[strlen(c->summary) - 1] == '?' ? "\n" : ".\n");
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
