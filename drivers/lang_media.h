/*
 * lang_media.h - numbers of the media in the units of the languages.
 */
#ifndef LANG_MEDIA_H
#define LANG_MEDIA_H

#include "driver/lang.h"

/*
 * lang_media_check - is every number of the media believable?
 * RC_OK or RC_INVALID naming the first that is not.  What a language itself
 * cannot say, such as a gap, is refused by that language.
 */
enum rc lang_media_check(
    const struct lang_media *media, struct err *err) MUST_CHECK;

/* lang_darkness - percent as a whole number of 0..max, rounded. */
int lang_darkness(const struct lang_media *media, int max);

/*
 * lang_speed - whole inches a second, rounded; 0 leaves the printer's own.
 * RC_OK or RC_INVALID: the language takes 1..max.
 */
enum rc lang_speed(int *inches, const struct lang_media *media, int max,
    struct err *err) MUST_CHECK;

/* lang_height_mm - the label along the feed; of a roll what the picture takes,
 * rounded up so that its last row is not cut off. */
int lang_height_mm(
    const struct lang_media *media, const struct bitmap *picture);

/*
 * lang_put_inverted - the rows of a picture for languages in which a 0 prints:
 * what pads a row to whole bytes must be 1 there.
 */
void lang_put_inverted(struct buf *out, const struct bitmap *picture);

#endif /* LANG_MEDIA_H */
