/*
 * test_core_useby_raw.c - food served raw: which freeze record and which
 * exemption meets which rule set, each row under all four of them.
 */
#include "unit.h"

#include <string.h>

#include "base/clock.h"
#include "core/useby.h"
#include "kitchen.h"
#include "useby_facts.h"

#define WA1 "WAC 246-215-03425 (FDA Food Code 3-402.11)"
#define EU853 "Reg. (EC) 853/2004 Annex III VIII III D, by Reg. 1276/2011"

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

/* Accepted by england, eu, us-food-code, strict: "yyny". */
/* clang-format off */
static const struct {
	const char *why, *source;
	const char *freeze, *frozen, *thawed;
	const char *accepted;
} records[] = {
	{ "-20 C 167 h", WA1, "-20", "2026-11-01T08:00", "2026-11-08T07:00",
	    "yynn" },
	{ "-20 C 167 h 59 min", WA1, "-20", "2026-11-01T08:00",
	    "2026-11-08T07:59", "yynn" },
	{ "-20 C 168 h", WA1, "-20", "2026-11-01T08:00", "2026-11-08T08:00",
	    "yyyy" },
	{ "-19.9 C 168 h", WA1, "-19.9", "2026-11-01T08:00",
	    "2026-11-08T08:00", "nnnn" },
	{ "-20 C 24 h", EU853, "-20", "2026-11-01T08:00", "2026-11-02T08:00",
	    "yynn" },
	{ "-20 C 23 h 59 min", EU853, "-20", "2026-11-01T08:00",
	    "2026-11-02T07:59", "nnnn" },
	{ "-18 C a month, a common freezer", EU853, "-18",
	    "2026-10-01T08:00", "2026-11-02T08:00", "nnnn" },
	{ "-35 C 15 h", WA1 "; " EU853, "-35", "2026-11-01T08:00",
	    "2026-11-01T23:00", "yyyy" },
	{ "-35 C 14 h 59 min", WA1, "-35", "2026-11-01T08:00",
	    "2026-11-01T22:59", "nnnn" },
	{ "-34.9 C 15 h", WA1, "-34.9", "2026-11-01T08:00",
	    "2026-11-01T23:00", "nnnn" },
	{ "-40 C 15 h", WA1, "-40", "2026-11-01T08:00", "2026-11-01T23:00",
	    "yyyy" },
	{ "no temperature", WA1, NULL, "2026-11-01T08:00",
	    "2026-11-10T08:00", "nnnn" },
	{ "20 C with the sign forgotten", WA1, "20", "2026-11-01T08:00",
	    "2026-11-10T08:00", "nnnn" },
	{ "still in the freezer", WA1, "-20", "2026-11-01T08:00", NULL,
	    "nnnn" },
	{ "no record", WA1, NULL, NULL, NULL, "nnnn" },
};

/* Without a record; farmed: with the supplier's statement on feed. */
static const struct {
	const char *why, *source;
	const char *species;
	bool farmed;
	const char *accepted;
} exempt[] = {
	{ "albacore", WA1 ": Thunnus alalunga", "ALB", false, "nnyn" },
	{ "yellowfin", WA1 ": Thunnus albacares", "YFT", false, "nnyn" },
	{ "bluefin", WA1 ": Thunnus thynnus", "BFT", false, "nnyn" },
	{ "mackerel is no tuna named there", WA1, "MAC", false, "nnnn" },
	{ "swordfish", WA1, "SWO", false, "nnnn" },
	{ "oyster", WA1 "; " EU853, "OYG", false, "yyyy" },
	{ "scallop", WA1 "; " EU853, "SCE", false, "yyyy" },
	{ "langoustine", EU853 ", D(1): finfish and cephalopods", "NEP",
	    false, "yynn" },
	{ "shrimp", EU853 ", D(1)", "CSH", false, "yynn" },
	{ "whelk", EU853 ", D(1)", "WHE", false, "yynn" },
	{ "squid", EU853 ", D(1): cephalopods are named", "SQR", false,
	    "nnnn" },
	{ "octopus", EU853 ", D(1)", "OCC", false, "nnnn" },
	{ "ray", EU853 ", D(1)", "RJC", false, "nnnn" },
	{ "wild salmon", WA1 "; " EU853, "SAL", false, "nnnn" },
	{ "farmed salmon, with the statement", WA1 "; " EU853 "(3)(d)",
	    "SAL", true, "yyyy" },
	{ "species not said", "fail closed", NULL, false, "nnnn" },
};
/* clang-format on */

static void
check_accepted(const char *why, const char *source, const struct facts *f,
    const char *want)
{
	struct err err;
	struct ruleset rs;
	struct useby_in in;
	struct useby u;
	size_t i, k;
	bool named = false;
	enum rc rc;

	facts_read(&in, f, &fish);
	for (i = 0; i < RULE_SETS; i++) {
		err_clear(&err);
		rules_shipped(&rs, rule_set_names[i]);
		rc = useby_decide(&u, &in, &rs, &err);
		ck_assert_msg(rc == (want[i] == 'y' ? RC_OK : RC_REFUSED),
		    "%s under %s: %s, %s (%s)", why, rule_set_names[i],
		    rc_word(rc), err.text, source);
		if (rc != RC_OK) {
			ck_assert_msg(strstr(err.text, "served raw needs") &&
				strstr(err.text, "on record"),
			    "%s: %s", why, err.text);
			continue;
		}
		for (k = 0; k < u.caution_count; k++)
			named |= strstr(u.cautions[k], "exempt") != NULL ||
			    strstr(u.cautions[k], "on record meets") != NULL;
		ck_assert_msg(named, "%s: why it may be is not said", why);
	}
}

START_TEST(record_rows)
{
	struct facts f = {
		.state = STATE_SERVED_RAW,
		.species = "COD",
		.prepared = "2026-11-12T09:00",
		.frozen = records[_i].frozen,
		.thawed = records[_i].thawed,
		.freeze = records[_i].freeze,
		.house = "2026-11-13",
	};

	check_accepted(
	    records[_i].why, records[_i].source, &f, records[_i].accepted);
}
END_TEST

START_TEST(exempt_rows)
{
	struct facts f = {
		.state = STATE_SERVED_RAW,
		.species = exempt[_i].species,
		.prepared = "2026-11-12T09:00",
		.farmed = exempt[_i].farmed,
		.house = "2026-11-13",
	};

	check_accepted(
	    exempt[_i].why, exempt[_i].source, &f, exempt[_i].accepted);
}
END_TEST

/* Fail closed: a set that says nothing of parasites frees no fish from them,
 * and half a rule frees no more. */
START_TEST(no_parasite_rule)
{
	static const enum figure_id figures[] = {
		FIG_PARASITE_C,
		FIG_PARASITE_HOURS,
	};
	struct facts f = {
		.state = STATE_SERVED_RAW,
		.species = "COD",
		.prepared = "2026-11-12T09:00",
		.house = "2026-11-13",
	};
	struct ruleset rs;
	struct useby_in in;
	struct useby u;

	rules_shipped(&rs, "eu");
	facts_read(&in, &f, &fish);
	rs.figures[figures[_i]].set = false;
	ck_assert_int_eq(useby_decide(&u, &in, &rs, NULL), RC_REFUSED);
}
END_TEST

Suite *
suite_core_useby_raw(void)
{
	Suite *s = suite_create("core_useby_raw");
	TCase *tc = tcase_create("served raw");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_loop_test(tc, record_rows, 0, (int)NELEM(records));
	tcase_add_loop_test(tc, exempt_rows, 0, (int)NELEM(exempt));
	tcase_add_loop_test(tc, no_parasite_rule, 0, 2);
	suite_add_tcase(s, tc);
	return s;
}
