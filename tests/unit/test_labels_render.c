/* test_labels_render.c - what is on a label can be read, by eye and reader. */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/day.h"
#include "base/digest.h"
#include "base/mem.h"
#include "base/str.h"
#include "dm_reader.h"
#include "label_look.h"
#include "label_samples.h"
#include "labels/barcode.h"

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

/* Texts that replace the sample's; NULL leaves it. */
static const struct content {
	const char *product, *species, *allergens, *origin, *quantity, *storage;
	const char *by;
	int year, month, day, hour, minute; /* use by; year 0 leaves it */
	bool training;
	int reprint;
	bool large_only; /* meant for the 60 x 40 mm label */
	const char *why;
} contents[] = {
	{ .why = "plain" },
	{ .training = true, .why = "training" },
	{ .reprint = 1, .why = "first reprint" },
	{ .training = true, .reprint = 999, .why = "training and reprint 999" },
	{ .product = "Ray",
	    .species = "",
	    .origin = "",
	    .storage = "",
	    .by = "",
	    .why = "as little as there can be" },
	{ .product = "Halibut supreme, brown shrimp butter",
	    .species = "Atlantic halibut, Hippoglossus hippoglossus",
	    .allergens = "Fish; crustaceans; milk; celery; sulphites",
	    .quantity = "12 portions, 1.920 kg",
	    .why = "long everything" },
	{ .product = "Lobster and langoustine thermidor with tarragon",
	    .species = "European lobster, Homarus gammarus",
	    .allergens = "Crustaceans; fish; milk; eggs; mustard; celery; "
			 "gluten; sulphites",
	    .origin = "Caught in North-East Atlantic, Irish Sea (27.7.a), pots",
	    .storage = "Keep at 0 to 2 C",
	    .large_only = true,
	    .why = "as much as a kitchen would write" },
	{ .product = "Gr\xc3\xa4tin \xc3\xa0 la cr\xc3\xa8me, \xc3\x85l og "
		     "R\xc3\xb8"
		     "dsp\xc3\xa6tte",
	    .species = "\xc3\x89glefin, Melanogrammus aeglefinus",
	    .by = "J\xc3\xb6rg",
	    .why = "umlauts and accents on capitals" },
	{ .product = "WWWWW MMMMM",
	    .by = "WWWWWWWW",
	    .year = 2027,
	    .month = 3,
	    .day = 31,
	    .hour = 20,
	    .minute = 0,
	    .why = "widest letters" },
	{ .product = "jjj",
	    .year = 2028,
	    .month = 2,
	    .day = 29,
	    .why = "tails, and a leap day" },
};

#define COMBINATIONS (NELEM(contents) * LABEL_SAMPLE_MEDIA * 3)

static void
put(char *dst, size_t size, const char *src)
{
	if (src != NULL)
		ck_assert(str_copy(dst, size, src));
}

static struct label_facts
facts_of(const struct content *c, enum label_kind kind)
{
	struct label_facts f = label_sample(kind);

	put(f.product, sizeof(f.product), c->product);
	put(f.species, sizeof(f.species), c->species);
	put(f.allergens, sizeof(f.allergens), c->allergens);
	put(f.origin, sizeof(f.origin), c->origin);
	put(f.quantity, sizeof(f.quantity), c->quantity);
	put(f.storage, sizeof(f.storage), c->storage);
	put(f.by, sizeof(f.by), c->by);
	if (c->year != 0) {
		ck_assert(
		    day_from_civil(&f.use_by.day, c->year, c->month, c->day));
		f.use_by.hour = c->hour;
		f.use_by.minute = c->minute;
	}
	f.training = c->training;
	f.reprint = c->reprint;
	return f;
}

static struct bitmap *
render(const struct label_facts *f, const struct label_media *m)
{
	struct bitmap *bm;
	struct err err = { 0 };

	ck_assert_msg(label_render(&bm, f, m, fonts, &err) == RC_OK,
	    "%dx%d mm: %s", m->width_mm, m->height_mm, err.text);
	return bm;
}

/* Contents, media and kind of a loop index. */
static bool
combination(struct label_facts *f, struct label_media *m,
    const struct content **c, int index)
{
	*c = &contents[index / (LABEL_SAMPLE_MEDIA * 3)];
	*m = label_sample_media(index / 3 % LABEL_SAMPLE_MEDIA);
	*f = facts_of(*c, (enum label_kind)(index % 3));
	return !(*c)->large_only || m->width_mm == 60;
}

START_TEST(geometry)
{
	const struct content *c;
	struct label_facts f;
	struct label_media m;
	struct label_area area;
	struct bitmap *bm;
	int margin;

	if (!combination(&f, &m, &c, _i))
		return;
	bm = render(&f, &m);
	ck_assert_int_eq(bm->width, label_mm_to_dots(m.width_mm, m.dpi));
	ck_assert_int_eq(bm->height, label_mm_to_dots(m.height_mm, m.dpi));
	/* 1.5 mm: 11.99 dots at 203 dpi, 17.7 at 300 */
	margin = m.dpi == 203 ? 12 : 18;
	look_blank(bm, 0, 0, bm->width, margin, "top margin");
	look_blank(
	    bm, 0, bm->height - margin, bm->width, margin, "bottom margin");
	look_blank(bm, 0, 0, margin, bm->height, "left margin");
	look_blank(
	    bm, bm->width - margin, 0, margin, bm->height, "right margin");
	ck_assert_int_eq(label_symbol_area(&area, &f, &m, fonts, NULL), RC_OK);
	/* 0.5 and 0.375 mm, or the next whole dots */
	if (m.width_mm == 60)
		ck_assert_int_eq(area.module, m.dpi == 203 ? 4 : 6);
	else
		ck_assert_int_eq(area.module, m.dpi == 203 ? 3 : 5);
	look_symbol(bm, &area, f.symbol);
	bitmap_free(bm);
}
END_TEST

static struct dm_view
view_symbol(const struct label_facts *f, const struct label_media *m)
{
	struct dm_view view = { .deadline_ms = 2000 };
	struct label_area a;

	ck_assert_int_eq(label_symbol_area(&a, f, m, fonts, NULL), RC_OK);
	view.x = a.x - 5 * a.module;
	view.y = a.y - 5 * a.module;
	view.w = view.h = a.side + 10 * a.module;
	return view;
}

/* Every combination close up; every kind on every media, and every content on
 * every media, as a whole label. */
START_TEST(readable)
{
	const struct content *c;
	struct label_facts f;
	struct label_media m;
	struct bitmap *bm;
	struct dm_view view;

	if (!combination(&f, &m, &c, _i))
		return;
	bm = render(&f, &m);
	view = view_symbol(&f, &m);
	look_read(bm, &view, 2, f.symbol, c->why);
	if (c == contents || (c - contents) % 3 == (int)f.kind)
		look_read_label(bm, f.symbol, c->why);
	bitmap_free(bm);
}
END_TEST

/* Many symbols close up, some of them as whole labels. */
START_TEST(many_symbols)
{
	static const char digits[] = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
	struct label_media m = label_sample_media(_i);
	struct label_facts f = label_sample(LABEL_TRAY);
	unsigned long long state = 91;
	struct dm_view view;
	struct bitmap *bm;
	size_t i, n;

	for (n = 0; n < 40; n++) {
		for (i = 5; i < 19; i++) {
			state = state * 6364136223846793005ull + 1;
			f.symbol[i] = digits[state >> 59];
		}
		bm = render(&f, &m);
		view = view_symbol(&f, &m);
		look_read(bm, &view, 2, f.symbol, f.symbol);
		if (n % 8 == 0)
			look_read_label(bm, f.symbol, f.symbol);
		bitmap_free(bm);
	}
}
END_TEST

/* What each kind of label says on each size; smallest em height in tenths of
 * a millimetre. */
static const struct said {
	enum label_kind kind;
	int width_mm; /* 0: both sizes */
	const char *s;
	enum font_face face;
	bool white;
	int tenths; /* 0: must not be there */
	const char *why;
} saids[] = {
	{ LABEL_PORTION, 0, "USE BY FRI", FONT_TEXT, true, 25, "use by" },
	{ LABEL_PORTION, 60, "27 NOV", FONT_TEXT, false, 65, "52 dots" },
	{ LABEL_PORTION, 50, "27 NOV", FONT_TEXT, false, 47, "38 dots" },
	{ LABEL_PORTION, 0, "2026", FONT_TEXT, false, 20, "year" },
	{ LABEL_PORTION, 0, "23:59", FONT_TEXT, false, 34, "time" },
	{ LABEL_PORTION, 0, "Roast cod loin", FONT_TEXT, false, 28, "product" },
	{ LABEL_PORTION, 0, "Contains: Fish; milk", FONT_TEXT, false, 20,
	    "allergens" },
	{ LABEL_PORTION, 0, "P7K2QX", FONT_CODE, false, 22, "code" },
	{ LABEL_PORTION, 0, "26330-09C", FONT_CODE, false, 20, "batch" },
	{ LABEL_PORTION, 0, "1 portion, 160 g", FONT_TEXT, false, 20,
	    "quantity" },
	{ LABEL_PORTION, 60, "Atlantic cod, Gadus morhua", FONT_TEXT, false, 20,
	    "species" },
	{ LABEL_PORTION, 60, "Prepared Wed 25 Nov 10:05 by MK", FONT_TEXT,
	    false, 20, "prepared" },
	{ LABEL_PORTION, 60, "Keep at 0 to 2 C", FONT_TEXT, false, 20,
	    "storage" },
	{ LABEL_PORTION, 60, "Norwegian Sea", FONT_TEXT, false, 20, "origin" },
	{ LABEL_PORTION, 50, "Keep at", FONT_TEXT, false, 0,
	    "no storage on the small label" },
	{ LABEL_PORTION, 50, "Norwegian", FONT_TEXT, false, 0,
	    "no origin on the small label" },
	{ LABEL_PORTION, 0, "TRAINING", FONT_TEXT, true, 0, "no training" },
	{ LABEL_PORTION, 0, "REPRINT", FONT_TEXT, false, 0, "no reprint" },
	{ LABEL_BATCH, 0, "26330-09C", FONT_CODE, false, 22, "batch" },
	{ LABEL_BATCH, 60, "Received Wed 25 Nov 10:05 by MK", FONT_TEXT, false,
	    20, "received" },
	{ LABEL_BATCH, 60, "Norwegian Sea (27.2.a)", FONT_TEXT, false, 20,
	    "origin" },
	{ LABEL_BATCH, 0, "Prepared", FONT_TEXT, false, 0, "not prepared" },
};

START_TEST(says)
{
	const struct said *s = &saids[_i / LABEL_SAMPLE_MEDIA];
	struct label_media m = label_sample_media(_i % LABEL_SAMPLE_MEDIA);
	struct label_facts f = label_sample(s->kind);
	struct bitmap *bm;
	int px;

	if (s->width_mm != 0 && s->width_mm != m.width_mm)
		return;
	bm = render(&f, &m);
	px = look_text(fonts, bm, s->face, s->s, s->white);
	if (s->tenths == 0)
		ck_assert_msg(px == 0, "%s", s->why);
	else
		ck_assert_msg((px * 254 + m.dpi / 2) / m.dpi >= s->tenths,
		    "%s: \"%s\" is %d dots at %d dpi", s->why, s->s, px, m.dpi);
	bitmap_free(bm);
}
END_TEST

START_TEST(marks)
{
	struct label_media m = label_sample_media(_i);
	struct label_facts f = label_sample(LABEL_PORTION);
	struct bitmap *plain, *bm;

	plain = render(&f, &m);
	f.training = true;
	bm = render(&f, &m);
	ck_assert_int_ge(
	    look_text(fonts, bm, FONT_TEXT, "TRAINING, NOT FOR SERVICE", true),
	    16);
	ck_assert_int_ne(
	    memcmp(bm->bits, plain->bits, bm->stride * (size_t)bm->height), 0);
	bitmap_free(bm);
	f.training = false;
	f.reprint = 1;
	bm = render(&f, &m);
	ck_assert_int_ge(
	    look_text(fonts, bm, FONT_TEXT, "REPRINT 1", false), 16);
	bitmap_free(bm);
	f.reprint = 12;
	f.training = true;
	bm = render(&f, &m);
	ck_assert_int_ge(
	    look_text(fonts, bm, FONT_TEXT, "REPRINT 12", false), 16);
	ck_assert_int_ge(
	    look_text(fonts, bm, FONT_TEXT, "TRAINING, NOT FOR SERVICE", true),
	    16);
	bitmap_free(bm);
	bitmap_free(plain);
}
END_TEST

/* A reprint must come out wherever the first print did, so its mark takes no
 * room: everything but the chip is where it was. */
START_TEST(reprint_takes_no_room)
{
	const struct content *c;
	struct label_facts f;
	struct label_media m;
	struct label_area a, b;
	struct bitmap *first, *again;

	if (!combination(&f, &m, &c, _i))
		return;
	f.reprint = 0;
	first = render(&f, &m);
	ck_assert_int_eq(label_symbol_area(&a, &f, &m, fonts, NULL), RC_OK);
	f.reprint = 999;
	again = render(&f, &m);
	ck_assert_int_eq(label_symbol_area(&b, &f, &m, fonts, NULL), RC_OK);
	ck_assert_int_eq(a.x, b.x);
	ck_assert_int_eq(a.y, b.y);
	/* The lower half holds no bar. */
	ck_assert_int_eq(
	    memcmp(first->bits + first->stride * (size_t)first->height * 3 / 5,
		again->bits + first->stride * (size_t)first->height * 3 / 5,
		first->stride * (size_t)(first->height * 2 / 5)),
	    0);
	bitmap_free(first);
	bitmap_free(again);
}
END_TEST

/* The longest mark beside every weekday, where both are largest. */
START_TEST(reprint_clear_of_words)
{
	struct label_media m = label_sample_media(_i / 7);
	struct label_facts f = facts_of(&contents[4], LABEL_PORTION);
	struct bitmap *bm;
	char words[16];

	f.reprint = 999;
	f.use_by.day += _i % 7;
	str_fmt(words, sizeof(words), "USE BY %s",
	    weekday_short(day_weekday(f.use_by.day)));
	str_upper(words);
	bm = render(&f, &m);
	ck_assert_msg(
	    look_text(fonts, bm, FONT_TEXT, words, true) > 0, "%s", words);
	ck_assert_int_gt(
	    look_text(fonts, bm, FONT_TEXT, "REPRINT 999", false), 0);
	bitmap_free(bm);
}
END_TEST

/* Every weekday, month and width of day fits at full size, all year. */
START_TEST(every_date)
{
	struct label_media m = label_sample_media(_i);
	struct label_facts f = label_sample(LABEL_BATCH);
	struct err err = { 0 };
	struct bitmap *bm;
	char words[16];
	struct civil c;
	int d;

	for (d = 0; d < 366; d += 5) {
		f.use_by.day = f.made.day + d;
		f.use_by.hour = d % 24;
		f.use_by.minute = 5 + d % 50;
		f.use_by.hour = d == 0 ? 23 : f.use_by.hour;
		ck_assert_msg(label_render(&bm, &f, &m, fonts, &err) == RC_OK,
		    "day %d: %s", d, err.text);
		c = day_civil(f.use_by.day);
		str_fmt(
		    words, sizeof(words), "%d %s", c.day, month_short(c.month));
		str_upper(words);
		if (d % 60 == 0)
			ck_assert_msg(
			    look_text(fonts, bm, FONT_TEXT, words, false) >=
				(m.width_mm == 60 ? 52 : 38),
			    "%s", words);
		bitmap_free(bm);
	}
}
END_TEST

START_TEST(same_twice)
{
	struct label_media m = label_sample_media(_i);
	struct label_facts f = label_sample(LABEL_TRAY);
	char a[DIGEST_HEX_MAX], b[DIGEST_HEX_MAX];
	struct bitmap *bm;

	bm = render(&f, &m);
	digest_hex(a, bm->bits, bm->stride * (size_t)bm->height);
	bitmap_free(bm);
	bm = render(&f, &m);
	digest_hex(b, bm->bits, bm->stride * (size_t)bm->height);
	bitmap_free(bm);
	ck_assert_str_eq(a, b);
}
END_TEST

START_TEST(dots_of_mm)
{
	/* 25.4 mm to the inch, rounded down */
	ck_assert_int_eq(label_mm_to_dots(60, 203), 479);
	ck_assert_int_eq(label_mm_to_dots(40, 203), 319);
	ck_assert_int_eq(label_mm_to_dots(50, 300), 590);
	ck_assert_int_eq(label_mm_to_dots(25, 300), 295);
}
END_TEST

Suite *
suite_labels_render(void)
{
	Suite *s = suite_create("labels_render");
	TCase *tc = tcase_create("render");
	int media = LABEL_SAMPLE_MEDIA;

	tcase_add_unchecked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 20);
	tcase_add_loop_test(tc, geometry, 0, COMBINATIONS);
	tcase_add_loop_test(tc, readable, 0, COMBINATIONS);
	tcase_add_loop_test(tc, many_symbols, 0, media);
	tcase_add_loop_test(tc, says, 0, (int)NELEM(saids) * media);
	tcase_add_loop_test(tc, marks, 0, media);
	tcase_add_loop_test(tc, reprint_takes_no_room, 0, COMBINATIONS);
	tcase_add_loop_test(tc, reprint_clear_of_words, 0, media * 7);
	tcase_add_loop_test(tc, every_date, 0, media);
	tcase_add_loop_test(tc, same_twice, 0, media);
	tcase_add_test(tc, dots_of_mm);
	suite_add_tcase(s, tc);
	return s;
}
