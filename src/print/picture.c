/* picture.c - a drawn label or page as a picture file to look at. */
#include "print/picture.h"

#include <assert.h>

#include "driver/lang.h"

enum rc
picture_png(struct buf *out, const struct bitmap *picture,
    const struct label_media *media, struct err *err)
{
	const struct lang *png = lang_find("png");
	struct lang_media m = {
		.dpi = media->dpi,
		.width_mm = media->width_mm,
		.height_mm = media->height_mm,
	};
	enum rc rc;

	assert(png != NULL);
	if ((rc = png->encode(out, picture, &m, err)) != RC_OK)
		return rc;
	return buf_check(out, "the picture", err);
}
