/* cmd_fate.c - use, discard, hold, release, note. */
#include "cmds.h"

#include <inttypes.h>

#include "base/jsonw.h"
#include "base/str.h"
#include "ops/fate.h"
#include "ops/hold.h"

static const struct opt use_options[] = {
	{ "servings", "N", "how many; all that is left when not given" },
	{ "service", "DATE/NAME", "for which sitting; the present one else" },
	{ "reason", "TEXT", "why this one before an older one" },
	{ NULL, NULL, NULL },
};

static enum rc
run_use(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct use_in in = {
		.code = a->operand[0],
		.service = args_get(a, "service"),
		.reason = args_get(a, "reason"),
	};
	char code[CODE_SIZE];
	struct jsonw *w;
	struct portion p;
	enum rc rc;

	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = args_int(&in.servings, a, "servings", 1, COUNT_MAX, err)) !=
		RC_OK ||
	    (rc = use(&p, sn, &in, err)) != RC_OK)
		return rc;
	code_show(code, p.code);
	if (a->format != FORMAT_JSON) {
		buf_printf(out, "used %s, %s: %" PRId64 " left\n", code,
		    p.dish_name, p.left);
		return RC_OK;
	}
	w = jsonw_new_object();
	jsonw_str(w, "code", code);
	jsonw_str(w, "dish", p.dish);
	jsonw_int(w, "left", p.left);
	jsonw_dump(out, w, true);
	jsonw_free(w);
	return RC_OK;
}

const struct cmd cmd_use = {
	.name = "use",
	.operands = "CODE",
	.summary = "scan a portion or tray out for service",
	.help =
	    "Refuses what is expired, on hold or used up, and names the "
	    "older one that should go first.",
	.options = use_options,
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run_use,
};

static const struct opt discard_options[] = {
	{ "reason", "TEXT", "why" },
	{ "servings", "N", "of a tray; all that is left when not given" },
	{ "fish", "N", "of a counted batch" },
	{ "weight", "WEIGHT", "of a batch; all that is left when not given" },
	{ NULL, NULL, NULL },
};

static enum rc
run_discard(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct discard_in in = { .code = a->operand[0] };
	char code[CODE_SIZE];
	struct discarded d;
	struct jsonw *w;
	enum rc rc;

	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = args_want(&in.reason, a, "reason", err)) != RC_OK ||
	    (rc = args_int(&in.servings, a, "servings", 1, COUNT_MAX, err)) !=
		RC_OK ||
	    (rc = args_int(&in.fish, a, "fish", 1, COUNT_MAX, err)) != RC_OK ||
	    (rc = args_weight(&in.weight_g, a, "weight", err)) != RC_OK ||
	    (rc = discard(&d, sn, &in, err)) != RC_OK)
		return rc;
	code_show(code, d.code);
	if (a->format != FORMAT_JSON) {
		if (d.kind == CODE_PORTION)
			buf_printf(out,
			    "discarded %" PRId64 " of %s: %" PRId64 " left\n",
			    d.servings, code, d.servings_left);
		else
			buf_printf(out,
			    "discarded %" PRId64 " g of %s: %" PRId64
			    " g left\n",
			    d.weight_g, code, d.weight_left);
		return RC_OK;
	}
	w = jsonw_new_object();
	jsonw_str(w, "code", code);
	if (d.kind == CODE_PORTION) {
		jsonw_int(w, "servings", d.servings);
		jsonw_int(w, "left", d.servings_left);
	} else {
		jsonw_int(w, "fish", d.fish);
		jsonw_int(w, "weight_g", d.weight_g);
		jsonw_int(w, "left_g", d.weight_left);
	}
	jsonw_dump(out, w, true);
	jsonw_free(w);
	return RC_OK;
}

const struct cmd cmd_discard = {
	.name = "discard",
	.operands = "CODE",
	.summary = "throw away a portion, tray or batch, with a reason",
	.options = discard_options,
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run_discard,
};

/* --- hold, release, note --------------------------------------------------*/

static const struct opt reason_options[] = {
	{ "reason", "TEXT", "why" },
	{ "breakdown", NULL, "CODE is a unit: of the breakdown that made it" },
	{ NULL, NULL, NULL },
};

static const struct opt note_options[] = {
	{ "text", "TEXT", "what was said, heard or done" },
	{ "breakdown", NULL, "CODE is a unit: of the breakdown that made it" },
	{ NULL, NULL, NULL },
};

typedef enum rc block_fn(struct hold_done *out, struct station *sn,
    const struct hold_in *in, struct err *err);

static void
put_block(
    struct buf *out, const struct hold_done *d, const struct args *a, bool held)
{
	struct jsonw *w;

	if (a->format == FORMAT_JSON) {
		w = jsonw_new_object();
		jsonw_str(w, "code", d->name);
		jsonw_bool(w, "held", held);
		jsonw_int(
		    w, held ? "labels_stopped" : "labels_wanted", d->labels);
		if (!held)
			jsonw_str(w, "labels_to_print", d->codes);
		jsonw_dump(out, w, true);
		jsonw_free(w);
		return;
	}
	buf_printf(out, "%s: %s\n", d->name,
	    held ? "on hold: it is neither planned, broken down nor served"
		 : "released");
	if (d->labels > 0 && held)
		buf_printf(out,
		    "%" PRId64 " queued label%s stopped, and will not print\n",
		    d->labels, d->labels == 1 ? " is" : "s are");
	if (d->labels > 0 && !held)
		buf_printf(out, "labels to print again: %s\n", d->codes);
}

static enum rc
run_block(struct buf *out, struct station *sn, const struct args *a,
    block_fn *change, bool held, struct err *err)
{
	struct hold_in in = { .code = a->operand[0],
		.breakdown = args_flag(a, "breakdown") };
	struct hold_done d;
	enum rc rc;

	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = args_want(&in.reason, a, "reason", err)) != RC_OK ||
	    (rc = change(&d, sn, &in, err)) != RC_OK)
		return rc;
	put_block(out, &d, a, held);
	return RC_OK;
}

static enum rc
run_hold(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	return run_block(out, sn, a, hold_set, true, err);
}

static enum rc
run_release(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	return run_block(out, sn, a, hold_lift, false, err);
}

static enum rc
run_note(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct hold_in in = { .code = a->operand[0],
		.breakdown = args_flag(a, "breakdown") };
	struct hold_done d;
	struct jsonw *w;
	enum rc rc;

	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = args_want(&in.reason, a, "text", err)) != RC_OK ||
	    (rc = hold_note(&d, sn, &in, err)) != RC_OK)
		return rc;
	if (a->format != FORMAT_JSON) {
		buf_printf(out, "%s: noted\n", d.name);
		return RC_OK;
	}
	w = jsonw_new_object();
	jsonw_str(w, "code", d.name);
	jsonw_dump(out, w, true);
	jsonw_free(w);
	return RC_OK;
}

const struct cmd cmd_hold = {
	.name = "hold",
	.operands = "CODE",
	.summary = "block a batch, a breakdown or a portion",
	.help =
	    "A batch is blocked with all its portions; --breakdown blocks what "
	    "the breakdown made that CODE came out of.  Labels that are queued "
	    "for it do not print.",
	.options = reason_options,
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run_hold,
};

const struct cmd cmd_release = {
	.name = "release",
	.operands = "CODE",
	.summary = "lift a hold, with the reason",
	.options = reason_options,
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run_release,
};

const struct cmd cmd_note = {
	.name = "note",
	.operands = "CODE",
	.summary = "keep what was found out, with its time, at a hold",
	.options = note_options,
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run_note,
};
