/* cmd_plan.c - the prep list and order list of a service. */
#include "cmds.h"

#include "ops/plan.h"

static const struct opt options[] = {
	{ "prep-list", NULL, "only the prep list" },
	{ "order-list", NULL, "only the order list" },
	{ NULL, NULL, NULL },
};

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct plan_wish wish = {
		.service = a->operand[0],
		.prep = args_flag(a, "prep-list"),
		.order = args_flag(a, "order-list"),
		.format = a->format,
	};

	if (!wish.prep && !wish.order)
		wish.prep = wish.order = true;
	return plan(out, sn, &wish, err);
}

const struct cmd cmd_plan = {
	.name = "plan",
	.operands = "DATE/SERVICE",
	.summary = "prep list and order list of a service",
	.help =
	    "Booked covers x the menu's share, less portions on hand, to "
	    "fillets and fish of named batches, first to expire first.  "
	    "Every figure says where it came from.",
	.options = options,
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.run = run,
};
