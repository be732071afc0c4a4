/*
 * test_drivers_scale.c - reports of weighing devices as readings: layouts of
 * many kinds, states, units, and what is refused.  Reports were written out by
 * hand; how is said beside each.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "drivers/scale_hid.h"
#include "hid_items.h"

/* --- Units ----------------------------------------------------------------
 * NIST Handbook 44, Appendix C: 1 lb 453.592 37 g, 1 oz 28.349 523 125 g,
 * 1 oz t 31.103 476 8 g, 1 grain 64.798 91 mg, 1 dwt 1.555 173 84 g, all
 * exact; 1 carat 200 mg.  Products by hand, rounded half away from zero.
 */
static const struct {
	const char *why;
	uint32_t unit;
	int64_t count;
	int exponent;
	int64_t mg;
} units[] = {
	{ "a milligram", 0x51, 7, 0, 7 },
	{ "20 g", 0x52, 20, 0, 20000 },
	{ "1234.5 g", 0x52, 12345, -1, 1234500 },
	{ "1.234 kg", 0x53, 1234, -3, 1234000 },
	{ "a carat", 0x54, 1, 0, 200 },
	{ "a grain, 64.79891", 0x56, 1, 0, 65 },
	{ "7000 grains are a pound, 453592.37", 0x56, 7000, 0, 453592 },
	{ "a pennyweight, 1555.17384", 0x57, 1, 0, 1555 },
	{ "a tonne", 0x58, 1, 0, 1000000000 },
	{ "a troy ounce, 31103.4768", 0x5A, 1, 0, 31103 },
	{ "an ounce, 28349.523125", 0x5B, 1, 0, 28350 },
	{ "16 oz are a pound", 0x5B, 16, 0, 453592 },
	{ "10^6 ounces to the last digit", 0x5B, 1000000, 0,
	    INT64_C(28349523125) },
	{ "a pound, 453592.37", 0x5C, 1, 0, 453592 },
	{ "100 lb to the last digit", 0x5C, 100, 0, 45359237 },
	/* 40 lb 5.2 oz = 645.2 oz = 18 143 694.8 + 147 417.520 25 mg */
	{ "645.2 oz", 0x5B, 6452, -1, 18291112 },
	/* 5.2 lb = 2 358 680.324 mg */
	{ "5.2 lb", 0x5C, 52, -1, 2358680 },
	{ "half a milligram goes up", 0x51, 5, -1, 1 },
	{ "less than half goes down", 0x51, 4, -1, 0 },
	{ "1.5 mg go to 2", 0x51, 15, -1, 2 },
	{ "2.5 mg go to 3", 0x51, 25, -1, 3 },
	{ "-0.5 mg go to -1", 0x51, -5, -1, -1 },
	{ "-0.4 mg go to 0", 0x51, -4, -1, 0 },
	{ "-20 g", 0x52, -20, 0, -20000 },
	{ "0.6479 mg", 0x56, 1, -2, 1 },
	{ "0.0648 mg", 0x56, 1, -3, 0 },
	{ "tens of kilograms", 0x53, 2, 1, 20000000 },
	/* 4 294 967 295 x 10^-9 oz = 4.294 967 295 oz = 121 760.274 mg */
	{ "32 bits, fine", 0x5B, UINT32_MAX, -9, 121760 },
	/* 4 294 967 295 x 28 349 523 125 / 10^6 = 121 760 274 650 721.2
	 * (Python's integers) */
	{ "32 bits, whole ounces", 0x5B, UINT32_MAX, 0,
	    INT64_C(121760274650721) },
	{ "the largest power of ten", 0x51, 9, 18,
	    INT64_C(9000000000000000000) },
	{ "far below a milligram", 0x58, UINT32_MAX, -128, 0 },
	{ "nothing, times anything", 0x58, 0, 127, 0 },
};

START_TEST(unit_rows)
{
	struct err err = { 0 };
	int64_t mg = -77;

	ck_assert_msg(scale_hid_mg(&mg, HID_USAGE(0x8D, units[_i].unit),
			  units[_i].count, units[_i].exponent, &err) == RC_OK,
	    "%s: %s", units[_i].why, err.text);
	ck_assert_msg(
	    mg == units[_i].mg, "%s: %lld mg", units[_i].why, (long long)mg);
}
END_TEST

static const struct {
	const char *why, *says;
	uint32_t usage;
	int64_t count;
	int exponent;
} no_units[] = {
	{ "taels differ", "in taels, which are not", HID_USAGE(0x8D, 0x55), 1,
	    0 },
	{ "short or long tons", "avoirdupois tons", HID_USAGE(0x8D, 0x59), 1,
	    0 },
	{ "reserved", "not known (usage 5D)", HID_USAGE(0x8D, 0x5D), 1, 0 },
	{ "none", "not known (usage 00)", 0, 1, 0 },
	{ "another page", "not known (usage 52)", HID_USAGE(0x0C, 0x52), 1, 0 },
	{ "2^63 mg and more", "a weight that cannot be", HID_USAGE(0x8D, 0x51),
	    1, 19 },
	{ "tonnes of tonnes", "a weight that cannot be", HID_USAGE(0x8D, 0x58),
	    UINT32_MAX, 1 },
	{ "more than 32 bits", "a weight that cannot be", HID_USAGE(0x8D, 0x51),
	    INT64_C(4294967296), 0 },
	{ "less than that", "a weight that cannot be", HID_USAGE(0x8D, 0x51),
	    INT64_C(-4294967296), 0 },
	/* 2 x 10^127 is 0 in 128 bits that wrap around */
	{ "a product that wraps around", "a weight that cannot be",
	    HID_USAGE(0x8D, 0x51), 2, 127 },
	{ "the largest exponent", "a weight that cannot be",
	    HID_USAGE(0x8D, 0x51), 1, 127 },
};

START_TEST(no_unit_rows)
{
	struct err err = { 0 };
	int64_t mg;

	ck_assert_int_eq(scale_hid_mg(&mg, no_units[_i].usage,
			     no_units[_i].count, no_units[_i].exponent, &err),
	    RC_INVALID);
	ck_assert_msg(strstr(err.text, no_units[_i].says) != NULL, "%s: %s",
	    no_units[_i].why, err.text);
}
END_TEST

/* --- Layouts -------------------------------------------------------------- */

#define D_HEAD I_PAGE(0x8D), I_USAGE(0x20), I_COLLECTION(1)
#define D_DATA I_USAGE(0x32), I_COLLECTION(2)
#define D_STATUS(bits)                                                         \
	I_USAGE(0x70), I_COLLECTION(2), I_MIN(1), I_MAX(8), I_SIZE(bits),      \
	    I_COUNT(1), I_USAGES(0x71, 0x78), I_INPUT(ARRAY), I_END
#define D_UNIT(bits)                                                           \
	I_USAGE(0x50), I_COLLECTION(2), I_MIN(1), I_MAX(12), I_SIZE(bits),     \
	    I_COUNT(1), I_USAGES(0x51, 0x5C), I_INPUT(ARRAY), I_END
#define D_SCALING                                                              \
	I_MIN(0x81), I_MAX(0x7F), I_SIZE(8), I_COUNT(1), I_USAGE(0x41),        \
	    I_INPUT(VAR)
#define D_WEIGHT(bits)                                                         \
	I_MIN(0), I_MAX4(0xFF, 0xFF, 0xFF, 0xFF), I_SIZE(bits), I_COUNT(1),    \
	    I_USAGE(0x40), I_INPUT(VAR)

/* ID 3; status, unit, power of ten, 16 bits of weight: the six bytes most
 * scales send. */
static const uint8_t common[] = { D_HEAD, D_DATA, I_ID(3), D_STATUS(8),
	D_UNIT(8), D_SCALING, D_WEIGHT(16), I_END, I_END };

/* No report ID; weight first, in 32 bits; the rest backwards. */
static const uint8_t backwards[] = { D_HEAD, D_DATA, D_WEIGHT(32), D_SCALING,
	D_UNIT(8), D_STATUS(8), I_END, I_END };

/* Four bits each of unit, status and power of ten, 20 bits of weight. */
static const uint8_t packed[] = { D_HEAD, D_DATA, D_UNIT(4), D_STATUS(4),
	I_MIN(0xF8), I_MAX(7), I_SIZE(4), I_COUNT(1), I_USAGE(0x41),
	I_INPUT(VAR), D_WEIGHT(20), I_END, I_END };

/* One bit for each state and for each of three units; 24 bits of weight with
 * a sign; no power of ten; no collection for the data report. */
static const uint8_t bitwise[] = { D_HEAD, I_MIN(0), I_MAX(1), I_SIZE(1),
	I_COUNT(8), I_USAGES(0x71, 0x78), I_INPUT(VAR), I_COUNT(3),
	I_USAGE(0x52), I_USAGE(0x53), I_USAGE(0x5C), I_INPUT(VAR), I_COUNT(5),
	I_INPUT(CONST), 0x17, 0, 0, 0x80, 0xFF, I_MAX4(0xFF, 0xFF, 0x7F, 0),
	I_SIZE(24), I_COUNT(1), I_USAGE(0x40), I_INPUT(VAR), I_END };

/* The scale's limit as report 5 in front, eight bits of weight in report 9,
 * a button of another page, a status report, statistics behind. */
static const uint8_t several[] = { D_HEAD, I_USAGE(0x34), I_COLLECTION(2),
	I_ID(5), D_UNIT(8), D_SCALING, D_WEIGHT(16), I_END, D_DATA, I_ID(9),
	D_WEIGHT(8), D_STATUS(8), D_SCALING, I_PUSH, I_PAGE(9), I_MIN(0),
	I_MAX(1), I_SIZE(8), I_USAGE(1), I_INPUT(VAR), I_POP, D_UNIT(8), I_END,
	I_USAGE(0x33), I_COLLECTION(2), I_ID(4), D_STATUS(8), I_END,
	I_USAGE(0x35), I_COLLECTION(2), I_ID(6), I_SIZE(16), I_COUNT(2),
	I_USAGE(0x60), I_USAGE(0x61), I_FEATURE(CONST | VAR), I_END, I_END };

/* Arrays that begin with the set's own usage at 0. */
static const uint8_t from_zero[] = { D_HEAD, D_DATA, I_ID(1), I_MIN(0),
	I_MAX(8), I_SIZE(8), I_COUNT(1), I_USAGES(0x70, 0x78), I_INPUT(ARRAY),
	I_MAX(12), I_USAGES(0x50, 0x5C), I_INPUT(ARRAY), D_WEIGHT(16), I_END,
	I_END };

#define LAYOUT(name) name, sizeof(name)
#define REPORT(...) { __VA_ARGS__ }, sizeof((uint8_t[]){ __VA_ARGS__ })

static const struct {
	const char *why;
	const uint8_t *layout;
	size_t layout_len;
	uint8_t report[16];
	size_t len;
	enum scale_state state;
	int64_t mg;
} reports[] = {
	/* 0x0014 = 20 g */
	{ "20 g", LAYOUT(common), REPORT(3, 4, 2, 0, 0x14, 0), SCALE_STABLE,
	    20000 },
	/* 0x1934 = 6452, FF = -1: 645.2 oz */
	{ "40 lb 5.2 oz in ounces", LAYOUT(common),
	    REPORT(3, 4, 11, 0xFF, 0x34, 0x19), SCALE_STABLE, 18291112 },
	/* 0x0034 = 52, 5.2 lb */
	{ "5.2 lb", LAYOUT(common), REPORT(3, 4, 12, 0xFF, 0x34, 0),
	    SCALE_STABLE, 2358680 },
	/* FD = -3: 0x04D2 = 1234 */
	{ "1.234 kg", LAYOUT(common), REPORT(3, 4, 3, 0xFD, 0xD2, 0x04),
	    SCALE_STABLE, 1234000 },
	{ "65535 g", LAYOUT(common), REPORT(3, 4, 2, 0, 0xFF, 0xFF),
	    SCALE_STABLE, 65535000 },
	{ "in motion", LAYOUT(common), REPORT(3, 3, 2, 0, 0x14, 0),
	    SCALE_IN_MOTION, 20000 },
	{ "zero", LAYOUT(common), REPORT(3, 2, 2, 0, 0, 0), SCALE_ZERO, 0 },
	{ "under zero: the number is its size", LAYOUT(common),
	    REPORT(3, 5, 2, 0, 0x14, 0), SCALE_UNDER_ZERO, -20000 },
	{ "overloaded", LAYOUT(common), REPORT(3, 6, 2, 0, 0xFF, 0xFF),
	    SCALE_OVER_LIMIT, 0 },
	{ "fault", LAYOUT(common), REPORT(3, 1, 2, 0, 0x14, 0), SCALE_FAULT,
	    0 },
	{ "calibrate", LAYOUT(common), REPORT(3, 7, 2, 0, 0, 0),
	    SCALE_CALIBRATE, 0 },
	{ "re-zero", LAYOUT(common), REPORT(3, 8, 2, 0, 0, 0), SCALE_REZERO,
	    0 },
	{ "no state", LAYOUT(common), REPORT(3, 0, 2, 0, 0x14, 0), SCALE_NONE,
	    0 },
	{ "a state of the future", LAYOUT(common), REPORT(3, 9, 2, 0, 0x14, 0),
	    SCALE_NONE, 0 },
	{ "stable without a unit", LAYOUT(common), REPORT(3, 4, 0, 0, 9, 0),
	    SCALE_NONE, 0 },
	{ "moving without a unit", LAYOUT(common), REPORT(3, 3, 0, 0, 9, 0),
	    SCALE_IN_MOTION, 0 },
	{ "moving, in taels", LAYOUT(common), REPORT(3, 3, 5, 0, 9, 0),
	    SCALE_IN_MOTION, 0 },
	{ "padded to the transfer", LAYOUT(common),
	    REPORT(3, 4, 2, 0, 0x14, 0, 0xEE, 0xEE), SCALE_STABLE, 20000 },
	/* 0x00012345 = 74565, 74565 x 10^-1 g */
	{ "32 bits, backwards", LAYOUT(backwards),
	    REPORT(0x45, 0x23, 0x01, 0x00, 0xFF, 2, 4), SCALE_STABLE, 7456500 },
	{ "32 bits, all used", LAYOUT(backwards),
	    REPORT(0xFF, 0xFF, 0xFF, 0xFF, 0xFD, 2, 4), SCALE_STABLE,
	    4294967295 },
	/* low nibble 2 = g, high 4 = stable; low nibble E = -2, then 20 bits
	 * 0xABCDE = 703710 from the next nibble on: E-E, CD, AB */
	{ "bit by bit", LAYOUT(packed), REPORT(0x42, 0xEE, 0xCD, 0xAB),
	    SCALE_STABLE, 7037100 },
	/* bit 3 of the states, bit 0 of the units; 0x000014 */
	{ "a bit a state, grams", LAYOUT(bitwise),
	    REPORT(0x08, 0x01, 0x14, 0, 0), SCALE_STABLE, 20000 },
	{ "a bit a state, pounds", LAYOUT(bitwise),
	    REPORT(0x08, 0x04, 0x02, 0, 0), SCALE_STABLE, 907185 },
	/* FFFFEC = -20 */
	{ "a sign of its own", LAYOUT(bitwise),
	    REPORT(0x08, 0x01, 0xEC, 0xFF, 0xFF), SCALE_STABLE, -20000 },
	{ "under zero and a sign", LAYOUT(bitwise),
	    REPORT(0x10, 0x01, 0xEC, 0xFF, 0xFF), SCALE_UNDER_ZERO, -20000 },
	{ "padding is not read", LAYOUT(bitwise),
	    REPORT(0x08, 0xF9, 0x14, 0, 0), SCALE_STABLE, 20000 },
	/* 200 x 10^1 g */
	{ "8 bits of the right report", LAYOUT(several),
	    REPORT(9, 200, 4, 1, 1, 2), SCALE_STABLE, 2000000 },
	{ "sets from zero", LAYOUT(from_zero), REPORT(1, 4, 2, 0x14, 0),
	    SCALE_STABLE, 20000 },
	{ "sets from zero, at zero", LAYOUT(from_zero),
	    REPORT(1, 0, 2, 0x14, 0), SCALE_NONE, 0 },
};

static struct scale_hid scale;

static void
init(const uint8_t *layout, size_t len)
{
	struct err err = { 0 };

	ck_assert_msg(
	    scale_hid_init(&scale, layout, len, &err) == RC_OK, "%s", err.text);
}

START_TEST(report_rows)
{
	struct scale_reading r;
	struct err err = { 0 };

	init(reports[_i].layout, reports[_i].layout_len);
	ck_assert_msg(scale_hid_read(&r, &scale, reports[_i].report,
			  reports[_i].len, &err) == RC_OK,
	    "%s: %s", reports[_i].why, err.text);
	ck_assert_msg(r.state == reports[_i].state, "%s: %s", reports[_i].why,
	    scale_state_words(r.state));
	ck_assert_msg(r.weight_mg == reports[_i].mg, "%s: %lld mg",
	    reports[_i].why, (long long)r.weight_mg);
}
END_TEST

static const struct {
	const char *why;
	const uint8_t *layout;
	size_t layout_len;
	uint8_t report[16];
	size_t len;
	enum rc rc;
	const char *says;
} bad_reports[] = {
	{ "one byte short", LAYOUT(common), REPORT(3, 4, 2, 0, 0x14),
	    RC_INVALID, "malformed: 5 bytes, 6 are due" },
	{ "nothing but the ID", LAYOUT(common), REPORT(3), RC_INVALID,
	    "1 bytes" },
	{ "empty", LAYOUT(common), { 0 }, 0, RC_INVALID, "0 bytes" },
	{ "short, without an ID", LAYOUT(backwards), REPORT(1, 2, 3, 4, 0, 2),
	    RC_INVALID, "6 bytes, 7 are due" },
	{ "the limit", LAYOUT(several), REPORT(5, 2, 0, 0x14, 0), RC_END, "" },
	{ "a status alone", LAYOUT(several), REPORT(4, 4), RC_END, "" },
	{ "a report nobody announced", LAYOUT(several), REPORT(77, 4), RC_END,
	    "" },
	{ "taels", LAYOUT(common), REPORT(3, 4, 5, 0, 0x14, 0), RC_INVALID,
	    "in taels" },
	{ "tons", LAYOUT(common), REPORT(3, 4, 9, 0, 1, 0), RC_INVALID,
	    "avoirdupois tons" },
	{ "more than can be", LAYOUT(common), REPORT(3, 4, 8, 20, 1, 0),
	    RC_INVALID, "a weight that cannot be" },
	{ "a power of ten outside its range", LAYOUT(common),
	    REPORT(3, 4, 2, 0x80, 1, 0), RC_INVALID, "that cannot be" },
	{ "two states", LAYOUT(bitwise), REPORT(0x18, 1, 1, 0, 0), RC_INVALID,
	    "two states at once" },
	{ "two units", LAYOUT(bitwise), REPORT(0x08, 3, 1, 0, 0), RC_INVALID,
	    "two units at once" },
	{ "below its own minimum, -2^23", LAYOUT(bitwise),
	    REPORT(0x08, 1, 0, 0, 0x80), RC_OK, "" },
};

START_TEST(bad_report_rows)
{
	struct scale_reading r = { SCALE_FAULT, 77 };
	struct err err = { 0 };

	init(bad_reports[_i].layout, bad_reports[_i].layout_len);
	ck_assert_msg(scale_hid_read(&r, &scale, bad_reports[_i].report,
			  bad_reports[_i].len, &err) == bad_reports[_i].rc,
	    "%s", bad_reports[_i].why);
	ck_assert_msg(strstr(err.text, bad_reports[_i].says) != NULL, "%s: %s",
	    bad_reports[_i].why, err.text);
	if (bad_reports[_i].rc != RC_OK)
		ck_assert_int_eq(r.weight_mg, 77);
}
END_TEST

/* A weight outside its logical range is no weight (HID 1.11, 5.10). */
START_TEST(out_of_range)
{
	static const uint8_t narrow[] = { D_HEAD, D_DATA, D_STATUS(8),
		D_UNIT(8), I_MIN(1), I_MAX(100), I_SIZE(8), I_COUNT(1),
		I_USAGE(0x40), I_INPUT(VAR), I_END, I_END };
	struct scale_reading r;

	init(LAYOUT(narrow));
	ck_assert(scale_hid_read(&r, &scale, (const uint8_t[]){ 4, 2, 100 }, 3,
		      NULL) == RC_OK);
	ck_assert_int_eq(r.weight_mg, 100000);
	ck_assert(scale_hid_read(&r, &scale, (const uint8_t[]){ 4, 2, 101 }, 3,
		      NULL) == RC_INVALID);
	ck_assert(scale_hid_read(&r, &scale, (const uint8_t[]){ 4, 2, 0 }, 3,
		      NULL) == RC_INVALID);
	ck_assert(scale_hid_read(&r, &scale, (const uint8_t[]){ 3, 2, 0 }, 3,
		      NULL) == RC_OK);
	ck_assert_int_eq(r.weight_mg, 0);
}
END_TEST

static const struct {
	const char *why, *says;
	uint8_t bytes[120];
	size_t len;
} no_scales[] = {
#define ROW(why, says, ...)                                                    \
	{                                                                      \
		why, says, { __VA_ARGS__ }, sizeof((uint8_t[]){ __VA_ARGS__ }) \
	}
	ROW("a keyboard", "it is no weighing device", I_PAGE(1), I_USAGE(6),
	    I_COLLECTION(1), I_PAGE(7), I_USAGES(0, 101), I_MIN(0), I_MAX(101),
	    I_SIZE(8), I_COUNT(6), I_INPUT(ARRAY), I_END),
	ROW("malformed", "HID report descriptor, byte", D_HEAD, I_POP),
	ROW("no weight", "they carry no weight", D_HEAD, D_DATA, D_STATUS(8),
	    D_UNIT(8), I_END, I_END),
	ROW("only the limit", "they carry no weight", D_HEAD, I_USAGE(0x34),
	    I_COLLECTION(2), D_STATUS(8), D_UNIT(8), D_WEIGHT(16), I_END,
	    I_END),
	ROW("a weight to be asked for", "they carry no weight", D_HEAD, D_DATA,
	    D_STATUS(8), D_UNIT(8), I_MIN(0), I_MAX(100), I_SIZE(8), I_COUNT(1),
	    I_USAGE(0x40), I_FEATURE(VAR), I_END, I_END),
	ROW("a constant", "they carry no weight", D_HEAD, D_DATA, D_STATUS(8),
	    D_UNIT(8), I_MIN(0), I_MAX(100), I_SIZE(8), I_COUNT(1),
	    I_USAGE(0x40), I_INPUT(CONST | VAR), I_END, I_END),
	ROW("weight as an array", "they carry no weight", D_HEAD, D_DATA,
	    D_STATUS(8), D_UNIT(8), I_MIN(0), I_MAX(100), I_SIZE(8), I_COUNT(1),
	    I_USAGE(0x40), I_INPUT(ARRAY), I_END, I_END),
	ROW("two weights", "more weights than one", D_HEAD, D_DATA, D_STATUS(8),
	    D_UNIT(8), D_WEIGHT(16), D_WEIGHT(16), I_END, I_END),
	ROW("two in a field", "more weights than one", D_HEAD, D_DATA,
	    D_STATUS(8), D_UNIT(8), I_MIN(0), I_MAX(100), I_SIZE(8), I_COUNT(2),
	    I_USAGE(0x40), I_INPUT(VAR), I_END, I_END),
	ROW("in two reports", "more weights than one", D_HEAD, D_DATA, I_ID(1),
	    D_STATUS(8), D_UNIT(8), D_WEIGHT(16), I_ID(2), D_WEIGHT(16), I_END,
	    I_END),
	ROW("33 bits", "more than 32 bits", D_HEAD, D_DATA, D_STATUS(8),
	    D_UNIT(8), D_WEIGHT(33), I_END, I_END),
	ROW("no status", "whether it is stable", D_HEAD, D_DATA, D_UNIT(8),
	    D_WEIGHT(16), I_END, I_END),
	ROW("status in another report", "whether it is stable", D_HEAD,
	    I_USAGE(0x33), I_COLLECTION(2), I_ID(1), D_STATUS(8), I_END, D_DATA,
	    I_ID(2), D_UNIT(8), D_WEIGHT(16), I_END, I_END),
	ROW("status in another data report", "whether it is stable", D_HEAD,
	    D_DATA, I_ID(1), D_STATUS(8), I_ID(2), D_UNIT(8), D_WEIGHT(16),
	    I_END, I_END),
	ROW("status as a number", "whether it is stable", D_HEAD, D_DATA,
	    I_MIN(1), I_MAX(8), I_SIZE(8), I_COUNT(1), I_USAGE(0x70),
	    I_INPUT(VAR), D_UNIT(8), D_WEIGHT(16), I_END, I_END),
	ROW("no unit", "do not say the unit", D_HEAD, D_DATA, D_STATUS(8),
	    D_WEIGHT(16), I_END, I_END),
	ROW("unit of the limit only", "do not say the unit", D_HEAD,
	    I_USAGE(0x34), I_COLLECTION(2), D_UNIT(8), I_END, D_DATA,
	    D_STATUS(8), D_WEIGHT(16), I_END, I_END),
	ROW("two powers of ten", "more powers of ten", D_HEAD, D_DATA,
	    D_STATUS(8), D_UNIT(8), D_SCALING, D_SCALING, D_WEIGHT(16), I_END,
	    I_END),
#undef ROW
};

START_TEST(no_scale_rows)
{
	struct err err = { 0 };

	ck_assert_int_eq(scale_hid_init(&scale, no_scales[_i].bytes,
			     no_scales[_i].len, &err),
	    RC_INVALID);
	ck_assert_msg(strstr(err.text, no_scales[_i].says) != NULL, "%s: %s",
	    no_scales[_i].why, err.text);
}
END_TEST

/* The words of the contract and its usages, HID Usage Tables 1.12. */
START_TEST(states)
{
	static const char *const says[] = { "says nothing", "reports a fault",
		"empty, at zero", "still moving", "stable", "below zero",
		"overloaded", "asks to be calibrated",
		"asks to be set to zero" };
	int i;

	ck_assert_uint_eq(NELEM(says), SCALE_STATE_COUNT);
	for (i = 0; i < SCALE_STATE_COUNT; i++)
		ck_assert(strncmp(scale_state_words((enum scale_state)i),
			      says[i], strlen(says[i])) == 0);
}
END_TEST

Suite *
suite_drivers_scale(void)
{
	Suite *s = suite_create("drivers_scale");
	TCase *tc = tcase_create("scale");

	tcase_add_loop_test(tc, unit_rows, 0, (int)NELEM(units));
	tcase_add_loop_test(tc, no_unit_rows, 0, (int)NELEM(no_units));
	tcase_add_loop_test(tc, report_rows, 0, (int)NELEM(reports));
	tcase_add_loop_test(tc, bad_report_rows, 0, (int)NELEM(bad_reports));
	tcase_add_test(tc, out_of_range);
	tcase_add_loop_test(tc, no_scale_rows, 0, (int)NELEM(no_scales));
	tcase_add_test(tc, states);
	suite_add_tcase(s, tc);
	return s;
}
