/* cmd_look.c - stock, trace, log. */
#include "cmds.h"

#include "ops/look.h"
#include "ops/trace_find.h"
#include "ops/trace_page.h"

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

static const struct opt trace_options[] = {
	{ "lot", "LOT", "the batches of a supplier's lot" },
	{ "document", "NUMBER", "of a delivery note" },
	{ "supplier", "CODE",
	    "of this supplier; with --day alone all it "
	    "brought" },
	{ "day", "DATE", "the day it came" },
	{ "until", "DATE", "and after it up to this day" },
	{ "dish", "DISH", "the label is gone: batches behind a plate" },
	{ "service", "DATE/NAME", "when it was served" },
	{ "at", "HH:MM", "at what time" },
	{ NULL, NULL, NULL },
};

/* The chain of a code; of one without a record what its label says. */
static enum rc
trace_code(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct label_said s;
	enum rc rc = trace(out, sn, a->operand[0], a->format, err);

	if (rc == RC_NOTFOUND && a->format != FORMAT_CSV &&
	    label_said(&s, sn, a->operand[0], NULL) == RC_OK && !s.known &&
	    (s.use_by_utc != 0 || (s.unit && s.batch[0] != '\0')))
		label_said_put(out, &s, a->format);
	return rc;
}

static enum rc
run_trace(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const struct lot_wish w = { .lot = args_get(a, "lot"),
		.document = args_get(a, "document"),
		.supplier = args_get(a, "supplier"),
		.from = args_get(a, "day"),
		.to = args_get(a, "until") };
	const char *dish = args_get(a, "dish");
	const char *service = args_get(a, "service"), *at = args_get(a, "at");
	bool lot = w.lot != NULL || w.document != NULL || w.supplier != NULL ||
	    w.from != NULL || w.to != NULL;
	bool plate = dish != NULL || service != NULL || at != NULL;

	if ((a->operand_count > 0) + lot + plate != 1)
		return err_set(err, RC_INVALID, 0,
		    "trace takes a CODE, or what a supplier names (--lot, "
		    "--document, --supplier with --day), or --dish with "
		    "--service");
	if (a->operand_count > 0)
		return trace_code(out, sn, a, err);
	if (lot)
		return trace_lots(out, sn, &w, a->format, err);
	if (dish == NULL || service == NULL)
		return err_set(err, RC_INVALID, 0,
		    "--dish and --service go together, such as --service "
		    "2026-11-27/dinner");
	return trace_guess_say(out, sn, dish, service, at, a->format, err);
}

const struct cmd cmd_trace = {
	.name = "trace",
	.operands = "[CODE]",
	.summary = "a portion back to its delivery, a batch to its portions",
	.help =
	    "CODE is keyed from the label or scanned.  A batch shows what "
	    "became of every portion and where each of its grams went.  A "
	    "label this station has no record of is read by its own content.",
	.options = trace_options,
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
