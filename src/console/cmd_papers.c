/* cmd_papers.c - is a delivery's record complete, law by law? */
#include "cmds.h"

#include "base/jsonw.h"
#include "base/str.h"
#include "ops/papers.h"

static const struct opt options[] = {
	{ "all", NULL, "every law, not only those of the rule set in force" },
	{ NULL, NULL, NULL },
};

static enum rc
say(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct jsonw *w;
	const char *by;
	enum rc rc;

	if ((rc = cmd_by(&by, a, err)) != RC_OK ||
	    (rc = papers_say(sn, a->operand[1], a->operand[2], a->operand[3],
		 by, err)) != RC_OK)
		return rc;
	if (a->format != FORMAT_JSON) {
		buf_printf(out, "%s: %s is %s\n", a->operand[1], a->operand[2],
		    a->operand[3]);
		return RC_OK;
	}
	w = jsonw_new_object();
	jsonw_str(w, "code", a->operand[1]);
	jsonw_str(w, "datum", a->operand[2]);
	jsonw_str(w, "value", a->operand[3]);
	jsonw_dump(out, w, true);
	jsonw_free(w);
	return RC_OK;
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	if (a->operand_count == 4 && str_eq(a->operand[0], "say"))
		return say(out, sn, a, err);
	if (a->operand_count != 1)
		return err_set(err, RC_INVALID, 0,
		    "papers takes a delivery document, a date or a code, or "
		    "say CODE DATUM VALUE");
	return papers(
	    out, sn, a->operand[0], args_flag(a, "all"), a->format, err);
}

const struct cmd cmd_papers = {
	.name = "papers",
	.operands = "DOCUMENT | DATE | CODE | say CODE DATUM VALUE",
	.summary = "is a delivery's record complete, law by law?",
	.help =
	    "Each datum a law asks for: there, missing, or not needed and why. "
	    " The laws are those of the rule set in force; --all shows every "
	    "one.  What the papers say beyond what goods in asks, or the "
	    "supplier answers later, is recorded with say: consignor, "
	    "consignee, dispatched, area, gear, frozen (never, stated, "
	    "ingredient, necessary, parasites, then-cured), lot-source, "
	    "document-type, vessel, caught, supplier-exempt, first-receiver.",
	.options = options,
	.min_operands = 1,
	.max_operands = 4,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
