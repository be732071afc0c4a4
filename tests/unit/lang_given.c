/* lang_given.c - what the suites of single languages share. */
#include "lang_given.h"

#include <check.h>
#include <string.h>

#define OUT_MAX ((size_t)1024 * 1024)

struct bitmap *
given_picture(const char *rows)
{
	int width = (int)strcspn(rows, "/"), height = 1, x, y;
	const char *p;
	struct bitmap *bm;

	for (p = rows; *p != '\0'; p++)
		height += *p == '/';
	bm = bitmap_new(width, height);
	for (y = 0, p = rows; y < height; y++, p++)
		for (x = 0; x < width; x++, p++)
			bitmap_set(bm, x, y, *p == '1');
	return bm;
}

void
given_check(const char *lang, const struct given *g)
{
	struct seen_label label;
	const char *why = NULL;
	struct bitmap *bm;
	bool ok;

	ok = lang_reader_find(lang)->read(&label, &why, g->data, g->len);
	ck_assert_msg(ok == (g->rows != NULL), "%s: %s", g->why,
	    why != NULL ? why : "accepted");
	if (!ok)
		return;
	bm = given_picture(g->rows);
	ck_assert_msg(same_dots(label.picture, bm), "%s: other dots", g->why);
	bitmap_free(bm);
	bitmap_free(label.picture);
}

void
lang_encode(struct buf *out, const char *lang, const struct bitmap *bm,
    const struct lang_media *media)
{
	struct err err = { 0 };

	buf_init(out, OUT_MAX);
	ck_assert_msg(lang_find(lang)->encode(out, bm, media, &err) == RC_OK,
	    "%s: %s", lang, err.text);
	ck_assert_int_eq(buf_check(out, "label", &err), RC_OK);
}

struct seen_label
lang_read_back(
    const char *lang, const struct bitmap *bm, const struct lang_media *media)
{
	struct seen_label label;
	const char *why = NULL;
	struct buf out;

	lang_encode(&out, lang, bm, media);
	ck_assert_msg(
	    lang_reader_find(lang)->read(&label, &why, out.data, out.len),
	    "%s: %s", lang, why);
	ck_assert(same_dots(label.picture, bm));
	bitmap_free(label.picture);
	label.picture = NULL;
	buf_fini(&out);
	return label;
}

void
lang_refuses(const char *lang, const struct bitmap *bm,
    const struct lang_media *media, const char *words)
{
	struct err err = { 0 };
	struct buf out;

	buf_init(&out, OUT_MAX);
	ck_assert_int_eq(
	    lang_find(lang)->encode(&out, bm, media, &err), RC_INVALID);
	ck_assert_msg(strstr(err.text, words) != NULL, "%s", err.text);
	ck_assert_uint_eq(out.len, 0);
	buf_fini(&out);
}
