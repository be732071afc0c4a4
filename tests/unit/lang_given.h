/*
 * lang_given.h - what the suites of single languages share: hand-made labels
 * for a reader, and what an encoder makes of a small picture.
 */
#ifndef LANG_GIVEN_H
#define LANG_GIVEN_H

#include "base/buf.h"
#include "driver/lang.h"
#include "lang_readers.h"

/* A label in bytes, and the dots a printer makes of it. */
struct given {
	const char *data;
	size_t len;
	const char *rows; /* '1' black, joined by '/'; NULL: refused */
	const char *why;
};

/* GIVEN - bytes that may hold NUL. */
#define GIVEN(bytes, rows, why)                                                \
	{                                                                      \
		bytes, sizeof(bytes) - 1, rows, why                            \
	}

/* given_check - the reader alone, so that it is not only right together with
 * the encoder. */
void given_check(const char *lang, const struct given *g);

/* given_picture - from rows as above; owned. */
struct bitmap *given_picture(const char *rows);

/* lang_encode - must succeed; the caller ends the buffer. */
void lang_encode(struct buf *out, const char *lang, const struct bitmap *bm,
    const struct lang_media *media);

/* lang_read_back - what the reader sees of the encoder's bytes; the picture is
 * checked and freed. */
struct seen_label lang_read_back(
    const char *lang, const struct bitmap *bm, const struct lang_media *media);

/* lang_refuses - RC_INVALID, one line with these words, nothing written. */
void lang_refuses(const char *lang, const struct bitmap *bm,
    const struct lang_media *media, const char *words);

#endif /* LANG_GIVEN_H */
