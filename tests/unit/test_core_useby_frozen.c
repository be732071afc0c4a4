/*
 * test_core_useby_frozen.c - what may be frozen, when it counts as frozen, and
 * what is left of its life, against the published examples.
 */
#include "unit.h"

#include <string.h>

#include "base/clock.h"
#include "base/day.h"
#include "base/str.h"
#include "kitchen.h"
#include "useby_facts.h"

static struct species_table species;

static void
setup(void)
{
	ck_assert_int_eq(zone_set("Europe/London", NULL), RC_OK);
	kitchen_tables(&species, NULL);
}

static void
teardown(void)
{
	species_fini(&species);
}

/* clang-format off */
/* Days left of a life that ends on `last`, and the last day after thawing when
 * the day of thawing is the first of them. */
static const struct {
	const char *why, *last, *frozen;
	bool counts;
	int left;
	const char *thawed, *then;
} lives[] = {
	{ "North Carolina chart: 7 days from 1 Oct, frozen 3 Oct, that day not "
	    "counted, thawed 10 Oct", "2026-10-07", "2026-10-03", false, 5,
	    "2026-10-10", "2026-10-14" },
	{ "the same, the freezing day counted: 10 + (7 - 3) - 1", "2026-10-07",
	    "2026-10-03", true, 4, "2026-10-10", "2026-10-13" },
	{ "Tennessee comment: 6 to 9 September inclusive are 4 used, 3 left",
	    "2026-09-12", "2026-09-09", true, 3, "2026-09-20", "2026-09-22" },
	{ "Minnesota 2014: 7 less the time before freezing; 2 days held",
	    "2026-10-07", "2026-10-02", true, 5, "2026-11-02", "2026-11-06" },
	{ "last day, counted: nothing left", "2026-10-07", "2026-10-07", true,
	    0, NULL, NULL },
	{ "FSA: may be frozen up to midnight on its use-by date; the day not "
	    "counted leaves the day it is thawed", "2026-10-07", "2026-10-07",
	    false, 1, "2026-10-10", "2026-10-10" },
	{ "a day late", "2026-10-07", "2026-10-08", false, 0, NULL, NULL },
	{ "over the end of a leap February", "2028-03-01", "2028-02-28", true,
	    2, "2028-05-01", "2028-05-02" },
};
/* clang-format on */

static day_no
day(const char *s)
{
	day_no d;

	ck_assert_int_eq(day_parse(&d, "it", s, NULL), RC_OK);
	return d;
}

START_TEST(life_rows)
{
	int left = useby_days_left(
	    day(lives[_i].last), day(lives[_i].frozen), lives[_i].counts);

	ck_assert_msg(
	    left == lives[_i].left, "%s: %d left", lives[_i].why, left);
	if (lives[_i].thawed != NULL)
		ck_assert_msg(
		    day(lives[_i].thawed) + left - 1 == day(lives[_i].then),
		    "%s", lives[_i].why);
}
END_TEST

#define AT "2026-11-25T10:00"

/* clang-format off */
static const struct {
	const char *why, *set;
	struct facts f;
	enum rc rc;
	const char *says;
} rows[] = {
	/* 853/2004 Annex III VIII ch. VII point 2: -18 C in all parts. */
	{ "as cold as the law wants", "eu",
	    { .state = STATE_RAW, .frozen = AT, .freeze = "-18.0" }, RC_OK,
	    "" },
	{ "a tenth too warm", "eu",
	    { .state = STATE_RAW, .frozen = AT, .freeze = "-17.9" }, RC_REFUSED,
	    "-18.0 C or colder is wanted (Reg. (EC) 853/2004" },
	{ "in England too", "england",
	    { .state = STATE_RAW, .frozen = AT, .freeze = "-17.9" }, RC_REFUSED,
	    "retained" },
	{ "and in the strict set", "strict",
	    { .state = STATE_COOKED, .frozen = AT, .freeze = "-17.9" },
	    RC_REFUSED, "not frozen yet" },
	{ "the Food Code names no figure", "us-food-code",
	    { .state = STATE_RAW, .frozen = AT, .freeze = "-1.0" }, RC_OK, "" },
	{ "live", "eu",
	    { .state = STATE_LIVE, .species = "MUS", .frozen = AT,
		.freeze = "-25" }, RC_REFUSED, "live shellfish" },
	{ "frozen before, by its state", "eu",
	    { .state = STATE_THAWED, .frozen = AT, .freeze = "-25" },
	    RC_REFUSED, "not frozen again" },
	{ "frozen before, by the facts", "eu",
	    { .state = STATE_COOKED, .frozen = "2026-11-01T10:00", .thawed = AT,
		.freeze = "-25" }, RC_REFUSED, "not frozen again" },
	/* Food Code 3-502.12(C): frozen before, during and after packing. */
	{ "a pack that was not frozen before", "us-food-code",
	    { .state = STATE_VACUUM, .frozen = AT, .freeze = "-25" },
	    RC_REFUSED, "3-502.12(C)" },
	{ "a pack where no set speaks of it", "england",
	    { .state = STATE_VACUUM, .frozen = AT, .freeze = "-25" }, RC_OK,
	    "" },
	{ "when is not known", "eu",
	    { .state = STATE_RAW, .freeze = "-25" }, RC_INVALID, "how cold" },
	{ "how cold is not known", "eu",
	    { .state = STATE_RAW, .frozen = AT }, RC_INVALID, "how cold" },
};
/* clang-format on */

START_TEST(freeze_rows)
{
	struct facts f = rows[_i].f;
	struct useby_in in;
	struct ruleset rs;
	struct useby u;
	struct err err = { 0 };
	enum rc rc;

	f.prepared = "2026-11-25T09:00";
	f.house = "2027-01-23";
	/* The clock in chill stands still: neither of these binds. */
	f.supplier = "2026-11-26";
	f.ingredients[0] = "2026-11-26";
	facts_read(&in, &f, &species);
	rules_shipped(&rs, rows[_i].set);
	rc = useby_frozen(&u, &in, &rs, &err);
	ck_assert_msg(rc == rows[_i].rc && strstr(err.text, rows[_i].says),
	    "%s: %d %s", rows[_i].why, (int)rc, err.text);
	if (rc != RC_OK)
		return;
	ck_assert_uint_eq(u.count, 1);
	ck_assert_int_eq(local_from_utc(useby_utc(&u)).day, day(f.house));
}
END_TEST

/* Without a frozen life nothing would end it: no date. */
START_TEST(no_end)
{
	struct facts f = { .state = STATE_RAW,
		.prepared = AT,
		.frozen = AT,
		.freeze = "-20" };
	struct useby_in in;
	struct ruleset rs;
	struct useby u;

	facts_read(&in, &f, &species);
	rules_shipped(&rs, "strict");
	ck_assert_int_eq(useby_frozen(&u, &in, &rs, NULL), RC_REFUSED);
}
END_TEST

Suite *
suite_core_useby_frozen(void)
{
	Suite *s = suite_create("core_useby_frozen");
	TCase *tc = tcase_create("frozen");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, life_rows, 0, (int)NELEM(lives));
	tcase_add_loop_test(tc, freeze_rows, 0, (int)NELEM(rows));
	tcase_add_test(tc, no_end);
	suite_add_tcase(s, tc);
	return s;
}
