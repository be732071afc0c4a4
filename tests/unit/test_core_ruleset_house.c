/*
 * test_core_ruleset_house.c - a house lays its own figures over a rule set:
 * every figure one step tighter is taken, one step looser is refused with both
 * figures named.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "core/ruleset.h"
#include "useby_facts.h"

static enum rc
house(struct ruleset *rs, enum figure_id id, const char *key, const char *value,
    struct err *err)
{
	struct ini_item it;
	struct ini_doc doc = { "house.ini", &it, 1 };

	memset(&it, 0, sizeof(it));
	str_copy(it.section, sizeof(it.section), figure_name(id));
	str_copy(it.key, sizeof(it.key), key);
	str_copy(it.value, sizeof(it.value), value);
	return ruleset_tighten(rs, &doc, err);
}

/* clang-format off */
static const struct {
	const char *set;
	enum figure_id id;
	const char *law;	/* as the refusal names it */
	const char *tighter;	/* NULL: there is none */
	const char *looser;
	const char *own;	/* the looser one as the refusal names it */
} rows[] = {
	{ "us-food-code", FIG_SERVED_RAW_DAYS, "7 days", "6", "8", "8 days" },
	{ "us-food-code", FIG_COOKED_DAYS, "7 days", "6", "8", "8 days" },
	{ "us-food-code", FIG_VACUUM_DAYS, "30 days", "1", "31", "31 days" },
	{ "england", FIG_VACUUM_DAYS, "10 days", "9", "11", "11 days" },
	{ "us-food-code", FIG_VACUUM_FROZEN, "yes", "yes", "no", "no" },
	{ "us-food-code", FIG_THAWED_DAYS, "7 days", "1", "8", "8 days" },
	{ "us-food-code", FIG_THAW_DAY, "yes", "yes", "no", "no" },
	{ "us-food-code", FIG_UNMARKED_HOURS, "24 hours", "23", "25",
	    "25 hours" },
	{ "eu", FIG_FROZEN_MAX, "-18.0 C", "-18.1", "-17.9", "-17.9 C" },
	{ "us-food-code", FIG_CHILL_MAX, "5.0 C", "4.9", "5.1", "5.1 C" },
	{ "england", FIG_CHILL_MAX, "8.0 C", "7.9", "8.1", "8.1 C" },
	{ "eu", FIG_ICE_MAX, "2.0 C", "1.9", "2.1", "2.1 C" },
	{ "eu", FIG_PARASITE_C, "-20.0 C", "-20.1", "-19.9", "-19.9 C" },
	{ "eu", FIG_PARASITE_HOURS, "24 hours", "25", "23", "23 hours" },
	{ "us-food-code", FIG_PARASITE_HOURS, "168 hours", "169", "167",
	    "167 hours" },
	{ "eu", FIG_PARASITE_DEEP_C, "-35.0 C", "-35.1", "-34.9", "-34.9 C" },
	{ "eu", FIG_PARASITE_DEEP_HOURS, "15 hours", "16", "14", "14 hours" },
	{ "us-food-code", FIG_EXEMPT_SPECIES, "ALB YFT BFT", "YFT ALB",
	    "ALB YFT BFT COD", "ALB YFT BFT COD" },
	{ "us-food-code", FIG_EXEMPT_SPECIES, "ALB YFT BFT", "",
	    "COD", "COD" },
	{ "us-food-code", FIG_EXEMPT_SPECIES, "ALB YFT BFT", "BFT",
	    "ALB COD", "ALB COD" },
	{ "us-food-code", FIG_EXEMPT_FORMS, "bivalve", "",
	    "bivalve crustacean", "bivalve crustacean" },
	{ "eu", FIG_EXEMPT_FORMS, "bivalve gastropod crustacean",
	    "crustacean bivalve", "cephalopod", "cephalopod" },
	{ "eu", FIG_EXEMPT_FARMED, "yes", "no", NULL, NULL },
	{ "us-food-code", FIG_HISTAMINE_C, "4.4 C", "4.0", "4.5", "4.5 C" },
	{ "us-food-code", FIG_HISTAMINE_HOURS, "3 hours", "2", "4",
	    "4 hours" },
	{ "us-food-code", FIG_TAG_DAYS, "90 days", "91", "89", "89 days" },
	{ "us-food-code", FIG_KEEP_CHAIN, "731 days", "732", "730",
	    "730 days" },
	{ "eu", FIG_KEEP_CHAIN, "184 days", "36525", "183", "183 days" },
	{ "us-food-code", FIG_KEEP_FROZEN, "90 days", "91", "89", "89 days" },
	{ "us-food-code", FIG_KEEP_FARM, "180 days", "181", "179",
	    "179 days" },
	{ "us-food-code", FIG_RECEIVE_MAX, "5.0 C", "4.9", "5.1", "5.1 C" },
	{ "us-food-code", FIG_RECEIVE_LIVE_MAX, "7.0 C", "6.9", "7.1",
	    "7.1 C" },
	{ "strict", FIG_CHILL_MAX, "5.0 C", "4.0", "8.0", "8.0 C" },
	{ "strict", FIG_VACUUM_DAYS, "10 days", "9", "30", "30 days" },
	{ "strict", FIG_PARASITE_HOURS, "168 hours", "200", "24",
	    "24 hours" },
	{ "strict", FIG_EXEMPT_FORMS, "bivalve", "bivalve",
	    "bivalve crustacean", "bivalve crustacean" },
	/* Not given by the law: not the house's to give. */
	{ "eu", FIG_EXEMPT_SPECIES, "none", NULL, "ALB", "ALB" },
	{ "strict", FIG_EXEMPT_SPECIES, "none", NULL, "ALB", "ALB" },
};
/* clang-format on */

START_TEST(tighter_rows)
{
	struct ruleset rs;
	struct err err = { 0 };
	const struct figure *f;

	if (rows[_i].tighter == NULL)
		return;
	rules_shipped(&rs, rows[_i].set);
	ck_assert_msg(
	    house(&rs, rows[_i].id, "value", rows[_i].tighter, &err) == RC_OK,
	    "%s: %s", figure_name(rows[_i].id), err.text);
	f = &rs.figures[rows[_i].id];
	ck_assert(f->set);
	ck_assert_str_eq(f->set_name, "house");
	ck_assert_str_eq(f->source, "the kitchen's own food safety plan");
}
END_TEST

START_TEST(looser_rows)
{
	struct ruleset rs, before;
	struct err err = { 0 };
	char text[200];

	if (rows[_i].looser == NULL)
		return;
	rules_shipped(&rs, rows[_i].set);
	before = rs;
	ck_assert_msg(house(&rs, rows[_i].id, "value", rows[_i].looser, &err) ==
		RC_REFUSED,
	    "%s %s", figure_name(rows[_i].id), rows[_i].looser);
	str_fmt(text, sizeof(text),
	    "house.ini: [%s]: the house's %s would "
	    "loosen %s of rule set %s",
	    figure_name(rows[_i].id), rows[_i].own, rows[_i].law, rows[_i].set);
	ck_assert_str_eq(err.text, text);
	ck_assert(memcmp(&before.figures[rows[_i].id], &rs.figures[rows[_i].id],
		      sizeof(struct figure)) == 0);
}
END_TEST

/* Every figure of every set is in a row, so none is without its two tests. */
START_TEST(every_figure_has_rows)
{
	size_t k;
	int id;

	for (id = 0; id < FIGURE_COUNT; id++) {
		if (id == FIG_RAW_DAYS || id == FIG_LIVE_DAYS)
			continue; /* no shipped set has them */
		for (k = 0; k < NELEM(rows); k++)
			if ((int)rows[k].id == id)
				break;
		ck_assert_msg(
		    k < NELEM(rows), "%s", figure_name((enum figure_id)id));
	}
}
END_TEST

/* Equal to the law is no loosening; a limit the law lacks may be added. */
START_TEST(equal_and_new)
{
	struct ruleset rs;
	struct err err = { 0 };

	rules_shipped(&rs, "us-food-code");
	ck_assert_int_eq(
	    house(&rs, FIG_COOKED_DAYS, "value", "7", &err), RC_OK);
	ck_assert_int_eq(house(&rs, FIG_RAW_DAYS, "value", "2", &err), RC_OK);
	ck_assert_int_eq(rs.figures[FIG_RAW_DAYS].value, 2);
	ck_assert_str_eq(rs.figures[FIG_RAW_DAYS].set_name, "house");
	/* And once set it may only be tightened again. */
	ck_assert_int_eq(
	    house(&rs, FIG_RAW_DAYS, "value", "3", &err), RC_REFUSED);
}
END_TEST

/* What a set is silent about in the strict way is not the house's to allow:
 * another way to meet the parasite rule, an uncounted day of thawing. */
START_TEST(silence_is_not_loosened)
{
	struct ruleset rs;

	memset(&rs, 0, sizeof(rs));
	if (_i == 0)
		ck_assert_int_eq(
		    house(&rs, FIG_PARASITE_DEEP_C, "value", "-5", NULL),
		    RC_REFUSED);
	else
		ck_assert_int_eq(
		    house(&rs, FIG_THAW_DAY, "value", "no", NULL), RC_REFUSED);
}
END_TEST

/* A house file that says nothing, or something else, must not pass for one
 * that tightened. */
START_TEST(house_mistakes)
{
	static const struct {
		enum figure_id id;
		const char *key, *value;
	} bad[] = {
		{ FIG_COOKED_DAYS, "value", "three" },
		{ FIG_COOKED_DAYS, "value", "0" },
		{ FIG_COOKED_DAYS, "days", "3" },
		{ FIG_CHILL_MAX, "value", "38F" },
		{ FIG_THAW_DAY, "value", "true" },
		{ FIG_COOKED_DAYS, "source", "our plan" },
		{ FIG_COOKED_DAYS, "section", "3" },
	};
	struct ruleset rs;
	struct err err = { 0 };

	rules_shipped(&rs, "us-food-code");
	ck_assert_msg(house(&rs, bad[_i].id, bad[_i].key, bad[_i].value,
			  &err) == RC_INVALID,
	    "%s = %s", bad[_i].key, bad[_i].value);
	ck_assert_msg(strstr(err.text, "house.ini") != NULL &&
		strstr(err.text, figure_name(bad[_i].id)) != NULL,
	    "%s", err.text);
	ck_assert_int_eq(rs.figures[FIG_COOKED_DAYS].value, 7);
}
END_TEST

/* A house does not take other sets in: silence would look like strictness. */
START_TEST(house_head)
{
	struct ini_item it = { "rule set", "strictest of", "eu" };
	struct ini_doc doc = { "house.ini", &it, 1 };
	struct ruleset rs;

	rules_shipped(&rs, "us-food-code");
	ck_assert_int_eq(ruleset_tighten(&rs, &doc, NULL), RC_INVALID);
	ck_assert_str_eq(rs.name, "us-food-code");
	ck_assert(rs.strictest_of[0] == '\0');
}
END_TEST

/* An unknown section is no figure. */
START_TEST(house_words)
{
	struct ini_item it = { "cooked dais", "value", "3" };
	struct ini_doc doc = { "house.ini", &it, 1 };
	struct ruleset rs;
	struct err err = { 0 };

	rules_shipped(&rs, "us-food-code");
	ck_assert_int_eq(ruleset_tighten(&rs, &doc, &err), RC_INVALID);
	ck_assert(strstr(err.text, "[cooked dais]") != NULL);
	/* One word of the law does not cover for another that is not in it. */
	str_copy(rs.figures[FIG_EXEMPT_SPECIES].words,
	    sizeof(rs.figures[FIG_EXEMPT_SPECIES].words), "ALB ALB ALB");
	ck_assert_int_eq(
	    house(&rs, FIG_EXEMPT_SPECIES, "value", "ALB COD", NULL),
	    RC_REFUSED);
}
END_TEST

/* The printed set is what the digest is made of: a figure, its source and its
 * mark are all in it. */
START_TEST(print_tells_all)
{
	struct ruleset rs, other;
	struct buf a, b;
	int i;

	buf_init(&a, 65536);
	buf_init(&b, 65536);
	rules_shipped(&rs, "strict");
	ruleset_print(&a, &rs);
	ck_assert(
	    strstr(buf_text(&a),
		"parasite freeze hours = 168 hours "
		"(us-food-code; US FDA Food Code, 3-402.11(A)(1))\n") != NULL);
	ck_assert(strstr(buf_text(&a), "histamine hours = 3 hours") != NULL);
	ck_assert(strstr(buf_text(&a), "; unverified)\n") != NULL);
	for (i = 0; i < FIGURE_COUNT; i++) {
		if (!rs.figures[i].set)
			continue;
		other = rs;
		if (other.figures[i].words[0] != '\0')
			other.figures[i].words[0] ^= 1;
		else
			other.figures[i].value ^= 1;
		buf_clear(&b);
		ruleset_print(&b, &other);
		ck_assert_msg(!str_eq(buf_text(&a), buf_text(&b)), "%s",
		    figure_name((enum figure_id)i));
		other = rs;
		other.figures[i].verified = !other.figures[i].verified;
		buf_clear(&b);
		ruleset_print(&b, &other);
		ck_assert(!str_eq(buf_text(&a), buf_text(&b)));
	}
	buf_fini(&a);
	buf_fini(&b);
}
END_TEST

Suite *
suite_core_ruleset_house(void)
{
	Suite *s = suite_create("core_ruleset_house");
	TCase *tc = tcase_create("house");

	tcase_add_loop_test(tc, tighter_rows, 0, (int)NELEM(rows));
	tcase_add_loop_test(tc, looser_rows, 0, (int)NELEM(rows));
	tcase_add_test(tc, every_figure_has_rows);
	tcase_add_test(tc, equal_and_new);
	tcase_add_loop_test(tc, silence_is_not_loosened, 0, 2);
	tcase_add_loop_test(tc, house_mistakes, 0, 7);
	tcase_add_test(tc, house_head);
	tcase_add_test(tc, house_words);
	tcase_add_test(tc, print_tells_all);
	suite_add_tcase(s, tc);
	return s;
}
