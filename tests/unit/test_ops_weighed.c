/* test_ops_weighed.c - fish weighed one by one, and prices. */
#include <check.h>
#include <string.h>

#include "kitchen.h"
#include "store/batch_fish.h"
#include "unit.h"

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
five(void)
{
	struct receive_in in = kitchen_cod();

	in.count = in.weight = NULL;
	in.fish_weights = "2100,1950, 1800,2300,2000";
	return kitchen_receive(&k, &in);
}

static size_t
here(const struct batch *b, int64_t numbers[8])
{
	struct batch_fish_list l;
	size_t i, n;

	ck_assert_int_eq(batch_fish_left(&l, k.sn->st, b->id, NULL), RC_OK);
	for (i = 0; i < l.count && i < 8; i++)
		numbers[i] = l.items[i].number;
	n = l.count;
	batch_fish_fini(&l);
	return n;
}

static enum rc
take(struct breakdown *d, const struct batch *b, int64_t fish, grams in_g,
    const char *which, struct err *err)
{
	struct breakdown_in in = {
		.batch = b->code,
		.fish = fish,
		.weight_g = in_g,
		.which = which,
		.makes = { { "cod-leeks", 6, in_g / 2, 6 } },
		.make_count = 1,
		.by = "CD",
	};

	return breakdown_record(d, k.sn, &in, err);
}

START_TEST(weights_fill_the_form)
{
	struct batch b = five();
	int64_t left[8];

	ck_assert_int_eq(b.count, 5);
	ck_assert_int_eq(b.weight_g, 10150);
	ck_assert_uint_eq(here(&b, left), 5);
	ck_assert_int_eq(left[0], 1);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT sum(weight_g) FROM batch_fish"), 10150);
}
END_TEST

static const struct {
	const char *why;
	const char *count, *weight, *each;
	const char *price;
	const char *says; /* NULL: taken in */
} forms[] = {
	{ "both agree", "2", "4050", "2100,1950", NULL, NULL },
	{ "the scales differ by 2 %", "2", "4130", "2100,1950", NULL, NULL },
	{ "by more", "2", "4200", "2100,1950", NULL,
	    "--fish-weights sums up to 4050 g, --weight says 4200 g" },
	{ "20 g of little fish", "2", "120", "50,50", NULL, NULL },
	{ "21 g of little fish", "2", "121", "50,50", NULL,
	    "--fish-weights sums up to 100 g, --weight says 121 g" },
	{ "one more", "3", NULL, "2100,1950", NULL,
	    "--fish-weights has 2 fish, --count says 3" },
	{ "a hole", NULL, NULL, "2100,,1950", NULL,
	    "--fish-weights (grams) \"\" is not a whole number" },
	{ "nothing", NULL, NULL, "", NULL,
	    "--fish-weights (grams) \"\" is not a whole number" },
	{ "kilograms with a comma", NULL, NULL, "2,5kg", NULL,
	    "--fish-weights (grams) \"5kg\" is not a whole number" },
	{ "a gram", NULL, NULL, "2100,1", NULL,
	    "--fish-weights (grams) 1 is outside 2 to 700000" },
	{ "below nothing", NULL, NULL, "2100,-5", NULL,
	    "--fish-weights (grams) -5 is outside 2 to 700000" },
	{ "too long", NULL, NULL, "2100,111111111111111111111111111111", NULL,
	    "--fish-weights (grams): \"11111111111111111111...\" is not" },
	{ "more than a tonne", NULL, NULL, "600000,600000", NULL,
	    "--fish-weights: 1200000 g in all is more than 1000 kg" },
	{ "no weight at all", "2", NULL, NULL, NULL,
	    "--count without --weight" },
	{ "a price", "2", "4 kg", NULL, "12.50", NULL },
	{ "for nothing", "2", "4 kg", NULL, "0", NULL },
	{ "a comma", "2", "4 kg", NULL, "12,5", NULL },
	{ "three decimals", "2", "4 kg", NULL, "12.505", "--price \"12.505\"" },
	{ "below nothing", "2", "4 kg", NULL, "-1",
	    "--price \"-1\" is outside 0 to 100000 a kilogram" },
	{ "too dear", "2", "4 kg", NULL, "100000.01",
	    "--price \"100000.01\" is outside" },
	{ "words", "2", "4 kg", NULL, "cheap", "--price \"cheap\"" },
};

START_TEST(form_rows)
{
	struct receive_in in = kitchen_cod();
	int64_t n = kitchen_records(&k);
	struct batch b;
	struct err err = { 0 };
	enum rc rc;

	in.count = forms[_i].count;
	in.weight = forms[_i].weight;
	in.fish_weights = forms[_i].each;
	in.price = forms[_i].price;
	rc = receive(&b, NULL, k.sn, &in, &err);
	if (forms[_i].says == NULL) {
		ck_assert_msg(rc == RC_OK, "%s: %s", forms[_i].why, err.text);
		return;
	}
	ck_assert_msg(rc == RC_INVALID, "%s: %s", forms[_i].why, err.text);
	ck_assert_msg(
	    strncmp(err.text, forms[_i].says, strlen(forms[_i].says)) == 0,
	    "%s: %s", forms[_i].why, err.text);
	ck_assert_int_eq(kitchen_records(&k), n);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM batch_fish"), 0);
}
END_TEST

START_TEST(price_is_kept)
{
	struct receive_in in = kitchen_cod();

	ck_assert_int_eq(kitchen_receive(&k, &in).price, -1);
	in.price = "12.5";
	ck_assert_int_eq(kitchen_receive(&k, &in).price, 1250);
	in.price = "0";
	ck_assert_int_eq(kitchen_receive(&k, &in).price, 0);
	ck_assert_int_eq(
	    kitchen_count(&k, "SELECT count(*) FROM batch WHERE price IS NULL"),
	    1);
}
END_TEST

START_TEST(named_fish_go)
{
	struct batch b = five();
	struct breakdown d;
	struct err err = { 0 };
	int64_t left[8];

	/* The count follows from the names; drip of 2 % is nothing. */
	ck_assert_msg(
	    take(&d, &b, 0, 4310, "4, 1", &err) == RC_OK, "%s", err.text);
	ck_assert(!d.weights_lost);
	ck_assert_int_eq(d.batch.count_left, 3);
	breakdown_fini(&d);
	ck_assert_uint_eq(here(&b, left), 3);
	ck_assert_int_eq(left[0], 2);
	ck_assert_int_eq(left[1], 3);
	ck_assert_int_eq(left[2], 5);
	/* The rest needs no names. */
	ck_assert_int_eq(take(&d, &b, 3, 5700, NULL, NULL), RC_OK);
	ck_assert(!d.weights_lost);
	breakdown_fini(&d);
	ck_assert_uint_eq(here(&b, left), 0);
	ck_assert_int_eq(kitchen_count(&k,
			     "SELECT count(*) FROM batch_fish"
			     " WHERE prep_id = 2"),
	    3);
}
END_TEST

/* Fail-safe: nobody knows which are left once one goes unnamed. */
START_TEST(unnamed_fish_go)
{
	struct batch b = five();
	struct breakdown d;
	struct err err = { 0 };
	int64_t left[8];

	ck_assert_int_eq(take(&d, &b, 1, 2000, NULL, NULL), RC_OK);
	ck_assert(d.weights_lost);
	breakdown_fini(&d);
	ck_assert_uint_eq(here(&b, left), 0);
	ck_assert_int_eq(take(&d, &b, 0, 1800, "3", &err), RC_REFUSED);
	ck_assert_ptr_nonnull(strstr(err.text, "not known one by one"));
	/* Said once is enough. */
	ck_assert_int_eq(take(&d, &b, 1, 2000, NULL, NULL), RC_OK);
	ck_assert(!d.weights_lost);
	breakdown_fini(&d);
}
END_TEST

START_TEST(a_fish_is_thrown_away)
{
	struct batch b = five();
	int64_t left[8];
	struct err err = { 0 };

	ck_assert_msg(
	    kitchen_sql(k.db,
		"INSERT INTO batch_event (batch_id, kind, fish, weight_g,"
		" reason, at_utc, offset_min, by)"
		" VALUES (1, 'discarded', 1, 2000, 'fell', 1, 0, 'AB')") == 0,
	    "%s", err.text);
	ck_assert_uint_eq(here(&b, left), 0);
}
END_TEST

static const struct {
	const char *why, *which;
	int64_t fish;
	grams in;
	enum rc rc;
	const char *says;
} names[] = {
	{ "twice", "3,3", 0, 3600, RC_INVALID, "--which names fish 3 twice" },
	{ "not here", "6", 0, 2000, RC_NOTFOUND, "fish 6 is not here" },
	{ "none", "0", 0, 2000, RC_INVALID, "--which 0 is outside 1 to" },
	{ "words", "big", 0, 2000, RC_INVALID, "\"big\" is not a whole" },
	{ "another count", "1,2", 1, 4050, RC_INVALID,
	    "--which names 2 fish, --fish says 1" },
	{ "more than they weighed", "1,2", 2, 4253, RC_REFUSED,
	    "weighed 4050 g at goods in, 4253 g now" },
	{ "less than they weighed", "1,2", 2, 3847, RC_REFUSED,
	    "weighed 4050 g at goods in, 3847 g now" },
};

START_TEST(name_rows)
{
	struct batch b = five();
	int64_t n = kitchen_records(&k), left[8];
	struct breakdown d;
	struct err err = { 0 };
	enum rc rc;

	rc = take(&d, &b, names[_i].fish, names[_i].in, names[_i].which, &err);
	ck_assert_msg(rc == names[_i].rc, "%s: %s", names[_i].why, err.text);
	ck_assert_msg(strstr(err.text, names[_i].says) != NULL, "%s: %s",
	    names[_i].why, err.text);
	ck_assert_int_eq(kitchen_records(&k), n);
	ck_assert_uint_eq(here(&b, left), 5);
}
END_TEST

/* Means 2030 and 1000 g: squares 0.033635 over 4 and 0.02 over 1, with the
 * start's 10 x 0.04: sqrt(0.453635 / 15) = 0.173904. */
START_TEST(spread_is_learned)
{
	struct receive_in in = kitchen_cod();
	int cv;

	ck_assert_int_eq(batch_fish_cv(&cv, k.sn->st, "COD", NULL), RC_OK);
	ck_assert_int_eq(cv, FISH_CV_START_BP);
	five();
	in.count = in.weight = NULL;
	in.fish_weights = "900,1100";
	kitchen_receive(&k, &in);
	ck_assert_int_eq(batch_fish_cv(&cv, k.sn->st, "COD", NULL), RC_OK);
	ck_assert_int_eq(cv, 1739);
	ck_assert_int_eq(batch_fish_cv(&cv, k.sn->st, "PLE", NULL), RC_OK);
	ck_assert_int_eq(cv, FISH_CV_START_BP);
}
END_TEST

Suite *
suite_ops_weighed(void)
{
	Suite *s = suite_create("ops_weighed");
	TCase *tc = tcase_create("weighed one by one");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, weights_fill_the_form);
	tcase_add_loop_test(tc, form_rows, 0, (int)NELEM(forms));
	tcase_add_test(tc, price_is_kept);
	tcase_add_test(tc, named_fish_go);
	tcase_add_test(tc, unnamed_fish_go);
	tcase_add_test(tc, a_fish_is_thrown_away);
	tcase_add_loop_test(tc, name_rows, 0, (int)NELEM(names));
	tcase_add_test(tc, spread_is_learned);
	suite_add_tcase(s, tc);
	return s;
}
