/* on_hand.h - the On hand screen's state, and how it is drawn.  Private to
 * src/screens. */
#ifndef SCREENS_ON_HAND_H
#define SCREENS_ON_HAND_H

#include "hand_deed.h"
#include "hand_label.h"
#include "ops/on_hand.h"
#include "ops/place.h"
#include "screens/desk.h"
#include "term/list.h"

#define ON_HAND_WINDOW CANVAS_MAX /* rows kept: what any terminal shows */

/* What a filter may be, as it was when it was asked for: the page may be loaded
 * again under the question. */
struct on_hand_choice {
	char text[160]; /* with how many there are */
	char code[32], name[64];
};

struct on_hand {
	struct on_hand_page page;
	struct on_hand_filter filter;
	char species[64], dish[64]; /* names of what is filtered by */
	struct list list;
	char at[CODE_SIZE]; /* the chosen one; it stays chosen */
	char marks[FREEZE_UNITS_MAX][CODE_SIZE];
	size_t mark_count;
	struct deed deed;
	struct hand_labels labels;
	char places[PLACES_MAX][PLACE_SIZE], place[PLACE_SIZE];
	char move_codes[FREEZE_UNITS_MAX][CODE_SIZE]; /* what is moved */
	size_t move_count;
	struct on_hand_choice *choices; /* of the filter asked for; owned */
};

/* on_hand_row - row `i` of the list, or NULL when it is outside the window. */
const struct on_hand_row *on_hand_row(const struct on_hand *s, int i);
bool on_hand_marked(const struct on_hand *s, const char *code);
/* on_hand_see - have rows `from` to `to` - 1 in the window. */
void on_hand_see(struct desk *d, struct on_hand *s, int from, int to);

void on_hand_draw(struct desk *d, void *state, const struct pane *p);

/* on_hand_together - what is left of the marked trays onto one, after a
 * question. */
void on_hand_together(struct desk *d, struct on_hand *s);

/* on_hand_state_word - of a filter, as people read it. */
const char *on_hand_state_word(enum on_hand_state s);

#endif /* SCREENS_ON_HAND_H */
