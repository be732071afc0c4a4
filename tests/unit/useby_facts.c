/* useby_facts.c - facts about a food for the suites about dates. */
#include "useby_facts.h"

#include <check.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "base/units.h"
#include "config/ini.h"
#include "ops/station.h"

const char *const rule_set_names[RULE_SETS] = {
	"england",
	"eu",
	"us-food-code",
	"strict",
};

static struct when
when(const char *s)
{
	struct when w = { 0 };

	if (s == NULL)
		return w;
	ck_assert_int_eq(time_parse(&w.utc, "it", s, NULL), RC_OK);
	w.set = true;
	w.day = local_from_utc(w.utc).day;
	return w;
}

static day_no
day(const char *s)
{
	day_no d = DAY_NONE;

	if (s != NULL)
		ck_assert_int_eq(day_parse(&d, "it", s, NULL), RC_OK);
	return d;
}

static void
degrees(bool *set, int *dc, const char *s)
{
	*set = s != NULL;
	if (s != NULL)
		ck_assert_int_eq(temp_parse(dc, "it", s, NULL), RC_OK);
}

void
facts_read(
    struct useby_in *in, const struct facts *f, const struct species_table *t)
{
	static const struct useby_extra house = { "house life", "the test",
		true, 0 };

	memset(in, 0, sizeof(*in));
	in->state = f->state;
	if (f->species != NULL) {
		in->species = species_find(t, f->species);
		ck_assert_msg(in->species != NULL, "no %s", f->species);
	}
	in->prepared = when(f->prepared);
	in->received = when(f->received);
	in->caught = when(f->caught);
	in->frozen = when(f->frozen);
	in->thawed = when(f->thawed);
	in->supplier_date = day(f->supplier);
	while (in->ingredient_count < 3 &&
	    f->ingredients[in->ingredient_count] != NULL) {
		in->ingredients[in->ingredient_count] =
		    day(f->ingredients[in->ingredient_count]);
		in->ingredient_count++;
	}
	degrees(&in->storage_set, &in->storage_dc, f->storage);
	degrees(&in->freeze_set, &in->freeze_dc, f->freeze);
	in->farmed = f->farmed;
	in->freezing_day_counts = !f->freezing_day_free;
	in->day_end = use_by_instant;
	if (f->house != NULL) {
		in->extras[0] = house;
		in->extras[0].day = day(f->house);
		in->extra_count = 1;
	}
}

static void
load_file(struct ruleset *out, const char *name)
{
	struct err err = { 0 };
	struct ini_doc doc;
	char path[80];

	ck_assert(str_fmt(path, sizeof(path), "config/rules/%s.ini", name));
	ck_assert_msg(ini_load(&doc, path, &err) == RC_OK, "%s", err.text);
	ck_assert_msg(ruleset_parse(out, &doc, &err) == RC_OK, "%s", err.text);
	ini_fini(&doc);
}

void
rules_shipped(struct ruleset *out, const char *name)
{
	char names[sizeof(out->strictest_of)];
	struct ruleset part;
	char *rest = names, *word;
	bool first = true;

	load_file(out, name);
	str_copy(names, sizeof(names), out->strictest_of);
	while ((word = strtok_r(rest, " ", &rest)) != NULL) {
		load_file(&part, word);
		if (first)
			memcpy(
			    out->figures, part.figures, sizeof(out->figures));
		else
			ruleset_strictest(out, &part);
		first = false;
	}
}

int
roll(struct dice *d, int n)
{
	/* Multiplier and increment of Knuth's MMIX. */
	d->seed = d->seed * UINT64_C(6364136223846793005) +
	    UINT64_C(1442695040888963407);
	return (int)((d->seed >> 33) % (uint64_t)n);
}

static struct when
at(int64_t utc)
{
	struct when w = { true, utc, local_from_utc(utc).day };

	return w;
}

/* Two times in three. */
static bool
known(struct dice *d)
{
	return roll(d, 3) != 0;
}

void
facts_any(struct useby_in *in, struct dice *d, const struct species_table *t)
{
	static const struct useby_extra far = { "far away", "the test", true,
		DAY_MIN + 40000 };
	int64_t utc =
	    (int64_t)(DAY_MIN + 100 + roll(d, 30000)) * 86400 + roll(d, 86400);
	day_no base;
	bool before = roll(d, 2) == 0;

	memset(in, 0, sizeof(*in));
	in->state = (enum food_state)roll(d, STATE_COUNT);
	if (roll(d, 4) != 0)
		in->species = &t->items[roll(d, (int)t->count)];
	if (known(d))
		in->caught = at(utc);
	in->received = at(utc += roll(d, 3 * 86400));
	base = in->received.day;
	if (before && known(d))
		in->prepared = at(utc += roll(d, 2 * 86400));
	if (in->state == STATE_THAWED || known(d)) {
		in->frozen = at(utc += roll(d, 3 * 86400));
		if (in->state == STATE_THAWED || known(d))
			in->thawed = at(utc += roll(d, 20 * 86400));
		in->freeze_set = known(d);
		in->freeze_dc = -roll(d, 500);
	}
	if (!before && (in->thawed.set || !in->frozen.set) && known(d))
		in->prepared = at(utc += roll(d, 2 * 86400));
	in->supplier_date = known(d) ? base + roll(d, 40) : DAY_NONE;
	if (roll(d, 4) == 0)
		in->ingredients[in->ingredient_count++] = base + roll(d, 40);
	in->storage_set = known(d);
	in->storage_dc = roll(d, 90) - 10;
	in->farmed = roll(d, 3) == 0;
	in->freezing_day_counts = roll(d, 2) == 0;
	in->extras[in->extra_count++] = far;
	in->day_end = use_by_instant;
}
