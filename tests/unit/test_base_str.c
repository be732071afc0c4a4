/*
 * test_base_str.c - strings, and UTF-8 against table 3-7 of the Unicode
 * Standard (well-formed byte sequences), which is repeated below and counted
 * through; the ill-formed examples are tables 3-8 to 3-11, from memory.
 */
#include "unit.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

#include "base/str.h"

#define TABLE_3_7 "Unicode Standard, table 3-7"

static const struct utf8_row {
	const char *bytes;
	size_t len;
	bool valid;
	const char *why;
	const char *source;
} utf8_rows[] = {
	{ "", 0, true, "nothing at all", TABLE_3_7 },
	{ "\x01", 1, true, "U+0001", TABLE_3_7 },
	{ "\x7f", 1, true, "U+007F, last of one byte", TABLE_3_7 },
	{ "\xc2\x80", 2, true, "U+0080, first of two", TABLE_3_7 },
	{ "\xdf\xbf", 2, true, "U+07FF, last of two", TABLE_3_7 },
	{ "\xe0\xa0\x80", 3, true, "U+0800, first of three", TABLE_3_7 },
	{ "\xec\xbf\xbf", 3, true, "U+CFFF", TABLE_3_7 },
	{ "\xed\x80\x80", 3, true, "U+D000", TABLE_3_7 },
	{ "\xed\x9f\xbf", 3, true, "U+D7FF, before surrogates", TABLE_3_7 },
	{ "\xee\x80\x80", 3, true, "U+E000, after surrogates", TABLE_3_7 },
	{ "\xef\xbf\xbf", 3, true, "U+FFFF, last of three", TABLE_3_7 },
	{ "\xf0\x90\x80\x80", 4, true, "U+10000, first of four", TABLE_3_7 },
	{ "\xf1\x80\x80\x80", 4, true, "U+40000", TABLE_3_7 },
	{ "\xf4\x8f\xbf\xbf", 4, true, "U+10FFFF, the last", TABLE_3_7 },
	{ "M\xd0\xb0\xe4\xba\x8c\xf0\x90\x8c\x82", 10, true, "all four lengths",
	    "Unicode Standard, table 3-4, from memory" },
	{ "\x80", 1, false, "continuation alone", TABLE_3_7 },
	{ "\xbf", 1, false, "continuation alone", TABLE_3_7 },
	{ "\xc0\xaf", 2, false, "overlong slash", "table 3-8" },
	{ "\xc1\xbf", 2, false, "C1 never occurs", TABLE_3_7 },
	{ "\xe0\x80\xbf", 3, false, "overlong in three", "table 3-8" },
	{ "\xe0\x9f\xbf", 3, false, "last overlong in three", TABLE_3_7 },
	{ "\xf0\x81\x82\x41", 4, false, "overlong in four", "table 3-8" },
	{ "\xf0\x8f\xbf\xbf", 4, false, "last overlong in four", TABLE_3_7 },
	{ "\xed\xa0\x80", 3, false, "U+D800, a surrogate", "table 3-9" },
	{ "\xed\xbf\xbf", 3, false, "U+DFFF, a surrogate", "table 3-9" },
	{ "\xf4\x90\x80\x80", 4, false, "U+110000", TABLE_3_7 },
	{ "\xf4\x91\x92\x93", 4, false, "beyond the last", "table 3-10" },
	{ "\xf5\x80\x80\x80", 4, false, "F5 never occurs", TABLE_3_7 },
	{ "\xff", 1, false, "FF never occurs", "table 3-10" },
	{ "\xfe\xff", 2, false, "UTF-16 byte order mark", TABLE_3_7 },
	{ "\xe1\x80\xe2", 3, false, "cut short by a lead", "table 3-11" },
	{ "\xf1\xbf\x41", 3, false, "cut short by a letter", "table 3-11" },
	{ "\xc2", 1, false, "cut short by the end", TABLE_3_7 },
	{ "\xe1\x80", 2, false, "cut short by the end", TABLE_3_7 },
	{ "\xf1\x80\x80", 3, false, "cut short by the end", TABLE_3_7 },
	{ "a\0b", 3, false, "NUL", "base/str.h: without NUL" },
	{ "caf\xe9", 4, false, "ISO 8859-1 text", TABLE_3_7 },
};

START_TEST(utf8_row)
{
	const struct utf8_row *r = &utf8_rows[_i];

	ck_assert_msg(utf8_valid(r->bytes, r->len) == r->valid, "%s (%s)",
	    r->why, r->source);
}
END_TEST

/* Table 3-7 itself: ranges of the four bytes. */
static const struct range {
	unsigned char lo1, hi1, lo2, hi2, lo3, hi3, lo4, hi4;
} table[] = {
	{ 0xc2, 0xdf, 0x80, 0xbf, 0, 0, 0, 0 },
	{ 0xe0, 0xe0, 0xa0, 0xbf, 0x80, 0xbf, 0, 0 },
	{ 0xe1, 0xec, 0x80, 0xbf, 0x80, 0xbf, 0, 0 },
	{ 0xed, 0xed, 0x80, 0x9f, 0x80, 0xbf, 0, 0 },
	{ 0xee, 0xef, 0x80, 0xbf, 0x80, 0xbf, 0, 0 },
	{ 0xf0, 0xf0, 0x90, 0xbf, 0x80, 0xbf, 0x80, 0xbf },
	{ 0xf1, 0xf3, 0x80, 0xbf, 0x80, 0xbf, 0x80, 0xbf },
	{ 0xf4, 0xf4, 0x80, 0x8f, 0x80, 0xbf, 0x80, 0xbf },
};

static bool
in_table(const unsigned char *b, int n)
{
	size_t i;

	for (i = 0; i < NELEM(table); i++)
		if (b[0] >= table[i].lo1 && b[0] <= table[i].hi1 &&
		    b[1] >= table[i].lo2 && b[1] <= table[i].hi2 &&
		    (n < 3 ? table[i].hi3 == 0
			   : b[2] >= table[i].lo3 && b[2] <= table[i].hi3) &&
		    (n < 4 ? table[i].hi4 == 0
			   : b[3] >= table[i].lo4 && b[3] <= table[i].hi4))
			return true;
	return false;
}

static bool
valid(const unsigned char *b, size_t n)
{
	return utf8_valid((const char *)b, n);
}

/* Every pair and triple of bytes that begins with a lead byte of its length. */
START_TEST(utf8_two_and_three)
{
	unsigned char b[3];
	int lead, i, j, n2 = 0, n3 = 0;

	for (lead = 0x80; lead <= 0xff; lead++)
		for (i = 0; i <= 0xff; i++) {
			b[0] = (unsigned char)lead;
			b[1] = (unsigned char)i;
			ck_assert_int_eq(valid(b, 2), in_table(b, 2));
			n2 += valid(b, 2);
			if (lead < 0xe0 || lead > 0xef)
				continue;
			for (j = 0; j <= 0xff; j++) {
				b[2] = (unsigned char)j;
				if (valid(b, 3) != in_table(b, 3))
					ck_abort_msg("%x %x %x", lead, i, j);
				n3 += valid(b, 3);
			}
		}
	ck_assert_int_eq(n2, 0x800 - 0x80);
	ck_assert_int_eq(n3, 0x10000 - 0x800 - 0x800);
}
END_TEST

START_TEST(utf8_four)
{
	unsigned char b[4];
	int lead, i, j, k, n = 0;

	for (lead = 0xf0; lead <= 0xf7; lead++)
		for (i = 0; i <= 0xff; i++)
			for (j = 0x7f; j <= 0xc0; j++)
				for (k = 0x7f; k <= 0xc0; k++) {
					b[0] = (unsigned char)lead;
					b[1] = (unsigned char)i;
					b[2] = (unsigned char)j;
					b[3] = (unsigned char)k;
					if (valid(b, 4) != in_table(b, 4))
						ck_abort_msg("%x %x %x %x",
						    lead, i, j, k);
					n += valid(b, 4);
				}
	ck_assert_int_eq(n, 0x100000);
}
END_TEST

START_TEST(utf8_reading)
{
	/* Unicode Standard, table 3-4, from memory. */
	const char *text = "M\xd0\xb0\xe4\xba\x8c\xf0\x90\x8c\x82";
	const char *s = text;

	ck_assert_uint_eq(utf8_next(&s), 0x4d);
	ck_assert_uint_eq(utf8_next(&s), 0x430);
	ck_assert_uint_eq(utf8_next(&s), 0x4e8c);
	ck_assert_uint_eq(utf8_next(&s), 0x10302);
	ck_assert_uint_eq(utf8_next(&s), 0);
	ck_assert_uint_eq(utf8_next(&s), 0);
	ck_assert_uint_eq(utf8_columns(text), 4);
	ck_assert_uint_eq(utf8_columns(""), 0);
}
END_TEST

static const struct clean_row {
	const char *in, *out, *why;
} clean_rows[] = {
	{ "plain", "plain", "nothing to do" },
	{ "", "", "empty" },
	{ "caf\xc3\xa9", "caf\xc3\xa9", "UTF-8 stays" },
	{ "caf\xe9!", "caf?!", "a byte of another encoding" },
	{ "caf\xc3", "caf?", "cut inside a letter" },
	{ "\xe4\xba", "??", "cut inside a letter of three" },
	{ "a\nb\tc\x1b[1m", "a?b?c?[1m", "control characters" },
	{ "a\x7f", "a?", "DEL" },
	{ "a\xc2\x9b"
	  "1m",
	    "a??1m", "C1 control, a terminal's CSI" },
};

START_TEST(clean_row)
{
	const struct clean_row *r = &clean_rows[_i];
	char s[40];

	ck_assert(str_copy(s, sizeof(s), r->in));
	utf8_clean(s);
	ck_assert_msg(strcmp(s, r->out) == 0, "%s: \"%s\"", r->why, s);
	ck_assert(utf8_valid(s, strlen(s)));
}
END_TEST

static const struct text_row {
	const char *text;
	size_t max;
	bool may_be_empty;
	const char *error; /* NULL: accepted */
	const char *why;
} text_rows[] = {
	{ "Ann", 3, false, NULL, "exactly as long as allowed" },
	{ "Anne", 3, false, "name is 4 bytes long, at most 3 fit", "longer" },
	{ "", 3, true, NULL, "may be empty" },
	{ "", 3, false, "name is empty", "may not be empty" },
	{ "\xc3\xa9\xc3\xa9", 3, false, "name is 4 bytes long, at most 3 fit",
	    "bytes are counted, not letters" },
	{ "caf\xe9", 9, false, "name is not valid UTF-8 text", "ISO 8859-1" },
	{ "a\nb", 9, false, "name holds a control character", "line feed" },
	{ "a\tb", 9, false, "name holds a control character", "tab" },
	{ "a\x1d"
	  "b",
	    9, false, "name holds a control character", "group separator" },
	{ "a\x7f", 9, false, "name holds a control character", "DEL" },
	{ "a\xc2\x85", 9, false, "name holds a control character", "NEL, C1" },
	{ "a\xc2\xa0", 9, false, NULL, "first after C1" },
};

START_TEST(text_row)
{
	const struct text_row *r = &text_rows[_i];
	struct err err = { .rc = RC_OK };
	enum rc rc;

	rc = text_check("name", r->text, r->max, r->may_be_empty, &err);
	ck_assert_msg(
	    rc == (r->error == NULL ? RC_OK : RC_INVALID), "%s", r->why);
	if (r->error != NULL)
		ck_assert_str_eq(err.text, r->error);
}
END_TEST

START_TEST(copying)
{
	char s[4] = "xyz";

	ck_assert(str_copy(s, sizeof(s), "abc"));
	ck_assert_str_eq(s, "abc");
	ck_assert(!str_copy(s, sizeof(s), "abcd"));
	ck_assert_str_eq(s, ""); /* never a part of it */
	ck_assert(str_fmt(s, sizeof(s), "%d", 123));
	ck_assert_str_eq(s, "123");
	ck_assert(!str_fmt(s, sizeof(s), "%d", 1234));
	ck_assert_str_eq(s, "123");
}
END_TEST

START_TEST(letters)
{
	char up[] = "az AZ \xc3\xa9{`@[";
	char down[] = "az AZ \xc3\x89{`@[";
	char blanks[] = " \t a b\t ";
	char only[] = " \t";

	str_upper(up);
	ck_assert_str_eq(up, "AZ AZ \xc3\xa9{`@[");
	str_lower(down);
	ck_assert_str_eq(down, "az az \xc3\x89{`@[");
	ck_assert(str_eq("a", "a"));
	ck_assert(!str_eq("a", "A"));
	ck_assert(str_eq_nocase("kG", "Kg"));
	ck_assert(!str_eq_nocase("k", "kg"));
	ck_assert(!str_eq_nocase("kg", "k"));
	ck_assert(!str_eq_nocase("@", "`"));
	ck_assert_str_eq(str_trim(blanks), "a b");
	ck_assert_str_eq(str_trim(only), "");
}
END_TEST

Suite *
suite_base_str(void)
{
	Suite *s = suite_create("base_str");
	TCase *t = tcase_create("all");

	tcase_set_timeout(t, 30);
	tcase_add_loop_test(t, utf8_row, 0, (int)NELEM(utf8_rows));
	tcase_add_test(t, utf8_two_and_three);
	tcase_add_test(t, utf8_four);
	tcase_add_test(t, utf8_reading);
	tcase_add_loop_test(t, clean_row, 0, (int)NELEM(clean_rows));
	tcase_add_loop_test(t, text_row, 0, (int)NELEM(text_rows));
	tcase_add_test(t, copying);
	tcase_add_test(t, letters);
	suite_add_tcase(s, t);
	return s;
}
