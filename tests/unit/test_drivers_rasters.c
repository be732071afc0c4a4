/*
 * test_drivers_rasters.c - every language gives back the picture it was given,
 * dot for dot, through a reader that knows nothing of the encoder.
 */
#include "unit.h"

#include <string.h>

#include "chance.h"
#include "driver/lang.h"
#include "label_samples.h"
#include "lang_readers.h"

#define OUT_MAX ((size_t)8 * 1024 * 1024)

static const struct lang_media media = {
	.dpi = 203,
	.width_mm = 60,
	.height_mm = 40,
	.gap_mm = 3,
	.darkness_pct = 50,
};

static struct buf out;

static void
round_trip(const struct lang *lang, const struct bitmap *bm,
    const struct lang_media *m, const char *what)
{
	struct seen_label label;
	struct err err = { 0 };
	const char *why = NULL;

	buf_clear(&out);
	ck_assert_msg(lang->encode(&out, bm, m, &err) == RC_OK, "%s: %s",
	    lang->name, err.text);
	ck_assert_int_eq(buf_check(&out, "label", &err), RC_OK);
	ck_assert_msg(
	    lang_reader_find(lang->name)->read(&label, &why, out.data, out.len),
	    "%s, %s, %d x %d: %s", lang->name, what, bm->width, bm->height,
	    why);
	ck_assert_msg(same_dots(label.picture, bm),
	    "%s, %s, %d x %d: the picture came out different", lang->name, what,
	    bm->width, bm->height);
	ck_assert_msg(
	    label.copies == 1, "%s: %d copies", lang->name, label.copies);
	bitmap_free(label.picture);
}

static void
all_round_trip(
    const struct bitmap *bm, const struct lang_media *m, const char *what)
{
	size_t i;

	for (i = 0; langs[i] != NULL; i++)
		round_trip(langs[i], bm, m, what);
}

static int
below(uint64_t *seed, int n)
{
	return (int)(chance_next(seed) % (uint64_t)n);
}

/* Runs of one colour, noise, and rows like the one above. */
static void
scribble(struct bitmap *bm, uint64_t *seed)
{
	int x, y, run;
	bool black;

	for (y = 0; y < bm->height; y++) {
		if (y > 0 && below(seed, 4) == 0) {
			memcpy(bm->bits + (size_t)y * bm->stride,
			    bm->bits + (size_t)(y - 1) * bm->stride,
			    bm->stride);
			continue;
		}
		for (x = 0; x < bm->width; x += run) {
			run = below(seed, below(seed, 2) == 0 ? 9 : bm->width) +
			    1;
			if (run > bm->width - x)
				run = bm->width - x;
			black = below(seed, 2) == 0;
			bitmap_fill(bm, x, y, run, 1, black);
		}
	}
}

/* Row i: widths i + 8, i + 16, i + 24 ... so that a failure names its class of
 * width modulo 8. */
START_TEST(random_rasters)
{
	uint64_t seed = 20261125u + (unsigned)_i;
	struct bitmap *bm;
	int width;

	for (width = _i + 1; width <= 907; width += 8) {
		bm = bitmap_new(width, below(&seed, 40) + 1);
		scribble(bm, &seed);
		all_round_trip(bm, &media, "random");
		bitmap_free(bm);
	}
}
END_TEST

/* One colour only, noise only: what run lengths like most and least. */
START_TEST(plain_and_noise)
{
	uint64_t seed = 7u + (unsigned)_i;
	struct bitmap *bm;
	int width, i;

	for (width = _i + 8; width <= 920; width += 56) {
		bm = bitmap_new(width, below(&seed, 40) + 1);
		all_round_trip(bm, &media, "white");
		bitmap_fill(bm, 0, 0, bm->width, bm->height, true);
		all_round_trip(bm, &media, "black");
		for (i = 0; i < bm->width * bm->height; i++)
			bitmap_set(bm, i % bm->width, i / bm->width,
			    below(&seed, 2) == 0);
		all_round_trip(bm, &media, "noise");
		bitmap_free(bm);
	}
}
END_TEST

/* Every run length up to a row of 920 dots, at the start and at the end. */
START_TEST(every_run)
{
	struct bitmap *bm;
	int run;

	for (run = 1; run <= 920; run++) {
		bm = bitmap_new(920, 2);
		bitmap_fill(bm, 0, 0, run, 1, true);
		bitmap_fill(bm, 920 - run, 1, run, 1, true);
		all_round_trip(bm, &media, "run");
		bitmap_free(bm);
	}
}
END_TEST

/* Bytes that alternate in blocks: counts of 1 to 127 of equal and of different
 * bytes, and of equal rows, lie on both sides of every limit. */
START_TEST(blocks)
{
	struct bitmap *bm;
	int n, i, x;

	for (n = 1; n <= 127; n++) {
		bm = bitmap_new(2 * n * 8, 2);
		for (i = 0; i < n; i++) {
			for (x = 0; x < 8; x++)
				bitmap_set(
				    bm, i * 8 + x, 0, (i * 37 + 11) >> x & 1);
			bitmap_fill(bm, n * 8 + i * 8, 0, 8, 1, n % 2 == 0);
		}
		memcpy(bm->bits + bm->stride, bm->bits + n, (size_t)n);
		memcpy(bm->bits + bm->stride + n, bm->bits, (size_t)n);
		all_round_trip(bm, &media, "blocks");
		bitmap_free(bm);
	}
}
END_TEST

/* Heights about the 255 rows of a band and the 256 rows of a repeat count, as
 * rows that differ and rows that are all alike. */
static const int heights[] = { 127, 128, 129, 253, 254, 255, 256, 257, 258, 509,
	510, 511, 512, 513, 600 };

START_TEST(bands)
{
	uint64_t seed = 3u + (unsigned)_i;
	struct bitmap *bm = bitmap_new(101, heights[_i]);

	scribble(bm, &seed);
	all_round_trip(bm, &media, "bands");
	bitmap_fill(bm, 0, 0, bm->width, bm->height, false);
	bitmap_fill(bm, 30, 0, 17, bm->height, true);
	all_round_trip(bm, &media, "equal rows");
	bitmap_fill(bm, 0, bm->height - 1, 101, 1, true);
	all_round_trip(bm, &media, "a last row that differs");
	bitmap_free(bm);
}
END_TEST

/* A list 200 mm long on a roll of 80 mm, and the widest and longest picture
 * there is, on both heads. */
static const struct roll {
	int dpi, width_mm, width, height;
	const char *why;
} rolls[] = {
	{ 203, 80, 639, 1598, "80 x 200 mm, 203 dpi" },
	{ 300, 80, 944, 2362, "80 x 200 mm, 300 dpi" },
	{ 300, 120, 1417, 4096, "the widest roll, as long as can be" },
};

START_TEST(long_rolls)
{
	const struct roll *r = &rolls[_i];
	struct lang_media m = { .dpi = r->dpi,
		.width_mm = r->width_mm,
		.height_mm = 200,
		.darkness_pct = 50 };
	struct bitmap *bm = bitmap_new(r->width, r->height);
	uint64_t seed = 11u + (unsigned)_i;

	scribble(bm, &seed);
	all_round_trip(bm, &m, r->why);
	bitmap_free(bm);
}
END_TEST

START_TEST(labels)
{
	struct label_media m = label_sample_media(_i);
	struct lang_media lm = { .dpi = m.dpi,
		.width_mm = m.width_mm,
		.height_mm = m.height_mm,
		.gap_mm = 3,
		.darkness_pct = 50 };
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
		all_round_trip(bm, &lm, "label");
		bitmap_free(bm);
	}
	fonts_free(fonts);
}
END_TEST

/* Numbers no language may pass on. */
static const struct refusal {
	struct lang_media media;
	const char *words;
} refusals[] = {
	{ { 0, 60, 40, 3, 50, 0, false }, "203 nor 300 dpi" },
	{ { 204, 60, 40, 3, 50, 0, false }, "203 nor 300 dpi" },
	{ { 203, 0, 40, 3, 50, 0, false }, "a side" },
	{ { 203, 60, 0, 3, 50, 0, false }, "a side" },
	{ { 203, 501, 40, 3, 50, 0, false }, "a side" },
	{ { 203, 60, 501, 3, 50, 0, false }, "a side" },
	{ { 203, 60, 40, -1, 50, 0, false }, "gap -1 mm" },
	{ { 203, 60, 40, 51, 50, 0, false }, "gap 51 mm" },
	{ { 203, 60, 40, 3, -1, 0, false }, "darkness -1" },
	{ { 203, 60, 40, 3, 101, 0, false }, "darkness 101" },
	{ { 203, 60, 40, 3, 50, -1, false }, "speed -1" },
};

START_TEST(refused)
{
	const struct refusal *r = &refusals[_i];
	struct bitmap *bm = bitmap_new(16, 16);
	struct err err;
	size_t i;

	for (i = 0; langs[i] != NULL; i++) {
		if (langs[i]->command_sets == NULL)
			continue; /* a picture has no media */
		memset(&err, 0, sizeof(err));
		ck_assert_msg(
		    langs[i]->encode(&out, bm, &r->media, &err) == RC_INVALID,
		    "%s took %s", langs[i]->name, r->words);
		ck_assert_msg(strstr(err.text, r->words) != NULL, "%s: %s",
		    langs[i]->name, err.text);
		ck_assert_uint_eq(out.len, 0);
	}
	bitmap_free(bm);
}
END_TEST

/* What does not fit the buffer is reported by it, in every language. */
START_TEST(full_buffer)
{
	struct bitmap *bm = bitmap_new(100, 300);
	struct err err = { 0 };
	struct buf small;
	size_t i;

	for (i = 0; langs[i] != NULL; i++) {
		buf_init(&small, 40);
		ck_assert_int_eq(
		    langs[i]->encode(&small, bm, &media, &err), RC_OK);
		ck_assert_int_eq(buf_check(&small, "label", NULL), RC_INVALID);
		buf_fini(&small);
	}
	bitmap_free(bm);
}
END_TEST

/* Each language has its reader, and no reader is left over. */
START_TEST(table)
{
	const struct lang_reader *r;
	size_t i, n = 0;

	for (i = 0; langs[i] != NULL; i++)
		ck_assert_ptr_nonnull(lang_reader_find(langs[i]->name));
	for (r = lang_readers; r->lang != NULL; r++, n++)
		ck_assert_msg(lang_find(r->lang) != NULL, "%s", r->lang);
	ck_assert_uint_eq(n, i);
	ck_assert_uint_ge(n, 7);
}
END_TEST

static void
setup(void)
{
	buf_init(&out, OUT_MAX);
}

static void
teardown(void)
{
	buf_fini(&out);
}

Suite *
suite_drivers_rasters(void)
{
	Suite *s = suite_create("drivers_rasters");
	TCase *tc = tcase_create("rasters");

	tcase_set_timeout(tc, 30);
	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_add_test(tc, table);
	tcase_add_loop_test(tc, random_rasters, 7, 15);
	tcase_add_loop_test(tc, plain_and_noise, 0, 8);
	tcase_add_test(tc, every_run);
	tcase_add_test(tc, blocks);
	tcase_add_loop_test(tc, bands, 0, NELEM(heights));
	tcase_add_loop_test(tc, long_rolls, 0, NELEM(rolls));
	tcase_add_loop_test(tc, labels, 0, LABEL_SAMPLE_MEDIA);
	tcase_add_loop_test(tc, refused, 0, NELEM(refusals));
	tcase_add_test(tc, full_buffer);
	suite_add_tcase(s, tc);
	return s;
}
