/*
 * term/list.h - rows to choose from, by arrows or by number.
 */
#ifndef TERM_LIST_H
#define TERM_LIST_H

#include <stdbool.h>

#include "term/canvas.h"
#include "term/key.h"

struct list {
	int count;  /* set by the owner; then list_fit() */
	int at;     /* the chosen row; -1 when there is none */
	int top;    /* first row shown */
	int page;   /* rows shown at the last drawing */
	int number; /* typed so far, 0 none */
};

/* list_fit - after `count` changed: `at` stays inside. */
void list_fit(struct list *l);
/*
 * list_key - arrows, Page, Home, End, and digits: 1 2 chooses row 12.
 * True when it was the list's key.
 */
bool list_key(struct list *l, const struct key *k);

/*
 * list_draw - the rows that fit, numbered from 1, with the chosen one in
 * STYLE_CHOSEN; `row` draws one into its own pane, `style` for its text.
 * The number takes LIST_NUMBER columns on the left.
 */
#define LIST_NUMBER 4
typedef void list_row_fn(
    const void *arg, int i, const struct pane *row, enum style style);
void list_draw(
    struct list *l, const struct pane *p, list_row_fn *row, const void *arg);

#endif /* TERM_LIST_H */
