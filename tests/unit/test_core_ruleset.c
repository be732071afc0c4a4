/*
 * test_core_ruleset.c - rule files: every shipped figure against the reference
 * it was taken from, files that are wrong, the strictest of two, and a house
 * that may tighten and never loosen.
 */
#include "unit.h"

#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "base/units.h"
#include "config/ini.h"
#include "core/ruleset.h"
#include "core/species.h"
#include "kitchen.h"
#include "useby_facts.h"

/* --- every shipped figure --------------------------------------------------*/

#define EU "eu"
#define UK "england"
#define US "us-food-code"
#define D3 "Reg. (EC) 853/2004 Annex III VIII III D(1), (2) by 1276/2011, read"

/* clang-format off */
static const struct {
	const char *set;
	enum figure_id id;
	const char *value;
	bool verified;
	const char *source; /* where the reference notes have it from */
} figures[] = {
	{ UK, FIG_VACUUM_DAYS, "10", true,
	    "FSA factsheet 07/08 and guidance 2017: 3 to 8 C, 10 days" },
	{ UK, FIG_KEEP_CHAIN, "184", false,
	    "six months for perishable food, a ministry's note as a trade "
	    "body reports it" },
	{ UK, FIG_FROZEN_MAX, "-18.0", true,
	    "853/2004 Annex III VIII ch. VII point 2, official Dutch and "
	    "French wording: in all parts" },
	{ UK, FIG_CHILL_MAX, "8.0", true, "SI 2013/2996 sch. 4 para. 2(1)" },
	{ UK, FIG_PARASITE_C, "-20.0", true, D3 },
	{ UK, FIG_PARASITE_HOURS, "24", true, D3 },
	{ UK, FIG_PARASITE_DEEP_C, "-35.0", true, D3 },
	{ UK, FIG_PARASITE_DEEP_HOURS, "15", true, D3 },
	{ UK, FIG_EXEMPT_FORMS, "bivalve gastropod crustacean", true, D3 },
	{ UK, FIG_EXEMPT_FARMED, "yes", true, D3 "; D(3)(d)" },
	{ EU, FIG_KEEP_CHAIN, "184", false,
	    "six months for perishable food, a ministry's note as a trade "
	    "body reports it" },
	{ EU, FIG_FROZEN_MAX, "-18.0", true,
	    "853/2004 Annex III VIII ch. VII point 2, official Dutch and "
	    "French wording: in all parts" },
	{ EU, FIG_ICE_MAX, "2.0", false,
	    "French order of 21 December 2009, as reported" },
	{ EU, FIG_PARASITE_C, "-20.0", true, D3 },
	{ EU, FIG_PARASITE_HOURS, "24", true, D3 },
	{ EU, FIG_PARASITE_DEEP_C, "-35.0", true, D3 },
	{ EU, FIG_PARASITE_DEEP_HOURS, "15", true, D3 },
	{ EU, FIG_EXEMPT_FORMS, "bivalve gastropod crustacean", true, D3 },
	{ EU, FIG_EXEMPT_FARMED, "yes", true, D3 "; D(3)(d)" },
	{ US, FIG_SERVED_RAW_DAYS, "7", true,
	    "3-501.17, Oklahoma 310:257-5-60 (2021)" },
	{ US, FIG_COOKED_DAYS, "7", true,
	    "3-501.17, Oklahoma 310:257-5-60 (2021)" },
	{ US, FIG_VACUUM_DAYS, "30", true,
	    "3-502.12(B), Wisconsin ATCP 75; an older copy says 14" },
	{ US, FIG_VACUUM_FROZEN, "yes", true, "3-502.12(C), as quoted" },
	{ US, FIG_THAWED_DAYS, "7", true,
	    "3-501.18(A)(1), WAC 246-215-03527; Minnesota 4626.0400 (2014)" },
	{ US, FIG_THAW_DAY, "yes", true, "North Carolina worked example" },
	{ US, FIG_UNMARKED_HOURS, "24", true,
	    "Minnesota Dairy & Food Inspection poster" },
	{ US, FIG_CHILL_MAX, "5.0", true, "3-501.16(A)(2), Delaware" },
	{ US, FIG_PARASITE_C, "-20.0", true, "3-402.11(A), Minnesota" },
	{ US, FIG_PARASITE_HOURS, "168", true, "3-402.11(A), Minnesota" },
	{ US, FIG_PARASITE_DEEP_C, "-35.0", true, "3-402.11(A), Minnesota" },
	{ US, FIG_PARASITE_DEEP_HOURS, "15", true, "3-402.11(A), Minnesota" },
	{ US, FIG_EXEMPT_SPECIES, "ALB YFT BFT", true,
	    "3-402.11(B): those of its six tunas the species table has" },
	{ US, FIG_EXEMPT_FORMS, "bivalve", true, "3-402.11(B)" },
	{ US, FIG_EXEMPT_FARMED, "yes", true, "3-402.11(B)" },
	{ US, FIG_HISTAMINE_C, "4.4", false, "hazards guide, from memory" },
	{ US, FIG_HISTAMINE_HOURS, "3", false,
	    "FDA letter of 30 September 2016, as reported" },
	{ US, FIG_TAG_DAYS, "90", true, "3-203.12, Oklahoma 310:257-5-20" },
	{ US, FIG_KEEP_CHAIN, "731", false,
	    "21 CFR 1.1455: two years, as trade bodies report it" },
	{ US, FIG_KEEP_FROZEN, "90", true,
	    "3-402.12: 90 days beyond service or sale, a federal vessel "
	    "report" },
	{ US, FIG_KEEP_FARM, "180", false, "from memory" },
	{ US, FIG_RECEIVE_MAX, "5.0", true, "3-202.11, WAC 246-215-03235" },
	{ US, FIG_RECEIVE_LIVE_MAX, "7.0", false, "from memory" },
};
/* clang-format on */

static const char *
value_of(char *dst, size_t size, enum figure_id id, const struct figure *f)
{
	struct ruleset rs;
	struct buf b;
	const char *p;
	char *end;

	/* Its own line in the printed set: the only public text of a value. */
	memset(&rs, 0, sizeof(rs));
	rs.figures[id] = *f;
	buf_init(&b, 4096);
	ruleset_print(&b, &rs);
	p = strstr(buf_text(&b), " = ");
	ck_assert_ptr_nonnull(p);
	str_fmt(dst, size, "%.*s", (int)strcspn(p + 3, "("), p + 3);
	buf_fini(&b);
	end = strstr(dst, " days");
	end = end == NULL ? strstr(dst, " hours") : end;
	end = end == NULL ? strstr(dst, " C ") : end;
	end = end == NULL ? dst + strlen(dst) - 1 : end;
	*end = '\0';
	return dst;
}

START_TEST(figure_rows)
{
	const struct figure *f;
	struct ruleset rs;
	char value[130];

	rules_shipped(&rs, figures[_i].set);
	f = &rs.figures[figures[_i].id];
	ck_assert(f->set);
	ck_assert_msg(str_eq(value_of(value, sizeof(value), figures[_i].id, f),
			  figures[_i].value),
	    "%s, %s: %s, not %s (%s)", rs.name, figure_name(figures[_i].id),
	    value, figures[_i].value, figures[_i].source);
	ck_assert_msg(f->verified == figures[_i].verified,
	    "%s, %s: verified (%s)", rs.name, figure_name(figures[_i].id),
	    figures[_i].source);
	ck_assert(f->source[0] != '\0');
	ck_assert(f->section[0] != '\0');
	ck_assert_str_eq(f->set_name, figures[_i].set);
}
END_TEST

/* No shipped figure without a row above, and every set knows its name. */
START_TEST(no_other_figure)
{
	struct ruleset rs;
	size_t set, k;
	int id;

	for (set = 0; set < RULE_SETS - 1; set++) {
		rules_shipped(&rs, rule_set_names[set]);
		ck_assert_str_eq(rs.name, rule_set_names[set]);
		ck_assert(rs.title[0] != '\0');
		ck_assert(rs.strictest_of[0] == '\0');
		for (id = 0; id < FIGURE_COUNT; id++) {
			for (k = 0; k < NELEM(figures); k++)
				if (str_eq(figures[k].set, rs.name) &&
				    (int)figures[k].id == id)
					break;
			ck_assert_msg(
			    rs.figures[id].set == (k < NELEM(figures)),
			    "%s, %s", rs.name, figure_name((enum figure_id)id));
		}
	}
}
END_TEST

/* A species code or body form that no table has would exempt nothing. */
START_TEST(exempt_words_exist)
{
	struct species_table fish;
	struct ruleset rs;
	char words[120], *word, *rest;
	size_t set, i;
	bool found;

	kitchen_tables(&fish, NULL);
	for (set = 0; set < RULE_SETS; set++) {
		rules_shipped(&rs, rule_set_names[set]);
		str_copy(
		    words, sizeof(words), rs.figures[FIG_EXEMPT_SPECIES].words);
		for (rest = words; (word = strtok_r(rest, " ", &rest));)
			ck_assert_ptr_nonnull(species_find(&fish, word));
		str_copy(
		    words, sizeof(words), rs.figures[FIG_EXEMPT_FORMS].words);
		for (rest = words; (word = strtok_r(rest, " ", &rest));) {
			found = false;
			for (i = 0; i < fish.count; i++)
				found |= str_eq(
				    word, body_form_word(fish.items[i].form));
			ck_assert_msg(found, "%s: %s", rs.name, word);
		}
	}
	species_fini(&fish);
}
END_TEST

/* --- strict: figure by figure ----------------------------------------------*/

/* clang-format off */
static const struct {
	enum figure_id id;
	const char *value; /* NULL: no figure */
	const char *from;
} strict[] = {
	{ FIG_RAW_DAYS, NULL, NULL },
	{ FIG_SERVED_RAW_DAYS, "7", US },
	{ FIG_COOKED_DAYS, "7", US },
	{ FIG_LIVE_DAYS, NULL, NULL },
	{ FIG_VACUUM_DAYS, "10", UK },
	{ FIG_VACUUM_FROZEN, "yes", US },
	{ FIG_THAWED_DAYS, "7", US },
	{ FIG_THAW_DAY, "yes", US },
	{ FIG_UNMARKED_HOURS, "24", US },
	{ FIG_FROZEN_MAX, "-18.0", NULL },
	{ FIG_CHILL_MAX, "5.0", US },
	{ FIG_ICE_MAX, "2.0", EU },
	{ FIG_PARASITE_C, "-20.0", NULL },
	{ FIG_PARASITE_HOURS, "168", US },
	{ FIG_PARASITE_DEEP_C, "-35.0", NULL },
	{ FIG_PARASITE_DEEP_HOURS, "15", NULL },
	{ FIG_EXEMPT_SPECIES, NULL, NULL },
	{ FIG_EXEMPT_FORMS, "bivalve", NULL },
	{ FIG_EXEMPT_FARMED, "yes", NULL },
	{ FIG_HISTAMINE_C, "4.4", US },
	{ FIG_HISTAMINE_HOURS, "3", US },
	{ FIG_TAG_DAYS, "90", US },
	{ FIG_KEEP_CHAIN, "731", US },
	{ FIG_KEEP_FROZEN, "90", US },
	{ FIG_KEEP_FARM, "180", US },
	{ FIG_RECEIVE_MAX, "5.0", US },
	{ FIG_RECEIVE_LIVE_MAX, "7.0", US },
};
/* clang-format on */

START_TEST(strict_rows)
{
	const struct figure *f;
	struct ruleset rs;
	char value[130];

	ck_assert_int_eq(NELEM(strict), FIGURE_COUNT);
	rules_shipped(&rs, "strict");
	f = &rs.figures[strict[_i].id];
	ck_assert_msg(f->set == (strict[_i].value != NULL), "%s",
	    figure_name(strict[_i].id));
	if (!f->set)
		return;
	ck_assert_str_eq(
	    value_of(value, sizeof(value), strict[_i].id, f), strict[_i].value);
	if (strict[_i].from != NULL)
		ck_assert_str_eq(f->set_name, strict[_i].from);
}
END_TEST

/* --- any two sets ----------------------------------------------------------*/

static const char *const words[] = { "", "ALB", "ALB YFT", "YFT ALB", "BFT",
	"bivalve crustacean", "crustacean gastropod bivalve" };

static void
any_set(struct ruleset *rs, struct dice *d)
{
	struct figure *f;
	int i;

	memset(rs, 0, sizeof(*rs));
	str_fmt(rs->name, sizeof(rs->name), "set-%d", roll(d, 1000));
	for (i = 0; i < FIGURE_COUNT; i++) {
		f = &rs->figures[i];
		f->set = roll(d, 3) != 0;
		if (!f->set)
			continue;
		str_copy(f->source, sizeof(f->source), rs->name);
		if (i == FIG_EXEMPT_SPECIES || i == FIG_EXEMPT_FORMS)
			str_copy(f->words, sizeof(f->words),
			    words[roll(d, (int)NELEM(words))]);
		else if (i == FIG_VACUUM_FROZEN || i == FIG_THAW_DAY ||
		    i == FIG_EXEMPT_FARMED)
			f->value = roll(d, 2);
		else
			f->value = 1 + roll(d, 30);
	}
}

/* The same figures, words in any order. */
static void
check_same(const struct ruleset *a, const struct ruleset *b, int round)
{
	const struct figure *f, *g;
	size_t k;
	int i;

	for (i = 0; i < FIGURE_COUNT; i++) {
		f = &a->figures[i];
		g = &b->figures[i];
		ck_assert_msg(f->set == g->set && f->value == g->value &&
			strlen(f->words) == strlen(g->words),
		    "%d: %s", round, figure_name((enum figure_id)i));
		for (k = 0; k < NELEM(words); k++)
			if (strchr(words[k], ' ') == NULL)
				ck_assert(figure_words_have(f, words[k]) ==
				    figure_words_have(g, words[k]));
	}
}

START_TEST(strictest_is_a_meeting)
{
	struct dice d = { 88 };
	struct ruleset a, b, c, ab, ba, x, y;
	int i;

	for (i = 0; i < 20000; i++) {
		any_set(&a, &d);
		any_set(&b, &d);
		any_set(&c, &d);
		/* a with a is a. */
		x = a;
		ruleset_strictest(&x, &a);
		check_same(&x, &a, i);
		/* a with b is b with a. */
		ab = a;
		ruleset_strictest(&ab, &b);
		ba = b;
		ruleset_strictest(&ba, &a);
		check_same(&ab, &ba, i);
		/* Once more changes nothing. */
		x = ab;
		ruleset_strictest(&x, &b);
		check_same(&x, &ab, i);
		/* Nor does the order of three. */
		x = ab;
		ruleset_strictest(&x, &c);
		y = b;
		ruleset_strictest(&y, &c);
		ruleset_strictest(&y, &a);
		check_same(&x, &y, i);
	}
}
END_TEST

/*
 * The deep freeze is another way to meet the rule, so a permission; and a set
 * silent about the day of thawing counts it.  The strictest of a set that is
 * silent and one that is not stays silent, or strict.
 */
START_TEST(silence_is_kept)
{
	struct ruleset a, b, x;
	int turn;

	memset(&a, 0, sizeof(a));
	memset(&b, 0, sizeof(b));
	b.figures[FIG_PARASITE_DEEP_C].set = true;
	b.figures[FIG_PARASITE_DEEP_C].value = -350;
	b.figures[FIG_PARASITE_DEEP_HOURS].set = true;
	b.figures[FIG_PARASITE_DEEP_HOURS].value = 15;
	b.figures[FIG_THAW_DAY].set = true;
	for (turn = 0; turn < 2; turn++) {
		x = turn ? b : a;
		ruleset_strictest(&x, turn ? &a : &b);
		if (_i == 0)
			ck_assert(!x.figures[FIG_PARASITE_DEEP_C].set ||
			    !x.figures[FIG_PARASITE_DEEP_HOURS].set);
		else
			ck_assert(!x.figures[FIG_THAW_DAY].set ||
			    x.figures[FIG_THAW_DAY].value == 1);
	}
}
END_TEST

/* --- files that are wrong --------------------------------------------------*/

#define HEAD "[rule set]\nname = x\ntitle = X\n"
#define FIG(section, value)                                                    \
	HEAD "[" section "]\nvalue = " value "\nsource = A law\n"

/* clang-format off */
static const struct {
	const char *why;
	const char *text;
	const char *says; /* NULL: it is right */
} files[] = {
	{ "one figure", FIG("cooked days", "7"), NULL },
	{ "everything said",
	    FIG("chill max c", "5,0") "section = 3\nverified = yes\n", NULL },
	{ "no days of sections in capitals", HEAD "[COOKED DAYS]\nVALUE = 7\n"
	    "SOURCE = A law\n", NULL },
	{ "no exempt species at all",
	    FIG("parasite exempt species", ""), NULL },
	{ "the strictest of two", HEAD "strictest of = a b\n", NULL },
	{ "empty", "", "needs name and title" },
	{ "no name", "[rule set]\ntitle = X\n[cooked days]\nvalue = 7\n"
	    "source = A\n", "needs name and title" },
	{ "no title", "[rule set]\nname = x\n", "needs name and title" },
	{ "unknown section", FIG("boiled days", "7"), "[boiled days]" },
	{ "section nearly right", FIG("cooked day", "7"), "[cooked day]" },
	{ "unknown key", FIG("cooked days", "7") "note = x\n",
	    "[cooked days] note" },
	{ "unknown key of the head", HEAD "version = 2\n",
	    "[rule set] version" },
	{ "value without source", HEAD "[cooked days]\nvalue = 7\n",
	    "[cooked days]: source is missing" },
	{ "empty source", HEAD "[cooked days]\nvalue = 7\nsource =\n",
	    "[cooked days]: source is missing" },
	{ "source without value", HEAD "[cooked days]\nsource = A\n",
	    "[cooked days]: value is missing" },
	{ "section without value", FIG("raw days", "2")
	    "[cooked days]\nsection = 3\n",
	    "[cooked days]: value is missing" },
	{ "verified without value", FIG("raw days", "2")
	    "[cooked days]\nverified = yes\n",
	    "[cooked days]: value is missing" },
	{ "no days", FIG("cooked days", "0"), "[cooked days] value = 0" },
	{ "days below nothing", FIG("cooked days", "-1"), "value = -1" },
	{ "too many days", FIG("cooked days", "401"), "value = 401" },
	{ "far too many", FIG("cooked days", "99999999999999999999"),
	    "[cooked days]" },
	{ "half a day", FIG("cooked days", "6.5"), "value = 6.5" },
	{ "days in words", FIG("cooked days", "seven"), "value = seven" },
	{ "days with a unit", FIG("cooked days", "7 days"),
	    "value = 7 days" },
	{ "no value", FIG("cooked days", ""), "[cooked days] value" },
	{ "too many hours", FIG("parasite freeze hours", "2001"), "2001" },
	{ "no hours", FIG("unmarked thaw hours", "0"), "value = 0" },
	{ "Fahrenheit", FIG("chill max c", "41F"), "value = 41F" },
	{ "too hot to be Celsius", FIG("chill max c", "61"), "value = 61" },
	{ "below any freezer", FIG("parasite freeze c", "-60.1"), "-60.1" },
	{ "hundredths", FIG("chill max c", "4.44"), "value = 4.44" },
	{ "a flag in figures", FIG("thawing day counts", "1"),
	    "must be yes or no" },
	{ "a flag in capitals", FIG("thawing day counts", "YES"),
	    "must be yes or no" },
	{ "a mark that is neither", FIG("cooked days", "7")
	    "verified = perhaps\n", "must be yes or no" },
	{ "figures of its own beside others'", "[rule set]\nname = x\n"
	    "title = X\nstrictest of = a b\n[cooked days]\nvalue = 7\n"
	    "source = A\n", "no figures of its own" },
	{ "the strictest of none", HEAD "strictest of =\n", "strictest of" },
	{ "no figure at all", HEAD, "no figure" },
	{ "a key twice", FIG("cooked days", "7") "value = 3\n", "twice" },
	{ "a section twice, a key twice", FIG("cooked days", "3")
	    "[chill max c]\nvalue = 5\nsource = A\n[Cooked Days]\nvalue = 7\n",
	    "twice" },
	{ "a figure before any section", "value = 7\n" FIG("raw days", "2"),
	    "section" },
	{ "a colon after the name", FIG("cooked days: us", "7"),
	    "cooked days: us" },
	{ "a name too long", "[rule set]\ntitle = X\n"
	    "name = a-name-of-more-than-23-bytes\n", "too long" },
};

#define X30 "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"
static const char *const too_long[] = {
	"source = " X30 X30 X30 X30 "\n",
	"section = " X30 X30 X30 "\n",
};
/* clang-format on */

static enum rc
parse_text(struct ruleset *out, const char *text, struct err *err)
{
	struct kitchen k;
	struct ini_doc doc;
	char path[320];
	enum rc rc;

	kitchen_make(&k, true);
	kitchen_write(path, &k, "x.ini", text);
	rc = ini_load(&doc, path, err);
	if (rc == RC_OK) {
		rc = ruleset_parse(out, &doc, err);
		ini_fini(&doc);
	}
	kitchen_close(&k);
	return rc;
}

START_TEST(file_rows)
{
	struct ruleset rs = { .name = "untouched" };
	struct err err = { 0 };
	enum rc rc = parse_text(&rs, files[_i].text, &err);

	if (files[_i].says == NULL) {
		ck_assert_msg(rc == RC_OK, "%s: %s", files[_i].why, err.text);
		return;
	}
	ck_assert_msg(rc == RC_INVALID, "%s: %s", files[_i].why, rc_word(rc));
	ck_assert_msg(strstr(err.text, "x.ini") != NULL &&
		strstr(err.text, files[_i].says) != NULL,
	    "%s: %s", files[_i].why, err.text);
	ck_assert_str_eq(rs.name, "untouched");
}
END_TEST

START_TEST(too_long_rows)
{
	struct ruleset rs;
	struct err err = { 0 };
	char text[400];

	str_fmt(
	    text, sizeof(text), HEAD "[raw days]\nvalue = 2\n%s", too_long[_i]);
	ck_assert_int_eq(parse_text(&rs, text, &err), RC_INVALID);
	ck_assert_msg(strstr(err.text, "too long") != NULL, "%s", err.text);
}
END_TEST

Suite *
suite_core_ruleset(void)
{
	Suite *s = suite_create("core_ruleset");
	TCase *tc = tcase_create("ruleset");

	tcase_set_timeout(tc, 30); /* the meeting walks every pair of sets */
	tcase_add_loop_test(tc, figure_rows, 0, (int)NELEM(figures));
	tcase_add_test(tc, no_other_figure);
	tcase_add_test(tc, exempt_words_exist);
	tcase_add_loop_test(tc, strict_rows, 0, (int)NELEM(strict));
	tcase_add_test(tc, strictest_is_a_meeting);
	tcase_add_loop_test(tc, silence_is_kept, 0, 2);
	tcase_add_loop_test(tc, file_rows, 0, (int)NELEM(files));
	tcase_add_loop_test(tc, too_long_rows, 0, (int)NELEM(too_long));
	suite_add_tcase(s, tc);
	return s;
}
