/* cmd_prune.c - how long records must be kept; remove what is old enough. */
#include "cmds.h"

#include "ops/keeping.h"

static const struct opt prune_options[] = {
	{ "before", "DATE", "only what is older than this day" },
	{ "yes", NULL, "do it; without this it is only said" },
	{ "today", "DATE", "with --yes: today's date, as you know it" },
	{ NULL, NULL, NULL },
};

static enum rc
look(struct buf *out, struct station *sn, const struct args *a, day_no before,
    struct err *err)
{
	struct keeping k;
	enum rc rc = keeping_look(&k, sn, before, 0, err);

	if (rc == RC_OK) {
		keeping_show(out, &k, a->format);
		if (a->format != FORMAT_JSON)
			buf_puts(
			    out, "Nothing is removed until you add --yes.\n");
	}
	keeping_fini(&k);
	return rc;
}

static enum rc
run_prune(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	const char *before = args_get(a, "before");
	struct keeping_wish wish = { .before = DAY_NONE };
	struct prune_sum sum;
	enum rc rc;

	if (before != NULL &&
	    (rc = day_parse(&wish.before, "--before", before, err)) != RC_OK)
		return rc;
	if (!args_flag(a, "yes"))
		return look(out, sn, a, wish.before, err);
	if ((rc = cmd_by(&wish.by, a, err)) != RC_OK ||
	    (rc = args_want(&wish.today, a, "today", err)) != RC_OK)
		return rc;
	rc = keeping_prune(&sum, sn, &wish, err);
	if (rc == RC_OK || sum.rows > 0) {
		if (a->format != FORMAT_JSON)
			buf_puts(out, "Removed:\n");
		prune_sum_show(out, &sum, a->format);
	}
	return rc;
}

const struct cmd cmd_prune = {
	.name = "prune",
	.operands = "",
	.summary = "how long records must be kept; remove what is old enough",
	.help =
	    "Says what may go; --yes removes it.  Nothing goes that is younger "
	    "than the longest duty of the rule set and of [keeping], is on "
	    "hand or on hold, or is spoken of in a recall or complaint.  "
	    "Batches go with everything made of them.  Asked for before: a "
	    "backup of the last 24 hours whose stick is in, and a clock that "
	    "the station worked by on days before.  What went is written down; "
	    "the audit trail stays.  Local law and the kitchen's own food "
	    "safety plan may ask for longer.",
	.options = prune_options,
	.max_operands = 0,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run_prune,
};
