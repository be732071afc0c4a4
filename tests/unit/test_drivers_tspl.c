/* test_drivers_tspl.c - TSPL against its description and an own reader. */
#include "unit.h"

#include <string.h>

#include "lang_given.h"

static const struct lang_media media = {
	.dpi = 203,
	.width_mm = 60,
	.height_mm = 40,
	.gap_mm = 3,
	.darkness_pct = 50,
};

#define SET "SIZE 60 mm,40 mm\r\nGAP 3 mm,0 mm\r\nCLS\r\n"
#define PRINT "\r\nPRINT 1,1\r\n"

/* Widths in bytes, heights in dots, 0 prints, most significant bit left, modes
 * 0 to 2: TSPL/TSPL2 manual's form of BITMAP as restated in makers' libraries;
 * polarity from two open drivers and a public issue thread. */
static const struct given given[] = {
	GIVEN(SET "BITMAP 0,0,1,2,1,\x3f\xff" PRINT, "11000000/00000000",
	    "2 x 2, top row black: worked from the polarity"),
	GIVEN(SET "BITMAP 0,0,2,1,0,\x7f\xfe" PRINT, "1000000000000001",
	    "first and last of sixteen"),
	GIVEN(SET "BITMAP 0,0,2,1,0,\r\n" PRINT, "1111001011110101",
	    "CR LF as data: parsed by count"),
	GIVEN("SIZE 60 mm,40 mm\r\nGAP 0,0\r\nCLS\r\n"
	      "BITMAP 0,0,1,1,0,\xfe" PRINT,
	    "00000001", "continuous"),
	GIVEN(SET "BITMAP 0,0,1,2,0,\xff" PRINT, NULL, "data end early"),
	GIVEN(SET "BITMAP 0,0,1,1,0,\xff", NULL, "not printed"),
	GIVEN(SET PRINT, NULL, "nothing to print"),
	GIVEN("GAP 3 mm,0 mm\r\nCLS\r\nBITMAP 0,0,1,1,0,\xff" PRINT, NULL,
	    "no SIZE"),
	GIVEN("SIZE 60 mm,40 mm\r\nCLS\r\nBITMAP 0,0,1,1,0,\xff" PRINT, NULL,
	    "no GAP"),
	GIVEN("SIZE 60 mm,40 mm\r\nGAP 0,0\r\nBITMAP 0,0,1,1,0,\xff" PRINT,
	    NULL, "no CLS"),
	GIVEN("SIZE 60 mm,40 mm\nGAP 0,0\nCLS\nBITMAP 0,0,1,1,0,\xff\n"
	      "PRINT 1,1\n",
	    NULL, "LF alone"),
	GIVEN("SIZE 60,40\r\nGAP 0,0\r\nCLS\r\nBITMAP 0,0,1,1,0,\xff" PRINT,
	    NULL, "inches, which we never send"),
};

START_TEST(reader)
{
	given_check("tspl", &given[_i]);
}
END_TEST

START_TEST(bytes)
{
	static const char expect[] =
	    "\r\nSIZE 60 mm,40 mm\r\nGAP 3 mm,0 mm\r\nDENSITY 8\r\n"
	    "DIRECTION 0\r\nCLS\r\nBITMAP 0,0,1,2,0,\x3f\xff\r\n"
	    "PRINT 1,1\r\n";
	struct bitmap *bm = given_picture("11/00");
	struct buf out;

	lang_encode(&out, "tspl", bm, &media);
	ck_assert_uint_eq(out.len, sizeof(expect) - 1);
	ck_assert_mem_eq(out.data, expect, out.len);
	buf_fini(&out);
	bitmap_free(bm);
}
END_TEST

/* What a printer is told of the media. */
static const struct words {
	int pct, gap_mm, speed;
	int density, gap, inches, height;
	const char *why;
} words[] = {
	{ 0, 3, 0, 0, 3, NOT_SAID, 40, "palest, speed left alone" },
	{ 50, 2, 25, 8, 2, 1, 40, "7.5 rounds up; 25 mm/s is 1 inch" },
	{ 100, 20, 100, 15, 20, 4, 40, "darkest" },
	{ 33, 0, 457, 5, 0, 18, 13, "roll: 100 rows are 12.5 mm; fastest" },
};

START_TEST(told)
{
	const struct words *w = &words[_i];
	struct lang_media m = media;
	struct bitmap *bm = bitmap_new(20, 100);
	struct seen_label s;

	m.darkness_pct = w->pct;
	m.gap_mm = w->gap_mm;
	m.speed_mm_s = w->speed;
	s = lang_read_back("tspl", bm, &m);
	ck_assert_int_eq(s.darkness, w->density);
	ck_assert_int_eq(s.gap, w->gap);
	ck_assert_int_eq(s.speed, w->inches);
	ck_assert_int_eq(s.width, 60);
	ck_assert_int_eq(s.height, w->height);
	bitmap_free(bm);
}
END_TEST

START_TEST(refused)
{
	struct lang_media m = media;
	struct bitmap *bm = bitmap_new(8, 8);

	m.speed_mm_s = 12;
	lang_refuses("tspl", bm, &m, "speed 12 mm/s");
	m.speed_mm_s = 470;
	lang_refuses("tspl", bm, &m, "1 to 18 inches a second");
	bitmap_free(bm);
}
END_TEST

/* A roll is never told shorter than the picture: 25.4 mm an inch. */
START_TEST(roll_length)
{
	struct lang_media m = media;
	struct seen_label s;
	struct bitmap *bm;
	int rows;

	m.gap_mm = 0;
	for (rows = 1; rows <= 1000; rows += 37) {
		for (m.dpi = 203; m.dpi <= 300; m.dpi += 97) {
			bm = bitmap_new(8, rows);
			s = lang_read_back("tspl", bm, &m);
			ck_assert_int_ge(s.height * m.dpi * 10, rows * 254);
			ck_assert_int_lt(
			    (s.height - 1) * m.dpi * 10, rows * 254);
			bitmap_free(bm);
		}
	}
}
END_TEST

Suite *
suite_drivers_tspl(void)
{
	Suite *s = suite_create("drivers_tspl");
	TCase *tc = tcase_create("tspl");

	tcase_add_loop_test(tc, reader, 0, NELEM(given));
	tcase_add_test(tc, bytes);
	tcase_add_loop_test(tc, told, 0, NELEM(words));
	tcase_add_test(tc, refused);
	tcase_add_test(tc, roll_length);
	suite_add_tcase(s, tc);
	return s;
}
