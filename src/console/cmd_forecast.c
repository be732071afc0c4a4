/* cmd_forecast.c - what coming services are expected to ask for. */
#include "cmds.h"

#include "ops/forecast.h"

static const struct opt options[] = {
	{ "backtest", NULL, "how good the forecasts were on the record" },
	{ NULL, NULL, NULL },
};

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct forecast_wish wish = {
		.service = a->operand_count == 0 ? NULL : a->operand[0],
		.backtest = args_flag(a, "backtest"),
		.format = a->format,
	};

	return forecast(out, sn, &wish, err);
}

const struct cmd cmd_forecast = {
	.name = "forecast",
	.operands = "[DATE/SERVICE]",
	.summary = "portions to have of each dish, learned from the record",
	.help =
	    "Without a service, those in the book for the coming two weeks.  "
	    "Expected portions, the range they lie in eight times of ten, the "
	    "portions to have and the chance that they run out.",
	.options = options,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.run = run,
};
