/* cmd_close.c - close a service. */
#include "cmds.h"

#include "ops/close.h"

static const struct opt options[] = {
	{ "seated", "N", "booked guests who came" },
	{ "walk-ins", "N", "guests who came without a booking" },
	{ "sold", "DISH:N[:COVERS]",
	    "portions sold; COVERS seated when it ran out, or out" },
	{ "correct", NULL, "put a closed service right" },
	{ NULL, NULL, NULL },
};

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const char *sold[ARGS_VALUES_MAX];
	struct close_in in = { .service = a->operand[0],
		.seated = -1,
		.walk_ins = -1,
		.sold = sold,
		.correct = args_flag(a, "correct") };
	enum rc rc;

	while (in.sold_count < ARGS_VALUES_MAX &&
	    (sold[in.sold_count] = args_nth(a, "sold", in.sold_count)) != NULL)
		in.sold_count++;
	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = args_int(&in.seated, a, "seated", 0, COUNT_MAX, err)) !=
		RC_OK ||
	    (rc = args_int(&in.walk_ins, a, "walk-ins", 0, COUNT_MAX, err)) !=
		RC_OK)
		return rc;
	return close_service(out, sn, &in, a->format, err);
}

const struct cmd cmd_close = {
	.name = "close",
	.operands = "DATE/SERVICE",
	.summary = "after a service: who came, and what was sold",
	.help =
	    "Feeds the forecast.  A dish without --sold takes the portions "
	    "scanned out for the service.  A dish that ran out says at how "
	    "many covers, so that it does not seem less wanted than it was.",
	.options = options,
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
