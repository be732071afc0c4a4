/*
 * test_drivers_codes.c - the codes on a label still read after the label has
 * been through each language: by libdmtx and zbar, which have nothing of ours.
 *
 * The readers see the symbol and ten modules around it at twice its size.  Two
 * of the degradations are what optics do to every label, one is a hand that
 * holds the scanner askew, one is pale stock.
 */
#include "unit.h"

#include <string.h>

#include "bar_reader.h"
#include "base/str.h"
#include "chance.h"
#include "dm_reader.h"
#include "driver/lang.h"
#include "label_samples.h"
#include "labels/barcode.h"
#include "lang_readers.h"

#define OUT_MAX ((size_t)4 * 1024 * 1024)
#define DEADLINE_MS 1000 /* libdmtx needs about as long to give up */
#define AROUND 10        /* modules */

static const struct looks {
	const char *what;
	bool blur;
	int turn_deg, black, white;
} looks[] = {
	{ "clean", false, 0, 0, 0 },
	{ "blurred by one dot", true, 0, 0, 0 },
	{ "turned by 5 degrees", false, 5, 0, 0 },
	{ "turned by -5 degrees", true, -5, 0, 0 },
	{ "pale", false, 0, 130, 170 },
};

/* What came out of the printer: through the language and its reader. */
static struct bitmap *
printed(const struct lang *lang, const struct bitmap *bm,
    const struct label_media *m)
{
	struct lang_media media = { .dpi = m->dpi,
		.width_mm = m->width_mm,
		.height_mm = m->height_mm,
		.gap_mm = 3,
		.darkness_pct = 50 };
	struct seen_label seen;
	struct buf out;
	const char *why = NULL;
	struct err err = { 0 };

	buf_init(&out, OUT_MAX);
	ck_assert_msg(lang->encode(&out, bm, &media, &err) == RC_OK, "%s: %s",
	    lang->name, err.text);
	ck_assert_msg(
	    lang_reader_find(lang->name)->read(&seen, &why, out.data, out.len),
	    "%s: %s", lang->name, why);
	buf_fini(&out);
	return seen.picture;
}

static struct code_view
view_of(const struct looks *l, int x, int y, int w, int h, int around)
{
	struct code_view v = { .x = x - around,
		.y = y - around,
		.w = w + 2 * around,
		.h = h + 2 * around,
		.blur = l->blur,
		.turn_deg = l->turn_deg,
		.black = l->black,
		.white = l->white };

	return v;
}

struct square {
	struct bitmap *label;
	struct label_area area;
	char want[DM_TEXT_MAX];
};

/* A sample whose symbol is another one with every seed. */
static void
render(struct square *s, int kind, const struct label_media *m, uint64_t *seed)
{
	struct fonts *fonts = label_sample_fonts();
	struct label_facts facts = label_sample((enum label_kind)kind);
	struct err err = { 0 };
	char *p;

	for (p = facts.symbol + strlen("[91]"); *p != '\0'; p++)
		if (*p >= '0' && *p <= '9')
			*p = (char)('0' + chance_next(seed) % 10);
	ck_assert(str_fmt(
	    s->want, sizeof(s->want), "91%s", facts.symbol + strlen("[91]")));
	ck_assert_msg(label_render(&s->label, &facts, m, fonts, &err) == RC_OK,
	    "%s", err.text);
	ck_assert_int_eq(
	    label_symbol_area(&s->area, &facts, m, fonts, &err), RC_OK);
	fonts_free(fonts);
}

/*
 * A clean symbol is read at first sight.  A degraded one may take three frames
 * of a scanner that moves a little: of 60 symbols with modules of 3 dots,
 * blurred by one dot, libdmtx read 48 straight on, 59 turned by one degree and
 * all turned by three; with modules of 4 dots and more, all at first sight.
 */
static void
read_square(const struct square *s, const struct lang *lang,
    const struct looks *l, const struct label_media *m)
{
	static const int frames[] = { 0, 1, 3 };
	struct bitmap *bm = printed(lang, s->label, m);
	struct code_view v = view_of(l, s->area.x, s->area.y, s->area.side,
	    s->area.side, AROUND * s->area.module);
	size_t count = l == looks || s->area.module > 3 ? 1 : NELEM(frames), i;
	char text[DM_TEXT_MAX];
	bool gs1, found = false;

	for (i = 0; i < count && !found; i++) {
		v.turn_deg = l->turn_deg + frames[i];
		found = dm_read_seen(text, &gs1, bm, &v, DEADLINE_MS);
	}
	ck_assert_msg(found, "%s, %d x %d at %d dpi, %s: not read", lang->name,
	    m->width_mm, m->height_mm, m->dpi, l->what);
	ck_assert_str_eq(text, s->want);
	ck_assert(gs1);
	bitmap_free(bm);
}

/* Clean in every language; each degradation in two languages by chance, since
 * what comes out is the same dots. */
START_TEST(squares)
{
	struct label_media m = label_sample_media(_i % LABEL_SAMPLE_MEDIA);
	uint64_t seed = 20261125u + (unsigned)_i;
	struct square s;
	size_t count = 0, i, j;

	render(&s, _i / LABEL_SAMPLE_MEDIA % (LABEL_BATCH + 1), &m, &seed);
	for (; langs[count] != NULL; count++)
		read_square(&s, langs[count], &looks[0], &m);
	for (i = 1; i < NELEM(looks); i++)
		for (j = 0; j < 2; j++)
			read_square(&s, langs[chance_next(&seed) % count],
			    &looks[i], &m);
	bitmap_free(s.label);
}
END_TEST

/* Element strings and what a reader gives back, GS between two of them. */
static const struct key {
	const char *text, *want;
} keys_of[] = {
	{ "[91]1P7K2QX", "911P7K2QX" },
	{ "[10]260725[21]0042",
	    "10260725\x1d"
	    "210042" },
	{ "[17]260728[21]004217", "1726072821004217" },
};

/* A key for scanners that read bars only: picket, the bars along the feed, and
 * ladder, across it, which a dead dot of the head cannot cut through. */
static const struct bars {
	int dpi, module;
	bool ladder;
} bars[] = {
	{ 203, 2, false },
	{ 203, 2, true },
	{ 203, 3, false },
	{ 203, 3, true },
	{ 300, 3, false },
	{ 300, 3, true },
};

#define BAR_DOTS 60

static struct bitmap *
draw_bars(struct code_view *area, const struct bars *b, const char *text)
{
	struct bitmap *modules, *bm;
	int i, n, x = 40, y = 40;

	ck_assert_int_eq(
	    barcode_encode(&modules, BARCODE_KIND_GS1_128, text, NULL), RC_OK);
	n = modules->width * b->module;
	bm = bitmap_new(2 * x + (b->ladder ? BAR_DOTS : n),
	    2 * y + (b->ladder ? n : BAR_DOTS));
	for (i = 0; i < n; i++) {
		if (!bitmap_get(modules, i / b->module, 0))
			continue;
		if (b->ladder)
			bitmap_fill(bm, x, y + i, BAR_DOTS, 1, true);
		else
			bitmap_fill(bm, x + i, y, 1, BAR_DOTS, true);
	}
	bitmap_free(modules);
	memset(area, 0, sizeof(*area));
	area->x = x;
	area->y = y;
	area->w = b->ladder ? BAR_DOTS : n;
	area->h = b->ladder ? n : BAR_DOTS;
	return bm;
}

static void
read_bars(const struct bitmap *label, const struct code_view *area,
    const struct bars *b, const struct lang *lang, const struct looks *l,
    const char *want)
{
	struct label_media m = {
		.width_mm = 60, .height_mm = 40, .dpi = b->dpi
	};
	struct bitmap *bm = printed(lang, label, &m);
	struct code_view v =
	    view_of(l, area->x, area->y, area->w, area->h, AROUND * b->module);
	char text[BAR_TEXT_MAX];
	bool gs1;

	ck_assert_msg(bar_read(text, &gs1, bm, &v),
	    "%s, %s, %d dots a module, %s: not read", lang->name,
	    b->ladder ? "ladder" : "picket", b->module, l->what);
	ck_assert_str_eq(text, want);
	ck_assert(gs1);
	bitmap_free(bm);
}

START_TEST(keys)
{
	const struct bars *b = &bars[_i % (int)NELEM(bars)];
	const struct key *key = &keys_of[_i / (int)NELEM(bars)];
	const char *want = key->want;
	uint64_t seed = 7u + (unsigned)_i;
	struct code_view area;
	struct bitmap *label;
	size_t count = 0, i;

	label = draw_bars(&area, b, key->text);
	for (; langs[count] != NULL; count++)
		read_bars(label, &area, b, langs[count], &looks[0], want);
	for (i = 1; i < NELEM(looks); i++)
		read_bars(label, &area, b, langs[chance_next(&seed) % count],
		    &looks[i], want);
	bitmap_free(label);
}
END_TEST

/* A dot of the head that no longer burns leaves a white line along the feed on
 * every label: bars in ladder orientation still read. */
START_TEST(dead_dots)
{
	static const struct bars ladder = { 203, 2, true };
	struct code_view area, v;
	struct bitmap *label;
	char text[BAR_TEXT_MAX];
	bool gs1;
	int dots, x;

	for (dots = 1; dots <= 3; dots += 2)
		for (x = 0; x < BAR_DOTS; x += 9) {
			label = draw_bars(&area, &ladder, "[91]1P7K2QX");
			bitmap_fill(
			    label, area.x + x, 0, dots, label->height, false);
			v = view_of(&looks[1], area.x, area.y, area.w, area.h,
			    AROUND * ladder.module);
			ck_assert_msg(bar_read(text, &gs1, label, &v),
			    "%d dots dead at %d", dots, x);
			ck_assert_str_eq(text, "911P7K2QX");
			bitmap_free(label);
		}
}
END_TEST

/* The readers see what is there: with a white stripe through its code a label
 * is not read. */
START_TEST(readers_can_fail)
{
	struct label_media m = label_sample_media(0);
	uint64_t seed = 1;
	struct code_view v;
	struct square s;
	char text[DM_TEXT_MAX];
	bool gs1;

	render(&s, LABEL_PORTION, &m, &seed);
	v = view_of(&looks[0], s.area.x, s.area.y, s.area.side, s.area.side,
	    AROUND * s.area.module);
	bitmap_fill(s.label, s.area.x, s.area.y + s.area.side / 3, s.area.side,
	    s.area.side / 3, false);
	ck_assert(!dm_read_seen(text, &gs1, s.label, &v, DEADLINE_MS));
	bitmap_free(s.label);
	s.label = draw_bars(&v, &bars[0], "[91]1P0001QX");
	bitmap_fill(s.label, v.x + v.w / 2, v.y, 24, v.h, false);
	v = view_of(&looks[0], v.x, v.y, v.w, v.h, AROUND * 2);
	ck_assert(!bar_read(text, &gs1, s.label, &v));
	bitmap_free(s.label);
}
END_TEST

Suite *
suite_drivers_codes(void)
{
	Suite *s = suite_create("drivers_codes");
	TCase *tc = tcase_create("codes");

	tcase_set_timeout(tc, 30);
	tcase_add_loop_test(
	    tc, squares, 0, 2 * LABEL_SAMPLE_MEDIA * (LABEL_BATCH + 1));
	tcase_add_loop_test(tc, keys, 0, NELEM(keys_of) * NELEM(bars));
	tcase_add_test(tc, dead_dots);
	tcase_add_test(tc, readers_can_fail);
	suite_add_tcase(s, tc);
	return s;
}
