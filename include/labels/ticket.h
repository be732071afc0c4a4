/*
 * labels/ticket.h - a list on a continuous roll: prep list, order list, recall
 * list, day sheet.
 *
 * A ticket is text in lines, each with a style; it is kept as text in the file
 * and drawn to the roll's width when it is printed.  Never cut short: a line
 * wraps between words, a list too long for one picture goes on to the next
 * page, which says so.  Sizes and margins: docs/printing.md "Tickets".
 */
#ifndef LABELS_TICKET_H
#define LABELS_TICKET_H

#include <stdbool.h>
#include <stddef.h>

#include "base/bitmap.h"
#include "base/buf.h"
#include "base/err.h"
#include "labels/label.h"

/* Rolls, by the width the head prints.  48 mm is what receipt printers print
 * on a roll of 58 (384 dots at 203 dpi); from memory, no source. */
#define TICKET_WIDTH_MIN_MM 48
#define TICKET_WIDTH_MAX_MM 120
/* Longest page: when nothing is said, and the limits of what may be said. */
#define TICKET_PAGE_MM 200
#define TICKET_PAGE_MIN_MM 60
#define TICKET_PAGE_MAX_MM 300

/*
 * An entry is a line or tick line with the remarks behind it; it stays on one
 * page, and a head on the page of its first entry.
 */
enum ticket_style {
	TICKET_TITLE, /* once, at the top, and again on every other page */
	TICKET_HEAD,  /* of a group of lines; again where a page parts them */
	TICKET_LINE,  /* left, and right at the edge when there is any */
	TICKET_TICK,  /* the same behind a box to tick off */
	TICKET_SMALL, /* remark */
	TICKET_RULE,  /* a line across, no text; ends a group */
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

/* ticket_printf - the same with the left text by format. */
void ticket_printf(struct ticket *t, enum ticket_style style, const char *right,
    const char *left, ...) __attribute__((format(printf, 4, 5)));

size_t ticket_count(const struct ticket *t);
const struct ticket_line *ticket_at(const struct ticket *t, size_t i);

/*
 * ticket_write, ticket_read - one line of text for each, as the file keeps it:
 * word of the style, left, right, separated by TAB, which no text holds.
 * RC_OK, *out is owned by the caller; RC_INVALID: not such text, the line is
 * named.
 */
void ticket_write(struct buf *out, const struct ticket *t);
enum rc ticket_read(
    struct ticket **out, const char *text, struct err *err) MUST_CHECK;

/* ticket_style_word - "tick" and so on. */
const char *ticket_style_word(enum ticket_style style);

/*
 * ticket_text - the list for a screen, `columns` wide; a word that is wider
 * stands out.
 */
void ticket_text(struct buf *out, const struct ticket *t, int columns);

struct fonts;

/*
 * ticket_pages - how many pages a roll of media->width_mm takes (height_mm is
 * the longest page; 0: TICKET_PAGE_MM).  Marks change nothing about that.
 * ticket_render - page 1..n as a picture as high as what is on it; `training`
 * marks it as a label is marked, `reprint` as struct label_facts.
 * RC_OK, *out is owned by the caller; RC_INVALID: a word wider than the roll
 * even in the smallest text, a character the font lacks, no lines, no such
 * page, no such roll.
 */
enum rc ticket_pages(int *out, const struct ticket *t,
    const struct label_media *media, struct fonts *fonts,
    struct err *err) MUST_CHECK;
enum rc ticket_render(struct bitmap **out, const struct ticket *t, int page,
    bool training, int reprint, const struct label_media *media,
    struct fonts *fonts, struct err *err) MUST_CHECK;

#endif /* LABELS_TICKET_H */
