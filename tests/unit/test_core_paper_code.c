/*
 * test_core_paper_code.c - the code on a day sheet: worked out by other means,
 * and what wet hands do to it.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "core/code.h"
#include "core/paper_code.h"

/* From Python 3: v = int(digest[:28], 16) >> 2, 23 times divmod(v, 28), and the
 * check character by p = (p + d) % 28 or 28; p = p * 2 % 29. */
static const struct {
	const char *digest, *shown;
} rows[] = {
	{ "00000000000000000000000000000000"
	  "00000000000000000000000000000000",
	    "0000-0000-0000-0000-0000-000A" },
	{ "ffffffffffffffffffffffffffffffff"
	  "ffffffffffffffffffffffffffffffff",
	    "MVCT-U1MT-HWF9-F8VW-M56C-A13M" },
	{ "03170a2e7597b7b7e3d84c05391d139a"
	  "62b157e78786d8c082f29dcf4c111314",
	    "06AJ-FK09-7MEK-EXDA-N66T-XNN6" },
	{ "ee155ace9c40292074cb6aff8c9ccdd2"
	  "73c81648ff1149ef36bcea6ebb8a3e25",
	    "KHD8-HHCR-HX6J-F5NH-C0CU-6EYX" },
	{ "bb30a42c1e62f0afda5f0a4e8a562f7a"
	  "13a24cea00ee81917b86b89e801314aa",
	    "ETAV-3WRH-FWTK-32N3-CF1K-7RW9" },
};

START_TEST(as_reckoned_elsewhere)
{
	char code[PAPER_CODE_SIZE], shown[PAPER_SHOW_SIZE],
	    back[PAPER_CODE_SIZE];
	size_t i;

	for (i = 0; i < NELEM(rows); i++) {
		paper_code_make(code, rows[i].digest);
		ck_assert_str_eq(paper_code_show(shown, code), rows[i].shown);
		ck_assert_int_eq(paper_code_parse(back, shown, NULL), RC_OK);
		ck_assert_str_eq(back, code);
	}
	ck_assert_str_eq(paper_code_make(code, "not a digest"), "");
}
END_TEST

/* Every wrong single character; and all but a few swaps of neighbours. */
START_TEST(slips_are_found)
{
	char code[PAPER_CODE_SIZE], back[PAPER_CODE_SIZE], c;
	size_t i;
	const char *p;
	int missed = 0, tried = 0;

	paper_code_make(code, rows[1].digest);
	for (i = 0; i < PAPER_CODE_LEN; i++) {
		c = code[i];
		for (p = CODE_ALPHABET; *p != '\0'; p++) {
			if (*p == c)
				continue;
			code[i] = *p;
			ck_assert_int_eq(
			    paper_code_parse(back, code, NULL), RC_INVALID);
		}
		code[i] = c;
	}
	for (i = 0; i + 1 < PAPER_CODE_LEN; i++) {
		if (code[i] == code[i + 1])
			continue;
		c = code[i];
		code[i] = code[i + 1];
		code[i + 1] = c;
		tried++;
		missed += paper_code_parse(back, code, NULL) == RC_OK;
		c = code[i];
		code[i] = code[i + 1];
		code[i + 1] = c;
	}
	ck_assert_int_gt(tried, 10);
	ck_assert_int_le(missed, 2);
}
END_TEST

START_TEST(as_hands_key_it)
{
	static const struct {
		const char *why, *typed, *says;
	} bad[] = {
		{ "nothing", "", "only 0 of 24" },
		{ "half of it", "0000-0000", "only 8 of 24" },
		{ "too much", "0000-0000-0000-0000-0000-0000-0", "over 24" },
		{ "a letter that is none", "S000", "S is in no code" },
	};
	char code[PAPER_CODE_SIZE], back[PAPER_CODE_SIZE], typed[64];
	struct err err;
	size_t i;

	paper_code_make(code, rows[2].digest);
	str_fmt(typed, sizeof(typed), " %.5s - %s", code, code + 5);
	str_lower(typed);
	for (i = 0; typed[i] != '\0'; i++) {
		if (typed[i] == '0')
			typed[i] = 'o';
		if (typed[i] == '1')
			typed[i] = 'l';
	}
	ck_assert_int_eq(paper_code_parse(back, typed, NULL), RC_OK);
	ck_assert_str_eq(back, code);
	for (i = 0; i < NELEM(bad); i++) {
		err_clear(&err);
		ck_assert_int_eq(
		    paper_code_parse(back, bad[i].typed, &err), RC_INVALID);
		ck_assert_msg(strstr(err.text, bad[i].says) != NULL, "%s: %s",
		    bad[i].why, err.text);
	}
}
END_TEST

Suite *
suite_core_paper_code(void)
{
	Suite *s = suite_create("core_paper_code");
	TCase *tc = tcase_create("paper");

	tcase_add_test(tc, as_reckoned_elsewhere);
	tcase_add_test(tc, slips_are_found);
	tcase_add_test(tc, as_hands_key_it);
	suite_add_tcase(s, tc);
	return s;
}
