/* bar_reader.c - read a Code 128 with zbar. */
#include "bar_reader.h"

#include <stdlib.h>
#include <string.h>

#include <zbar.h>

static bool
take(char text[BAR_TEXT_MAX], bool *gs1, const zbar_image_t *image)
{
	const zbar_symbol_t *symbol = zbar_image_first_symbol(image);
	size_t n;

	if (symbol == NULL || zbar_symbol_next(symbol) != NULL)
		return false;
	n = zbar_symbol_get_data_length(symbol);
	if (zbar_symbol_get_type(symbol) != ZBAR_CODE128 || n >= BAR_TEXT_MAX)
		return false;
	memcpy(text, zbar_symbol_get_data(symbol), n);
	text[n] = '\0';
	*gs1 = (zbar_symbol_get_modifiers(symbol) >> ZBAR_MOD_GS1 & 1) != 0;
	return true;
}

bool
bar_read(char text[BAR_TEXT_MAX], bool *gs1, const struct bitmap *bm,
    const struct code_view *view)
{
	uint8_t *pixels = code_view(bm, view);
	unsigned w = (unsigned)(view->w * code_view_scale(view));
	unsigned h = (unsigned)(view->h * code_view_scale(view));
	zbar_image_scanner_t *scanner = zbar_image_scanner_create();
	zbar_image_t *image = zbar_image_create();
	bool found;

	text[0] = '\0';
	*gs1 = false;
	zbar_image_scanner_set_config(scanner, 0, ZBAR_CFG_ENABLE, 0);
	zbar_image_scanner_set_config(
	    scanner, ZBAR_CODE128, ZBAR_CFG_ENABLE, 1);
	zbar_image_set_format(image, zbar_fourcc('Y', '8', '0', '0'));
	zbar_image_set_size(image, w, h);
	zbar_image_set_data(image, pixels, (unsigned long)w * h, NULL);
	found = zbar_scan_image(scanner, image) >= 0 && take(text, gs1, image);
	zbar_image_destroy(image);
	zbar_image_scanner_destroy(scanner);
	free(pixels);
	return found;
}
