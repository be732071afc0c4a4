/*
 * test_core_gs1_value.c - values and what they mean: check digits, dates,
 * weights, restricted numbers; several symbols on one item; what goods in gets.
 *
 * Sources in short: see test_core_gs1.c.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "core/species.h"
#include "test_core_gs1.h"

/* clang-format off */
static const struct {
	const char *digits;
	const char *range; /* NULL: none */
	const char *source;
} restricted[] = {
	{ "00011112", "one company", "BIIP, RCN-8 prefix 0" },
	{ "00099998", "one company", "BIIP, RCN-8 prefix 0" },
	{ "201111111115", "a region", "BIIP, RCN-12 prefix 2" },
	{ "291111111116", "a region", "BIIP, RCN-12 prefix 2" },
	{ "401111111119", "one company", "BIIP, RCN-12 prefix 4" },
	{ "491111111110", "one company", "BIIP, RCN-12 prefix 4" },
	{ "2001234567893", "a region", "BIIP, RCN-13 prefix 20" },
	{ "2011122912346", "a region", "BIIP, prefix 20 of Great Britain" },
	{ "0401234567893", "one company",
	    "GS18 p.67, prefix 04; the digits are ours" },
	{ "4006381333931", NULL, "prefix 400 is no RCN: BIIP prefix table" },
	{ "6291041500213", NULL, "BIIP" },
};

static const struct {
	const char *digits;
	char check;
	const char *source;
} digits[] = {
	{ "37610425002123456", '9', "BIIP tests" },
	{ "629104150021", '3', "BIIP tests" },
	{ "9501234", '6', "BIIP tests" },
	{ "0234567", '3', "DICT lint_csum tests" },
	{ "41600033610", '8', "DICT lint_csum tests" },
	{ "2401234567890", '5', "ENG scandata.c" },
	{ "12A", '\0', "not digits" },
};

/* Value of AI and what it means, today being 26 November 2026. */
static const struct {
	const char *why, *scan, *meaning; /* NULL: not a value */
	const char *source;
} meanings[] = {
	{ "production date", "(11)030201", "Saturday 1 February 2003",
	    "BIIP tests" },
	{ "expiry with time", "(7003)0701021415",
	    "Tuesday 2 January 2007 14:15", "BIIP tests" },
	{ "day 00 in a leap year", "(15)200200",
	    "Saturday 29 February 2020 (no day given: the last of the month)",
	    "BIIP tests" },
	{ "day 00 in a common year", "(15)230200",
	    "Tuesday 28 February 2023 (no day given: the last of the month)",
	    "the rule of BIIP tests" },
	{ "30 February", "(11)120230", NULL, "BIIP tests" },
	{ "29 February, common year", "(17)210229", NULL, "DICT lint" },
	{ "30 February 2000", "(17)000230", NULL, "DICT lint" },
	{ "29 February, leap year", "(17)240229",
	    "Thursday 29 February 2024", "DICT lint" },
	{ "hour 24", "(7003)2611272400", NULL, "DICT lint" },
	{ "minute 60", "(7003)2611272360", NULL, "DICT lint" },
	{ "month 13", "(17)261301", NULL, "DICT lint" },
	{ "month 00", "(17)260001", NULL, "DICT lint" },
	{ "day 00 of a freezing date", "(7006)261100", NULL, "DICT yymmdd" },
	{ "day 00 of an expiry time", "(7003)2611001200", NULL,
	    "DICT yymmdd" },
	{ "50 years ahead", "(17)761231", "Thursday 31 December 2076",
	    "General Specifications 7.12" },
	{ "51 years ahead is 49 back: not believed", "(17)770101", NULL,
	    "General Specifications 7.12" },
	{ "harvest span", "(7007)211225211231",
	    "Saturday 25 December 2021 to Friday 31 December 2021", "ENG" },
	{ "harvest that ends before it begins", "(7007)211231211225", NULL,
	    "DICT: start and end" },
	{ "production time, hour only", "(8008)26112714",
	    "Friday 27 November 2026 14:00", "DICT yymmddhh mmoptss" },
	{ "production time to the second", "(8008)261127140509",
	    "Friday 27 November 2026 14:05:09", "DICT yymmddhh mmoptss" },
	{ "net weight", "(3103)000400", "0.400 kg", "DICT" },
	{ "net weight, two decimals", "(3102)000400", "4.00 kg", "DICT" },
	{ "net weight, none", "(3100)000400", "400 kg", "DICT" },
	{ "net weight, five", "(3105)123456", "1.23456 kg", "DICT" },
	{ "pounds", "(3202)000123", "1.23 lb", "DICT" },
	{ "gross weight", "(3301)000123", "12.3 kg", "DICT" },
	{ "count", "(30)0012", "12", "DICT" },
	{ "count in letters", "(30)1A", NULL, "DICT N..8" },
	{ "temperature below zero", "(4331)001850-", "-18.50 C",
	    "hundredths of a degree, from memory" },
	{ "temperature with another sign", "(4331)001850+", NULL,
	    "DICT hyphen" },
	{ "country", "(422)372", "country 372 (ISO 3166-1 numeric)", "DICT" },
	{ "no country", "(422)000", NULL, "DICT iso3166" },
	{ "GTIN-13", "(01)06291041500213", "GTIN-13 6291041500213", "BIIP" },
	{ "GTIN-8", "(01)00000095012346", "GTIN-8 95012346", "BIIP" },
	{ "GTIN-12", "(01)00614141000418", "GTIN-12 614141000418",
	    "General Specifications figure 6.6.5-4" },
	{ "variable measure", "(01)95012345678903",
	    "GTIN-14 95012345678903, variable measure",
	    "indicator digit 9, from memory" },
	{ "species", "(7008)COD", "Cod (Gadus morhua)", "FAO ASFIS" },
	{ "area without a list of areas", "(7005)27.7.a", "FAO area 27.7.a",
	    "DICT X..12" },
	{ "method", "(7010)01", "production method code 01",
	    "DICT X..2; the list of values was not found" },
	{ "processor", "(7030)372ABC1", "country 372, ABC1", "DICT" },
};
/* clang-format on */

START_TEST(restricted_rows)
{
	struct gs1_scan s = gs1_case_read(restricted[_i].digits, '\0');
	const char *digits_ = restricted[_i].digits;

	ck_assert_msg(s.kind == GS1_EAN && s.valid && s.count == 1, "%s: %s",
	    digits_, gs1_case_problems(&s));
	ck_assert_int_eq(s.restricted, restricted[_i].range != NULL);
	if (restricted[_i].range == NULL) {
		ck_assert_str_eq(s.elements[0].ai, "01");
		return;
	}
	ck_assert_str_eq(s.elements[0].ai, "");
	ck_assert_str_eq(s.elements[0].value, digits_);
	ck_assert_msg(
	    strstr(s.elements[0].meaning, restricted[_i].range) != NULL,
	    "%s: %s (%s)", digits_, s.elements[0].meaning,
	    restricted[_i].source);
}
END_TEST

START_TEST(check_digits)
{
	const char *d = digits[_i].digits;

	ck_assert_msg(gs1_check_digit(d, strlen(d)) == digits[_i].check, "%s",
	    digits[_i].source);
}
END_TEST

START_TEST(meaning_rows)
{
	static struct species cod = {
		.code = "COD", .name = "Cod", .scientific = "Gadus morhua"
	};
	struct species_table table = { &cod, 1 };
	struct gs1_reader r = gs1_case_reader();
	const char *scan = meanings[_i].scan;
	struct gs1_scan s;

	r.names.species = &table;
	gs1_read(&s, scan, strlen(scan), &r);
	ck_assert_uint_eq(s.count, 1);
	ck_assert_msg(s.elements[0].good == (meanings[_i].meaning != NULL),
	    "%s: %s (%s)", meanings[_i].why, gs1_case_problems(&s),
	    meanings[_i].source);
	ck_assert_msg(
	    str_eq(s.elements[0].meaning,
		meanings[_i].meaning == NULL ? "" : meanings[_i].meaning),
	    "%s: %s (%s)", meanings[_i].why, s.elements[0].meaning,
	    meanings[_i].source);
}
END_TEST

/* General Specifications 7.12: 49 back, 50 ahead, from any year. */
START_TEST(century)
{
	int now, yy, year;

	for (now = 2000; now <= 2199; now++)
		for (yy = 0; yy <= 99; yy++) {
			year = gs1_year(yy, now);
			ck_assert_int_eq(year % 100, yy);
			ck_assert_msg(year >= now - 49 && year <= now + 50,
			    "%02d in %d is %d", yy, now, year);
		}
}
END_TEST

START_TEST(too_large)
{
	char text[GS1_SCAN_MAX + 3];
	struct gs1_reader r = gs1_case_reader();
	struct gs1_scan s;

	memset(text, '1', sizeof(text));
	gs1_read(&s, text, GS1_SCAN_MAX + 1, &r);
	ck_assert_msg(
	    strstr(gs1_case_problems(&s), "at most 4096 bytes") != NULL, "%s",
	    gs1_case_problems(&s));
	text[GS1_SCAN_MAX] = '\r';
	text[GS1_SCAN_MAX + 1] = '\n';
	gs1_read(&s, text, GS1_SCAN_MAX + 2, &r);
	ck_assert(strstr(gs1_case_problems(&s), "at most 4096") == NULL);
	ck_assert(!s.valid);
	gs1_read(&s, "A\0B", 3, &r);
	ck_assert(strstr(gs1_case_problems(&s), "without NUL") != NULL);
	ck_assert(!s.valid);
}
END_TEST

/* --- several symbols, and goods in -----------------------------------------*/

START_TEST(joined)
{
	struct gs1_scan a = gs1_case_read("(10)L1(7008)COD", '\0');
	struct gs1_scan b = gs1_case_read("6291041500213", '\0');

	ck_assert(!a.valid);
	ck_assert_int_eq(gs1_first_problem(&a)->grade, GS1_PARTNER);
	gs1_join(&a, &b);
	ck_assert_msg(a.valid, "%s", gs1_case_problems(&a));
	ck_assert_str_eq(gs1_case_list(&a), "10=L1|7008=COD|01=06291041500213");
	b = gs1_case_read("(01)06291041500213(10)L2", '\0');
	gs1_join(&a, &b);
	ck_assert(!a.valid);
	ck_assert(strstr(gs1_case_problems(&a), "(10) is L1 and L2") != NULL);
	b = gs1_case_read("001-H7C", '\0');
	gs1_join(&a, &b);
	ck_assert(strstr(gs1_case_problems(&a), "go together") != NULL);
}
END_TEST

START_TEST(prefill)
{
	struct gs1_scan s = gs1_case_read(
	    "(01)06291041500213(3103)012345(7008)cod(7005)27.7.a"
	    "(7007)261120261124(7006)261125(7009)OTB(7010)01(422)372"
	    "(10)B240228A(15)261205(17)261130(7003)2611300600(30)12",
	    '\0');
	struct gs1_prefill p;

	gs1_prefill_from(&p, &s);
	ck_assert_msg(s.valid, "%s", gs1_case_problems(&s));
	ck_assert_str_eq(p.species, "COD");
	ck_assert_str_eq(p.lot, "B240228A");
	ck_assert_str_eq(p.gtin, "06291041500213");
	ck_assert_int_eq(p.net_g, 12345);
	ck_assert_int_eq(p.count, 12);
	ck_assert_int_eq(p.use_by, gs1_case_day(2026, 11, 30));
	ck_assert_int_eq(p.use_by_min, 360);
	ck_assert_int_eq(p.best_before, gs1_case_day(2026, 12, 5));
	ck_assert_str_eq(p.area, "27.7.a");
	ck_assert_int_eq(p.harvest_first, gs1_case_day(2026, 11, 20));
	ck_assert_int_eq(p.harvest_last, gs1_case_day(2026, 11, 24));
	ck_assert_int_eq(p.first_freeze, gs1_case_day(2026, 11, 25));
	ck_assert_str_eq(p.gear, "OTB");
	ck_assert_str_eq(p.method, "01");
	ck_assert_str_eq(p.country, "372");
}
END_TEST

START_TEST(prefill_doubts)
{
	struct gs1_scan s =
	    gs1_case_read("]C1011231231231233310ABC12399TESTING", '\0');
	struct gs1_prefill p;

	gs1_prefill_from(&p, &s);
	ck_assert_str_eq(p.gtin, "12312312312333");
	ck_assert_str_eq(p.lot, "");
	ck_assert_int_eq(p.use_by, DAY_NONE);
	ck_assert_int_eq(p.use_by_min, -1);
	ck_assert_int_eq(p.harvest_last, DAY_NONE);
	s = gs1_case_read("(01)06291041500213(17)261129(7003)2611300600", '\0');
	gs1_prefill_from(&p, &s);
	ck_assert_int_eq(p.use_by, gs1_case_day(2026, 11, 29));
	ck_assert_int_eq(p.use_by_min, -1);
	s = gs1_case_read("(01)02001234567893(3105)000199(17)261100", '\0');
	gs1_prefill_from(&p, &s);
	ck_assert_str_eq(p.gtin, "");
	ck_assert_int_eq(p.net_g, 1);
	ck_assert_int_eq(p.use_by, gs1_case_day(2026, 11, 30));
	s = gs1_case_read("(01)06291041500213(3100)999999(17)269999", '\0');
	gs1_prefill_from(&p, &s);
	ck_assert_int_eq(p.net_g, 0);
	ck_assert_int_eq(p.use_by, DAY_NONE);
}
END_TEST

static const char *
some_area(void *ctx, const char *code)
{
	(*(int *)ctx)++;
	return str_eq(code, "27.7.a") ? "Irish Sea" : NULL;
}

START_TEST(names)
{
	static struct species cod = { .code = "COD", .name = "Cod" };
	struct species_table table = { &cod, 1 };
	struct gs1_reader r = gs1_case_reader();
	struct gs1_scan s;
	const char *text = "(01)06291041500213(7005)27.7.a(7009)OTB(7008)XYZ";
	int asked = 0;

	r.names.area = some_area;
	r.names.ctx = &asked;
	r.names.species = &table;
	gs1_read(&s, text, strlen(text), &r);
	ck_assert_int_eq(asked, 1);
	ck_assert(s.valid);
	ck_assert_str_eq(s.elements[1].meaning, "FAO area 27.7.a, Irish Sea");
	ck_assert_str_eq(s.elements[2].meaning, "FAO gear OTB");
	ck_assert_str_eq(s.elements[3].meaning, "FAO code XYZ");
	ck_assert_str_eq(gs1_case_problems(&s),
	    "(7008) XYZ is not in the species table, kept");
}
END_TEST

Suite *
suite_core_gs1_value(void)
{
	Suite *s = suite_create("core_gs1_value");
	TCase *tc = tcase_create("gs1_value");

	tcase_add_loop_test(tc, restricted_rows, 0, (int)NELEM(restricted));
	tcase_add_loop_test(tc, check_digits, 0, (int)NELEM(digits));
	tcase_add_loop_test(tc, meaning_rows, 0, (int)NELEM(meanings));
	tcase_add_test(tc, century);
	tcase_add_test(tc, too_large);
	tcase_add_test(tc, joined);
	tcase_add_test(tc, prefill);
	tcase_add_test(tc, prefill_doubts);
	tcase_add_test(tc, names);
	suite_add_tcase(s, tc);
	return s;
}
