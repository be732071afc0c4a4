/* bar_reader.c - read a GS1-128 with zbar. */
#include "bar_reader.h"

#include <stdlib.h>
#include <string.h>

#include <zbar.h>

#include "dm_reader.h"

static bool
take_text(char text[BAR_TEXT_MAX], bool *gs1, const zbar_symbol_t *symbol)
{
	size_t n = zbar_symbol_get_data_length(symbol);

	if (n >= BAR_TEXT_MAX)
		return false;
	memcpy(text, zbar_symbol_get_data(symbol), n);
	text[n] = '\0';
	*gs1 = zbar_symbol_get_modifiers(symbol) >> ZBAR_MOD_GS1 & 1;
	return true;
}

int
bar_read(char text[BAR_TEXT_MAX], bool *gs1, const struct bitmap *bm, bool blur)
{
	struct dm_view all = { 0, 0, bm->width, bm->height, blur, 0 };
	unsigned w, h;
	uint8_t *pixels = dm_pixels(&w, &h, bm, &all, 2);
	zbar_image_scanner_t *scanner = zbar_image_scanner_create();
	zbar_image_t *image = zbar_image_create();
	const zbar_symbol_t *symbol;
	int found = 0;

	text[0] = '\0';
	*gs1 = false;
	zbar_image_scanner_set_config(scanner, 0, ZBAR_CFG_ENABLE, 0);
	zbar_image_scanner_set_config(
	    scanner, ZBAR_CODE128, ZBAR_CFG_ENABLE, 1);
	zbar_image_set_format(image, zbar_fourcc('Y', '8', '0', '0'));
	zbar_image_set_size(image, w, h);
	zbar_image_set_data(image, pixels, (unsigned long)w * h, NULL);
	zbar_scan_image(scanner, image);
	for (symbol = zbar_image_first_symbol(image); symbol != NULL;
	     symbol = zbar_symbol_next(symbol))
		if (found++ == 0 && !take_text(text, gs1, symbol))
			break;
	zbar_image_destroy(image);
	zbar_image_scanner_destroy(scanner);
	free(pixels);
	return found;
}
