/* desk_inner.h - parts of the desk that its own files share.  Private to
 * src/screens. */
#ifndef SCREENS_DESK_INNER_H
#define SCREENS_DESK_INNER_H

#include "screens/desk.h"

/* Keys that work on every screen; a row with id 0 ends the table. */
enum desk_action { DESK_UNDO = 1, DESK_WHO, DESK_ANEW, DESK_QUIT };
extern const struct action desk_actions[];

/* desk_screen, desk_state - the screen shown, and what it keeps. */
const struct screen *desk_screen(const struct desk *d);
void *desk_state(const struct desk *d);

/* desk_can - is this action of the shown screen possible now? */
bool desk_can(const struct desk *d, int action);
/* desk_sheet - the uppermost sheet, or NULL. */
const struct sheet *desk_sheet(const struct desk *d, void **state);

/* desk_shut_one - end the sheet with this state, wherever it lies; one that is
 * gone already is no error. */
void desk_shut_one(struct desk *d, const void *state);

#endif /* SCREENS_DESK_INNER_H */
