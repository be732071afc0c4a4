/*
 * lang_escpos.c - ESC/POS: the label as raster bit images, one below the other.
 *
 * Source of the commands: ESC/POS references of several makers, pages for
 * ESC @, GS v 0, GS V, FF and DLE EOT.  The language has no words for
 * darkness and speed that two makers share: the printer's own settings stay.
 *
 * Printers act on DLE EOT n wherever it stands, also by chance in picture
 * data, and send a byte nobody asked for: who asks drops what came unasked
 * first.
 */
#include "drivers.h"

#include "lang_media.h"

/* Some makers read the low byte of either count alone. */
#define BAND_ROWS 255
#define BYTES_MAX 255

static void
put_band(struct buf *out, const struct bitmap *picture, int first, int rows)
{
	size_t bytes = picture->stride;

	buf_puts(out, "\x1dv0");
	buf_putc(out, 0); /* neither width nor height doubled */
	buf_putc(out, (char)(bytes & 0xff));
	buf_putc(out, (char)(bytes >> 8));
	buf_putc(out, (char)(rows & 0xff));
	buf_putc(out, (char)(rows >> 8));
	buf_add(
	    out, picture->bits + (size_t)first * bytes, bytes * (size_t)rows);
}

static enum rc
escpos_encode(struct buf *out, const struct bitmap *picture,
    const struct lang_media *media, struct err *err)
{
	int y, rows;
	enum rc rc;

	if ((rc = lang_media_check(media, err)) != RC_OK)
		return rc;
	if (picture->stride > BYTES_MAX)
		return err_set(err, RC_INVALID, 0,
		    "a picture %d dots wide is beyond ESC/POS: at most %d",
		    picture->width, BYTES_MAX * 8);
	buf_puts(out, "\x1b@");
	for (y = 0; y < picture->height; y += BAND_ROWS) {
		rows = picture->height - y;
		put_band(out, picture, y, rows < BAND_ROWS ? rows : BAND_ROWS);
	}
	if (media->gap_mm > 0)
		buf_putc(out, '\f'); /* on to the next label */
	else
		/* Feed what is printed past the cutter and cut; the last byte
		 * is how much further. */
		buf_add(out, "\x1dVB\0", 4);
	return RC_OK;
}

/*
 * The bytes that answer DLE EOT 1, 2, 3 and 4, in this order.  Four bits of
 * each never change.
 */
#define ANSWERS 4
#define FIXED_MASK 0x93
#define FIXED_BITS 0x12

static const char query[] =
    "\x10\x04\x01"
    "\x10\x04\x02"
    "\x10\x04\x03"
    "\x10\x04\x04";

static const struct {
	int answer;
	int mask; /* any of them */
	unsigned bits;
} flags[] = {
	{ 0, 0x08, PRINTER_OFFLINE },
	{ 1, 0x04, PRINTER_COVER_OPEN },
	{ 1, 0x08, PRINTER_BUSY }, /* somebody holds the feed button */
	{ 1, 0x20, PRINTER_PAPER_OUT },
	{ 1, 0x40, PRINTER_FAULT },
	{ 2, 0x08, PRINTER_JAM }, /* cutter */
	{ 2, 0x20, PRINTER_FAULT },
	{ 3, 0x0c, PRINTER_LOW },
	{ 3, 0x60, PRINTER_PAPER_OUT },
};

/*
 * One maker turns the meaning of this bit round, so it only explains an error
 * that another byte reports.  It stands for a hot head, and for a cover opened
 * while printing.
 */
#define RECOVERS_MASK 0x40

static enum rc
escpos_answer(unsigned *state, const uint8_t *buf, size_t len, struct err *err)
{
	unsigned bits = 0;
	size_t i;

	*state = 0;
	if (len > ANSWERS)
		return err_set(err, RC_INVALID, 0,
		    "the printer answered %zu bytes to %d ESC/POS questions",
		    len, ANSWERS);
	for (i = 0; i < len; i++)
		if ((buf[i] & FIXED_MASK) != FIXED_BITS)
			return err_set(err, RC_INVALID, 0,
			    "answer %zu of the printer is no ESC/POS state: "
			    "byte 0x%02x",
			    i + 1, buf[i]);
	if (len < ANSWERS)
		return RC_RETRY;
	for (i = 0; i < sizeof(flags) / sizeof(flags[0]); i++)
		if ((buf[flags[i].answer] & flags[i].mask) != 0)
			bits |= flags[i].bits;
	if ((bits & PRINTER_FAULT) != 0 && (bits & PRINTER_COVER_OPEN) == 0 &&
	    (buf[2] & RECOVERS_MASK) != 0)
		bits |= PRINTER_TOO_HOT;
	*state = bits;
	return RC_OK;
}

const struct lang lang_escpos = {
	.name = "escpos",
	.ending = "escpos",
	.command_sets = "ESCPOS ESC/POS",
	.encode = escpos_encode,
	.query = query,
	.query_len = sizeof(query) - 1,
	.answer = escpos_answer,
};
