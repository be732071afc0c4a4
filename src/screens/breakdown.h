/* breakdown.h - the breakdown screen, for those who begin one.  Private to
 * src/screens. */
#ifndef SCREENS_BREAKDOWN_H
#define SCREENS_BREAKDOWN_H

#include "ops/prep_page.h"
#include "screens/desk.h"

/* What a breakdown is begun with. */
struct breakdown_begin {
	const char *batch;   /* code without hyphen */
	const char *dish;    /* that is wanted of it; may be NULL */
	int64_t fish;        /* to take; 0: not said */
	int64_t portions;    /* of the dish; 0: not said */
	const char *service; /* "DATE/NAME" of the task; NULL: no task */
	const char *step;    /* of the task */
};

/* breakdown_begin - show it, prefilled.  A half-typed one is never lost: it is
 * shown instead, and said. */
void breakdown_begin(struct desk *d, const struct breakdown_begin *b);

#endif /* SCREENS_BREAKDOWN_H */
