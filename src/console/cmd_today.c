/* cmd_today.c - the day at a glance. */
#include "cmds.h"

#include "ops/today.h"

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	return today_page(out, sn, a->format, err);
}

const struct cmd cmd_today = {
	.name = "today",
	.operands = "",
	.summary = "services, what is left to make, what must be emptied",
	.help =
	    "Portions to make are what the guests of a service are expected to "
	    "order and what is neither used nor on hand; plan says how to "
	    "make them.  --csv lists the services alone.",
	.needs = NEEDS_STORE,
	.run = run,
};
