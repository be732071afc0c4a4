/* cmd_plan.c - the prep list and order list of a service. */
#include "cmds.h"

#include "ops/plan.h"

#define SAYS_MAX 64

static const struct opt options[] = {
	{ "prep-list", NULL, "only the prep list" },
	{ "order-list", NULL, "only the order list" },
	{ "why", NULL, "where every number comes from" },
	{ "strict", NULL, "first to expire first, whatever it costs" },
	{ "first", "BATCH[:FISH]", "use it before all others that fit" },
	{ "leave", "BATCH[:FISH]", "leave it closed" },
	{ "serve-whole", "BATCH[:FISH]", "serve it whole if a dish can" },
	{ "board", "BATCH:G,G",
	    "pieces weighed on the board, not yet recorded" },
	{ NULL, NULL, NULL },
};

static enum rc
read_says(struct plan_say says[SAYS_MAX], size_t *count, const struct args *a,
    struct err *err)
{
	static const struct {
		const char *option;
		enum plan_word word;
	} words[] = {
		{ "first", PLAN_SAY_FIRST },
		{ "leave", PLAN_SAY_LEAVE },
		{ "serve-whole", PLAN_SAY_WHOLE },
		{ "board", PLAN_SAY_BOARD },
	};
	const char *s;
	size_t i, n;

	*count = 0;
	for (i = 0; i < sizeof(words) / sizeof(words[0]); i++)
		for (n = 0; (s = args_nth(a, words[i].option, n)) != NULL;
		     n++) {
			if (*count == SAYS_MAX)
				return err_set(err, RC_INVALID, 0,
				    "more than %d batches or fish named",
				    SAYS_MAX);
			says[*count].word = words[i].word;
			says[(*count)++].text = s;
		}
	return RC_OK;
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct plan_say says[SAYS_MAX];
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

	if ((rc = read_says(says, &wish.say_count, a, err)) != RC_OK)
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
