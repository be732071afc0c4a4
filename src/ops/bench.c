/* bench.c - a batch on the bench, before its breakdown is recorded. */
#include "ops/bench.h"

#include <string.h>

#include "base/str.h"
#include "core/yieldlearn.h"
#include "mix.h"
#include "ops/yields.h"
#include "store/menu.h"

enum rc
bench_batches(struct batch_list *out, struct station *sn, struct err *err)
{
	return batch_list_open(out, sn->st, err);
}

static enum rc
add_dish(struct bench *b, struct station *sn, const struct plan_cut *cut,
    struct err *err)
{
	struct yield_wish wish = {
		.species = b->batch.species,
		.bought = b->batch.presentation,
		.kind = cut->kind,
		.skin_on = cut->skin_on,
		.supplier_id = b->batch.supplier.id,
		.fish = b->batch.count_left,
	};
	struct err own = { 0 };
	struct bench_dish *d;
	struct yield_use use;
	enum rc rc;

	if (b->dish_count == BENCH_DISHES_MAX) {
		b->left_out++;
		return RC_OK;
	}
	d = &b->dishes[b->dish_count++];
	d->cut = *cut;
	d->mean_bp = cut->house_yield_bp;
	d->learned = 0;
	rc = yield_for(&use, sn, &wish, &own);
	if (rc == RC_OK && (d->mean_bp == 0 || use.learned > 0)) {
		d->mean_bp = use.mean_bp;
		d->learned = use.learned;
	}
	return rc == RC_OK || rc == RC_NOTFOUND
	    ? RC_OK
	    : err_set(err, rc, own.lib, "%s", own.text);
}

static enum rc
load_dishes(struct bench *b, struct station *sn, struct err *err)
{
	struct menu_cuts l;
	size_t i;
	enum rc rc;

	/* Of no service: the share does not matter here. */
	if ((rc = menu_cuts_open(&l, sn->st, "", err)) != RC_OK)
		return rc;
	for (i = 0; i < l.count && rc == RC_OK; i++)
		if (str_eq(l.items[i].species, b->batch.species))
			rc = add_dish(b, sn, &l.items[i], err);
	menu_cuts_fini(&l);
	return rc;
}

enum rc
bench_open(
    struct bench *out, struct station *sn, const char *text, struct err *err)
{
	char code[CODE_SIZE];
	enum code_kind kind;
	enum rc rc;

	memset(out, 0, sizeof(*out));
	if ((rc = code_parse(&kind, code, text, err)) != RC_OK)
		return rc;
	if (kind != CODE_BATCH)
		return err_set(err, RC_INVALID, 0,
		    "%.40s is a portion's code: break down a batch", text);
	if ((rc = batch_get(&out->batch, sn->st, code, err)) != RC_OK)
		return rc;
	out->species = species_find(&sn->species, out->batch.species);
	if (out->species == NULL)
		return err_set(err, RC_INVALID, 0,
		    "species %s is not in species.csv", out->batch.species);
	out->caution_count =
	    caution_list(out->cautions, out->species, out->batch.presentation);
	ignore_rc(breakdown_may_open(/* kept, with its reason */
	    &out->batch, clock_now(&sn->clock), &out->refused));
	if ((rc = batch_fish_left(&out->fish, sn->st, out->batch.id, err)) !=
		RC_OK ||
	    (rc = load_dishes(out, sn, err)) != RC_OK)
		bench_fini(out);
	return rc;
}

enum rc
bench_with(struct batch *out, const struct bench *b, struct station *sn,
    const char *text, struct err *err)
{
	struct mix m = { .count = 1 };
	char code[CODE_SIZE];
	enum code_kind kind;
	enum rc rc;

	if ((rc = code_parse(&kind, code, text, err)) != RC_OK)
		return rc;
	if (kind != CODE_BATCH)
		return err_set(err, RC_INVALID, 0,
		    "%.40s is a portion's code: scan a batch", text);
	m.batches[0] = b->batch;
	if ((rc = batch_get(out, sn->st, code, err)) != RC_OK ||
	    (rc = mix_add(&m, out, err)) != RC_OK)
		return rc;
	return breakdown_may_open(out, clock_now(&sn->clock), err);
}

void
bench_fini(struct bench *b)
{
	batch_fish_fini(&b->fish);
	memset(b, 0, sizeof(*b));
}

static const struct bench_dish *
dish_of(const struct bench *b, const char *dish)
{
	size_t i;

	for (i = 0; i < b->dish_count; i++)
		if (str_eq(b->dishes[i].cut.dish, dish))
			return &b->dishes[i];
	return NULL;
}

int
bench_yield(
    int *expected_bp, const struct bench *b, const struct breakdown_in *in)
{
	struct yield_part parts[BREAKDOWN_MAKES_MAX];
	struct yield_work work = {
		.species = b->batch.species,
		.from = presentation_form(b->batch.presentation),
		.parts = parts,
		.trim_g = in->loss_g[LOSS_TRIM],
		.in_g = breakdown_total_g(in),
		.fish = breakdown_total_fish(in),
	};
	const struct bench_dish *d;
	struct yield_key key;
	struct yield_obs obs;
	size_t i;

	*expected_bp = 0;
	if (breakdown_total_g(in) <= 0)
		return 0;
	for (i = 0; i < in->make_count; i++) {
		if ((d = dish_of(b, in->makes[i].dish)) == NULL ||
		    in->makes[i].weight_g <= 0)
			continue;
		parts[work.part_count++] = (struct yield_part){
			.kind = d->cut.kind,
			.skin_on = d->cut.skin_on,
			.weight_g = in->makes[i].weight_g,
		};
		*expected_bp = d->mean_bp;
	}
	if (bench_unexplained(in) < 0 || !yield_lesson(&key, &obs, &work))
		return 0;
	return yield_observed_bp(&obs);
}

grams
bench_unexplained(const struct breakdown_in *in)
{
	grams left = breakdown_total_g(in);
	size_t i;

	for (i = 0; i < in->make_count; i++)
		left -= in->makes[i].weight_g;
	for (i = 0; i < LOSS_COUNT; i++)
		left -= in->loss_g[i];
	return left;
}
