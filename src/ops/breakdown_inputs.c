/* breakdown_inputs.c - the batches that go into a breakdown. */
#include "breakdown_inputs.h"

#include <inttypes.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"

enum rc
with_parse(struct breakdown_with *out, char *text, struct err *err)
{
	char *part[3] = { text, NULL, NULL };
	int n = 1;
	enum rc rc;

	for (; *text != '\0' && n < 4; text++)
		if (*text == ':') {
			*text = '\0';
			if (n < 3)
				part[n] = text + 1;
			n++;
		}
	if (n < 2 || n > 3)
		return err_set(err, RC_INVALID, 0,
		    "--with \"%.40s\": write BATCH:FISH:WEIGHT, or "
		    "BATCH:WEIGHT of a batch that was not counted",
		    part[0]);
	out->batch = part[0];
	out->fish = 0;
	if (n == 3 &&
	    (rc = int_parse(&out->fish, "--with fish", part[1], 0, COUNT_MAX,
		 err)) != RC_OK)
		return rc;
	return weight_parse(&out->weight_g, "--with weight", part[n - 1], err);
}

grams
breakdown_total_g(const struct breakdown_in *in)
{
	grams all = in->weight_g;
	size_t i;

	for (i = 0; i < in->with_count; i++)
		all += in->with[i].weight_g;
	return all;
}

int64_t
breakdown_total_fish(const struct breakdown_in *in)
{
	int64_t all = in->fish;
	size_t i;

	for (i = 0; i < in->with_count; i++) {
		if (all == 0 || in->with[i].fish == 0)
			return 0;
		all += in->with[i].fish;
	}
	return all;
}

enum rc
breakdown_may_open(const struct batch *b, int64_t now, struct err *err)
{
	char shown[CODE_SIZE], text[48];

	code_show(shown, b->code);
	if (b->struck)
		return err_set(err, RC_REFUSED, 0,
		    "batch %s was struck out as taken in by mistake: take the "
		    "delivery in again",
		    shown);
	if (b->decision == DECISION_REFUSED)
		return err_set(err, RC_REFUSED, 0,
		    "batch %s was refused at goods in: %.120s", shown, b->note);
	if (b->held)
		return err_set(err, RC_REFUSED, 0,
		    "batch %s is on hold: it stays closed until released",
		    shown);
	if (b->use_by_utc < now)
		return err_set(err, RC_REFUSED, 0,
		    "batch %s expired on %s: discard it", shown,
		    time_short(text, sizeof(text), b->use_by_utc));
	return RC_OK;
}

/*
 * docs/rules.md R-B5: one fish that weighs like three is a slip of the count,
 * and fish left without a gram could never be taken out again.
 */
static enum rc
believable(
    const struct batch *b, const struct breakdown_with *in, struct err *err)
{
	char shown[CODE_SIZE];
	grams mean = b->weight_left / b->count_left;

	if (in->weight_g / in->fish <= mean * 3 &&
	    (in->fish == b->count_left || in->weight_g < b->weight_left))
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "batch %s: %" PRId64 " fish of %" PRId64 " g where %" PRId64
	    " weigh %" PRId64 " g in all: check fish and weight",
	    code_show(shown, b->code), in->fish, in->weight_g, b->count_left,
	    b->weight_left);
}

static enum rc
enough_left(
    const struct batch *b, const struct breakdown_with *in, struct err *err)
{
	char shown[CODE_SIZE], left[32];
	grams over = b->weight_g * OVERWEIGHT_BP / BP_ONE;
	enum rc rc;

	code_show(shown, b->code);
	if (over < OVERWEIGHT_MIN_G)
		over = OVERWEIGHT_MIN_G;
	if (b->count > 0 && in->fish == 0)
		return err_set(err, RC_INVALID, 0,
		    "batch %s is counted: say how many fish with --fish",
		    shown);
	if (b->count == 0 && in->fish > 0)
		return err_set(err, RC_INVALID, 0,
		    "batch %s was taken in by weight: leave --fish out", shown);
	if (in->fish > b->count_left)
		return err_set(err, RC_REFUSED, 0,
		    "batch %s has %" PRId64 " fish left, not %" PRId64, shown,
		    b->count_left, in->fish);
	if (in->fish > 0 && (rc = believable(b, in, err)) != RC_OK)
		return rc;
	weight_print(left, sizeof(left), b->weight_left);
	if (in->weight_g > b->weight_left + over || b->weight_left <= 0)
		return err_set(err, RC_REFUSED, 0,
		    "batch %s has %s left, less than was weighed in: check the "
		    "batch and the scale",
		    shown, left);
	return RC_OK;
}

/* One batch in, if it may be opened and has that much left. */
static enum rc
take(struct inputs *out, struct station *sn, const struct breakdown_with *in,
    int64_t now, struct err *err)
{
	char code[CODE_SIZE];
	enum code_kind kind;
	struct batch b;
	enum rc rc;

	if ((rc = code_parse(&kind, code, in->batch, err)) != RC_OK)
		return rc;
	if (kind != CODE_BATCH)
		return err_set(err, RC_INVALID, 0,
		    "%.40s is a portion's code: break down a batch", in->batch);
	if ((rc = batch_get(&b, sn->st, code, err)) != RC_OK ||
	    (rc = mix_add(&out->mix, &b, err)) != RC_OK ||
	    (rc = breakdown_may_open(&b, now, err)) != RC_OK)
		return rc;
	out->taken[out->mix.count - 1] = *in;
	return enough_left(&b, in, err);
}

enum rc
inputs_take(struct inputs *out, struct station *sn,
    const struct breakdown_in *in, int64_t now, struct err *err)
{
	struct breakdown_with first = { in->batch, in->fish, in->weight_g };
	size_t i;
	enum rc rc;

	out->mix.count = 0;
	rc = take(out, sn, &first, now, err);
	for (i = 0; i < in->with_count && rc == RC_OK; i++)
		rc = take(out, sn, &in->with[i], now, err);
	return rc;
}

/* Fish weighed one by one are gone with the breakdown; of another batch than
 * the first they are known only when all of them went. */
static enum rc
fish_of(struct breakdown *out, struct station *sn, const struct batch *b,
    const struct breakdown_with *in, struct weighed *which, struct err *err)
{
	const struct breakdown_in as = { .fish = in->fish,
		.weight_g = in->weight_g };
	bool lost = false;
	enum rc rc = weighed_choose(which, &lost, sn->st, b, &as, err);

	out->weights_lost = out->weights_lost || lost;
	return rc;
}

enum rc
inputs_fish(struct breakdown *out, struct station *sn,
    const struct inputs *inputs, struct weighed *which, struct err *err)
{
	size_t i;
	enum rc rc = RC_OK;

	out->weights_lost = false;
	for (i = 0; i < inputs->mix.count && rc == RC_OK; i++)
		rc = fish_of(out, sn, &inputs->mix.batches[i],
		    &inputs->taken[i], &which[i], err);
	return rc;
}

static enum rc
record_one(struct station *sn, const struct inputs *inputs, size_t i,
    const struct weighed *which, int64_t prep_id, struct err *err)
{
	const struct batch *b = &inputs->mix.batches[i];
	const struct breakdown_with *in = &inputs->taken[i];
	size_t k;
	enum rc rc = RC_OK;

	/* The first stands with the breakdown itself. */
	if (i > 0)
		rc = prep_input_insert(
		    sn->st, prep_id, b->id, in->fish, in->weight_g, err);
	if (rc == RC_OK)
		rc = batch_shut(sn->st, b->id, err);
	for (k = 0; k < which->count && rc == RC_OK; k++)
		rc = batch_fish_take(
		    sn->st, b->id, which->items[k], prep_id, err);
	return rc;
}

enum rc
inputs_record(struct station *sn, const struct inputs *inputs,
    const struct weighed *which, int64_t prep_id, struct err *err)
{
	size_t i;
	enum rc rc = RC_OK;

	for (i = 0; i < inputs->mix.count && rc == RC_OK; i++)
		rc = record_one(sn, inputs, i, &which[i], prep_id, err);
	return rc;
}

enum rc
inputs_after(struct breakdown *out, struct station *sn,
    const struct inputs *inputs, struct err *err)
{
	const struct mix *m = &inputs->mix;
	size_t i;
	enum rc rc = batch_by_id(&out->batch, sn->st, m->batches[0].id, err);

	for (i = 1; i < m->count && rc == RC_OK; i++)
		rc = batch_by_id(&out->with[out->with_count++], sn->st,
		    m->batches[i].id, err);
	return rc;
}

bool
inputs_one_supplier(const struct inputs *inputs)
{
	const struct mix *m = &inputs->mix;
	size_t i;

	for (i = 1; i < m->count; i++)
		if (m->batches[i].supplier.id != m->batches[0].supplier.id)
			return false;
	return true;
}
