/* cmd_cut.c - which fish to open and how to cut them, from files. */
#include "cmds.h"

#include "ops/cut_board.h"

static const struct opt options[] = {
	{ "fish", "FILE", "CSV: the fish, what each gives and costs" },
	{ "dishes", "FILE",
	    "CSV: portions wanted, weights, cost of one short" },
	{ "trim", "FILE", "CSV: trim wanted and its price; may be left out" },
	{ NULL, NULL, NULL },
};

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct cut_files f = { .trim = args_get(a, "trim") };
	enum rc rc;

	(void)sn;
	if ((rc = args_want(&f.fish, a, "fish", err)) != RC_OK ||
	    (rc = args_want(&f.dishes, a, "dishes", err)) != RC_OK)
		return rc;
	return cut_board(out, &f, a->format, err);
}

const struct cmd cmd_cut = {
	.name = "cut",
	.operands = "",
	.summary = "which fish to open and how to cut every piece",
	.help =
	    "The cheapest plan, and how far from the cheapest it can be at "
	    "most (the gap).  For any fish on the board: touches no station "
	    "file and needs no settings.  Columns in docs/files.md; money in "
	    "thousandths of the smallest coin.",
	.options = options,
	.needs = NEEDS_NOTHING,
	.run = run,
};
