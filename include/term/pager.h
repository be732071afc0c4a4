/*
 * term/pager.h - a long text to read, by arrows and pages.
 */
#ifndef TERM_PAGER_H
#define TERM_PAGER_H

#include <stdbool.h>

#include "term/canvas.h"
#include "term/key.h"

struct pager {
	char *text; /* owned */
	int top;    /* first line shown */
	int lines;  /* in it, as last drawn */
	int page;   /* rows shown at the last drawing */
};

void pager_set(struct pager *g, const char *text); /* copied; from its start */
void pager_fini(struct pager *g);
bool pager_key(struct pager *g, const struct key *k); /* true: it was its key */
/* pager_draw - lines longer than the pane are broken between words. */
void pager_draw(struct pager *g, const struct pane *p);

#endif /* TERM_PAGER_H */
