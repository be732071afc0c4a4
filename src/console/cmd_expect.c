/* cmd_expect.c - numbers the chef types for a service. */
#include "cmds.h"

#include "core/demand.h"
#include "ops/expect.h"

static const struct opt options[] = {
	{ "covers", "N", "guests expected, walk-ins included" },
	{ "floor", "DISH:N", "at least so many portions" },
	{ "ceiling", "DISH:N", "at most" },
	{ "fix", "DISH:N", "exactly" },
	{ "clear", "DISH|covers", "back to the forecast" },
	{ NULL, NULL, NULL },
};

static void
add_words(struct expect_in *in, const struct args *a, enum expect_kind kind,
    const char *name)
{
	const char *text;
	size_t i;

	for (i = 0; (text = args_nth(a, name, i)) != NULL; i++) {
		in->words[in->count].kind = kind;
		in->words[in->count++].text = text;
	}
}

static enum rc
run(struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	struct expect_in in = { .service = a->operand[0], .covers = -1 };
	enum rc rc;

	rc = args_int(&in.covers, a, "covers", 0, DEMAND_COVERS_MAX, err);
	if (rc != RC_OK)
		return rc;
	add_words(&in, a, EXPECT_FLOOR, "floor");
	add_words(&in, a, EXPECT_CEILING, "ceiling");
	add_words(&in, a, EXPECT_FIXED, "fix");
	add_words(&in, a, EXPECT_CLEAR, "clear");
	if ((in.count > 0 || in.covers >= 0) &&
	    (rc = cmd_by(&in.by, a, err)) != RC_OK)
		return rc;
	return expect(out, sn, &in, a->format, err);
}

const struct cmd cmd_expect = {
	.name = "expect",
	.operands = "DATE/SERVICE",
	.summary = "type covers or portions of a service yourself",
	.help =
	    "What the chef types goes before the forecast and is shown as "
	    "typed wherever it is printed.  Without an option, the forecast "
	    "with what is typed.",
	.options = options,
	.min_operands = 1,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.records = true,
	.run = run,
};
