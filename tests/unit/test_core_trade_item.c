/*
 * test_core_trade_item.c - labels under a kitchen's own GS1 prefix: numbers,
 * element strings, and the way back.
 *
 * Sources: GS1 General Specifications 7.9.1 (check digit), table 7-6 (elements
 * of pre-defined length) and 2.1.11 to 2.1.12 (restricted circulation); worked
 * check digits from the tests of the biip library and the GS1 Barcode Syntax
 * Dictionary.  The element strings are also given to libzint, which checks
 * every element on its own.
 */
#include "unit.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "core/gs1.h"
#include "core/trade_item.h"
#include "labels/barcode.h"

#define PREFIX                                                                 \
	"9501101" /* of the worked figures of the General                      \
		   * Specifications */

static day_no
day(int y, int m, int d)
{
	day_no out;

	ck_assert(day_from_civil(&out, y, m, d));
	return out;
}

static struct label_code
portion(int hour, int minute)
{
	struct label_code c = { .portion = "001H7C",
		.batch = "2633009C",
		.use_by = { .hour = hour, .minute = minute } };

	c.use_by.day = day(2026, 11, 27);
	return c;
}

/* clang-format off */
static const struct {
	const char *prefix;
	int64_t item;
	const char *gtin; /* NULL: refused */
	const char *says;
	const char *why;
} numbers[] = {
	/* 095011015300 3: figure 5.1-3 of the General Specifications */
	{ "9501101", 53000, "09501101530003", "", "worked figure" },
	/* 629104150021 3: biip, citing 7.9.1 */
	{ "6291041", 50021, "06291041500213", "", "worked check digit" },
	{ "9501101", 1, "09501101000018", "", "zeros in front" },
	{ "9501101", 99999, "09501101999992", "", "last that fits" },
	{ "9501101", 100000, NULL, "leaves 5 digits", "one too many" },
	{ "9501", 99999999, "09501999999999", "", "shortest prefix" },
	{ "9501", 100000000, NULL, "leaves 8 digits", "beyond it" },
	{ "95011015300", 9, "09501101530096", "", "one digit left" },
	{ "95011015300", 10, NULL, "leaves 1 digits", "two are needed" },
	{ "950110153000", 1, NULL, "leaves 0 digits", "none left" },
	{ "9501101", 0, NULL, "does not fit", "no dish" },
	{ "9501101", -5, NULL, "does not fit", "below it" },
	{ "950", 1, NULL, "4 to 12 digits", "too short" },
	{ "9501101530001", 1, NULL, "4 to 12 digits", "too long" },
	{ "9501a01", 1, NULL, "4 to 12 digits", "a letter" },
	{ "none", 1, NULL, "4 to 12 digits", "none" },
	{ "0412345", 1, NULL, "restricted", "within one company" },
	{ "0212345", 1, NULL, "restricted", "region" },
	{ "2001234", 1, NULL, "restricted", "region" },
	{ "2999999", 1, NULL, "restricted", "region" },
	{ "0000001", 1, NULL, "8 digits", "filled up with zeros" },
	{ "3001234", 1, "03001234000016", "", "next after them" },
};
/* clang-format on */

/* Weights 3 and 1 from the right, written anew. */
static int
check_digit(const char *digits)
{
	int i, sum = 0;

	for (i = 0; i < 13; i++)
		sum += (digits[i] - '0') * (i % 2 == 0 ? 3 : 1);
	return '0' + (10 - sum % 10) % 10;
}

START_TEST(number_rows)
{
	char gtin[TRADE_ITEM_GTIN + 1];
	struct err err = { 0 };
	enum rc rc;

	rc = trade_item_gtin(gtin, numbers[_i].prefix, numbers[_i].item, &err);
	if (numbers[_i].gtin == NULL) {
		ck_assert_int_eq(rc, RC_INVALID);
		ck_assert_msg(strstr(err.text, numbers[_i].says) != NULL,
		    "%s: %s", numbers[_i].why, err.text);
		ck_assert_str_eq(gtin, "");
		return;
	}
	ck_assert_msg(rc == RC_OK, "%s", err.text);
	ck_assert_int_eq(numbers[_i].gtin[13], check_digit(numbers[_i].gtin));
	ck_assert_str_eq(gtin, numbers[_i].gtin);
}
END_TEST

START_TEST(given)
{
	ck_assert(!trade_item_prefix_given(NULL));
	ck_assert(!trade_item_prefix_given(""));
	ck_assert(!trade_item_prefix_given("none"));
	ck_assert(trade_item_prefix_given("9501101"));
}
END_TEST

/* The strings, one separator at most: counted by gs1_build(), which puts one
 * only where table 7-6 asks for it, and made into a symbol by libzint. */
START_TEST(symbols)
{
	static const struct {
		int hour, minute;
		const char *symbol;
	} rows[] = {
		{ 23, 59,
		    "[01]09501101530003[17]261127[10]2633009C[21]001H7C" },
		{ 14, 30, "[01]09501101530003[7003]2611271430[21]001H7C" },
		{ 23, 0, "[01]09501101530003[7003]2611272300[21]001H7C" },
		{ 0, 0, "[01]09501101530003[7003]2611270000[21]001H7C" },
		{ 22, 59, "[01]09501101530003[7003]2611272259[21]001H7C" },
	};
	struct label_code c = portion(rows[_i].hour, rows[_i].minute);
	char symbol[TRADE_ITEM_SYMBOL_SIZE];
	struct gs1_reader r = { .today = day(2026, 11, 25) };
	struct gs1_scan s;
	struct bitmap *modules;
	struct buf built;
	size_t i, gaps = 0;
	struct err err = { 0 };

	trade_item_symbol(symbol, "09501101530003", &c);
	ck_assert_str_eq(symbol, rows[_i].symbol);
	gs1_read(&s, symbol, strlen(symbol), &r);
	ck_assert(s.valid && s.kind == GS1_ELEMENT_STRING);
	buf_init(&built, 200);
	ck_assert_int_eq(gs1_build(&built, s.elements, s.count, NULL), RC_OK);
	for (i = 0; i < built.len; i++)
		gaps += built.data[i] == GS1_GS;
	ck_assert_uint_eq(gaps, 1);
	buf_fini(&built);
	ck_assert_msg(barcode_encode(&modules, BARCODE_KIND_GS1_DATAMATRIX,
			  symbol, &err) == RC_OK,
	    "%s", err.text);
	ck_assert_int_le(modules->width, 22);
	bitmap_free(modules);
}
END_TEST

#define GS "\x1d"
#define DAY_LABEL                                                              \
	"0109501101530003"                                                     \
	"17261127"                                                             \
	"102633009C" GS "21001H7C"
#define TIME_LABEL                                                             \
	"0109501101530003"                                                     \
	"70032611271430" GS "21001H7C"

/* clang-format off */
static const struct {
	const char *text;
	bool looks;
	const char *says; /* NULL: good */
	const char *why;
} scans[] = {
	{ DAY_LABEL, true, NULL, "day" },
	{ TIME_LABEL, true, NULL, "time" },
	{ "]d2" DAY_LABEL, true, NULL, "identifier" },
	{ "]d2" GS DAY_LABEL GS, true, NULL, "separators around" },
	{ "0109501101530003" "17261127" "102633009C" "21001H7C", true, NULL,
	    "scanner lost the separator" },
	{ "0109501101530003" "70032611271430" "21001H7C", true, NULL,
	    "lost behind a time" },
	{ "0109501101530003" GS "17261127" GS "102633009C" GS "21001H7C", true,
	    NULL, "superfluous separators" },
	{ "(01)09501101530003(17)261127(10)2633009C(21)001H7C", true, NULL,
	    "brackets" },
	{ "[01]09501101530003[7003]2611271430[21]001H7C", true, NULL,
	    "as we write it" },
	{ "0109501101530002" "17261127" "102633009C" GS "21001H7C", true,
	    "check character", "check digit of the number" },
	{ "0109501101530003" "17261127" "102633009D" GS "21001H7C", true,
	    "check character", "of the batch" },
	{ "0109501101530003" "17261127" "102633009C" GS "21001H7D", true,
	    "check character", "of the portion" },
	{ "0109501101530003" "17261127" "102633009C" GS "21001h7c", true,
	    "check character", "small letters" },
	{ "0109501101530003" "17261327" "102633009C" GS "21001H7C", true,
	    "not a date", "month 13" },
	{ "0109501101530003" "17261100" "102633009C" GS "21001H7C", true,
	    "not a date", "day 00 is no day of ours" },
	{ "0109501101530003" "70032611272400" GS "21001H7C", true,
	    "not a date", "hour 24" },
	{ "0109501101530003" "70032611272360" GS "21001H7C", true,
	    "not a date", "minute 60" },
	{ "010950110153000A" "17261127" "102633009C" GS "21001H7C", true,
	    "check character", "a letter in the number" },
	{ "0109501102530002" "17261127" "102633009C" GS "21001H7C", false,
	    "not a label", "another prefix" },
	{ "0119501101530000" "17261127" "102633009C" GS "21001H7C", false,
	    "not a label", "another indicator" },
	{ "0109501101530003" "102633009C" GS "17261127" "21001H7C", false,
	    "not a label", "another order" },
	{ "0109501101530003" "17261127" "21001H7C", false, "not a label",
	    "no batch" },
	{ "0109501101530003" "21001H7C", false, "not a label", "no use-by" },
	{ DAY_LABEL "1", false, "not a label", "longer" },
	{ "0109501101530003" "17261127" "102633009C" GS "21001H7", false,
	    "not a label", "shorter" },
	{ "0109501101530003" "17261127" "102633009C" GS "21", false,
	    "not a label", "no serial" },
	{ "(01]09501101530003(17)261127(10)2633009C(21)001H7C", false,
	    "not a label", "brackets that do not match" },
	{ "", false, "not a label", "nothing" },
	{ "]d2", false, "not a label", "an identifier alone" },
	{ "001-H7C", false, "not a label", "keyed" },
};
/* clang-format on */

START_TEST(scan_rows)
{
	struct trade_item t;
	struct err err = { 0 };
	enum rc rc;

	ck_assert_msg(
	    trade_item_looks_like(scans[_i].text, PREFIX) == scans[_i].looks,
	    "%s", scans[_i].why);
	ck_assert(!trade_item_looks_like(scans[_i].text, "none"));
	ck_assert(!trade_item_looks_like(scans[_i].text, NULL));
	ck_assert(!trade_item_looks_like(scans[_i].text, "9501103"));
	rc = trade_item_parse(&t, scans[_i].text, PREFIX, &err);
	if (scans[_i].says != NULL) {
		ck_assert_int_eq(rc, RC_INVALID);
		ck_assert_msg(strstr(err.text, scans[_i].says) != NULL,
		    "%s: %s", scans[_i].why, err.text);
		return;
	}
	ck_assert_msg(rc == RC_OK, "%s: %s", scans[_i].why, err.text);
	ck_assert_int_eq(t.item, 53000);
	ck_assert_str_eq(t.code.portion, "001H7C");
	ck_assert_int_eq(t.code.use_by.day, day(2026, 11, 27));
	ck_assert_str_eq(
	    t.code.batch, t.code.use_by.hour == 23 ? "2633009C" : "");
}
END_TEST

/* What goods in would make of our own label: ours, and nothing to fill in. */
START_TEST(read_as_ours)
{
	struct gs1_reader r = { .today = day(2026, 11, 25),
		.own_prefix = PREFIX };
	const char *text = _i % 2 == 0 ? "]d2" DAY_LABEL : TIME_LABEL;
	struct gs1_scan s;

	if (_i >= 2)
		r.own_prefix = _i == 2 ? "none" : "9501102";
	gs1_read(&s, text, strlen(text), &r);
	ck_assert(s.valid);
	ck_assert_int_eq(s.kind, _i < 2 ? GS1_OWN_PORTION : GS1_ELEMENT_STRING);
	ck_assert_str_eq(s.elements[0].value, "09501101530003");
	ck_assert_str_eq(s.elements[s.count - 1].ai, "21");
	ck_assert_str_eq(s.elements[s.count - 1].value, "001H7C");
	ck_assert_uint_eq(s.count, _i % 2 == 0 ? 4 : 3);
}
END_TEST

/* Every single character of either label replaced: never another portion. */
START_TEST(damaged)
{
	static const char *const labels[] = { DAY_LABEL, TIME_LABEL };
	char text[80], was;
	struct trade_item t;
	int i, c, read = 0;

	ck_assert(str_copy(text, sizeof(text), labels[_i]));
	for (i = 0; text[i] != '\0'; i++) {
		was = text[i];
		for (c = '!'; c <= '~'; c++) {
			text[i] = (char)c;
			if (c == was ||
			    trade_item_parse(&t, text, PREFIX, NULL) != RC_OK)
				continue;
			/* Only the date has no check of its own. */
			ck_assert(i >= 16 && i < 30);
			ck_assert_str_eq(t.code.portion, "001H7C");
			ck_assert_int_eq(t.item, 53000);
			read++;
		}
		text[i] = was;
	}
	ck_assert_int_gt(read, 0);
}
END_TEST

START_TEST(any_item)
{
	uint64_t state = 17;
	char gtin[TRADE_ITEM_GTIN + 1], symbol[TRADE_ITEM_SYMBOL_SIZE];
	char prefix[16];
	struct label_code c;
	struct trade_item t;
	int64_t item, limit;
	int n, digits, i;

	for (n = 0; n < 5000; n++) {
		state = state * 6364136223846793005u + 1442695040888963407u;
		digits = 4 + (int)(state >> 40) % 8;
		str_fmt(prefix, sizeof(prefix), "%.*s", digits, "952134876543");
		for (i = digits, limit = 1; i < 12; i++)
			limit *= 10;
		item = 1 + (int64_t)(state >> 20) % (limit - 1);
		c = portion((int)(state >> 50) % 24, (int)(state >> 33) % 60);
		c.use_by.day += (int)(state >> 45) % 20000;
		ck_assert_int_eq(
		    trade_item_gtin(gtin, prefix, item, NULL), RC_OK);
		ck_assert_int_eq(gtin[13], check_digit(gtin));
		trade_item_symbol(symbol, gtin, &c);
		ck_assert_int_eq(
		    trade_item_parse(&t, symbol, prefix, NULL), RC_OK);
		ck_assert_int_eq(t.item, item);
		ck_assert_int_eq(t.code.use_by.day, c.use_by.day);
		ck_assert_int_eq(t.code.use_by.hour, c.use_by.hour);
		ck_assert_int_eq(t.code.use_by.minute, c.use_by.minute);
	}
}
END_TEST

Suite *
suite_core_trade_item(void)
{
	Suite *s = suite_create("core_trade_item");
	TCase *tc = tcase_create("trade_item");

	tcase_add_loop_test(tc, number_rows, 0, (int)NELEM(numbers));
	tcase_add_test(tc, given);
	tcase_add_loop_test(tc, symbols, 0, 5);
	tcase_add_loop_test(tc, scan_rows, 0, (int)NELEM(scans));
	tcase_add_loop_test(tc, read_as_ours, 0, 4);
	tcase_add_loop_test(tc, damaged, 0, 2);
	tcase_add_test(tc, any_item);
	suite_add_tcase(s, tc);
	return s;
}
