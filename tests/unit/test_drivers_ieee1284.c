/*
 * test_drivers_ieee1284.c - what a printer says of itself.
 *
 * Sources: IEEE 1284 device ID as described at undocprint.org and in the data
 * sheet of the USS-720 bridge (length bytes, keys); the long form is that
 * description's own example.  The swapped and short lengths are what a
 * general-purpose printing framework copes with, and the Linux printer gadget
 * sends.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "drivers/ieee1284.h"

static struct ieee1284 id;

/* `text` behind two length bytes. */
static bool
parse(unsigned high, unsigned low, const char *text, size_t len)
{
	uint8_t bytes[2000] = { (uint8_t)high, (uint8_t)low };

	ck_assert_uint_le(len + 2, sizeof(bytes));
	memcpy(bytes + 2, text, len);
	memset(&id, 'x', sizeof(id));
	return ieee1284_parse(&id, bytes, len + 2);
}

static bool
parse_text(const char *text)
{
	size_t n = strlen(text) + 2;

	return parse((unsigned)(n >> 8), (unsigned)(n & 0xFF), text, n - 2);
}

static void
holds(const char *make, const char *model, const char *serial,
    const char *commands)
{
	ck_assert_str_eq(id.make, make);
	ck_assert_str_eq(id.model, model);
	ck_assert_str_eq(id.serial, serial);
	ck_assert_str_eq(id.commands, commands);
}

/* The description's example, and the same in short keys. */
START_TEST(keys)
{
	ck_assert(
	    parse_text("MANUFACTURER:ACME Manufacturing;"
		       "COMMAND SET:PCL,MPL;MODEL:LaserBeam ?;"
		       "COMMENT:Anything you like;"
		       "ACTIVE COMMAND SET:PCL;"));
	holds("ACME Manufacturing", "LaserBeam ?", "", "PCL,MPL");
	ck_assert(parse_text("MFG:a;CMD:b;MDL:c;SN:d;CLS:PRINTER;DES:e;"));
	holds("a", "c", "d", "b");
	ck_assert(parse_text("SERN:1;VSTATUS:$HB0;"));
	holds("", "", "1", "");
	ck_assert(parse_text("SERIALNUMBER:2;"));
	holds("", "", "2", "");
	ck_assert(parse_text("mfg:a;Cmd:b;"));
	holds("a", "", "", "b");
}
END_TEST

#define TEXT "MFG:Quay;MDL:L60;CMD:ZPL;SN:77;" /* 31 */

static const struct {
	const char *why;
	unsigned high, low;
	const char *after; /* TEXT */
} lengths[] = {
	{ "counts its own bytes", 0, 33, "" },
	{ "counts the text only", 0, 31, "" },
	{ "swapped", 33, 0, "" },
	{ "swapped, the text only", 31, 0, "" },
	{ "zero", 0, 0, "" },
	{ "reserved one", 0, 1, "" },
	{ "reserved two", 0, 2, "" },
	{ "beyond what arrived", 1, 0, "" },
	{ "beyond in both orders", 255, 255, "" },
	{ "more arrived than it says", 0, 33, "SN:88;MFG:no;" },
	{ "more than the text only", 0, 31, "SN:88;MFG:no;" },
	{ "swapped, more arrived", 33, 0, "CMD:no;" },
};

START_TEST(length)
{
	char text[200];

	str_fmt(text, sizeof(text), "%s%s", TEXT, lengths[_i].after);
	ck_assert_msg(
	    parse(lengths[_i].high, lengths[_i].low, text, strlen(text)), "%s",
	    lengths[_i].why);
	holds("Quay", "L60", "77", "ZPL");
}
END_TEST

/* Of what is beyond the length nothing is read. */
START_TEST(length_ends_it)
{
	static const char more[] = "MFG:Quay;MDL:L60;CMD:A;SN:77;";

	ck_assert(parse(0, 25, more, sizeof(more) - 1));
	holds("Quay", "L60", "", "A");
	ck_assert(parse(25, 0, more, sizeof(more) - 1));
	holds("Quay", "L60", "", "A");
	ck_assert(!parse(0, 15, "no key here.;A:b", 16));
}
END_TEST

/* The rest of the buffer: zeros, or what stood there before. */
START_TEST(filled_up)
{
	char text[1022] = TEXT;

	ck_assert(parse(0, 33, text, sizeof(text)));
	holds("Quay", "L60", "77", "ZPL");
	ck_assert(parse(0, 0, text, sizeof(text)));
	holds("Quay", "L60", "77", "ZPL");
	memset(text + 31, ';', sizeof(text) - 31);
	ck_assert(parse(0, 33, text, sizeof(text)));
	holds("Quay", "L60", "77", "ZPL");
}
END_TEST

/* No last semicolon, and the Linux gadget's two lost characters. */
START_TEST(cut_short)
{
	ck_assert(parse(0, 32, "MFG:Quay;MDL:L60;CMD:ZPL;SN:77", 30));
	holds("Quay", "L60", "77", "ZPL");
	ck_assert(parse(0, 30, "MFG:Quay;MDL:L60;CMD:ZPL;SN:77", 30));
	holds("Quay", "L60", "77", "ZPL");
	ck_assert(parse(0, 31, "MFG:Quay;MDL:L60;CMD:ZPL;SN:7", 29));
	holds("Quay", "L60", "7", "ZPL");
	ck_assert(parse(0, 31, "MFG:Quay;MDL:L", 14));
	holds("Quay", "L", "", "");
}
END_TEST

START_TEST(blanks)
{
	ck_assert(parse_text(
	    " MFG : Quay  Ltd ;\r\n\tMDL:L60\t;CMD: ZPL , EPL ,,TSPL ;"));
	holds("Quay  Ltd", "L60", "", "ZPL,EPL,TSPL");
}
END_TEST

START_TEST(twice)
{
	ck_assert(parse_text("MFG:;MFG:a;MFG:b;CMD:;CMD:x;COMMAND SET:y;"));
	holds("a", "", "", "x");
}
END_TEST

START_TEST(nothing)
{
	ck_assert(!ieee1284_parse(&id, (const uint8_t *)"", 0));
	holds("", "", "", "");
	ck_assert(!parse(0, 2, "", 0));
	ck_assert(!parse(0, 9, "MFG;MDL", 7));
	holds("", "", "", "");
	ck_assert(!parse(0, 9, ":Quay;:x", 8));
	ck_assert(!parse(0, 3, "\0MFG:a;", 7));
	holds("", "", "", "");
	/* keys of others are keys: it is an ID that says nothing to us */
	ck_assert(parse_text("CLS:PRINTER;"));
	holds("", "", "", "");
	/* a colon in a value is a value's */
	ck_assert(parse_text("MFG:a:b;"));
	holds("a:b", "", "", "");
	ck_assert(parse_text("A key longer than any that there is:a;MFG:b;"));
	holds("b", "", "", "");
}
END_TEST

START_TEST(too_long)
{
	char text[400];
	size_t n = 4;

	memcpy(text, "MDL:", 4);
	for (; n < 66; n++)
		text[n] = 'm';
	/* two bytes of one character, of which one would fit */
	memcpy(text + n, "\xC3\xA9;CMD:", 8);
	for (n = 73; n < 73 + 200; n += 5)
		memcpy(text + n, "ABCD,", 5);
	memcpy(text + n, "last;", 6);
	ck_assert(parse_text(text));
	ck_assert_uint_eq(strlen(id.model), sizeof(id.model) - 1);
	ck_assert_int_eq(id.model[62], '?');
	ck_assert(utf8_valid(id.model, strlen(id.model)));
	ck_assert_uint_eq(strlen(id.commands), 124);
	ck_assert_str_eq(id.commands + 115, "ABCD,ABCD");
}
END_TEST

START_TEST(no_utf8)
{
	ck_assert(parse_text("MFG:\xFFQu\x01y\xC3\x89;CMD:Z\x80;"));
	holds("?Qu?y\xC3\x89", "", "", "Z?");
}
END_TEST

/* Any bytes at all, each in memory of its own size: nothing is read beyond. */
START_TEST(anything)
{
	static const char some[] = "MFGDLCS: ,;\0\xFF\n";
	uint32_t x = 1;
	int round;

	for (round = 0; round < 20000; round++) {
		uint8_t bytes[48];
		size_t i, n = round % sizeof(bytes);

		for (i = 0; i < n; i++) {
			x = x * 1664525 + 1013904223;
			bytes[i] = i < 2
			    ? (uint8_t)(x >> 26)
			    : (uint8_t)some[(x >> 24) % (sizeof(some) - 1)];
		}
		memset(&id, 'x', sizeof(id));
		ieee1284_parse(&id, bytes, n);
		ck_assert(utf8_valid(id.make, strlen(id.make)));
		ck_assert(utf8_valid(id.commands, strlen(id.commands)));
		ck_assert_ptr_null(strchr(id.make, ';'));
		ck_assert_ptr_null(strstr(id.commands, ",,"));
	}
}
END_TEST

Suite *
suite_drivers_ieee1284(void)
{
	Suite *s = suite_create("drivers_ieee1284");
	TCase *tc = tcase_create("id");

	tcase_add_test(tc, keys);
	tcase_add_loop_test(tc, length, 0, NELEM(lengths));
	tcase_add_test(tc, length_ends_it);
	tcase_add_test(tc, filled_up);
	tcase_add_test(tc, cut_short);
	tcase_add_test(tc, blanks);
	tcase_add_test(tc, twice);
	tcase_add_test(tc, nothing);
	tcase_add_test(tc, too_long);
	tcase_add_test(tc, no_utf8);
	tcase_add_test(tc, anything);
	suite_add_tcase(s, tc);
	return s;
}
