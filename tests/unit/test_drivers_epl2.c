/* test_drivers_epl2.c - EPL2 against its description and an own reader. */
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

#define ROWS7 "\x7f\xfe\x7f\xfe\x7f\xfe\x7f\xfe\x7f\xfe\x7f\xfe\x7f\xfe"

/* Bytes of the maker's own example of GW (its support note on the command): a
 * frame of 16 x 16 dots at 100, 100.  It shows the comma, the polarity, the
 * order of bits and that P alone prints one. */
START_TEST(makers_example)
{
	static const char label[] =
	    "N\r\nGW100,100,2,16,\0\0" ROWS7 ROWS7 "\0\0P\r\n\r\n";
	struct seen_label s;
	const char *why = NULL;
	int x, y;
	bool edge;

	ck_assert_msg(
	    lang_reader_find("epl2")->read(&s, &why, label, sizeof(label) - 1),
	    "%s", why);
	ck_assert_int_eq(s.picture->width, 116);
	ck_assert_int_eq(s.picture->height, 116);
	for (y = 0; y < 116; y++)
		for (x = 0; x < 116; x++) {
			edge = x >= 100 && y >= 100 &&
			    (x == 100 || x == 115 || y == 100 || y == 115);
			ck_assert_msg(bitmap_get(s.picture, x, y) == edge,
			    "dot %d, %d", x, y);
		}
	ck_assert_int_eq(s.copies, 1);
	bitmap_free(s.picture);
}
END_TEST

static const struct given comma[] = {
	GIVEN("N\nGW0,0,1,2,\x3f\xff\nP1\n", "11000000/00000000",
	    "2 x 2, top row black: worked from the polarity"),
	GIVEN("N\nGW0,0,1,2,\n\r\nP1\n", "11110101/11110010",
	    "line ends as data: parsed by count"),
	GIVEN("N\nGW0,0,1,1,\xfeP1\n", "00000001", "no line end behind data"),
	GIVEN("N\nGW0,0,1,1\n\xfe\nP1\n", NULL, "the other mark"),
	GIVEN("GW0,0,1,1,\xfe\nP1\n", NULL, "no N"),
	GIVEN("N\nGW0,0,1,1,\xfe\nq8\nP1\n", NULL, "q takes the graphic away"),
	GIVEN(
	    "N\nGW0,0,1,1,\xfe\nQ8,24\nP1\n", NULL, "Q takes the graphic away"),
	GIVEN("N\nGW0,0,1,1,\xfe\nN\nP1\n", NULL, "N takes the graphic away"),
	GIVEN("N\nq8\nGW0,0,2,1,\xfe\xfe\nP1\n", NULL, "wider than q"),
	GIVEN("N\nQ1,24\nGW0,0,1,2,\xfe\xfe\nP1\n", NULL, "longer than Q"),
	GIVEN("N\nQ1,15\nGW0,0,1,1,\xfe\nP1\n", NULL, "gap of 15 dots"),
	GIVEN("N\nGW0,0,1,1,\xfe\n", NULL, "not printed"),
	GIVEN("N\nGW0,0,1,1,", NULL, "data end early"),
};

static const struct given line_end[] = {
	GIVEN("N\nGW0,0,1,2\n\x3f\xff\nP1\n", "11000000/00000000",
	    "2 x 2, top row black"),
	GIVEN("N\nGW0,0,1,2\r\n\x3f\xff\nP1\n", "11000000/00000000",
	    "CR LF as the mark"),
	GIVEN("N\nGW0,0,1,2,\x3f\xff\nP1\n", NULL, "the other mark"),
};

START_TEST(reader)
{
	if (_i < (int)NELEM(comma))
		given_check("epl2", &comma[_i]);
	else
		given_check("epl2-lf", &line_end[_i - (int)NELEM(comma)]);
}
END_TEST

START_TEST(bytes)
{
	static const char expect[2][64] = {
		"\nN\nq8\nQ2,24\nD8\nGW0,0,1,2,\x3f\xff\nP1\n",
		"\nN\nq8\nQ2,24\nD8\nGW0,0,1,2\n\x3f\xff\nP1\n",
	};
	struct bitmap *bm = given_picture("11/00");
	struct buf out;

	lang_encode(&out, _i == 0 ? "epl2" : "epl2-lf", bm, &media);
	ck_assert_uint_eq(out.len, strlen(expect[_i]));
	ck_assert_mem_eq(out.data, expect[_i], out.len);
	buf_fini(&out);
	bitmap_free(bm);
}
END_TEST

/* What a printer is told of the media, in dots. */
static const struct words {
	int dpi, pct, gap_mm, speed;
	int density, gap, inches;
	const char *why;
} words[] = {
	{ 203, 0, 3, 0, 0, 24, NOT_SAID, "palest, speed left alone" },
	{ 203, 50, 2, 25, 8, 16, 1, "2 mm are 15.98 dots: the least" },
	{ 300, 100, 2, 100, 15, 24, 4, "darkest" },
	{ 300, 33, 20, 152, 5, 236, 6, "the widest gap of the settings" },
	{ 203, 33, 0, 0, 5, 0, NOT_SAID, "continuous" },
};

START_TEST(told)
{
	const struct words *w = &words[_i];
	struct lang_media m = media;
	struct bitmap *bm = bitmap_new(20, 100);
	struct seen_label s;

	m.dpi = w->dpi;
	m.darkness_pct = w->pct;
	m.gap_mm = w->gap_mm;
	m.speed_mm_s = w->speed;
	s = lang_read_back("epl2", bm, &m);
	ck_assert_int_eq(s.darkness, w->density);
	ck_assert_int_eq(s.gap, w->gap);
	ck_assert_int_eq(s.speed, w->inches);
	ck_assert_int_eq(s.width, 24);
	ck_assert_int_eq(s.height, 100);
	bitmap_free(bm);
}
END_TEST

/* EPL Programming Guide, Q: 16 to 240 dots at 203 dpi, 18 to 240 at 300. */
START_TEST(refused)
{
	struct lang_media m = media;
	struct bitmap *bm = bitmap_new(8, 8);

	m.gap_mm = 1;
	lang_refuses("epl2", bm, &m, "16 to 240 dots");
	m.dpi = 300;
	lang_refuses("epl2", bm, &m, "18 to 240 dots");
	m.gap_mm = 21;
	lang_refuses("epl2-lf", bm, &m, "gap 21 mm");
	m.gap_mm = 3;
	m.speed_mm_s = 180;
	lang_refuses("epl2", bm, &m, "1 to 6 inches a second");
	bitmap_free(bm);
}
END_TEST

Suite *
suite_drivers_epl2(void)
{
	Suite *s = suite_create("drivers_epl2");
	TCase *tc = tcase_create("epl2");

	tcase_add_test(tc, makers_example);
	tcase_add_loop_test(tc, reader, 0, NELEM(comma) + NELEM(line_end));
	tcase_add_loop_test(tc, bytes, 0, 2);
	tcase_add_loop_test(tc, told, 0, NELEM(words));
	tcase_add_test(tc, refused);
	suite_add_tcase(s, tc);
	return s;
}
