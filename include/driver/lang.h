/*
 * driver/lang.h - a label bitmap in the words of one printer language.
 *
 * One `const struct lang` per language, all listed in drivers/registry.c.
 * A language turns a bitmap into bytes and knows nothing about how they travel.
 */
#ifndef DRIVER_LANG_H
#define DRIVER_LANG_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/bitmap.h"
#include "base/buf.h"
#include "base/err.h"
#include "driver/state.h"

/* Media and head settings a language may have words for. */
struct lang_media {
	int dpi;          /* 203 or 300 */
	int width_mm;     /* stock across the head */
	int height_mm;    /* label along the feed; of a roll: the picture's */
	int gap_mm;       /* between labels; 0 continuous */
	int darkness_pct; /* 0..100 of the head's range */
	int speed_mm_s;   /* 0: leave it as the printer is set */
	bool ribbon;      /* thermal transfer; else direct thermal */
};

struct lang {
	const char *name;   /* "zpl", as written in the settings */
	const char *ending; /* usual file ending, without the dot */

	/*
	 * Names of the language in the COMMAND SET of an IEEE 1284 device ID,
	 * blank separated: "TSPL TSPL2".  A device speaks it when one of its
	 * command sets begins with one of these, in any case.  NULL: no
	 * printer does, it is for people to look at.
	 */
	const char *command_sets;

	/*
	 * Append one label to `out`: exactly one copy, so that a code is never
	 * printed twice by the printer's own counting.
	 * RC_OK, or RC_INVALID when the picture is beyond the language's
	 * limits.  Nothing else fails; an over-full buffer is checked by the
	 * caller with buf_check().
	 */
	enum rc (*encode)(struct buf *out, const struct bitmap *picture,
	    const struct lang_media *media, struct err *err);

	/*
	 * The language's own question for the printer's state, sent between
	 * labels only, never inside one.  NULL: it has none.
	 */
	const char *query;
	size_t query_len;

	/*
	 * Read what has come back so far, from its first byte.
	 * RC_OK       a whole answer; *state has PRINTER_ bits
	 * RC_RETRY    not whole yet
	 * RC_INVALID  not an answer in this language
	 */
	enum rc (*answer)(
	    unsigned *state, const uint8_t *buf, size_t len, struct err *err);
};

/* All languages, NULL-terminated; defined in drivers/registry.c. */
extern const struct lang *const langs[];

/* lang_find - by name, or NULL. */
const struct lang *lang_find(const char *name);

/*
 * lang_spoken - does a device whose ID names these command sets, separated by
 * commas, speak the language?
 */
bool lang_spoken(const struct lang *lang, const char *command_sets);

#endif /* DRIVER_LANG_H */
