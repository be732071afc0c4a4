/* test_drivers_zpl.c - ZPL against its description and an own reader; random
 * rasters are in test_drivers_rasters.c. */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "driver/lang.h"
#include "zpl_reader.h"

#define OUT_MAX ((size_t)1024 * 1024)

static const struct lang_media media = {
	.dpi = 203,
	.width_mm = 60,
	.height_mm = 40,
	.gap_mm = 3,
	.darkness_pct = 50,
};

static char *
encode(size_t *len, const struct bitmap *bm, const struct lang_media *m)
{
	struct buf b;
	struct err err = { 0 };

	buf_init(&b, OUT_MAX);
	ck_assert_msg(
	    lang_find("zpl")->encode(&b, bm, m, &err) == RC_OK, "%s", err.text);
	ck_assert_int_eq(buf_check(&b, "label", &err), RC_OK);
	*len = b.len;
	return b.data;
}

static void
round_trip(const struct bitmap *bm, const char *what)
{
	struct zpl_label label;
	const char *why;
	size_t len;
	char *data = encode(&len, bm, &media);

	ck_assert_msg(zpl_read(&label, &why, data, len), "%s, %d x %d: %s",
	    what, bm->width, bm->height, why);
	ck_assert_int_eq(label.picture->width, bm->width);
	ck_assert_int_eq(label.picture->height, bm->height);
	ck_assert_msg(memcmp(label.picture->bits, bm->bits,
			  bm->stride * (size_t)bm->height) == 0,
	    "%s, %d x %d: the picture came out different", what, bm->width,
	    bm->height);
	ck_assert_int_eq(label.copies, 1);
	bitmap_free(label.picture);
	free(data);
}

/* The reader first: hand-made labels, so that it is not only right together
 * with the encoder. */
static const struct given {
	const char *zpl;
	const char *rows; /* joined by '/'; NULL: refused */
	const char *why;
} given[] = {
	/* hexadecimal, two digits a byte, 1 is black, most significant bit
	 * left, rows padded with 0 (ZPL II Programming Guide, ^GF) */
	{ "^XA^PW2^LL2^FO0,0^GFA,2,2,1,C000^FS^PQ1^XZ", "11/00",
	    "2 x 2, top row black" },
	{ "^XA^PW10^LL1^FO0,0^GFA,2,2,2,8040^FS^XZ", "1000000001",
	    "first and last of ten" },
	{ "^XA^PW8^LL2^FO0,0^GFA,2,2,1,A5\r\n5A^FS^XZ", "10100101/01011010",
	    "line ends inside the data" },
	{ "^XA^PW16^LL1^FO0,0^GFA,2,2,2,F,^FS^XZ", "1111000000000000",
	    ", fills the row with white" },
	{ "^XA^PW8^LL3^FO0,0^GFA,3,3,1,A5::^FS^XZ",
	    "10100101/10100101/10100101", ": repeats the row above" },
	{ "^XA^PW12^LL1^FO0,0^GFA,2,2,2,HF1,^FS^XZ", "111111110001",
	    "H is two times" },
	{ "^XA^PW88^LL1^FO0,0^GFA,11,11,11,gGF,^FS^XZ",
	    "1111111111111111111111111111111111111111111111111111111111111111"
	    "111111111111111111110000",
	    "g and G add up to 21" },
	{ "^XA^PW8^LL2^FO0,1^GFA,1,1,1,FF^FS^XZ", "00000000/11111111",
	    "^FO moves the field" },
	{ "^XA^PW8^LL1^FO0,0^GFA,1,1,1,F^FS^XZ", NULL, "data ends early" },
	{ "^XA^PW8^LL1^FO0,0^GFA,1,2,1,FF^FS^XZ", NULL, "counts differ" },
	{ "^XA^PW4^LL1^FO0,0^GFA,1,1,1,FF^FS^XZ", NULL, "ink off the label" },
	{ "^XA^PW8^LL1^FO0,0^GFA,1,1,1,IF^FS^XZ", NULL, "run past the row" },
	{ "^XA^PW8^LL1^FO0,0^GFA,1,1,1,FF^FS", NULL, "label not ended" },
};

START_TEST(reader)
{
	const struct given *g = &given[_i];
	struct zpl_label label;
	const char *why, *p = g->rows;
	int x, y;
	bool ok;

	ok = zpl_read(&label, &why, g->zpl, strlen(g->zpl));
	ck_assert_msg(ok == (g->rows != NULL), "%s: %s", g->why,
	    why != NULL ? why : "accepted");
	if (!ok)
		return;
	for (y = 0; y < label.picture->height; y++, p++)
		for (x = 0; x < label.picture->width; x++, p++)
			ck_assert_msg(
			    bitmap_get(label.picture, x, y) == (*p == '1'),
			    "%s: dot %d, %d", g->why, x, y);
	bitmap_free(label.picture);
}
END_TEST

/* Runs from the description: 400 is z, 347 is w (340) and M (7). */
static const struct run {
	int count; /* digits alike at the start of the row */
	int value; /* that digit */
	const char *expect;
	const char *why;
} runs[] = {
	{ 1, 15, ",F,", "one digit stands for itself" },
	{ 2, 15, ",HF,", "H is 2" },
	{ 19, 15, ",YF,", "Y is 19" },
	{ 20, 15, ",gF,", "g is 20" },
	{ 21, 15, ",gGF,", "20 and 1: the 1 must not be lost" },
	{ 41, 15, ",hGF,", "40 and 1" },
	{ 61, 15, ",iGF,", "60 and 1" },
	{ 340, 12, ",wC,", "w is 340" },
	{ 347, 12, ",wMC,", "340 and 7" },
	{ 400, 15, ",zF,", "z is 400" },
	{ 419, 15, ",zYF,", "the longest single run" },
	{ 421, 15, ",zYFHF,", "longer: a run of 419 and one of 2" },
};

START_TEST(run_lengths)
{
	const struct run *r = &runs[_i];
	struct bitmap *bm = bitmap_new((r->count + 3) / 2 * 8, 1);
	size_t len;
	char *data;
	int i, bit;

	for (i = 0; i < r->count; i++)
		for (bit = 0; bit < 4; bit++)
			if (r->value >> (3 - bit) & 1)
				bitmap_set(bm, i * 4 + bit, 0, true);
	data = encode(&len, bm, &media);
	ck_assert_msg(strstr(data, r->expect) != NULL, "%s: %s", r->why, data);
	free(data);
	round_trip(bm, r->why);
	bitmap_free(bm);
}
END_TEST

START_TEST(words)
{
	static const struct {
		int pct, gap, speed;
		bool ribbon;
		const char *darkness, *tracking, *type, *rate;
	} rows[] = {
		{ 0, 3, 0, false, "~SD00\n", "^MNY\n", "^MTD\n", NULL },
		{ 50, 3, 25, true, "~SD15\n", "^MNY\n", "^MTT\n", "^PR1\n" },
		{ 100, 0, 100, false, "~SD30\n", "^MNN\n", "^MTD\n", "^PR4\n" },
		/* 14 inches a second are 355.6 mm */
		{ 33, 0, 356, true, "~SD10\n", "^MNN\n", "^MTT\n", "^PR14\n" },
	};
	struct lang_media m = media;
	struct bitmap *bm = bitmap_new(17, 5);
	size_t i, len;
	char *data;

	for (i = 0; i < NELEM(rows); i++) {
		m.darkness_pct = rows[i].pct;
		m.gap_mm = rows[i].gap;
		m.speed_mm_s = rows[i].speed;
		m.ribbon = rows[i].ribbon;
		data = encode(&len, bm, &m);
		ck_assert_ptr_eq(strstr(data, rows[i].darkness), data);
		ck_assert_ptr_nonnull(strstr(data, rows[i].tracking));
		ck_assert_ptr_nonnull(strstr(data, rows[i].type));
		if (rows[i].rate == NULL)
			ck_assert_ptr_null(strstr(data, "^PR"));
		else
			ck_assert_ptr_nonnull(strstr(data, rows[i].rate));
		ck_assert_ptr_nonnull(strstr(data, "^PW17\n^LL5\n"));
		ck_assert_ptr_nonnull(strstr(data, "^GFA,15,15,3,,::::^FS"));
		free(data);
	}
	bitmap_free(bm);
}
END_TEST

START_TEST(speed_refused)
{
	static const int speeds[] = { 1, 12, 369, 2147483647 };
	struct lang_media m = media;
	struct bitmap *bm = bitmap_new(8, 8);
	struct err err;
	struct buf b;
	size_t i;

	buf_init(&b, OUT_MAX);
	for (i = 0; i < NELEM(speeds); i++) {
		memset(&err, 0, sizeof(err));
		m.speed_mm_s = speeds[i];
		ck_assert_int_eq(
		    lang_find("zpl")->encode(&b, bm, &m, &err), RC_INVALID);
		ck_assert_ptr_nonnull(
		    strstr(err.text, "1 to 14 inches a second"));
	}
	ck_assert_uint_eq(b.len, 0);
	bitmap_free(bm);
	buf_fini(&b);
}
END_TEST

/* One field takes 99999 bytes: 125 bytes a row are 799 rows.  A row like the
 * one above it is written out where a new field begins. */
START_TEST(stacked)
{
	struct bitmap *bm = bitmap_new(1000, 1600);
	size_t len;
	char *data;

	bitmap_fill(bm, 0, 0, 4, 1600, true);
	data = encode(&len, bm, &media);
	ck_assert_ptr_nonnull(strstr(data, "^FO0,0^GFA,99875,99875,125,F,:"));
	ck_assert_ptr_nonnull(
	    strstr(data, ":^FS\n^FO0,799^GFA,99875,99875,125,F,:"));
	ck_assert_ptr_nonnull(
	    strstr(data, ":^FS\n^FO0,1598^GFA,250,250,125,F,:^FS\n^PQ1"));
	free(data);
	round_trip(bm, "three fields");
	bitmap_free(bm);
}
END_TEST

Suite *
suite_drivers_zpl(void)
{
	Suite *s = suite_create("drivers_zpl");
	TCase *tc = tcase_create("zpl");

	tcase_set_timeout(tc, 20);
	tcase_add_loop_test(tc, reader, 0, NELEM(given));
	tcase_add_loop_test(tc, run_lengths, 0, NELEM(runs));
	tcase_add_test(tc, words);
	tcase_add_test(tc, speed_refused);
	tcase_add_test(tc, stacked);
	suite_add_tcase(s, tc);
	return s;
}
