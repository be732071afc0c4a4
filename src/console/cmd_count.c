/* cmd_count.c - a tray counted by hand. */
#include "cmds.h"

#include <inttypes.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "ops/fate.h"

static const struct opt options[] = {
	{ "servings", "N", "how many are there, 0 for none" },
	{ "reason", "TEXT", "why it is not what the record has" },
	{ NULL, NULL, NULL },
};

static void
put_text(struct buf *out, const struct counted *c)
{
	const struct portion *p = &c->portion;
	char code[CODE_SIZE];

	buf_printf(out, "counted %s, %s: %" PRId64 " left",
	    code_show(code, p->code), p->dish_name, p->left);
	if (p->left < c->before)
		buf_printf(out, ", %" PRId64 " missing", c->before - p->left);
	else if (p->left > c->before)
		buf_printf(out, ", %" PRId64 " found", p->left - c->before);
	else
		buf_puts(out, ", as recorded");
	buf_putc(out, '\n');
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct count_in in = {
		.code = a->operand[0],
		.reason = args_get(a, "reason"),
	};
	char code[CODE_SIZE];
	const char *servings;
	struct counted c;
	struct jsonw *w;
	enum rc rc;

	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = args_want(&servings, a, "servings", err)) != RC_OK ||
	    (rc = args_int(&in.servings, a, "servings", 0, COUNT_MAX, err)) !=
		RC_OK ||
	    (rc = count_unit(&c, sn, &in, err)) != RC_OK)
		return rc;
	if (a->format != FORMAT_JSON) {
		put_text(out, &c);
		return RC_OK;
	}
	w = jsonw_new_object();
	jsonw_str(w, "code", code_show(code, c.portion.code));
	jsonw_str(w, "dish", c.portion.dish);
	jsonw_int(w, "before", c.before);
	jsonw_int(w, "left", c.portion.left);
	jsonw_dump(out, w, true);
	jsonw_free(w);
	return RC_OK;
}

const struct cmd cmd_count = {
	.name = "count",
	.operands = "CODE",
	.summary = "count a portion or tray on hand against the record",
	.help =
	    "What is missing, or found after all, is recorded with its reason; "
	    "nothing is deleted.",
	.options = options,
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
