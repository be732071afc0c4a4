/* test_labels_barcode.c - symbols against published figures and a reader. */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "dm_reader.h"
#include "labels/barcode.h"

#define GTIN "[01]09501101530003"

/* What must never become a symbol. */
static const struct refusal {
	enum barcode_kind kind;
	const char *text;
	const char *why;
} refusals[] = {
	/* libzint 2.11.1 makes these with only a warning by default; the rules
	 * behind them are GS1's own (GS1 Barcode Syntax Dictionary: csum,
	 * yymmd0, hhmm, cset82). */
	{ 0, "[01]09501101530004", "wrong check digit" },
	{ 0, "[01]0950110153000A", "letter in a GTIN" },
	{ 0, "[17]99133A", "letter in a date" },
	{ 0, "[3103]00125A", "letter in a weight" },
	{ 0, "[17]991332", "month 13" },
	{ 0, "[17]991232", "day 32" },
	{ 0, "[17]990230", "30 February" },
	{ 0, "[17]210229", "29 February in a year without" },
	{ 0, "[7003]9912312400", "hour 24" },
	{ 0, "[7003]9912312360", "minute 60" },
	{ 0, "[7003]9912001200", "day 00 with an hour" },
	{ 0, "[01]0950110153000", "13 digits in AI 01" },
	{ 0, "[17]99123", "5 digits in AI 17" },
	{ 0, "[17]9912311", "7 digits in AI 17" },
	{ 0, "[7003]99123112", "8 digits in AI 7003" },
	{ 0, "[10]ABCDEFGHIJKLMNOPQRSTU", "21 characters in AI 10" },
	{ 0, "[3103]00125", "5 digits in AI 3103" },
	{ 0, "[7005]ABCDEFGHIJKLM", "13 characters in AI 7005" },
	{ 0, "[7008]CODS", "4 letters in AI 7008" },
	{ 0, "[05]123456", "AI that does not exist" },
	/* GS1 character set 82 (GS1 Barcode Syntax Engine, ai.c: "^99~ABC" is
	 * rejected for its character set). */
	{ 0, "[99]~ABC", "tilde" },
	{ 0, "[10]AB C", "blank" },
	{ 0, "[10]AB#C", "number sign" },
	{ 0, "[10]AB$C", "dollar" },
	{ 0, "[10]AB@C", "at sign" },
	{ 0, "[10]AB^C", "caret" },
	{ 0, "[10]AB\\C", "backslash" },
	{ 0, "[10]AB{C", "brace" },
	{ 0, "[10]AB\tC", "control character" },
	{ 0,
	    "[10]AB\x1d"
	    "C",
	    "separator inside data" },
	{ 0, "[10]caf\xc3\xa9", "accent" },
	/* the form */
	{ 0, "", "nothing" },
	{ 0, "91ABC", "no identifier in brackets" },
	{ 0, "[91]", "element without data" },
	{ 0, "[91][92]A", "first element without data" },
	{ 0, "[91]A[92]", "last element without data" },
	{ 0, "[91A", "bracket left open" },
	{ 0, "[91]A]B", "bracket in the data" },
	{ 0, "[91]A[B", "bracket opened in the data" },
	{ 0, "[9]A", "one-digit identifier" },
	{ 0, "[91000]A", "five-digit identifier" },
	{ 0, "[9x]A", "letter in an identifier" },
	{ 0, "[]A", "empty identifier" },
	{ 0, " [91]A", "blank in front" },
	{ 0, "(91)A", "round brackets" },
	/* GS1 General Specifications: at most 48 data characters */
	{ BARCODE_KIND_GS1_128,
	    "[91]ABCDEFGHIJABCDEFGHIJABCDEFGHIJABCDEFGHIJABCDEFG",
	    "49 data characters in GS1-128" },
};

START_TEST(refused)
{
	const struct refusal *r = &refusals[_i];
	struct bitmap *out = (struct bitmap *)&out; /* must be reset */
	struct err err = { 0 };

	ck_assert_msg(
	    barcode_encode(&out, r->kind, r->text, &err) == RC_INVALID,
	    "accepted: %s (%s)", r->text, r->why);
	ck_assert_ptr_null(out);
	ck_assert_str_ne(err.text, "");
	if (r->kind == BARCODE_KIND_GS1_DATAMATRIX)
		ck_assert_int_eq(
		    barcode_encode(&out, BARCODE_KIND_GS1_128, r->text, NULL),
		    RC_INVALID);
}
END_TEST

/*
 * GS1 mod-10 check digits.  Sources: the tests of two open GS1 libraries, biip
 * (checksums.py, citing General Specifications 7.9.1) and the GS1 Barcode
 * Syntax Dictionary (lint_csum.c), and the GS1 Barcode Syntax Engine
 * (scandata.c) for the 14-digit one.  Shorter keys stand in AI 01 behind zeros,
 * which carry no weight.
 */
static const struct check_digit {
	const char *ai;
	const char *payload;
	char digit;
	const char *why;
} check_digits[] = {
	{ "[00]", "37610425002123456", '9', "18 digits, biip" },
	{ "[01]", "0629104150021", '3', "13 digits, biip" },
	{ "[01]", "0000009501234", '6', "8 digits, biip" },
	{ "[01]", "0000000234567", '3', "8 digits, syntax dictionary" },
	{ "[01]", "0041600033610", '8', "12 digits, syntax dictionary" },
	{ "[01]", "2401234567890", '5', "14 digits, syntax engine" },
};

START_TEST(gs1_mod_10)
{
	const struct check_digit *r = &check_digits[_i];
	struct bitmap *out;
	char text[40];
	enum rc rc;
	char c;

	for (c = '0'; c <= '9'; c++) {
		str_fmt(text, sizeof(text), "%s%s%c", r->ai, r->payload, c);
		rc = barcode_encode(
		    &out, BARCODE_KIND_GS1_DATAMATRIX, text, NULL);
		ck_assert_msg(
		    (rc == RC_OK) == (c == r->digit), "%s: %s", r->why, text);
		bitmap_free(out);
	}
}
END_TEST

/* 127 bytes pass; 128 would overrun a buffer inside libzint 2.11.1. */
START_TEST(length_limit)
{
	char text[BARCODE_TEXT_MAX + 2];
	struct bitmap *out;
	struct err err = { 0 };

	memset(text, 'A', sizeof(text));
	memcpy(text, "[91]", 4);
	memcpy(text + 94, "[92]", 4);
	text[BARCODE_TEXT_MAX] = '\0';
	ck_assert_int_eq(
	    barcode_encode(&out, BARCODE_KIND_GS1_DATAMATRIX, text, &err),
	    RC_OK);
	bitmap_free(out);
	text[BARCODE_TEXT_MAX] = 'A';
	text[BARCODE_TEXT_MAX + 1] = '\0';
	ck_assert_int_eq(
	    barcode_encode(&out, BARCODE_KIND_GS1_DATAMATRIX, text, &err),
	    RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "at most 127"));
	ck_assert_int_eq(
	    barcode_encode(&out, BARCODE_KIND_GS1_128, text, NULL), RC_INVALID);
}
END_TEST

static bool
read_modules(char text[DM_TEXT_MAX], bool *gs1, const struct bitmap *modules)
{
	struct dm_view view = { 0, 0, 0, 0, false, 2000 };
	struct bitmap *bm;
	bool found;

	bm = bitmap_new(modules->width * 3 + 24, modules->height * 3 + 24);
	barcode_draw(bm, modules, 12, 12, 3);
	view.w = bm->width;
	view.h = bm->height;
	found = dm_read(text, gs1, bm, &view);
	bitmap_free(bm);
	return found;
}

/* GS1 General Specifications 20.0, figure 2.6.14-3, as restated module by
 * module in libzint's own test_dmatrix.c. */
static const char *const figure_2_6_14_3[] = {
	"10101010101010101010",
	"11001111010100000111",
	"10001010001001010100",
	"10110011010100010001",
	"11101010000001101010",
	"10000100111011010111",
	"10011010101101010110",
	"11010001001110101001",
	"11101000110100101100",
	"11001111010111001101",
	"10001010000001100000",
	"11010000100010111011",
	"10110010011000001000",
	"10011010000011010011",
	"11111010101110100110",
	"11010010111011100001",
	"11010100101100111110",
	"11000001110010010101",
	"10011011100101011010",
	"11111111111111111111",
};

/* The figure's symbol uses another of the encodings the standard allows, so
 * the two are compared by what a reader makes of them, and by size. */
START_TEST(datamatrix_figure)
{
	struct bitmap *ours, *theirs = bitmap_new(20, 20);
	char text[2][DM_TEXT_MAX];
	bool gs1[2];
	int x, y;

	for (y = 0; y < 20; y++)
		for (x = 0; x < 20; x++)
			bitmap_set(theirs, x, y, figure_2_6_14_3[y][x] == '1');
	ck_assert_int_eq(barcode_encode(&ours, BARCODE_KIND_GS1_DATAMATRIX,
			     GTIN "[17]150119[10]AB-123", NULL),
	    RC_OK);
	ck_assert_int_eq(ours->width, theirs->width);
	ck_assert_int_eq(ours->height, theirs->height);
	ck_assert(read_modules(text[0], &gs1[0], ours));
	ck_assert(read_modules(text[1], &gs1[1], theirs));
	ck_assert_str_eq(text[0], text[1]);
	ck_assert_str_eq(text[0], "01095011015300031715011910AB-123");
	ck_assert(gs1[0]);
	ck_assert(gs1[1]);
	bitmap_free(ours);
	bitmap_free(theirs);
}
END_TEST

/* Data codewords of the square symbols of ISO/IEC 16022, as listed in libzint's
 * dmatrix.h.  FNC1 takes one and every pair of digits one. */
static const struct size {
	int side, codewords;
} squares[] = { { 12, 5 }, { 14, 8 }, { 16, 12 }, { 18, 18 }, { 20, 22 },
	{ 22, 30 }, { 24, 36 }, { 26, 44 } };

START_TEST(datamatrix_capacity)
{
	const struct size *size = &squares[_i];
	char text[BARCODE_TEXT_MAX + 1] = "[91]";
	int digits = 2 * (size->codewords - 1) - 2;
	struct bitmap *out;

	memset(text + 4, '7', (size_t)digits);
	ck_assert_int_eq(
	    barcode_encode(&out, BARCODE_KIND_GS1_DATAMATRIX, text, NULL),
	    RC_OK);
	ck_assert_int_eq(out->width, size->side);
	ck_assert_int_eq(out->height, size->side);
	bitmap_free(out);
	text[4 + digits] = '7';
	ck_assert_int_eq(
	    barcode_encode(&out, BARCODE_KIND_GS1_DATAMATRIX, text, NULL),
	    RC_OK);
	ck_assert_int_gt(out->width, size->side);
	ck_assert_int_eq(out->height, out->width);
	bitmap_free(out);
}
END_TEST

/* GS1 General Specifications, figures as restated in libzint's own
 * test_code128.c; widths in modules are 11 a character and 13 for stop. */
static const struct linear {
	const char *text;
	int width;
	const char *modules; /* NULL: only the width is published */
	const char *source;
} linears[] = {
	{ "[90]1528", 79,
	    "110100111001111010111011011110110101110011001110"
	    "0110100111001100101100011101011",
	    "figure for [90]1528" },
	{ GTIN, 134, NULL, "figure 5.1-3" },
	{ "[00]006141411234567890", 156, NULL, "figure 6.6.5-1" },
	{ "[02]00614141000418[15]210228[10]451214[37]20", 255, NULL,
	    "figure 6.6.5-4" },
	{ "[01]95012345678903[3102]000400", 189, NULL, "figure 7.8.5.1-2" },
};

START_TEST(gs1_128_figure)
{
	const struct linear *l = &linears[_i];
	struct bitmap *out;
	int x;

	ck_assert_int_eq(
	    barcode_encode(&out, BARCODE_KIND_GS1_128, l->text, NULL), RC_OK);
	ck_assert_int_eq(out->height, 1);
	ck_assert_msg(
	    out->width == l->width, "%s: %d modules", l->source, out->width);
	for (x = 0; l->modules != NULL && x < l->width; x++)
		ck_assert_msg(bitmap_get(out, x, 0) == (l->modules[x] == '1'),
		    "%s: module %d differs", l->source, x);
	/* The stop pattern, as at the end of the published string above. */
	for (x = 0; x < 13; x++)
		ck_assert(bitmap_get(out, l->width - 13 + x, 0) ==
		    ("1100011101011"[x] == '1'));
	bitmap_free(out);
}
END_TEST

/* What an independent reader makes of it. */
static const struct reading {
	const char *text;
	const char *data; /* ~ stands for GS */
	const char *why;
} readings[] = {
	{ "[91]1P7K2QX2633007C2611272359K", "911P7K2QX2633007C2611272359K",
	    "a portion" },
	{ "[91]10000002633007C2611272359K", "9110000002633007C2611272359K",
	    "a batch" },
	{ GTIN "[17]150119[10]AB-123",
	    "010950110153000317150119"
	    "10AB-123",
	    "no separator after fixed lengths or at the end" },
	{ "[10]AB-123[21]0042", "10AB-123~210042",
	    "separator after a variable length" },
	{ "[91]!\"%&'()*+,-./:;<=>?_az", "91!\"%&'()*+,-./:;<=>?_az",
	    "every mark of set 82" },
};

START_TEST(datamatrix_read)
{
	const struct reading *r = &readings[_i];
	struct bitmap *modules;
	char text[DM_TEXT_MAX];
	bool gs1;
	char *p;

	ck_assert_int_eq(barcode_encode(&modules, BARCODE_KIND_GS1_DATAMATRIX,
			     r->text, NULL),
	    RC_OK);
	ck_assert_msg(
	    read_modules(text, &gs1, modules), "not read: %s", r->why);
	ck_assert_msg(gs1, "no FNC1 in first place: %s", r->why);
	for (p = text; *p != '\0'; p++)
		if (*p == 0x1d)
			*p = '~';
	ck_assert_str_eq(text, r->data);
	bitmap_free(modules);
}
END_TEST

Suite *
suite_labels_barcode(void)
{
	Suite *s = suite_create("labels_barcode");
	TCase *tc = tcase_create("barcode");

	tcase_add_loop_test(tc, refused, 0, NELEM(refusals));
	tcase_add_loop_test(tc, gs1_mod_10, 0, NELEM(check_digits));
	tcase_add_test(tc, length_limit);
	tcase_add_test(tc, datamatrix_figure);
	tcase_add_loop_test(tc, datamatrix_capacity, 0, NELEM(squares));
	tcase_add_loop_test(tc, gs1_128_figure, 0, NELEM(linears));
	tcase_add_loop_test(tc, datamatrix_read, 0, NELEM(readings));
	suite_add_tcase(s, tc);
	return s;
}
