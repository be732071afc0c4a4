/*
 * test_ops_rules.c - the rule set in force: found by name, the strictest of
 * others, tightened by the house and by the settings, named by its digest.
 */
#include "unit.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "base/file.h"
#include "base/str.h"
#include "kitchen.h"
#include "ops/rules.h"
#include "useby_facts.h"

/* The settings of the kitchen, with lines of our own appended. */
static void
settings(struct config *cfg, struct kitchen *k, const char *more)
{
	struct err err = { 0 };
	struct buf b;
	char path[320];

	kitchen_make(k, true);
	buf_init(&b, 65536);
	ck_assert_int_eq(file_read(&b, k->ini, NULL), RC_OK);
	buf_puts(&b, more);
	kitchen_write(path, k, "station.ini", buf_text(&b));
	buf_fini(&b);
	ck_assert_msg(config_load(cfg, path, &err) == RC_OK, "%s", err.text);
}

/* The settings with a house file of this text. */
static void
with_house(struct config *cfg, struct kitchen *k, const char *text)
{
	char path[320];

	settings(cfg, k, "[rules]\nset = us-food-code\nhouse_file = h.ini\n");
	kitchen_write(path, k, "h.ini", text);
}

START_TEST(shipped)
{
	struct config cfg;
	struct kitchen k;
	struct rules r, by_name, other;
	struct ruleset rs;
	struct err err = { 0 };
	size_t i;
	int id;

	settings(&cfg, &k, "");
	/* The settings' own set is the strict one. */
	ck_assert_msg(
	    rules_load(&r, &cfg, NULL, &err) == RC_OK, "%s", err.text);
	ck_assert_str_eq(r.set.name, "strict");
	for (i = 0; i < RULE_SETS; i++) {
		ck_assert_int_eq(
		    rules_load(&by_name, &cfg, rule_set_names[i], &err), RC_OK);
		ck_assert_str_eq(by_name.set.name, rule_set_names[i]);
		ck_assert_uint_eq(strlen(by_name.digest), 64);
		rules_shipped(&rs, rule_set_names[i]);
		for (id = 0; id < FIGURE_COUNT; id++)
			ck_assert(
			    rs.figures[id].set == by_name.set.figures[id].set &&
			    rs.figures[id].value ==
				by_name.set.figures[id].value &&
			    str_eq(rs.figures[id].words,
				by_name.set.figures[id].words));
		/* The same figures, the same digest; others, another. */
		ck_assert_int_eq(rules_load(&other, &cfg,
				     rule_set_names[(i + 1) % RULE_SETS], &err),
		    RC_OK);
		ck_assert_str_ne(by_name.digest, other.digest);
		ck_assert_int_eq(
		    rules_load(&other, &cfg, rule_set_names[i], &err), RC_OK);
		ck_assert_str_eq(by_name.digest, other.digest);
	}
	ck_assert_str_eq(r.digest, by_name.digest);
	kitchen_close(&k);
}
END_TEST

/* clang-format off */
static const struct {
	const char *name;
	enum rc rc;
	const char *says;
} names[] = {
	{ "scotland", RC_NOTFOUND, "no rule set \"scotland\"" },
	{ "scotland", RC_NOTFOUND, "strict, england, eu and us-food-code" },
	{ "", RC_NOTFOUND, "no rule set \"\"" },
	{ "../rules/eu", RC_INVALID, "no name of a rule set" },
	{ ".", RC_INVALID, "no name of a rule set" },
	{ "/etc/passwd", RC_INVALID, "no name of a rule set" },
	{ "eu.ini", RC_NOTFOUND, "no rule set \"eu.ini\"" },
	{ "eu\n", RC_NOTFOUND, "no rule set \"eu?\"" },
};
/* clang-format on */

START_TEST(name_rows)
{
	struct config cfg;
	struct kitchen k;
	struct rules r;
	struct err err = { 0 };

	settings(&cfg, &k, "");
	ck_assert_int_eq(
	    rules_load(&r, &cfg, names[_i].name, &err), names[_i].rc);
	ck_assert_msg(strstr(err.text, names[_i].says) != NULL, "%s", err.text);
	kitchen_close(&k);
}
END_TEST

/* --- rule files of one's own -----------------------------------------------*/

#define SET(name) "[rule set]\nname = " name "\ntitle = Own\n"
#define DAYS(n) "[cooked days]\nvalue = " n "\nsource = A law\n"

/* clang-format off */
static const struct {
	const char *why;
	const char *a, *b; /* rules/a.ini, rules/b.ini */
	enum rc rc;
	const char *says; /* NULL: cooked days are 3 */
} own[] = {
	{ "a set of one's own", SET("a") DAYS("3"), SET("b") DAYS("5"),
	    RC_OK, NULL },
	{ "the strictest of one", SET("a") "strictest of = b\n",
	    SET("b") DAYS("3"), RC_OK, NULL },
	{ "with blanks between the names", SET("a") "strictest of = b  b\n",
	    SET("b") DAYS("3"), RC_OK, NULL },
	{ "the strictest of the strictest", SET("a") "strictest of = b\n",
	    SET("b") "strictest of = a\n", RC_INVALID,
	    "must name sets with figures" },
	{ "the strictest of itself", SET("a") "strictest of = a\n",
	    SET("b") DAYS("3"), RC_INVALID, "must name sets with figures" },
	{ "the strictest of one that is missing",
	    SET("a") "strictest of = b c\n", SET("b") DAYS("3"), RC_NOTFOUND,
	    "no rule set \"c\"" },
	{ "the strictest of one that is wrong", SET("a") "strictest of = b\n",
	    SET("b") DAYS("x"), RC_INVALID, "b.ini: [cooked days] value = x" },
	{ "a copy that was not renamed", SET("eu") DAYS("3"),
	    SET("b") DAYS("3"), RC_INVALID, "name" },
	{ "a source that a semicolon cuts", SET("a")
	    "[cooked days]\nvalue = 3\nsource = A law; as amended\n",
	    SET("b") DAYS("3"), RC_INVALID, "a.ini:6" },
};
/* clang-format on */

START_TEST(own_rows)
{
	struct config cfg;
	struct kitchen k;
	struct rules r;
	struct err err = { 0 };
	char path[320];
	enum rc rc;

	settings(&cfg, &k, "");
	ck_assert(str_fmt(path, sizeof(path), "%s/rules", k.folder));
	ck_assert_int_eq(mkdir(path, 0700), 0);
	kitchen_write(path, &k, "rules/a.ini", own[_i].a);
	kitchen_write(path, &k, "rules/b.ini", own[_i].b);
	str_copy(cfg.data_folder, sizeof(cfg.data_folder), k.folder);
	rc = rules_load(&r, &cfg, "a", &err);
	ck_assert_msg(
	    rc == own[_i].rc, "%s: %s %s", own[_i].why, rc_word(rc), err.text);
	if (own[_i].says == NULL)
		ck_assert_int_eq(r.set.figures[FIG_COOKED_DAYS].value, 3);
	else
		ck_assert_msg(
		    strstr(err.text, own[_i].says) != NULL, "%s", err.text);
	kitchen_close(&k);
}
END_TEST

/* --- the house -------------------------------------------------------------*/

START_TEST(house_tightens)
{
	struct config cfg;
	struct kitchen k;
	struct rules r, law;
	struct err err = { 0 };
	const struct figure *f = &r.set.figures[FIG_COOKED_DAYS];

	with_house(&cfg, &k,
	    "[cooked days]\nvalue = 4\nsource = our plan of 2026\n"
	    "[life MAC]\nraw_days = 1\ncooked_days = 2\n"
	    "[life cod]\nserved_raw_days = 1\n");
	ck_assert_msg(
	    rules_load(&r, &cfg, NULL, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(f->value, 4);
	ck_assert_str_eq(f->set_name, "house");
	ck_assert_str_eq(f->source, "our plan of 2026");
	ck_assert_int_eq(r.set.figures[FIG_THAWED_DAYS].value, 7);
	ck_assert_uint_eq(r.life_count, 2);
	ck_assert_int_eq(house_days(&cfg, &r, "MAC", STATE_RAW), 1);
	ck_assert_int_eq(house_days(&cfg, &r, "MAC", STATE_COOKED), 2);
	ck_assert_int_eq(
	    house_days(&cfg, &r, "MAC", STATE_LIVE), cfg.live_days);
	ck_assert_int_eq(house_days(&cfg, &r, "COD", STATE_RAW), 2);
	ck_assert_int_eq(house_days(&cfg, &r, "", STATE_COOKED), 3);
	/* The digest is another: a date made with it can be told. */
	str_copy(cfg.house_file, sizeof(cfg.house_file), "none");
	ck_assert_int_eq(rules_load(&law, &cfg, NULL, NULL), RC_OK);
	ck_assert_str_ne(law.digest, r.digest);
	ck_assert_uint_eq(law.life_count, 0);
	kitchen_close(&k);
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	const char *text;
	enum rc rc;
	const char *says, *also;
} houses[] = {
	{ "longer than the law", "[cooked days]\nvalue = 8\n", RC_REFUSED,
	    "h.ini: [cooked days]: the house's 8 days", "7 days of rule set" },
	{ "warmer than the law", "[chill max c]\nvalue = 8\n", RC_REFUSED,
	    "the house's 8.0 C", "5.0 C" },
	{ "freezing for less", "[parasite freeze hours]\nvalue = 24\n",
	    RC_REFUSED, "the house's 24 hours", "168 hours" },
	{ "one more exemption",
	    "[parasite exempt species]\nvalue = ALB YFT BFT SAL\n",
	    RC_REFUSED, "ALB YFT BFT SAL", "loosen ALB YFT BFT of" },
	{ "the good one first does not help",
	    "[thawed days]\nvalue = 2\n[cooked days]\nvalue = 8\n",
	    RC_REFUSED, "8 days", "7 days" },
	{ "a figure that is none", "[boiled days]\nvalue = 1\n", RC_INVALID,
	    "h.ini: [boiled days]", "figure" },
	{ "a life longer than the general one", "[life COD]\nraw_days = 3\n",
	    RC_REFUSED, "[life cod] raw_days = 3", "2 days" },
	{ "a life of no state", "[life COD]\nboiled_days = 1\n", RC_INVALID,
	    "[life cod] boiled_days", "CODE" },
	{ "a life of no days", "[life COD]\nraw_days = 0\n", RC_INVALID,
	    "raw_days = 0", "CODE" },
	{ "a life in words", "[life COD]\nraw_days = one\n", RC_INVALID,
	    "raw_days = one", "CODE" },
	{ "a life of a name", "[life cod fish]\nraw_days = 1\n", RC_INVALID,
	    "[life cod fish]", "CODE" },
	{ "a life of two letters", "[life CO]\nraw_days = 1\n", RC_INVALID,
	    "[life co]", "CODE" },
	{ "a comment behind a figure", "[cooked days]\nvalue = 1 ; mussels\n",
	    RC_INVALID, "h.ini:2", "" },
	{ "a source without a figure", "[cooked days]\nsource = plan\n",
	    RC_INVALID, "[cooked days]", "value" },
	{ "no ini file", "cooked days: 1\n", RC_INVALID, "h.ini", "" },
};
/* clang-format on */

START_TEST(house_rows)
{
	struct config cfg;
	struct kitchen k;
	struct rules r;
	struct err err = { 0 };
	enum rc rc;

	with_house(&cfg, &k, houses[_i].text);
	rc = rules_load(&r, &cfg, NULL, &err);
	ck_assert_msg(
	    rc == houses[_i].rc, "%s: %s", houses[_i].why, rc_word(rc));
	ck_assert_msg(strstr(err.text, houses[_i].says) != NULL &&
		strstr(err.text, houses[_i].also) != NULL,
	    "%s: %s", houses[_i].why, err.text);
	kitchen_close(&k);
}
END_TEST

/* A house file that was named and is not there is not "no house file". */
START_TEST(house_missing)
{
	struct config cfg;
	struct kitchen k;
	struct rules r;
	struct err err = { 0 };

	settings(&cfg, &k, "[rules]\nhouse_file = gone.ini\n");
	ck_assert_int_eq(rules_load(&r, &cfg, NULL, &err), RC_NOTFOUND);
	ck_assert(strstr(err.text, "gone.ini") != NULL);
	kitchen_close(&k);
}
END_TEST

/* More species than there is room for: said, not dropped. */
START_TEST(house_many_lives)
{
	struct config cfg;
	struct kitchen k;
	struct rules r;
	struct err err = { 0 };
	struct buf b;
	int i;

	buf_init(&b, 65536);
	for (i = 0; i <= SPECIES_LIVES_MAX; i++)
		buf_printf(&b, "[life %c%cX]\nraw_days = 1\n", 'A' + i % 26,
		    'A' + i / 26);
	with_house(&cfg, &k, buf_text(&b));
	buf_fini(&b);
	ck_assert_int_eq(rules_load(&r, &cfg, NULL, &err), RC_INVALID);
	ck_assert_msg(strstr(err.text, "64") != NULL, "%s", err.text);
	kitchen_close(&k);
}
END_TEST

/* --- the settings ----------------------------------------------------------*/

/* clang-format off */
static const struct {
	const char *why;
	const char *set;
	size_t field; /* of struct config, an int */
	int value;
	const char *says, *law; /* NULL: accepted */
} loose[] = {
	{ "cooked, as the law", "us-food-code",
	    offsetof(struct config, cooked_days), 7, NULL, NULL },
	{ "cooked", "us-food-code", offsetof(struct config, cooked_days), 8,
	    "cooked_days = 8", "7 days" },
	{ "served raw", "us-food-code",
	    offsetof(struct config, served_raw_days), 8,
	    "served_raw_days = 8", "7 days" },
	{ "thawed", "us-food-code", offsetof(struct config, thawed_days), 8,
	    "thawed_days = 8", "7 days" },
	{ "pack, as the law", "england", offsetof(struct config, vacuum_days),
	    10, NULL, NULL },
	{ "pack", "england", offsetof(struct config, vacuum_days), 11,
	    "vacuum_days = 11", "10 days" },
	{ "pack under the strictest", "strict",
	    offsetof(struct config, vacuum_days), 11, "vacuum_days = 11",
	    "10 days" },
	{ "a law without the figure", "eu",
	    offsetof(struct config, vacuum_days), 30, NULL, NULL },
	{ "goods in, as the law", "strict",
	    offsetof(struct config, refuse_above_dc), 50, NULL, NULL },
	{ "goods in", "strict", offsetof(struct config, refuse_above_dc), 51,
	    "refuse_above_c = 5.1 C", "5.0 C" },
	{ "live goods in", "strict",
	    offsetof(struct config, live_refuse_above_dc), 71,
	    "live_refuse_above_c = 7.1 C", "7.0 C" },
};
/* clang-format on */

START_TEST(loose_rows)
{
	struct config cfg;
	struct kitchen k;
	struct rules r;
	struct err err = { 0 };
	enum rc rc;

	settings(&cfg, &k, "");
	memcpy((char *)&cfg + loose[_i].field, &loose[_i].value, sizeof(int));
	rc = rules_load(&r, &cfg, loose[_i].set, &err);
	ck_assert_msg(rc == (loose[_i].says == NULL ? RC_OK : RC_REFUSED),
	    "%s: %s %s", loose[_i].why, rc_word(rc), err.text);
	if (loose[_i].says != NULL)
		ck_assert_msg(strstr(err.text, loose[_i].says) != NULL &&
			strstr(err.text, loose[_i].law) != NULL &&
			strstr(err.text, "station.ini") != NULL,
		    "%s", err.text);
	kitchen_close(&k);
}
END_TEST

/* A house figure tighter than the settings' own: which of them is to change
 * is said. */
START_TEST(settings_against_house)
{
	struct config cfg;
	struct kitchen k;
	struct rules r;
	struct err err = { 0 };

	with_house(&cfg, &k, "[cooked days]\nvalue = 2\n");
	ck_assert_int_eq(rules_load(&r, &cfg, NULL, &err), RC_REFUSED);
	ck_assert_msg(strstr(err.text,
			  "cooked_days = 3 would loosen 2 days "
			  "(rule set house") != NULL,
	    "%s", err.text);
	kitchen_close(&k);
}
END_TEST

Suite *
suite_ops_rules(void)
{
	Suite *s = suite_create("ops_rules");
	TCase *tc = tcase_create("rules");

	tcase_add_test(tc, shipped);
	tcase_add_loop_test(tc, name_rows, 0, (int)NELEM(names));
	tcase_add_loop_test(tc, own_rows, 0, (int)NELEM(own));
	tcase_add_test(tc, house_tightens);
	tcase_add_loop_test(tc, house_rows, 0, (int)NELEM(houses));
	tcase_add_test(tc, house_missing);
	tcase_add_test(tc, house_many_lives);
	tcase_add_loop_test(tc, loose_rows, 0, (int)NELEM(loose));
	tcase_add_test(tc, settings_against_house);
	suite_add_tcase(s, tc);
	return s;
}
