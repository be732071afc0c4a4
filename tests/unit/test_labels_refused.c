/* test_labels_refused.c - what is not printed, and what is said about it. */
#include "unit.h"

#include <stddef.h>
#include <string.h>

#include "label_samples.h"

/* One change to a label that would print; the text must name what is wrong. */
enum change {
	NONE,
	KIND,
	REPRINT_BELOW_0,
	REPRINT_1000,
	HOUR_24,
	DAY_IMPOSSIBLE,
	USE_BY_BEFORE_MADE,
	WIDTH_58,
	DPI_600,
	NOT_ENDED,
};

#define W10 "WWWWWWWWW "
#define LONG_TEXT                                                              \
	"many words that go on and on until no line of this label has any "    \
	"room left for them at all, and more"

static const struct bad {
	enum change change;
	int width_mm; /* 0: both */
	size_t offset;
	const char *value; /* at offset, when not NULL */
	const char *named;
	const char *why;
} bads[] = {
#define AT(member) offsetof(struct label_facts, member)
	{ 0, 0, AT(product), W10 W10 W10 W10 W10 W10 W10, "product",
	    "too wide" },
	{ 0, 0, AT(product), "Unbreakableunbreakableunbreakableunbreakable",
	    "product", "one word wider than the label" },
	{ 0, 60, AT(species), W10 W10 W10 W10 W10 W10 W10 W10 W10, "species",
	    "too wide" },
	{ 0, 0, AT(allergens), W10 W10 W10 W10 W10 W10 W10 W10 W10, "allergens",
	    "too wide" },
	{ 0, 60, AT(origin), LONG_TEXT LONG_TEXT, "origin",
	    "too long to hold" },
	{ 0, 60, AT(origin), W10 W10 W10 W10 W10 W10 W10 W10 W10, "origin",
	    "too wide" },
	{ 0, 60, AT(storage), W10 W10 W10 W10 W10 W10 W10, "storage",
	    "too wide" },
	{ 0, 50, AT(quantity), W10 W10 W10 W10, "quantity", "too wide" },
	{ 0, 0, AT(product), "", "product", "empty" },
	{ 0, 0, AT(product), "   ", "product", "blank" },
	{ 0, 0, AT(batch), "", "batch", "empty" },
	{ 0, 0, AT(code), "", "code", "a portion without its code" },
	{ 0, 0, AT(quantity), "", "quantity", "empty" },
	{ 0, 0, AT(allergens), "", "allergens", "silent about allergens" },
	{ 0, 0, AT(symbol), "", "symbol", "empty" },
	{ 0, 0, AT(symbol), "1P7K2QX2633007C2611272359K", "symbol",
	    "no identifier" },
	{ 0, 0, AT(symbol), "[91]P7K2QX 26330", "symbol", "blank" },
	{ 0, 0, AT(symbol), "[17]991332", "symbol", "zint's refusal" },
	{ 0, 0, AT(symbol),
	    "[91]1P7K2QX2633007C2611272359K1P7K2QX2633007C2611272359K"
	    "1P7K2QX2633007C26112723",
	    "symbol", "more modules than there is room for" },
	{ 0, 0, AT(product), "Cod \xe9\xb1\x88", "\xe9\xb1\x88",
	    "character the font lacks" },
	{ 0, 0, AT(product), "Cod \xe9\xb1\x88", "product",
	    "character the font lacks: field" },
	{ 0, 0, AT(origin), "\xe9\xb1\x88", "origin",
	    "also where the small label leaves the field out" },
	{ 0, 0, AT(species), "cre\xcc\x80me", "U+0300", "combining accent" },
	{ 0, 0, AT(species), "\xd7\x93\xd7\x92", "species",
	    "written right to left" },
	{ 0, 0, AT(by), "M\tK", "by", "control character" },
	{ 0, 0, AT(storage), "0 \xff C", "storage", "not UTF-8" },
	{ NOT_ENDED, 0, 0, NULL, "storage", "text without its end" },
	{ KIND, 0, 0, NULL, "kind", "unknown kind" },
	{ REPRINT_BELOW_0, 0, 0, NULL, "reprint", "below 0" },
	{ REPRINT_1000, 0, 0, NULL, "reprint", "above 999" },
	{ HOUR_24, 0, 0, NULL, "use by", "24 o'clock" },
	{ DAY_IMPOSSIBLE, 0, 0, NULL, "use by", "no day" },
	{ USE_BY_BEFORE_MADE, 0, 0, NULL, "use by", "before it was made" },
	{ WIDTH_58, 0, 0, NULL, "58 x", "unknown size" },
	{ DPI_600, 0, 0, NULL, "600 dpi", "unknown resolution" },
#undef AT
};

static void
apply(struct label_facts *f, struct label_media *m, const struct bad *bad)
{
	if (bad->value != NULL) {
		memcpy((char *)f + bad->offset, bad->value,
		    strlen(bad->value) + 1);
	}
	if (bad->change == NOT_ENDED)
		memset(f->storage, 'a', sizeof(f->storage));
	else if (bad->change == KIND)
		f->kind = (enum label_kind)3;
	else if (bad->change == REPRINT_BELOW_0)
		f->reprint = -1;
	else if (bad->change == REPRINT_1000)
		f->reprint = 1000;
	else if (bad->change == HOUR_24)
		f->use_by.hour = 24;
	else if (bad->change == DAY_IMPOSSIBLE)
		f->use_by.day = DAY_NONE;
	else if (bad->change == WIDTH_58)
		m->width_mm = 58;
	else if (bad->change == DPI_600)
		m->dpi = 600;
	else if (bad->change == USE_BY_BEFORE_MADE) {
		f->use_by = f->made;
		f->use_by.minute--;
	}
}

START_TEST(refused)
{
	const struct bad *bad = &bads[_i / LABEL_SAMPLE_MEDIA];
	struct label_media m = label_sample_media(_i % LABEL_SAMPLE_MEDIA);
	struct label_facts f = label_sample(LABEL_PORTION);
	struct fonts *fonts = label_sample_fonts();
	struct bitmap *out = (struct bitmap *)&out; /* must be reset */
	struct label_area area;
	struct err err = { 0 };

	if (bad->width_mm != 0 && bad->width_mm != m.width_mm)
		goto done;
	apply(&f, &m, bad);
	ck_assert_msg(label_render(&out, &f, &m, fonts, &err) == RC_INVALID,
	    "printed: %s", bad->why);
	ck_assert_ptr_null(out);
	ck_assert_msg(strstr(err.text, bad->named) != NULL,
	    "%s: \"%s\" does not name %s", bad->why, err.text, bad->named);
	ck_assert_int_eq(
	    label_symbol_area(&area, &f, &m, fonts, NULL), RC_INVALID);
done:
	fonts_free(fonts);
}
END_TEST

START_TEST(fonts_refused)
{
	struct fonts *f;
	struct err err = { 0 };

	ck_assert_int_eq(
	    fonts_open(&f, "no/such/font.ttf", "no/such/font.ttf", &err),
	    RC_FAILED);
	ck_assert_ptr_null(f);
	ck_assert_ptr_nonnull(strstr(err.text, "no/such/font.ttf"));
	err_clear(&err);
	ck_assert_int_eq(
	    fonts_open(&f, "Makefile", "Makefile", &err), RC_FAILED);
}
END_TEST

Suite *
suite_labels_refused(void)
{
	Suite *s = suite_create("labels_refused");
	TCase *tc = tcase_create("refused");

	tcase_add_loop_test(
	    tc, refused, 0, (int)NELEM(bads) * LABEL_SAMPLE_MEDIA);
	tcase_add_test(tc, fonts_refused);
	suite_add_tcase(s, tc);
	return s;
}
