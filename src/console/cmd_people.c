/* cmd_people.c - who works here, and their PINs. */
#include "cmds.h"

#include <stdio.h>
#include <string.h>
#include <termios.h>
#include <unistd.h>

#include "base/jsonw.h"
#include "base/secret.h"
#include "base/str.h"
#include "ops/people.h"

#define PEOPLE_SHOWN_MAX 100000

static const struct opt options[] = {
	{ "chef", NULL, "add, change: may do what is the chef's" },
	{ "no-chef", NULL, "change: no longer" },
	{ "name", "NAME", "change: another name" },
	{ NULL, NULL, NULL },
};

static void
put_json(struct buf *out, const struct person_list *l)
{
	struct jsonw *w = jsonw_new_array();
	const struct person *p;
	size_t i;

	for (i = 0; i < l->count; i++) {
		p = &l->items[i];
		jsonw_object(w, NULL);
		jsonw_str(w, "initials", p->initials);
		jsonw_str(w, "name", p->name);
		jsonw_bool(w, "chef", p->chef);
		jsonw_bool(w, "active", p->active);
		jsonw_bool(w, "pin", p->has_pin);
		jsonw_int(w, "wrong_tries", p->wrong);
		jsonw_int(w, "wait_s", people_wait_s(p));
		jsonw_end(w);
	}
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
put_line(struct buf *out, const struct person *p)
{
	char text[96];

	text[0] = '\0';
	if (!p->active)
		str_copy(text, sizeof(text), ", left");
	else if (p->chef)
		str_fmt(text, sizeof(text), ", chef%s",
		    p->has_pin ? " with PIN" : ", no PIN yet");
	buf_printf(out, "%-15s %s%s\n", p->initials, p->name, text);
}

static enum rc
list(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct person_list l;
	size_t i;
	enum rc rc;

	rc = people_list(&l, sn, true, 0, PEOPLE_SHOWN_MAX, err);
	if (rc != RC_OK)
		return rc;
	if (a->format == FORMAT_JSON)
		put_json(out, &l);
	else if (l.count == 0)
		buf_puts(out,
		    "nobody yet: pinbone people add INITIALS NAME --by "
		    "INITIALS\n");
	else
		for (i = 0; i < l.count; i++)
			put_line(out, &l.items[i]);
	person_list_fini(&l);
	return RC_OK;
}

static enum rc
change(struct buf *out, struct station *sn, const struct args *a,
    const char *active, struct err *err)
{
	struct person_in in = { .initials = a->operand[1],
		.name = args_get(a, "name"),
		.active = active };
	struct person p;
	enum rc rc;

	if (args_flag(a, "chef") && args_flag(a, "no-chef"))
		return err_set(err, RC_INVALID, 0,
		    "--chef and --no-chef: give one of them");
	in.chef = args_flag(a, "chef") ? "yes"
	    : args_flag(a, "no-chef")  ? "no"
				       : NULL;
	if ((rc = cmd_by(&in.by, a, err)) == RC_OK &&
	    (rc = people_change(&p, sn, &in, err)) == RC_OK)
		put_line(out, &p);
	return rc;
}

static enum rc
edit(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	return change(out, sn, a, NULL, err);
}

static enum rc
leave(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	return change(out, sn, a, "no", err);
}

static enum rc
back(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	return change(out, sn, a, "yes", err);
}

static enum rc
add(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct person_in in = { .initials = a->operand[1],
		.name = a->operand[2],
		.chef = args_flag(a, "chef") ? "yes" : "no" };
	struct person p;
	enum rc rc;

	if (args_get(a, "name") != NULL || args_flag(a, "no-chef"))
		return err_set(err, RC_INVALID, 0,
		    "people add INITIALS NAME [--chef]: the other options are "
		    "for change");
	if ((rc = cmd_by(&in.by, a, err)) == RC_OK &&
	    (rc = people_add(&p, sn, &in, err)) == RC_OK)
		put_line(out, &p);
	return rc;
}

/* Longer than any PIN, so that one too long is not cut to one that fits. */
#define TYPED_SIZE 80
#define CTRL_C '\x03'

/* A line of standard input, unseen when it is a terminal. */
static enum rc
read_unseen(char dst[TYPED_SIZE], const char *prompt, struct err *err)
{
	struct termios was, unseen;
	bool terminal = tcgetattr(STDIN_FILENO, &was) == 0;
	size_t n = 0;
	char c = '\0';

	if (terminal) {
		unseen = was;
		unseen.c_lflag &= ~(tcflag_t)(ECHO | ISIG);
		/* It ends the line, not the program, which would leave what is
		 * typed next unseen. */
		unseen.c_cc[VEOL] = CTRL_C;
		tcsetattr(STDIN_FILENO, TCSAFLUSH, &unseen);
		fprintf(stderr, "%s: ", prompt);
	}
	while (n + 1 < TYPED_SIZE && read(STDIN_FILENO, &c, 1) == 1 &&
	    c != '\n' && c != CTRL_C)
		dst[n++] = c;
	if (c == CTRL_C)
		n = 0;
	dst[n] = '\0';
	if (terminal) {
		tcsetattr(STDIN_FILENO, TCSAFLUSH, &was);
		fprintf(stderr, "\n");
	}
	if (n == 0)
		return err_set(err, RC_INVALID, 0,
		    "no PIN was typed: give it as a line of standard input");
	return RC_OK;
}

static enum rc
pin(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	char typed[TYPED_SIZE] = "", again[TYPED_SIZE] = "";
	const char *by;
	struct person p;
	enum rc rc;

	if ((rc = cmd_by(&by, a, err)) != RC_OK ||
	    (rc = people_get(&p, sn, a->operand[1], err)) != RC_OK ||
	    (rc = read_unseen(typed, "new PIN", err)) != RC_OK)
		goto done;
	if (isatty(STDIN_FILENO) &&
	    (rc = read_unseen(again, "the same again", err)) == RC_OK &&
	    !str_eq(typed, again))
		rc = err_set(
		    err, RC_INVALID, 0, "the two differ: nothing was changed");
	if (rc == RC_OK)
		rc = people_pin_set(sn, p.initials, typed, by, err);
	if (rc == RC_OK)
		buf_printf(out, "%s has a new PIN\n", p.initials);
done:
	secret_wipe(typed, sizeof(typed));
	secret_wipe(again, sizeof(again));
	return rc;
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	static const struct {
		const char *word;
		size_t operands;
		enum rc (*run)(struct buf *out, struct station *sn,
		    const struct args *a, struct err *err);
	} verbs[] = {
		{ "list", 1, list },
		{ "add", 3, add },
		{ "change", 2, edit },
		{ "pin", 2, pin },
		{ "leave", 2, leave },
		{ "back", 2, back },
	};
	const char *word = a->operand_count == 0 ? "list" : a->operand[0];
	size_t i, n = a->operand_count == 0 ? 1 : a->operand_count;

	for (i = 0; i < sizeof(verbs) / sizeof(verbs[0]); i++)
		if (str_eq(word, verbs[i].word) && n == verbs[i].operands)
			return verbs[i].run(out, sn, a, err);
	return err_set(err, RC_INVALID, 0,
	    "people list, people add INITIALS NAME, or people change, pin, "
	    "leave or back INITIALS");
}

const struct cmd cmd_people = {
	.name = "people",
	.operands =
	    "[list | add INITIALS NAME | change | pin | leave | back "
	    "INITIALS]",
	.summary = "who works here, and whose PIN is asked for",
	.help =
	    "pin reads the new PIN unseen, or as one line of standard "
	    "input: 4 to 12 digits.\nNobody is deleted: who leaves is no "
	    "longer offered, and may come back.\nAt the station changing "
	    "people asks a chef's PIN; here it does not, since who has a "
	    "shell has the file, and a forgotten PIN needs a way out.  "
	    "Every change is in the log.",
	.options = options,
	.max_operands = 3,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
