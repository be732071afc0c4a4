/*
 * screens/people.h - who works, whose PIN, and the page of all people.
 */
#ifndef SCREENS_PEOPLE_H
#define SCREENS_PEOPLE_H

#include "screens/desk.h"

/*
 * people_choose - ask who works: from a list, by number or by initials typed;
 * new initials are added with a name.  d->by is set, then `go` is called; Esc
 * ends without.  `arg` as desk_record()'s.
 */
void people_choose(struct desk *d, desk_fn *go, void *arg);

/*
 * people_pin - call `go` when `duty` may be done: at once when the house does
 * not ask for it or no chef has a PIN yet (which is said), else after a chef's
 * PIN.  d->by is somebody by now.  For DUTY_CLOCK d->by becomes the chef.
 */
void people_pin(struct desk *d, enum duty duty, desk_fn *go, void *arg);

/* people_page - see, add and change people, set PINs.  What changes something
 * asks for itself (DUTY_PEOPLE).  One that is open already is shown again. */
void people_page(struct desk *d);

#endif /* SCREENS_PEOPLE_H */
