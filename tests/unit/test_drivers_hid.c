/*
 * test_drivers_hid.c - report descriptors: the examples HID 1.11 prints, what
 * each item means, random layouts written and read back, and what must be
 * refused.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "chance.h"
#include "drivers/hid_report.h"
#include "hid_items.h"

static struct hid_layout l;

static void
parse(const uint8_t *bytes, size_t len)
{
	struct err err = { 0 };

	ck_assert_msg(
	    hid_report_parse(&l, bytes, len, &err) == RC_OK, "%s", err.text);
}

#define PARSE(...)                                                             \
	do {                                                                   \
		static const uint8_t bytes_[] = { __VA_ARGS__ };               \
		parse(bytes_, sizeof(bytes_));                                 \
	} while (0)

static int64_t
value(size_t field, uint32_t n, const uint8_t *report, size_t len)
{
	int64_t v;

	ck_assert(hid_report_value(&v, &l, &l.fields[field], n, report, len));
	return v;
}

/* HID 1.11 appendix E.6, report descriptor of a keyboard (from memory). */
START_TEST(keyboard_of_the_standard)
{
	static const uint8_t shift_a[] = { 0x02, 0, 0x04, 0, 0, 0, 0, 0 };

	PARSE(I_PAGE(1), I_USAGE(6), I_COLLECTION(1), I_PAGE(7),
	    I_USAGES(224, 231), I_MIN(0), I_MAX(1), I_SIZE(1), I_COUNT(8),
	    I_INPUT(VAR), I_COUNT(1), I_SIZE(8), I_INPUT(CONST), I_COUNT(5),
	    I_SIZE(1), I_PAGE(8), I_USAGES(1, 5), I_OUTPUT(VAR), I_COUNT(1),
	    I_SIZE(3), I_OUTPUT(CONST), I_COUNT(6), I_SIZE(8), I_MIN(0),
	    I_MAX(101), I_PAGE(7), I_USAGES(0, 101), I_INPUT(ARRAY), I_END);
	ck_assert_uint_eq(l.field_count, 5);
	ck_assert_uint_eq(hid_report_length(&l, HID_INPUT, 0), 8);
	ck_assert_uint_eq(hid_report_length(&l, HID_OUTPUT, 0), 1);
	ck_assert_uint_eq(hid_report_length(&l, HID_FEATURE, 0), 0);
	ck_assert_uint_eq(l.fields[4].at, 16);
	ck_assert_uint_eq(
	    hid_report_usage(&l, &l.fields[0], 1), HID_USAGE(7, 225));
	ck_assert_int_eq(value(0, 0, shift_a, 8), 0);
	ck_assert_int_eq(value(0, 1, shift_a, 8), 1); /* left shift */
	ck_assert_int_eq(value(4, 0, shift_a, 8), 4); /* A */
	ck_assert_int_eq(value(4, 1, shift_a, 8), 0);
	ck_assert_uint_eq(
	    hid_report_usage(&l, &l.fields[4], 4), HID_USAGE(7, 4));
}
END_TEST

/* HID 1.11 appendix E.10, report descriptor of a mouse (from memory). */
START_TEST(mouse_of_the_standard)
{
	static const uint8_t moved[] = { 0x05, 0x81, 0x7F };

	PARSE(I_PAGE(1), I_USAGE(2), I_COLLECTION(1), I_USAGE(1),
	    I_COLLECTION(0), I_PAGE(9), I_USAGES(1, 3), I_MIN(0), I_MAX(1),
	    I_COUNT(3), I_SIZE(1), I_INPUT(VAR), I_COUNT(1), I_SIZE(5),
	    I_INPUT(CONST), I_PAGE(1), I_USAGE(0x30), I_USAGE(0x31),
	    I_MIN(0x81), I_MAX(0x7F), I_SIZE(8), I_COUNT(2), I_INPUT(0x06),
	    I_END, I_END);
	ck_assert_uint_eq(l.field_count, 3);
	ck_assert_uint_eq(hid_report_length(&l, HID_INPUT, 0), 3);
	ck_assert_int_eq(value(0, 0, moved, 3), 1);
	ck_assert_int_eq(value(0, 1, moved, 3), 0);
	ck_assert_int_eq(value(0, 2, moved, 3), 1);
	ck_assert_int_eq(value(2, 0, moved, 3), -127);
	ck_assert_int_eq(value(2, 1, moved, 3), 127);
	ck_assert_uint_eq(
	    hid_report_usage(&l, &l.fields[2], 1), HID_USAGE(1, 0x31));
	ck_assert(hid_report_within(&l, &l.fields[2], HID_USAGE(1, 1)));
	ck_assert(hid_report_within(&l, &l.fields[2], HID_USAGE(1, 2)));
	ck_assert(!hid_report_within(&l, &l.fields[2], HID_USAGE(1, 3)));
}
END_TEST

/* 6.2.2.7: pushed globals come back, all of them. */
START_TEST(push_and_pop)
{
	const struct hid_field *f = l.fields;

	PARSE(I_PAGE(0x8D), I_MIN(0xFE), I_MAX(5), I_SIZE(7), I_COUNT(3),
	    I_ID(4), I_UNIT(0x11), I_EXPONENT(0x0D), I_PUSH, I_PAGE(1),
	    I_MIN(0), I_MAX(1), I_SIZE(1), I_COUNT(1), I_ID(9), I_UNIT(0),
	    I_EXPONENT(0), I_USAGE(2), I_INPUT(VAR), I_POP, I_USAGE(2),
	    I_INPUT(VAR));
	ck_assert_uint_eq(l.field_count, 2);
	ck_assert_int_eq(f[1].min, -2);
	ck_assert_int_eq(f[1].max, 5);
	ck_assert_uint_eq(f[1].bits, 7);
	ck_assert_uint_eq(f[1].count, 3);
	ck_assert_uint_eq(f[1].report, 4);
	ck_assert_uint_eq(f[1].unit, 0x11);
	ck_assert_int_eq(f[1].unit_exponent, -3); /* D of the nibble table */
	ck_assert_uint_eq(hid_report_usage(&l, &f[1], 0), HID_USAGE(0x8D, 2));
	ck_assert_uint_eq(hid_report_usage(&l, &f[0], 0), HID_USAGE(1, 2));
	ck_assert_uint_eq(f[0].report, 9);
	ck_assert(l.ids);
	ck_assert_uint_eq(hid_report_length(&l, HID_INPUT, 4), 4);
	ck_assert_uint_eq(hid_report_length(&l, HID_INPUT, 9), 2);
}
END_TEST

/* The page is the one in force at the main item; four bytes bring their own. */
START_TEST(usages_and_pages)
{
	PARSE(I_PAGE(1), I_USAGE(0x40), I_USAGE4(0x41, 0x0C), I_PAGE(0x8D),
	    I_USAGES(0x50, 0x52), I_MIN(0), I_MAX(1), I_SIZE(1), I_COUNT(8),
	    I_INPUT(VAR));
	ck_assert_uint_eq(
	    hid_report_usage(&l, l.fields, 0), HID_USAGE(0x8D, 0x40));
	ck_assert_uint_eq(
	    hid_report_usage(&l, l.fields, 1), HID_USAGE(0x0C, 0x41));
	ck_assert_uint_eq(
	    hid_report_usage(&l, l.fields, 2), HID_USAGE(0x8D, 0x50));
	ck_assert_uint_eq(
	    hid_report_usage(&l, l.fields, 4), HID_USAGE(0x8D, 0x52));
	/* the last stands for the rest, in a variable field only */
	ck_assert_uint_eq(
	    hid_report_usage(&l, l.fields, 7), HID_USAGE(0x8D, 0x52));
	l.fields[0].flags = ARRAY;
	ck_assert_uint_eq(hid_report_usage(&l, l.fields, 7), 0);
}
END_TEST

/* A maximum of 65535 in two bytes, as many devices write it. */
START_TEST(maximum_without_a_sign)
{
	PARSE(I_MIN(0), I_MAX2(0xFF, 0xFF), I_SIZE(16), I_COUNT(1),
	    I_INPUT(VAR), I_MAX4(0xFF, 0xFF, 0xFF, 0xFF), I_SIZE(32),
	    I_INPUT(VAR), I_MIN(0xFF), I_MAX2(0xFF, 0x7F), I_INPUT(VAR));
	ck_assert_int_eq(l.fields[0].max, 65535);
	ck_assert_int_eq(l.fields[1].max, INT64_C(4294967295));
	ck_assert_int_eq(l.fields[2].min, -1);
	ck_assert_int_eq(l.fields[2].max, 32767);
}
END_TEST

/* 6.2.2.8: of alternative usages the first; 6.2.2.3: long items are skipped;
 * locals end with the main item, an empty field takes no room. */
START_TEST(odd_items)
{
	PARSE(I_PAGE(0x8D), 0xFE, 3, 0x77, 0xC0, 0xC0, 0xC0, I_MIN(0), I_MAX(1),
	    I_SIZE(8), I_COUNT(0), I_USAGE(0x11), I_INPUT(VAR), I_COUNT(2),
	    0xA9, 1, I_USAGE(0x40), I_USAGE(0x99), 0xA9, 0, I_USAGE(0x41),
	    I_INPUT(VAR), 0x79, 0x05, 0x39, 0x02);
	ck_assert_uint_eq(l.field_count, 1);
	ck_assert_uint_eq(l.fields[0].usages, 2);
	ck_assert_uint_eq(
	    hid_report_usage(&l, l.fields, 0), HID_USAGE(0x8D, 0x40));
	ck_assert_uint_eq(
	    hid_report_usage(&l, l.fields, 1), HID_USAGE(0x8D, 0x41));
}
END_TEST

static const struct {
	const char *why, *says;
	uint8_t bytes[24];
	size_t len;
} refused[] = {
#define ROW(why, says, ...)                                                    \
	{                                                                      \
		why, says, { __VA_ARGS__ }, sizeof((uint8_t[]){ __VA_ARGS__ }) \
	}
	ROW("one byte missing", "byte 2: cut short", I_PAGE(1), 0x09),
	ROW("four bytes due, three there", "byte 0: cut short", 0x27, 1, 2, 3),
	ROW("long item cut in its head", "byte 0: cut short", 0xFE, 1),
	ROW("long item cut in its data", "byte 0: cut short", 0xFE, 2, 0, 1),
	ROW("end alone", "byte 0: an end without", I_END),
	ROW("one end too many", "byte 3: an end without", I_COLLECTION(1),
	    I_END, I_END),
	ROW("collection open", "byte 2: a collection that is not closed",
	    I_COLLECTION(1)),
	ROW("pop alone", "byte 0: a pop without a push", I_POP),
	ROW("one pop too many", "byte 2: a pop", I_PUSH, I_POP, I_POP),
	ROW("report ID 0", "byte 0: a report ID", I_ID(0)),
	ROW("report ID 256", "byte 0: a report ID", 0x86, 0, 1),
	ROW("ID behind a field", "byte 6: a field stands in front", I_SIZE(8),
	    I_COUNT(1), I_INPUT(CONST), I_ID(1)),
	ROW("a pop that takes the ID away",
	    "byte 8: a field without a report ID", I_PUSH, I_ID(1), I_POP,
	    I_SIZE(8), I_COUNT(1), I_INPUT(CONST)),
	ROW("minimum above maximum", "byte 8: a logical minimum above",
	    I_MIN(5), I_MAX(4), I_SIZE(8), I_COUNT(1), I_INPUT(VAR)),
	ROW("negative maximum", "byte 8: a logical minimum above", I_MIN(0xFF),
	    I_MAX(0xFE), I_SIZE(8), I_COUNT(1), I_INPUT(VAR)),
	ROW("element of 257 bits", "byte 5: an element of more", 0x76, 1, 1,
	    I_COUNT(1), I_INPUT(CONST)),
	ROW("report of 4097 bytes", "byte 5: a report of more than 4096", 0x96,
	    1, 0x10, I_SIZE(8), I_INPUT(CONST)),
	ROW("two halves of a report", "byte 7: a report of more than 4096",
	    0x96, 1, 8, I_SIZE(8), I_INPUT(CONST), I_INPUT(CONST)),
	ROW("count times size wraps around", "byte 7: a report of more", 0x97,
	    1, 0, 0, 0x20, I_SIZE(8), I_INPUT(CONST)),
	ROW("range without an end", "byte 6: half of a usage range", 0x19, 1,
	    I_SIZE(8), I_COUNT(1), I_INPUT(VAR)),
	ROW("range without a beginning", "byte 6: half of a usage range", 0x29,
	    1, I_SIZE(8), I_COUNT(1), I_INPUT(VAR)),
	ROW("range backwards", "byte 2: a usage range that ends",
	    I_USAGES(5, 4)),
	ROW("range across pages", "byte 5: a usage range", 0x1B, 1, 0, 1, 0,
	    0x2B, 2, 0, 2, 0),
	ROW("range with one page", "byte 5: a usage range", 0x1B, 1, 0, 1, 0,
	    0x29, 2),
	ROW("page of three bytes", "byte 0: a usage page", 0x07, 0, 0, 1, 0),
	ROW("delimiter closed alone", "byte 0: delimiters", 0xA9, 0),
	ROW("delimiters nested", "byte 2: delimiters", 0xA9, 1, 0xA9, 1),
	ROW("delimiter left open", "byte 2: a delimiter that is not closed",
	    0xA9, 1, I_INPUT(VAR)),
	ROW("unknown main item", "byte 0: a main item", 0xD1, 0),
	ROW("exponent out of this world", "byte 0: a unit exponent", 0x56, 0,
	    1),
#undef ROW
};

START_TEST(refused_rows)
{
	struct err err = { 0 };
	char text[120];

	ck_assert_int_eq(
	    hid_report_parse(&l, refused[_i].bytes, refused[_i].len, &err),
	    RC_INVALID);
	str_fmt(
	    text, sizeof(text), "HID report descriptor, %s", refused[_i].says);
	ck_assert_msg(strncmp(err.text, text, strlen(text)) == 0,
	    "%s: %s, not %s", refused[_i].why, err.text, text);
	ck_assert_uint_eq(l.field_count, 0);
	ck_assert_uint_eq(l.collection_count, 0);
}
END_TEST

/* A byte repeated `n` times behind a beginning. */
static enum rc
repeated(const char *says, const uint8_t *head, size_t head_len,
    const uint8_t *body, size_t body_len, size_t n)
{
	static uint8_t bytes[HID_DESCRIPTOR_MAX + 1];
	struct err err = { 0 };
	size_t i, len = head_len;
	enum rc rc;

	memcpy(bytes, head, head_len);
	for (i = 0; i < n; i++, len += body_len)
		memcpy(bytes + len, body, body_len);
	rc = hid_report_parse(&l, bytes, len, &err);
	if (rc != RC_OK)
		ck_assert_msg(strstr(err.text, says) != NULL, "%s", err.text);
	return rc;
}

START_TEST(limits)
{
	static const uint8_t head[] = { I_SIZE(1), I_COUNT(1) };
	static const uint8_t input[] = { I_USAGE(1), I_INPUT(CONST) };
	static const uint8_t open[] = { I_COLLECTION(0) };
	static const uint8_t both[] = { I_COLLECTION(0), I_END };
	static const uint8_t push[] = { I_PUSH };
	static const uint8_t usage[] = { I_USAGE(1) };

	ck_assert(repeated("", head, 4, input, 4, HID_FIELDS_MAX) == RC_OK);
	ck_assert(repeated("too many fields", head, 4, input, 4,
		      HID_FIELDS_MAX + 1) == RC_INVALID);
	ck_assert(
	    repeated("nested too deep", head, 4, open, 2, 17) == RC_INVALID);
	ck_assert(repeated("", head, 4, both, 3, HID_COLLECTIONS_MAX) == RC_OK);
	ck_assert(repeated("too many collections", head, 4, both, 3,
		      HID_COLLECTIONS_MAX + 1) == RC_INVALID);
	ck_assert(repeated("", head, 4, push, 1, 16) == RC_OK);
	ck_assert(
	    repeated("pushed too deep", head, 4, push, 1, 17) == RC_INVALID);
	ck_assert(repeated("", head, 4, usage, 2, 64) == RC_OK);
	ck_assert(repeated("too many usages in front", head, 4, usage, 2, 65) ==
	    RC_INVALID);
	ck_assert(repeated("0 bytes", head, 0, usage, 2, 0) == RC_INVALID);
	ck_assert(repeated("", head, 0, push, 0, 0) == RC_INVALID);
	ck_assert(repeated("4097 bytes", head, 1, push, 1, 4096) == RC_INVALID);
}
END_TEST

START_TEST(usages_of_all_fields)
{
	uint8_t bytes[9 * (64 * 2 + 2) + 4] = { I_SIZE(1), I_COUNT(1) };
	struct err err = { 0 };
	size_t i, j, len = 4;

	for (i = 0; i < 9; i++) {
		for (j = 0; j < 64; j++) {
			bytes[len++] = 0x09;
			bytes[len++] = (uint8_t)j;
		}
		bytes[len++] = 0x81;
		bytes[len++] = VAR;
	}
	parse(bytes, len - 130);
	ck_assert_uint_eq(l.usage_count, 512);
	ck_assert_int_eq(hid_report_parse(&l, bytes, len, &err), RC_INVALID);
	ck_assert_msg(
	    strstr(err.text, "too many usages") != NULL, "%s", err.text);
}
END_TEST

START_TEST(values_that_are_not_there)
{
	static const uint8_t report[] = { 4, 0xFF, 0xFF };
	int64_t v = 77;

	PARSE(I_ID(4), I_MIN(0), I_MAX(1), I_SIZE(4), I_COUNT(3), I_INPUT(VAR),
	    I_SIZE(33), I_COUNT(1), I_INPUT(VAR));
	ck_assert(hid_report_value(&v, &l, l.fields, 2, report, 3));
	ck_assert_int_eq(v, 15);
	ck_assert(!hid_report_value(&v, &l, l.fields, 3, report, 3));
	ck_assert(hid_report_value(&v, &l, l.fields, 1, report, 2));
	ck_assert(!hid_report_value(&v, &l, l.fields, 2, report, 2));
	ck_assert(!hid_report_value(&v, &l, l.fields, 0, report, 1));
	ck_assert(!hid_report_value(&v, &l, l.fields, 0, report, 0));
	ck_assert(!hid_report_value(
	    &v, &l, l.fields, 0, (const uint8_t[]){ 5, 1, 1 }, 3));
	ck_assert(!hid_report_value(&v, &l, &l.fields[1], 0,
	    (const uint8_t[]){ 4, 1, 1, 1, 1, 1, 1, 1, 1 }, 9));
}
END_TEST

/* --- random layouts ------------------------------------------------------- */

static uint8_t made[HID_DESCRIPTOR_MAX];
static size_t made_len;

static void
put(uint8_t prefix, uint32_t v, int size)
{
	static const uint8_t code[] = { 0, 1, 2, 0, 3 };
	int i;

	made[made_len++] = (uint8_t)(prefix | code[size]);
	for (i = 0; i < size; i++)
		made[made_len++] = (uint8_t)(v >> (8 * i));
}

static uint64_t
below(uint64_t *dice, uint64_t n)
{
	return chance_next(dice) % n;
}

/* A report written bit by bit, without the reader's arithmetic. */
struct bits {
	bool bit[2048];
	size_t count;
};

static void
append(struct bits *b, int64_t v, unsigned n)
{
	unsigned i;

	for (i = 0; i < n; i++)
		b->bit[b->count++] = (((uint64_t)v >> i) & 1) != 0;
}

static size_t
bytes_of(uint8_t *report, const struct bits *b, bool ids, uint8_t id)
{
	size_t i, n = ids ? 1 : 0;

	memset(report, 0, 300);
	if (ids)
		report[0] = id;
	for (i = 0; i < b->count; i++)
		if (b->bit[i])
			report[n + i / 8] |= (uint8_t)(1U << (i % 8));
	return n + (b->count + 7) / 8;
}

START_TEST(random_layouts)
{
	struct {
		int id;
		unsigned bits, count;
		int64_t values[8];
	} f[24];
	static struct bits reports[5];
	uint8_t report[300];
	uint64_t dice = (uint64_t)_i * 7919 + 1;
	size_t i, n, len, fields = 1 + below(&dice, 24);
	bool ids = below(&dice, 2) == 1, sign;
	int64_t v;

	made_len = 0;
	memset(reports, 0, sizeof(reports));
	for (i = 0; i < fields; i++) {
		f[i].id = ids ? 1 + (int)below(&dice, 4) : 0;
		f[i].bits = 1 + (unsigned)below(&dice, 32);
		f[i].count = 1 + (unsigned)below(&dice, 8);
		sign = f[i].bits > 1 && below(&dice, 2) == 1;
		if (ids)
			put(0x84, (uint32_t)f[i].id, 1);
		put(0x14, sign ? 0xFFFFFFFF : 0, 4);
		put(0x24, sign ? 0x7FFFFFFF : 0xFFFFFFFF, 4);
		put(0x74, f[i].bits, 1);
		if (below(&dice, 3) == 0) {
			put(0xA4, 0, 0);
			put(0x74, 3, 1);
			put(0xB4, 0, 0);
		}
		put(0x94, f[i].count, 2);
		put(0x08, (uint32_t)i, 1);
		put(0x80, VAR, 1);
		for (n = 0; n < f[i].count; n++) {
			v = (int64_t)((chance_next(&dice) << 16 ^
					  chance_next(&dice)) &
			    ((UINT64_C(1) << f[i].bits) - 1));
			append(&reports[f[i].id], v, f[i].bits);
			if (sign && v >> (f[i].bits - 1) != 0)
				v -= INT64_C(1) << f[i].bits;
			f[i].values[n] = v;
		}
	}
	parse(made, made_len);
	ck_assert_uint_eq(l.field_count, fields);
	for (i = 0; i < fields; i++) {
		len =
		    bytes_of(report, &reports[f[i].id], ids, (uint8_t)f[i].id);
		ck_assert_uint_eq(
		    hid_report_length(&l, HID_INPUT, (uint8_t)f[i].id), len);
		for (n = 0; n < f[i].count; n++)
			ck_assert_int_eq(
			    value(i, (uint32_t)n, report, len), f[i].values[n]);
		ck_assert_uint_eq(hid_report_usage(&l, &l.fields[i], 0), i);
	}
}
END_TEST

Suite *
suite_drivers_hid(void)
{
	Suite *s = suite_create("drivers_hid");
	TCase *tc = tcase_create("hid");

	tcase_add_test(tc, keyboard_of_the_standard);
	tcase_add_test(tc, mouse_of_the_standard);
	tcase_add_test(tc, push_and_pop);
	tcase_add_test(tc, usages_and_pages);
	tcase_add_test(tc, maximum_without_a_sign);
	tcase_add_test(tc, odd_items);
	tcase_add_loop_test(tc, refused_rows, 0, (int)NELEM(refused));
	tcase_add_test(tc, limits);
	tcase_add_test(tc, usages_of_all_fields);
	tcase_add_test(tc, values_that_are_not_there);
	tcase_add_loop_test(tc, random_layouts, 0, 60);
	suite_add_tcase(s, tc);
	return s;
}
