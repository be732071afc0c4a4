/*
 * bench_label.c - from facts to bytes: labels per second on one core, and how
 * the steps compare, measured side by side in one run.
 *
 * Tab-separated: what, labels, nanoseconds each, bytes each, ratio to the first
 * row.  The head's own limit for 60 x 40 mm plus 3 mm gap at 100 mm/s is 430 ms
 * a label (arithmetic: 43 mm / 100 mm/s).
 */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/clock.h"
#include "base/str.h"
#include "driver/lang.h"
#include "labels/font.h"
#include "labels/label.h"

#define HEAD_NS 430000000.0

struct row {
	const char *what;
	int width_mm, height_mm, dpi;
	const char *lang; /* NULL: picture only */
};

static const struct row rows[] = {
	{ "picture 60x40 203 dpi", 60, 40, 203, NULL },
	{ "zpl 60x40 203 dpi", 60, 40, 203, "zpl" },
	{ "zpl 60x40 300 dpi", 60, 40, 300, "zpl" },
	{ "zpl 50x25 203 dpi", 50, 25, 203, "zpl" },
	{ "png 60x40 203 dpi", 60, 40, 203, "png" },
};

static void
fill(struct label_facts *f, int n)
{
	f->kind = LABEL_TRAY;
	str_copy(f->product, sizeof(f->product), "Roast hake, white beans");
	str_copy(
	    f->species, sizeof(f->species), "Hake (Merluccius merluccius)");
	f->made.day = DAY_MIN + 9000;
	f->made.hour = 8;
	f->use_by.day = DAY_MIN + 9001 + n % 3;
	f->use_by.hour = 23;
	f->use_by.minute = 59;
	str_copy(f->by, sizeof(f->by), "AK");
	str_copy(f->batch, sizeof(f->batch), "26338-011");
	str_copy(f->code, sizeof(f->code), "000-01U");
	str_fmt(
	    f->quantity, sizeof(f->quantity), "%d portions, 960 g", n % 9 + 2);
	str_copy(f->allergens, sizeof(f->allergens), "Fish; milk");
	str_copy(f->origin, sizeof(f->origin), "Caught, 27.7.j, trawls");
	str_copy(f->storage, sizeof(f->storage), "Keep at 0 to 2 C");
	str_fmt(f->symbol, sizeof(f->symbol),
	    "[91]100001U2633801126120523%02dX", n % 60);
}

/* One label; the bytes made. */
static size_t
make(const struct row *r, struct fonts *fonts, int n)
{
	struct label_media m = { r->width_mm, r->height_mm, r->dpi };
	struct lang_media lm = {
		.dpi = r->dpi,
		.width_mm = r->width_mm,
		.height_mm = r->height_mm,
		.gap_mm = 3,
		.darkness_pct = 50,
	};
	struct label_facts f = { 0 };
	struct bitmap *picture = NULL;
	struct err err = { 0 };
	struct buf out;
	size_t len;

	fill(&f, n);
	buf_init(&out, (size_t)1 << 22);
	if (label_render(&picture, &f, &m, fonts, &err) != RC_OK ||
	    (r->lang != NULL &&
		lang_find(r->lang)->encode(&out, picture, &lm, &err) !=
		    RC_OK)) {
		fprintf(stderr, "bench_label: %s\n", err.text);
		exit(1);
	}
	len = r->lang == NULL ? picture->stride * (size_t)picture->height
			      : out.len;
	bitmap_free(picture);
	buf_fini(&out);
	return len;
}

int
main(void)
{
	struct fonts *fonts = NULL;
	struct err err = { 0 };
	double first = 0, each;
	size_t i, bytes;
	int64_t start, ms;
	int n;

	if (fonts_open(&fonts,
		"/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf",
		"/usr/share/fonts/truetype/dejavu/DejaVuSansMono-Bold.ttf",
		&err) != RC_OK) {
		fprintf(stderr, "bench_label: %s\n", err.text);
		return 1;
	}
	printf("what\tlabels\tns_each\tbytes_each\tratio\tof_head_time\n");
	for (i = 0; i < sizeof(rows) / sizeof(rows[0]); i++) {
		bytes = 0;
		make(&rows[i], fonts, 0); /* fill the glyph cache */
		start = clock_ticks_ms();
		for (n = 0; (ms = clock_ticks_ms() - start) < 1000; n++)
			bytes += make(&rows[i], fonts, n);
		each = (double)ms * 1e6 / n;
		if (i == 0)
			first = each;
		printf("%s\t%d\t%.0f\t%zu\t%.2f\t%.4f\n", rows[i].what, n, each,
		    bytes / (size_t)n, each / first, each / HEAD_NS);
	}
	fonts_free(fonts);
	return 0;
}
