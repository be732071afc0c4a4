/* test_drivers_png.c - what a preview picture says beside its dots, which
 * test_drivers_rasters.c reads back. */
#include "unit.h"

#include <string.h>

#include "driver/lang.h"
#include "label_samples.h"

/* Chunks of the PNG specification, from memory: IHDR is first, 8 bytes of
 * signature and 8 of chunk head before it. */
static void
same_header(const struct buf *b, unsigned per_metre)
{
	const unsigned char *p = (const unsigned char *)b->data;
	const unsigned char phys[] = { 'p', 'H', 'Y', 's', 0, 0,
		(unsigned char)(per_metre >> 8), (unsigned char)per_metre, 0, 0,
		(unsigned char)(per_metre >> 8), (unsigned char)per_metre, 1 };
	size_t i;

	ck_assert_int_eq(memcmp(p, "\x89PNG\r\n\x1a\n", 8), 0);
	ck_assert_int_eq(memcmp(p + 12, "IHDR", 4), 0);
	ck_assert_uint_eq(p[24], 1); /* bits a sample */
	ck_assert_uint_eq(p[25], 0); /* greyscale */
	for (i = 0; i + sizeof(phys) <= b->len; i++)
		if (memcmp(p + i, phys, sizeof(phys)) == 0)
			return;
	ck_abort_msg("no resolution of %u dots a metre", per_metre);
}

START_TEST(labels)
{
	struct label_media m = label_sample_media(_i);
	struct lang_media media = {
		.dpi = m.dpi,
		.width_mm = m.width_mm,
		.height_mm = m.height_mm,
		.gap_mm = 2,
		.darkness_pct = 50,
	};
	struct label_facts f = label_sample(LABEL_TRAY);
	struct fonts *fonts = label_sample_fonts();
	struct bitmap *bm;
	struct buf b;

	ck_assert_int_eq(label_render(&bm, &f, &m, fonts, NULL), RC_OK);
	buf_init(&b, 1024 * 1024);
	ck_assert_int_eq(lang_find("png")->encode(&b, bm, &media, NULL), RC_OK);
	/* 203 / 0.0254 and 300 / 0.0254 */
	same_header(&b, m.dpi == 203 ? 7992 : 11811);
	buf_fini(&b);
	bitmap_free(bm);
	fonts_free(fonts);
}
END_TEST

/* What does not fit the buffer is reported by it, as for every language. */
START_TEST(full_buffer)
{
	struct lang_media media = {
		.dpi = 203,
		.width_mm = 60,
		.height_mm = 40,
		.gap_mm = 2,
		.darkness_pct = 50,
	};
	struct bitmap *bm = bitmap_new(100, 100);
	struct err err = { 0 };
	struct buf b;

	buf_init(&b, 20);
	ck_assert_int_eq(lang_find("png")->encode(&b, bm, &media, &err), RC_OK);
	ck_assert_int_eq(buf_check(&b, "label", &err), RC_INVALID);
	media.dpi = 0;
	ck_assert_int_eq(
	    lang_find("png")->encode(&b, bm, &media, NULL), RC_INVALID);
	buf_fini(&b);
	bitmap_free(bm);
}
END_TEST

Suite *
suite_drivers_png(void)
{
	Suite *s = suite_create("drivers_png");
	TCase *tc = tcase_create("png");

	tcase_add_loop_test(tc, labels, 0, LABEL_SAMPLE_MEDIA);
	tcase_add_test(tc, full_buffer);
	suite_add_tcase(s, tc);
	return s;
}
