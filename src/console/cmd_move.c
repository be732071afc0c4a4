/* cmd_move.c - say where stock was put. */
#include "cmds.h"

#include "base/jsonw.h"
#include "ops/place.h"

static const struct opt options[] = {
	{ "to", "PLACE", "a word of [places] in the settings" },
	{ NULL, NULL, NULL },
};

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct move_in in = {
		.codes = (const char *const *)a->operand,
		.count = a->operand_count,
	};
	char place[PLACE_SIZE];
	struct jsonw *w;
	enum rc rc;

	if ((rc = cmd_by(&in.by, a, err)) != RC_OK ||
	    (rc = args_want(&in.place, a, "to", err)) != RC_OK ||
	    (rc = move(place, sn, &in, err)) != RC_OK)
		return rc;
	if (a->format != FORMAT_JSON) {
		buf_printf(out, "moved %zu to %s\n", in.count, place);
		return RC_OK;
	}
	w = jsonw_new_object();
	jsonw_int(w, "moved", (int64_t)in.count);
	jsonw_str(w, "place", place);
	jsonw_dump(out, w, true);
	jsonw_free(w);
	return RC_OK;
}

const struct cmd cmd_move = {
	.name = "move",
	.operands = "CODE...",
	.summary = "say where a batch, portion or tray was put",
	.help = "A recall is pulled by place.  What is on hold may be moved.",
	.options = options,
	.min_operands = 1,
	.max_operands = MOVE_CODES_MAX,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
