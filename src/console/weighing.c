/* weighing.c - the scale behind an option of a command. */
#include "weighing.h"

#include <inttypes.h>
#include <stdio.h>
#include <unistd.h>

static void
show(void *ctx, const char *words)
{
	(void)ctx;
	fprintf(stderr, "scale: %s\n", words);
}

enum rc
weighing_take(struct weighing *out, struct station *sn, const struct args *a,
    size_t each, struct err *err)
{
	struct weigh_in in = { .each = each };
	enum rc rc;

	out->count = 0;
	if ((rc = args_int(&in.wait_s, a, "wait", 1, WEIGH_WAIT_MAX_S, err)) !=
	    RC_OK)
		return rc;
	if (isatty(STDERR_FILENO))
		in.show = show;
	return weigh(out, sn, &in, err);
}

void
weighing_keep(struct buf *out, const struct weighing *w, bool each)
{
	if (w->count == 0)
		return;
	buf_puts(out, "weighed, not recorded: ");
	if (each) {
		buf_puts(out, "--fish-weights ");
		weigh_list(out, w);
		buf_putc(out, '\n');
	} else {
		buf_printf(out, "--weight %" PRId64 "\n", w->total);
	}
}
