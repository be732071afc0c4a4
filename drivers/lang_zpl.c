/*
 * lang_zpl.c - ZPL II: the whole label as graphic fields, one below the other.
 *
 * Source of the commands: ZPL II Programming Guide, pages for ^GF, ^PW, ^LL,
 * ^MN, ^MT, ^PR, ^PQ, ~SD and ~HS.  The compression is the guide's
 * "alternative data compression scheme": G to Y repeat the next digit 1 to 19
 * times, g to z 20 to 400 times, added together; "," fills the row with zeros,
 * ":" repeats the row above.
 */
#include "drivers.h"

#include <string.h>

#include "lang_media.h"

/* ^GF takes counts of up to five digits: a longer picture is several fields. */
#define GF_BYTES_MAX 99999
#define DARKNESS_MAX 30
#define INCHES_MAX 14 /* ^PR */
#define RUN_MAX 419   /* zY, the longest run one pair of letters can say */

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

/* The field stands alone: its first row cannot repeat the row above. */
static void
put_field(struct buf *out, const struct bitmap *picture, int first, int rows)
{
	size_t bytes = picture->stride, total = bytes * (size_t)rows;
	const uint8_t *row = picture->bits + (size_t)first * bytes;
	int y;

	buf_printf(out, "^FO0,%d^GFA,%zu,%zu,%zu,", first, total, total, bytes);
	for (y = 0; y < rows; y++, row += bytes)
		if (y > 0 && memcmp(row, row - bytes, bytes) == 0)
			buf_putc(out, ':');
		else
			put_row(out, row, bytes);
	buf_puts(out, "^FS\n");
}

static enum rc
zpl_encode(struct buf *out, const struct bitmap *picture,
    const struct lang_media *media, struct err *err)
{
	int band = GF_BYTES_MAX / (int)picture->stride, inches, rows, y;
	enum rc rc;

	if ((rc = lang_media_check(media, err)) != RC_OK ||
	    (rc = lang_speed(&inches, media, INCHES_MAX, err)) != RC_OK)
		return rc;
	/* A command for the printer, not the label: it stands outside. */
	buf_printf(out, "~SD%02d\n", lang_darkness(media, DARKNESS_MAX));
	buf_printf(out, "^XA\n^LH0,0\n^PW%d\n^LL%d\n^MN%c\n^MT%c\n",
	    picture->width, picture->height, media->gap_mm > 0 ? 'Y' : 'N',
	    media->ribbon ? 'T' : 'D');
	if (inches > 0)
		buf_printf(out, "^PR%d\n", inches);
	for (y = 0; y < picture->height; y += band) {
		rows = picture->height - y;
		put_field(out, picture, y, rows < band ? rows : band);
	}
	buf_puts(out, "^PQ1\n^XZ\n");
	return RC_OK;
}

/*
 * The answer to ~HS: three strings, each STX ... ETX CR LF, of fields between
 * commas.  How many each has, and the bits of the fields we read; what counts
 * labels or formats is busy when it is not 0.
 */
#define STX 0x02
#define ETX 0x03
#define STRINGS 3
#define FIELD_DIGITS_MAX 9

static const int fields_of[STRINGS] = { 12, 11, 2 };

static const struct {
	int string, field;
	unsigned bit;
} flags[] = {
	{ 0, 1, PRINTER_PAPER_OUT }, { 0, 2, PRINTER_PAUSED },
	{ 0, 4, PRINTER_BUSY },   /* formats in the buffer */
	{ 0, 5, PRINTER_BUSY },   /* buffer full */
	{ 0, 6, PRINTER_FAULT },  /* it prints what it receives as a dump */
	{ 0, 7, PRINTER_BUSY },   /* part of a format received */
	{ 0, 9, PRINTER_FAULT },  /* it has lost its settings */
	{ 0, 10, PRINTER_FAULT }, /* head too cold */
	{ 0, 11, PRINTER_TOO_HOT }, { 1, 2, PRINTER_COVER_OPEN },
	{ 1, 3, PRINTER_RIBBON_OUT },
	{ 1, 7, PRINTER_BUSY }, /* a label waits to be taken off */
	{ 1, 8, PRINTER_BUSY }, /* labels left to print */
};

static unsigned
flag_of(int string, int field)
{
	size_t i;

	for (i = 0; i < sizeof(flags) / sizeof(flags[0]); i++)
		if (flags[i].string == string && flags[i].field == field)
			return flags[i].bit;
	return 0;
}

/* One string from *p on, which stands behind its STX. */
static enum rc
read_string(unsigned *state, const uint8_t **p, const uint8_t *end, int string)
{
	int field = 0, digits = 0;
	bool set = false;

	for (; *p < end; ++*p) {
		if (**p >= '0' && **p <= '9') {
			set = set || **p != '0';
			if (++digits > FIELD_DIGITS_MAX)
				return RC_INVALID;
			continue;
		}
		if (digits == 0 || (**p != ',' && **p != ETX))
			return RC_INVALID;
		if (set)
			*state |= flag_of(string, field);
		field++;
		if (**p == ETX) {
			++*p;
			return field == fields_of[string] ? RC_OK : RC_INVALID;
		}
		if (field == fields_of[string])
			return RC_INVALID;
		digits = 0;
		set = false;
	}
	return RC_RETRY;
}

static enum rc
zpl_answer(unsigned *state, const uint8_t *buf, size_t len, struct err *err)
{
	const uint8_t *p = buf, *end = buf + len;
	unsigned bits = 0;
	enum rc rc = RC_OK;
	int string;

	*state = 0;
	for (string = 0; string < STRINGS && rc == RC_OK; string++) {
		while (p < end && (*p == '\r' || *p == '\n'))
			p++;
		if (p == end)
			return RC_RETRY;
		rc = *p++ == STX ? read_string(&bits, &p, end, string)
				 : RC_INVALID;
	}
	while (p < end && (*p == '\r' || *p == '\n'))
		p++;
	/* Bytes of another answer: nobody knows which of them is the newer. */
	if (rc == RC_OK && p < end)
		rc = RC_INVALID;
	if (rc == RC_OK)
		*state = bits;
	if (rc == RC_INVALID)
		return err_set(err, rc, 0,
		    "what the printer answered is no ZPL host status");
	return rc;
}

const struct lang lang_zpl = {
	.name = "zpl",
	.ending = "zpl",
	.command_sets = "ZPL",
	.encode = zpl_encode,
	.query = "~HS\n",
	.query_len = 4,
	.answer = zpl_answer,
};
