/* font.h - can the console's font draw a character?  Private to src/term. */
#ifndef TERM_FONT_H
#define TERM_FONT_H

#include <stdbool.h>
#include <stdint.h>

/* font_learn - read the map of the console font behind a terminal; where there
 * is none (any other terminal) every character counts as drawable. */
void font_learn(int fd);
void font_forget(void);
bool font_draws(uint32_t ch);

#endif /* TERM_FONT_H */
