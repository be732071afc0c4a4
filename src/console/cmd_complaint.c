/* cmd_complaint.c - what a guest said was wrong. */
#include "cmds.h"

#include <inttypes.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "ops/complaint.h"

static const struct opt options[] = {
	{ "what", "TEXT", "add: what is wrong, how many guests, how they are" },
	{ "dish", "DISH", "add: the label is gone; with --service" },
	{ "service", "DATE/NAME", "add: for which it was served" },
	{ "at", "HH:MM", "add: when it was served, if somebody knows" },
	{ "table", "TEXT", "add: which table; not the guest's name" },
	{ "hold", NULL, "add: block the batch in the same moment" },
	{ "text", "TEXT", "note, close: what was found out, how it ended" },
	{ "open", NULL, "list: only those that are not closed" },
	{ NULL, NULL, NULL },
};

static void
put_taken(struct buf *out, const struct complaint_taken *t, enum format format)
{
	struct jsonw *w;
	char code[CODE_SIZE];
	size_t i;

	if (format != FORMAT_JSON) {
		buf_printf(
		    out, "complaint %" PRId64 " taken\n", t->complaint.id);
		for (i = 0; i < t->held_count; i++)
			buf_printf(out,
			    "%s: on hold: it is neither planned, broken down "
			    "nor served\n",
			    code_show(code, t->held[i]));
		return;
	}
	w = jsonw_new_object();
	jsonw_int(w, "complaint", t->complaint.id);
	jsonw_str(w, "digest", t->complaint.digest);
	jsonw_array(w, "on_hold");
	for (i = 0; i < t->held_count; i++)
		jsonw_str(w, NULL, code_show(code, t->held[i]));
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static enum rc
add(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct complaint_in in = {
		.code = a->operand_count > 1 ? a->operand[1] : NULL,
		.dish = args_get(a, "dish"),
		.service = args_get(a, "service"),
		.place = args_get(a, "table"),
		.at = args_get(a, "at"),
		.hold = args_flag(a, "hold"),
	};
	struct complaint_taken t;
	enum rc rc;

	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = args_want(&in.what, a, "what", err)) != RC_OK ||
	    (rc = complaint_add(&t, sn, &in, err)) != RC_OK)
		return rc;
	put_taken(out, &t, a->format);
	return RC_OK;
}

static enum rc
follow(struct buf *out, struct station *sn, const struct args *a, int64_t id,
    bool close, struct err *err)
{
	const char *by, *text;
	struct jsonw *w;
	enum rc rc;

	if ((rc = cmd_by(&by, a, err)) != RC_OK ||
	    (rc = args_want(&text, a, "text", err)) != RC_OK ||
	    (rc = complaint_note(sn, id, text, close, by, err)) != RC_OK)
		return rc;
	if (a->format != FORMAT_JSON) {
		buf_printf(out, "complaint %" PRId64 " %s\n", id,
		    close ? "closed" : "noted");
		return RC_OK;
	}
	w = jsonw_new_object();
	jsonw_int(w, "complaint", id);
	jsonw_bool(w, "closed", close);
	jsonw_dump(out, w, true);
	jsonw_free(w);
	return RC_OK;
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const char *word = a->operand[0];
	int64_t id = 0;
	enum rc rc;

	if (str_eq(word, "add"))
		return add(out, sn, a, err);
	if (str_eq(word, "list") && a->operand_count == 1)
		return complaint_list(
		    out, sn, args_flag(a, "open"), a->format, err);
	if (a->operand_count != 2 ||
	    (!str_eq(word, "show") && !str_eq(word, "note") &&
		!str_eq(word, "close")))
		return err_set(err, RC_INVALID, 0,
		    "complaint takes add, list, show N, note N or close N");
	if ((rc = int_parse(&id, "complaint", a->operand[1], 1,
		 INT64_C(1) << 53, err)) != RC_OK)
		return rc;
	if (str_eq(word, "show"))
		return complaint_show(out, sn, id, a->format, err);
	return follow(out, sn, a, id, str_eq(word, "close"), err);
}

const struct cmd cmd_complaint = {
	.name = "complaint",
	.operands = "add [CODE] | list | show N | note N | close N",
	.summary = "what a guest said was wrong, with the chain as it was then",
	.help =
	    "add keeps the chain of the code back and forward, or the batches "
	    "a dish of a service may have come from, as they are at that "
	    "moment; show has what changed since beside it.  Name a table, "
	    "not a guest: what may be kept of a person is for local data "
	    "protection law.  Whom to tell is for local law and the kitchen's "
	    "own food safety plan.",
	.options = options,
	.min_operands = 1,
	.max_operands = 2,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
