/*
 * test_ops_papers.c - a delivery's record against each law's list, with the
 * worked examples of those laws; the source beside each.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "kitchen.h"
#include "ops/papers.h"

static struct kitchen k;

static void
setup(void)
{
	kitchen_open(&k);
	kitchen_at(&k, "2026-11-25T09:00");
}

static void
teardown(void)
{
	kitchen_close(&k);
}

/* Missing lines of one law, each as "datum " in `words`. */
static size_t
missing_of(char words[400], const char *code, const char *rule)
{
	struct papers_report r;
	const struct paper_line *l;
	struct err err = { 0 };
	size_t i, n = 0, len = 0;

	words[0] = '\0';
	ck_assert_msg(
	    papers_load(&r, k.sn, code, true, &err) == RC_OK, "%s", err.text);
	ck_assert_uint_eq(r.count, 1);
	for (i = 0; i < r.items[0].line_count; i++) {
		l = &r.items[0].lines[i];
		if (l->state != PAPER_MISSING ||
		    strncmp(l->rule, rule, strlen(rule)) != 0)
			continue;
		n++;
		str_fmt(
		    words + len, 400 - len, "%s ", paper_datum_word(l->datum));
		len = strlen(words);
	}
	free(r.items);
	return n;
}

#define R178 "Reg. (EC) 178/2002"
#define R931 "Reg. (EU) 931/2011"
#define R1224 "Reg. (EC) 1224/2009"
#define R1379 "Reg. (EU) 1379/2013"
#define US "21 CFR 1.1345"

static void
say(const char *code, const char *datum, const char *value)
{
	struct err err = { 0 };

	ck_assert_msg(papers_say(k.sn, code, datum, value, "EF", &err) == RC_OK,
	    "%s", err.text);
}

/* Everything the papers can say. */
static struct batch
full(void)
{
	struct receive_in in = kitchen_cod();
	struct batch b;

	str_copy(k.sn->cfg.address, sizeof(k.sn->cfg.address),
	    "4 Slip Lane, Fairhaven");
	in.dispatched = "2026-11-24";
	in.caught = "2026-11-23";
	in.gear = "Hooks and lines";
	in.vessel = "Kittiwake FH 12";
	in.supplier_date = "2026-11-28";
	b = kitchen_receive(&k, &in);
	say(b.code, "frozen", "never");
	say(b.code, "lot-source", "the supplier");
	say(b.code, "document-type", "delivery note");
	return b;
}

/* "receipt with all of 1.1345(a)(1)-(8): complete" (21 CFR 1.1345(a),
 * law.lawstack.com), and every other law with it. */
START_TEST(complete)
{
	static const char *const laws[] = { R178, R931, R1224, R1379, US };
	struct batch b = full();
	char words[400];
	size_t i;

	for (i = 0; i < NELEM(laws); i++)
		ck_assert_msg(missing_of(words, b.code, laws[i]) == 0, "%s: %s",
		    laws[i], words);
}
END_TEST

/* Dropping any one that can be left out makes it incomplete. */
static const struct {
	const char *why; /* source */
	const char *sql; /* takes it out of the record */
	const char *rule, *says;
} drops[] = {
	{ "(a)(1) lot code, 21 CFR 1.1345(a)", "UPDATE batch SET lot = ''", US,
	    "lot " },
	{ "(a)(3) description: of what species is not known",
	    "UPDATE batch SET species = 'ZZZ'", R1379,
	    "commercial-name scientific-name " },
	{ "(a)(4) immediate previous source, 21 CFR 1.1345(a)",
	    "UPDATE supplier SET address = ''", US, "dispatcher " },
	{ "(a)(7) lot-code source, 21 CFR 1.1345(a)",
	    "DELETE FROM paper WHERE datum = 'lot-source'", US, "lot-source " },
	{ "(a)(8) document type and number, 21 CFR 1.1345(a)",
	    "DELETE FROM paper WHERE datum = 'document-type'", US,
	    "document-type " },
	{ "g lot reference, Reg. 931/2011 Art. 3 (pig333.com copy)",
	    "UPDATE batch SET lot = ''", R931, "lot " },
	{ "h date of dispatch, Reg. 931/2011 Art. 3 (pig333.com copy)",
	    "UPDATE batch SET dispatched_day = NULL", R931, "dispatched " },
	{ "c dispatching business, Reg. 931/2011 Art. 3",
	    "UPDATE supplier SET address = ''", R931, "dispatcher " },
	{ "who supplied it, Reg. 178/2002 Art. 18 (FSA training)",
	    "UPDATE supplier SET address = ''", R178, "dispatcher " },
	{ "scientific name, Reg. 1379/2013 Art. 35 (legislation.gov.uk)",
	    "UPDATE batch SET species = 'ZZZ'", R1379,
	    "commercial-name scientific-name " },
	{ "gear category, Reg. 1379/2013 Art. 35",
	    "UPDATE batch SET gear = 'nets'", R1379, "gear " },
	{ "area: FAO 27 alone is too wide, Reg. 1379/2013 Art. 38",
	    "UPDATE batch SET area = '27'", R1379, "area " },
	{ "defrosted: nobody said, Reg. 1379/2013 Art. 35(1)(d)",
	    "DELETE FROM paper WHERE datum = 'frozen'", R1379, "frozen " },
	{ "vessel, Reg. 1224/2009 Art. 58 as Seafish lists it",
	    "UPDATE batch SET vessel = ''", R1224, "vessel " },
	{ "date of catch, Reg. 1224/2009 Art. 58 as Seafish lists it",
	    "UPDATE batch SET caught_day = NULL", R1224, "caught " },
	{ "previously frozen, Reg. 1224/2009 Art. 58 as Seafish lists it",
	    "DELETE FROM paper WHERE datum = 'frozen'", R1224, "frozen " },
};

START_TEST(drop_rows)
{
	struct batch b = full();
	char words[400];

	ck_assert_int_eq(kitchen_sql(k.db, drops[_i].sql), 0);
	missing_of(words, b.code, drops[_i].rule);
	ck_assert_msg(str_eq(words, drops[_i].says), "%s: %s missing",
	    drops[_i].why, words);
}
END_TEST

/* (a)(5) place received and (e) receiving business: the kitchen's own. */
START_TEST(own_address)
{
	struct batch b = full();
	char words[400];

	str_copy(k.sn->cfg.address, sizeof(k.sn->cfg.address), "none");
	missing_of(words, b.code, US);
	ck_assert_str_eq(words, "receiver ");
	missing_of(words, b.code, R931);
	ck_assert_str_eq(words, "receiver ");
}
END_TEST

/* "receipt from an exempt supplier without lot code, restaurant: complete
 * under (b)" (21 CFR 1.1345(b), law.lawstack.com). */
START_TEST(exempt_supplier)
{
	struct batch b = full();
	char words[400];

	ck_assert_int_eq(kitchen_sql(k.db,
			     "UPDATE batch SET lot = '';"
			     "DELETE FROM paper WHERE datum = 'lot-source'"),
	    0);
	ck_assert_uint_eq(missing_of(words, b.code, US), 2);
	say(b.code, "supplier-exempt", "a farm below the threshold");
	ck_assert_uint_eq(missing_of(words, b.code, US), 0);
	/* 931/2011 still asks for it. */
	ck_assert_uint_eq(missing_of(words, b.code, R931), 1);
}
END_TEST

/* Freezing, Reg. 1379/2013 Art. 35(1)(d) and its four exceptions
 * (legislation.gov.uk): defrosted and said so; smoked fish made from defrosted
 * fish; sushi fish frozen only for parasites; none of them is missing. */
START_TEST(defrosted_rows)
{
	static const char *const words[] = { "never", "stated", "ingredient",
		"necessary", "parasites", "then-cured" };
	struct batch b = full();
	char missing[400];

	say(b.code, "frozen", words[_i]);
	ck_assert_uint_eq(missing_of(missing, b.code, R1379), 0);
}
END_TEST

/* "consignor equal to dispatcher: d not needed" (Reg. 931/2011 Art. 3); one
 * that differs is there once its name was said. */
START_TEST(consignor)
{
	struct batch b = full();
	struct papers_report r;
	int i;

	for (i = 0; i < 2; i++) {
		ck_assert_int_eq(
		    papers_load(&r, k.sn, b.code, true, NULL), RC_OK);
		/* behind the three lines of 178/2002 */
		ck_assert_str_eq(r.items[0].lines[6].field, "d");
		ck_assert_int_eq(r.items[0].lines[6].state,
		    i == 0 ? PAPER_NOT_NEEDED : PAPER_HAVE);
		free(r.items);
		if (i == 0)
			say(b.code, "consignor", "Outer Bank Fish, Holm");
	}
}
END_TEST

/* Which laws are shown follows the rule set in force. */
START_TEST(rule_sets)
{
	static const struct {
		const char *set;
		size_t lines;
	} rows[] = {
		{ "eu", 3 + 8 + 11 + 7 },
		{ "england", 3 + 8 + 11 + 7 },
		{ "us-food-code", 8 },
		{ "strict", 3 + 8 + 11 + 7 + 8 },
		{ "some other", 3 + 8 + 11 + 7 + 8 },
	};
	struct batch b = full();
	struct papers_report r;

	str_copy(
	    k.sn->rules.set.name, sizeof(k.sn->rules.set.name), rows[_i].set);
	ck_assert_int_eq(papers_load(&r, k.sn, b.code, false, NULL), RC_OK);
	ck_assert_uint_eq(r.items[0].line_count, rows[_i].lines);
	free(r.items);
}
END_TEST

/* By code, day and document. */
START_TEST(asked)
{
	static const char *const of[] = { "2026-11-25", "DN 4471" };
	struct batch b = full();
	struct papers_report r;
	struct err err = { 0 };
	size_t i;

	(void)full();
	for (i = 0; i < NELEM(of); i++) {
		ck_assert_int_eq(
		    papers_load(&r, k.sn, of[i], true, NULL), RC_OK);
		ck_assert_uint_eq(r.count, 2);
		ck_assert_str_eq(r.items[0].batch.code, b.code);
		free(r.items);
	}
	ck_assert_int_eq(
	    papers_load(&r, k.sn, "DN 9", true, &err), RC_NOTFOUND);
}
END_TEST

/* What goods in recorded is not said again, nor nonsense. */
static const struct {
	const char *datum, *value;
	enum rc rc;
	const char *says;
} bad[] = {
	{ "lot", "L-78", RC_INVALID, "cannot be said later" },
	{ "colour", "blue", RC_INVALID, "cannot be said later" },
	{ "vessel", "Other", RC_INVALID, "recorded already" },
	{ "dispatched", "2026-11-20", RC_INVALID, "recorded already" },
	{ "dispatched", "2026-11-31", RC_INVALID, "dispatched" },
	{ "dispatched", "2026-12-01", RC_INVALID, "not past yet" },
	{ "frozen", "maybe", RC_INVALID, "never, stated" },
	{ "gear", "nets", RC_INVALID, "ask the supplier" },
	{ "consignor", "", RC_INVALID, "consignor" },
};

START_TEST(bad_rows)
{
	struct batch b = full();
	int64_t rows = kitchen_records(&k);
	struct err err = { 0 };

	ck_assert_int_eq(
	    papers_say(k.sn, b.code, bad[_i].datum, bad[_i].value, "EF", &err),
	    bad[_i].rc);
	ck_assert_msg(strstr(err.text, bad[_i].says) != NULL, "%s", err.text);
	ck_assert_int_eq(kitchen_records(&k), rows);
}
END_TEST

Suite *
suite_ops_papers(void)
{
	Suite *s = suite_create("ops_papers");
	TCase *tc = tcase_create("all");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_test(tc, complete);
	tcase_add_loop_test(tc, drop_rows, 0, NELEM(drops));
	tcase_add_test(tc, own_address);
	tcase_add_test(tc, exempt_supplier);
	tcase_add_loop_test(tc, defrosted_rows, 0, 6);
	tcase_add_test(tc, consignor);
	tcase_add_loop_test(tc, rule_sets, 0, 5);
	tcase_add_test(tc, asked);
	tcase_add_loop_test(tc, bad_rows, 0, NELEM(bad));
	suite_add_tcase(s, tc);
	return s;
}
