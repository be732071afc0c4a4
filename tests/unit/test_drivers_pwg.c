/*
 * test_drivers_pwg.c - PWG raster beside libcups: its header, its writer and
 * its reader.
 */
#include "unit.h"

#include <string.h>

#include <cups/raster.h>

#include "base/str.h"
#include "chance.h"
#include "lang_given.h"

static const struct lang_media media = {
	.dpi = 203,
	.width_mm = 60,
	.height_mm = 40,
	.gap_mm = 3,
	.darkness_pct = 50,
};

static ssize_t
keep(void *ctx, unsigned char *buf, size_t size)
{
	buf_add(ctx, buf, size);
	return (ssize_t)size;
}

/* The header libcups itself fills for this size and kind of picture. */
static void
their_header(cups_page_header2_t *h, const struct bitmap *bm,
    const struct lang_media *m, int height_mm)
{
	pwg_media_t *size = pwgMediaForSize(m->width_mm * 100, height_mm * 100);

	ck_assert_ptr_nonnull(size);
	ck_assert(cupsRasterInitPWGHeader(
	    h, size, "black_1", m->dpi, m->dpi, "one-sided", NULL));
	/* the picture is the printable part, in whole dots */
	h->cupsWidth = (unsigned)bm->width;
	h->cupsHeight = (unsigned)bm->height;
	h->cupsBytesPerLine = (unsigned)bm->stride;
	h->NumCopies = 1;
	h->cupsInteger[CUPS_RASTER_PWG_TotalPageCount] = 1;
	if (m->gap_mm == 0)
		h->CutMedia = CUPS_CUT_PAGE;
	str_copy(h->MediaType, sizeof(h->MediaType),
	    m->gap_mm > 0 ? "labels" : "continuous");
	/* PWG 5102.4 reserves these, and wants zeros there */
	memset(h->ImagingBoundingBox, 0, sizeof(h->ImagingBoundingBox));
	/* names by points are the nearest standard size, if there is one */
	str_fmt(h->cupsPageSizeName, sizeof(h->cupsPageSizeName),
	    "om_%dx%dmm_%dx%dmm", m->width_mm, height_mm, m->width_mm,
	    height_mm);
}

static void
their_page(struct buf *out, const struct bitmap *bm, const struct lang_media *m,
    int height_mm)
{
	cups_page_header2_t h;
	cups_raster_t *raster;
	int y;

	buf_init(out, (size_t)8 * 1024 * 1024);
	their_header(&h, bm, m, height_mm);
	raster = cupsRasterOpenIO(keep, out, CUPS_RASTER_WRITE_PWG);
	ck_assert_ptr_nonnull(raster);
	ck_assert(cupsRasterWriteHeader2(raster, &h));
	for (y = 0; y < bm->height; y++)
		ck_assert_uint_eq(cupsRasterWritePixels(raster,
				      bm->bits + (size_t)y * bm->stride,
				      (unsigned)bm->stride),
		    bm->stride);
	cupsRasterClose(raster);
}

/* Header and rows, byte for byte. */
static void
same_as_libcups(
    const struct bitmap *bm, const struct lang_media *m, int height_mm)
{
	struct buf ours, theirs;
	size_t i;

	lang_encode(&ours, "pwg", bm, m);
	their_page(&theirs, bm, m, height_mm);
	for (i = 0; i < ours.len && i < theirs.len; i++)
		ck_assert_msg(ours.data[i] == theirs.data[i],
		    "%d x %d: byte %zu is %02x, libcups writes %02x", bm->width,
		    bm->height, i, (uint8_t)ours.data[i],
		    (uint8_t)theirs.data[i]);
	ck_assert_uint_eq(ours.len, theirs.len);
	buf_fini(&ours);
	buf_fini(&theirs);
}

static void
noise(struct bitmap *bm, uint64_t *seed)
{
	int x, y;

	/* long runs and noise by turns, some rows alike */
	for (y = 0; y < bm->height; y++)
		for (x = 0; x < bm->width; x++)
			bitmap_set(bm, x, y,
			    y % 3 == 1 ? x % 300 < 150
				       : chance_next(seed) % 5 == 0);
	for (y = 2; y < bm->height; y += 5)
		memcpy(bm->bits + (size_t)y * bm->stride,
		    bm->bits + (size_t)(y - 1) * bm->stride, bm->stride);
}

START_TEST(libcups_writer)
{
	static const struct {
		int dpi, width_mm, height_mm, gap_mm, width, height;
		int label_mm; /* along the feed, as said */
	} rows[] = {
		{ 203, 60, 40, 3, 479, 319, 40 },
		{ 300, 60, 40, 2, 708, 472, 40 },
		{ 203, 50, 25, 3, 399, 199, 25 },
		{ 300, 50, 25, 3, 590, 295, 25 },
		{ 203, 80, 40, 0, 639, 1598, 200 },
		{ 300, 80, 40, 0, 944, 2362, 200 },
		{ 300, 120, 40, 0, 1417, 600, 51 },
		{ 203, 60, 40, 3, 8, 1, 40 },
		{ 203, 60, 40, 3, 1, 600, 40 },
	};
	struct lang_media m = { .dpi = rows[_i].dpi,
		.width_mm = rows[_i].width_mm,
		.height_mm = rows[_i].height_mm,
		.gap_mm = rows[_i].gap_mm,
		.darkness_pct = 50 };
	struct bitmap *bm = bitmap_new(rows[_i].width, rows[_i].height);
	uint64_t seed = 5u + (unsigned)_i;

	noise(bm, &seed);
	same_as_libcups(bm, &m, rows[_i].label_mm);
	bitmap_fill(bm, 0, 0, bm->width, bm->height, true);
	same_as_libcups(bm, &m, rows[_i].label_mm);
	bitmap_fill(bm, 0, 0, bm->width, bm->height, false);
	same_as_libcups(bm, &m, rows[_i].label_mm);
	bitmap_free(bm);
}
END_TEST

/* Runs of equal bytes and of different bytes about 128, the longest count. */
START_TEST(counts)
{
	struct bitmap *bm;
	int n, i;

	for (n = 1; n <= 260; n++) {
		bm = bitmap_new(300 * 8, 1);
		for (i = 0; i < 300; i++)
			bm->bits[i] = (uint8_t)(i < n ? 0x55 : i * 7 | 1);
		same_as_libcups(bm, &media, 40);
		for (i = 0; i < 300; i++)
			bm->bits[i] = (uint8_t)(i < n ? i * 7 | 1 : 0x55);
		same_as_libcups(bm, &media, 40);
		bitmap_free(bm);
	}
}
END_TEST

/* Bytes of the header where the CUPS raster specification puts them, so that
 * the order of bytes does not rest on libcups alone. */
START_TEST(header)
{
	static const struct {
		size_t at;
		const char *bytes;
		size_t len;
	} parts[] = {
		{ 0, "RaS2", 4 },
		{ 4 + 0, "PwgRaster\0\0", 11 },
		{ 4 + 128, "labels", 7 },
		{ 4 + 276, "\0\0\0\xcb\0\0\0\xcb", 8 }, /* 203 */
		{ 4 + 340, "\0\0\0\1", 4 },
		{ 4 + 352, "\0\0\0\xaa\0\0\0\x71", 8 }, /* 170 x 113 points */
		{ 4 + 372, "\0\0\1\xdf\0\0\0\x02", 8 }, /* 479 x 2 */
		{ 4 + 384, "\0\0\0\1\0\0\0\1\0\0\0\x3c", 12 },
		{ 4 + 396, "\0\0\0\0\0\0\0\3", 8 },
		{ 4 + 420, "\0\0\0\1", 4 },
		{ 4 + 1732, "om_60x40mm_60x40mm", 19 },
		/* two equal rows: once more, then 60 bytes white */
		{ 4 + 1796, "\1\x3b\0", 3 },
	};
	struct bitmap *bm = bitmap_new(479, 2);
	struct buf out;
	size_t i;

	lang_encode(&out, "pwg", bm, &media);
	for (i = 0; i < NELEM(parts); i++)
		ck_assert_msg(memcmp(out.data + parts[i].at, parts[i].bytes,
				  parts[i].len) == 0,
		    "bytes at %zu", parts[i].at);
	ck_assert_uint_eq(out.len, 4 + 1796 + 3);
	buf_fini(&out);
	bitmap_free(bm);
}
END_TEST

START_TEST(told)
{
	struct lang_media m = media;
	struct bitmap *bm = bitmap_new(639, 1598);
	struct seen_label s = lang_read_back("pwg", bm, &m);

	ck_assert_int_eq(s.width, 60);
	ck_assert_int_eq(s.height, 40);
	ck_assert_int_eq(s.gap, 1);
	ck_assert(!s.cut);
	m.gap_mm = 0;
	m.width_mm = 80;
	s = lang_read_back("pwg", bm, &m);
	ck_assert_int_eq(s.width, 80);
	ck_assert_int_eq(s.height, 200);
	ck_assert_int_eq(s.gap, 0);
	ck_assert(s.cut);
	bitmap_free(bm);
}
END_TEST

Suite *
suite_drivers_pwg(void)
{
	Suite *s = suite_create("drivers_pwg");
	TCase *tc = tcase_create("pwg");

	tcase_set_timeout(tc, 20);
	tcase_add_loop_test(tc, libcups_writer, 0, 9);
	tcase_add_test(tc, counts);
	tcase_add_test(tc, header);
	tcase_add_test(tc, told);
	suite_add_tcase(s, tc);
	return s;
}
