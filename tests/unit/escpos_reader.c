/* escpos_reader.c - a printer's side of the ESC/POS subset we send. */
#include "escpos_reader.h"

#include "wire.h"

struct reader {
	struct wire w;
	struct seen_label label;
	uint8_t rows[BITMAP_SIDE_MAX * (BITMAP_SIDE_MAX / 8)];
	int bytes, height;
	bool reset, done;
};

static bool
raster(struct reader *r)
{
	struct wire *w = &r->w;
	const uint8_t *h = wire_bytes(w, 5), *data;
	int bytes, rows;

	if (h == NULL)
		return false;
	if (h[0] != 0 && h[0] != 48)
		return wire_fail(w, "a mode that is not the plain one");
	bytes = h[1] + h[2] * 256;
	rows = h[3] + h[4] * 256;
	if (bytes < 1 || rows < 1 || h[2] != 0 || h[4] != 0)
		return wire_fail(w, "a count some printers cut short");
	if (r->bytes != 0 && bytes != r->bytes)
		return wire_fail(w, "bands of different widths");
	if (r->height + rows > BITMAP_SIDE_MAX)
		return wire_fail(w, "too many rows");
	if ((data = wire_bytes(w, (size_t)bytes * (size_t)rows)) == NULL)
		return false;
	r->bytes = bytes;
	memcpy(r->rows + r->height * bytes, data, (size_t)(bytes * rows));
	r->height += rows;
	return true;
}

static bool
command(struct reader *r)
{
	struct wire *w = &r->w;
	const uint8_t *h;

	if (wire_is(w, "\x1b@")) {
		r->reset = true;
		return r->height == 0 || wire_fail(w, "reset in mid-label");
	}
	if (!r->reset)
		return wire_fail(w, "no reset first");
	if (wire_is(w, "\x1dv0"))
		return raster(r);
	r->done = true;
	if (wire_is(w, "\f")) {
		r->label.gap = 1;
		return true;
	}
	/* 65 and 66 feed to the cutter and cut; the byte behind feeds more */
	if (wire_is(w, "\x1dV") && (h = wire_bytes(w, 2)) != NULL &&
	    (h[0] == 65 || h[0] == 66)) {
		r->label.gap = 0;
		r->label.cut = true;
		return true;
	}
	return wire_fail(w, "command not known");
}

static bool
whole(struct reader *r)
{
	int i, bit;

	while (r->w.p < r->w.end) {
		if (r->done)
			return wire_fail(&r->w, "something behind the end");
		if (!command(r))
			return false;
	}
	if (!r->done || r->height == 0)
		return wire_fail(&r->w, "nothing printed, or not fed out");
	r->label.picture = bitmap_new(r->bytes * 8, r->height);
	for (i = 0; i < r->bytes * r->height; i++)
		for (bit = 0; bit < 8; bit++)
			if ((r->rows[i] >> (7 - bit) & 1) != 0)
				bitmap_set(r->label.picture,
				    i % r->bytes * 8 + bit, i / r->bytes, true);
	r->label.copies = 1;
	return true;
}

bool
escpos_read(
    struct seen_label *out, const char **why, const char *data, size_t len)
{
	static struct reader r;
	bool ok;

	memset(&r, 0, offsetof(struct reader, rows));
	r.bytes = r.height = 0;
	r.reset = r.done = false;
	r.w.p = (const uint8_t *)data;
	r.w.end = r.w.p + len;
	seen_nothing(&r.label);
	ok = whole(&r);
	*out = r.label;
	*why = r.w.why;
	return ok;
}
