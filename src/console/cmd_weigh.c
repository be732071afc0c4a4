/* cmd_weigh.c - what lies on the scale. */
#include "cmds.h"

#include <inttypes.h>

#include "base/jsonw.h"
#include "weighing.h"

static const struct opt options[] = {
	{ "each", "N", "N weights, one after another, and their sum" },
	WEIGHING_WAIT_OPT,
	{ NULL, NULL, NULL },
};

static void
put_json(struct buf *out, const struct weighing *got, bool each)
{
	struct jsonw *w = jsonw_new_object();
	size_t i;

	jsonw_int(w, "weight_g", got->total);
	if (each) {
		jsonw_array(w, "each_g");
		for (i = 0; i < got->count; i++)
			jsonw_int(w, NULL, got->items[i]);
		jsonw_end(w);
	}
	jsonw_dump(out, w, true);
	jsonw_free(w);
}

static void
put_text(struct buf *out, const struct weighing *got, bool each)
{
	char w[32];
	size_t i;

	for (i = 0; each && i < got->count; i++)
		buf_printf(out, "%3zu  %s\n", i + 1,
		    weight_print(w, sizeof(w), got->items[i]));
	buf_printf(out, "%s%s\n", each ? "all  " : "",
	    weight_print(w, sizeof(w), got->total));
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct weighing got;
	int64_t each = 0;
	enum rc rc;

	if ((rc = args_int(&each, a, "each", 1, WEIGH_MAX, err)) != RC_OK)
		return rc;
	rc = weighing_take(&got, sn, a, (size_t)each, err);
	if (rc != RC_OK)
		weighing_keep(out, &got, true);
	else if (a->format == FORMAT_JSON)
		put_json(out, &got, each > 0);
	else
		put_text(out, &got, each > 0);
	return rc;
}

const struct cmd cmd_weigh = {
	.name = "weigh",
	.operands = "",
	.summary = "what lies on the scale; records nothing",
	.help =
	    "Waits for a weight the scale calls stable, 10 seconds if --wait "
	    "does not say, 60 for each of --each.  With --each take every fish "
	    "off until the scale shows zero before you put the next one down.\n"
	    "The scale's own tare counts: what it shows is taken, as whole "
	    "grams.  The scale is set by address of [scale] in the settings.",
	.options = options,
	.needs = NEEDS_TABLES,
	.run = run,
};
