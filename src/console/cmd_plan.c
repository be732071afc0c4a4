/* cmd_plan.c - the prep list and order list of a service. */
#include "cmds.h"

#include "ops/plan.h"
#include "plan_says.h"

static const struct opt options[] = {
	{ "prep-list", NULL, "only the prep list" },
	{ "order-list", NULL, "only the order list" },
	PLAN_SAYS_OPTIONS,
	{ NULL, NULL, NULL },
};

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct plan_say says[PLAN_SAYS_MAX];
	struct plan_wish wish = {
		.service = a->operand[0],
		.prep = args_flag(a, "prep-list"),
		.order = args_flag(a, "order-list"),
		.why = args_flag(a, "why"),
		.strict = args_flag(a, "strict"),
		.says = says,
		.format = a->format,
	};
	enum rc rc;

	if ((rc = plan_says_read(says, &wish.say_count, a, err)) != RC_OK)
		return rc;
	if (!wish.prep && !wish.order)
		wish.prep = wish.order = true;
	return plan(out, sn, &wish, err);
}

const struct cmd cmd_plan = {
	.name = "plan",
	.operands = "DATE/SERVICE",
	.summary = "prep list and order list of a service",
	.help =
	    "What the service will ask for, less portions on hand, to fish of "
	    "named batches cut piece by piece; the working order with its "
	    "minutes; and what is missing, as suppliers sell it.  --why says "
	    "where every number comes from.",
	.options = options,
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.run = run,
};
