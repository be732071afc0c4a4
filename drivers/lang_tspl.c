/*
 * lang_tspl.c - TSPL and TSPL2: the label as one bitmap.
 *
 * Source of the commands: TSPL/TSPL2 Programming Language manual, pages for
 * SIZE, GAP, DENSITY, SPEED, DIRECTION, CLS, BITMAP, PRINT and <ESC>!?; that a
 * 0 prints and a 1 does not: how two open drivers send BITMAP.
 */
#include "drivers.h"

#include "lang_media.h"

#define DENSITY_MAX 15
#define INCHES_MAX 18 /* the fastest printer of the family, from memory */

static enum rc
tspl_encode(struct buf *out, const struct bitmap *picture,
    const struct lang_media *media, struct err *err)
{
	int inches;
	enum rc rc;

	if ((rc = lang_media_check(media, err)) != RC_OK ||
	    (rc = lang_speed(&inches, media, INCHES_MAX, err)) != RC_OK)
		return rc;
	/* A line end first: half a command left behind must not eat SIZE. */
	buf_printf(out, "\r\nSIZE %d mm,%d mm\r\n", media->width_mm,
	    lang_height_mm(media, picture));
	if (media->gap_mm > 0)
		buf_printf(out, "GAP %d mm,0 mm\r\n", media->gap_mm);
	else
		buf_puts(out, "GAP 0,0\r\n");
	buf_printf(out, "DENSITY %d\r\n", lang_darkness(media, DENSITY_MAX));
	if (inches > 0)
		buf_printf(out, "SPEED %d\r\n", inches);
	buf_puts(out, "DIRECTION 0\r\nCLS\r\n");
	buf_printf(
	    out, "BITMAP 0,0,%zu,%d,0,", picture->stride, picture->height);
	lang_put_inverted(out, picture);
	buf_puts(out, "\r\nPRINT 1,1\r\n");
	return RC_OK;
}

/* Bits of the byte that answers <ESC>!?, from the lowest. */
static const unsigned bits[8] = {
	PRINTER_COVER_OPEN, /* head open */
	PRINTER_JAM,        /* paper jammed */
	PRINTER_PAPER_OUT,  /* no paper */
	PRINTER_RIBBON_OUT, /* no ribbon */
	PRINTER_PAUSED,     /* pause */
	PRINTER_BUSY,       /* printing */
	PRINTER_COVER_OPEN, /* cover open, an option */
	PRINTER_TOO_HOT,    /* temperature, an option */
};

static enum rc
tspl_answer(unsigned *state, const uint8_t *buf, size_t len, struct err *err)
{
	int i;

	*state = 0;
	if (len == 0)
		return RC_RETRY;
	/* No bit of it is fixed, so the count alone tells an answer. */
	if (len > 1)
		return err_set(err, RC_INVALID, 0,
		    "the printer answered %zu bytes to the TSPL question for "
		    "its state, not 1",
		    len);
	for (i = 0; i < 8; i++)
		if ((buf[0] >> i & 1) != 0)
			*state |= bits[i];
	return RC_OK;
}

const struct lang lang_tspl = {
	.name = "tspl",
	.ending = "tspl",
	.command_sets = "TSPL",
	.encode = tspl_encode,
	.query = "\x1b!?",
	.query_len = 3,
	.answer = tspl_answer,
};
