/*
 * screens/lesson.h - the first lesson: a line of what to do, over the screens
 * of a training station.
 */
#ifndef SCREENS_LESSON_H
#define SCREENS_LESSON_H

#include "screens/desk.h"

struct lesson; /* opaque, owned by the desk */

/* lesson_begin - the desk shows the first step; it goes on when the step was
 * done.  The station is a training station, asserted. */
void lesson_begin(struct desk *d);
void lesson_free(struct lesson *l);

/* For the desk: lesson_look - was the step done?  lesson_skip - the next one.
 * lesson_rows - rows its text takes; lesson_draw - draw it. */
void lesson_look(struct desk *d);
void lesson_skip(struct desk *d);
int lesson_rows(const struct lesson *l, int w);
void lesson_draw(const struct lesson *l, const struct pane *p);

#endif /* SCREENS_LESSON_H */
