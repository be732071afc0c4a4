/*
 * driver/lang.h - a label bitmap in the words of one printer language.
 *
 * One `const struct lang` per language, all listed in drivers/registry.c.
 * A language turns a bitmap into bytes and knows nothing about how they travel.
 */
#ifndef DRIVER_LANG_H
#define DRIVER_LANG_H

#include "base/bitmap.h"
#include "base/buf.h"
#include "base/err.h"

/* Media and head settings a language may have words for. */
struct lang_media {
	int dpi;          /* 203 or 300 */
	int width_mm;     /* label across the head */
	int height_mm;    /* label along the feed */
	int gap_mm;       /* between labels; 0 continuous */
	int darkness_pct; /* 0..100 of the head's range */
};

struct lang {
	const char *name;   /* "zpl", as written in the settings */
	const char *ending; /* usual file ending, without the dot */

	/*
	 * Append one label to `out`: exactly one copy, so that a code is never
	 * printed twice by the printer's own counting.
	 * RC_OK, or RC_INVALID when the picture is beyond the language's
	 * limits.  Nothing else fails; an over-full buffer is checked by the
	 * caller with buf_check().
	 */
	enum rc (*encode)(struct buf *out, const struct bitmap *picture,
	    const struct lang_media *media, struct err *err);
};

/* All languages, NULL-terminated; defined in drivers/registry.c. */
extern const struct lang *const langs[];

/* lang_find - by name, or NULL. */
const struct lang *lang_find(const char *name);

#endif /* DRIVER_LANG_H */
