/* font.c - text drawn in whole dots. */
#include "labels/font.h"

#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <ft2build.h>
#include FT_FREETYPE_H

#include "base/mem.h"
#include "base/str.h"

#define FACES 2
#define CACHE_SIZE 8192 /* power of two */
#define CACHE_TRIES 8   /* places a glyph may have */

struct glyph {
	uint32_t key;      /* 0: empty */
	int left, top;     /* bitmap corner from the origin, top upwards */
	int width, height; /* dots inked */
	int advance;
	int stride;
	uint8_t *bits; /* owned; NULL when nothing is inked */
};

struct fonts {
	FT_Library library;
	FT_Face face[FACES];
	char *path[FACES]; /* owned */
	int px[FACES];     /* size the face is set to, 0 none yet */
	/* Fitting text to its place measures the same glyphs at some twenty
	 * sizes; setting one anew takes longer than all else. */
	struct glyph cache[CACHE_SIZE];
};

/* Ranges that read wrong when set one code point after another. */
static const struct range {
	uint32_t first, last;
} shaped[] = {
	{ 0x0300, 0x036f },    /* combining marks */
	{ 0x0590, 0x109f },    /* Hebrew, Arabic, the Indic scripts, Thai */
	{ 0x1100, 0x11ff },    /* Hangul jamo */
	{ 0x1680, 0x1cff },    /* Khmer, Mongolian and others */
	{ 0x1dc0, 0x1dff },    /* combining marks */
	{ 0x200b, 0x200f },    /* invisible controls */
	{ 0x2028, 0x202e },    /* line separators, direction controls */
	{ 0x2060, 0x206f },    /* invisible controls */
	{ 0x20d0, 0x20ff },    /* combining marks */
	{ 0xfb1d, 0xfeff },    /* presentation forms, byte order mark */
	{ 0x10000, 0x10ffff }, /* beyond the basic plane */
};

static bool
needs_shaping(uint32_t c)
{
	size_t i;

	for (i = 0; i < sizeof(shaped) / sizeof(shaped[0]); i++)
		if (c >= shaped[i].first && c <= shaped[i].last)
			return true;
	return false;
}

static enum rc
open_face(struct fonts *fonts, int face, const char *path, struct err *err)
{
	FT_ULong c;
	FT_Error e;

	fonts->path[face] = xstrdup(path);
	e = FT_New_Face(fonts->library, path, 0, &fonts->face[face]);
	if (e != 0)
		return err_set(err, RC_FAILED, e,
		    "font %s: cannot be opened (FreeType error %d)", path, e);
	if (!FT_IS_SCALABLE(fonts->face[face]))
		return err_set(
		    err, RC_FAILED, 0, "font %s: is not scalable", path);
	for (c = 0x20; c < 0x7f; c++)
		if (FT_Get_Char_Index(fonts->face[face], c) == 0)
			return err_set(err, RC_FAILED, 0,
			    "font %s: has no character '%c'", path, (char)c);
	return RC_OK;
}

enum rc
fonts_open(struct fonts **out, const char *text_path, const char *code_path,
    struct err *err)
{
	struct fonts *fonts;
	FT_Error e;
	enum rc rc;

	*out = NULL;
	fonts = xcalloc(1, sizeof(*fonts));
	e = FT_Init_FreeType(&fonts->library);
	if (e != 0) {
		fonts->library = NULL;
		rc = err_set(
		    err, RC_FAILED, e, "FreeType does not start (error %d)", e);
		goto done;
	}
	if ((rc = open_face(fonts, FONT_TEXT, text_path, err)) != RC_OK ||
	    (rc = open_face(fonts, FONT_CODE, code_path, err)) != RC_OK)
		goto done;
	*out = fonts;
	fonts = NULL;
done:
	fonts_free(fonts);
	return rc;
}

void
fonts_free(struct fonts *fonts)
{
	int i;

	if (fonts == NULL)
		return;
	for (i = 0; i < CACHE_SIZE; i++)
		free(fonts->cache[i].bits);
	for (i = 0; i < FACES; i++) {
		if (fonts->face[i] != NULL)
			FT_Done_Face(fonts->face[i]);
		free(fonts->path[i]);
	}
	if (fonts->library != NULL)
		FT_Done_FreeType(fonts->library);
	free(fonts);
}

/* The bytes of the character that ends at `end`. */
static enum rc
refuse_glyph(const char *start, const char *end, uint32_t c, struct err *err)
{
	return err_set(err, RC_INVALID, 0,
	    "the label font cannot set the character '%.*s' (U+%04X)",
	    (int)(end - start), start, (unsigned)c);
}

static void
keep(struct glyph *g, FT_GlyphSlot slot)
{
	const FT_Bitmap *b = &slot->bitmap;
	unsigned y;

	free(g->bits);
	memset(g, 0, sizeof(*g));
	g->left = slot->bitmap_left;
	g->top = slot->bitmap_top;
	g->width = (int)b->width;
	g->height = (int)b->rows;
	g->advance = (int)(slot->advance.x >> 6);
	g->stride = (g->width + 7) / 8;
	if (g->width == 0 || g->height == 0)
		return;
	g->bits = xcalloc((size_t)g->stride, (size_t)g->height);
	for (y = 0; y < b->rows; y++)
		memcpy(g->bits + (size_t)g->stride * y,
		    b->buffer + (ptrdiff_t)b->pitch * (ptrdiff_t)y,
		    (size_t)g->stride);
}

/* The place of a glyph, which is filled when its key is this one; a glyph that
 * was set before can be set again, whatever it was asked. */
static struct glyph *
cached(struct fonts *fonts, const struct text *text, uint32_t c, uint32_t *key)
{
	struct glyph *first = NULL, *g;
	uint32_t at, i;

	assert(text->px >= FONT_PX_MIN && text->px <= FONT_PX_MAX);
	*key = (uint32_t)text->face << 30 | (uint32_t)text->px << 21 | c;
	at = *key * 2654435761u >> 19;
	for (i = 0; i < CACHE_TRIES; i++) {
		g = &fonts->cache[(at + i) & (CACHE_SIZE - 1)];
		if (g->key == *key)
			return g;
		if (first == NULL || (first->key != 0 && g->key == 0))
			first = g;
	}
	return first;
}

/* Fill an entry of the cache; the face has the character. */
static enum rc
load(struct glyph *g, struct fonts *fonts, const struct text *text,
    FT_UInt index, uint32_t key, struct err *err)
{
	FT_Face face = fonts->face[text->face];
	FT_Error e = 0;

	if (fonts->px[text->face] != text->px) {
		e = FT_Set_Pixel_Sizes(face, 0, (FT_UInt)text->px);
		fonts->px[text->face] = e == 0 ? text->px : 0;
	}
	if (e == 0)
		e = FT_Load_Glyph(
		    face, index, FT_LOAD_TARGET_MONO | FT_LOAD_RENDER);
	if (e != 0)
		return err_set(err, RC_FAILED, e,
		    "font %s: glyph %u cannot be drawn (FreeType error %d)",
		    fonts->path[text->face], index, e);
	keep(g, face->glyph);
	g->key = key;
	return RC_OK;
}

/* The glyph of the next character; NULL at the end of the text. */
static enum rc
next_glyph(struct glyph **out, struct fonts *fonts, const struct text *text,
    const char **s, struct err *err)
{
	const char *start = *s;
	uint32_t c = utf8_next(s), key;
	FT_UInt index;

	*out = NULL;
	if (c == 0)
		return RC_OK;
	*out = cached(fonts, text, c, &key);
	if ((*out)->key == key)
		return RC_OK;
	index = FT_Get_Char_Index(fonts->face[text->face], c);
	if (needs_shaping(c) || index == 0) {
		*out = NULL;
		return refuse_glyph(start, *s, c, err);
	}
	return load(*out, fonts, text, index, key, err);
}

enum rc
font_check(
    struct fonts *fonts, enum font_face face, const char *s, struct err *err)
{
	const char *p = s, *start;
	uint32_t c;

	for (;;) {
		start = p;
		c = utf8_next(&p);
		if (c == 0)
			return RC_OK;
		if (needs_shaping(c) ||
		    FT_Get_Char_Index(fonts->face[face], c) == 0)
			return err_set(err, RC_INVALID, 0,
			    "font %s: cannot set the character '%.*s' (U+%04X) "
			    "of \"%.60s\"",
			    fonts->path[face], (int)(p - start), start,
			    (unsigned)c, s);
	}
}

static int
max_int(int a, int b)
{
	return a > b ? a : b;
}

enum rc
font_measure(struct text_extent *out, struct fonts *fonts,
    const struct text *text, struct err *err)
{
	struct text_extent e = { 0 };
	const char *s = text->s;
	struct glyph *g;
	bool inked = false;
	enum rc rc;

	for (;;) {
		if ((rc = next_glyph(&g, fonts, text, &s, err)) != RC_OK)
			return rc;
		if (g == NULL)
			break;
		if (g->bits != NULL) {
			if (!inked || e.advance + g->left < e.left)
				e.left = e.advance + g->left;
			e.right =
			    max_int(e.right, e.advance + g->left + g->width);
			e.ascent = max_int(e.ascent, g->top);
			e.descent = max_int(e.descent, g->height - g->top);
			inked = true;
		}
		e.advance += g->advance;
	}
	*out = e;
	return RC_OK;
}

static void
blit(struct bitmap *to, const struct glyph *g, int x, int y, bool white)
{
	int i, j;

	for (j = 0; j < g->height; j++)
		for (i = 0; i < g->width; i++)
			if (g->bits[j * g->stride + i / 8] >> (7 - i % 8) & 1)
				bitmap_set(to, x + i, y + j, !white);
}

enum rc
font_draw(struct bitmap *to, struct fonts *fonts, const struct text *text,
    int x, int baseline, struct err *err)
{
	const char *s = text->s;
	struct glyph *g;
	enum rc rc;

	for (;;) {
		if ((rc = next_glyph(&g, fonts, text, &s, err)) != RC_OK)
			return rc;
		if (g == NULL)
			return RC_OK;
		if (g->bits != NULL)
			blit(
			    to, g, x + g->left, baseline - g->top, text->white);
		x += g->advance;
	}
}
