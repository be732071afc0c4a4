/*
 * lang_zpl.c - ZPL II: the whole label as one graphic field.
 *
 * Source of the commands: ZPL II Programming Guide, pages for ^GF, ^PW, ^LL,
 * ^MN, ^PQ and ~SD.  The compression is the guide's "alternative data
 * compression scheme": G to Y repeat the next digit 1 to 19 times, g to z 20
 * to 400 times, added together; "," fills the row with zeros, ":" repeats the
 * row above.
 */
#include "drivers.h"

#include <assert.h>
#include <string.h>

/* ^GF takes counts of up to five digits. */
#define GF_BYTES_MAX 99999
#define RUN_MAX 419 /* zY, the longest run one pair of letters can say */

static const char hex[] = "0123456789ABCDEF";

static int
nibble(const uint8_t *row, size_t i)
{
	return i % 2 == 0 ? row[i / 2] >> 4 : row[i / 2] & 0x0f;
}

/* At most RUN_MAX equal digits. */
static void
put_counted(struct buf *out, size_t count, int value)
{
	size_t twenties = count / 20, ones = count % 20;

	if (twenties > 0)
		buf_putc(out, (char)('g' + twenties - 1));
	/* A count of 1 needs no letter, but the 1 of 21 does: "gF" is 20. */
	if (ones > 1 || (ones == 1 && twenties > 0))
		buf_putc(out, (char)('G' + ones - 1));
	buf_putc(out, hex[value]);
}

static void
put_run(struct buf *out, size_t count, int value)
{
	while (count > RUN_MAX) {
		put_counted(out, RUN_MAX, value);
		count -= RUN_MAX;
	}
	put_counted(out, count, value);
}

static void
put_row(struct buf *out, const uint8_t *row, size_t bytes)
{
	size_t n = 2 * bytes, i, run;

	while (n > 0 && nibble(row, n - 1) == 0)
		n--;
	for (i = 0; i < n; i += run) {
		run = 1;
		while (i + run < n && nibble(row, i + run) == nibble(row, i))
			run++;
		put_run(out, run, nibble(row, i));
	}
	if (n < 2 * bytes)
		buf_putc(out, ',');
}

static enum rc
zpl_encode(struct buf *out, const struct bitmap *picture,
    const struct lang_media *media, struct err *err)
{
	size_t bytes = picture->stride, total;
	int y;

	total = bytes * (size_t)picture->height;
	if (total > GF_BYTES_MAX)
		return err_set(err, RC_INVALID, 0,
		    "a picture of %d x %d dots is beyond one ZPL graphic field",
		    picture->width, picture->height);
	if (media->darkness_pct < 0 || media->darkness_pct > 100)
		return err_set(err, RC_INVALID, 0,
		    "darkness %d is outside 0 to 100 percent",
		    media->darkness_pct);
	/* A command for the printer, not the label: it stands outside. */
	buf_printf(out, "~SD%02d\n", (media->darkness_pct * 30 + 50) / 100);
	buf_printf(out, "^XA\n^LH0,0\n^PW%d\n^LL%d\n^MN%c\n", picture->width,
	    picture->height, media->gap_mm > 0 ? 'Y' : 'N');
	buf_printf(out, "^FO0,0^GFA,%zu,%zu,%zu,", total, total, bytes);
	for (y = 0; y < picture->height; y++) {
		const uint8_t *row = picture->bits + (size_t)y * bytes;

		if (y > 0 && memcmp(row, row - bytes, bytes) == 0)
			buf_putc(out, ':');
		else
			put_row(out, row, bytes);
	}
	buf_puts(out, "^FS\n^PQ1\n^XZ\n");
	return RC_OK;
}

const struct lang lang_zpl = {
	.name = "zpl",
	.ending = "zpl",
	.command_sets = "ZPL",
	.encode = zpl_encode,
};
