/* zpl_reader.c - a label printer's side of the ZPL subset we send. */
#include "zpl_reader.h"

#include <stdint.h>
#include <string.h>

struct reader {
	const char *p, *end;
	const char *why;
	int width, length; /* ^PW, ^LL */
	int x, y;          /* ^FO */
	int repeat;        /* counts read and not yet used */
	struct zpl_label label;
};

static bool
fail(struct reader *r, const char *why)
{
	if (r->why == NULL)
		r->why = why;
	return false;
}

static bool
number(struct reader *r, int *out)
{
	int n = 0, digits = 0;

	for (; r->p < r->end && *r->p >= '0' && *r->p <= '9'; r->p++) {
		n = n * 10 + *r->p - '0';
		if (++digits > 5)
			return fail(r, "number of more than five digits");
	}
	*out = n;
	return digits > 0 ? true : fail(r, "number expected");
}

static bool
take(struct reader *r, char c)
{
	if (r->p == r->end || *r->p != c)
		return fail(r, "separator expected");
	r->p++;
	return true;
}

static int
hex_value(char c)
{
	if (c >= '0' && c <= '9')
		return c - '0';
	return c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
}

/* G..Y are 1..19, g..z are 20..400 in steps of 20; they add up. */
static int
repeat_value(char c)
{
	if (c >= 'G' && c <= 'Y')
		return c - 'G' + 1;
	return c >= 'g' && c <= 'z' ? (c - 'g' + 1) * 20 : 0;
}

static bool
dots(struct reader *r, int row, int at, int count, int value)
{
	struct bitmap *bm = r->label.picture;
	int i, bit, x;

	for (i = at; i < at + count; i++)
		for (bit = 0; bit < 4; bit++) {
			if ((value >> (3 - bit) & 1) == 0)
				continue;
			x = r->x + i * 4 + bit;
			if (x >= bm->width || r->y + row >= bm->height)
				return fail(r, "ink beyond the label");
			bitmap_set(bm, x, r->y + row, true);
		}
	return true;
}

static void
repeat_row(struct reader *r, int row)
{
	struct bitmap *bm = r->label.picture;
	int x;

	for (x = 0; x < bm->width; x++)
		if (bitmap_get(bm, x, r->y + row - 1))
			bitmap_set(bm, x, r->y + row, true);
}

/* One character of the data of row `row`; *at counts its digits so far. */
static bool
data_char(struct reader *r, char c, int row, int *at, int digits)
{
	int value = hex_value(c), n;

	if (repeat_value(c) > 0) {
		r->repeat += repeat_value(c);
		return true;
	}
	n = r->repeat > 0 ? r->repeat : 1;
	if (value < 0) {
		if (r->repeat > 0)
			return fail(r, "repeat count without a digit");
		n = digits - *at;
		if (c == ':' && *at == 0 && row > 0)
			repeat_row(r, row);
		else if (c == '!')
			value = 15;
		else if (c != ',')
			return fail(r, "stray character in the data");
		if (value < 0)
			value = 0;
	}
	r->repeat = 0;
	if (*at + n > digits)
		return fail(r, "row longer than its bytes");
	if (!dots(r, row, *at, n, value))
		return false;
	*at += n;
	return true;
}

static bool
graphic(struct reader *r)
{
	int sent, total, per_row, row, at;

	if (!take(r, 'A') || !take(r, ',') || !number(r, &sent) ||
	    !take(r, ',') || !number(r, &total) || !take(r, ',') ||
	    !number(r, &per_row) || !take(r, ','))
		return false;
	/* each is 1 to 99999: number() takes five digits */
	if (sent != total || per_row == 0 || total % per_row != 0)
		return fail(r, "^GF counts do not agree");
	if (r->label.picture == NULL)
		return fail(r, "^GF before ^PW and ^LL");
	for (row = 0, at = 0; row < total / per_row;) {
		if (r->p == r->end || *r->p == '^' || *r->p == '~')
			return fail(r, "^GF data ends early");
		if (*r->p != '\n' && *r->p != '\r' &&
		    !data_char(r, *r->p, row, &at, per_row * 2))
			return false;
		r->p++;
		if (at == per_row * 2) {
			at = 0;
			row++;
		}
	}
	return true;
}

static bool
is_command(struct reader *r, const char *name)
{
	if (r->end - r->p < 3 || memcmp(r->p, name, 3) != 0)
		return false;
	r->p += 3;
	return true;
}

static bool
size_known(struct reader *r)
{
	if (r->width == 0 || r->length == 0 || r->label.picture != NULL)
		return true;
	if (r->width > BITMAP_SIDE_MAX || r->length > BITMAP_SIDE_MAX)
		return fail(r, "label too large");
	r->label.picture = bitmap_new(r->width, r->length);
	return true;
}

static bool
letter(struct reader *r, char *out)
{
	if (r->p == r->end)
		return fail(r, "command without its letter");
	*out = *r->p++;
	return true;
}

static bool
command(struct reader *r)
{
	if (is_command(r, "^LH")) {
		if (number(r, &r->x) && take(r, ',') && number(r, &r->y) &&
		    r->x == 0 && r->y == 0)
			return true;
		return fail(r, "^LH away from the corner");
	}
	if (is_command(r, "^PW"))
		return number(r, &r->width) && size_known(r);
	if (is_command(r, "^LL"))
		return number(r, &r->length) && size_known(r);
	if (is_command(r, "^MN"))
		return letter(r, &r->label.tracking);
	if (is_command(r, "^MT"))
		return letter(r, &r->label.media);
	if (is_command(r, "^PR"))
		return number(r, &r->label.speed);
	if (is_command(r, "^FO"))
		return number(r, &r->x) && take(r, ',') && number(r, &r->y);
	if (is_command(r, "^GF"))
		return graphic(r);
	if (is_command(r, "^FS"))
		return true;
	if (is_command(r, "^PQ"))
		return number(r, &r->label.copies);
	return fail(r, "command not known");
}

static void
skip_lines(struct reader *r)
{
	while (r->p < r->end && (*r->p == '\n' || *r->p == '\r'))
		r->p++;
}

static bool
whole(struct reader *r)
{
	skip_lines(r);
	if (is_command(r, "~SD") && !number(r, &r->label.darkness))
		return false;
	skip_lines(r);
	if (!is_command(r, "^XA"))
		return fail(r, "^XA expected");
	for (;;) {
		skip_lines(r);
		if (is_command(r, "^XZ"))
			break;
		if (!command(r))
			return false;
	}
	skip_lines(r);
	if (r->p != r->end)
		return fail(r, "more than one label");
	return r->label.picture != NULL ? true : fail(r, "no picture");
}

bool
zpl_read(struct zpl_label *out, const char **why, const char *data, size_t len)
{
	struct reader r = { .p = data, .end = data + len };
	bool ok;

	r.label.darkness = -1;
	r.label.copies = -1;
	r.label.speed = -1;
	ok = whole(&r);
	if (!ok) {
		bitmap_free(r.label.picture);
		r.label.picture = NULL;
	}
	*out = r.label;
	*why = r.why;
	return ok;
}
