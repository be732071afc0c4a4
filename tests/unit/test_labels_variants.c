/*
 * test_labels_variants.c - what frozen, thawed and held food says, and that
 * both codes of every label are read.
 */
#include "unit.h"

#include <string.h>

#include "base/str.h"
#include "core/label_code.h"
#include "label_look.h"
#include "label_samples.h"

#define KINDS 3
#define VARIANTS 4

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

static struct bitmap *
render(const struct label_facts *f, const struct label_media *m)
{
	struct bitmap *bm;
	struct err err = { 0 };

	ck_assert_msg(label_render(&bm, f, m, fonts, &err) == RC_OK,
	    "%dx%d mm, %d dpi, kind %d, variant %d: %s", m->width_mm,
	    m->height_mm, m->dpi, (int)f->kind, (int)f->variant, err.text);
	return bm;
}

/* The forms of what the symbol holds. */
static const char *const symbols[] = {
	NULL, /* the sample's own */
	"[01]09501101530003[17]261127[10]2633009C[21]001H7C",
	"[01]09501101530003[7003]2611271430[21]001H7C",
};

/* One label of every kind, variant and media: plain, marked, and with bars
 * where there is room; the forms of the symbol take turns. */
#define COMBINATIONS (KINDS * VARIANTS * LABEL_SAMPLE_MEDIA * 3)

static bool
combination(struct label_facts *f, struct label_media *m, int i)
{
	int mark = i % 3, form = (i / 3 + i / 12) % 3;

	*m = label_sample_media(i / 3 % LABEL_SAMPLE_MEDIA);
	*f = label_sample_as(
	    (enum label_kind)(i / 12 % KINDS), (enum label_variant)(i / 36));
	if (symbols[form] != NULL && f->kind != LABEL_BATCH)
		ck_assert(
		    str_copy(f->symbol, sizeof(f->symbol), symbols[form]));
	if (mark == 1) {
		f->training = true;
		f->reprint = 17;
	}
	if (mark == 2) {
		if (m->width_mm != 60)
			return false;
		label_code_key(
		    f->bars, f->kind == LABEL_BATCH ? "2633009C" : "001H7C");
		ck_assert_str_ne(f->bars, "");
	}
	return true;
}

/* Close up and sharp; in the whole label, as optics smear it. */
static void
read_symbol(const struct bitmap *bm, const struct label_area *a,
    const char *symbol, const char *why)
{
	int room = 5 * a->module;
	struct dm_view near = { a->x - room, a->y - room, a->side + 2 * room,
		a->side + 2 * room, false, 3000 };
	struct dm_view all = { 0, 0, bm->width, bm->height, true, 5000 };

	look_read(bm, &near, 2, symbol, why);
	look_read(bm, &all, 1, symbol, why);
}

START_TEST(every_code_is_read)
{
	struct label_facts f;
	struct label_media m;
	struct label_area a;
	struct label_bars b;
	struct bitmap *bm;
	char why[64];

	if (!combination(&f, &m, _i))
		return;
	str_fmt(why, sizeof(why), "%d mm %d dpi kind %d variant %d", m.width_mm,
	    m.dpi, (int)f.kind, (int)f.variant);
	bm = render(&f, &m);
	ck_assert_int_eq(label_symbol_area(&a, &f, &m, fonts, NULL), RC_OK);
	look_symbol(bm, &a, f.symbol);
	read_symbol(bm, &a, f.symbol, why);
	ck_assert_int_eq(label_bars_area(&b, &f, &m, fonts, NULL), RC_OK);
	ck_assert_int_eq(b.module == 0, f.bars[0] == '\0');
	if (b.module != 0) {
		/* 0.25 mm and no less */
		ck_assert_int_eq(b.module, m.dpi == 203 ? 2 : 3);
		ck_assert_int_ge(b.w * 254, 68 * m.dpi);
		look_bars(bm, &b, f.bars);
		look_read_bars(bm, f.bars, why);
	}
	bitmap_free(bm);
}
END_TEST

/*
 * A burnt-out element leaves a column of the head white, down the whole label.
 * Wherever it is, the bars are still read; a column anywhere in the symbol can
 * cost that one, which is what the bars are for.
 */
START_TEST(burnt_out_element)
{
	struct label_media m = label_sample_media(_i);
	struct label_facts f = label_sample(LABEL_PORTION);
	struct label_bars b;
	struct bitmap *bm;
	int x, wide;

	label_code_key(f.bars, "001H7C");
	for (wide = 1; wide <= 3; wide += 2) {
		ck_assert_int_eq(
		    label_bars_area(&b, &f, &m, fonts, NULL), RC_OK);
		for (x = 0; x + wide <= b.w; x += 9) {
			bm = render(&f, &m);
			bitmap_fill(bm, b.x + x, 0, wide, bm->height, false);
			look_read_bars(bm, f.bars, "white column");
			bitmap_free(bm);
		}
	}
}
END_TEST

/* Every portion or batch has bars that fit: the widest key there is. */
START_TEST(many_bars)
{
	struct label_media m = label_sample_media(_i % 2);
	struct label_facts f = label_sample(LABEL_PORTION);
	unsigned long long state = 128;
	char code[CODE_SIZE];
	struct label_bars b;
	struct bitmap *bm;
	int n, widest = 0;

	for (n = 0; n < 40; n++) {
		state = state * 6364136223846793005ull + 1;
		ck_assert_int_gt(
		    portion_code_make(
			code, 1 + (int64_t)(state >> 40) % PORTION_SERIAL_MAX),
		    0);
		label_code_key(f.bars, code);
		bm = render(&f, &m);
		ck_assert_int_eq(
		    label_bars_area(&b, &f, &m, fonts, NULL), RC_OK);
		look_bars(bm, &b, f.bars);
		if (n % 4 == 0)
			look_read_bars(bm, f.bars, f.bars);
		widest = b.h / b.module > widest ? b.h / b.module : widest;
		bitmap_free(bm);
	}
	/* 11 modules for start, FNC1, 7 pairs and check, 13 for stop */
	ck_assert_int_eq(widest, 11 * 10 + 13);
}
END_TEST

/* What a variant says; smallest em height in tenths of a millimetre. */
static const struct said {
	enum label_variant variant;
	enum label_kind kind;
	int width_mm; /* 0: both sizes */
	const char *s;
	enum font_face face;
	bool white;
	int tenths; /* 0: must not be there */
	const char *why;
} saids[] = {
	{ LABEL_FROZEN, LABEL_TRAY, 0, "FROZEN WED", FONT_TEXT, true, 25, "" },
	{ LABEL_FROZEN, LABEL_TRAY, 60, "25 NOV", FONT_TEXT, false, 42, "" },
	{ LABEL_FROZEN, LABEL_TRAY, 50, "25 NOV", FONT_TEXT, false, 32, "" },
	{ LABEL_FROZEN, LABEL_TRAY, 60, "2026", FONT_TEXT, false, 42,
	    "the year as large: it may be long ago" },
	{ LABEL_FROZEN, LABEL_TRAY, 0, "If kept frozen, use by", FONT_TEXT,
	    false, 20, "what the date depends on" },
	{ LABEL_FROZEN, LABEL_TRAY, 0, "Fri 26 Mar 2027 23:59", FONT_TEXT,
	    false, 20, "use by" },
	{ LABEL_FROZEN, LABEL_TRAY, 0, "USE BY", FONT_TEXT, true, 0,
	    "no bar over the later date" },
	{ LABEL_FROZEN, LABEL_TRAY, 0, "26 MAR", FONT_TEXT, false, 0,
	    "nor the date large" },
	{ LABEL_FROZEN, LABEL_TRAY, 60, "Keep frozen at -18 C or below",
	    FONT_TEXT, false, 20, "storage" },
	{ LABEL_FROZEN, LABEL_TRAY, 0, "Contains: Fish; milk", FONT_TEXT, false,
	    20, "allergens" },
	{ LABEL_THAWED, LABEL_PORTION, 0, "DEFROSTED", FONT_TEXT, false, 21,
	    "" },
	{ LABEL_THAWED, LABEL_PORTION, 0, "Thu 26 Nov 09:20", FONT_TEXT, false,
	    20, "when" },
	{ LABEL_THAWED, LABEL_PORTION, 0, "Do not freeze again", FONT_TEXT,
	    false, 20, "" },
	{ LABEL_THAWED, LABEL_PORTION, 0, "USE BY FRI", FONT_TEXT, true, 25,
	    "" },
	{ LABEL_THAWED, LABEL_PORTION, 60, "27 NOV", FONT_TEXT, false, 42, "" },
	{ LABEL_THAWED, LABEL_PORTION, 50, "27 NOV", FONT_TEXT, false, 32, "" },
	{ LABEL_THAWED, LABEL_PORTION, 0, "23:59", FONT_TEXT, false, 24, "" },
	{ LABEL_THAWED, LABEL_PORTION, 0, "Contains: Fish; milk", FONT_TEXT,
	    false, 20, "allergens" },
	{ LABEL_THAWED, LABEL_BATCH, 60, "Atlantic cod, Gadus morhua",
	    FONT_TEXT, false, 20, "species" },
	{ LABEL_THAWED, LABEL_BATCH, 60, "Norwegian Sea (27.2.a)", FONT_TEXT,
	    false, 20, "origin" },
	{ LABEL_HOLD, LABEL_PORTION, 0, "ON HOLD", FONT_TEXT, true, 22, "" },
	{ LABEL_HOLD, LABEL_PORTION, 0, "DO NOT USE", FONT_TEXT, true, 22, "" },
	{ LABEL_HOLD, LABEL_PORTION, 0, "Reason: Fridge at 9 C", FONT_TEXT,
	    false, 20, "reason" },
	{ LABEL_HOLD, LABEL_PORTION, 0, "Held Thu 26 Nov 15:40 by JB",
	    FONT_TEXT, false, 20, "who and when" },
	{ LABEL_HOLD, LABEL_PORTION, 0, "Contains: Fish; milk", FONT_TEXT,
	    false, 20, "allergens" },
	{ LABEL_HOLD, LABEL_PORTION, 0, "P7K2QX", FONT_CODE, false, 22,
	    "code" },
	{ LABEL_HOLD, LABEL_PORTION, 0, "26330-09C", FONT_CODE, false, 20,
	    "batch" },
	{ LABEL_HOLD, LABEL_PORTION, 0, "USE BY", FONT_TEXT, true, 0,
	    "no use-by" },
	{ LABEL_HOLD, LABEL_PORTION, 0, "27 NOV", FONT_TEXT, false, 0,
	    "no day" },
	{ LABEL_HOLD, LABEL_PORTION, 0, "23:59", FONT_TEXT, false, 0,
	    "no time" },
	{ LABEL_HOLD, LABEL_PORTION, 0, "27 Nov", FONT_TEXT, false, 0,
	    "nor small" },
	{ LABEL_HOLD, LABEL_PORTION, 0, "Prepared", FONT_TEXT, false, 0,
	    "nor when it was made" },
	{ LABEL_HOLD, LABEL_BATCH, 60, "Norwegian Sea (27.2.a)", FONT_TEXT,
	    false, 20, "origin" },
	{ LABEL_USE_BY, LABEL_PORTION, 0, "DEFROSTED", FONT_TEXT, false, 0,
	    "not said without reason" },
	{ LABEL_USE_BY, LABEL_PORTION, 0, "Roast cod loin, defrosted",
	    FONT_TEXT, false, 0, "" },
};

START_TEST(says)
{
	const struct said *s = &saids[_i / LABEL_SAMPLE_MEDIA];
	struct label_media m = label_sample_media(_i % LABEL_SAMPLE_MEDIA);
	struct label_facts f = label_sample_as(s->kind, s->variant);
	struct bitmap *bm;
	int px;

	if (s->width_mm != 0 && s->width_mm != m.width_mm)
		return;
	bm = render(&f, &m);
	px = look_text(fonts, bm, s->face, s->s, s->white);
	if (s->tenths == 0)
		ck_assert_msg(px == 0, "\"%s\" stands there: %s", s->s, s->why);
	else
		ck_assert_msg((px * 254 + m.dpi / 2) / m.dpi >= s->tenths,
		    "%s: \"%s\" is %d dots at %d dpi", s->why, s->s, px, m.dpi);
	bitmap_free(bm);
}
END_TEST

/* Regulation (EU) 1169/2011, Annex VI part A, point 2: "defrosted" goes with
 * the name; a thawed label says it in its frame. */
START_TEST(defrosted_with_the_name)
{
	struct label_media m = label_sample_media(_i % LABEL_SAMPLE_MEDIA);
	enum label_variant v = (enum label_variant)(_i / LABEL_SAMPLE_MEDIA);
	struct label_facts f = label_sample_as(LABEL_BATCH, v);
	struct bitmap *bm;
	int beside;

	f.defrosted = true;
	bm = render(&f, &m);
	beside =
	    look_text(fonts, bm, FONT_TEXT, "Roast cod loin, defrosted", false);
	if (v == LABEL_THAWED) {
		ck_assert_int_eq(beside, 0);
		ck_assert_int_gt(
		    look_text(fonts, bm, FONT_TEXT, "DEFROSTED", false), 0);
	} else {
		ck_assert_int_ge(beside, 16);
	}
	bitmap_free(bm);
}
END_TEST

/* Both marks on every variant. */
START_TEST(marks)
{
	struct label_media m = label_sample_media(_i % LABEL_SAMPLE_MEDIA);
	struct label_facts f = label_sample_as(
	    LABEL_PORTION, (enum label_variant)(_i / LABEL_SAMPLE_MEDIA));
	struct bitmap *bm;

	f.training = true;
	f.reprint = 999;
	bm = render(&f, &m);
	ck_assert_int_ge(
	    look_text(fonts, bm, FONT_TEXT, "TRAINING, NOT FOR SERVICE", true),
	    16);
	ck_assert_int_ge(
	    look_text(fonts, bm, FONT_TEXT, "REPRINT 999", false), 16);
	bitmap_free(bm);
	f.training = false;
	f.reprint = 0;
	bm = render(&f, &m);
	ck_assert_int_eq(
	    look_text(fonts, bm, FONT_TEXT, "TRAINING, NOT FOR SERVICE", true),
	    0);
	ck_assert_int_eq(look_text(fonts, bm, FONT_TEXT, "REPRINT", false), 0);
	bitmap_free(bm);
}
END_TEST

Suite *
suite_labels_variants(void)
{
	Suite *s = suite_create("labels_variants");
	TCase *tc = tcase_create("variants");
	int media = LABEL_SAMPLE_MEDIA;

	tcase_add_unchecked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 30);
	tcase_add_loop_test(tc, every_code_is_read, 0, COMBINATIONS);
	tcase_add_loop_test(tc, burnt_out_element, 0, 2);
	tcase_add_loop_test(tc, many_bars, 0, 2);
	tcase_add_loop_test(tc, says, 0, (int)NELEM(saids) * media);
	tcase_add_loop_test(tc, defrosted_with_the_name, 0, VARIANTS * media);
	tcase_add_loop_test(tc, marks, 0, VARIANTS * media);
	suite_add_tcase(s, tc);
	return s;
}
