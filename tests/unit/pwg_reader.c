/* pwg_reader.c - PWG raster read by libcups. */
#include "pwg_reader.h"

#include <string.h>

#include <cups/raster.h>

struct bytes {
	const char *p;
	size_t left;
};

static ssize_t
give(void *ctx, unsigned char *buf, size_t size)
{
	struct bytes *b = ctx;
	size_t n = size < b->left ? size : b->left;

	memcpy(buf, b->p, n);
	b->p += n;
	b->left -= n;
	return (ssize_t)n;
}

static const char *
header(struct seen_label *s, const cups_page_header2_t *h)
{
	pwg_media_t *media;

	if (strcmp(h->MediaClass, "PwgRaster") != 0)
		return "not marked PwgRaster";
	if (h->cupsBitsPerColor != 1 || h->cupsBitsPerPixel != 1 ||
	    h->cupsNumColors != 1 || h->cupsColorSpace != CUPS_CSPACE_K ||
	    h->cupsColorOrder != CUPS_ORDER_CHUNKED)
		return "not one bit a dot, 1 black";
	if (h->cupsWidth < 1 || h->cupsWidth > BITMAP_SIDE_MAX ||
	    h->cupsHeight < 1 || h->cupsHeight > BITMAP_SIDE_MAX ||
	    h->cupsBytesPerLine != (h->cupsWidth + 7) / 8)
		return "size out of range";
	/* libcups keeps sizes in hundredths of a millimetre */
	if ((media = pwgMediaForPWG(h->cupsPageSizeName)) == NULL ||
	    media->width % 100 != 0 || media->length % 100 != 0)
		return "page size name not understood";
	s->width = media->width / 100;
	s->height = media->length / 100;
	s->copies = (int)h->NumCopies;
	s->cut = h->CutMedia == CUPS_CUT_PAGE;
	s->gap = strcmp(h->MediaType, "labels") == 0 ? 1 : 0;
	s->picture = bitmap_new((int)h->cupsWidth, (int)h->cupsHeight);
	return NULL;
}

static const char *
read_page(struct seen_label *s, cups_raster_t *raster, struct bytes *b)
{
	cups_page_header2_t h;
	const char *why;
	int y;

	if (raster == NULL || !cupsRasterReadHeader2(raster, &h))
		return "libcups reads no header";
	if ((why = header(s, &h)) != NULL)
		return why;
	for (y = 0; y < s->picture->height; y++)
		if (cupsRasterReadPixels(raster,
			s->picture->bits + (size_t)y * s->picture->stride,
			h.cupsBytesPerLine) != h.cupsBytesPerLine)
			return "libcups reads too few rows";
	if (cupsRasterReadHeader2(raster, &h) || b->left > 0)
		return "more than one page";
	return NULL;
}

bool
pwg_read(struct seen_label *out, const char **why, const char *data, size_t len)
{
	struct bytes b = { data, len };
	cups_raster_t *raster = NULL;

	seen_nothing(out);
	/* both byte orders and two other formats are libcups' business too */
	if (len < 4 || memcmp(data, "RaS2", 4) != 0) {
		*why = "no RaS2 in front";
		return false;
	}
	raster = cupsRasterOpenIO(give, &b, CUPS_RASTER_READ);
	*why = read_page(out, raster, &b);
	cupsRasterClose(raster);
	if (*why != NULL) {
		bitmap_free(out->picture);
		out->picture = NULL;
	}
	return *why == NULL;
}
