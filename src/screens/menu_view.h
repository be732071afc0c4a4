/* menu_view.h - parts of the screen Menu and covers.  Private to it. */
#ifndef SCREENS_MENU_VIEW_H
#define SCREENS_MENU_VIEW_H

#include "ops/menu_edit.h"
#include "screens/desk.h"
#include "term/list.h"

enum menu_view { VIEW_MENU, VIEW_GONE, VIEW_COVERS, VIEW_DISH };

/* A dish has its own columns, but a field for each share in place of the mix,
 * and those of one cut at a time. */
enum {
	DISH_CODE,
	DISH_NAME,
	DISH_STATE,
	DISH_ALLERGENS,
	DISH_PRICE,
	DISH_SHARES
};
#define CUT_FIELDS (MENU_COLUMNS - MENU_SPECIES)
#define DISH_FIELDS (DISH_SHARES + CONFIG_SERVICES_MAX + CUT_FIELDS)

/* A dish being changed; stays while other things are looked at. */
struct dish_draft {
	bool open; /* something is typed, or may be */
	bool add;
	char code[32], name[64]; /* of the one changed */
	struct form form;
	struct field_row rows[DISH_FIELDS];
	char labels[CONFIG_SERVICES_MAX][48];
	int services;
	int cut, cuts; /* shown, and how many there are */
	/* what is typed of each cut; the shown one's is in the form */
	char text[DISH_CUTS_MAX][CUT_FIELDS][FIELD_SIZE];
};

struct menu_state {
	enum menu_view view, list_view; /* list_view: where a dish came from */
	struct menu_list dishes;
	struct list dish_list;
	struct dish_draft draft;
	char pick[32]; /* code of the dish to choose when loaded, or empty */
	/* what a question or an action is about, whatever the list does
	 * meanwhile; its code is empty for a new dish */
	struct dish about;

	struct covers_list covers;
	struct list covers_rows;
	int from;                  /* days from today to the first shown */
	struct form *form;         /* of the booking sheet, while it is open */
	struct covers_row booking; /* what that sheet is about */
	char path[FIELD_SIZE];
};

#define COVERS_DAYS 14
#define DISHES_SHOWN_MAX 200

/* menu_chosen - the dish the keys act on, or NULL. */
const struct menu_dish *menu_chosen(const struct menu_state *m);
/* menu_find - the dish of this code in the list, or NULL. */
const struct menu_dish *menu_find(const struct menu_state *m, const char *code);

/* --- menu_dish.c: one dish -------------------------------------------------*/

/* dish_open - show m->about in the form; what was typed of another is dropped
 * after asking. */
void dish_open(struct desk *d, struct menu_state *m);
void dish_draw(struct menu_state *m, const struct pane *p);
bool dish_key(struct desk *d, struct menu_state *m, const struct key *k);
void dish_turn(struct desk *d, struct menu_state *m, int step);
void dish_record(struct desk *d, struct menu_state *m);

/* --- menu_covers.c: the book -----------------------------------------------*/

void covers_load(struct desk *d, struct menu_state *m);
void covers_draw(
    const struct desk *d, struct menu_state *m, const struct pane *p);
void covers_edit(struct desk *d, struct menu_state *m);
void covers_forecast(struct desk *d, struct menu_state *m);

#endif /* SCREENS_MENU_VIEW_H */
