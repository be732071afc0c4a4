/*
 * labels/ticket.h - a list on a continuous roll: prep list, order list, recall
 * list, day sheet.
 *
 * A ticket is text in lines, each with a style; it is kept as text in the file
 * and drawn to the roll's width when it is printed.  Never cut short: a line
 * wraps between words, a list too long for one picture goes on to the next
 * page, which says so.
 */
#ifndef LABELS_TICKET_H
#define LABELS_TICKET_H

#include <stdbool.h>
#include <stddef.h>

#include "base/bitmap.h"
#include "base/buf.h"
#include "base/err.h"
#include "labels/label.h"

enum ticket_style {
	TICKET_TITLE, /* once, at the top */
	TICKET_HEAD,  /* of a group of lines */
	TICKET_LINE,  /* left, and right at the edge when there is any */
	TICKET_TICK,  /* the same behind a box to tick off */
	TICKET_SMALL, /* remark */
	TICKET_RULE,  /* a line across, no text */
};

struct ticket_line {
	enum ticket_style style;
	const char *left;  /* UTF-8, owned by the ticket */
	const char *right; /* may be empty */
};

struct ticket; /* opaque, owned by who made it */

struct ticket *ticket_new(void);
void ticket_free(struct ticket *t);

/* ticket_add - a line; `right` may be NULL.  Text is copied; control
 * characters become '?'. */
void ticket_add(struct ticket *t, enum ticket_style style, const char *left,
    const char *right);

size_t ticket_count(const struct ticket *t);
const struct ticket_line *ticket_at(const struct ticket *t, size_t i);

/* ticket_write, ticket_read - one line of text for each, as the file keeps
 * it.  RC_OK, RC_INVALID: not such text. */
void ticket_write(struct buf *out, const struct ticket *t);
enum rc ticket_read(
    struct ticket **out, const char *text, struct err *err) MUST_CHECK;

struct fonts;

/*
 * ticket_pages - how many pages a roll of media->width_mm takes (height_mm is
 * the longest page; 0: 200 mm).
 * ticket_render - page 1..n as a picture as high as what is on it; `training`
 * marks it as a label is marked, `reprint` as struct label_facts.
 * RC_OK, *out is owned by the caller; RC_INVALID: a word wider than the roll,
 * a character the font lacks, no such page.
 */
enum rc ticket_pages(int *out, const struct ticket *t,
    const struct label_media *media, struct fonts *fonts,
    struct err *err) MUST_CHECK;
enum rc ticket_render(struct bitmap **out, const struct ticket *t, int page,
    bool training, int reprint, const struct label_media *media,
    struct fonts *fonts, struct err *err) MUST_CHECK;

#endif /* LABELS_TICKET_H */
