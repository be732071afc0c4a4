/*
 * lang_pwg.c - PWG raster: the label as one page.
 *
 * Source: PWG 5102.4 (PWG Raster Format), page header and compression; the
 * offsets as in the CUPS raster specification, which the format restricts;
 * PWG 5101.1 for the name of the size.  All numbers are big-endian.  The
 * header has no words for darkness and speed.
 */
#include "drivers.h"

#include <string.h>

#include "base/str.h"
#include "lang_media.h"

#define HEADER_SIZE 1796
#define RUN_MAX 128  /* bytes one count can stand for */
#define ROWS_MAX 256 /* equal rows one count can stand for */

enum {
	AT_TYPE = 128,
	AT_CUT = 268,
	AT_DPI_X = 276,
	AT_DPI_Y = 280,
	AT_COPIES = 340,
	AT_PAGE_WIDTH = 352, /* points */
	AT_PAGE_HEIGHT = 356,
	AT_WIDTH = 372, /* dots */
	AT_HEIGHT = 376,
	AT_BITS_PER_COLOUR = 384,
	AT_BITS_PER_DOT = 388,
	AT_BYTES_PER_ROW = 392,
	AT_COLOUR_SPACE = 400,
	AT_COLOURS = 420,
	AT_PAGES = 452,
	AT_ACROSS_FEED = 456, /* 1 or -1: mirrored */
	AT_ALONG_FEED = 460,
	AT_ALTERNATE = 480, /* the other colour, as sRGB */
	AT_PAGE_NAME = 1732,
};

#define SPACE_BLACK 3 /* 1 prints */
#define CUT_PAGE 4    /* after every page */
#define WHITE 0xffffff

static void
put32(uint8_t *header, int at, uint32_t value)
{
	header[at] = (uint8_t)(value >> 24);
	header[at + 1] = (uint8_t)(value >> 16);
	header[at + 2] = (uint8_t)(value >> 8);
	header[at + 3] = (uint8_t)value;
}

/* Whole points, 1/72 inch, rounded down as libcups does. */
static uint32_t
points(int mm)
{
	return (uint32_t)(mm * 720 / 254);
}

static void
put_header(struct buf *out, const struct bitmap *picture,
    const struct lang_media *media)
{
	uint8_t h[HEADER_SIZE] = "PwgRaster";
	int width = media->width_mm, height = lang_height_mm(media, picture);
	bool roll = media->gap_mm == 0;

	str_copy((char *)h + AT_TYPE, 64, roll ? "continuous" : "labels");
	put32(h, AT_CUT, roll ? CUT_PAGE : 0);
	put32(h, AT_DPI_X, (uint32_t)media->dpi);
	put32(h, AT_DPI_Y, (uint32_t)media->dpi);
	put32(h, AT_COPIES, 1);
	put32(h, AT_PAGE_WIDTH, points(width));
	put32(h, AT_PAGE_HEIGHT, points(height));
	put32(h, AT_WIDTH, (uint32_t)picture->width);
	put32(h, AT_HEIGHT, (uint32_t)picture->height);
	put32(h, AT_BITS_PER_COLOUR, 1);
	put32(h, AT_BITS_PER_DOT, 1);
	put32(h, AT_BYTES_PER_ROW, (uint32_t)picture->stride);
	put32(h, AT_COLOUR_SPACE, SPACE_BLACK);
	put32(h, AT_COLOURS, 1);
	put32(h, AT_PAGES, 1);
	put32(h, AT_ACROSS_FEED, 1);
	put32(h, AT_ALONG_FEED, 1);
	put32(h, AT_ALTERNATE, WHITE);
	/* From the millimetres: points would make another size of it. */
	str_fmt((char *)h + AT_PAGE_NAME, 64, "om_%dx%dmm_%dx%dmm", width,
	    height, width, height);
	buf_add(out, h, sizeof(h));
}

/* Bytes alike from p on, at most RUN_MAX. */
static size_t
alike(const uint8_t *p, const uint8_t *end)
{
	size_t n = 1;

	while (p + n < end && n < RUN_MAX && p[n] == *p)
		n++;
	return n;
}

/* Counts 0 to 127: the next byte once more than that.  Counts 129 to 255: as
 * many bytes as 257 less the count, as they are. */
static void
put_row(struct buf *out, const uint8_t *row, size_t bytes)
{
	const uint8_t *p = row, *end = row + bytes;
	size_t n;

	while (p < end) {
		if ((n = alike(p, end)) > 1 || p + 1 == end) {
			buf_putc(out, (char)(n - 1));
			buf_putc(out, (char)*p);
		} else {
			while (p + n < end && n < RUN_MAX &&
			    alike(p + n, end) == 1)
				n++;
			/* 256 does not fit: one byte as a run of itself */
			buf_putc(out, (char)(n > 1 ? 257 - n : 0));
			buf_add(out, p, n);
		}
		p += n;
	}
}

static enum rc
pwg_encode(struct buf *out, const struct bitmap *picture,
    const struct lang_media *media, struct err *err)
{
	size_t bytes = picture->stride;
	int y, n;
	enum rc rc;

	if ((rc = lang_media_check(media, err)) != RC_OK)
		return rc;
	buf_puts(out, "RaS2");
	put_header(out, picture, media);
	for (y = 0; y < picture->height; y += n) {
		const uint8_t *row = picture->bits + (size_t)y * bytes;

		for (n = 1; n < ROWS_MAX && y + n < picture->height; n++)
			if (memcmp(row, row + (size_t)n * bytes, bytes) != 0)
				break;
		buf_putc(out, (char)(n - 1));
		put_row(out, row, bytes);
	}
	return RC_OK;
}

const struct lang lang_pwg = {
	.name = "pwg",
	.ending = "pwg",
	.command_sets = "PWGRaster PWG-Raster image/pwg-raster",
	.encode = pwg_encode,
};
