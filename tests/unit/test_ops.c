/*
 * test_ops.c - goods in and breakdown on a file of its own, with every
 * statement's query plan checked.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "exchange/stock_out.h"
#include "kitchen.h"
#include "ops/balance.h"
#include "ops/fate.h"
#include "ops/label.h"
#include "store/preps.h"
#include "store/store.h"

static struct kitchen k;

static void
setup(void)
{
	kitchen_open(&k);
}

static void
teardown(void)
{
	kitchen_close(&k);
}

static struct batch
get_batch(const char *code)
{
	struct batch b;

	ck_assert_int_eq(batch_get(&b, k.sn->st, code, NULL), RC_OK);
	return b;
}

static int64_t
local(const char *s)
{
	int64_t t;

	ck_assert_int_eq(time_parse(&t, "t", s, NULL), RC_OK);
	return t;
}

/* --- goods in
 * ------------------------------------------------------------------*/

/* clang-format off */
static const struct {
	const char *why;
	const char *presentation, *temp;
	enum decision decision;
	const char *note, *caught, *supplier_date;
	enum rc rc;
	const char *says;
} judged[] = {
	{ "cold", "gutted", "1.5", DECISION_ACCEPTED, NULL, NULL, NULL, RC_OK,
	    "" },
	{ "at the note limit", "gutted", "3.0", DECISION_ACCEPTED, NULL, NULL,
	    NULL, RC_OK, "" },
	{ "a tenth above it", "gutted", "3.1", DECISION_ACCEPTED, NULL, NULL,
	    NULL, RC_REFUSED, "--note" },
	{ "with a note", "gutted", "3.1", DECISION_NOTED, "iced at once", NULL,
	    NULL, RC_OK, "" },
	{ "an empty note is none", "gutted", "3.1", DECISION_NOTED, "", NULL,
	    NULL, RC_INVALID, "note" },
	{ "at the limit, with a note", "gutted", "5.0", DECISION_NOTED, "x",
	    NULL, NULL, RC_OK, "" },
	{ "a tenth above it, note or not", "gutted", "5.1", DECISION_NOTED,
	    "x", NULL, NULL, RC_REFUSED, "--refuse" },
	{ "refused", "gutted", "9", DECISION_REFUSED, "warm", NULL, NULL,
	    RC_OK, "" },
	{ "refused without a reason", "gutted", "9", DECISION_REFUSED, NULL,
	    NULL, NULL, RC_INVALID, "reason" },
	{ "live at its limit", "live", "7.0", DECISION_ACCEPTED, NULL, NULL,
	    NULL, RC_OK, "" },
	{ "live above it", "live", "7.1", DECISION_NOTED, "x", NULL, NULL,
	    RC_REFUSED, "7.0" },
	{ "supplier's use-by today", "gutted", "1", DECISION_ACCEPTED, NULL,
	    NULL, "2026-11-25", RC_OK, "" },
	{ "supplier's use-by yesterday", "gutted", "1", DECISION_ACCEPTED,
	    NULL, NULL, "2026-11-24", RC_REFUSED, "use-by has passed" },
	{ "and with a note", "gutted", "1", DECISION_NOTED, "x", NULL,
	    "2026-11-24", RC_REFUSED, "use-by has passed" },
	{ "caught today", "gutted", "1", DECISION_ACCEPTED, NULL,
	    "2026-11-25", NULL, RC_OK, "" },
	{ "caught tomorrow", "gutted", "1", DECISION_ACCEPTED, NULL,
	    "2026-11-26", NULL, RC_REFUSED, "future" },
	{ "use-by before the catch", "gutted", "1", DECISION_ACCEPTED, NULL,
	    "2026-11-25", "2026-11-24", RC_REFUSED, "before --caught" },
	{ "no such day", "gutted", "1", DECISION_ACCEPTED, NULL, "2026-11-31",
	    NULL, RC_INVALID, "--caught" },
	{ "Fahrenheit is not converted", "gutted", "34 F", DECISION_ACCEPTED,
	    NULL, NULL, NULL, RC_INVALID, "--temperature" },
};
/* clang-format on */

START_TEST(judged_rows)
{
	struct receive_in in = kitchen_cod();
	int64_t before = kitchen_records(&k);
	struct batch b;
	struct err err = { 0 };

	if (str_eq(judged[_i].presentation, "live"))
		in.species = "MUS";
	in.presentation = judged[_i].presentation;
	in.temp = judged[_i].temp;
	in.decision = judged[_i].decision;
	in.note = judged[_i].note;
	in.caught = judged[_i].caught;
	in.supplier_date = judged[_i].supplier_date;
	ck_assert_msg(receive(&b, NULL, k.sn, &in, &err) == judged[_i].rc,
	    "%s: %s", judged[_i].why, err.text);
	ck_assert_msg(strstr(err.text, judged[_i].says) != NULL, "%s: %s",
	    judged[_i].why, err.text);
	if (judged[_i].rc == RC_OK)
		ck_assert_int_eq(kitchen_records(&k), before + 3);
	else
		ck_assert_int_eq(kitchen_records(&k), before);
}
END_TEST

/* Each field left out or wrong is named, and nothing is recorded. */
START_TEST(fields_named)
{
	struct receive_in in = kitchen_cod();
	const char **const field[] = { &in.supplier, &in.document, &in.species,
		&in.presentation, &in.weight, &in.lot, &in.temp, &in.area,
		&in.method };
	static const char *const says[] = { "--supplier", "--document",
		"--species", "--presentation", "--count without --weight",
		"--lot", "--temperature", "--area", "--method" };
	int64_t before = kitchen_records(&k);
	struct batch b;
	struct err err = { 0 };

	*field[_i] = NULL;
	ck_assert_int_eq(receive(&b, NULL, k.sn, &in, &err), RC_INVALID);
	ck_assert_msg(strstr(err.text, says[_i]) != NULL, "%s", err.text);
	ck_assert_int_eq(kitchen_records(&k), before);
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	const char *count, *weight;
	enum rc rc;
} amounts[] = {
	{ "by weight", NULL, "6.5 kg", RC_OK },
	{ "a gram a fish", "5000", "5 kg", RC_INVALID },
	{ "no fish", "0", "5 kg", RC_INVALID },
	{ "half a fish", "2.5", "5 kg", RC_INVALID },
	{ "no weight", "5", "0", RC_INVALID },
	{ "two tonnes", "5", "2000 kg", RC_INVALID },
};
/* clang-format on */

START_TEST(amount_rows)
{
	struct receive_in in = kitchen_cod();
	struct batch b;

	in.count = amounts[_i].count;
	in.weight = amounts[_i].weight;
	ck_assert_msg(receive(&b, NULL, k.sn, &in, NULL) == amounts[_i].rc,
	    "%s", amounts[_i].why);
}
END_TEST

/* The last second of the day in the kitchen's zone; 28 November is GMT. */
START_TEST(batch_use_by)
{
	struct receive_in in = kitchen_cod();
	struct batch b = kitchen_receive(&k, &in);

	ck_assert_int_eq(b.use_by_utc, local("2026-11-28T23:59:59Z"));
	in.supplier_date = "2026-11-27";
	b = kitchen_receive(&k, &in);
	ck_assert_int_eq(b.use_by_utc, local("2026-11-27T23:59:59Z"));
	/* summer time */
	kitchen_at(&k, "2027-06-01T08:00");
	in.supplier_date = NULL;
	b = kitchen_receive(&k, &in);
	ck_assert_int_eq(b.use_by_utc, local("2027-06-04T22:59:59Z"));
}
END_TEST

/* --- breakdown
 * -----------------------------------------------------------------*/

static struct breakdown_in
good_breakdown(const char *code)
{
	struct breakdown_in in = {
		.batch = code,
		.fish = 5,
		.weight_g = 10000,
		.makes = { { "cod-leeks", 12, 1980, 4 },
		    { "cod-cakes", 7, 640, 3 } },
		.make_count = 2,
		.loss_g = { 500, 6000, 700 },
		.by = "CD",
	};

	return in;
}

START_TEST(breakdown_sums)
{
	struct receive_in rin = kitchen_cod();
	struct batch b = kitchen_receive(&k, &rin);
	struct breakdown_in in = good_breakdown(b.code);
	int64_t servings[2] = { 0 }, weight[2] = { 0 };
	struct mass m;
	struct gram_balance g;
	struct breakdown d;
	size_t i;

	kitchen_balance(&k, &b);
	ck_assert_int_eq(breakdown_record(&d, k.sn, &in, NULL), RC_OK);
	ck_assert_int_eq(d.unexplained_g, 180);
	ck_assert_uint_eq(d.portion_count, 3 + 3);
	for (i = 0; i < d.portion_count; i++) {
		int cakes = str_eq(d.portions[i].dish, "cod-cakes");

		servings[cakes] += d.portions[i].servings;
		weight[cakes] += d.portions[i].weight_g;
		ck_assert_int_le(d.portions[i].servings, cakes ? 3 : 4);
		/* raw 2 days, cooked 3; day of preparation is day 1 */
		ck_assert_int_eq(d.portions[i].use_by_utc,
		    local(cakes ? "2026-11-27T23:59:59Z"
				: "2026-11-26T23:59:59Z"));
	}
	ck_assert_int_eq(servings[0], 12);
	ck_assert_int_eq(servings[1], 7);
	ck_assert_int_eq(weight[0], 1980);
	ck_assert_int_eq(weight[1], 640);
	ck_assert_int_eq(d.batch.count_left, 5);
	ck_assert_int_eq(d.batch.weight_left, 10000);
	ck_assert_int_eq(balance_batch(&m, k.sn, b.code, NULL), RC_OK);
	g = balance_of(&m);
	ck_assert_int_eq(g.portions, 2620);
	ck_assert_int_eq(g.trim, 500);
	ck_assert_int_eq(g.frames, 6000);
	ck_assert_int_eq(g.waste, 700);
	ck_assert_int_eq(g.whole, 10000);
	ck_assert_int_eq(g.discarded, 0);
	ck_assert_int_eq(g.unexplained, 180);
	kitchen_balance(&k, &d.batch);
	breakdown_fini(&d);
}
END_TEST

/* Any weights and labels: sums stay exact, no unit without weight. */
START_TEST(shares_are_exact)
{
	struct receive_in rin = kitchen_cod();
	struct kitchen_cut cut = { .dish = "cod-leeks", .fish = 1 };
	struct breakdown d;
	struct batch b;
	uint64_t seed = 7;
	grams sum;
	int64_t servings;
	size_t i;
	int n;

	rin.count = "100";
	rin.weight = "600 kg";
	b = kitchen_receive(&k, &rin);
	for (n = 0; n < 40; n++) {
		seed = seed * 6364136223846793005u + 1442695040888963407u;
		cut.portions = 1 + (int64_t)(seed >> 40) % 30;
		cut.per_label = 1 + (int64_t)(seed >> 50) % cut.portions;
		cut.portions_g = cut.portions + (int64_t)(seed >> 33) % 4000;
		cut.in_g = cut.portions_g + (int64_t)(seed >> 20) % 4000;
		d = kitchen_break(&k, b.code, &cut);
		sum = servings = 0;
		for (i = 0; i < d.portion_count; i++) {
			ck_assert_int_gt(d.portions[i].weight_g, 0);
			sum += d.portions[i].weight_g;
			servings += d.portions[i].servings;
		}
		ck_assert_int_eq(sum, cut.portions_g);
		ck_assert_int_eq(servings, cut.portions);
		kitchen_balance(&k, &d.batch);
		breakdown_fini(&d);
	}
}
END_TEST

/* What may not be done leaves nothing behind, however late it is found. */
/* clang-format off */
static const struct {
	const char *why;
	const char *dish; /* of the second make, or NULL */
	int64_t fish;
	grams in, waste, make; /* -1 leaves the good figure */
	const char *held, *now;
	enum rc rc;
	const char *says;
} bad_breakdowns[] = {
	{ "the second dish is not on the menu", "kedgeree", -1, -1, -1, -1,
	    NULL, NULL, RC_NOTFOUND, "kedgeree" },
	{ "a dish of another fish", "plaice-crumb", -1, -1, -1, -1, NULL,
	    NULL, RC_NOTFOUND, "plaice-crumb" },
	{ "more out than in", NULL, -1, 9819, -1, -1, NULL, NULL, RC_REFUSED,
	    "weigh again" },
	{ "more fish than there are", NULL, 11, -1, -1, -1, NULL, NULL,
	    RC_REFUSED, "10 fish left" },
	{ "a counted batch without a count", NULL, 0, -1, -1, -1, NULL, NULL,
	    RC_INVALID, "--fish" },
	{ "more than the batch weighs, beyond 2 %", NULL, 10, 20401, -1, -1,
	    NULL, NULL, RC_REFUSED, "less than was weighed in" },
	{ "on hold", NULL, -1, -1, -1, -1, "recall", NULL, RC_REFUSED,
	    "on hold" },
	{ "a second too old", NULL, -1, -1, -1, -1, NULL,
	    "2026-11-29T00:00", RC_REFUSED, "expired" },
};
/* clang-format on */

START_TEST(nothing_recorded)
{
	struct receive_in rin = kitchen_cod();
	struct batch b = kitchen_receive(&k, &rin), after;
	struct breakdown_in in = good_breakdown(b.code);
	struct breakdown d;
	struct err err = { 0 };
	int64_t before;

	if (bad_breakdowns[_i].dish != NULL)
		in.makes[1].dish = bad_breakdowns[_i].dish;
	if (bad_breakdowns[_i].fish >= 0)
		in.fish = bad_breakdowns[_i].fish;
	if (bad_breakdowns[_i].in >= 0)
		in.weight_g = bad_breakdowns[_i].in;
	if (bad_breakdowns[_i].held != NULL)
		ck_assert_int_eq(hold(NULL, k.sn, b.code,
				     bad_breakdowns[_i].held, "AB", NULL),
		    RC_OK);
	if (bad_breakdowns[_i].now != NULL)
		kitchen_at(&k, bad_breakdowns[_i].now);
	before = kitchen_records(&k);
	ck_assert_msg(
	    breakdown_record(&d, k.sn, &in, &err) == bad_breakdowns[_i].rc,
	    "%s: %s", bad_breakdowns[_i].why, err.text);
	ck_assert_msg(strstr(err.text, bad_breakdowns[_i].says) != NULL,
	    "%s: %s", bad_breakdowns[_i].why, err.text);
	ck_assert_uint_eq(d.portion_count, 0);
	ck_assert_int_eq(kitchen_records(&k), before);
	after = get_batch(b.code);
	ck_assert_int_eq(after.weight_left, 20000);
	ck_assert_int_eq(after.count_left, 10);
}
END_TEST

START_TEST(refused_stays_closed)
{
	struct receive_in rin = kitchen_cod();
	struct breakdown_in in;
	struct print_job j;
	struct breakdown d;
	struct batch b;
	struct err err = { 0 };

	rin.decision = DECISION_REFUSED;
	rin.note = "torn boxes";
	b = kitchen_receive(&k, &rin);
	kitchen_balance(&k, &b);
	in = good_breakdown(b.code);
	ck_assert_int_eq(breakdown_record(&d, k.sn, &in, &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "torn boxes"));
	ck_assert_int_eq(
	    kitchen_label(&j, &k, b.code, LABEL_FIRST), RC_REFUSED);
	ck_assert_int_eq(j.id, 0);
}
END_TEST

/* What no cook weighs: refused by name, before the file says no. */
static const struct {
	const char *why;
	int64_t portions, per_label;
	grams weight_g;
} impossible[] = {
	{ "less than a gram each", 13, 1, 12 },
	{ "no portions at all", 0, 1, 100 },
	{ "a label for none", 4, 0, 800 },
	{ "a label for more than there are", 4, 5, 800 },
};

START_TEST(impossible_portions)
{
	struct receive_in r = kitchen_cod();
	struct batch b = kitchen_receive(&k, &r);
	struct breakdown_in in = { .batch = b.code,
		.fish = 1,
		.weight_g = 2000,
		.makes = { { "cod-leeks", impossible[_i].portions,
		    impossible[_i].weight_g, impossible[_i].per_label } },
		.make_count = 1,
		.yield_ok = true,
		.by = "CD" };
	int64_t before = kitchen_records(&k);
	struct breakdown out;
	struct err err = { 0 };

	ck_assert_msg(breakdown_record(&out, k.sn, &in, &err) == RC_INVALID,
	    "%s: %s", impossible[_i].why, err.text);
	ck_assert_ptr_nonnull(strstr(err.text, "cod-leeks"));
	ck_assert_int_eq(kitchen_records(&k), before);
}
END_TEST

Suite *
suite_ops(void)
{
	Suite *s = suite_create("ops");
	TCase *tc = tcase_create("ops");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 20);
	tcase_add_loop_test(tc, judged_rows, 0, (int)NELEM(judged));
	tcase_add_loop_test(tc, fields_named, 0, 9);
	tcase_add_loop_test(tc, amount_rows, 0, (int)NELEM(amounts));
	tcase_add_test(tc, batch_use_by);
	tcase_add_test(tc, breakdown_sums);
	tcase_add_test(tc, shares_are_exact);
	tcase_add_loop_test(
	    tc, nothing_recorded, 0, (int)NELEM(bad_breakdowns));
	tcase_add_loop_test(tc, impossible_portions, 0, (int)NELEM(impossible));
	tcase_add_test(tc, refused_stays_closed);
	suite_add_tcase(s, tc);
	return s;
}
