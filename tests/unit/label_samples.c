/* label_samples.c - labels of an invented kitchen, for several suites. */
#include "label_samples.h"

#include <check.h>

#include "base/day.h"
#include "base/str.h"

#define DEJAVU "/usr/share/fonts/truetype/dejavu/"

struct label_media
label_sample_media(int index)
{
	static const struct label_media all[LABEL_SAMPLE_MEDIA] = {
		{ 60, 40, 203 },
		{ 60, 40, 300 },
		{ 50, 25, 203 },
		{ 50, 25, 300 },
	};

	return all[index];
}

struct label_facts
label_sample(enum label_kind kind)
{
	struct label_facts f = {
		.kind = kind,
		.product = "Roast cod loin",
		.species = "Atlantic cod, Gadus morhua",
		.use_by = { .hour = 23, .minute = 59 },
		.made = { .hour = 10, .minute = 5 },
		.by = "MK",
		.batch = "26330-09C",
		.code = "P7K2QX",
		.quantity = "1 portion, 160 g",
		.allergens = "Fish; milk",
		.origin = "Caught in Norwegian Sea (27.2.a), hooks and lines",
		.storage = "Keep at 0 to 2 C",
		.symbol = "[91]1P7K2QX2633007C2611272359K",
	};

	ck_assert(day_from_civil(&f.made.day, 2026, 11, 25));
	f.use_by.day = f.made.day + 2;
	if (kind == LABEL_BATCH) {
		f.code[0] = '\0';
		ck_assert(str_copy(f.symbol, sizeof(f.symbol),
		    "[91]10000002633007C2611272359K"));
	}
	return f;
}

struct label_facts
label_sample_as(enum label_kind kind, enum label_variant variant)
{
	struct label_facts f = label_sample(kind);

	f.variant = variant;
	f.frozen = f.thawed = f.held = f.made;
	f.frozen.hour = 16;
	f.thawed.day = f.held.day = f.made.day + 1;
	f.thawed.hour = 9;
	f.thawed.minute = 20;
	f.held.hour = 15;
	f.held.minute = 40;
	if (variant == LABEL_FROZEN) {
		f.use_by.day = f.made.day + 121;
		ck_assert(str_copy(f.storage, sizeof(f.storage),
		    "Keep frozen at -18 C or below"));
	}
	ck_assert(str_copy(f.held_by, sizeof(f.held_by), "JB"));
	ck_assert(str_copy(f.reason, sizeof(f.reason), "Fridge at 9 C"));
	return f;
}

struct fonts *
label_sample_fonts(void)
{
	struct fonts *fonts;
	struct err err = { 0 };

	ck_assert_msg(fonts_open(&fonts, DEJAVU "DejaVuSans-Bold.ttf",
			  DEJAVU "DejaVuSansMono-Bold.ttf", &err) == RC_OK,
	    "%s (package fonts-dejavu-core)", err.text);
	return fonts;
}
