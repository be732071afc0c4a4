/* cmd.c - find, parse, run and print a command. */
#include "console/cmd.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/file.h"
#include "base/str.h"
#include "cmds.h"
#include "help.h"
#include "ops/queue.h"

#define OUTPUT_MAX ((size_t)256 * 1024 * 1024)

enum rc
cmd_by(const char **out, const struct args *a, struct err *err)
{
	*out = args_get(a, "by");
	if (*out != NULL)
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "--by is missing: every record needs the initials of who does it");
}

/* The command's output, and nothing half: a full disk is an error too. */
static int
print_whole(const struct buf *out, int status, bool recorded)
{
	if (out->len == 0 ||
	    (fwrite(out->data, 1, out->len, stdout) == out->len &&
		fflush(stdout) == 0))
		return status;
	fprintf(stderr, "pinbone: standard output: %s%s\n", strerror(errno),
	    recorded && status == 0 ? ": it was recorded all the same, do not "
				      "repeat it"
				    : "");
	return 1;
}

static int
usage(const char *name, const char *text)
{
	char clean[200];

	str_fmt(clean, sizeof(clean), "%s", text);
	utf8_clean(clean); /* it may quote what was typed */
	fprintf(stderr, "pinbone%s%s: %s\n", name[0] == '\0' ? "" : " ", name,
	    clean);
	return EXIT_USAGE;
}

/* A restore that a power cut had stopped. */
static void
tell_finished(const struct station *sn)
{
	const char *aside = station_set_aside(sn);

	if (aside != NULL)
		fprintf(stderr,
		    "pinbone: a restore that had been cut off was finished; "
		    "the file before is %s\n",
		    aside);
}

/* A crash left labels in mid-air: somebody has to look for them. */
static void
ask_about_labels(struct station *sn)
{
	struct err err = { 0 };
	struct buf text;

	if (sn->unsure_labels == 0)
		return;
	buf_init(&text, OUTPUT_MAX);
	if (queue_questions(&text, sn, &err) != RC_OK)
		fprintf(stderr, "pinbone: %s\n", err.text);
	fprintf(stderr,
	    "pinbone: %d label%s on the way when the program last ended\n%s",
	    sn->unsure_labels, sn->unsure_labels == 1 ? " was" : "s were",
	    buf_text(&text));
	buf_fini(&text);
}

static enum rc
run_open(
    struct buf *out, const struct cmd *c, const struct args *a, struct err *err)
{
	struct station *sn = NULL;
	enum rc rc;

	if (c->needs != NEEDS_NOTHING) {
		rc = station_open(&sn, &a->where, c->needs >= USES_STORE, err);
		/* A file that was named must be there. */
		if (rc == RC_NOTFOUND && c->needs == USES_STORE &&
		    a->where.db == NULL) {
			err_clear(err);
			rc = station_open(&sn, &a->where, false, err);
		}
		if (rc != RC_OK)
			return rc;
		tell_finished(sn);
		ask_about_labels(sn);
	}
	rc = c->run(out, sn, a, err);
	station_close(sn);
	return rc;
}

static int
run_cmd(const struct cmd *c, struct args *a, int argc, char **argv)
{
	struct err err = { 0 };
	struct buf out;
	char text[80];
	int status;
	enum rc rc;

	if (args_parse(a, argc, argv,
		c->options == NULL ? args_no_options : c->options,
		&err) != RC_OK)
		return usage(c->name, err.text);
	buf_init(&out, OUTPUT_MAX);
	if (a->help) {
		help_command(&out, c);
		rc = RC_OK;
	} else if (a->operand_count < c->min_operands ||
	    a->operand_count > c->max_operands) {
		str_fmt(text, sizeof(text), "takes %s: see --help",
		    c->operands[0] == '\0' ? "no operands" : c->operands);
		buf_fini(&out);
		return usage(c->name, text);
	} else {
		rc = run_open(&out, c, a, &err);
	}
	status = print_whole(&out, rc_exit_status(rc), c->records && !a->help);
	buf_fini(&out);
	if (rc != RC_OK)
		fprintf(stderr, "pinbone: %s\n",
		    err.text[0] == '\0' ? rc_word(rc) : err.text);
	return status;
}

static int
say(void (*put)(struct buf *out))
{
	struct buf out;
	int status;

	buf_init(&out, OUTPUT_MAX);
	put(&out);
	status = print_whole(&out, 0, false);
	buf_fini(&out);
	return status;
}

static void
put_version(struct buf *out)
{
	buf_puts(out, "pinbone " PINBONE_VERSION "\n");
}

int
cmd_main(int argc, char **argv)
{
	const struct cmd *const *c;
	struct args a = { 0 };
	struct err err = { 0 };
	char word[] = "station", *station[] = { word, NULL };
	char text[80];
	int at;

	if (argc == 2 && str_eq(argv[1], "--version"))
		return say(put_version);
	if (args_parse(&a, argc, argv, NULL, &err) != RC_OK)
		return usage("", err.text);
	at = a.rest;
	if (at == argc && a.help)
		return say(help_overview);
	if (at == argc && isatty(STDIN_FILENO) && isatty(STDOUT_FILENO))
		return run_cmd(&cmd_station, &a, 1, station);
	if (at == argc)
		return usage("", "name a command: pinbone --help lists them");
	for (c = commands; *c != NULL; c++)
		if (str_eq((*c)->name, argv[at]))
			return run_cmd(*c, &a, argc - at, argv + at);
	str_fmt(text, sizeof(text),
	    "\"%.30s\" is not a command: pinbone --help lists them", argv[at]);
	return usage("", text);
}
