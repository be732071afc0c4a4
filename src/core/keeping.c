/* keeping.c - how long records must be kept. */
#include "core/keeping.h"

#include <string.h>

#include "base/str.h"

static const struct {
	const char *word;
	int law; /* figure, or -1 */
	const char *key;
} kinds[KEEPING_COUNT] = {
	[KEEPING_CHAIN] = { "deliveries, breakdowns, portions", FIG_KEEP_CHAIN,
	    "records_days" },
	[KEEPING_SHELLFISH] = { "shellfish tags", FIG_TAG_DAYS,
	    "records_days" },
	[KEEPING_FROZEN] = { "freezing against parasites", FIG_KEEP_FROZEN,
	    "records_days" },
	[KEEPING_FARM] = { "bought directly from a farm", FIG_KEEP_FARM,
	    "records_days" },
	[KEEPING_LABELS] = { "labels and lists printed", -1, "records_days" },
	[KEEPING_CASES] = { "recalls, complaints, drills", -1, "cases_days" },
	[KEEPING_SALES] = { "services and sales", -1, "sales_days" },
	[KEEPING_CLOCKS] = { "dates confirmed", -1, "clock_days" },
};

const char *
keep_kind_word(enum keep_kind kind)
{
	return kinds[kind].word;
}

static int
house_of(const struct keep_house *h, enum keep_kind kind)
{
	switch (kind) {
	case KEEPING_CASES:
		return h->cases_days;
	case KEEPING_SALES:
		return h->sales_days;
	case KEEPING_CLOCKS:
		return h->clock_days;
	case KEEPING_CHAIN:
	case KEEPING_SHELLFISH:
	case KEEPING_FROZEN:
	case KEEPING_FARM:
	case KEEPING_LABELS:
	case KEEPING_COUNT:
		break;
	}
	return h->records_days;
}

/* The longest duty of the law, and its words. */
static void
find_longest(struct keep_rule *r, const struct ruleset *set)
{
	char source[210];
	const struct figure *f, *longest = NULL;
	int i;

	for (i = 0; i < KEEPING_COUNT; i++) {
		if (kinds[i].law < 0)
			continue;
		f = &set->figures[kinds[i].law];
		if (!f->set)
			continue;
		r->duty[i].law = f;
		if (longest == NULL || f->value > longest->value)
			longest = f;
	}
	if (longest == NULL)
		return;
	r->longest = longest->value;
	str_fmt(r->binds, sizeof(r->binds), "%s: %s%s", longest->set_name,
	    figure_source(source, sizeof(source), longest),
	    longest->verified ? "" : " (unverified)");
}

enum rc
keep_rule_make(struct keep_rule *out, const struct ruleset *set,
    const struct keep_house *house, struct err *err)
{
	struct keep_duty *d;
	int i;

	memset(out, 0, sizeof(*out));
	find_longest(out, set);
	for (i = 0; i < KEEPING_COUNT; i++) {
		d = &out->duty[i];
		d->house_days = house_of(house, (enum keep_kind)i);
		if (d->house_days > 0 && d->house_days < out->longest)
			return err_set(err, RC_REFUSED, 0,
			    "[keeping] %s = %d would be shorter than %d days "
			    "(%s): lengthen it, or 0 for the rule set's",
			    kinds[i].key, d->house_days, out->longest,
			    out->binds);
	}
	/* A chain kept longer keeps what it is linked with. */
	if (house->records_days > out->longest) {
		out->longest = house->records_days;
		str_copy(out->binds, sizeof(out->binds),
		    "the house: [keeping] records_days");
	}
	for (i = 0; i < KEEPING_COUNT; i++) {
		d = &out->duty[i];
		d->days =
		    d->house_days > out->longest ? d->house_days : out->longest;
	}
	return RC_OK;
}
