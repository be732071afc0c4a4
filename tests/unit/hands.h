/*
 * hands.h - somebody at a desk, for the suites of the screens: press, type,
 * look.  Time goes on with each key, slowly enough for hands.
 */
#ifndef HANDS_H
#define HANDS_H

#include <stdbool.h>

#include "screens/desk.h"

void press(struct desk *d, enum key_code code);
void type(struct desk *d, const char *text);
/* on - another screen, by its function key. */
void on(struct desk *d, enum screen_id id);
/* seen - do these words stand on the screen now? */
bool seen(struct desk *d, const char *words);

#endif /* HANDS_H */
