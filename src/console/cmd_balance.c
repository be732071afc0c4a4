/* cmd_balance.c - every gram accounted for. */
#include "cmds.h"

#include <inttypes.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "ops/balance.h"

static const struct opt options[] = {
	{ "supplier", "S", "what a supplier brought, of the last 4 weeks" },
	{ "unexplained", NULL, "grams nobody has explained, of 90 days" },
	{ "from", "DATE", "with one of these two: other days" },
	{ "to", "DATE", "with one of these two: today when not given" },
	{ "reason", "TEXT", "explain: what became of them" },
	{ NULL, NULL, NULL },
};

static enum rc
explain(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const char *by, *reason;
	struct jsonw *w;
	grams gap;
	enum rc rc;

	if ((rc = cmd_by(&by, a, err)) != RC_OK ||
	    (rc = args_want(&reason, a, "reason", err)) != RC_OK ||
	    (rc = balance_explain(&gap, sn, a->operand[1], reason, by, err)) !=
		RC_OK)
		return rc;
	if (a->format != FORMAT_JSON) {
		buf_printf(
		    out, "%s: %" PRId64 " g explained\n", a->operand[1], gap);
		return RC_OK;
	}
	w = jsonw_new_object();
	jsonw_str(w, "of", a->operand[1]);
	jsonw_int(w, "explained_g", gap);
	jsonw_dump(out, w, true);
	jsonw_free(w);
	return RC_OK;
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const struct balance_ask ask = {
		.what = a->operand_count > 0 ? a->operand[0] : NULL,
		.supplier = args_get(a, "supplier"),
		.from = args_get(a, "from"),
		.to = args_get(a, "to"),
	};
	bool gaps = args_flag(a, "unexplained");
	bool days = ask.from != NULL || ask.to != NULL;

	if (a->operand_count == 2 && str_eq(a->operand[0], "explain"))
		return explain(out, sn, a, err);
	if ((ask.what != NULL) + (ask.supplier != NULL) + gaps != 1 ||
	    a->operand_count > 1 || (days && ask.what != NULL))
		return err_set(err, RC_INVALID, 0,
		    "balance takes a code, a date, --supplier S or "
		    "--unexplained, or explain BREAKDOWN --reason TEXT");
	return gaps ? balance_gaps(out, sn, &ask, a->format, err)
		    : balance(out, sn, &ask, a->format, err);
}

const struct cmd cmd_balance = {
	.name = "balance",
	.operands = "[CODE | DATE | explain BREAKDOWN|CODE]",
	.summary = "every gram of a batch, a day or a supplier accounted for",
	.help =
	    "Of a batch: what was sent back, thrown away and is still whole, "
	    "and of each breakdown portions (on hand, frozen, served, "
	    "discarded, missing), trim, frames and waste.  What is left over "
	    "is unexplained, and listed until somebody says what became of "
	    "it; that changes no figure.  A breakdown of several batches is "
	    "shared by the weight that went in of each.",
	.options = options,
	.min_operands = 0,
	.max_operands = 2,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
