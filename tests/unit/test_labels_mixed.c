/*
 * test_labels_mixed.c - labels that name several batches.
 */
#include "unit.h"

#include <string.h>

#include "base/bitmap.h"
#include "base/str.h"
#include "label_samples.h"
#include "labels/label.h"
#include "store/portions.h"

/* On every layout, as every thing it may say, with as many batches as a unit
 * may have: it fits, and the codes change what is drawn. */
START_TEST(labels_of_many)
{
	struct label_media m = label_sample_media(_i);
	struct fonts *fonts = label_sample_fonts();
	int variant, others;

	for (variant = LABEL_USE_BY; variant <= LABEL_HOLD; variant++) {
		struct bitmap *plain, *mixed;
		struct label_facts f =
		    label_sample_as(LABEL_TRAY, (enum label_variant)variant);
		struct err err = { 0 };

		ck_assert_int_eq(
		    label_render(&plain, &f, &m, fonts, NULL), RC_OK);
		for (others = 1; others < PORTION_BATCHES_MAX; others++) {
			str_fmt(f.also + strlen(f.also),
			    sizeof(f.also) - strlen(f.also), "%s26330-1%dC",
			    others > 1 ? " + " : "", others);
			f.others = others;
			ck_assert_msg(
			    label_render(&mixed, &f, &m, fonts, &err) == RC_OK,
			    "%d x %d at %d, variant %d, %d others: %s",
			    m.width_mm, m.height_mm, m.dpi, variant, others,
			    err.text);
			ck_assert(
			    memcmp(plain->bits, mixed->bits,
				plain->stride * (size_t)plain->height) != 0);
			bitmap_free(mixed);
		}
		bitmap_free(plain);
	}
	fonts_free(fonts);
}
END_TEST

Suite *
suite_labels_mixed(void)
{
	Suite *s = suite_create("labels_mixed");
	TCase *tc = tcase_create("labels");

	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, labels_of_many, 0, LABEL_SAMPLE_MEDIA);
	suite_add_tcase(s, tc);
	return s;
}
