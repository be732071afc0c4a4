/*
 * fuzz_label.c - a label of any text: control characters, right-to-left, very
 * long words, bytes that are no text at all.
 *
 * Properties: it is drawn in the size asked for, or refused in one line; what
 * is not UTF-8 is never drawn.
 */
#include <stdlib.h>
#include <string.h>

#include "base/bitmap.h"
#include "base/str.h"
#include "fuzz.h"
#include "labels/font.h"
#include "labels/label.h"
#include "rig.h"

#define FONT "/usr/share/fonts/truetype/dejavu/DejaVu"

static struct fonts *fonts;

/* The next field: bytes up to a NUL of the input, or its end. */
static void
field(char *dst, size_t size, const uint8_t **data, size_t *left)
{
	size_t n = 0;

	while (n < *left && (*data)[n] != '\0')
		n++;
	memset(dst, 0, size);
	memcpy(dst, *data, n < size ? n : size - 1);
	n += n < *left;
	*data += n;
	*left -= n;
}

static struct local_time
when(uint8_t byte)
{
	struct local_time t = { 0 };

	t.day = 20780 + byte;
	t.hour = byte % 24;
	t.minute = byte % 60;
	return t;
}

static void
fill(struct label_facts *f, const uint8_t *data, size_t size)
{
	memset(f, 0, sizeof(*f));
	f->kind = (enum label_kind)(data[0] % 3);
	f->variant = (enum label_variant)(data[0] / 3 % 4);
	f->defrosted = (data[0] & 64) != 0;
	f->training = (data[0] & 128) != 0;
	f->reprint = data[1] % 7;
	f->use_by = when(data[2]);
	f->made = f->frozen = f->held = when(data[3]);
	f->thawed = f->made;
	data += 5;
	size -= 5;
	str_copy(f->symbol, sizeof(f->symbol), "[91]12633007C332K1A2611272359");
	field(f->product, sizeof(f->product), &data, &size);
	field(f->species, sizeof(f->species), &data, &size);
	field(f->by, sizeof(f->by), &data, &size);
	field(f->batch, sizeof(f->batch), &data, &size);
	field(f->code, sizeof(f->code), &data, &size);
	field(f->quantity, sizeof(f->quantity), &data, &size);
	field(f->allergens, sizeof(f->allergens), &data, &size);
	field(f->origin, sizeof(f->origin), &data, &size);
	field(f->storage, sizeof(f->storage), &data, &size);
	field(f->held_by, sizeof(f->held_by), &data, &size);
	field(f->reason, sizeof(f->reason), &data, &size);
	if (size > 0)
		field(f->symbol, sizeof(f->symbol), &data, &size);
	field(f->bars, sizeof(f->bars), &data, &size);
}

static bool
all_text(const struct label_facts *f)
{
	const char *const texts[] = { f->product, f->species, f->by, f->batch,
		f->code, f->quantity, f->allergens, f->origin, f->storage };
	size_t i;

	for (i = 0; i < sizeof(texts) / sizeof(texts[0]); i++)
		if (!utf8_valid(texts[i], strlen(texts[i])))
			return false;
	return true;
}

int
LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static const struct label_media media[] = { { 60, 40, 203 },
		{ 60, 40, 300 }, { 50, 25, 203 }, { 50, 25, 300 } };
	const struct label_media *m;
	struct label_facts f;
	struct bitmap *b = NULL;
	struct err err = { 0 };
	enum rc rc;

	if (size < 5)
		return 0;
	if (fonts == NULL)
		FUZZ_HOLDS(fonts_open(&fonts, FONT "Sans-Bold.ttf",
			       FONT "SansMono-Bold.ttf", &err) == RC_OK);
	m = &media[data[4] % 4];
	fill(&f, data, size);
	rc = label_render(&b, &f, m, fonts, &err);
	FUZZ_HOLDS(rc == RC_OK || rc == RC_INVALID || rc == RC_REFUSED);
	if (rc != RC_OK) {
		FUZZ_HOLDS(b == NULL);
		rig_err(&err);
		return 0;
	}
	FUZZ_HOLDS(all_text(&f));
	FUZZ_HOLDS(b->width == label_mm_to_dots(m->width_mm, m->dpi) &&
	    b->height == label_mm_to_dots(m->height_mm, m->dpi));
	bitmap_free(b);
	return 0;
}
