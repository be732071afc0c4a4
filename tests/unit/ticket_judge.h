/*
 * ticket_judge.h - what must be true of the pages of any list, for several
 * suites.
 */
#ifndef TICKET_JUDGE_H
#define TICKET_JUDGE_H

#include <stdbool.h>

#include "base/buf.h"
#include "src/labels/ticket_page.h"

/* judge_open - fonts for all of these; judge_close gives them back. */
struct fonts *judge_open(void);
void judge_close(void);

/* judge_dots - micrometres in dots, to the nearest. */
int judge_dots(int um, int dpi);

/* lay_out - ticket_layout_make() that must succeed. */
struct ticket_layout *lay_out(const struct ticket *t, bool training,
    int reprint, const struct label_media *m);

/* What a piece inks. */
struct ink {
	int left, top, right, bottom; /* right and bottom out */
};
struct ink ink_of(const struct ticket_piece *p);

/* own_text - the mark or foot that begins like this, or NULL. */
const char *own_text(const struct ticket_page *page, const char *begin);

/* A line of the list as it was found on the pages. */
struct seen {
	struct buf left; /* without blanks */
	int right, boxes, page, rows;
	bool parted; /* on several pages */
};

/* check_whole - every line stands on the pages once, whole and in order; the
 * caller frees with seen_free(). */
struct seen *check_whole(const struct ticket *t, const struct ticket_layout *l);
void seen_free(struct seen *seen, size_t count);

/* check_foot - "page 1 of 3", goes on or end. */
void check_foot(const struct ticket_layout *l);

/* check_again - the title on every page, and the head of a parted group. */
void check_again(const struct ticket *t, const struct ticket_layout *l);

/* check_all - all of that, as many pages as said, and every page drawn inside
 * its margins. */
void check_all(const struct ticket *t, const struct label_media *m,
    bool training, int reprint);

/* ticket_entries - n tick lines with two remarks under heads of 17 each. */
struct ticket *ticket_entries(int n);

/* repeat_text - `s` n times; dst is large enough. */
void repeat_text(char *dst, size_t size, const char *s, int n);

#endif /* TICKET_JUDGE_H */
