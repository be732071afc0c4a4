/* receive_read.c - goods in: what was keyed, field by field. */
#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "receiving.h"

enum rc
receiving_go(struct receiving *r, const struct receiving_step *steps,
    size_t count, struct err *err)
{
	size_t i;
	enum rc rc;

	for (i = 0; i < count; i++) {
		r->at = steps[i].at;
		if ((rc = steps[i].go(r, err)) != RC_OK)
			return rc;
	}
	r->at = RECEIVE_WHOLE;
	return RC_OK;
}

static enum rc
want(const char *value, const char *option, struct err *err)
{
	if (value != NULL)
		return RC_OK;
	return err_set(err, RC_INVALID, 0, "%s is missing", option);
}

static enum rc
want_text(char *dst, size_t size, const char *option, const char *value,
    bool may_be_empty, struct err *err)
{
	enum rc rc;

	if (value == NULL && may_be_empty)
		value = "";
	if ((rc = want(value, option, err)) != RC_OK ||
	    (rc = text_check(option, value, size - 1, may_be_empty, err)) !=
		RC_OK)
		return rc;
	str_copy(dst, size, value);
	return RC_OK;
}

static enum rc
read_document(struct receiving *r, struct err *err)
{
	return want_text(r->b.document, sizeof(r->b.document), "--document",
	    r->in.document, false, err);
}

static enum rc
read_species(struct receiving *r, struct err *err)
{
	const struct species *sp;
	enum rc rc;

	if ((rc = want(r->in.species, "--species", err)) == RC_OK &&
	    (rc = species_get(&sp, &r->sn->species, r->in.species, err)) ==
		RC_OK)
		str_copy(r->b.species, sizeof(r->b.species), sp->code);
	return rc;
}

static enum rc
read_presentation(struct receiving *r, struct err *err)
{
	enum rc rc;

	if ((rc = want(r->in.presentation, "--presentation", err)) != RC_OK)
		return rc;
	return presentation_parse(&r->b.presentation, r->in.presentation, err);
}

static enum rc
read_fish_weights(struct receiving *r, struct err *err)
{
	r->each.count = 0;
	if (r->in.fish_weights == NULL)
		return RC_OK;
	return weighed_parse(&r->each, r->in.fish_weights, err);
}

static enum rc
read_weight(struct receiving *r, struct err *err)
{
	const struct receive_in *in = &r->in;

	if (in->weight == NULL && r->each.count == 0)
		return err_set(err, RC_INVALID, 0,
		    in->count != NULL
			? "--count without --weight: weigh the fish, a count "
			  "alone plans nothing"
			: "--weight is missing");
	if (in->weight == NULL)
		return RC_OK;
	return weight_parse(&r->b.weight_g, "--weight", in->weight, err);
}

static enum rc
read_count(struct receiving *r, struct err *err)
{
	if (r->in.count == NULL)
		return RC_OK;
	return int_parse(
	    &r->b.count, "--count", r->in.count, 1, COUNT_MAX, err);
}

static enum rc
fill_each(struct receiving *r, struct err *err)
{
	if (r->each.count == 0)
		return RC_OK;
	return weighed_fill(&r->b, &r->each, err);
}

static enum rc
check_mean(struct receiving *r, struct err *err)
{
	const struct batch *b = &r->b;

	if (b->count == 0)
		return RC_OK;
	if (b->weight_g / b->count < FISH_MIN_G ||
	    b->weight_g / b->count > FISH_MAX_G)
		return err_set(err, RC_INVALID, 0,
		    "%" PRId64 " fish of %" PRId64
		    " g each cannot be: check --count and --weight",
		    b->count, b->weight_g / b->count);
	return RC_OK;
}

static enum rc
read_price(struct receiving *r, struct err *err)
{
	struct batch *b = &r->b;
	const char *s = r->in.price;
	enum rc rc;

	b->price = -1;
	if (s == NULL)
		return RC_OK;
	if ((rc = decimal_parse(&b->price, "--price", s, 2, err)) != RC_OK)
		return rc;
	if (b->price >= 0 && b->price <= PRICE_MAX)
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "--price \"%.40s\" is outside 0 to %d a kilogram", s,
	    PRICE_MAX / 100);
}

static enum rc
read_lot(struct receiving *r, struct err *err)
{
	return want_text(
	    r->b.lot, sizeof(r->b.lot), "--lot", r->in.lot, false, err);
}

static enum rc
read_temp(struct receiving *r, struct err *err)
{
	enum rc rc;

	if ((rc = want(r->in.temp, "--temperature", err)) != RC_OK)
		return rc;
	return temp_parse(&r->b.temp_dc, "--temperature", r->in.temp, err);
}

static enum rc
read_area(struct receiving *r, struct err *err)
{
	return want_text(
	    r->b.area, sizeof(r->b.area), "--area", r->in.area, false, err);
}

/* Production method, by the words of Reg. (EU) 1379/2013 Art. 35. */
static enum rc
read_method(struct receiving *r, struct err *err)
{
	static const char *const words[] = {
		"caught",
		"caught-freshwater",
		"farmed",
	};
	const char *s = r->in.method;
	size_t i;
	enum rc rc;

	if ((rc = want(s, "--method", err)) != RC_OK)
		return rc;
	for (i = 0; i < sizeof(words) / sizeof(words[0]); i++)
		if (str_eq_nocase(s, words[i])) {
			str_copy(r->b.method, sizeof(r->b.method), words[i]);
			return RC_OK;
		}
	return err_set(err, RC_INVALID, 0,
	    "--method \"%.40s\" is not known: caught, caught-freshwater or "
	    "farmed",
	    s);
}

static enum rc
read_vessel(struct receiving *r, struct err *err)
{
	return want_text(r->b.vessel, sizeof(r->b.vessel), "--vessel",
	    r->in.vessel, true, err);
}

static enum rc
read_gear(struct receiving *r, struct err *err)
{
	return want_text(
	    r->b.gear, sizeof(r->b.gear), "--gear", r->in.gear, true, err);
}

static enum rc
check_sold_as(struct receiving *r, struct err *err)
{
	const struct species *sp = species_find(&r->sn->species, r->b.species);

	if (species_sold_as(sp, r->b.presentation))
		return RC_OK;
	return err_set(err, RC_INVALID, 0,
	    "--presentation %s does not go with %s: check the species",
	    presentation_word(r->b.presentation), sp->name);
}

static enum rc
read_day(day_no *out, const char *option, const char *s, struct err *err)
{
	*out = DAY_NONE;
	return s == NULL ? RC_OK : day_parse(out, option, s, err);
}

static enum rc
not_ahead(const struct receiving *r, day_no day, const char *option,
    const char *s, struct err *err)
{
	if (day == DAY_NONE || day <= r->today)
		return RC_OK;
	return err_set(err, RC_REFUSED, 0,
	    "%s %s is in the future: read the label again", option, s);
}

static enum rc
read_dispatched(struct receiving *r, struct err *err)
{
	return read_day(
	    &r->b.dispatched_day, "--dispatched", r->in.dispatched, err);
}

static enum rc
read_caught(struct receiving *r, struct err *err)
{
	return read_day(&r->b.caught_day, "--caught", r->in.caught, err);
}

static enum rc
read_supplier_date(struct receiving *r, struct err *err)
{
	return read_day(
	    &r->b.supplier_use_by, "--supplier-date", r->in.supplier_date, err);
}

static enum rc
check_caught(struct receiving *r, struct err *err)
{
	return not_ahead(r, r->b.caught_day, "--caught", r->in.caught, err);
}

static enum rc
check_dispatched(struct receiving *r, struct err *err)
{
	const struct batch *b = &r->b;
	enum rc rc;

	rc = not_ahead(
	    r, b->dispatched_day, "--dispatched", r->in.dispatched, err);
	if (rc != RC_OK)
		return rc;
	if (b->dispatched_day != DAY_NONE && b->caught_day != DAY_NONE &&
	    b->dispatched_day < b->caught_day)
		return err_set(err, RC_REFUSED, 0,
		    "--dispatched %s is before --caught %s: read the label "
		    "again",
		    r->in.dispatched, r->in.caught);
	return RC_OK;
}

static enum rc
check_supplier_date(struct receiving *r, struct err *err)
{
	const struct batch *b = &r->b;

	if (b->supplier_use_by != DAY_NONE && b->caught_day != DAY_NONE &&
	    b->supplier_use_by < b->caught_day)
		return err_set(err, RC_REFUSED, 0,
		    "--supplier-date %s is before --caught %s: read the label "
		    "again",
		    r->in.supplier_date, r->in.caught);
	return RC_OK;
}

static enum rc
read_supplier(struct receiving *r, struct err *err)
{
	enum rc rc;

	if ((rc = want(r->in.supplier, "--supplier", err)) != RC_OK)
		return rc;
	return supplier_find(&r->b.supplier, r->sn->st, r->in.supplier, err);
}

static const struct receiving_step steps[] = {
	{ RECEIVE_DOCUMENT, read_document },
	{ RECEIVE_SPECIES, read_species },
	{ RECEIVE_PRESENTATION, read_presentation },
	{ RECEIVE_FISH_WEIGHTS, read_fish_weights },
	{ RECEIVE_WEIGHT, read_weight },
	{ RECEIVE_COUNT, read_count },
	{ RECEIVE_FISH_WEIGHTS, fill_each },
	{ RECEIVE_COUNT, check_mean },
	{ RECEIVE_PRICE, read_price },
	{ RECEIVE_LOT, read_lot },
	{ RECEIVE_TEMP, read_temp },
	{ RECEIVE_AREA, read_area },
	{ RECEIVE_METHOD, read_method },
	{ RECEIVE_VESSEL, read_vessel },
	{ RECEIVE_GEAR, read_gear },
	{ RECEIVE_PRESENTATION, check_sold_as },
	{ RECEIVE_DISPATCHED, read_dispatched },
	{ RECEIVE_CAUGHT, read_caught },
	{ RECEIVE_SUPPLIER_DATE, read_supplier_date },
	{ RECEIVE_CAUGHT, check_caught },
	{ RECEIVE_DISPATCHED, check_dispatched },
	{ RECEIVE_SUPPLIER_DATE, check_supplier_date },
	{ RECEIVE_SUPPLIER, read_supplier },
};

enum rc
receiving_read(struct receiving *r, struct station *sn,
    const struct receive_in *in, const struct moment *at, struct err *err)
{
	enum rc rc;

	memset(r, 0, sizeof(*r));
	r->sn = sn;
	r->in = *in;
	r->b.received = *at;
	r->today = local_from_utc(at->utc).day;
	r->at = RECEIVE_SCAN;
	if ((rc = prefill(&r->in, &r->filled, sn, err)) != RC_OK)
		return rc;
	return receiving_go(r, steps, sizeof(steps) / sizeof(steps[0]), err);
}
