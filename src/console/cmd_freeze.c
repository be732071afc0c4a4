/* cmd_freeze.c - freeze, thaw. */
#include "cmds.h"

#include <inttypes.h>
#include <stdlib.h>

#include "base/jsonw.h"
#include "base/mem.h"
#include "base/str.h"
#include "ops/freeze.h"

static void
put_text(struct buf *out, const struct kept *k)
{
	const struct freezing *f = &k->record;
	char code[CODE_SIZE], before[48], after[48], cold[16];
	size_t i;

	code_show(code, k->portion.code);
	time_short(before, sizeof(before), f->use_by_before_utc);
	time_short(after, sizeof(after), f->use_by_utc);
	buf_printf(out, "%s %s, %s, %" PRId64 " left",
	    f->to == KEEP_FROZEN ? "frozen" : "out to thaw", code,
	    k->portion.dish_name, k->portion.left);
	if (f->to == KEEP_FROZEN)
		buf_printf(out,
		    ", at %s: use by %s while frozen, was %s;\n"
		    "  %d day%s left of its life in chill\n",
		    temp_print(cold, sizeof(cold), f->temp_dc), after, before,
		    f->days_left, f->days_left == 1 ? "" : "s");
	else
		buf_printf(out, ": use by %s (%s)\n", after,
		    k->useby.limits[k->useby.bound].name);
	buf_printf(out,
	    "  its label is void, print a new one: pinbone label print %s\n",
	    code);
	for (i = 0; i < k->useby.caution_count; i++)
		buf_printf(out, "  caution: %s\n", k->useby.cautions[i]);
}

static void
put_json(struct jsonw *w, const struct kept *k)
{
	const struct freezing *f = &k->record;
	char code[CODE_SIZE];
	size_t i;

	jsonw_object(w, NULL);
	jsonw_str(w, "code", code_show(code, k->portion.code));
	jsonw_str(w, "dish", k->portion.dish);
	jsonw_int(w, "left", k->portion.left);
	jsonw_str(w, "keep", keep_word(k->portion.keep));
	if (f->to == KEEP_FROZEN)
		jsonw_int(w, "temperature_tenths_c", f->temp_dc);
	jsonw_int(w, "days_left", f->days_left);
	jsonw_time(w, "use_by", f->use_by_utc);
	jsonw_time(w, "use_by_before", f->use_by_before_utc);
	jsonw_str(w, "bound_by", k->useby.limits[k->useby.bound].name);
	jsonw_bool(w, "label_void", true);
	jsonw_array(w, "cautions");
	for (i = 0; i < k->useby.caution_count; i++)
		jsonw_str(w, NULL, k->useby.cautions[i]);
	jsonw_end(w);
	jsonw_end(w);
}

static void
put(struct buf *out, const struct kept *kept, size_t count, enum format format)
{
	struct jsonw *w;
	size_t i;

	if (format != FORMAT_JSON) {
		for (i = 0; i < count; i++)
			put_text(out, &kept[i]);
		return;
	}
	w = jsonw_new_object();
	jsonw_array(w, "units");
	for (i = 0; i < count; i++)
		put_json(w, &kept[i]);
	jsonw_end(w);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

typedef enum rc move_fn(struct kept *out, struct station *sn,
    const struct freeze_in *in, struct err *err);

static enum rc
run_move(struct buf *out, struct station *sn, const struct args *a,
    move_fn *move, struct freeze_in *in, struct err *err)
{
	struct kept *kept = xcalloc(a->operand_count, sizeof(*kept));
	enum rc rc;

	in->codes = (const char *const *)a->operand;
	in->count = a->operand_count;
	in->reason = args_get(a, "reason");
	if ((rc = cmd_by(&in->by, a, err)) == RC_OK &&
	    (rc = move(kept, sn, in, err)) == RC_OK)
		put(out, kept, in->count, a->format);
	free(kept);
	return rc;
}

static const struct opt freeze_options[] = {
	{ "temperature", "DEGREES", "reached, core or freezer, Celsius" },
	{ "reason", "TEXT", "why, if it needs saying" },
	{ NULL, NULL, NULL },
};

static enum rc
run_freeze(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct freeze_in in = { 0 };
	enum rc rc;

	if ((rc = args_want(&in.temp, a, "temperature", err)) != RC_OK)
		return rc;
	return run_move(out, sn, a, freeze, &in, err);
}

const struct cmd cmd_freeze = {
	.name = "freeze",
	.operands = "CODE...",
	.summary = "portions or trays into the freezer",
	.help =
	    "The clock of the use-by stops, and the days left of it are kept.  "
	    "Refuses what expired, is on hold, was thawed before, or has no "
	    "day left.  The old label is void: print a new one.",
	.options = freeze_options,
	.min_operands = 1,
	.max_operands = FREEZE_UNITS_MAX,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run_freeze,
};

static const struct opt thaw_options[] = {
	{ "reason", "TEXT", "why, if it needs saying" },
	{ NULL, NULL, NULL },
};

static enum rc
run_thaw(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct freeze_in in = { 0 };

	return run_move(out, sn, a, thaw, &in, err);
}

const struct cmd cmd_thaw = {
	.name = "thaw",
	.operands = "CODE...",
	.summary = "portions or trays out of the freezer, to thaw",
	.help =
	    "The clock of the use-by goes on from now.  The old label is void: "
	    "print a new one.  What was thawed is never frozen again.",
	.options = thaw_options,
	.min_operands = 1,
	.max_operands = FREEZE_UNITS_MAX,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run_thaw,
};
