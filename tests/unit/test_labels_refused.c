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

/* What is missing or cannot be on a label of a state; `base` would print. */
enum twist {
	NO_REASON,
	BLANK_REASON,
	NO_HOLDER,
	HELD_NEVER,
	FROZEN_NEVER,
	FROZEN_AFTER_USE_BY,
	THAWED_BEFORE_FROZEN,
	THAWED_AFTER_USE_BY,
	THAWED_NEVER,
	THAWED_FROZEN_NEVER,
	LONG_REASON,
	VARIANT_4,
	BARS_WRONG_FORM,
	BARS_TOO_LONG,
	BARS_BLANK,
};

static const struct {
	enum twist twist;
	enum label_variant base;
	const char *named;
} states[] = {
	{ NO_REASON, LABEL_HOLD, "reason" },
	{ BLANK_REASON, LABEL_HOLD, "reason is empty" },
	{ NO_HOLDER, LABEL_HOLD, "held_by" },
	{ HELD_NEVER, LABEL_HOLD, "held is no possible date" },
	{ LONG_REASON, LABEL_HOLD, "reason: does not fit" },
	{ FROZEN_NEVER, LABEL_FROZEN, "frozen is no possible date" },
	{ FROZEN_AFTER_USE_BY, LABEL_FROZEN, "use by is earlier" },
	{ THAWED_BEFORE_FROZEN, LABEL_THAWED, "thawed is earlier" },
	{ THAWED_AFTER_USE_BY, LABEL_THAWED, "use by is earlier" },
	{ THAWED_NEVER, LABEL_THAWED, "thawed is no possible date" },
	{ THAWED_FROZEN_NEVER, LABEL_THAWED, "frozen is no possible date" },
	{ VARIANT_4, LABEL_USE_BY, "unknown variant" },
	{ BARS_WRONG_FORM, LABEL_USE_BY, "symbol text" },
	{ BARS_TOO_LONG, LABEL_USE_BY, "longer than the label" },
	{ BARS_BLANK, LABEL_USE_BY, "symbol text" },
};

static void
twist(struct label_facts *f, enum twist t)
{
	switch (t) {
	case NO_REASON:
		f->reason[0] = '\0';
		break;
	case BLANK_REASON:
		memcpy(f->reason, "   ", 4);
		break;
	case NO_HOLDER:
		f->held_by[0] = '\0';
		break;
	case HELD_NEVER:
		f->held.day = DAY_NONE;
		break;
	case FROZEN_NEVER:
	case THAWED_FROZEN_NEVER:
		f->frozen.day = DAY_NONE;
		break;
	case FROZEN_AFTER_USE_BY:
		f->frozen.day = f->use_by.day + 1;
		break;
	case THAWED_BEFORE_FROZEN:
		f->thawed = f->frozen;
		f->thawed.minute--;
		break;
	case THAWED_AFTER_USE_BY:
		f->thawed.day = f->use_by.day + 1;
		break;
	case THAWED_NEVER:
		f->thawed.hour = 24;
		break;
	case LONG_REASON:
		memset(f->reason, 'W', 199);
		f->reason[199] = '\0';
		break;
	case VARIANT_4:
		f->variant = (enum label_variant)4;
		break;
	case BARS_WRONG_FORM:
		memcpy(f->bars, "921100000801", 13);
		break;
	case BARS_TOO_LONG:
		/* The bars alone would fit, their quiet zones do not. */
		memcpy(f->bars, "[92]1234567890123456", 21);
		break;
	case BARS_BLANK:
		memcpy(f->bars, "[92]12 34", 10);
		break;
	}
}

START_TEST(state_refused)
{
	int media = _i % LABEL_SAMPLE_MEDIA, row = _i / LABEL_SAMPLE_MEDIA;
	struct label_media m = label_sample_media(media);
	struct label_facts f = label_sample_as(LABEL_PORTION, states[row].base);
	struct fonts *fonts = label_sample_fonts();
	struct bitmap *out;
	struct err err = { 0 };

	f.made.minute = f.frozen.minute = f.thawed.minute = 30;
	twist(&f, states[row].twist);
	ck_assert_int_eq(label_render(&out, &f, &m, fonts, &err), RC_INVALID);
	ck_assert_ptr_null(out);
	/* The small label refuses bars before it looks at them. */
	ck_assert_msg(strstr(err.text,
			  m.width_mm == 50 && f.bars[0] != '\0'
			      ? "no room for a second code"
			      : states[row].named) != NULL,
	    "%s: %s", states[row].named, err.text);
	fonts_free(fonts);
}
END_TEST

/* What is another state's is not looked at. */
START_TEST(others_fields)
{
	struct label_media m = label_sample_media(_i);
	struct label_facts f = label_sample(LABEL_PORTION);
	struct fonts *fonts = label_sample_fonts();
	struct bitmap *out;
	struct err err = { 0 };

	memset(f.reason, '\t', sizeof(f.reason));
	memset(f.held_by, 'x', sizeof(f.held_by));
	f.frozen.day = f.thawed.day = f.held.day = DAY_NONE;
	ck_assert_msg(
	    label_render(&out, &f, &m, fonts, &err) == RC_OK, "%s", err.text);
	bitmap_free(out);
	fonts_free(fonts);
}
END_TEST

/* A hold may come after the use-by, which is not printed then. */
START_TEST(held_when_expired)
{
	struct label_media m = label_sample_media(_i);
	struct label_facts f = label_sample_as(LABEL_TRAY, LABEL_HOLD);
	struct fonts *fonts = label_sample_fonts();
	struct bitmap *out;

	f.held.day = f.use_by.day + 9;
	ck_assert_int_eq(label_render(&out, &f, &m, fonts, NULL), RC_OK);
	bitmap_free(out);
	fonts_free(fonts);
}
END_TEST

/* The file is named, the character, and where it was met. */
START_TEST(font_lacks)
{
	struct fonts *fonts = label_sample_fonts();
	struct err err = { 0 };

	ck_assert_int_eq(font_check(fonts, FONT_TEXT,
			     "R\xc3\xb8"
			     "dsp\xc3\xa6tte \xc5\xa0",
			     &err),
	    RC_OK);
	ck_assert_int_eq(font_check(fonts, FONT_TEXT, "", &err), RC_OK);
	ck_assert_int_eq(
	    font_check(fonts, FONT_CODE, "Cod \xe9\xb1\x88 pie", &err),
	    RC_INVALID);
	ck_assert_ptr_nonnull(strstr(err.text, "DejaVuSansMono-Bold.ttf"));
	ck_assert_ptr_nonnull(strstr(err.text, "'\xe9\xb1\x88' (U+9C48)"));
	ck_assert_ptr_nonnull(strstr(err.text, "Cod \xe9\xb1\x88 pie"));
	fonts_free(fonts);
}
END_TEST

/* Every size of a letter, over and over, is the one a new font gives. */
START_TEST(cache_keeps_sizes_apart)
{
	struct fonts *used = label_sample_fonts(), *fresh;
	struct text t = { "Qj", FONT_TEXT, 0, false };
	struct text_extent a, b;
	int round;

	for (round = 0; round < 2; round++)
		for (t.px = FONT_PX_MIN; t.px <= 300; t.px++) {
			t.face = t.px % 2 == 0 ? FONT_TEXT : FONT_CODE;
			fresh = label_sample_fonts();
			ck_assert_int_eq(
			    font_measure(&a, used, &t, NULL), RC_OK);
			ck_assert_int_eq(
			    font_measure(&b, fresh, &t, NULL), RC_OK);
			ck_assert_int_eq(memcmp(&a, &b, sizeof(a)), 0);
			fonts_free(fresh);
		}
	fonts_free(used);
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
	tcase_add_loop_test(
	    tc, state_refused, 0, (int)NELEM(states) * LABEL_SAMPLE_MEDIA);
	tcase_add_loop_test(tc, others_fields, 0, LABEL_SAMPLE_MEDIA);
	tcase_add_loop_test(tc, held_when_expired, 0, LABEL_SAMPLE_MEDIA);
	tcase_add_test(tc, font_lacks);
	tcase_add_test(tc, cache_keeps_sizes_apart);
	suite_add_tcase(s, tc);
	return s;
}
