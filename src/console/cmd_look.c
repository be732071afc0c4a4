/* cmd_look.c - stock, trace, log. */
#include "cmds.h"

#include "ops/look.h"

static enum rc
run_stock(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	return stock(out, sn, a->format, err);
}

const struct cmd cmd_stock = {
	.name = "stock",
	.operands = "",
	.summary = "what is on hand, first to expire first",
	.needs = NEEDS_STORE,
	.run = run_stock,
};

static enum rc
run_trace(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	return trace(out, sn, a->operand[0], a->format, err);
}

const struct cmd cmd_trace = {
	.name = "trace",
	.operands = "CODE",
	.summary = "a portion back to its delivery, a batch to its portions",
	.help =
	    "CODE is keyed from the label or scanned.  A batch shows what "
	    "became of every portion and where each of its grams went.",
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.run = run_trace,
};

static const struct opt log_options[] = {
	{ "last", "N", "how many rows, 50 when not given" },
	{ "changes", NULL, "with each row what it changed, before and after" },
	{ NULL, NULL, NULL },
};

static enum rc
run_log(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	int64_t most = 50;
	enum rc rc;

	if ((rc = args_int(&most, a, "last", 1, 1000000, err)) != RC_OK)
		return rc;
	return audit_trail(
	    out, sn, most, args_flag(a, "changes"), a->format, err);
}

const struct cmd cmd_log = {
	.name = "log",
	.operands = "",
	.summary = "the audit trail: what was done, by whom, when",
	.options = log_options,
	.needs = NEEDS_STORE,
	.run = run_log,
};
