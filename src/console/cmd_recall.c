/* cmd_recall.c - goods to be found and pulled, wherever they got to. */
#include "cmds.h"

#include <inttypes.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "ops/recall.h"
#include "ops/ticket.h"

static const struct opt options[] = {
	{ "reason", "TEXT", "open, close: why" },
	{ "from", "WHO",
	    "open: supplier (when not given), authority, guest or kitchen" },
	{ "breakdown", NULL, "open: the breakdowns that made these units" },
	{ "lot", "LOT", "open: every batch of this supplier's lot" },
	{ "document", "NUMBER", "open: every batch of this delivery note" },
	{ "supplier", "CODE", "open: of this supplier" },
	{ "day", "DATE", "open: what that supplier brought on this day" },
	{ "until", "DATE", "open: and after it up to this day" },
	{ "found", "N", "tick: servings found; all that is looked for else" },
	{ "text", "TEXT", "note: what was said, heard or done" },
	{ "outcome", "WORD",
	    "close: discarded, returned, released or mistake" },
	CMD_LABEL_OPTIONS,
	{ NULL, NULL, NULL },
};

static void
put_count(struct jsonw *w, const struct recall_count *c)
{
	jsonw_int(w, "to_pull", c->pull);
	jsonw_int(w, "found_of_them", c->found);
	jsonw_int(w, "missing", c->missing);
}

static enum rc
run_open(struct buf *out, struct station *sn, const struct args *a, int64_t id,
    struct err *err)
{
	struct recall_in in = {
		.codes = (const char *const *)a->operand + 1,
		.count = a->operand_count - 1,
		.breakdown = args_flag(a, "breakdown"),
		.lot = { .lot = args_get(a, "lot"),
		    .document = args_get(a, "document"),
		    .supplier = args_get(a, "supplier"),
		    .from = args_get(a, "day"),
		    .to = args_get(a, "until") },
		.origin = args_get(a, "from"),
	};
	struct recall_brief b;
	struct jsonw *w;
	enum rc rc;

	(void)id;
	if (in.count > 0 &&
	    (in.lot.lot != NULL || in.lot.document != NULL ||
		in.lot.supplier != NULL || in.lot.from != NULL))
		return err_set(err, RC_INVALID, 0,
		    "name codes, or a lot, document or day: not both");
	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = args_want(&in.reason, a, "reason", err)) != RC_OK ||
	    (rc = recall_open(&b, sn, &in, err)) != RC_OK)
		return rc;
	if (a->format == FORMAT_JSON) {
		w = jsonw_new_object();
		jsonw_int(w, "recall", b.recall.id);
		jsonw_str(w, "what", b.recall.what);
		put_count(w, &b.count);
		jsonw_int(w, "labels_stopped", b.labels);
		jsonw_dump(out, w, true);
		jsonw_free(w);
		return RC_OK;
	}
	buf_printf(out,
	    "recall %" PRId64 " is open: %s\nall of it is on hold; %" PRId64
	    " to pull: pinbone recall print %" PRId64 "\n",
	    b.recall.id, b.recall.what, b.count.pull, b.recall.id);
	if (b.labels > 0)
		buf_printf(out, "%" PRId64 " queued label%s stopped\n",
		    b.labels, b.labels == 1 ? " was" : "s were");
	return RC_OK;
}

static void
tick_text(struct buf *out, const struct recall_scan *s)
{
	char code[CODE_SIZE];

	code_show(code, s->code);
	switch (s->verdict) {
	case TICK_FOUND:
		buf_printf(
		    out, "FOUND %s %s: %" PRId64, code, s->name, s->found);
		if (s->lacking > 0)
			buf_printf(
			    out, ", %" PRId64 " of it missing", s->lacking);
		buf_putc(out, '\n');
		break;
	case TICK_AGAIN:
		buf_printf(
		    out, "AGAIN %s %s: it was found before\n", code, s->name);
		break;
	case TICK_SURPRISE:
		buf_printf(out, "RECORDED AS GONE %s %s: %s\n", code, s->name,
		    s->says);
		break;
	case TICK_OTHER:
		buf_printf(
		    out, "NOT PART OF IT %s %s: %s\n", code, s->name, s->says);
		break;
	case TICK_UNKNOWN:
	case TICK_COUNT:
		buf_printf(out, "UNKNOWN LABEL %s: %s\n", code, s->says);
		break;
	}
	buf_printf(out,
	    "%" PRId64 " of %" PRId64 " found, %" PRId64 " missing\n",
	    s->count.found, s->count.pull, s->count.missing);
}

static enum rc
run_tick(struct buf *out, struct station *sn, const struct args *a, int64_t id,
    struct err *err)
{
	struct recall_scan s;
	char code[CODE_SIZE];
	struct jsonw *w;
	const char *by;
	int64_t found = 0;
	enum rc rc;

	if (a->operand_count != 3)
		return err_set(
		    err, RC_INVALID, 0, "recall tick takes NUMBER CODE");
	if ((rc = cmd_by(&by, a, err)) != RC_OK ||
	    (rc = args_int(&found, a, "found", 1, COUNT_MAX, err)) != RC_OK ||
	    (rc = recall_tick(&s, sn, id, a->operand[2], found, by, err)) !=
		RC_OK)
		return rc;
	if (a->format != FORMAT_JSON) {
		tick_text(out, &s);
		return RC_OK;
	}
	w = jsonw_new_object();
	jsonw_str(w, "verdict", recall_verdict_word(s.verdict));
	jsonw_str(w, "code", code_show(code, s.code));
	jsonw_str(w, "name", s.name);
	jsonw_int(w, "found", s.found);
	jsonw_int(w, "lacking", s.lacking);
	jsonw_str(w, "says", s.says);
	put_count(w, &s.count);
	jsonw_dump(out, w, true);
	jsonw_free(w);
	return RC_OK;
}

static enum rc
run_show(struct buf *out, struct station *sn, const struct args *a, int64_t id,
    struct err *err)
{
	return recall_show(out, sn, id, a->format, err);
}

static enum rc
run_list(struct buf *out, struct station *sn, const struct args *a, int64_t id,
    struct err *err)
{
	(void)id;
	return recall_list(out, sn, a->format, err);
}

static enum rc
run_note(struct buf *out, struct station *sn, const struct args *a, int64_t id,
    struct err *err)
{
	const char *by, *text;
	enum rc rc;

	if ((rc = cmd_by(&by, a, err)) != RC_OK ||
	    (rc = args_want(&text, a, "text", err)) != RC_OK ||
	    (rc = recall_note(sn, id, text, by, err)) != RC_OK)
		return rc;
	if (a->format == FORMAT_JSON)
		buf_printf(out, "{\n  \"recall\": %" PRId64 "\n}\n", id);
	else
		buf_printf(out, "noted at recall %" PRId64 "\n", id);
	return RC_OK;
}

static enum rc
run_close(struct buf *out, struct station *sn, const struct args *a, int64_t id,
    struct err *err)
{
	struct recall_close_in in = { .id = id,
		.outcome = args_get(a, "outcome"),
		.reason = args_get(a, "reason") };
	struct recall_closed c;
	struct jsonw *w;
	enum rc rc;

	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = recall_close(&c, sn, &in, err)) != RC_OK)
		return rc;
	if (a->format == FORMAT_JSON) {
		w = jsonw_new_object();
		jsonw_int(w, "recall", id);
		jsonw_str(w, "outcome", recall_outcome_word(c.recall.outcome));
		jsonw_int(w, "missing", c.recall.lines_missing);
		jsonw_int(w, "discarded", c.discarded);
		jsonw_int(w, "released", c.released);
		jsonw_int(w, "holds_kept", c.kept);
		jsonw_str(w, "labels_to_print", c.codes);
		jsonw_dump(out, w, true);
		jsonw_free(w);
		return RC_OK;
	}
	buf_printf(out, "recall %" PRId64 " is closed: %s\n", id,
	    recall_outcome_word(c.recall.outcome));
	if (c.discarded > 0)
		buf_printf(
		    out, "%" PRId64 " recorded as discarded\n", c.discarded);
	if (c.released > 0)
		buf_printf(out, "%" PRId64 " hold%s lifted\n", c.released,
		    c.released == 1 ? "" : "s");
	if (c.kept > 0)
		buf_printf(out,
		    "%" PRId64
		    " hold%s: nothing of it comes back by "
		    "itself\n",
		    c.kept, c.kept == 1 ? " stays" : "s stay");
	if (c.labels > 0)
		buf_printf(out, "labels to print again: %s\n", c.codes);
	return RC_OK;
}

static enum rc
run_print(struct buf *out, struct station *sn, const struct args *a, int64_t id,
    struct err *err)
{
	struct label_order order = { 0 };
	struct job_list jobs = { 0 };
	struct ticket *t;
	enum rc rc;

	if ((rc = cmd_label_order(&order, a, err)) != RC_OK ||
	    (rc = recall_ticket(&t, sn, id, err)) != RC_OK)
		return rc;
	rc = ticket_print(&jobs, sn, TICKET_RECALL, t, &order, err);
	ticket_free(t);
	if (jobs.count > 0)
		cmd_put_jobs(out, &jobs, a->format);
	job_list_fini(&jobs);
	return rc;
}

static const struct {
	const char *word;
	bool number; /* of a recall follows */
	enum rc (*run)(struct buf *out, struct station *sn,
	    const struct args *a, int64_t id, struct err *err);
} verbs[] = {
	{ "open", false, run_open },
	{ "tick", true, run_tick },
	{ "show", true, run_show },
	{ "list", false, run_list },
	{ "note", true, run_note },
	{ "close", true, run_close },
	{ "print", true, run_print },
};

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	int64_t id = 0;
	size_t i;
	enum rc rc;

	for (i = 0; i < sizeof(verbs) / sizeof(verbs[0]); i++) {
		if (!str_eq(a->operand[0], verbs[i].word))
			continue;
		if (verbs[i].number &&
		    (a->operand_count < 2 ||
			(rc = int_parse(&id, "NUMBER", a->operand[1], 1,
			     1000000, NULL)) != RC_OK))
			return err_set(err, RC_INVALID, 0,
			    "recall %s takes the number of a recall: pinbone "
			    "recall list",
			    verbs[i].word);
		return verbs[i].run(out, sn, a, id, err);
	}
	return err_set(err, RC_INVALID, 0,
	    "recall takes open, tick, show, list, note, close or print, not "
	    "\"%.30s\"",
	    a->operand[0]);
}

const struct cmd cmd_recall = {
	.name = "recall",
	.operands =
	    "open [CODE...] | tick N CODE | show|note|close|print N | "
	    "list",
	.summary = "goods to be found and pulled: list, scans, what is missing",
	.help =
	    "open blocks batches, units, their breakdowns, or all of a "
	    "supplier's lot, document or day, and keeps the list of what to "
	    "pull; tick says what a scanned thing is; close needs a reason "
	    "while something is missing.  Whom to tell, and when, is the "
	    "operator's and the authority's decision.",
	.options = options,
	.min_operands = 1,
	.max_operands = RECALL_CODES_MAX,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
