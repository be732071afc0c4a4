/*
 * test_core_papers.c - completeness of the goods-in record: the published
 * lists, dropping one field at a time, and the worked examples.
 */
#include "unit.h"

#include <string.h>

#include "core/papers.h"

/* Everything on the table, nothing exempt. */
static struct papers
full(void)
{
	struct papers p;

	memset(&p, 0, sizeof(p));
	p.description = p.quantity = p.dispatcher = p.receiver = true;
	p.owner_differs = p.consignor = true;
	p.consignee_differs = p.consignee = true;
	p.lot = p.dispatched = p.received = true;
	p.commercial_name = p.scientific_name = true;
	p.method = METHOD_CAUGHT;
	p.area = p.gear = true;
	p.frozen = FROZEN_NEVER;
	p.durability_due = p.durability = true;
	p.came_from = p.came_to = p.lot_source = p.document = true;
	p.restaurant = true;
	return p;
}

static size_t
missing(const struct papers *p, unsigned rules)
{
	struct paper_line lines[PAPERS_LINES_MAX];

	return papers_missing(lines, papers_check(lines, p, rules));
}

/* The lines of one rule with nothing left out: letters and count. */
static const struct {
	const char *why; /* source */
	unsigned rule;
	size_t lines;
	const char *letters;
} lists[] = {
	{ "Reg. (EU) 931/2011 Art. 3 (pig333.com copy): a-h", PAPERS_EU_931, 8,
	    "abcdefgh" },
	{ "Reg. (EU) 1379/2013 Art. 35 (legislation.gov.uk): a-e",
	    PAPERS_EU_1379, 7, "aabccde" },
	{ "21 CFR 1.1345(a) (law.lawstack.com): (1)-(8)", PAPERS_US_1345, 8,
	    "(1)(2)(3)(4)(5)(6)(7)(8)" },
};

START_TEST(list_rows)
{
	struct paper_line lines[PAPERS_LINES_MAX];
	struct papers p = full();
	const char *want = lists[_i].letters;
	size_t i, n;

	n = papers_check(lines, &p, lists[_i].rule);
	ck_assert_msg(n == lists[_i].lines, "%s", lists[_i].why);
	ck_assert_uint_eq(papers_missing(lines, n), 0);
	for (i = 0; i < n; i++) {
		ck_assert_int_eq(lines[i].state, PAPER_HAVE);
		ck_assert_int_eq(
		    strncmp(want, lines[i].field, strlen(lines[i].field)), 0);
		want += strlen(lines[i].field);
	}
	ck_assert_str_eq(want, "");
}
END_TEST

/* Each field dropped alone: which line of which rule it is missed by. */
#define DROP(member) offsetof(struct papers, member)
#define ALL (PAPERS_EU_931 | PAPERS_EU_1379 | PAPERS_US_1345)

static const struct {
	size_t drop;
	const char *eu931, *eu1379, *us; /* letter, NULL: not asked there */
} drops[] = {
	{ DROP(description), "a", NULL, "(3)" },
	{ DROP(quantity), "b", NULL, "(2)" },
	{ DROP(dispatcher), "c", NULL, NULL },
	{ DROP(consignor), "d", NULL, NULL },
	{ DROP(receiver), "e", NULL, NULL },
	{ DROP(consignee), "f", NULL, NULL },
	{ DROP(lot), "g", NULL, "(1)" },
	{ DROP(dispatched), "h", NULL, NULL },
	{ DROP(commercial_name), NULL, "a", NULL },
	{ DROP(scientific_name), NULL, "a", NULL },
	{ DROP(area), NULL, "c", NULL },
	{ DROP(gear), NULL, "c", NULL },
	{ DROP(durability), NULL, "e", NULL },
	{ DROP(came_from), NULL, NULL, "(4)" },
	{ DROP(came_to), NULL, NULL, "(5)" },
	{ DROP(received), NULL, NULL, "(6)" },
	{ DROP(lot_source), NULL, NULL, "(7)" },
	{ DROP(document), NULL, NULL, "(8)" },
};

static void
one_missing(const struct papers *p, unsigned rule, const char *field)
{
	struct paper_line lines[PAPERS_LINES_MAX];
	size_t i, n, found = 0;

	n = papers_check(lines, p, rule);
	for (i = 0; i < n; i++) {
		if (lines[i].state != PAPER_MISSING)
			continue;
		ck_assert_ptr_nonnull(field);
		ck_assert_str_eq(lines[i].field, field);
		ck_assert(lines[i].words[0] != '\0');
		found++;
	}
	ck_assert_uint_eq(found, field == NULL ? 0 : 1);
}

START_TEST(drop_rows)
{
	struct papers p = full();

	*(bool *)((char *)&p + drops[_i].drop) = false;
	one_missing(&p, PAPERS_EU_931, drops[_i].eu931);
	one_missing(&p, PAPERS_EU_1379, drops[_i].eu1379);
	one_missing(&p, PAPERS_US_1345, drops[_i].us);
}
END_TEST

/* Worked examples; the source in `why`. */
START_TEST(us_exempt_supplier)
{
	struct papers p = full();

	/* 21 CFR 1.1345(b): a restaurant need not assign a lot code. */
	p.supplier_exempt = true;
	p.lot = p.lot_source = false;
	ck_assert_uint_eq(missing(&p, PAPERS_US_1345), 0);
	p.restaurant = false;
	ck_assert_uint_eq(missing(&p, PAPERS_US_1345), 1);
	p.restaurant = true;
	p.came_to = false;
	ck_assert_uint_eq(missing(&p, PAPERS_US_1345), 1);
	/* The same record from a supplier inside the rule is incomplete. */
	p = full();
	p.lot = p.lot_source = false;
	ck_assert_uint_eq(missing(&p, PAPERS_US_1345), 2);
}
END_TEST

START_TEST(us_first_receiver)
{
	struct paper_line lines[PAPERS_LINES_MAX];
	struct papers p;

	memset(&p, 0, sizeof(p));
	p.first_receiver = true;
	ck_assert_uint_eq(papers_check(lines, &p, PAPERS_US_1345), 1);
	ck_assert_int_eq(lines[0].state, PAPER_NOT_NEEDED);
	ck_assert_ptr_nonnull(strstr(lines[0].words, "not checked here"));
}
END_TEST

START_TEST(same_consignor)
{
	struct papers p = full();

	/* Reg. (EU) 931/2011: d and f only when different. */
	p.owner_differs = p.consignor = false;
	p.consignee_differs = p.consignee = false;
	ck_assert_uint_eq(missing(&p, PAPERS_EU_931), 0);
}
END_TEST

/* Art. 35(1)(d) and its exceptions. */
static const struct {
	const char *why;
	enum papers_frozen frozen;
	enum paper_state state;
} frozen[] = {
	{ "nobody said", FROZEN_UNKNOWN, PAPER_MISSING },
	{ "never frozen", FROZEN_NEVER, PAPER_HAVE },
	{ "said to be", FROZEN_STATED, PAPER_HAVE },
	{ "ingredient", FROZEN_INGREDIENT, PAPER_NOT_NEEDED },
	{ "necessary step", FROZEN_NECESSARY, PAPER_NOT_NEEDED },
	{ "sushi fish", FROZEN_PARASITES, PAPER_NOT_NEEDED },
	{ "smoked from defrosted", FROZEN_THEN_CURED, PAPER_NOT_NEEDED },
};

START_TEST(frozen_rows)
{
	struct paper_line lines[PAPERS_LINES_MAX];
	struct papers p = full();
	size_t i, n, found = 0;

	p.frozen = frozen[_i].frozen;
	n = papers_check(lines, &p, PAPERS_EU_1379);
	for (i = 0; i < n; i++) {
		if (strcmp(lines[i].field, "d") != 0)
			continue;
		ck_assert_msg(
		    lines[i].state == frozen[_i].state, "%s", frozen[_i].why);
		found++;
	}
	ck_assert_uint_eq(found, 1);
}
END_TEST

START_TEST(method_and_area)
{
	struct papers p = full();

	/* Gear is asked of captured fish; an unknown method asks for both. */
	p.method = METHOD_FARMED;
	p.gear = false;
	ck_assert_uint_eq(missing(&p, PAPERS_EU_1379), 0);
	p.method = METHOD_CAUGHT_FRESHWATER;
	ck_assert_uint_eq(missing(&p, PAPERS_EU_1379), 1);
	p.method = METHOD_UNKNOWN;
	ck_assert_uint_eq(missing(&p, PAPERS_EU_1379), 2);
	/* Art. 38: FAO 27 alone will not do. */
	p = full();
	p.area_too_wide = true;
	one_missing(&p, PAPERS_EU_1379, "c");
	p = full();
	p.durability_due = p.durability = false;
	ck_assert_uint_eq(missing(&p, PAPERS_EU_1379), 0);
}
END_TEST

START_TEST(nothing_at_all)
{
	struct paper_line lines[PAPERS_LINES_MAX];
	struct papers p;

	memset(&p, 0, sizeof(p));
	ck_assert_uint_eq(papers_check(lines, &p, ALL), 23);
	/* All but d, f (no other owner is known of) and e of 1379. */
	ck_assert_uint_eq(papers_missing(lines, 23), 20);
	ck_assert_uint_eq(papers_check(lines, &p, 0), 0);
}
END_TEST

/* 21 CFR 1.1310 and 1.1345 give the first three as examples. */
static const struct {
	const char *text;
	int64_t thousandths;
	const char *unit; /* NULL: refused */
} quantities[] = {
	{ "6 cases", 6000, "cases" },
	{ "25 reusable plastic containers", 25000,
	    "reusable plastic containers" },
	{ "200 pounds", 200000, "pounds" },
	{ "12.5 kg", 12500, "kg" },
	{ "12,5kg", 12500, "kg" },
	{ " 3 boxes", 3000, "boxes" },
	{ "6", 0, NULL },
	{ "cases", 0, NULL },
	{ "", 0, NULL },
	{ "0 kg", 0, NULL },
	{ "-1 kg", 0, NULL },
	{ "1,000 pounds", 0, NULL },
	{ "1.2.3 kg", 0, NULL },
	{ "99999999999999999999999999 kg", 0, NULL },
};

START_TEST(quantity_rows)
{
	int64_t n = -1;
	const char *unit = NULL;
	struct err err;
	enum rc rc;

	err_clear(&err);
	rc = papers_quantity(&n, &unit, quantities[_i].text, &err);
	if (quantities[_i].unit == NULL) {
		ck_assert_msg(rc == RC_INVALID, "%s", quantities[_i].text);
		ck_assert(n == -1 && unit == NULL);
		ck_assert_ptr_nonnull(strstr(err.text, "quantity"));
		return;
	}
	ck_assert_msg(rc == RC_OK, "%s", err.text);
	ck_assert_int_eq(n, quantities[_i].thousandths);
	ck_assert_str_eq(unit, quantities[_i].unit);
}
END_TEST

/* Reg. (EU) 16/2012: two batches of 3 and 9 February mixed count as 3. */
START_TEST(oldest)
{
	day_no days[3];

	ck_assert(day_from_civil(&days[0], 2026, 2, 9));
	ck_assert(day_from_civil(&days[1], 2026, 2, 3));
	ck_assert_int_eq(papers_oldest(days, 2), days[1]);
	ck_assert_int_eq(papers_oldest(days, 1), days[0]);
	days[2] = DAY_NONE;
	ck_assert_int_eq(papers_oldest(days, 3), DAY_NONE);
}
END_TEST

Suite *
suite_core_papers(void)
{
	Suite *s = suite_create("core_papers");
	TCase *tc = tcase_create("papers");

	tcase_add_loop_test(tc, list_rows, 0, (int)NELEM(lists));
	tcase_add_loop_test(tc, drop_rows, 0, (int)NELEM(drops));
	tcase_add_test(tc, us_exempt_supplier);
	tcase_add_test(tc, us_first_receiver);
	tcase_add_test(tc, same_consignor);
	tcase_add_loop_test(tc, frozen_rows, 0, (int)NELEM(frozen));
	tcase_add_test(tc, method_and_area);
	tcase_add_test(tc, nothing_at_all);
	tcase_add_loop_test(tc, quantity_rows, 0, (int)NELEM(quantities));
	tcase_add_test(tc, oldest);
	suite_add_tcase(s, tc);
	return s;
}
