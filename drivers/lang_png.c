/*
 * lang_png.c - a label as a PNG picture a person can open; the only user of
 * libpng.  One bit a dot, and the resolution in it, so that it prints and
 * shows at its true size.
 */
#include "drivers.h"

#include <setjmp.h>

#include <png.h>

struct state {
	struct buf *out;
	struct err *err;
};

static void
on_write(png_structp png, png_bytep data, png_size_t len)
{
	struct state *state = png_get_io_ptr(png);

	buf_add(state->out, data, len);
}

static void
on_flush(png_structp png)
{
	(void)png;
}

/* libpng must not come back from here. */
static void
on_error(png_structp png, png_const_charp message)
{
	struct state *state = png_get_error_ptr(png);

	ignore_rc(err_set(state->err, RC_INVALID, 0, "PNG: %s", message));
	png_longjmp(png, 1);
}

static void
on_warning(png_structp png, png_const_charp message)
{
	(void)png;
	(void)message;
}

static void
write_picture(
    png_structp png, png_infop info, const struct bitmap *picture, int dpi)
{
	png_uint_32 per_metre = ((png_uint_32)dpi * 10000 + 127) / 254;
	int y;

	png_set_IHDR(png, info, (png_uint_32)picture->width,
	    (png_uint_32)picture->height, 1, PNG_COLOR_TYPE_GRAY,
	    PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
	    PNG_FILTER_TYPE_DEFAULT);
	png_set_pHYs(png, info, per_metre, per_metre, PNG_RESOLUTION_METER);
	png_write_info(png, info);
	/* Grey 0 is black, a black dot is 1. */
	png_set_invert_mono(png);
	for (y = 0; y < picture->height; y++)
		png_write_row(png, picture->bits + (size_t)y * picture->stride);
	png_write_end(png, info);
}

static enum rc
png_encode(struct buf *out, const struct bitmap *picture,
    const struct lang_media *media, struct err *err)
{
	struct state state = { out, err };
	png_structp png;
	png_infop info;
	volatile enum rc rc = RC_OK;

	if (media->dpi <= 0)
		return err_set(
		    err, RC_INVALID, 0, "%d dpi is no resolution", media->dpi);
	png = png_create_write_struct(
	    PNG_LIBPNG_VER_STRING, &state, on_error, on_warning);
	info = png != NULL ? png_create_info_struct(png) : NULL;
	if (info == NULL)
		rc = err_set(err, RC_INVALID, 0, "libpng does not start");
	else if (setjmp(png_jmpbuf(png)) != 0)
		rc = RC_INVALID;
	else {
		png_set_write_fn(png, &state, on_write, on_flush);
		write_picture(png, info, picture, media->dpi);
	}
	png_destroy_write_struct(&png, &info);
	return rc;
}

const struct lang lang_png = {
	.name = "png",
	.ending = "png",
	.encode = png_encode,
};
