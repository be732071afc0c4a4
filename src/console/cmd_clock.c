/* cmd_clock.c - show the clock, or confirm a doubtful date. */
#include "cmds.h"

#include "base/str.h"
#include "ops/watch.h"

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const char *by;
	enum rc rc;

	if (a->operand_count == 0)
		return watch_show(out, sn, a->format, err);
	if (!str_eq(a->operand[0], "confirm") || a->operand_count != 2)
		return err_set(err, RC_INVALID, 0,
		    "clock shows the time; clock confirm YYYY-MM-DD says the "
		    "date is right");
	if ((rc = cmd_by(&by, a, err)) != RC_OK)
		return rc;
	return watch_confirm(out, sn, a->operand[1], by, err);
}

const struct cmd cmd_clock = {
	.name = "clock",
	.operands = "[confirm DATE]",
	.summary = "what the clock reads, and a doubtful date confirmed",
	.help =
	    "After a lost clock, a long pause or a change of zone nothing "
	    "is recorded until someone has read the date and confirmed "
	    "it.",
	.max_operands = 2,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
