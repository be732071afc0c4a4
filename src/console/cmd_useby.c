/* cmd_useby.c - explain the date a food would get. */
#include "cmds.h"

#include "ops/rules.h"

static const struct opt options[] = {
	{ "rules", "NAME", "rule set; the settings' own when not given" },
	{ "state", "WORD", "raw, served-raw, cooked, live, vacuum, thawed" },
	{ "species", "CODE", "FAO 3-alpha code or name" },
	{ "prepared", "TIME", "cut, cooked, opened or packed" },
	{ "received", "DATE", "came in" },
	{ "caught", "DATE", "caught or harvested" },
	{ "supplier-date", "DATE", "supplier's use-by" },
	{ "ingredient-date", "DATE",
	    "an ingredient's use-by; may be repeated" },
	{ "frozen", "TIME", "put in the freezer" },
	{ "thawed", "TIME", "taken out" },
	{ "freeze-c", "DEGREES", "temperature it was frozen at" },
	{ "storage-c", "DEGREES", "temperature it is kept at" },
	{ "farmed", NULL, "farmed, with the supplier's feed statement" },
	{ "no-house", NULL, "leave the house lives out" },
	{ NULL, NULL, NULL },
};

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct useby_ask ask = {
		.rules = args_get(a, "rules"),
		.state = args_get(a, "state"),
		.species = args_get(a, "species"),
		.prepared = args_get(a, "prepared"),
		.received = args_get(a, "received"),
		.caught = args_get(a, "caught"),
		.supplier_date = args_get(a, "supplier-date"),
		.frozen = args_get(a, "frozen"),
		.thawed = args_get(a, "thawed"),
		.freeze_c = args_get(a, "freeze-c"),
		.storage_c = args_get(a, "storage-c"),
		.farmed = args_flag(a, "farmed"),
		.no_house = args_flag(a, "no-house"),
	};
	const char *s;

	while ((s = args_nth(a, "ingredient-date", ask.ingredient_count)) !=
	    NULL) {
		if (ask.ingredient_count == USEBY_INGREDIENTS_MAX)
			return err_set(err, RC_INVALID, 0,
			    "more than %d --ingredient-date",
			    USEBY_INGREDIENTS_MAX);
		ask.ingredients[ask.ingredient_count++] = s;
	}
	return useby_explain(out, sn, &ask, a->format, err);
}

const struct cmd cmd_useby = {
	.name = "useby",
	.operands = "",
	.summary = "explain the date a food would get",
	.help =
	    "Every limit that applies, the one that decides, and where each "
	    "comes from.\nTouches no station file.  DATE is YYYY-MM-DD, TIME "
	    "the same with an optional THH:MM.",
	.options = options,
	.needs = NEEDS_TABLES,
	.run = run,
};
