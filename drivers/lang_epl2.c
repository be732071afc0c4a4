/*
 * lang_epl2.c - EPL2 in page mode: the label as one direct graphic.
 *
 * Source of the commands: EPL Programming Guide, pages for N, q, Q, S, D, GW
 * and P; what stands between GW's numbers and its data: the maker's note on
 * GW, a comma or a line end.  Some printers that speak EPL2 besides another
 * language take only one of them, so both are registered.  Source of ^ee and
 * its codes: the programmer's manual of a compatible maker, the guide's page
 * for eR.
 */
#include "drivers.h"

#include <string.h>

#include "lang_media.h"

#define DENSITY_MAX 15
#define INCHES_MAX 6 /* S counts in inches a second on most, from memory */
/* Q: dots of a gap that is not 0. */
#define GAP_MIN_203 16
#define GAP_MIN_300 18
#define GAP_MAX 240

static enum rc
gap_dots(int *dots, const struct lang_media *media, struct err *err)
{
	int min = media->dpi == 203 ? GAP_MIN_203 : GAP_MIN_300;

	*dots = (media->gap_mm * media->dpi * 10 + 127) / 254;
	if (media->gap_mm > 0 && (*dots < min || *dots > GAP_MAX))
		return err_set(err, RC_INVALID, 0,
		    "gap %d mm is outside what EPL2 can say: 0, or %d to %d "
		    "dots",
		    media->gap_mm, min, GAP_MAX);
	return RC_OK;
}

static enum rc
encode(struct buf *out, const struct bitmap *picture,
    const struct lang_media *media, const char *before_data, struct err *err)
{
	int inches, gap;
	enum rc rc;

	if ((rc = lang_media_check(media, err)) != RC_OK ||
	    (rc = lang_speed(&inches, media, INCHES_MAX, err)) != RC_OK ||
	    (rc = gap_dots(&gap, media, err)) != RC_OK)
		return rc;
	/*
	 * A line end first: half a command left behind must not eat N.  N, q
	 * and Q empty the image buffer, so the graphic comes after them.  The
	 * width is that of the graphic in whole bytes, or it would not fit.
	 */
	buf_printf(out, "\nN\nq%zu\nQ%d,%d\n", picture->stride * 8,
	    picture->height, gap);
	if (inches > 0)
		buf_printf(out, "S%d\n", inches);
	buf_printf(out, "D%d\n", lang_darkness(media, DENSITY_MAX));
	buf_printf(out, "GW0,0,%zu,%d%s", picture->stride, picture->height,
	    before_data);
	lang_put_inverted(out, picture);
	buf_puts(out, "\nP1\n");
	return RC_OK;
}

static enum rc
epl2_encode(struct buf *out, const struct bitmap *picture,
    const struct lang_media *media, struct err *err)
{
	return encode(out, picture, media, ",", err);
}

static enum rc
epl2_lf_encode(struct buf *out, const struct bitmap *picture,
    const struct lang_media *media, struct err *err)
{
	return encode(out, picture, media, "\n", err);
}

/* Codes of two digits; one that is not here is a fault. */
static const struct {
	int code;
	unsigned bits;
} codes[] = {
	{ 0, 0 },
	{ 7, PRINTER_PAPER_OUT }, /* labels or ribbon */
	{ 11, PRINTER_COVER_OPEN },
	{ 62, PRINTER_TOO_HOT },
	{ 81, PRINTER_JAM }, /* cutter */
	{ 92, PRINTER_PAUSED },
};

static unsigned
bits_of(int code)
{
	size_t i;

	for (i = 0; i < sizeof(codes) / sizeof(codes[0]); i++)
		if (codes[i].code == code)
			return codes[i].bits;
	return PRINTER_FAULT;
}

static bool
is_digit(uint8_t c)
{
	return c >= '0' && c <= '9';
}

/*
 * One code at p, of n bytes: two digits, and behind 07 perhaps P or R and the
 * number of labels left.  R says that it is the ribbon.
 */
static bool
read_code(unsigned *state, const uint8_t *p, size_t n)
{
	size_t i;

	if (n < 2 || !is_digit(p[0]) || !is_digit(p[1]))
		return false;
	if (n == 2) {
		*state |= bits_of((p[0] - '0') * 10 + p[1] - '0');
		return true;
	}
	if (memcmp(p, "07", 2) != 0 || (p[2] != 'P' && p[2] != 'R') || n < 4 ||
	    n > 8)
		return false;
	for (i = 3; i < n; i++)
		if (!is_digit(p[i]))
			return false;
	*state |= p[2] == 'R' ? PRINTER_RIBBON_OUT : PRINTER_PAPER_OUT;
	return true;
}

static bool
read_codes(unsigned *state, const uint8_t *p, const uint8_t *end)
{
	const uint8_t *comma;

	while ((comma = memchr(p, ',', (size_t)(end - p))) != NULL) {
		if (!read_code(state, p, (size_t)(comma - p)))
			return false;
		p = comma + 1;
	}
	return read_code(state, p, (size_t)(end - p));
}

#define ANSWER_MAX 64 /* far more codes than a printer has at once */

/* The answer to ^ee: "00", or codes between commas, and CR LF. */
static enum rc
epl2_answer(unsigned *state, const uint8_t *buf, size_t len, struct err *err)
{
	const uint8_t *end = buf;
	size_t left;
	unsigned bits = 0;

	*state = 0;
	while (end < buf + len &&
	    (is_digit(*end) || *end == ',' || *end == 'P' || *end == 'R'))
		end++;
	left = len - (size_t)(end - buf);
	if (end - buf <= ANSWER_MAX && left < 2 && (left == 0 || *end == '\r'))
		return RC_RETRY;
	if (left != 2 || memcmp(end, "\r\n", 2) != 0 ||
	    !read_codes(&bits, buf, end))
		return err_set(err, RC_INVALID, 0,
		    "what the printer answered is no list of EPL2 error codes");
	*state = bits;
	return RC_OK;
}

#define EPL2_QUERY "^ee\n"

const struct lang lang_epl2 = {
	.name = "epl2",
	.ending = "epl",
	.command_sets = "EPL",
	.encode = epl2_encode,
	.query = EPL2_QUERY,
	.query_len = sizeof(EPL2_QUERY) - 1,
	.answer = epl2_answer,
};

const struct lang lang_epl2_lf = {
	.name = "epl2-lf",
	.ending = "epl",
	.command_sets = "EPL",
	.encode = epl2_lf_encode,
	.query = EPL2_QUERY,
	.query_len = sizeof(EPL2_QUERY) - 1,
	.answer = epl2_answer,
};
