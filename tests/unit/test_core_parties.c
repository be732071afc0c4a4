/* test_core_parties.c - the parties that booked, read and written. */
#include "unit.h"

#include <string.h>

#include "core/parties.h"

/* clang-format off */
static const struct {
	const char *why;
	const char *text;
	const char *shown; /* NULL: refused */
	int64_t covers;
	const char *says;
} rows[] = {
	{ "nobody said", "", "", 0, "" },
	{ "blanks only", "   ", "", 0, "" },
	{ "eight twos, five fours, a six", "2x8 4x5 6", "2x8 4x5 6", 42, "" },
	{ "any order, sizes again", "6 4x3 2x8 4x2", "2x8 4x5 6", 42, "" },
	{ "one of a size by its number", "3x1 2", "2 3", 5, "" },
	{ "blanks between", " 2x3   5 ", "2x3 5", 11, "" },
	{ "the largest party", "500", "500", 500, "" },
	{ "a larger one", "501", NULL, 0, "501" },
	{ "no guests", "0x3", NULL, 0, "guests" },
	{ "no tables", "2x0", NULL, 0, "tables" },
	{ "guests missing", "x3", NULL, 0, "guests" },
	{ "tables missing", "2x", NULL, 0, "tables" },
	{ "two signs", "2x3x4", NULL, 0, "tables" },
	{ "words", "two", NULL, 0, "two" },
	{ "half a table", "2x1.5", NULL, 0, "tables" },
	{ "commas", "2x8,4x5", NULL, 0, "tables" },
	{ "many tables", "1x5000", "1x5000", 5000, "" },
	{ "too many", "1x5001", NULL, 0, "5001" },
	{ "too many by adding up", "1x5000 1", NULL, 0, "5000" },
};
/* clang-format on */

START_TEST(read_and_written)
{
	char text[PARTIES_TEXT_SIZE];
	struct parties p = { .count = 99 }, again;
	struct err err = { 0 };
	enum rc rc = parties_parse(&p, rows[_i].text, &err);

	if (rows[_i].shown == NULL) {
		ck_assert_msg(rc == RC_INVALID, "%s", rows[_i].why);
		ck_assert_uint_eq(p.count, 99);
		ck_assert_msg(strstr(err.text, rows[_i].says) != NULL &&
			strstr(err.text, "guests x tables") != NULL,
		    "%s: %s", rows[_i].why, err.text);
		return;
	}
	ck_assert_msg(rc == RC_OK, "%s: %s", rows[_i].why, err.text);
	ck_assert_str_eq(parties_print(text, sizeof(text), &p), rows[_i].shown);
	ck_assert_int_eq(parties_covers(&p), rows[_i].covers);
	ck_assert_int_eq(parties_parse(&again, text, NULL), RC_OK);
	ck_assert_int_eq(parties_covers(&again), rows[_i].covers);
}
END_TEST

/* As many sizes as there is room for, each as long as it gets. */
START_TEST(longest)
{
	char text[PARTIES_TEXT_SIZE];
	struct parties p = { .count = 0 };
	int i;

	for (i = 0; i < PARTY_SIZES_MAX; i++) {
		p.items[i].guests = PARTY_GUESTS_MAX - PARTY_SIZES_MAX + 1 + i;
		p.items[i].tables = 5000;
	}
	p.count = PARTY_SIZES_MAX;
	parties_print(text, sizeof(text), &p);
	ck_assert_ptr_nonnull(strstr(text, "500x5000"));
	ck_assert_int_eq(parties_parse(&p, text, NULL), RC_OK);
	ck_assert_uint_eq(p.count, PARTY_SIZES_MAX);
}
END_TEST

Suite *
suite_core_parties(void)
{
	Suite *s = suite_create("core_parties");
	TCase *tc = tcase_create("parties");

	tcase_add_loop_test(tc, read_and_written, 0, (int)NELEM(rows));
	tcase_add_test(tc, longest);
	suite_add_tcase(s, tc);
	return s;
}
