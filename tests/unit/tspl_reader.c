/* tspl_reader.c - a label printer's side of the TSPL subset we send. */
#include "tspl_reader.h"

#include "wire.h"

#define BYTES_MAX (BITMAP_SIDE_MAX / 8)

struct reader {
	struct wire w;
	struct seen_label label;
	bool cleared, printed;
};

static bool
pair(struct wire *w, const char *unit, int *a, int *b)
{
	return wire_number(w, a) && wire_is(w, unit) && wire_is(w, ",") &&
	    wire_number(w, b) && wire_is(w, unit);
}

static bool
size(struct reader *r)
{
	if (!pair(&r->w, " mm", &r->label.width, &r->label.height))
		return wire_fail(&r->w, "SIZE needs two lengths in mm");
	if (r->label.width == 0 || r->label.height == 0)
		return wire_fail(&r->w, "SIZE of nothing");
	return true;
}

/* In mm with the unit behind a blank; "0,0" is a continuous roll. */
static bool
gap(struct reader *r)
{
	int offset;

	if (wire_is(&r->w, "0,0")) {
		r->label.gap = 0;
		return true;
	}
	if (!pair(&r->w, " mm", &r->label.gap, &offset) || offset != 0)
		return wire_fail(&r->w, "GAP needs two lengths in mm");
	/* the manual's range is 0 to 25.4 mm */
	if (r->label.gap < 1 || r->label.gap > 25)
		return wire_fail(&r->w, "GAP out of range");
	return true;
}

/* Bit 0 prints; the most significant bit is leftmost. */
static bool
bitmap(struct reader *r)
{
	int x, y, bytes, rows, mode, i, bit;
	const uint8_t *data;
	struct wire *w = &r->w;

	if (!wire_number(w, &x) || !wire_is(w, ",") || !wire_number(w, &y) ||
	    !wire_is(w, ",") || !wire_number(w, &bytes) || !wire_is(w, ",") ||
	    !wire_number(w, &rows) || !wire_is(w, ",") ||
	    !wire_number(w, &mode) || !wire_is(w, ","))
		return wire_fail(w, "BITMAP needs five numbers");
	if (x != 0 || y != 0 || mode > 2 || bytes < 1 || bytes > BYTES_MAX ||
	    rows < 1 || rows > BITMAP_SIDE_MAX)
		return wire_fail(w, "BITMAP out of range");
	if (r->label.width == NOT_SAID || r->label.gap == NOT_SAID ||
	    !r->cleared || r->label.picture != NULL)
		return wire_fail(w, "BITMAP before SIZE, GAP and CLS");
	if ((data = wire_bytes(w, (size_t)bytes * (size_t)rows)) == NULL)
		return false;
	r->label.picture = bitmap_new(bytes * 8, rows);
	for (i = 0; i < bytes * rows; i++)
		for (bit = 0; bit < 8; bit++)
			if ((data[i] >> (7 - bit) & 1) == 0)
				bitmap_set(r->label.picture,
				    i % bytes * 8 + bit, i / bytes, true);
	return true;
}

static bool
print(struct reader *r)
{
	int sets, copies;

	if (!wire_number(&r->w, &sets) || !wire_is(&r->w, ",") ||
	    !wire_number(&r->w, &copies))
		return wire_fail(&r->w, "PRINT needs two numbers");
	if (r->label.picture == NULL)
		return wire_fail(&r->w, "PRINT of nothing");
	r->label.copies = sets * copies;
	r->printed = true;
	return true;
}

static bool
command(struct reader *r)
{
	struct wire *w = &r->w;
	int direction;

	if (wire_is(w, "SIZE "))
		return size(r);
	if (wire_is(w, "GAP "))
		return gap(r);
	if (wire_is(w, "DENSITY "))
		return wire_number(w, &r->label.darkness) &&
		    (r->label.darkness <= 15 ||
			wire_fail(w, "DENSITY beyond 15"));
	if (wire_is(w, "SPEED "))
		return wire_number(w, &r->label.speed);
	if (wire_is(w, "DIRECTION "))
		return wire_number(w, &direction) &&
		    (direction <= 1 || wire_fail(w, "DIRECTION beyond 1"));
	if (wire_is(w, "BITMAP "))
		return bitmap(r);
	if (wire_is(w, "PRINT "))
		return print(r);
	if (!wire_is(w, "CLS"))
		return wire_fail(w, "command not known");
	r->cleared = true;
	return true;
}

static bool
whole(struct reader *r)
{
	struct wire *w = &r->w;

	while (w->p < w->end) {
		if (wire_is(w, "\r\n"))
			continue;
		if (r->printed)
			return wire_fail(w, "something behind PRINT");
		if (!command(r))
			return wire_fail(w, "command not whole");
		if (!wire_is(w, "\r\n"))
			return wire_fail(w, "line not ended by CR LF");
	}
	return r->printed || wire_fail(w, "not printed");
}

bool
tspl_read(
    struct seen_label *out, const char **why, const char *data, size_t len)
{
	struct reader r = { .w = { (const uint8_t *)data,
				(const uint8_t *)data + len, NULL } };
	bool ok;

	seen_nothing(&r.label);
	ok = whole(&r);
	if (!ok) {
		bitmap_free(r.label.picture);
		r.label.picture = NULL;
	}
	*out = r.label;
	*why = r.w.why;
	return ok;
}
