/* zpl_reader.c - a label printer's side of the ZPL subset we send. */
#include "zpl_reader.h"

#include "wire.h"

struct reader {
	struct wire w;
	int width, length; /* ^PW, ^LL */
	int x, y;          /* ^FO */
	int repeat;        /* counts read and not yet used */
	struct zpl_label label;
};

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
				return wire_fail(&r->w, "ink beyond the label");
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
			return wire_fail(&r->w, "repeat count without a digit");
		n = digits - *at;
		if (c == ':' && *at == 0 && row > 0)
			repeat_row(r, row);
		else if (c == '!')
			value = 15;
		else if (c != ',')
			return wire_fail(&r->w, "stray character in the data");
		if (value < 0)
			value = 0;
	}
	r->repeat = 0;
	if (*at + n > digits)
		return wire_fail(&r->w, "row longer than its bytes");
	if (!dots(r, row, *at, n, value))
		return false;
	*at += n;
	return true;
}

static bool
graphic(struct reader *r)
{
	int sent, total, per_row, row, at;

	if (!wire_is(&r->w, "A") || !wire_is(&r->w, ",") ||
	    !wire_number(&r->w, &sent) || !wire_is(&r->w, ",") ||
	    !wire_number(&r->w, &total) || !wire_is(&r->w, ",") ||
	    !wire_number(&r->w, &per_row) || !wire_is(&r->w, ","))
		return false;
	/* each is 1 to 99999: a number here has five digits */
	if (sent != total || per_row == 0 || total % per_row != 0)
		return wire_fail(&r->w, "^GF counts do not agree");
	if (r->label.picture == NULL)
		return wire_fail(&r->w, "^GF before ^PW and ^LL");
	for (row = 0, at = 0; row < total / per_row;) {
		if (r->w.p == r->w.end || *r->w.p == '^' || *r->w.p == '~')
			return wire_fail(&r->w, "^GF data ends early");
		if (*r->w.p != '\n' && *r->w.p != '\r' &&
		    !data_char(r, (char)*r->w.p, row, &at, per_row * 2))
			return false;
		r->w.p++;
		if (at == per_row * 2) {
			at = 0;
			row++;
		}
	}
	return true;
}

static bool
size_known(struct reader *r)
{
	if (r->width == 0 || r->length == 0 || r->label.picture != NULL)
		return true;
	if (r->width > BITMAP_SIDE_MAX || r->length > BITMAP_SIDE_MAX)
		return wire_fail(&r->w, "label too large");
	r->label.picture = bitmap_new(r->width, r->length);
	return true;
}

static bool
letter(struct reader *r, char *out)
{
	if (r->w.p == r->w.end)
		return wire_fail(&r->w, "command without its letter");
	*out = (char)*r->w.p++;
	return true;
}

static bool
command(struct reader *r)
{
	if (wire_is(&r->w, "^LH")) {
		if (wire_number(&r->w, &r->x) && wire_is(&r->w, ",") &&
		    wire_number(&r->w, &r->y) && r->x == 0 && r->y == 0)
			return true;
		return wire_fail(&r->w, "^LH away from the corner");
	}
	if (wire_is(&r->w, "^PW"))
		return wire_number(&r->w, &r->width) && size_known(r);
	if (wire_is(&r->w, "^LL"))
		return wire_number(&r->w, &r->length) && size_known(r);
	if (wire_is(&r->w, "^MN"))
		return letter(r, &r->label.tracking);
	if (wire_is(&r->w, "^MT"))
		return letter(r, &r->label.media);
	if (wire_is(&r->w, "^PR"))
		return wire_number(&r->w, &r->label.speed);
	if (wire_is(&r->w, "^FO"))
		return wire_number(&r->w, &r->x) && wire_is(&r->w, ",") &&
		    wire_number(&r->w, &r->y);
	if (wire_is(&r->w, "^GF"))
		return graphic(r);
	if (wire_is(&r->w, "^FS"))
		return true;
	if (wire_is(&r->w, "^PQ"))
		return wire_number(&r->w, &r->label.copies);
	return wire_fail(&r->w, "command not known");
}

static void
skip_lines(struct reader *r)
{
	while (r->w.p < r->w.end && (*r->w.p == '\n' || *r->w.p == '\r'))
		r->w.p++;
}

static bool
whole(struct reader *r)
{
	skip_lines(r);
	if (wire_is(&r->w, "~SD") && !wire_number(&r->w, &r->label.darkness))
		return false;
	skip_lines(r);
	if (!wire_is(&r->w, "^XA"))
		return wire_fail(&r->w, "^XA expected");
	for (;;) {
		skip_lines(r);
		if (wire_is(&r->w, "^XZ"))
			break;
		if (!command(r))
			return false;
	}
	skip_lines(r);
	if (r->w.p != r->w.end)
		return wire_fail(&r->w, "more than one label");
	return r->label.picture != NULL ? true : wire_fail(&r->w, "no picture");
}

bool
zpl_read(struct zpl_label *out, const char **why, const char *data, size_t len)
{
	struct reader r = { .w = { (const uint8_t *)data,
				(const uint8_t *)data + len, NULL } };
	bool ok;

	r.label.darkness = -1;
	r.label.copies = -1;
	r.label.speed = -1;
	ok = whole(&r);
	if (!ok) {
		wire_fail(&r.w, "separator expected");
		bitmap_free(r.label.picture);
		r.label.picture = NULL;
	}
	*out = r.label;
	*why = r.w.why;
	return ok;
}
