/*
 * test_base_units.c - what people type as weights, counts, temperatures and
 * shares.  The forms are this program's own (base/units.h); no outside source
 * exists for them except where a row names one.
 */
#include "unit.h"

#include <stdint.h>
#include <string.h>

#include "base/units.h"

#define BAD INT64_MIN /* RC_INVALID is expected */

static const struct row {
	const char *text;
	int64_t want;
	const char *why;
} weight_rows[] = {
	{ "850", 850, "a bare number is grams" },
	{ "850 g", 850, "grams named" },
	{ "850g", 850, "without a blank" },
	{ "850 G", 850, "upper case" },
	{ "  850  ", 850, "blanks around" },
	{ "+850", 850, "a sign" },
	{ "007", 7, "leading zeros" },
	{ "1", 1, "the smallest" },
	{ "1,2 kg", 1200, "decimal comma (ISO 80000-1, 7.3.2, from memory)" },
	{ "1.2 kg", 1200, "decimal point (ISO 80000-1, 7.3.2, from memory)" },
	{ "1.2kg", 1200, "without a blank" },
	{ "2 KG", 2000, "upper case" },
	{ "0.001 kg", 1, "one gram" },
	{ "1.234 kg", 1234, "three decimals" },
	{ "1.2340 kg", 1234, "a fourth decimal that is zero" },
	{ "1,200 kg", 1200, "three decimals after a comma" },
	{ "1000 kg", 1000000, "the largest" },
	{ "1000000", 1000000, "the largest in grams" },
	{ "1.2345kg", BAD, "a tenth of a gram: never rounded unseen" },
	{ "12.5", BAD, "a bare number is whole" },
	{ "12.5 g", BAD, "grams are whole" },
	{ "1,000", BAD, "could be meant as 1 or as 1000" },
	{ "1.000 g", BAD, "could be meant as 1 or as 1000" },
	{ "0", BAD, "zero" },
	{ "0 kg", BAD, "zero" },
	{ "0.000 kg", BAD, "zero" },
	{ "-5", BAD, "negative" },
	{ "-1.2 kg", BAD, "negative" },
	{ "1000.001 kg", BAD, "above the largest" },
	{ "1000001", BAD, "above the largest in grams" },
	{ "99999999999999999999", BAD, "more digits than any number holds" },
	{ "18446744073709551617", BAD, "2^64 + 1 must not become 1" },
	{ "", BAD, "nothing" },
	{ " ", BAD, "a blank" },
	{ "kg", BAD, "no number" },
	{ "g", BAD, "no number" },
	{ "1.2.3 kg", BAD, "two points" },
	{ "1. kg", BAD, "a point without decimals" },
	{ ".5 kg", BAD, "a point without a whole part" },
	{ "1 lb", BAD, "another unit" },
	{ "1 kgs", BAD, "text after the unit" },
	{ "850 g g", BAD, "text after the unit" },
	{ "1 2", BAD, "a blank inside" },
	{ "1e3", BAD, "an exponent" },
	{ "0x10", BAD, "hexadecimal" },
	{ "--5", BAD, "two signs" },
	{ "\xd9\xa1", BAD, "another script's digit" },
	{ "nan", BAD, "a word strtod would take" },
	{ "inf kg", BAD, "a word strtod would take" },
};

static void
check(enum rc rc, int64_t got, const struct err *err, const struct row *r)
{
	if (r->want == BAD) {
		ck_assert_msg(rc == RC_INVALID, "\"%s\" taken as %lld: %s",
		    r->text, (long long)got, r->why);
		ck_assert_msg(strncmp(err->text, "it ", 3) == 0, "\"%s\": %s",
		    r->text, err->text);
		ck_assert_msg(got == 77, "%s: output touched", r->why);
		return;
	}
	ck_assert_msg(rc == RC_OK, "\"%s\": %s", r->text, err->text);
	ck_assert_msg(got == r->want, "\"%s\" is %lld: %s", r->text,
	    (long long)got, r->why);
}

START_TEST(weight_row)
{
	struct err err = { .rc = RC_OK };
	grams g = 77;
	enum rc rc = weight_parse(&g, "it", weight_rows[_i].text, &err);

	check(rc, g, &err, &weight_rows[_i]);
}
END_TEST

static const struct row temp_rows[] = {
	{ "1.5", 15, "tenths" },
	{ "1,5", 15, "decimal comma" },
	{ "0", 0, "melting ice" },
	{ "-18", -180, "below zero" },
	{ "-0.5", -5, "below zero with a whole part of zero" },
	{ "+3", 30, "a sign" },
	{ "2 C", 20, "unit" },
	{ "2c", 20, "unit, lower case" },
	{ "2 \xc2\xb0"
	  "C",
	    20, "degree sign" },
	{ "2.0", 20, "a zero decimal" },
	{ "2.50", 25, "a second decimal that is zero" },
	{ "60", 600, "the highest" },
	{ "-60.0", -600, "the lowest" },
	{ "38F", BAD, "Fahrenheit is never converted" },
	{ "38 \xc2\xb0"
	  "F",
	    BAD, "Fahrenheit with a degree sign" },
	{ "38f", BAD, "Fahrenheit, lower case" },
	{ "2.55", BAD, "hundredths: never rounded unseen" },
	{ "60.1", BAD, "above the range" },
	{ "-60.1", BAD, "below the range" },
	{ "275 K", BAD, "kelvin" },
	{ "2 CC", BAD, "text after the unit" },
	{ "", BAD, "nothing" },
	{ "-", BAD, "a sign alone" },
	{ "C", BAD, "no number" },
	{ "cold", BAD, "a word" },
};

START_TEST(temp_row)
{
	struct err err = { .rc = RC_OK };
	int v = 77;
	enum rc rc = temp_parse(&v, "it", temp_rows[_i].text, &err);

	check(rc, v, &err, &temp_rows[_i]);
}
END_TEST

START_TEST(fahrenheit_says_so)
{
	struct err err = { .rc = RC_OK };
	int v;

	ck_assert_int_eq(temp_parse(&v, "core", "38F", &err), RC_INVALID);
	ck_assert_str_eq(
	    err.text, "core \"38F\" is in Fahrenheit: give degrees Celsius");
}
END_TEST

static const struct row percent_rows[] = {
	{ "12.5", 1250, "bare" },
	{ "12,5 %", 1250, "decimal comma and sign" },
	{ "12.5%", 1250, "without a blank" },
	{ "45.25", 4525, "two decimals" },
	{ "0", 0, "none" },
	{ "100", 10000, "all" },
	{ "100.00 %", 10000, "all" },
	{ "100.01", BAD, "more than all" },
	{ "-0.01", BAD, "less than nothing" },
	{ "12.345", BAD, "three decimals: never rounded unseen" },
	{ "50 %%", BAD, "two signs" },
	{ "50 % x", BAD, "text after the sign" },
	{ "%", BAD, "no number" },
	{ "", BAD, "nothing" },
};

START_TEST(percent_row)
{
	struct err err = { .rc = RC_OK };
	int v = 77;
	enum rc rc = percent_parse(&v, "it", percent_rows[_i].text, &err);

	check(rc, v, &err, &percent_rows[_i]);
}
END_TEST

static const struct row count_rows[] = {
	{ "1", 1, "the least allowed here" },
	{ "500", 500, "the most allowed here" },
	{ " 12 ", 12, "blanks around" },
	{ "0", BAD, "below" },
	{ "501", BAD, "above" },
	{ "-3", BAD, "negative" },
	{ "1.5", BAD, "not whole" },
	{ "2.0", BAD, "a whole number has no point" },
	{ "1,000", BAD, "a thousand must not become 1" },
	{ "12x", BAD, "text behind" },
	{ "", BAD, "nothing" },
	{ "4294967297", BAD, "2^32 + 1 must not become 1" },
};

START_TEST(count_row)
{
	struct err err = { .rc = RC_OK };
	int64_t v = 77;
	enum rc rc = int_parse(&v, "it", count_rows[_i].text, 1, 500, &err);

	check(rc, v, &err, &count_rows[_i]);
}
END_TEST

static const struct row decimal_rows[] = {
	{ "3,25", 325, "two kept" },
	{ "3.2", 320, "one given" },
	{ "3", 300, "none given" },
	{ "-3.25", -325, "negative" },
	{ "3.2500", 325, "zeros behind" },
	{ "9999999999999.99", INT64_C(999999999999999), "the largest" },
	{ "10000000000000.00", BAD, "one more" },
	{ "3.251", BAD, "a third decimal" },
	{ "3.2,5", BAD, "point and comma" },
};

START_TEST(decimal_row)
{
	struct err err = { .rc = RC_OK };
	int64_t v = 77;
	enum rc rc = decimal_parse(&v, "it", decimal_rows[_i].text, 2, &err);

	check(rc, v, &err, &decimal_rows[_i]);
}
END_TEST

static const struct print_row {
	char kind;
	int64_t value;
	const char *want;
} print_rows[] = {
	{ 'w', 0, "0 g" },
	{ 'w', 850, "850 g" },
	{ 'w', 999, "999 g" },
	{ 'w', 1000, "1.000 kg" },
	{ 'w', 1005, "1.005 kg" },
	{ 'w', 1000000, "1000.000 kg" },
	{ 'w', -850, "-850 g" },
	{ 'w', -1200, "-1.200 kg" },
	{ 't', 15, "1.5 C" },
	{ 't', 0, "0.0 C" },
	{ 't', -5, "-0.5 C" },
	{ 't', -180, "-18.0 C" },
	{ 'p', 0, "0 %" },
	{ 'p', 5, "0.05 %" },
	{ 'p', 4520, "45.2 %" },
	{ 'p', 4525, "45.25 %" },
	{ 'p', 4505, "45.05 %" },
	{ 'p', 10000, "100 %" },
};

START_TEST(print_row)
{
	const struct print_row *r = &print_rows[_i];
	char s[32];

	if (r->kind == 'w')
		weight_print(s, sizeof(s), r->value);
	else if (r->kind == 't')
		temp_print(s, sizeof(s), (int)r->value);
	else
		percent_print(s, sizeof(s), (int)r->value);
	ck_assert_str_eq(s, r->want);
}
END_TEST

/* What is printed can be typed back in. */
START_TEST(print_and_parse)
{
	char s[32];
	grams g;
	int v, bp;

	for (g = 1; g <= WEIGHT_MAX_G; g += 1 + g / 7) {
		grams back;

		weight_print(s, sizeof(s), g);
		ck_assert_int_eq(weight_parse(&back, "w", s, NULL), RC_OK);
		ck_assert_int_eq(back, g);
	}
	for (v = -600; v <= 600; v++) {
		int back;

		temp_print(s, sizeof(s), v);
		ck_assert_int_eq(temp_parse(&back, "t", s, NULL), RC_OK);
		ck_assert_int_eq(back, v);
	}
	for (bp = 0; bp <= BP_ONE; bp++) {
		int back;

		percent_print(s, sizeof(s), bp);
		ck_assert_int_eq(percent_parse(&back, "p", s, NULL), RC_OK);
		ck_assert_int_eq(back, bp);
	}
}
END_TEST

START_TEST(dividing)
{
	ck_assert_int_eq(div_up(0, 3), 0);
	ck_assert_int_eq(div_up(1, 3), 1);
	ck_assert_int_eq(div_up(3, 3), 1);
	ck_assert_int_eq(div_up(4, 3), 2);
	ck_assert_int_eq(div_down(2, 3), 0);
	ck_assert_int_eq(div_down(5, 3), 1);
	ck_assert_int_eq(div_up(INT64_MAX, 1), INT64_MAX);
}
END_TEST

Suite *
suite_base_units(void)
{
	Suite *s = suite_create("base_units");
	TCase *t = tcase_create("all");

	tcase_add_loop_test(t, weight_row, 0, (int)NELEM(weight_rows));
	tcase_add_loop_test(t, temp_row, 0, (int)NELEM(temp_rows));
	tcase_add_test(t, fahrenheit_says_so);
	tcase_add_loop_test(t, percent_row, 0, (int)NELEM(percent_rows));
	tcase_add_loop_test(t, count_row, 0, (int)NELEM(count_rows));
	tcase_add_loop_test(t, decimal_row, 0, (int)NELEM(decimal_rows));
	tcase_add_loop_test(t, print_row, 0, (int)NELEM(print_rows));
	tcase_add_test(t, print_and_parse);
	tcase_add_test(t, dividing);
	suite_add_tcase(s, t);
	return s;
}
