/*
 * test_core_useby.c - one food after another against the published examples
 * and the figures of the rule sets.  Sources by name; a row without one is our
 * own arithmetic on the rule named.  Food served raw is in
 * test_core_useby_raw.c, the properties in test_core_useby_prop.c.
 */
#include "unit.h"

#include <stdio.h>
#include <string.h>

#include "base/clock.h"
#include "base/str.h"
#include "core/useby.h"
#include "kitchen.h"
#include "ops/station.h"
#include "useby_facts.h"

static struct species_table fish;

static void
setup(void)
{
	kitchen_tables(&fish, NULL);
	ck_assert_int_eq(zone_set("Europe/London", NULL), RC_OK);
}

static void
teardown(void)
{
	species_fini(&fish);
}

/* One food under one rule set. */
struct row {
	const char *why;
	const char *source;
	const char *rules;
	const char *zone; /* NULL: Europe/London */
	struct facts f;
	enum rc rc;
	const char *want; /* local time of the limit that decides */
	const char *says; /* part of its name, or of the refusal */
};

static void
check_row(const struct row *r)
{
	struct err err = { 0 };
	struct ruleset rs;
	struct useby_in in;
	struct useby u;
	char text[48];
	enum rc rc;

	if (r->zone != NULL)
		ck_assert_int_eq(zone_set(r->zone, NULL), RC_OK);
	rules_shipped(&rs, r->rules);
	facts_read(&in, &r->f, &fish);
	rc = useby_decide(&u, &in, &rs, &err);
	ck_assert_msg(rc == r->rc, "%s: %s, not %s: %s (%s)", r->why,
	    rc_word(rc), rc_word(r->rc),
	    rc == RC_OK ? time_minute(text, sizeof(text), useby_utc(&u))
			: err.text,
	    r->source);
	if (rc != RC_OK) {
		ck_assert_msg(strstr(err.text, r->says) != NULL, "%s: %s",
		    r->why, err.text);
		return;
	}
	time_minute(text, sizeof(text), useby_utc(&u));
	ck_assert_msg(str_eq(text, r->want), "%s: %s, not %s (%s)", r->why,
	    text, r->want, r->source);
	ck_assert_msg(strstr(u.limits[u.bound].name, r->says) != NULL,
	    "%s: bound by %s", r->why, u.limits[u.bound].name);
}

/* Facts of a row; the names of the fields are those of struct facts. */
#define F(...)                                                                 \
	{                                                                      \
		__VA_ARGS__                                                    \
	}
#define SN1 "Southern Nevada Health District, TCS food date questions"
#define NC "North Carolina date marking chart, worked freezing example"
#define TN "Tennessee inspection report, worked freezing comment"
#define MN14 "Minnesota Rules 4626.0400, version of 2014"
#define MN24 "Minnesota Rules 4626.0400, 2024"
#define MNP "Minnesota Dairy & Food Inspection poster"
#define WA1 "WAC 246-215-03425 (FDA Food Code 3-402.11)"
#define VP17 "FSA vacuum packing guidance 2017: 10 days, counting not stated"
#define ROP "FDA Food Code 3-502.12, Wisconsin adoption"
#define UK8 "SI 2013/2996 schedule 4 paragraph 2"
#define DAYS7 "FDA Food Code 3-501.17(A); calendar arithmetic"
#define US "us-food-code"

/* clang-format off */
static const struct row examples[] = {
	{ "7 days, the day of preparation is day 1", SN1, US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2026-04-01"),
	    RC_OK, "2026-04-07 23:59", "legal maximum, cooked" },
	{ "the same, opened and served raw with no fish in it", SN1, US, NULL,
	    F(.state = STATE_SERVED_RAW, .species = "OYG",
		.prepared = "2026-04-01T15:00"),
	    RC_OK, "2026-04-07 23:59", "legal maximum, served raw" },
	{ "the earliest ingredient: made 1 June, used 3 June", SN1, US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2026-06-03",
		.ingredients = { "2026-06-20", "2026-06-07", "2026-06-08" }),
	    RC_OK, "2026-06-07 23:59", "earliest ingredient" },
	{ "never past the maker's date", MN24, US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2026-04-01",
		.supplier = "2026-04-05"),
	    RC_OK, "2026-04-05 23:59", "supplier's date" },
	{ "a later maker's date lengthens nothing", MN24, US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2026-04-01",
		.supplier = "2026-05-30"),
	    RC_OK, "2026-04-07 23:59", "legal maximum, cooked" },
	{ "1 and 2 October used, the freezing day not counted", NC, US, NULL,
	    F(.state = STATE_THAWED, .prepared = "2026-10-01",
		.frozen = "2026-10-03", .thawed = "2026-10-10",
		.freezing_day_free = true),
	    RC_OK, "2026-10-14 23:59", "days left when frozen" },
	{ "the same, the freezing day counted", "arithmetic on " TN, US, NULL,
	    F(.state = STATE_THAWED, .prepared = "2026-10-01",
		.frozen = "2026-10-03", .thawed = "2026-10-10"),
	    RC_OK, "2026-10-13 23:59", "days left when frozen" },
	{ "6 to 9 September inclusive: 4 used, 3 left", TN, US, NULL,
	    F(.state = STATE_THAWED, .prepared = "2026-09-06",
		.frozen = "2026-09-09", .thawed = "2026-09-21"),
	    RC_OK, "2026-09-23 23:59", "days left when frozen" },
	{ "frozen the day it was made, counted: 6 left", TN, US, NULL,
	    F(.state = STATE_THAWED, .prepared = "2026-09-06T09:00",
		.frozen = "2026-09-06T10:00", .thawed = "2026-09-21"),
	    RC_OK, "2026-09-26 23:59", "days left when frozen" },
	{ "all days used before freezing", TN, US, NULL,
	    F(.state = STATE_THAWED, .prepared = "2026-10-01",
		.frozen = "2026-10-07", .thawed = "2026-10-10"),
	    RC_REFUSED, NULL, "all 7 days were used" },
	{ "held 2 days: 7 - 2 = 5 days, day of removal taken as day 1",
	    MN14 "; stricter count", US, NULL,
	    F(.state = STATE_THAWED, .prepared = "2026-05-01",
		.frozen = "2026-05-03", .thawed = "2026-05-20",
		.freezing_day_free = true),
	    RC_OK, "2026-05-24 23:59", "days left when frozen" },
	{ "frozen without a mark: 24 hours", MNP, US, NULL,
	    F(.state = STATE_THAWED, .frozen = "2026-10-01",
		.thawed = "2026-10-10T08:30"),
	    RC_OK, "2026-10-11 08:30", "frozen without a mark" },
	{ "the same under the strictest", MNP, "strict", NULL,
	    F(.state = STATE_THAWED, .frozen = "2026-10-01",
		.thawed = "2026-10-10T08:30", .house = "2026-10-14"),
	    RC_OK, "2026-10-11 08:30", "frozen without a mark" },
	{ "marked only after thawing is not marked", MNP, US, NULL,
	    F(.state = STATE_THAWED, .frozen = "2026-10-01",
		.thawed = "2026-10-10T08:30", .prepared = "2026-10-10T09:00",
		.house = "2026-10-25"),
	    RC_OK, "2026-10-11 08:30", "frozen without a mark" },
	{ "vacuum pack of 1 May, day of packing as day 1", VP17, "england",
	    NULL, F(.state = STATE_VACUUM, .prepared = "2026-05-01"),
	    RC_OK, "2026-05-10 23:59", "reduced-oxygen pack" },
	{ "fish not frozen is not vacuum-packed", ROP "(C)", US, NULL,
	    F(.state = STATE_VACUUM, .prepared = "2026-05-01"),
	    RC_REFUSED, NULL, "frozen before, during and after" },
	{ "nor under the strictest", ROP "(C)", "strict", NULL,
	    F(.state = STATE_VACUUM, .prepared = "2026-05-01"),
	    RC_REFUSED, NULL, "3-502.12(C)" },
	{ "packed frozen and kept frozen: 30 days", ROP "(B)", US, NULL,
	    F(.state = STATE_VACUUM, .frozen = "2026-04-01",
		.prepared = "2026-05-01"),
	    RC_OK, "2026-05-30 23:59", "reduced-oxygen pack" },
	{ "the same, the strictest takes England's 10", VP17, "strict", NULL,
	    F(.state = STATE_VACUUM, .frozen = "2026-04-01",
		.prepared = "2026-05-01"),
	    RC_OK, "2026-05-10 23:59", "reduced-oxygen pack" },
	{ "thawed in the pack", ROP "(C), 3-501.13(E)", US, NULL,
	    F(.state = STATE_VACUUM, .prepared = "2026-05-01",
		.frozen = "2026-05-02", .thawed = "2026-05-04"),
	    RC_REFUSED, NULL, "reduced-oxygen pack" },
	{ "an ingredient that had passed", "FDA Food Code 3-501.18(A)", US,
	    NULL, F(.state = STATE_COOKED, .prepared = "2026-06-08",
		.ingredients = { "2026-06-07" }),
	    RC_REFUSED, NULL, "2026-06-07, had passed" },
	{ "an ingredient on its last day", "FDA Food Code 3-501.18(A)", US,
	    NULL, F(.state = STATE_COOKED, .prepared = "2026-06-07T18:00",
		.ingredients = { "2026-06-07" }),
	    RC_OK, "2026-06-07 23:59", "earliest ingredient" },
	{ "no limit known: none is invented", "fail closed", "eu", NULL,
	    F(.state = STATE_RAW, .received = "2026-06-08"),
	    RC_REFUSED, NULL, "no limit is known" },
	{ "frozen after the maker's date", "FSA figures as reported: frozen "
	    "up to midnight on the use-by date", "england", NULL,
	    F(.state = STATE_THAWED, .supplier = "2026-06-08",
		.frozen = "2026-06-09T00:10", .thawed = "2026-06-12"),
	    RC_REFUSED, NULL, "frozen after the supplier's use-by" },
	{ "frozen on the maker's last day: the day it is thawed", "the same",
	    "england", NULL,
	    F(.state = STATE_THAWED, .supplier = "2026-06-08",
		.frozen = "2026-06-08T23:50", .thawed = "2026-06-12"),
	    RC_OK, "2026-06-12 23:59", "supplier's date" },
	{ "fish sold frozen is not dated past the date it was sold with",
	    MN24, "eu", NULL,
	    F(.state = STATE_THAWED, .supplier = "2027-01-10",
		.frozen = "2026-01-10", .thawed = "2026-11-25"),
	    RC_OK, "2027-01-10 23:59", "supplier's date" },
	{ "days left that were over before it was prepared",
	    "FDA Food Code 3-501.18(A)", "eu", NULL,
	    F(.state = STATE_SERVED_RAW, .species = "COD", .freeze = "-20",
		.supplier = "2026-11-03", .frozen = "2026-11-01",
		.thawed = "2026-11-05", .prepared = "2026-11-08T09:00"),
	    RC_REFUSED, NULL, "out of date before it was prepared" },
	{ "a house life that was over before it was prepared",
	    "FDA Food Code 3-501.18(A)", "eu", NULL,
	    F(.state = STATE_COOKED, .received = "2026-11-01",
		.prepared = "2026-11-08T09:00", .house = "2026-11-07"),
	    RC_REFUSED, NULL, "out of date before it was prepared" },
};

/* Days are days of the calendar, whatever the clocks do; hours are elapsed. */
static const struct row clocks[] = {
	{ "7 days over the night clocks go back", "dates.md rule, calendar",
	    US, NULL, F(.state = STATE_COOKED, .prepared = "2026-10-24"),
	    RC_OK, "2026-10-30 23:59", "cooked" },
	{ "the last day is the short one", DAYS7, US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2026-03-23T23:30"),
	    RC_OK, "2026-03-29 23:59", "cooked" },
	{ "the first day is the long one", DAYS7, US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2026-10-25T00:30"),
	    RC_OK, "2026-10-31 23:59", "cooked" },
	{ "New York, clocks go back on 1 November", DAYS7, US,
	    "America/New_York",
	    F(.state = STATE_COOKED, .prepared = "2026-10-30T22:00"),
	    RC_OK, "2026-11-05 23:59", "cooked" },
	{ "New York, clocks go forward on 8 March", DAYS7, US,
	    "America/New_York",
	    F(.state = STATE_COOKED, .prepared = "2026-03-05"),
	    RC_OK, "2026-03-11 23:59", "cooked" },
	{ "Apia had no 30 December 2011", DAYS7, US, "Pacific/Apia",
	    F(.state = STATE_COOKED, .prepared = "2011-12-27"),
	    RC_OK, "2012-01-02 23:59", "cooked" },
	{ "Apia, summer time ends", DAYS7, US, "Pacific/Apia",
	    F(.state = STATE_COOKED, .prepared = "2012-03-29"),
	    RC_OK, "2012-04-04 23:59", "cooked" },
	{ "over a leap day", DAYS7, US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2028-02-24"),
	    RC_OK, "2028-03-01 23:59", "cooked" },
	{ "no leap day that year", DAYS7, US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2027-02-24"),
	    RC_OK, "2027-03-02 23:59", "cooked" },
	{ "ends on a leap day", DAYS7, US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2028-02-23"),
	    RC_OK, "2028-02-29 23:59", "cooked" },
	{ "no leap day in 2100", DAYS7, US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2100-02-24"),
	    RC_OK, "2100-03-02 23:59", "cooked" },
	{ "over the year's end", DAYS7, US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2026-12-28"),
	    RC_OK, "2027-01-03 23:59", "cooked" },
	{ "freeze and thaw over the year's end", NC, US, NULL,
	    F(.state = STATE_THAWED, .prepared = "2026-12-28",
		.frozen = "2026-12-30", .thawed = "2027-02-27",
		.freezing_day_free = true),
	    RC_OK, "2027-03-03 23:59", "days left" },
	{ "24 elapsed hours of a day that has 25", MNP, US, NULL,
	    F(.state = STATE_THAWED, .frozen = "2026-10-01",
		.thawed = "2026-10-24T12:00"),
	    RC_OK, "2026-10-25 11:00", "frozen without a mark" },
	{ "24 elapsed hours of a day that has 23", MNP, US, NULL,
	    F(.state = STATE_THAWED, .frozen = "2026-03-01",
		.thawed = "2026-03-28T12:00"),
	    RC_OK, "2026-03-29 13:00", "frozen without a mark" },
	{ "168 elapsed hours, 167 on the clock", WA1, US, NULL,
	    F(.state = STATE_SERVED_RAW, .species = "COD", .freeze = "-20",
		.frozen = "2026-10-20T08:00", .thawed = "2026-10-27T07:00",
		.prepared = "2026-10-27T09:00"),
	    RC_OK, "2026-11-02 23:59", "served raw" },
	{ "167 elapsed hours, 168 on the clock", WA1, US, NULL,
	    F(.state = STATE_SERVED_RAW, .species = "COD", .freeze = "-20",
		.frozen = "2026-03-25T08:00", .thawed = "2026-04-01T08:00",
		.prepared = "2026-04-01T09:00"),
	    RC_REFUSED, NULL, "168 h on record" },
	{ "3 hours of histamine over the night clocks go back",
	    "FDA warning letter of 30 September 2016, as reported", US, NULL,
	    F(.state = STATE_RAW, .species = "MAC", .storage = "4.5",
		.prepared = "2026-10-25T00:30"),
	    RC_OK, "2026-10-25 02:30", "histamine" },
};

static const struct row warm[] = {
	{ "5.0 C is cold enough", "FDA Food Code 3-501.16(A)(2)", US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2026-04-01",
		.storage = "5.0"), RC_OK, "2026-04-07 23:59", "cooked" },
	{ "5.1 C is not", "FDA Food Code 3-501.16(A)(2)", US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2026-04-01",
		.storage = "5.1"), RC_REFUSED, NULL, "3-501.16(A)(2)" },
	{ "8.0 C is cold enough in England", UK8, "england", NULL,
	    F(.state = STATE_COOKED, .prepared = "2026-04-01",
		.storage = "8.0", .house = "2026-04-02"),
	    RC_OK, "2026-04-02 23:59", "house life" },
	{ "8.1 C is not", UK8, "england", NULL,
	    F(.state = STATE_COOKED, .prepared = "2026-04-01",
		.storage = "8.1", .house = "2026-04-02"),
	    RC_REFUSED, NULL, "schedule 4, paragraph 2" },
	{ "the strictest takes 5", "FDA Food Code 3-501.16(A)(2)", "strict",
	    NULL, F(.state = STATE_COOKED, .prepared = "2026-04-01",
		.storage = "5.1"), RC_REFUSED, NULL, "3-501.16(A)(2)" },
	{ "histamine, mackerel above 4.4 C: 3 hours",
	    "FDA warning letter of 30 September 2016, as reported", US, NULL,
	    F(.state = STATE_RAW, .species = "MAC", .storage = "4.5",
		.prepared = "2026-04-01T10:00", .house = "2026-04-02"),
	    RC_OK, "2026-04-01 13:00", "histamine" },
	{ "and since when is asked", "the same letter; the question is ours",
	    US, NULL,
	    F(.state = STATE_RAW, .species = "MAC", .storage = "4.5",
		.supplier = "2026-04-05"),
	    RC_INVALID, NULL, "since when" },
	{ "not at 4.4 C", "FDA hazards guide chapter 7, from memory", US, NULL,
	    F(.state = STATE_RAW, .species = "MAC", .storage = "4.4",
		.prepared = "2026-04-01T10:00", .house = "2026-04-02"),
	    RC_OK, "2026-04-02 23:59", "house life" },
	{ "not for cod", "Reg. (EC) 2073/2005 families", US, NULL,
	    F(.state = STATE_RAW, .species = "COD", .storage = "4.5",
		.prepared = "2026-04-01T10:00", .house = "2026-04-02"),
	    RC_OK, "2026-04-02 23:59", "house life" },
	{ "counted from thawing when it was frozen", "the same letter", US,
	    NULL, F(.state = STATE_THAWED, .species = "MAC",
		.storage = "4.5", .frozen = "2026-03-01",
		.thawed = "2026-04-01T10:00"),
	    RC_OK, "2026-04-01 13:00", "histamine" },
};

/* R-D9: an order that cannot be is no fact. */
static const struct row orders[] = {
	{ "thawed before frozen", "", US, NULL,
	    F(.state = STATE_THAWED, .prepared = "2026-10-01",
		.frozen = "2026-10-10", .thawed = "2026-10-03"),
	    RC_INVALID, NULL, "thawed before frozen" },
	{ "by a minute", "", US, NULL,
	    F(.state = STATE_THAWED, .prepared = "2026-10-01",
		.frozen = "2026-10-10T12:01", .thawed = "2026-10-10T12:00"),
	    RC_INVALID, NULL, "thawed before frozen" },
	{ "received before caught", "", US, NULL,
	    F(.state = STATE_RAW, .received = "2026-10-01",
		.caught = "2026-10-02", .house = "2026-10-03"),
	    RC_INVALID, NULL, "received before caught" },
	{ "prepared before caught", "", US, NULL,
	    F(.state = STATE_COOKED, .prepared = "2026-10-01",
		.caught = "2026-10-02"),
	    RC_INVALID, NULL, "prepared before caught" },
	{ "frozen before caught", "", US, NULL,
	    F(.state = STATE_THAWED, .frozen = "2026-10-01",
		.thawed = "2026-10-05", .caught = "2026-10-02"),
	    RC_INVALID, NULL, "frozen before caught" },
	{ "thawed, never frozen", "", US, NULL,
	    F(.state = STATE_THAWED, .thawed = "2026-10-05"),
	    RC_INVALID, NULL, "when frozen" },
	{ "thawed, but when?", "", US, NULL,
	    F(.state = STATE_THAWED, .prepared = "2026-10-01",
		.frozen = "2026-10-05"),
	    RC_INVALID, NULL, "thawed" },
	{ "prepared in the freezer", "", US, NULL,
	    F(.state = STATE_THAWED, .frozen = "2026-10-01",
		.prepared = "2026-10-05", .thawed = "2026-10-09",
		.house = "2026-10-30"),
	    RC_INVALID, NULL, "prepared" },
	{ "nothing to count from", "", US, NULL,
	    F(.state = STATE_COOKED, .caught = "2026-10-01"),
	    RC_INVALID, NULL, "nothing to count from" },
};
/* clang-format on */

START_TEST(example_rows)
{
	check_row(&examples[_i]);
}
END_TEST

START_TEST(clock_rows)
{
	check_row(&clocks[_i]);
}
END_TEST

START_TEST(warm_rows)
{
	check_row(&warm[_i]);
}
END_TEST

START_TEST(order_rows)
{
	check_row(&orders[_i]);
}
END_TEST

/*
 * "7 days after removal minus the days spent before freezing" (Minnesota
 * 4626.0400 of 2014) reads 5 days after the 20th as the 25th; the shipped sets
 * take the day of removal as day 1 and end on the 24th, never later.
 */
START_TEST(thawing_day_is_a_figure)
{
	struct facts f = {
		.state = STATE_THAWED,
		.prepared = "2026-05-01",
		.frozen = "2026-05-03",
		.thawed = "2026-05-20",
		.freezing_day_free = true,
	};
	struct ruleset rs;
	struct useby_in in;
	struct useby u;
	char text[48];

	rules_shipped(&rs, US);
	facts_read(&in, &f, &fish);
	ck_assert_int_eq(rs.figures[FIG_THAW_DAY].value, 1);
	rs.figures[FIG_THAW_DAY].value = 0;
	ck_assert_int_eq(useby_decide(&u, &in, &rs, NULL), RC_OK);
	ck_assert_str_eq(
	    time_minute(text, sizeof(text), useby_utc(&u)), "2026-05-25 23:59");
	/* A set that does not say: the stricter. */
	rs.figures[FIG_THAW_DAY].set = false;
	ck_assert_int_eq(useby_decide(&u, &in, &rs, NULL), RC_OK);
	ck_assert_str_eq(
	    time_minute(text, sizeof(text), useby_utc(&u)), "2026-05-24 23:59");
}
END_TEST

/* What is told besides the date, and what a limit says of its source. */
START_TEST(cautions)
{
	struct facts f = {
		.state = STATE_SERVED_RAW,
		.species = "OYG",
		.prepared = "2026-04-01",
		.storage = "2.5",
	};
	static const char *const says[] = {
		"melting ice",
		"parasites, bacteria and viruses",
		"exempt from parasite freezing",
		"raw bivalves",
		"shellfish tag 90 days",
	};
	struct ruleset rs;
	struct useby_in in;
	struct useby u;
	size_t i, k;

	rules_shipped(&rs, "strict");
	facts_read(&in, &f, &fish);
	ck_assert_int_eq(useby_decide(&u, &in, &rs, NULL), RC_OK);
	for (i = 0; i < NELEM(says); i++) {
		for (k = 0; k < u.caution_count; k++)
			if (strstr(u.cautions[k], says[i]) != NULL)
				break;
		ck_assert_msg(k < u.caution_count, "%s", says[i]);
	}
	ck_assert_str_eq(u.limits[0].source,
	    "US FDA Food Code, 3-501.17(A), (B): day of preparation is day 1");
	ck_assert(u.limits[0].verified);
}
END_TEST

/* A figure that was not read is not shown as if it had been. */
START_TEST(unverified_is_said)
{
	struct facts f = {
		.state = STATE_RAW,
		.species = "MAC",
		.prepared = "2026-04-01T10:00",
		.storage = "4.8",
	};
	struct ruleset rs;
	struct useby_in in;
	struct useby u;

	rules_shipped(&rs, US);
	facts_read(&in, &f, &fish);
	ck_assert_int_eq(useby_decide(&u, &in, &rs, NULL), RC_OK);
	ck_assert(strstr(u.limits[u.bound].name, "histamine") != NULL);
	ck_assert(!u.limits[u.bound].verified);
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	const char *word;
	enum rc rc;
	enum food_state state;
	const char *says;
} states[] = {
	{ "to be cooked", "raw", RC_OK, STATE_RAW, "" },
	{ "any case", "COOKED", RC_OK, STATE_COOKED, "" },
	{ "live", "Live", RC_OK, STATE_LIVE, "" },
	{ "with a hyphen", "Served-Raw", RC_OK, STATE_SERVED_RAW, "" },
	{ "pack", "vacuum", RC_OK, STATE_VACUUM, "" },
	{ "out of the freezer", "thawed", RC_OK, STATE_THAWED, "" },
	{ "no word", "", RC_INVALID, STATE_RAW, "raw, served-raw, cooked" },
	{ "part of a word", "ra", RC_INVALID, STATE_RAW, "live, vacuum" },
	{ "two words", "served raw", RC_INVALID, STATE_RAW, "\"served raw\"" },
	{ "another word", "cured", RC_INVALID, STATE_RAW, "\"cured\"" },
};
/* clang-format on */

START_TEST(state_rows)
{
	enum food_state st = STATE_COUNT;
	struct err err = { 0 };

	ck_assert_msg(
	    food_state_parse(&st, states[_i].word, &err) == states[_i].rc, "%s",
	    states[_i].why);
	if (states[_i].rc == RC_OK) {
		ck_assert_int_eq(st, states[_i].state);
		ck_assert(str_eq_nocase(food_state_word(st), states[_i].word));
		return;
	}
	ck_assert_int_eq(st, STATE_COUNT);
	ck_assert_msg(
	    strstr(err.text, states[_i].says) != NULL, "%s", err.text);
}
END_TEST

Suite *
suite_core_useby(void)
{
	Suite *s = suite_create("core_useby");
	TCase *tc = tcase_create("useby");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, example_rows, 0, (int)NELEM(examples));
	tcase_add_loop_test(tc, clock_rows, 0, (int)NELEM(clocks));
	tcase_add_loop_test(tc, warm_rows, 0, (int)NELEM(warm));
	tcase_add_loop_test(tc, order_rows, 0, (int)NELEM(orders));
	tcase_add_test(tc, thawing_day_is_a_figure);
	tcase_add_test(tc, cautions);
	tcase_add_test(tc, unverified_is_said);
	tcase_add_loop_test(tc, state_rows, 0, (int)NELEM(states));
	suite_add_tcase(s, tc);
	return s;
}
