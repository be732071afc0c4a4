/* epl2_reader.c - a label printer's side of the EPL2 subset we send. */
#include "epl2_reader.h"

#include "wire.h"

#define BYTES_MAX (BITMAP_SIDE_MAX / 8)

struct reader {
	struct wire w;
	bool comma; /* before the data of GW; else a line end */
	struct seen_label label;
	bool started, printed;
};

static bool
line_end(struct wire *w)
{
	return wire_is(w, "\r\n") || wire_is(w, "\n");
}

/* N, q and Q take graphics out of the image buffer. */
static void
erase(struct reader *r)
{
	bitmap_free(r->label.picture);
	r->label.picture = NULL;
}

/* Bit 0 prints; the most significant bit is leftmost. */
static bool
graphic(struct reader *r)
{
	struct wire *w = &r->w;
	int x, y, bytes, rows, i, bit;
	const uint8_t *data;

	if (!wire_number(w, &x) || !wire_is(w, ",") || !wire_number(w, &y) ||
	    !wire_is(w, ",") || !wire_number(w, &bytes) || !wire_is(w, ",") ||
	    !wire_number(w, &rows))
		return wire_fail(w, "GW needs four numbers");
	if (r->comma ? !wire_is(w, ",") : !line_end(w))
		return wire_fail(w, "GW without its mark before the data");
	if (bytes < 1 || bytes > BYTES_MAX || rows < 1 || x > 400 || y > 400 ||
	    rows > BITMAP_SIDE_MAX - y || bytes * 8 > BITMAP_SIDE_MAX - x)
		return wire_fail(w, "GW out of range");
	if (!r->started || r->label.picture != NULL)
		return wire_fail(w, "GW before N, or twice");
	if ((r->label.width != NOT_SAID && x + bytes * 8 > r->label.width) ||
	    (r->label.height != NOT_SAID && y + rows > r->label.height))
		return wire_fail(w, "GW beyond the image buffer");
	if ((data = wire_bytes(w, (size_t)bytes * (size_t)rows)) == NULL)
		return false;
	r->label.picture = bitmap_new(x + bytes * 8, y + rows);
	for (i = 0; i < bytes * rows; i++)
		for (bit = 0; bit < 8; bit++)
			if ((data[i] >> (7 - bit) & 1) == 0)
				bitmap_set(r->label.picture,
				    x + i % bytes * 8 + bit, y + i / bytes,
				    true);
	return true;
}

/* Gaps are 0 or 16 dots and more; 18 on a 300 dpi head. */
static bool
form_length(struct reader *r)
{
	erase(r);
	return wire_number(&r->w, &r->label.height) && wire_is(&r->w, ",") &&
	    wire_number(&r->w, &r->label.gap) &&
	    (r->label.gap == 0 || (r->label.gap >= 16 && r->label.gap <= 240) ||
		wire_fail(&r->w, "gap out of range"));
}

static bool
print(struct reader *r)
{
	if (r->label.picture == NULL)
		return wire_fail(&r->w, "P of nothing");
	r->printed = true;
	r->label.copies = 1;
	if (r->w.p < r->w.end && *r->w.p >= '0' && *r->w.p <= '9')
		return wire_number(&r->w, &r->label.copies);
	return true;
}

static bool
command(struct reader *r)
{
	struct wire *w = &r->w;

	if (wire_is(w, "GW"))
		return graphic(r);
	if (wire_is(w, "N")) {
		erase(r);
		r->started = true;
		return true;
	}
	if (wire_is(w, "q")) {
		erase(r);
		return wire_number(w, &r->label.width);
	}
	if (wire_is(w, "Q"))
		return form_length(r);
	if (wire_is(w, "S"))
		return wire_number(w, &r->label.speed) &&
		    (r->label.speed <= 6 || wire_fail(w, "S beyond 6"));
	if (wire_is(w, "D"))
		return wire_number(w, &r->label.darkness) &&
		    (r->label.darkness <= 15 || wire_fail(w, "D beyond 15"));
	if (wire_is(w, "P"))
		return print(r);
	return wire_fail(w, "command not known");
}

static bool
whole(struct reader *r)
{
	struct wire *w = &r->w;

	while (w->p < w->end) {
		if (line_end(w))
			continue;
		if (r->printed)
			return wire_fail(w, "something behind P");
		if (!command(r))
			return wire_fail(w, "command not whole");
		/* behind the data of GW no line end is needed */
		if (!line_end(w) && (r->printed || r->label.picture == NULL))
			return wire_fail(w, "line not ended");
	}
	return r->printed || wire_fail(w, "not printed");
}

static bool
read_label(struct seen_label *out, const char **why, const char *data,
    size_t len, bool comma)
{
	struct reader r = { .w = { (const uint8_t *)data,
				(const uint8_t *)data + len, NULL },
		.comma = comma };
	bool ok;

	seen_nothing(&r.label);
	ok = whole(&r);
	if (!ok)
		erase(&r);
	*out = r.label;
	*why = r.w.why;
	return ok;
}

bool
epl2_read_comma(
    struct seen_label *out, const char **why, const char *data, size_t len)
{
	return read_label(out, why, data, len, true);
}

bool
epl2_read_lf(
    struct seen_label *out, const char **why, const char *data, size_t len)
{
	return read_label(out, why, data, len, false);
}
