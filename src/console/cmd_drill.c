/* cmd_drill.c - a recall in play. */
#include "cmds.h"

#include "base/str.h"
#include "ops/drill.h"

static const struct opt options[] = {
	{ "seed", "N", "draw the batch with this number, to draw it again" },
	{ "print", NULL, "the report on the roll as well" },
	CMD_LABEL_OPTIONS,
	{ NULL, NULL, NULL },
};

static enum rc
put(struct buf *out, struct station *sn, const struct drill_report *r,
    const struct args *a, struct err *err)
{
	struct label_order order = { 0 };
	struct job_list jobs;
	enum rc rc;

	drill_show(out, r, a->format);
	if (!args_flag(a, "print"))
		return buf_check(out, "the report", err);
	if ((rc = cmd_label_order(&order, a, err)) != RC_OK)
		return rc;
	rc = drill_print(&jobs, sn, r, &order, err);
	if (jobs.count > 0 && a->format != FORMAT_JSON)
		cmd_put_jobs(out, &jobs, a->format);
	job_list_fini(&jobs);
	return rc;
}

static enum rc
show(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct drill_report r;
	int64_t id;
	enum rc rc;

	if ((rc = int_parse(&id, "drill", a->operand[1], 1, DRILL_SEED_MAX,
		 err)) != RC_OK ||
	    (rc = drill_get(&r, sn, id, err)) != RC_OK)
		return rc;
	return put(out, sn, &r, a, err);
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct drill_in in = { .code = a->operand_count > 0 ? a->operand[0]
							    : NULL };
	struct drill_report r;
	enum rc rc;

	if (a->operand_count == 1 && str_eq(a->operand[0], "list"))
		return drill_list(out, sn, a->format, err);
	if (a->operand_count == 2 && str_eq(a->operand[0], "show"))
		return show(out, sn, a, err);
	if (a->operand_count > 1 ||
	    (in.code != NULL && args_get(a, "seed") != NULL))
		return err_set(err, RC_INVALID, 0,
		    "drill takes a code, --seed N or neither; list; or show N");
	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = args_int(&in.seed, a, "seed", 1, DRILL_SEED_MAX - 1, err)) !=
		RC_OK ||
	    (rc = drill_run(&r, sn, &in, err)) != RC_OK)
		return rc;
	return put(out, sn, &r, a, err);
}

const struct cmd cmd_drill = {
	.name = "drill",
	.operands = "[CODE | list | show N]",
	.summary = "a recall in play: find a batch and account for its grams",
	.help =
	    "A batch is drawn, newer ones more often, or CODE names one.  It "
	    "is traced back to its supplier and forward to every unit, each "
	    "unit back again, and every gram is accounted for or the gap "
	    "named.  The time is measured and kept, so that an inspector "
	    "sees that recalls are practised.",
	.options = options,
	.min_operands = 0,
	.max_operands = 2,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
