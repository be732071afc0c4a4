/* cmd_undo.c - take the last recorded step back. */
#include "cmds.h"

#include "base/jsonw.h"
#include "ops/undo.h"

static const struct opt undo_options[] = {
	{ "yes", NULL, "do it; without this it is only said" },
	{ "station", NULL, "the last step of anybody, not of --by alone" },
	{ "reason", "TEXT", "why; \"entered by mistake\" when not given" },
	{ NULL, NULL, NULL },
};

static void
put_text(struct buf *out, const struct undo_offer *o, bool done)
{
	buf_printf(
	    out, "%s: %s\n", done ? "taken back" : "would take back", o->what);
	buf_printf(out, "  %s\n", o->does);
	if (o->care[0] != '\0' && !done)
		buf_printf(out, "  %s\n", o->care);
	if (o->collect_count > 0)
		buf_printf(out, "  labels to collect, %zu: %s\n",
		    o->collect_count, o->collect);
	if (!done)
		buf_puts(out, "  Nothing is recorded until you add --yes.\n");
}

static void
put_json(struct buf *out, const struct undo_offer *o, bool done)
{
	struct jsonw *w = jsonw_new_object();
	char code[CODE_SIZE];

	jsonw_bool(w, "done", done);
	jsonw_str(w, "step", undo_kind_word(o->kind));
	jsonw_str(
	    w, "code", o->code[0] == '\0' ? "" : code_show(code, o->code));
	jsonw_time(w, "at", o->at.utc);
	jsonw_str(w, "by", o->at.by);
	jsonw_str(w, "what", o->what);
	jsonw_str(w, "does", o->does);
	jsonw_str(w, "care", o->care);
	jsonw_int(w, "labels_to_collect", (int64_t)o->collect_count);
	jsonw_str(w, "labels", o->collect);
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static enum rc
run_undo(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct undo_in in = { .reason = args_get(a, "reason") };
	bool yes = args_flag(a, "yes");
	struct undo_offer o;
	enum rc rc;

	if ((rc = cmd_by(&in.by, a, err)) != RC_OK)
		return rc;
	in.of = args_flag(a, "station") ? NULL : in.by;
	if ((rc = undo_last(&o, sn, in.of, err)) != RC_OK) {
		if (o.what[0] != '\0')
			err_prefix(err, "%s stays: ", o.what);
		return rc;
	}
	in.step = o.step;
	if (yes && (rc = undo_do(&o, sn, &in, err)) != RC_OK)
		return rc;
	if (a->format == FORMAT_JSON)
		put_json(out, &o, yes);
	else
		put_text(out, &o, yes);
	return RC_OK;
}

const struct cmd cmd_undo = {
	.name = "undo",
	.operands = "",
	.summary = "take the last recorded step back, where it is safe",
	.help =
	    "Says what would be taken back; --yes does it.  Nothing is "
	    "deleted: a counter-record says it was a mistake.  Steps of the "
	    "last 30 minutes only; freezing, thawing and closing stay.",
	.options = undo_options,
	.max_operands = 0,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run_undo,
};
