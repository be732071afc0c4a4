/* cmd_combine.c - what is left of several trays onto one. */
#include "cmds.h"

#include <inttypes.h>
#include <string.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "ops/combine.h"
#include "ops/label.h"
#include "ops/queue.h"

static const struct opt options[] = {
	{ "print", NULL, "print the new label at once" },
	CMD_LABEL_OPTIONS,
	{ NULL, NULL, NULL },
};

static void
put_text(struct buf *out, const struct combined *c)
{
	const struct portion *p = &c->tray;
	char code[CODE_SIZE], when[48];
	size_t i;

	buf_printf(out,
	    "%s  %s, %" PRId64 " portions, %" PRId64 " g, use by %s\n",
	    code_show(code, p->code), p->dish_name, p->servings, p->weight_g,
	    time_short(when, sizeof(when), p->use_by_utc));
	if (p->others > 0)
		buf_printf(out, "  of batches %s + %s\n",
		    code_show(code, p->batch), p->also);
	for (i = 0; i < c->count; i++)
		buf_printf(out, "  %" PRId64 " from %s: take its label off\n",
		    c->from[i].servings, code_show(code, c->from[i].code));
}

static void
put_json(struct buf *out, const struct combined *c)
{
	const struct portion *p = &c->tray;
	struct jsonw *w = jsonw_new_object();
	char code[CODE_SIZE];
	size_t i;

	jsonw_str(w, "code", code_show(code, p->code));
	jsonw_str(w, "dish", p->dish);
	jsonw_str(w, "batch", code_show(code, p->batch));
	jsonw_str(w, "also", p->also);
	jsonw_int(w, "servings", p->servings);
	jsonw_int(w, "weight_g", p->weight_g);
	jsonw_time(w, "use_by", p->use_by_utc);
	jsonw_time(w, "prepared", p->prepared_utc);
	jsonw_array(w, "from");
	for (i = 0; i < c->count; i++) {
		jsonw_object(w, NULL);
		jsonw_str(w, "unit", code_show(code, c->from[i].code));
		jsonw_int(w, "moved", c->from[i].servings);
		jsonw_int(w, "moved_g", c->from[i].weight_g);
		jsonw_end(w);
	}
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

/* The tray stands whatever the printer does. */
static enum rc
print(struct station *sn, const struct combined *c, const struct args *a,
    struct err *err)
{
	struct label_order order = { .want = LABEL_FIRST };
	const char *code = c->tray.code;
	struct job_list jobs = { 0 };
	enum rc rc;

	order.codes = &code;
	order.count = 1;
	if ((rc = cmd_label_order(&order, a, err)) == RC_OK)
		rc = label_print(&jobs, sn, &order, err);
	if (rc != RC_OK)
		err_prefix(
		    err, "the tray is recorded, but its label is not out: ");
	job_list_fini(&jobs);
	return rc;
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct combine_in in = {
		.codes = (const char *const *)a->operand,
		.count = a->operand_count,
	};
	struct combined c;
	enum rc rc;

	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = combine(&c, sn, &in, err)) != RC_OK)
		return rc;
	if (a->format == FORMAT_JSON)
		put_json(out, &c);
	else
		put_text(out, &c);
	return args_flag(a, "print") ? print(sn, &c, a, err) : RC_OK;
}

const struct cmd cmd_combine = {
	.name = "combine",
	.operands = "CODE CODE...",
	.summary = "what is left of several trays onto one",
	.help =
	    "One dish, chilled, in date and not on hold.  The new tray has a "
	    "code of its own, the earliest use-by of them, and every batch "
	    "they were made of.  The old labels are void: take them off.",
	.options = options,
	.min_operands = 1,
	.max_operands = COMBINE_UNITS_MAX,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
