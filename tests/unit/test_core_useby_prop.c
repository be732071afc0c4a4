/*
 * test_core_useby_prop.c - what must hold for every food: on many made by a
 * generator with a fixed seed.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "base/units.h"
#include "core/useby.h"
#include "kitchen.h"
#include "ops/station.h"
#include "useby_facts.h"

static struct species_table fish;
static struct ruleset sets[RULE_SETS];

#define STRICT (RULE_SETS - 1)

static void
setup(void)
{
	size_t i;

	kitchen_tables(&fish, NULL);
	ck_assert_int_eq(zone_set("Europe/London", NULL), RC_OK);
	for (i = 0; i < RULE_SETS; i++)
		rules_shipped(&sets[i], rule_set_names[i]);
}

static void
teardown(void)
{
	species_fini(&fish);
}

static enum rc
decide(struct useby *u, const struct useby_in *in, const struct ruleset *rs)
{
	struct err err = { 0 };
	enum rc rc = useby_decide(u, in, rs, &err);

	ck_assert_msg(rc == RC_OK || rc == RC_INVALID || rc == RC_REFUSED,
	    "%s: %s", rc_word(rc), err.text);
	ck_assert(rc == RC_OK || err.text[0] != '\0');
	return rc;
}

/* With more or stricter limits: no later, and no date out of a refusal. */
static void
check_not_looser(const struct useby_in *a, const struct ruleset *ra,
    const struct useby_in *b, const struct ruleset *rb, int round)
{
	struct useby u, v;
	enum rc ru = decide(&u, a, ra), rv = decide(&v, b, rb);

	if (rv != RC_OK)
		return;
	ck_assert_msg(ru == RC_OK, "%d: a date out of a refusal: %s", round,
	    v.limits[v.bound].name);
	ck_assert_msg(useby_utc(&v) <= useby_utc(&u), "%d: later: %s, was %s",
	    round, v.limits[v.bound].name, u.limits[u.bound].name);
}

/* The last instant at which somebody handled the food. */
static int64_t
handled(const struct useby_in *in)
{
	int64_t t = in->prepared.set ? in->prepared.utc : 0;

	return in->thawed.set && in->thawed.utc > t ? in->thawed.utc : t;
}

START_TEST(never_later_than_a_limit)
{
	struct dice d = { 501 };
	struct useby_in in;
	struct useby u;
	size_t k;
	int i, dated = 0;

	for (i = 0; i < 60000; i++) {
		facts_any(&in, &d, &fish);
		if (decide(&u, &in, &sets[roll(&d, RULE_SETS)]) != RC_OK)
			continue;
		dated++;
		ck_assert_uint_ge(u.count, in.extra_count);
		for (k = 0; k < u.count; k++) {
			ck_assert_int_le(useby_utc(&u), u.limits[k].utc);
			ck_assert(u.limits[k].name[0] != '\0');
			ck_assert(u.limits[k].source[0] != '\0');
		}
		for (k = 0; k < in.extra_count; k++)
			ck_assert_int_le(
			    useby_utc(&u), in.day_end(in.extras[k].day));
		for (k = 0; k < in.ingredient_count; k++)
			ck_assert_int_le(
			    useby_utc(&u), in.day_end(in.ingredients[k]));
		if (!in.frozen.set && in.supplier_date != DAY_NONE)
			ck_assert_int_le(
			    useby_utc(&u), in.day_end(in.supplier_date));
	}
	/* The generator must not refuse itself out of work. */
	ck_assert_int_gt(dated, 15000);
}
END_TEST

/* A date that had passed when the food was last handled is no date. */
START_TEST(not_expired_when_made)
{
	struct dice d = { 33 };
	struct useby_in in;
	struct useby u;
	int i;

	for (i = 0; i < 60000; i++) {
		facts_any(&in, &d, &fish);
		if (decide(&u, &in, &sets[roll(&d, RULE_SETS)]) == RC_OK)
			ck_assert_msg(useby_utc(&u) >= handled(&in),
			    "%d: state %s, %s", i, food_state_word(in.state),
			    u.limits[u.bound].name);
	}
}
END_TEST

START_TEST(strict_is_never_later)
{
	struct dice d = { 77 };
	struct useby_in in;
	int i, k;

	for (i = 0; i < 30000; i++) {
		facts_any(&in, &d, &fish);
		for (k = 0; k < STRICT; k++)
			check_not_looser(&in, &sets[k], &in, &sets[STRICT], i);
	}
}
END_TEST

START_TEST(ingredients_and_extras_never_lengthen)
{
	struct dice d = { 4242 };
	const struct ruleset *rs;
	struct useby_in in, more;
	int i;

	for (i = 0; i < 60000; i++) {
		facts_any(&in, &d, &fish);
		rs = &sets[roll(&d, RULE_SETS)];
		more = in;
		if (roll(&d, 2) == 0) {
			more.ingredients[more.ingredient_count++] =
			    in.received.day + roll(&d, 40) - 3;
		} else {
			more.extras[more.extra_count] = in.extras[0];
			more.extras[more.extra_count++].day =
			    in.received.day + roll(&d, 40) - 3;
		}
		check_not_looser(&in, rs, &more, rs, i);
	}
}
END_TEST

/* Counting the disputed day never lengthens. */
START_TEST(freezing_day_never_lengthens)
{
	struct dice d = { 9 };
	const struct ruleset *rs;
	struct useby_in in, counted;
	int i;

	for (i = 0; i < 40000; i++) {
		facts_any(&in, &d, &fish);
		rs = &sets[roll(&d, RULE_SETS)];
		in.freezing_day_counts = false;
		counted = in;
		counted.freezing_day_counts = true;
		check_not_looser(&in, rs, &counted, rs, i);
	}
}
END_TEST

static void
swap(struct when *a, struct when *b)
{
	struct when w = *a;

	*a = *b;
	*b = w;
}

START_TEST(impossible_order_never_dated)
{
	struct dice d = { 1001 };
	struct useby_in in;
	struct useby u;
	struct when *first, *second;
	int i, tried = 0;

	for (i = 0; i < 60000; i++) {
		facts_any(&in, &d, &fish);
		switch (roll(&d, 4)) {
		case 0:
			first = &in.frozen;
			second = &in.thawed;
			break;
		case 1:
			first = &in.caught;
			second = &in.received;
			break;
		case 2:
			first = &in.caught;
			second = &in.prepared;
			break;
		default:
			first = &in.caught;
			second = &in.frozen;
			break;
		}
		if (!first->set || !second->set || first->utc >= second->utc)
			continue;
		swap(first, second);
		tried++;
		ck_assert_int_eq(
		    decide(&u, &in, &sets[roll(&d, RULE_SETS)]), RC_INVALID);
	}
	ck_assert_int_gt(tried, 10000);
}
END_TEST

/* --- tightening ------------------------------------------------------------*/

/* Which way each figure is stricter, said here once more. */
static bool
less_is_stricter(enum figure_id id)
{
	return id != FIG_PARASITE_HOURS && id != FIG_PARASITE_DEEP_HOURS &&
	    id != FIG_TAG_DAYS && id != FIG_KEEP_CHAIN &&
	    id != FIG_KEEP_FROZEN && id != FIG_KEEP_FARM &&
	    id != FIG_VACUUM_FROZEN && id != FIG_THAW_DAY;
}

static bool
is_words(enum figure_id id)
{
	return id == FIG_EXEMPT_SPECIES || id == FIG_EXEMPT_FORMS;
}

static bool
is_yes_no(enum figure_id id)
{
	return id == FIG_VACUUM_FROZEN || id == FIG_THAW_DAY ||
	    id == FIG_EXEMPT_FARMED;
}

static bool
is_temp(enum figure_id id)
{
	return id == FIG_CHILL_MAX || id == FIG_ICE_MAX ||
	    id == FIG_PARASITE_C || id == FIG_PARASITE_DEEP_C ||
	    id == FIG_HISTAMINE_C || id == FIG_RECEIVE_MAX ||
	    id == FIG_RECEIVE_LIVE_MAX;
}

/* A value the house may set on top of `f`; false when there is none. */
static bool
tighter_value(char *dst, size_t size, enum figure_id id, const struct figure *f,
    struct dice *d)
{
	int by = roll(d, 4);
	int v = less_is_stricter(id) ? f->value - by : f->value + by;

	if (is_words(id))
		return str_fmt(dst, size, "%.*s",
			   (int)strcspn(f->words, roll(d, 2) ? " " : ""),
			   f->words) &&
		    f->set;
	if (is_yes_no(id))
		return str_fmt(
		    dst, size, "%s", id == FIG_EXEMPT_FARMED ? "no" : "yes");
	if (!f->set)
		v = is_temp(id) ? roll(d, 100) - 20 : 1 + roll(d, 40);
	if (is_temp(id)) {
		temp_print(dst, size, v);
		return v >= -600 && v <= 600;
	}
	return str_fmt(dst, size, "%d", v) && v >= 1 &&
	    (v <= 400 || id == FIG_KEEP_CHAIN);
}

static void
tighten(struct ruleset *rs, struct dice *d)
{
	struct ini_item items[4];
	struct ini_doc doc = { "house.ini", items, 0 };
	struct err err = { 0 };
	enum figure_id id;
	int i, n = 1 + roll(d, 4);

	memset(items, 0, sizeof(items));
	for (i = 0; i < n; i++) {
		struct ini_item *it = &items[doc.count];

		id = (enum figure_id)roll(d, FIGURE_COUNT);
		/* A permission the set lacks is not the house's to give. */
		if (!rs->figures[id].set &&
		    (is_words(id) || id == FIG_EXEMPT_FARMED ||
			id == FIG_PARASITE_DEEP_C ||
			id == FIG_PARASITE_DEEP_HOURS))
			continue;
		str_copy(it->section, sizeof(it->section), figure_name(id));
		str_copy(it->key, sizeof(it->key), "value");
		if (tighter_value(
			it->value, sizeof(it->value), id, &rs->figures[id], d))
			doc.count++;
	}
	ck_assert_msg(ruleset_tighten(rs, &doc, &err) == RC_OK, "%s", err.text);
}

START_TEST(tighter_is_never_later)
{
	struct dice d = { 1717 };
	struct ruleset house;
	struct useby_in in;
	const struct ruleset *rs;
	int i;

	for (i = 0; i < 60000; i++) {
		facts_any(&in, &d, &fish);
		rs = &sets[roll(&d, RULE_SETS)];
		house = *rs;
		tighten(&house, &d);
		check_not_looser(&in, rs, &in, &house, i);
	}
}
END_TEST

/* Any two sets, with figures missing: the strictest of them dates no food
 * later than either does. */
START_TEST(strictest_of_any_two)
{
	struct dice d = { 2024 };
	struct ruleset a, b, both;
	struct useby_in in;
	enum figure_id id;
	int i, k;

	for (i = 0; i < 60000; i++) {
		a = sets[roll(&d, STRICT)];
		b = sets[roll(&d, STRICT)];
		tighten(&a, &d);
		tighten(&b, &d);
		for (k = 0; k < 3; k++) {
			id = (enum figure_id)roll(&d, FIGURE_COUNT);
			/* Without these a set refuses what others date. */
			if (id != FIG_PARASITE_C && id != FIG_PARASITE_HOURS)
				a.figures[id].set = false;
		}
		facts_any(&in, &d, &fish);
		both = a;
		ruleset_strictest(&both, &b);
		check_not_looser(&in, &a, &in, &both, i);
		check_not_looser(&in, &b, &in, &both, i);
	}
}
END_TEST

/* --- zones -----------------------------------------------------------------*/

static const char *const zones[] = {
	"Europe/London",
	"America/New_York",
	"Australia/Lord_Howe", /* changes by half an hour */
	"Pacific/Apia",
	"Asia/Kathmandu",
};

/* A clock change moves neither the day nor its last second. */
START_TEST(zone_does_not_matter)
{
	struct facts f = { .state = STATE_COOKED };
	struct useby_in in;
	struct local_time end;
	struct useby u;
	char text[16];
	day_no d, first;

	ck_assert_int_eq(zone_set(zones[_i], NULL), RC_OK);
	ck_assert(day_from_civil(&first, 2026, 1, 1));
	for (d = first; d < first + 800; d++) {
		f.prepared = day_print(text, sizeof(text), d);
		facts_read(&in, &f, &fish);
		ck_assert_int_eq(decide(&u, &in, &sets[2]), RC_OK);
		end = local_from_utc(useby_utc(&u));
		ck_assert_int_eq(end.day, d + 6);
		ck_assert_int_eq(end.hour, 23);
		ck_assert_int_eq(end.minute, 59);
		ck_assert_int_eq(end.second, 59);
	}
}
END_TEST

Suite *
suite_core_useby_prop(void)
{
	Suite *s = suite_create("core_useby_prop");
	TCase *tc = tcase_create("properties");

	tcase_set_timeout(tc, 20);
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, never_later_than_a_limit);
	tcase_add_test(tc, not_expired_when_made);
	tcase_add_test(tc, strict_is_never_later);
	tcase_add_test(tc, ingredients_and_extras_never_lengthen);
	tcase_add_test(tc, freezing_day_never_lengthens);
	tcase_add_test(tc, impossible_order_never_dated);
	tcase_add_test(tc, tighter_is_never_later);
	tcase_add_test(tc, strictest_of_any_two);
	tcase_add_loop_test(tc, zone_does_not_matter, 0, (int)NELEM(zones));
	suite_add_tcase(s, tc);
	return s;
}
