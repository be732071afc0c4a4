/*
 * test_label_chain.c - from a recorded portion through its label in every
 * language and size to an independent reader, and back to the record.
 *
 * The reader is libdmtx, the pictures are taken out of the PNG by libpng and
 * out of the ZPL by zpl_reader.c: nothing here trusts the code that drew.
 */
#include "unit.h"

#include <png.h>
#include <stdlib.h>
#include <string.h>

#include "base/bitmap.h"
#include "base/buf.h"
#include "base/file.h"
#include "base/str.h"
#include "core/label_code.h"
#include "dm_reader.h"
#include "kitchen.h"
#include "ops/label.h"
#include "zpl_reader.h"

static struct kitchen k;
static struct breakdown tray, single;

/* Five trays of four, and two single portions of the next day. */
static void
setup(void)
{
	struct receive_in in = kitchen_cod();
	struct kitchen_cut many = { "cod-leeks", 20, 4, 3300, 10000, 5 };
	struct kitchen_cut one = { "cod-cakes", 2, 1, 190, 2000, 1 };
	struct batch b;

	kitchen_open(&k);
	b = kitchen_receive(&k, &in);
	tray = kitchen_break(&k, b.code, &many);
	kitchen_at(&k, "2026-11-26T09:00");
	single = kitchen_break(&k, b.code, &one);
}

static void
teardown(void)
{
	breakdown_fini(&tray);
	breakdown_fini(&single);
	kitchen_close(&k);
}

static struct bitmap *
from_png(const struct buf *b)
{
	png_image image = { .version = PNG_IMAGE_VERSION };
	struct bitmap *bm;
	png_bytep grey;
	int x, y;

	ck_assert_msg(png_image_begin_read_from_memory(&image, b->data, b->len),
	    "%s", image.message);
	image.format = PNG_FORMAT_GRAY;
	grey = malloc(PNG_IMAGE_SIZE(image));
	ck_assert_ptr_nonnull(grey);
	ck_assert(png_image_finish_read(&image, NULL, grey, 0, NULL));
	bm = bitmap_new((int)image.width, (int)image.height);
	for (y = 0; y < bm->height; y++)
		for (x = 0; x < bm->width; x++)
			if (grey[y * bm->width + x] < 128)
				bitmap_set(bm, x, y, true);
	free(grey);
	return bm;
}

static struct bitmap *
from_zpl(const struct buf *b)
{
	struct zpl_label label;
	const char *why = "";

	ck_assert_msg(zpl_read(&label, &why, b->data, b->len), "%s", why);
	ck_assert_int_eq(label.copies, 1);
	return label.picture;
}

static struct bitmap *
picture(const char *language, const struct buf *b)
{
	return str_eq(language, "png") ? from_png(b) : from_zpl(b);
}

/* What the store holds of a unit, or of a batch when p is NULL. */
struct want {
	const char *portion, *batch;
	int64_t use_by_utc;
};

/* As a scanner set to send identifiers would type it. */
static void
check_scan(const char *read, const struct want *w, const char *why)
{
	struct local_time use_by = local_from_utc(w->use_by_utc);
	char typed[DM_TEXT_MAX + 8], code[CODE_SIZE];
	struct label_code got;
	struct err err = { 0 };
	enum code_kind kind;

	str_fmt(typed, sizeof(typed), "]d2%s", read);
	ck_assert_msg(label_code_parse(&got, typed, &err) == RC_OK,
	    "%s: %s: %s", why, read, err.text);
	ck_assert_str_eq(got.portion, w->portion);
	ck_assert_str_eq(got.batch, w->batch);
	ck_assert_int_eq(got.use_by.day, use_by.day);
	ck_assert_int_eq(got.use_by.hour, use_by.hour);
	ck_assert_int_eq(got.use_by.minute, use_by.minute);
	ck_assert_int_eq(code_parse(&kind, code, typed, NULL), RC_OK);
	ck_assert_str_eq(code, w->portion[0] != '\0' ? w->portion : w->batch);
}

static void
read_back(const struct bitmap *bm, const struct want *w, const char *why)
{
	struct dm_view view = { 0, 0, bm->width, bm->height, false, 4000 };
	char text[DM_TEXT_MAX];
	bool gs1;

	ck_assert_msg(dm_read(text, &gs1, bm, &view), "%s: not read", why);
	ck_assert_msg(gs1, "%s: no FNC1 in first place", why);
	check_scan(text, w, why);
	view.blur = true;
	ck_assert_msg(
	    dm_read(text, &gs1, bm, &view), "%s: not read blurred", why);
	check_scan(text, w, why);
}

static const struct {
	const char *size;
	int dpi;
	const char *language;
} labels[] = {
	{ "60x40", 203, "png" },
	{ "60x40", 203, "zpl" },
	{ "60x40", 300, "png" },
	{ "60x40", 300, "zpl" },
	{ "50x25", 203, "png" },
	{ "50x25", 203, "zpl" },
	{ "50x25", 300, "png" },
	{ "50x25", 300, "zpl" },
};

static void
check_label(const char *code, const struct want *w, int i)
{
	struct label_wish wish = { code, labels[i].language, labels[i].size,
		labels[i].dpi };
	struct bitmap *bm;
	struct buf b;
	struct err err = { 0 };
	char why[64];

	str_fmt(why, sizeof(why), "%s as %s %s at %d dpi", code,
	    labels[i].language, labels[i].size, labels[i].dpi);
	buf_init(&b, 4000000);
	ck_assert_msg(label_preview(&b, k.sn, &wish, &err) == RC_OK, "%s: %s",
	    why, err.text);
	bm = picture(labels[i].language, &b);
	read_back(bm, w, why);
	bitmap_free(bm);
	buf_fini(&b);
}

/* The record as the file has it now, not as the breakdown returned it. */
static struct want
stored(struct portion *p, const char *code)
{
	struct want w;

	ck_assert_int_eq(portion_get(p, k.sn->st, code, NULL), RC_OK);
	w.portion = p->code;
	w.batch = p->batch;
	w.use_by_utc = p->use_by_utc;
	return w;
}

START_TEST(every_portion)
{
	struct portion p;
	struct want w;
	size_t i;

	for (i = 0; i < tray.portion_count; i++) {
		w = stored(&p, tray.portions[i].code);
		check_label(tray.portions[i].code, &w, _i);
	}
	w = stored(&p, single.portions[1].code);
	check_label(single.portions[1].code, &w, _i);
	ck_assert_int_ne(p.use_by_utc, tray.portions[0].use_by_utc);
}
END_TEST

START_TEST(batch_label)
{
	struct batch b;
	struct want w;

	ck_assert_int_eq(batch_get(&b, k.sn->st, tray.batch.code, NULL), RC_OK);
	w.portion = "";
	w.batch = b.code;
	w.use_by_utc = b.use_by_utc;
	check_label(b.code, &w, _i);
}
END_TEST

/* What the printer was sent is what the preview showed, byte for byte. */
START_TEST(printed_is_previewed)
{
	const char *code = tray.portions[2].code;
	struct label_wish wish = { .code = code };
	char path[600], shown[CODE_SIZE];
	struct portion p;
	struct bitmap *bm;
	struct buf seen, sent;
	struct err err = { 0 };
	struct want w;

	buf_init(&seen, 4000000);
	buf_init(&sent, 4000000);
	ck_assert_int_eq(label_preview(&seen, k.sn, &wish, NULL), RC_OK);
	ck_assert_int_eq(kitchen_label(NULL, &k, code, LABEL_FIRST), RC_OK);
	str_fmt(path, sizeof(path), "%s/labels/portion-%s.png", k.folder,
	    code_show(shown, code));
	ck_assert_msg(file_read(&sent, path, &err) == RC_OK, "%s", err.text);
	ck_assert_uint_eq(seen.len, sent.len);
	ck_assert_int_eq(memcmp(seen.data, sent.data, seen.len), 0);
	/* A reprint is marked: another picture, the same code. */
	ck_assert_int_eq(kitchen_label(NULL, &k, code, LABEL_AGAIN), RC_OK);
	str_fmt(path, sizeof(path), "%s/labels/portion-%s-reprint-1.png",
	    k.folder, shown);
	buf_clear(&sent);
	ck_assert_msg(file_read(&sent, path, &err) == RC_OK, "%s", err.text);
	ck_assert(seen.len != sent.len ||
	    memcmp(seen.data, sent.data, seen.len) != 0);
	bm = from_png(&sent);
	w = stored(&p, code);
	read_back(bm, &w, "reprint");
	bitmap_free(bm);
	buf_fini(&seen);
	buf_fini(&sent);
}
END_TEST

Suite *
suite_label_chain(void)
{
	Suite *s = suite_create("label_chain");
	TCase *tc = tcase_create("chain");

	tcase_add_checked_fixture(tc, setup, teardown);
	tcase_set_timeout(tc, 40);
	tcase_add_loop_test(tc, every_portion, 0, (int)NELEM(labels));
	tcase_add_loop_test(tc, batch_label, 0, (int)NELEM(labels));
	tcase_add_test(tc, printed_is_previewed);
	suite_add_tcase(s, tc);
	return s;
}
