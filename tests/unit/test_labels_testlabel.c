/* test_labels_testlabel.c - the label that shows whether a printer is right. */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "label_look.h"
#include "label_samples.h"
#include "labels/testlabel.h"

#define SETTINGS                                                               \
	"zpl to usb:any, 60 x 40 mm, gap 3 mm, darkness 50 %, speed as set"

static struct fonts *fonts;

static void
setup(void)
{
	fonts = label_sample_fonts();
}

static void
teardown(void)
{
	fonts_free(fonts);
}

/* Every size the settings take, smallest and largest roll. */
static const struct label_media media[] = {
	{ 60, 40, 203 },
	{ 60, 40, 300 },
	{ 50, 25, 203 },
	{ 50, 25, 300 },
	{ 48, 0, 203 },
	{ 80, 0, 203 },
	{ 80, 200, 203 },
	{ 120, 0, 300 },
};

static const char *const names[] = { "main", "freezer-side",
	"a_name_of_23_characters" };

#define COMBINATIONS ((int)(NELEM(media) * NELEM(names)))

static struct bitmap *
render(const char *name, const struct label_media *m)
{
	struct bitmap *bm;
	struct err err = { 0 };

	ck_assert_msg(
	    testlabel_render(&bm, name, SETTINGS, m, fonts, &err) == RC_OK,
	    "%dx%d: %s", m->width_mm, m->height_mm, err.text);
	return bm;
}

START_TEST(scans)
{
	const struct label_media *m = &media[_i / (int)NELEM(names)];
	const char *name = names[_i % (int)NELEM(names)];
	struct bitmap *bm = render(name, m);
	char symbol[64];

	ck_assert_int_eq(bm->width, label_mm_to_dots(m->width_mm, m->dpi));
	ck_assert_int_eq(bm->height,
	    label_mm_to_dots(m->height_mm == 0 ? 40 : m->height_mm, m->dpi));
	str_fmt(symbol, sizeof(symbol), "[91]TEST%s", name);
	look_read_label(bm, symbol, name);
	bitmap_free(bm);
}
END_TEST

/* What no element can hold is an underscore. */
START_TEST(odd_name)
{
	struct bitmap *bm = render("Bar & \xc3\x85l [2]", &media[0]);

	look_read_label(bm, "[91]TESTBar_&___l__2_", "odd name");
	bitmap_free(bm);
}
END_TEST

/* Ink in the outermost dots of all four corners, 4 mm along both edges, and
 * none on the edges between them. */
START_TEST(corners)
{
	const struct label_media *m = &media[_i];
	struct bitmap *bm = render("main", m);
	int arm = label_mm_to_dots(4, m->dpi), w = bm->width, h = bm->height, i;

	for (i = 0; i < arm; i++) {
		ck_assert(bitmap_get(bm, i, 0) && bitmap_get(bm, 0, i));
		ck_assert(
		    bitmap_get(bm, w - 1 - i, 0) && bitmap_get(bm, w - 1, i));
		ck_assert(
		    bitmap_get(bm, i, h - 1) && bitmap_get(bm, 0, h - 1 - i));
		ck_assert(bitmap_get(bm, w - 1 - i, h - 1) &&
		    bitmap_get(bm, w - 1, h - 1 - i));
	}
	arm += 2;
	look_blank(bm, arm, 0, w - 2 * arm, 4, "top edge");
	look_blank(bm, arm, h - 4, w - 2 * arm, 4, "bottom edge");
	look_blank(bm, 0, arm, 4, h - 2 * arm, "left edge");
	look_blank(bm, w - 4, arm, 4, h - 2 * arm, "right edge");
	bitmap_free(bm);
}
END_TEST

/* A band of rows in which each of eight columns inks n of 8 dots. */
static bool
is_ramp(const struct bitmap *bm, int x, int y, int step)
{
	int i, j, k, black;

	for (k = 0; k < 8; k++) {
		black = 0;
		for (j = 0; j < 8; j++)
			for (i = 0; i < step; i++)
				black +=
				    bitmap_get(bm, x + k * step + i, y + j);
		if (black != step * (k + 1))
			return false;
	}
	return true;
}

START_TEST(greys)
{
	const struct label_media *m = &media[_i];
	struct bitmap *bm = render("main", m);
	int x = m->dpi == 203 ? 12 : 18, y, step, found = 0;

	for (step = 16; step * 8 < bm->width && found == 0; step += 4)
		for (y = 0; y + 8 <= bm->height && found == 0; y++)
			found = is_ramp(bm, x, y, step) ? step : 0;
	ck_assert_int_gt(found, 0);
	/* Each step can be seen as an area: 4 mm or more. */
	ck_assert_int_ge(found, label_mm_to_dots(4, m->dpi));
	ck_assert_int_gt(look_text(fonts, bm, FONT_TEXT, "1/8", false), 0);
	ck_assert_int_gt(look_text(fonts, bm, FONT_TEXT, "8/8", false), 0);
	bitmap_free(bm);
}
END_TEST

START_TEST(words)
{
	const struct label_media *m = &media[_i];
	struct bitmap *bm = render("freezer-side", m);
	int least = (2000 * m->dpi + 12700) / 25400;

	ck_assert_int_gt(
	    look_text(fonts, bm, FONT_TEXT, "freezer-side", false), least);
	ck_assert_int_eq(
	    look_text(fonts, bm, FONT_TEXT, "usb:any,", false), least);
	ck_assert_int_eq(look_text(fonts, bm, FONT_TEXT,
			     "Smallest text: 0O 1I 5S 8B", false),
	    least);
	bitmap_free(bm);
}
END_TEST

static const struct {
	const char *name, *settings;
	struct label_media m;
	const char *says, *why;
} bads[] = {
	{ "main", "x", { 47, 25, 203 }, "at least 48 x 25", "narrow" },
	{ "main", "x", { 60, 24, 203 }, "at least 48 x 25", "low" },
	{ "main", "x", { 60, 40, 600 }, "203 or 300", "dpi" },
	{ "main", "x", { 5000, 40, 203 }, "no test label", "wide" },
	{ "main", "x", { 60, -1, 203 }, "no test label", "below 0" },
	{ "", "x", { 60, 40, 203 }, "name", "no name" },
	{ "main", "", { 60, 40, 203 }, "settings", "no settings" },
	{ "main", "a\nb", { 60, 40, 203 }, "settings", "control character" },
	{ "main", "\xe9\xb1\x88", { 60, 40, 203 }, "U+9C48", "no glyph" },
	{ "main",
	    "preview:/a/folder/whose/name/has/no/blank/in/it/and/is/longer/"
	    "than/the/label",
	    { 50, 25, 203 }, "settings: does not fit", "one long word" },
	{ "main",
	    "many words that go on until the label is full, and then some "
	    "more words that go on until the label is full, and then some "
	    "more words that go on until the label is full, and then more",
	    { 50, 25, 203 }, "settings: does not fit", "too many words" },
};

START_TEST(refused)
{
	struct bitmap *bm = NULL;
	struct err err = { 0 };

	ck_assert_int_eq(testlabel_render(&bm, bads[_i].name, bads[_i].settings,
			     &bads[_i].m, fonts, &err),
	    RC_INVALID);
	ck_assert_ptr_null(bm);
	ck_assert_msg(strstr(err.text, bads[_i].says) != NULL, "%s: %s",
	    bads[_i].why, err.text);
}
END_TEST

Suite *
suite_labels_testlabel(void)
{
	Suite *s = suite_create("labels_testlabel");
	TCase *tc = tcase_create("testlabel");

	tcase_add_unchecked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 20);
	tcase_add_loop_test(tc, scans, 0, COMBINATIONS);
	tcase_add_test(tc, odd_name);
	tcase_add_loop_test(tc, corners, 0, (int)NELEM(media));
	tcase_add_loop_test(tc, greys, 0, (int)NELEM(media));
	tcase_add_loop_test(tc, words, 0, (int)NELEM(media));
	tcase_add_loop_test(tc, refused, 0, (int)NELEM(bads));
	suite_add_tcase(s, tc);
	return s;
}
