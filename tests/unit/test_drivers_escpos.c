/* test_drivers_escpos.c - ESC/POS against its description and an own reader. */
#include "unit.h"

#include <string.h>

#include "lang_given.h"

static const struct lang_media media = {
	.dpi = 203,
	.width_mm = 80,
	.height_mm = 40,
	.darkness_pct = 50,
};

#define CUT "\x1dVB\0"

/* GS v 0 m xL xH yL yH: bytes across and dots down, low byte first, 1 prints.
 * The first three pictures are those of python-escpos' own tests. */
static const struct given given[] = {
	GIVEN("\x1b@\x1dv0\0\1\0\1\0\x80" CUT, "10000000", "1 x 1 black"),
	GIVEN("\x1b@\x1dv0\0\1\0\1\0\0" CUT, "00000000", "1 x 1 white"),
	GIVEN("\x1b@\x1dv0\0\1\0\2\0\xc0\0" CUT, "11000000/00000000",
	    "2 x 2, top row black"),
	GIVEN("\x1b@\x1dv00\1\0\1\0\x01\f", "00000001",
	    "the mode as a digit; on to the next label"),
	GIVEN("\x1b@\x1dv0\0\2\0\1\0\xc0\x03\x1dv0\0\2\0\1\0\x0f\xf0" CUT,
	    "1100000000000011/0000111111110000", "two bands"),
	GIVEN("\x1b@\x1dv0\0\1\0\2\0\x1d\x56" CUT, "00011101/01010110",
	    "a command as data: parsed by count"),
	GIVEN("\x1dv0\0\1\0\1\0\x80" CUT, NULL, "no reset"),
	GIVEN("\x1b@\x1dv0\1\1\0\1\0\x80" CUT, NULL, "doubled width"),
	GIVEN("\x1b@\x1dv0\0\1\0\0\1\x80" CUT, NULL, "more than 255 rows"),
	GIVEN("\x1b@\x1dv0\0\1\0\2\0\x80", NULL, "data end early"),
	GIVEN("\x1b@\x1dv0\0\1\0\1\0\x80", NULL, "not fed out"),
	GIVEN("\x1b@\x1dv0\0\1\0\1\0\x80\f\f", NULL, "an empty label more"),
	GIVEN("\x1b@\f", NULL, "nothing printed"),
};

START_TEST(reader)
{
	given_check("escpos", &given[_i]);
}
END_TEST

static void
same_bytes(const struct bitmap *bm, const struct lang_media *m,
    const char *expect, size_t len)
{
	struct buf out;

	lang_encode(&out, "escpos", bm, m);
	ck_assert_uint_eq(out.len, len);
	ck_assert_mem_eq(out.data, expect, len);
	buf_fini(&out);
}

START_TEST(bytes)
{
	static const char roll[] = "\x1b@\x1dv0\0\1\0\2\0\xc0\0\x1dVB\0";
	static const char label[] = "\x1b@\x1dv0\0\1\0\2\0\xc0\0\f";
	struct lang_media m = media;
	struct bitmap *bm = given_picture("11/00");

	same_bytes(bm, &m, roll, sizeof(roll) - 1);
	/* nothing in it says how dark or fast */
	m.darkness_pct = 100;
	m.speed_mm_s = 300;
	same_bytes(bm, &m, roll, sizeof(roll) - 1);
	m.gap_mm = 3;
	same_bytes(bm, &m, label, sizeof(label) - 1);
	bitmap_free(bm);
}
END_TEST

START_TEST(told)
{
	struct lang_media m = media;
	struct bitmap *bm = bitmap_new(20, 300);
	struct seen_label s = lang_read_back("escpos", bm, &m);

	ck_assert(s.cut);
	ck_assert_int_eq(s.gap, 0);
	m.gap_mm = 3;
	s = lang_read_back("escpos", bm, &m);
	ck_assert(!s.cut);
	ck_assert_int_eq(s.gap, 1);
	bitmap_free(bm);
}
END_TEST

/* Bands of 255, 255 and 90 rows. */
START_TEST(three_bands)
{
	struct bitmap *bm = bitmap_new(9, 600);
	struct buf out;
	const char *p;

	lang_encode(&out, "escpos", bm, &media);
	p = out.data + 2;
	ck_assert_mem_eq(p, "\x1dv0\0\2\0\xff\0", 8);
	p += 8 + 2 * 255;
	ck_assert_mem_eq(p, "\x1dv0\0\2\0\xff\0", 8);
	p += 8 + 2 * 255;
	ck_assert_mem_eq(p, "\x1dv0\0\2\0\x5a\0", 8);
	buf_fini(&out);
	bitmap_free(bm);
}
END_TEST

START_TEST(refused)
{
	struct bitmap *bm = bitmap_new(2041, 8);

	lang_refuses("escpos", bm, &media, "at most 2040");
	bitmap_free(bm);
	bm = bitmap_new(2040, 8);
	lang_read_back("escpos", bm, &media);
	bitmap_free(bm);
}
END_TEST

Suite *
suite_drivers_escpos(void)
{
	Suite *s = suite_create("drivers_escpos");
	TCase *tc = tcase_create("escpos");

	tcase_add_loop_test(tc, reader, 0, NELEM(given));
	tcase_add_test(tc, bytes);
	tcase_add_test(tc, told);
	tcase_add_test(tc, three_bands);
	tcase_add_test(tc, refused);
	suite_add_tcase(s, tc);
	return s;
}
