/* cmd_verify.c - verify. */
#include "cmds.h"

#include <inttypes.h>
#include <stdio.h>

#include "ops/verify.h"

/* A line on standard error now and then: a person reads it, and so does the
 * station, which runs this beside itself (screens/beside.h). */
#define SAY_EVERY_MS 500

static bool
say(void *arg, enum verify_phase phase, int64_t done, int64_t total)
{
	static const char *const words[] = {
		[VERIFY_TRAIL] = "reading the audit trail",
		[VERIFY_ROWS] = "looking at the record",
	};
	int64_t *next_ms = arg, now = clock_ticks_ms();

	if (now < *next_ms)
		return true;
	*next_ms = now + SAY_EVERY_MS;
	fprintf(stderr, "%s: %d %% of %" PRId64 " rows\n", words[phase],
	    (int)(done * 100 / total), total);
	return true;
}

static const struct opt verify_options[] = {
	{ "paper", "CODE", "is the code from this day sheet in the trail?" },
	{ NULL, NULL, NULL },
};

static enum rc
run_verify(
    struct buf *out, struct station *sn, const struct args *a, struct err *err)
{
	int64_t next_ms = clock_ticks_ms() + SAY_EVERY_MS;
	struct verify_order o = {
		.file = a->operand_count > 0 ? a->operand[0] : NULL,
		.paper = args_get(a, "paper"),
		.format = a->format,
		.tell = say,
		.arg = &next_ms,
	};

	return verify(out, sn, &o, err);
}

const struct cmd cmd_verify = {
	.name = "verify",
	.operands = "[FILE]",
	.summary = "was anything of the record changed, removed or cut off?",
	.help =
	    "Follows the audit trail from its first row and looks at every row "
	    "of the record; names each that was edited, removed, put in or "
	    "moved by another program.  Of the station's own file, or of a "
	    "backup; nothing is changed.  Ends with 0 when everything is as it "
	    "was recorded and the code from paper, if there is one, is in the "
	    "trail; with 1 when not.  Who has the file and this program can "
	    "write a whole trail anew: only paper and backups witness that.",
	.options = verify_options,
	.max_operands = 1,
	.needs = NEEDS_STORE,
	.run = run_verify,
};
