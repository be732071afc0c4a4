/*
 * store/menu.h - dishes, their cuts, and their share of each service.
 * Changes need an open transaction (store_begin).
 */
#ifndef STORE_MENU_H
#define STORE_MENU_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/err.h"
#include "core/prepplan.h"
#include "store/deliveries.h"

struct store;

/* One dish as the menu file lists it. */
struct dish {
	int64_t id;
	char code[32]; /* lower case, a-z 0-9 and - */
	char name[64];
	enum food_state state;
	char allergens[80]; /* beyond the species' own; may be empty */
	int64_t price;      /* what a guest pays, smallest coin; -1 unknown */
};

/* dish_put - add a dish or change the one of the same code, and put it on the
 * menu. */
enum rc dish_put(enum change *out, struct store *st, struct dish *d,
    struct err *err) MUST_CHECK;

/*
 * cut_put - the dish's present cut of a species.  A changed cut becomes a new
 * row, since portions made to the old one refer to it.
 */
enum rc cut_put(enum change *out, struct store *st, int64_t dish_id,
    const struct plan_cut *cut, struct err *err) MUST_CHECK;

/* mix_put - share of a service's covers; a share of 0 takes the dish off. */
enum rc mix_put(enum change *out, struct store *st, int64_t dish_id,
    const char *service, int share_bp, struct err *err) MUST_CHECK;

/*
 * menu_keep_dishes - take every other dish off the menu; `kept` lists the codes
 * that stay as ",a,b,".  menu_keep_cuts - the same for the species of a dish's
 * cuts.  Rows stay, since portions refer to them; *dropped counts.
 */
enum rc menu_keep_dishes(int *dropped, struct store *st, const char *kept,
    struct err *err) MUST_CHECK;
enum rc menu_keep_cuts(int *dropped, struct store *st, int64_t dish_id,
    const char *kept, struct err *err) MUST_CHECK;

/* dish_get - RC_OK, RC_NOTFOUND naming it. */
enum rc dish_get(struct dish *out, bool *on_menu, struct store *st,
    const char *code, struct err *err) MUST_CHECK;
/* dish_menu - on the menu, or off it; nothing else changes. */
enum rc dish_menu(
    struct store *st, int64_t id, bool on, struct err *err) MUST_CHECK;

struct dish_list {
	struct dish *items; /* owned */
	size_t count;
};

/* dish_list_open - those on the menu, or off it, by code: at most `most`, the
 * first `skip` left out. */
enum rc dish_list_open(struct dish_list *out, struct store *st, bool on,
    int64_t skip, int64_t most, struct err *err) MUST_CHECK;
void dish_list_fini(struct dish_list *l);

/* mix_get - a dish's share of a service, 0 when it does not serve it. */
enum rc mix_get(int *out, struct store *st, int64_t dish_id,
    const char *service, struct err *err) MUST_CHECK;

struct menu_cuts {
	struct plan_cut *items; /* owned */
	size_t count;
};

/*
 * menu_cuts_open - the present cuts of all dishes on the menu, with the share
 * of the service named (0 when it does not serve the dish), by dish code, part
 * and the order they stand in the menu.
 */
enum rc menu_cuts_open(struct menu_cuts *out, struct store *st,
    const char *service, struct err *err) MUST_CHECK;
/* dish_cuts_open - the present cuts of one dish, on the menu or not; mix_bp is
 * 0.  Freed with menu_cuts_fini(). */
enum rc dish_cuts_open(struct menu_cuts *out, struct store *st, int64_t dish_id,
    struct err *err) MUST_CHECK;
void menu_cuts_fini(struct menu_cuts *l);

/*
 * cut_find - the present cut of a dish on the menu for a species.
 * RC_OK, RC_NOTFOUND naming the dish.
 */
enum rc cut_find(struct plan_cut *out, struct store *st, const char *dish,
    const char *species, struct err *err) MUST_CHECK;

#endif /* STORE_MENU_H */
