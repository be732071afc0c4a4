/* weighed.c - fish weighed one by one, at goods in and when they are taken. */
#include "weighed.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "store/batch_fish.h"

/* The single weights may miss the whole by this much: every fish is rounded to
 * the scale's step, ice melts.  common practice, no source. */
#define SUM_BP 200
#define SUM_MIN_G 20
/* And those taken later what they weighed at goods in: drip besides. */
#define TAKEN_BP 500

/* Whole numbers between commas, each in [min, max]. */
static enum rc
parse_list(struct weighed *out, const char *option, const char *text,
    const int64_t range[2], struct err *err)
{
	char item[24];
	size_t len;
	enum rc rc;

	out->count = 0;
	for (;; text += len + 1) {
		len = strcspn(text, ",");
		if (out->count == WEIGHED_MAX)
			return err_set(err, RC_INVALID, 0,
			    "%s: more than %d fish", option, WEIGHED_MAX);
		if (!str_fmt(item, sizeof(item), "%.*s",
			(int)(len < sizeof(item) ? len : sizeof(item)), text))
			return err_set(err, RC_INVALID, 0,
			    "%s: \"%.20s...\" is not a whole number", option,
			    text);
		rc = int_parse(&out->items[out->count], option, str_trim(item),
		    range[0], range[1], err);
		if (rc != RC_OK)
			return rc;
		out->count++;
		if (text[len] == '\0')
			return RC_OK;
	}
}

enum rc
weighed_parse(struct weighed *out, const char *text, struct err *err)
{
	static const int64_t range[] = { FISH_MIN_G, FISH_MAX_G };

	return parse_list(out, "--fish-weights (grams)", text, range, err);
}

enum rc
weighed_which(struct weighed *out, const char *text, struct err *err)
{
	static const int64_t range[] = { 1, COUNT_MAX };
	size_t i, j;
	enum rc rc;

	if ((rc = parse_list(out, "--which", text, range, err)) != RC_OK)
		return rc;
	for (i = 0; i < out->count; i++)
		for (j = 0; j < i; j++)
			if (out->items[i] == out->items[j])
				return err_set(err, RC_INVALID, 0,
				    "--which names fish %" PRId64 " twice",
				    out->items[i]);
	return RC_OK;
}

static bool
near(grams a, grams b, int bp)
{
	grams most = div_down(b * bp, BP_ONE);
	grams d = a > b ? a - b : b - a;

	return d <= (most < SUM_MIN_G ? SUM_MIN_G : most);
}

enum rc
weighed_fill(struct batch *b, const struct weighed *w, struct err *err)
{
	grams sum = 0;
	size_t i;

	for (i = 0; i < w->count; i++)
		sum += w->items[i];
	if (sum > WEIGHT_MAX_G)
		return err_set(err, RC_INVALID, 0,
		    "--fish-weights: %" PRId64 " g in all is more than %d kg",
		    sum, WEIGHT_MAX_G / 1000);
	if (b->count == 0)
		b->count = (int64_t)w->count;
	if (b->weight_g == 0)
		b->weight_g = sum;
	if (b->count != (int64_t)w->count)
		return err_set(err, RC_INVALID, 0,
		    "--fish-weights has %zu fish, --count says %" PRId64,
		    w->count, b->count);
	if (!near(sum, b->weight_g, SUM_BP))
		return err_set(err, RC_INVALID, 0,
		    "--fish-weights sums up to %" PRId64
		    " g, --weight says %" PRId64 " g",
		    sum, b->weight_g);
	return RC_OK;
}

static grams
weight_of(const struct batch_fish_list *l, int64_t number)
{
	size_t i;

	for (i = 0; i < l->count; i++)
		if (l->items[i].number == number)
			return l->items[i].weight_g;
	return 0;
}

static enum rc
check_named(const struct weighed *which, const struct batch_fish_list *l,
    const struct batch *b, const struct breakdown_in *in, struct err *err)
{
	char shown[CODE_SIZE];
	grams sum = 0, w;
	size_t i;

	code_show(shown, b->code);
	if (l->count == 0)
		return err_set(err, RC_REFUSED, 0,
		    "batch %s: its fish are not known one by one: leave "
		    "--which out",
		    shown);
	if ((int64_t)which->count != in->fish)
		return err_set(err, RC_INVALID, 0,
		    "--which names %zu fish, --fish says %" PRId64,
		    which->count, in->fish);
	for (i = 0; i < which->count; i++) {
		if ((w = weight_of(l, which->items[i])) == 0)
			return err_set(err, RC_NOTFOUND, 0,
			    "batch %s: fish %" PRId64 " is not here", shown,
			    which->items[i]);
		sum += w;
	}
	if (near(in->weight_g, sum, TAKEN_BP))
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "batch %s: the fish named weighed %" PRId64
	    " g at goods in, %" PRId64 " g now: check --which and --weight",
	    shown, sum, in->weight_g);
}

enum rc
weighed_choose(struct weighed *which, bool *lost, struct store *st,
    const struct batch *b, const struct breakdown_in *in, struct err *err)
{
	struct batch_fish_list l;
	enum rc rc;

	*lost = false;
	if ((rc = batch_fish_left(&l, st, b->id, err)) != RC_OK)
		return rc;
	if (which->count > 0) {
		rc = check_named(which, &l, b, in, err);
	} else if ((int64_t)l.count == in->fish) {
		for (; which->count < l.count; which->count++)
			which->items[which->count] =
			    l.items[which->count].number;
	} else {
		*lost = l.count > 0;
	}
	batch_fish_fini(&l);
	return rc;
}
