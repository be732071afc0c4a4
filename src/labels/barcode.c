/* barcode.c - GS1 symbols as module matrices. */
#include "labels/barcode.h"

#include <assert.h>
#include <string.h>

#include <zint.h>

/* GS1 Barcode Syntax Dictionary, cset82: besides digits and letters. */
static const char set82_marks[] = "!\"%&'()*+,-./:;<=>?_";

static bool
is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool
in_set82(char c)
{
	return is_digit(c) || (c >= 'A' && c <= 'Z') ||
	    (c >= 'a' && c <= 'z') ||
	    (c != '\0' && strchr(set82_marks, c) != NULL);
}

static enum rc
refuse_char(const char *text, const char *at, const char *why, struct err *err)
{
	return err_set(err, RC_INVALID, 0, "symbol text, character %d: %s",
	    (int)(at - text) + 1, why);
}

/* One "[AI]data"; steps *s over it. */
static enum rc
check_element(const char **s, const char *text, struct err *err)
{
	const char *p = *s, *start;

	if (*p != '[')
		return refuse_char(text, p, "an [ is expected", err);
	start = ++p;
	while (is_digit(*p))
		p++;
	if (p - start < 2 || p - start > 4)
		return refuse_char(
		    text, start, "2 to 4 digits are expected", err);
	if (*p != ']')
		return refuse_char(text, p, "an ] is expected", err);
	start = ++p;
	while (in_set82(*p))
		p++;
	if (p == start)
		return refuse_char(
		    text, p, "a GS1 set 82 character is expected", err);
	if (*p != '\0' && *p != '[')
		return refuse_char(text, p, "not in GS1 character set 82", err);
	*s = p;
	return RC_OK;
}

static enum rc
check_text(enum barcode_kind kind, const char *text, struct err *err)
{
	const char *s = text;
	size_t n = strlen(text), elements = 0, data;
	enum rc rc;

	if (n == 0)
		return err_set(err, RC_INVALID, 0, "symbol text is empty");
	if (n > BARCODE_TEXT_MAX)
		return err_set(err, RC_INVALID, 0,
		    "symbol text is %zu bytes long, at most %d fit", n,
		    BARCODE_TEXT_MAX);
	while (*s != '\0') {
		if ((rc = check_element(&s, text, err)) != RC_OK)
			return rc;
		elements++;
	}
	/* A separator counted after every element but the last: some need
	 * none, so this errs on the short side. */
	data = n - 2 * elements + elements - 1;
	if (kind == BARCODE_KIND_GS1_128 && data > BARCODE_GS1_128_DATA_MAX)
		return err_set(err, RC_INVALID, 0,
		    "symbol text has %zu data characters, GS1-128 holds %d",
		    data, BARCODE_GS1_128_DATA_MAX);
	return RC_OK;
}

static struct bitmap *
modules_of(const struct zint_symbol *zs)
{
	struct bitmap *bm = bitmap_new(zs->width, zs->rows);
	int x, y;

	for (y = 0; y < zs->rows; y++)
		for (x = 0; x < zs->width; x++)
			/* zint packs the leftmost module lowest */
			if (zs->encoded_data[y][x >> 3] >> (x & 7) & 1)
				bitmap_set(bm, x, y, true);
	return bm;
}

enum rc
barcode_encode(struct bitmap **out, enum barcode_kind kind, const char *text,
    struct err *err)
{
	unsigned char copy[BARCODE_TEXT_MAX + 1] = { 0 };
	struct zint_symbol *zs;
	int zrc;
	enum rc rc;

	*out = NULL;
	if ((rc = check_text(kind, text, err)) != RC_OK)
		return rc;
	memcpy(copy, text, strlen(text));
	zs = ZBarcode_Create();
	if (zs == NULL)
		return err_set(err, RC_FAILED, 0, "no memory for a symbol");
	zs->symbology =
	    kind == BARCODE_KIND_GS1_128 ? BARCODE_GS1_128 : BARCODE_DATAMATRIX;
	/* Without GS1_MODE the brackets would be encoded as data, and without
	 * WARN_FAIL_ALL a wrong check digit would still give a symbol. */
	zs->input_mode = GS1_MODE;
	zs->warn_level = WARN_FAIL_ALL;
	zs->show_hrt = 0;
	if (kind == BARCODE_KIND_GS1_DATAMATRIX)
		zs->option_3 = DM_SQUARE;
	zrc = ZBarcode_Encode(zs, copy, 0);
	if (zrc != 0)
		rc = err_set(err, RC_INVALID, zrc, "symbol text \"%s\": %s",
		    text, zs->errtxt);
	else
		*out = modules_of(zs);
	ZBarcode_Delete(zs);
	return rc;
}

void
barcode_draw(
    struct bitmap *to, const struct bitmap *modules, int x, int y, int dots)
{
	int i, j;

	assert(dots > 0);
	for (j = 0; j < modules->height; j++)
		for (i = 0; i < modules->width; i++)
			if (bitmap_get(modules, i, j))
				bitmap_fill(to, x + i * dots, y + j * dots,
				    dots, dots, true);
}

void
barcode_draw_ladder(struct bitmap *to, const struct bitmap *modules, int x,
    int y, int dots, int length)
{
	int i;

	assert(dots > 0 && modules->height == 1);
	for (i = 0; i < modules->width; i++)
		if (bitmap_get(modules, i, 0))
			bitmap_fill(to, x, y + i * dots, length, dots, true);
}
