/*
 * screens/undo.h - the sheet that offers to take the last step back.
 */
#ifndef SCREENS_UNDO_H
#define SCREENS_UNDO_H

#include "screens/desk.h"

/* undo_ask - show what the last step was and whether it can be taken back; it
 * is done only when the person says so.  Without initials of anybody the last
 * step of the station is meant. */
void undo_ask(struct desk *d);

#endif /* SCREENS_UNDO_H */
