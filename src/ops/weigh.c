/* weigh.c - what lies on the station's scale. */
#include "ops/weigh.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "print/balance.h"
#include "weighed.h"

_Static_assert(WEIGH_MAX == WEIGHED_MAX, "all that is weighed can be recorded");

/* The cook has to know that it counted. */
static void
tell(const struct weigh_in *in, const struct weighing *w)
{
	char text[80], g[32];

	if (in->show == NULL || in->each == 0)
		return;
	str_fmt(text, sizeof(text), "number %zu of %zu is %s: take it off",
	    w->count, in->each,
	    weight_print(g, sizeof(g), w->items[w->count - 1]));
	in->show(in->ctx, text);
}

static enum rc
weigh_all(struct weighing *out, struct balance *b, const struct weigh_in *in,
    struct err *err)
{
	struct balance_watch watch = { in->show, in->ctx };
	size_t n = in->each == 0 ? 1 : in->each;
	int64_t wait_s = in->wait_s > 0 ? in->wait_s
	    : in->each == 0             ? WEIGH_WAIT_S
					: WEIGH_WAIT_EACH_S;
	grams g;
	enum rc rc;

	while (out->count < n) {
		rc = balance_next(&g, b, wait_s * 1000, &watch, err);
		if (rc == RC_OK && out->total + g > WEIGHT_MAX_G)
			rc = err_set(err, RC_INVALID, 0,
			    "%" PRId64 " g in all is more than %d kg",
			    out->total + g, WEIGHT_MAX_G / 1000);
		if (rc != RC_OK) {
			if (in->each > 0)
				err_prefix(err,
				    "number %zu of %zu: ", out->count + 1, n);
			return rc;
		}
		out->items[out->count++] = g;
		out->total += g;
		tell(in, out);
	}
	return RC_OK;
}

enum rc
weigh(struct weighing *out, struct station *sn, const struct weigh_in *in,
    struct err *err)
{
	struct balance *b = NULL;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if (in->each > WEIGH_MAX)
		return err_set(err, RC_INVALID, 0,
		    "at most %d can be weighed one by one", WEIGH_MAX);
	if ((rc = balance_open(&b, sn->cfg.scale, err)) == RC_OK)
		rc = weigh_all(out, b, in, err);
	balance_close(b);
	return rc;
}

void
weigh_list(struct buf *out, const struct weighing *w)
{
	size_t i;

	for (i = 0; i < w->count; i++)
		buf_printf(out, "%s%" PRId64, i > 0 ? "," : "", w->items[i]);
}
