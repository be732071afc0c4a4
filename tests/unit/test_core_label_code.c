/*
 * test_core_label_code.c - the string in our own labels: there and back, every
 * form a scanner may type it in, and no damage that passes.
 *
 * Source of the limits: GS1 Barcode Syntax Dictionary: AI 91 holds 1 to 90
 * characters of set 82 and needs no other element beside it.
 */
#include "unit.h"

#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "core/label_code.h"

#define CSET82                                                                 \
	"!\"%&'()*+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ_"            \
	"abcdefghijklmnopqrstuvwxyz"

static uint64_t seed;

/* The same numbers in every run. */
static int
any(int below)
{
	seed = seed * 6364136223846793005u + 1442695040888963407u;
	return (int)((seed >> 33) % (uint64_t)below);
}

static day_no
day(int y, int m, int d)
{
	day_no out;

	ck_assert(day_from_civil(&out, y, m, d));
	return out;
}

static struct label_code
any_code(void)
{
	struct label_code c;
	int64_t serial;

	memset(&c, 0, sizeof(c));
	c.use_by.day = day(2000, 1, 1) + any(36525);
	c.use_by.hour = any(24);
	c.use_by.minute = any(60);
	while (batch_code_make(
		   c.batch, day(2000, 1, 1) + any(36525), 1 + any(90)) == 0)
		;
	serial = 1 + (int64_t)any(17210000);
	if (any(4) > 0)
		ck_assert(portion_code_make(c.portion, serial) > 0);
	return c;
}

static void
same(const struct label_code *got, const struct label_code *want)
{
	ck_assert_str_eq(got->portion, want->portion);
	ck_assert_str_eq(got->batch, want->batch);
	ck_assert_int_eq(got->use_by.day, want->use_by.day);
	ck_assert_int_eq(got->use_by.hour, want->use_by.hour);
	ck_assert_int_eq(got->use_by.minute, want->use_by.minute);
}

static void
there_and_back(const struct label_code *c)
{
	char symbol[LABEL_SYMBOL_SIZE];
	struct label_code got;
	struct err err = { 0 };
	const char *p;

	label_code_make(symbol, c);
	ck_assert(strncmp(symbol, "[91]", 4) == 0);
	ck_assert_uint_eq(strlen(symbol + 4), LABEL_CODE_LEN);
	ck_assert_uint_le(strlen(symbol + 4), 90);
	for (p = symbol + 4; *p != '\0'; p++)
		ck_assert_msg(
		    strchr(CSET82, *p) != NULL && strchr("[]()", *p) == NULL,
		    "%s", symbol);
	ck_assert_int_eq(symbol[4 + LABEL_CODE_LEN - 1],
	    mod37_36(symbol + 4, LABEL_CODE_LEN - 1));
	ck_assert_msg(label_code_parse(&got, symbol, &err) == RC_OK, "%s: %s",
	    symbol, err.text);
	same(&got, c);
}

START_TEST(any_value)
{
	struct label_code c;
	int i;

	seed = 26;
	for (i = 0; i < 20000; i++) {
		c = any_code();
		there_and_back(&c);
	}
}
END_TEST

/* clang-format off */
static const struct {
	const char *why;
	int y, m, d, hour, minute;
} moments[] = {
	{ "last minute of a year", 2026, 12, 31, 23, 59 },
	{ "first minute of a year", 2027, 1, 1, 0, 0 },
	{ "leap day", 2028, 2, 29, 23, 59 },
	{ "first year there is", 2000, 1, 1, 0, 0 },
	{ "last year there is", 2099, 12, 31, 23, 59 },
	{ "the night clocks go back", 2026, 10, 25, 1, 30 },
};
/* clang-format on */

static struct label_code
plain(bool portion)
{
	struct label_code c = { .batch = "2633009C",
		.use_by = {
		    .day = day(2026, 11, 27), .hour = 23, .minute = 59 } };

	if (portion)
		str_copy(c.portion, sizeof(c.portion), "001H7C");
	return c;
}

START_TEST(moment_rows)
{
	struct label_code c = plain(_i % 2 == 0);

	c.use_by.day = day(moments[_i].y, moments[_i].m, moments[_i].d);
	c.use_by.hour = moments[_i].hour;
	c.use_by.minute = moments[_i].minute;
	there_and_back(&c);
}
END_TEST

/* The layout itself, so that an old label can always be read. */
START_TEST(layout)
{
	struct label_code c = plain(true);
	char symbol[LABEL_SYMBOL_SIZE];

	label_code_make(symbol, &c);
	symbol[4 + LABEL_CODE_LEN - 1] = '\0';
	ck_assert_str_eq(symbol, "[91]1001H7C2633009C2611272359");
	c.portion[0] = '\0';
	label_code_make(symbol, &c);
	symbol[4 + LABEL_CODE_LEN - 1] = '\0';
	ck_assert_str_eq(symbol, "[91]10000002633009C2611272359");
}
END_TEST

/* Around the 26 characters; symbology identifiers: GS1 General
 * Specifications, ]d2 GS1 DataMatrix, ]C1 GS1-128. */
/* clang-format off */
static const struct {
	const char *why;
	const char *before, *behind;
} forms[] = {
	{ "bare", "91", "" },
	{ "as we write it", "[91]", "" },
	{ "as people write it", "(91)", "" },
	{ "DataMatrix identifier", "]d2" "91", "" },
	{ "GS1-128 identifier", "]C1" "91", "" },
	{ "leading FNC1 typed as GS", "\x1d" "91", "" },
	{ "two of them", "\x1d\x1d" "91", "" },
	{ "identifier and GS", "]d2\x1d" "91", "" },
	{ "identifier, GS and brackets", "]C1\x1d" "[91]", "" },
	{ "trailing GS", "91", "\x1d" },
	{ "trailing GS twice", "91", "\x1d\x1d" },
	{ "everything", "]d2\x1d" "91", "\x1d" },
	{ "identifier and brackets", "]d2" "(91)", "" },
};
/* clang-format on */

START_TEST(form_rows)
{
	struct label_code c = plain(_i % 3 != 0), got;
	char symbol[LABEL_SYMBOL_SIZE], text[80];
	struct err err = { 0 };

	label_code_make(symbol, &c);
	str_fmt(text, sizeof(text), "%s%s%s", forms[_i].before, symbol + 4,
	    forms[_i].behind);
	ck_assert_msg(label_code_looks_like(text), "%s", forms[_i].why);
	ck_assert_msg(label_code_parse(&got, text, &err) == RC_OK, "%s: %s",
	    forms[_i].why, err.text);
	same(&got, &c);
}
END_TEST

/* Each character replaced by every other printable one. */
START_TEST(damaged)
{
	struct label_code c, got;
	char symbol[LABEL_SYMBOL_SIZE], was;
	int n, i, ch, tried = 0;

	seed = 91;
	for (n = 0; n < 40; n++) {
		c = n == 0 ? plain(true) : n == 1 ? plain(false) : any_code();
		label_code_make(symbol, &c);
		for (i = 4; i < 4 + LABEL_CODE_LEN; i++) {
			was = symbol[i];
			for (ch = '!'; ch <= '~'; ch++) {
				if (ch == was)
					continue;
				symbol[i] = (char)ch;
				tried++;
				ck_assert_msg(label_code_parse(&got, symbol,
						  NULL) == RC_INVALID,
				    "%s", symbol);
			}
			symbol[i] = was;
		}
	}
	ck_assert_int_eq(tried, 40 * LABEL_CODE_LEN * 93);
}
END_TEST

/* A string whose check character is right, whatever it says. */
static void
checked(char text[80], const char *body)
{
	size_t n = strlen(body);

	str_fmt(text, 80, "91%s%c", body, mod37_36(body, n));
}

/* clang-format off */
static const struct {
	const char *why;
	const char *body; /* without its check character */
	const char *says;
} wrong[] = {
	{ "one short", "1001H7C2633009C261127235", "holds 25 characters" },
	{ "one too many", "1001H7C2633009C26112723590",
	    "holds 27 characters" },
	{ "nothing in it", "", "holds" },
	{ "version 2", "2001H7C2633009C2611272359", "version '2'" },
	{ "the portion's own check", "1001H7D2633009C2611272359",
	    "check character" },
	{ "the batch's own check", "1001H7C2633009D2611272359",
	    "check character" },
	{ "no portion, the batch's check", "10000002633009D2611272359",
	    "check character" },
	{ "month 13", "1001H7C2633009C2613272359", "not a date" },
	{ "month 0", "1001H7C2633009C2600272359", "not a date" },
	{ "day 0", "1001H7C2633009C2611002359", "not a date" },
	{ "31 November", "1001H7C2633009C2611312359", "not a date" },
	{ "29 February of a common year", "1001H7C2633009C2702292359",
	    "not a date" },
	{ "hour 24", "1001H7C2633009C2611272400", "not a date" },
	{ "minute 60", "1001H7C2633009C2611272360", "not a date" },
	{ "a letter in the year", "1001H7C2633009CA611272359", "not a date" },
	{ "a letter in the minute", "1001H7C2633009C26112723A9",
	    "not a date" },
};
/* clang-format on */

START_TEST(wrong_rows)
{
	struct label_code got;
	char text[80];
	struct err err = { 0 };

	checked(text, wrong[_i].body);
	ck_assert_int_eq(label_code_parse(&got, text, &err), RC_INVALID);
	ck_assert_msg(strstr(err.text, wrong[_i].says) != NULL, "%s: %s",
	    wrong[_i].why, err.text);
}
END_TEST

/* What a person keys, or another label says, is no scan of ours. */
START_TEST(not_ours)
{
	static const char *const texts[] = {
		"", "91", "26330-09C", "001-H7C",
		"91001-1", /* a batch of 2091 would begin like this */
		"]d2", "]", "\x1d",
		"01095011015300031727112710AB12", /* a supplier's */
	};
	struct label_code got;

	ck_assert(!label_code_looks_like(texts[_i]));
	ck_assert_int_eq(label_code_parse(&got, texts[_i], NULL), RC_INVALID);
}
END_TEST

Suite *
suite_core_label_code(void)
{
	Suite *s = suite_create("core_label_code");
	TCase *tc = tcase_create("label_code");

	tcase_add_test(tc, any_value);
	tcase_add_loop_test(tc, moment_rows, 0, (int)NELEM(moments));
	tcase_add_test(tc, layout);
	tcase_add_loop_test(tc, form_rows, 0, (int)NELEM(forms));
	tcase_add_test(tc, damaged);
	tcase_add_loop_test(tc, wrong_rows, 0, (int)NELEM(wrong));
	tcase_add_loop_test(tc, not_ours, 0, 9);
	suite_add_tcase(s, tc);
	return s;
}
