/* cmd_species.c - what the station knows of a species. */
#include "cmds.h"

#include "ops/species_page.h"

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	if (a->operand_count == 0)
		return species_list(out, sn, a->format, err);
	return species_page(out, sn, a->operand[0], a->format, err);
}

const struct cmd cmd_species = {
	.name = "species",
	.operands = "[CODE|NAME]",
	.summary = "what is known of a species, with sources",
	.help =
	    "Names, body form, allergen, histamine, yields, life in ice, "
	    "minimum sizes, closed times and what to look at for "
	    "freshness.  With a station file also the yields it "
	    "learned.\nWithout a name, the list.",
	.max_operands = 1,
	.needs = USES_STORE,
	.run = run,
};
