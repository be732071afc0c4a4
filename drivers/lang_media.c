/* lang_media.c - numbers of the media in the units of the languages. */
#include "lang_media.h"

/* The widest and longest stock the settings take, with room to spare. */
#define SIDE_MAX_MM 500
#define GAP_MAX_MM 50

enum rc
lang_media_check(const struct lang_media *media, struct err *err)
{
	if (media->dpi != 203 && media->dpi != 300)
		return err_set(err, RC_INVALID, 0,
		    "resolution %d is neither 203 nor 300 dpi", media->dpi);
	if (media->width_mm < 1 || media->width_mm > SIDE_MAX_MM ||
	    media->height_mm < 1 || media->height_mm > SIDE_MAX_MM)
		return err_set(err, RC_INVALID, 0,
		    "a label of %d x %d mm is outside 1 to %d mm a side",
		    media->width_mm, media->height_mm, SIDE_MAX_MM);
	if (media->gap_mm < 0 || media->gap_mm > GAP_MAX_MM)
		return err_set(err, RC_INVALID, 0,
		    "gap %d mm is outside 0 to %d mm", media->gap_mm,
		    GAP_MAX_MM);
	if (media->darkness_pct < 0 || media->darkness_pct > 100)
		return err_set(err, RC_INVALID, 0,
		    "darkness %d is outside 0 to 100 percent",
		    media->darkness_pct);
	if (media->speed_mm_s < 0)
		return err_set(err, RC_INVALID, 0, "speed %d mm/s is below 0",
		    media->speed_mm_s);
	return RC_OK;
}

int
lang_darkness(const struct lang_media *media, int max)
{
	return (media->darkness_pct * max + 50) / 100;
}

enum rc
lang_speed(
    int *inches, const struct lang_media *media, int max, struct err *err)
{
	*inches = 0;
	if (media->speed_mm_s == 0)
		return RC_OK;
	/* Compared before it is multiplied: any int may stand here. */
	if (media->speed_mm_s <= max * 26)
		*inches = (media->speed_mm_s * 10 + 127) / 254;
	if (*inches < 1 || *inches > max)
		return err_set(err, RC_INVALID, 0,
		    "speed %d mm/s is outside what the language can say: "
		    "1 to %d inches a second",
		    media->speed_mm_s, max);
	return RC_OK;
}

int
lang_height_mm(const struct lang_media *media, const struct bitmap *picture)
{
	int per = media->dpi * 10;

	if (media->gap_mm > 0)
		return media->height_mm;
	return (picture->height * 254 + per - 1) / per;
}

void
lang_put_inverted(struct buf *out, const struct bitmap *picture)
{
	size_t i, n = picture->stride * (size_t)picture->height;

	for (i = 0; i < n; i++)
		buf_putc(out, (char)~picture->bits[i]);
}
