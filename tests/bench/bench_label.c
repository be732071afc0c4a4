/*
 * bench_label.c - from facts to the bytes on the wire: labels per second on one
 * core, for every language, size and resolution, side by side in one run; the
 * same label by a scripted pipeline (handy.sh); and both against the head.
 *
 * Tab-separated: what, labels a second, bytes each, ratio to the first row, and
 * shares of the head's time: making it, sending it over a full-speed link, over
 * a high-speed link, and the sum that counts.
 *
 * The head: a label and its gap of 3 mm at 100 mm/s is 430 ms for 40 mm, 280 ms
 * for 25 mm (arithmetic).  The links are the most a bulk pipe can carry: 19
 * packets of 64 bytes a millisecond, 13 of 512 bytes an eighth of one (USB 2.0,
 * tables 5-9 and 5-10; from memory).  203 dpi is held to the slow link; a
 * 300 dpi picture has more than twice the dots and is held to the fast one.
 */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/clock.h"
#include "base/str.h"
#include "driver/lang.h"
#include "labels/font.h"
#include "labels/label.h"
#include "tests/unit/cut_child.h"

#define HEAD_UM_S 100000.0
#define GAP_MM 3
#define FULL_SPEED_BYTES_S (19 * 64 * 1000.0)
#define HIGH_SPEED_BYTES_S (13 * 512 * 8 * 1000.0)
#define SHARE_MAX 0.05
#define RUN_MS 400
#define HANDY_LABELS 5

struct row {
	int width_mm, height_mm, dpi;
	const char *lang; /* NULL: picture only */
};

static const struct {
	int width_mm, height_mm, dpi;
} kinds[] = {
	{ 60, 40, 203 },
	{ 60, 40, 300 },
	{ 50, 25, 203 },
	{ 50, 25, 300 },
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
		.gap_mm = GAP_MM,
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

static double
head_s(const struct row *r)
{
	return (r->height_mm + GAP_MM) * 1000.0 / HEAD_UM_S;
}

/* Seconds for one label; *bytes of one. */
static double
seconds(size_t *bytes, const struct row *r, struct fonts *fonts)
{
	size_t all = 0;
	int64_t start, ms;
	int n;

	make(r, fonts, 0); /* fill the glyph cache */
	start = clock_ticks_ms();
	for (n = 0; (ms = clock_ticks_ms() - start) < RUN_MS; n++)
		all += make(r, fonts, n);
	*bytes = all / (size_t)n;
	return (double)ms / 1000.0 / n;
}

/* Prints a row; false when making and sending it would hold up the head. */
static bool
report(const struct row *r, double each, size_t bytes, double first)
{
	double head = head_s(r), making = each / head;
	double full = (double)bytes / FULL_SPEED_BYTES_S / head;
	double high = (double)bytes / HIGH_SPEED_BYTES_S / head;
	double sum = making + (r->dpi == 203 ? full : high);

	if (r->lang == NULL)
		sum = making;
	printf("%s %dx%d %d dpi\t%.0f\t%zu\t%.2f\t%.4f\t%.4f\t%.4f\t%.4f%s\n",
	    r->lang == NULL ? "picture" : r->lang, r->width_mm, r->height_mm,
	    r->dpi, 1 / each, bytes, each / first, making, full, high, sum,
	    sum > SHARE_MAX ? "\tOVER" : "");
	return sum <= SHARE_MAX;
}

/* The scripted pipeline makes the first row's label, in ZPL. */
static int
handy(double ours)
{
	char count[16];
	const char *argv[] = { "tests/bench/handy.sh", count, NULL };
	int64_t start = clock_ticks_ms();
	double each;

	str_fmt(count, sizeof(count), "%d", HANDY_LABELS);
	if (child_run(NULL, argv, "/dev/null") != 0) {
		fprintf(stderr, "bench_label: handy.sh did not run\n");
		return 1;
	}
	each = (double)(clock_ticks_ms() - start) / 1000.0 / HANDY_LABELS;
	printf("scripted zpl 60x40 203 dpi\t%.1f\t\t%.0f x ours\t%.4f\n",
	    1 / each, each / ours, each / 0.430);
	return 0;
}

int
main(void)
{
	struct fonts *fonts = NULL;
	struct err err = { 0 };
	double first = 0, zpl = 0, each;
	const struct lang *const *l;
	size_t i, bytes;
	int over = 0;

	if (fonts_open(&fonts,
		"/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf",
		"/usr/share/fonts/truetype/dejavu/DejaVuSansMono-Bold.ttf",
		&err) != RC_OK) {
		fprintf(stderr, "bench_label: %s\n", err.text);
		return 1;
	}
	printf(
	    "what\tlabels_s\tbytes\tratio\tmaking\tfull_speed\t"
	    "high_speed\tcounts\n");
	for (i = 0; i < sizeof(kinds) / sizeof(kinds[0]); i++) {
		struct row r = { kinds[i].width_mm, kinds[i].height_mm,
			kinds[i].dpi, NULL };

		each = seconds(&bytes, &r, fonts);
		if (i == 0)
			first = each;
		over += !report(&r, each, bytes, first);
		for (l = langs; *l != NULL; l++) {
			r.lang = (*l)->name;
			each = seconds(&bytes, &r, fonts);
			if (i == 0 && str_eq(r.lang, "zpl"))
				zpl = each;
			over += !report(&r, each, bytes, first);
		}
	}
	fonts_free(fonts);
	if (over > 0)
		printf("%d rows over %.0f %% of the head's time\n", over,
		    100 * SHARE_MAX);
	return handy(zpl) + (over > 0);
}
