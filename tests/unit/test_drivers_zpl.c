/* test_drivers_zpl.c - ZPL against its description and an own reader. */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "driver/lang.h"
#include "labels/label.h"
#include "label_samples.h"
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
		int pct, gap;
		const char *darkness, *tracking;
	} rows[] = {
		{ 0, 3, "~SD00\n", "^MNY" },
		{ 50, 3, "~SD15\n", "^MNY" },
		{ 100, 0, "~SD30\n", "^MNN" },
		{ 33, 0, "~SD10\n", "^MNN" },
	};
	struct lang_media m = media;
	struct bitmap *bm = bitmap_new(17, 5);
	size_t i, len;
	char *data;

	for (i = 0; i < NELEM(rows); i++) {
		m.darkness_pct = rows[i].pct;
		m.gap_mm = rows[i].gap;
		data = encode(&len, bm, &m);
		ck_assert_ptr_eq(strstr(data, rows[i].darkness), data);
		ck_assert_ptr_nonnull(strstr(data, rows[i].tracking));
		ck_assert_ptr_nonnull(strstr(data, "^PW17\n^LL5\n"));
		ck_assert_ptr_nonnull(strstr(data, "^GFA,15,15,3,,::::^FS"));
		free(data);
	}
	bitmap_free(bm);
}
END_TEST

START_TEST(beyond_limits)
{
	struct lang_media m = media;
	struct bitmap *bm = bitmap_new(1000, 800); /* 125 * 800 bytes */
	struct err err = { 0 };
	struct buf b;

	buf_init(&b, OUT_MAX);
	ck_assert_int_eq(
	    lang_find("zpl")->encode(&b, bm, &media, &err), RC_INVALID);
	bitmap_free(bm);
	bm = bitmap_new(8, 8);
	m.darkness_pct = 101;
	ck_assert_int_eq(
	    lang_find("zpl")->encode(&b, bm, &m, NULL), RC_INVALID);
	m.darkness_pct = -1;
	ck_assert_int_eq(
	    lang_find("zpl")->encode(&b, bm, &m, NULL), RC_INVALID);
	ck_assert_uint_eq(b.len, 0);
	bitmap_free(bm);
	buf_fini(&b);
}
END_TEST

/* Linear congruential generator of Knuth's MMIX, from memory; any would do. */
static unsigned
next_random(unsigned long long *state, unsigned below)
{
	*state = *state * 6364136223846793005ull + 1442695040888963407ull;
	return (unsigned)(*state >> 33) % below;
}

/* Runs of one colour, noise, and rows like the one above. */
static void
scribble(struct bitmap *bm, unsigned long long *state)
{
	int x, y, run;
	bool black;

	for (y = 0; y < bm->height; y++) {
		if (y > 0 && next_random(state, 4) == 0) {
			memcpy(bm->bits + (size_t)y * bm->stride,
			    bm->bits + (size_t)(y - 1) * bm->stride,
			    bm->stride);
			continue;
		}
		for (x = 0; x < bm->width; x += run) {
			run = (int)next_random(state,
				  next_random(state, 2) == 0
				      ? 9
				      : (unsigned)bm->width) +
			    1;
			if (run > bm->width - x)
				run = bm->width - x;
			black = next_random(state, 2) == 0;
			bitmap_fill(bm, x, y, run, 1, black);
		}
	}
}

/* Row i: widths i + 1, i + 9, i + 17 ... so that a failure names its class of
 * width modulo 8. */
START_TEST(random_rasters)
{
	unsigned long long state = 20261125u + (unsigned)_i;
	struct bitmap *bm;
	int width;

	for (width = _i + 1; width <= 907; width += 8) {
		bm = bitmap_new(width, (int)next_random(&state, 40) + 1);
		scribble(bm, &state);
		round_trip(bm, "random");
		bitmap_fill(bm, 0, 0, bm->width, bm->height, true);
		round_trip(bm, "black");
		bitmap_fill(bm, 0, 0, bm->width, bm->height, false);
		round_trip(bm, "white");
		bitmap_free(bm);
	}
}
END_TEST

/* Every run length up to a row of 907 dots, at the start and behind a dot. */
START_TEST(every_run)
{
	struct bitmap *bm;
	int run;

	for (run = 1; run <= 907; run++) {
		bm = bitmap_new(907, 2);
		bitmap_fill(bm, 0, 0, run, 1, true);
		bitmap_fill(bm, 907 - run, 1, run, 1, true);
		round_trip(bm, "run");
		bitmap_free(bm);
	}
}
END_TEST

START_TEST(labels)
{
	struct label_media m = label_sample_media(_i);
	struct fonts *fonts = label_sample_fonts();
	struct label_facts facts;
	struct bitmap *bm;
	struct err err = { 0 };
	int kind;

	for (kind = LABEL_PORTION; kind <= LABEL_BATCH; kind++) {
		facts = label_sample((enum label_kind)kind);
		ck_assert_msg(
		    label_render(&bm, &facts, &m, fonts, &err) == RC_OK, "%s",
		    err.text);
		round_trip(bm, "label");
		bitmap_free(bm);
	}
	fonts_free(fonts);
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
	tcase_add_test(tc, beyond_limits);
	tcase_add_loop_test(tc, random_rasters, 0, 8);
	tcase_add_test(tc, every_run);
	tcase_add_loop_test(tc, labels, 0, LABEL_SAMPLE_MEDIA);
	suite_add_tcase(s, tc);
	return s;
}
