/*
 * test_labels_prop.c - any facts at all: a label is refused naming a field, or
 * holds every field whole, in its place, at a size that can be read.
 */
#include "unit.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "core/label_code.h"
#include "label_look.h"
#include "label_samples.h"
#include "src/labels/layout.h"

#define SEEDS 16
#define ROUNDS 60

static struct fonts *fonts;
static uint64_t state;

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

static int
any(int below)
{
	state = state * 6364136223846793005u + 1442695040888963407u;
	return (int)((state >> 33) % (uint64_t)below);
}

/* Letters from the narrowest to the widest, accents above and tails below. */
static const char *const letters[] = { "i", "l", ".", "1", "a", "e", "n", "o",
	"s", "t", "W", "M", "m", "@", "g", "j", "Q", "\xc3\x85", "\xc3\x89",
	"\xc3\xb8", "\xc3\x9f", "\xc5\xa0", "\xc3\xa7", "&", "-" };

/* Words of 1 to `word` letters, at most `bytes` in all, which is less than
 * the field holds; every character counts, none is left over. */
static void
fill(char *dst, int bytes, int word)
{
	const char *c;
	int n = 0, left = 1 + any(word);

	while (n < bytes) {
		if (left-- == 0 && n > 0 && n + 2 < bytes) {
			dst[n++] = ' ';
			left = 1 + any(word);
			continue;
		}
		c = letters[any((int)NELEM(letters))];
		if (n + (int)strlen(c) > bytes)
			c = "i";
		memcpy(dst + n, c, strlen(c));
		n += (int)strlen(c);
	}
	dst[n] = '\0';
}

/* Mostly what a kitchen writes, sometimes up to what the field holds. */
static int
length(size_t size, int usual)
{
	int most = any(4) == 0 ? (int)size - 1 : usual;

	return any(most + 1);
}

#define FILL(member, usual, word)                                              \
	fill(f->member, length(sizeof(f->member), usual), word)

static void
any_facts(struct label_facts *f, const struct label_media *m)
{
	*f = label_sample_as(
	    (enum label_kind)any(3), (enum label_variant)any(4));
	FILL(product, 40, 12);
	FILL(species, 50, 12);
	FILL(by, 4, 16);
	FILL(allergens, 40, 10);
	FILL(origin, 50, 9);
	FILL(storage, 30, 9);
	FILL(quantity, 20, 8);
	FILL(reason, 60, 9);
	FILL(held_by, 4, 16);
	f->training = any(4) == 0;
	f->reprint = any(3) == 0 ? any(1000) : 0;
	f->defrosted = any(3) == 0;
	if (m->width_mm == 60 && any(3) == 0)
		label_code_key(f->bars, "001H7C");
	if (f->kind != LABEL_BATCH && any(3) == 0)
		str_copy(f->symbol, sizeof(f->symbol),
		    "[01]09501101530003[17]261127[10]2633009C[21]001H7C");
}

/* --- what is refused -------------------------------------------------------*/

static void
check_refusal(const struct err *err)
{
	static const char *const fields[] = { "product", "species", "by",
		"batch", "code and batch", "quantity", "allergens", "origin",
		"storage", "reason", "held by", "held_by", "use by", "frozen",
		"thawed", "prepared", "reprint" };
	size_t i, n;

	for (i = 0; i < NELEM(fields); i++) {
		n = strlen(fields[i]);
		if (strncmp(err->text, fields[i], n) == 0 &&
		    (strncmp(err->text + n, ": does not fit", 14) == 0 ||
			str_eq(err->text + n, " is empty")))
			return;
	}
	ck_abort_msg("refused without a field: %s", err->text);
}

/* --- what is there ---------------------------------------------------------*/

/* All texts, one blank between lines. */
static void
join(char *dst, size_t size, const struct layout *l)
{
	size_t i, n = 0;

	for (i = 0; i < l->count; i++) {
		if (l->items[i].kind != ITEM_TEXT)
			continue;
		ck_assert(str_fmt(dst + n, size - n, "%s ", l->items[i].s));
		n += strlen(dst + n);
	}
}

static void
has(const char *all, const char *what)
{
	ck_assert_msg(
	    strstr(all, what) != NULL, "\"%s\" is not in \"%s\"", what, all);
}

static void
has_not(const char *all, const char *what)
{
	ck_assert_msg(
	    strstr(all, what) == NULL, "\"%s\" is in \"%s\"", what, all);
}

static void
check_texts(const struct layout *l, const struct label_facts *f, bool small)
{
	bool plain = f->variant == LABEL_USE_BY, batch = f->kind == LABEL_BATCH;
	char all[8000], s[300];

	join(all, sizeof(all), l);
	str_fmt(s, sizeof(s), "%s%s ", f->product,
	    f->defrosted && f->variant != LABEL_THAWED ? ", defrosted" : "");
	has(all, s);
	str_fmt(s, sizeof(s), "Contains: %s ", f->allergens);
	has(all, s);
	has(all, f->batch);
	has(all, f->code);
	if (!small) {
		has(all, f->species);
		has(all, f->quantity);
		has(all, f->storage);
	}
	if (!small && (batch || plain))
		has(all, f->origin);
	if (!small && plain) {
		str_fmt(s, sizeof(s), "%s Wed 25 Nov 10:05%s%s ",
		    batch ? "Received" : "Prepared",
		    f->by[0] != '\0' ? " by " : "", f->by);
		has(all, s);
	}
	if (small && plain)
		has(all, f->quantity);
	if (f->variant == LABEL_HOLD) {
		str_fmt(s, sizeof(s), "Reason: %s ", f->reason);
		has(all, s);
		str_fmt(
		    s, sizeof(s), "Held Thu 26 Nov 15:40 by %s ", f->held_by);
		has(all, s);
		has(all, "ON HOLD DO NOT USE ");
		has_not(all, "USE BY");
		has_not(all, "23:59");
	}
	if (f->variant == LABEL_FROZEN) {
		has(all, "FROZEN WED ");
		has(all, "25 NOV 2026 ");
		has(all, "If kept frozen, use by Fri 26 Mar 2027 23:59 ");
	}
	if (f->variant == LABEL_THAWED)
		has(all, "DEFROSTED Thu 26 Nov 09:20 ");
	if (f->variant == LABEL_THAWED || plain) {
		has(all, "USE BY FRI ");
		has(all, "27 NOV 2026 23:59 ");
	}
	str_fmt(s, sizeof(s), "REPRINT %d ", f->reprint);
	if (f->reprint > 0)
		has(all, s);
	else
		has_not(all, "REPRINT");
	if (f->training)
		has(all, "TRAINING, NOT FOR SERVICE ");
	else
		has_not(all, "TRAINING");
}

/* --- where it is -----------------------------------------------------------*/

struct box {
	int x0, y0, x1, y1;
};

static struct box
ink_of(const struct item *item)
{
	struct text t = { item->s, item->face, item->px, item->white };
	struct text_extent e;
	struct box b;

	ck_assert_int_eq(font_measure(&e, fonts, &t, NULL), RC_OK);
	b.x0 = item->x + e.left;
	b.x1 = item->x + e.right;
	b.y0 = item->y - e.ascent;
	b.y1 = item->y + e.descent;
	return b;
}

static bool
meet(const struct box *a, const struct box *b)
{
	return a->x0 < b->x1 && b->x0 < a->x1 && a->y0 < b->y1 && b->y0 < a->y1;
}

/* No two texts over each other, none too small, the allergens' strokes three
 * dots wide where the label has the room. */
static void
check_items(const struct layout *l, const struct label_media *m)
{
	int least = (2000 * m->dpi + 12700) / 25400;
	int bold = (2125 * m->dpi + 12700) / 25400;
	struct box boxes[LAYOUT_ITEMS_MAX];
	const struct item *item;
	size_t i, j;

	for (i = 0; i < l->count; i++) {
		item = &l->items[i];
		if (item->kind != ITEM_TEXT)
			continue;
		boxes[i] = ink_of(item);
		ck_assert_msg(
		    item->px >= least, "\"%s\" is %d dots", item->s, item->px);
		if (m->width_mm == 60 &&
		    strncmp(item->s, "Contains: ", 10) == 0)
			ck_assert_int_ge(item->px, bold);
		for (j = 0; j < i; j++)
			if (l->items[j].kind == ITEM_TEXT)
				ck_assert_msg(!meet(&boxes[i], &boxes[j]),
				    "\"%s\" over \"%s\"", item->s,
				    l->items[j].s);
	}
}

static void
check_margin(const struct bitmap *bm, int dpi)
{
	int n = dpi == 203 ? 12 : 18;

	look_blank(bm, 0, 0, bm->width, n, "top margin");
	look_blank(bm, 0, bm->height - n, bm->width, n, "bottom margin");
	look_blank(bm, 0, 0, n, bm->height, "left margin");
	look_blank(bm, bm->width - n, 0, n, bm->height, "right margin");
}

static void
read_back(const struct bitmap *bm, const struct layout *l,
    const struct label_facts *f)
{
	const struct label_area *a = &l->area;
	int room = 3 * a->module;
	struct dm_view near = { a->x - room, a->y - room, a->side + 2 * room,
		a->side + 2 * room, false, 3000 };

	look_read(bm, &near, 2, f->symbol, f->product);
	if (l->bars != NULL)
		look_read_bars(bm, f->bars, f->product);
}

/* False when the label is refused. */
static bool
one_label(bool read)
{
	struct label_media m = label_sample_media(any(LABEL_SAMPLE_MEDIA));
	struct label_facts f;
	struct bitmap *bm;
	struct layout *l;
	struct err err = { 0 };
	enum rc rc;

	any_facts(&f, &m);
	rc = label_render(&bm, &f, &m, fonts, &err);
	if (rc != RC_OK) {
		ck_assert_int_eq(rc, RC_INVALID);
		check_refusal(&err);
		return false;
	}
	ck_assert_int_eq(layout_make(&l, &f, &m, fonts, NULL), RC_OK);
	check_margin(bm, m.dpi);
	look_symbol(bm, &l->area, f.symbol);
	ck_assert_int_eq(l->bars != NULL, f.bars[0] != '\0');
	if (l->bars != NULL)
		look_bars(bm, &l->bars_area, f.bars);
	check_texts(l, &f, m.width_mm == 50);
	check_items(l, &m);
	if (read)
		read_back(bm, l, &f);
	layout_free(l);
	bitmap_free(bm);
	return true;
}

START_TEST(any_label)
{
	int round, made = 0;

	state = (uint64_t)_i * 977 + 5;
	for (round = 0; round < ROUNDS; round++)
		made += one_label(made % 6 == 0);
	/* Neither all nor none, or nothing was tried. */
	ck_assert_int_gt(made, ROUNDS / 8);
	ck_assert_int_lt(made, ROUNDS);
}
END_TEST

Suite *
suite_labels_prop(void)
{
	Suite *s = suite_create("labels_prop");
	TCase *tc = tcase_create("prop");

	tcase_add_unchecked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 60);
	tcase_add_loop_test(tc, any_label, 0, SEEDS);
	suite_add_tcase(s, tc);
	return s;
}
