/* hand_words.h - dates and amounts of stock in words and large digits.
 * Private to src/screens. */
#ifndef SCREENS_HAND_WORDS_H
#define SCREENS_HAND_WORDS_H

#include "ops/on_hand.h"
#include "term/canvas.h"

/* hand_date - "Fri 27 Nov" in the language of the station; `size` 48 is
 * enough.  hand_date_at - with the time, when it is not the end of the day. */
char *hand_date(char *dst, size_t size, day_no day);
char *hand_date_at(char *dst, size_t size, int64_t use_by_utc);
/* hand_at_end - is it the last second of its day? */
bool hand_at_end(int64_t utc, struct local_time *t);
/* hand_standing - how it stands: "3 days left", "EXPIRED"; with its style. */
enum style hand_standing(char *dst, size_t size, const struct on_hand_row *r);
/* hand_amount - "4 portions", "5 fish", "4.200 kg". */
char *hand_amount(char *dst, size_t size, const struct on_hand_row *r);
char *hand_portions(char *dst, size_t size, int64_t n);

/* hand_big_date - a use-by day in large digits, BIG_ROWS high, the shorter way
 * where it does not fit.  Returns the column behind it. */
int hand_big_date(
    const struct pane *p, int x, int y, enum style style, day_no day);
/* hand_big - large, or plain where it does not fit. */
int hand_big(
    const struct pane *p, int x, int y, enum style style, const char *text);

#endif /* SCREENS_HAND_WORDS_H */
