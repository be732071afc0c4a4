/* lang_readers.c - a printer's side of every language. */
#include "lang_readers.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

#include <png.h>

#include "base/str.h"
#include "epl2_reader.h"
#include "escpos_reader.h"
#include "pwg_reader.h"
#include "tspl_reader.h"
#include "zpl_reader.h"

void
seen_nothing(struct seen_label *s)
{
	memset(s, 0, sizeof(*s));
	s->copies = s->darkness = s->speed = s->gap = NOT_SAID;
	s->width = s->height = NOT_SAID;
}

bool
same_dots(const struct bitmap *a, const struct bitmap *b)
{
	return a->stride == b->stride && a->height == b->height &&
	    memcmp(a->bits, b->bits, a->stride * (size_t)a->height) == 0;
}

static bool
read_zpl(struct seen_label *out, const char **why, const char *data, size_t len)
{
	struct zpl_label label;
	bool ok = zpl_read(&label, why, data, len);

	seen_nothing(out);
	out->picture = label.picture;
	out->copies = label.copies;
	out->darkness = label.darkness;
	out->speed = label.speed;
	out->transfer = label.media;
	if (label.tracking != 0)
		out->gap = label.tracking == 'N' ? 0 : 1;
	if (ok) {
		out->width = label.picture->width;
		out->height = label.picture->height;
	}
	return ok;
}

/* libpng's simplified reader turns it into 8-bit grey. */
static bool
read_png(struct seen_label *out, const char **why, const char *data, size_t len)
{
	png_image image = { .version = PNG_IMAGE_VERSION };
	png_bytep grey = NULL;
	int x, y;
	bool ok;

	seen_nothing(out);
	*why = "not a picture libpng reads";
	if (!png_image_begin_read_from_memory(&image, data, len))
		return false;
	image.format = PNG_FORMAT_GRAY;
	grey = calloc(1, PNG_IMAGE_SIZE(image));
	ck_assert_ptr_nonnull(grey);
	ok = png_image_finish_read(&image, NULL, grey, 0, NULL) != 0 &&
	    image.width <= BITMAP_SIDE_MAX && image.height <= BITMAP_SIDE_MAX;
	if (ok) {
		out->picture = bitmap_new((int)image.width, (int)image.height);
		for (y = 0; y < out->picture->height; y++)
			for (x = 0; x < out->picture->width; x++)
				if (grey[y * out->picture->width + x] == 0)
					bitmap_set(out->picture, x, y, true);
		out->copies = 1;
	}
	free(grey);
	return ok;
}

const struct lang_reader lang_readers[] = {
	{ "zpl", read_zpl },
	{ "tspl", tspl_read },
	{ "epl2", epl2_read_comma },
	{ "epl2-lf", epl2_read_lf },
	{ "escpos", escpos_read },
	{ "pwg", pwg_read },
	{ "png", read_png },
	{ NULL, NULL },
};

const struct lang_reader *
lang_reader_find(const char *lang)
{
	const struct lang_reader *r;

	for (r = lang_readers; r->lang != NULL; r++)
		if (str_eq(r->lang, lang))
			return r;
	ck_abort_msg("language %s has no row in lang_readers[]", lang);
	return NULL;
}
