/* test_store_recalls.c - what of a recall is missing (docs/rules.md R-H6). */
#include "unit.h"

#include "store/recalls.h"

static const struct {
	const char *why;
	bool whole; /* a batch */
	int64_t left, found, discarded, left_now, missing;
} missing_rows[] = {
	{ "nothing found", false, 4, 0, 0, 4, 4 },
	{ "all found", false, 4, 4, 0, 4, 0 },
	{ "a part found", false, 4, 3, 0, 4, 1 },
	{ "thrown away unscanned", false, 4, 0, 4, 0, 0 },
	{ "found, then thrown away", false, 4, 4, 4, 0, 0 },
	{ "half found, and that half thrown away", false, 4, 2, 2, 2, 2 },
	{ "counted away is not found", false, 4, 0, 0, 0, 4 },
	{ "more found than recorded", false, 2, 4, 0, 2, 0 },
	{ "nothing was left", false, 0, 0, 0, 0, 0 },
	{ "a batch", true, 5, 0, 0, 9000, 1 },
	{ "a batch found", true, 5, 1, 0, 9000, 0 },
	{ "a batch thrown away", true, 5, 0, 9000, 0, 0 },
	{ "a batch partly thrown away", true, 5, 0, 1000, 8000, 1 },
};

START_TEST(missing_row)
{
	const struct recall_item i = {
		.subject.batch_id = missing_rows[_i].whole,
		.subject.portion_id = !missing_rows[_i].whole,
		.left = missing_rows[_i].left,
		.weight_g = missing_rows[_i].whole ? 9000 : 0,
		.found = missing_rows[_i].found,
		.discarded = missing_rows[_i].discarded,
		.left_now = missing_rows[_i].left_now,
	};

	ck_assert_msg(recall_item_missing(&i) == missing_rows[_i].missing,
	    "%s: %lld", missing_rows[_i].why,
	    (long long)recall_item_missing(&i));
}
END_TEST

Suite *
suite_store_recalls(void)
{
	Suite *s = suite_create("store_recalls");
	TCase *tc = tcase_create("missing");

	tcase_add_loop_test(tc, missing_row, 0, NELEM(missing_rows));
	suite_add_tcase(s, tc);
	return s;
}
