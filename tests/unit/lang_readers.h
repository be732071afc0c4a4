/*
 * lang_readers.h - a printer's side of every language: bytes back into the
 * picture and what was said of the media.
 *
 * Each is written from the description of the commands, apart from the encoder,
 * and stricter than a printer: what is not understood is an error.  A language
 * is tested by a row of lang_readers[] here.
 */
#ifndef LANG_READERS_H
#define LANG_READERS_H

#include <stdbool.h>
#include <stddef.h>

#include "base/bitmap.h"

#define NOT_SAID (-1)

struct seen_label {
	/* Owned; NULL after a failure.  As wide as the language says: some
	 * only know whole bytes. */
	struct bitmap *picture;
	int copies;
	int darkness;      /* the language's own number */
	int speed;         /* inches a second */
	int gap;           /* 0 continuous; else in the language's unit */
	int width, height; /* of the label, in the language's unit */
	char transfer;     /* 'T' ribbon, 'D' direct, 0 not said */
	bool cut;
};

struct lang_reader {
	const char *lang; /* name in langs[] */
	/* Exactly one label.  False: *why says what was wrong. */
	bool (*read)(struct seen_label *out, const char **why, const char *data,
	    size_t len);
};

/* One for each of langs[], ended by a NULL name. */
extern const struct lang_reader lang_readers[];

/* lang_reader_find - by name; fails the test when there is none. */
const struct lang_reader *lang_reader_find(const char *lang);

/* seen_nothing - every number NOT_SAID, no picture. */
void seen_nothing(struct seen_label *s);

/* same_dots - the same dots?  A few white columns more, to whole bytes, count
 * as the same. */
bool same_dots(const struct bitmap *a, const struct bitmap *b);

#endif /* LANG_READERS_H */
