/*
 * ops/menu_edit.h - the menu and the book seen, and changed by hand.
 *
 * What is typed goes through the same checks as a file of ops/bring_in.h and
 * comes in whole or not at all.  A portion already made keeps the cut it was
 * made to.
 */
#ifndef OPS_MENU_EDIT_H
#define OPS_MENU_EDIT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/day.h"
#include "base/err.h"
#include "ops/station.h"
#include "store/bookings.h"
#include "store/menu.h"

/* --- the menu --------------------------------------------------------------*/

struct menu_dish {
	struct dish dish;
	int share_bp[CONFIG_SERVICES_MAX]; /* by place in the settings */
	size_t first, cuts;                /* in struct menu_list's cuts */
};

struct menu_list {
	struct menu_dish *items; /* owned; by dish code */
	size_t count;
	struct plan_cut *cuts; /* owned; present ones, by part */
	size_t cut_count;
};

/*
 * menu_list_open - the dishes on the menu, or (`on` false) those that once were
 * and are off it: at most `most`, the first `skip` left out.
 */
enum rc menu_list_open(struct menu_list *out, struct station *sn, bool on,
    int64_t skip, int64_t most, struct err *err) MUST_CHECK;
void menu_list_fini(struct menu_list *l);

/* What can be typed of a dish, and of each of its cuts: the columns of the
 * menu's file (docs/files.md). */
#define MENU_COLUMN_LIST(X)                                                    \
	X(DISH, "dish")                                                        \
	X(NAME, "name")                                                        \
	X(STATE, "state")                                                      \
	X(ALLERGENS, "allergens")                                              \
	X(PRICE, "price")                                                      \
	X(MIX, "mix")                                                          \
	X(SPECIES, "species") /* the first that belongs to a cut */            \
	X(CUT, "cut")                                                          \
	X(SKIN, "skin")                                                        \
	X(BOUGHT, "bought")                                                    \
	X(LOW, "low")                                                          \
	X(TARGET, "target")                                                    \
	X(HIGH, "high")                                                        \
	X(YIELD, "yield")                                                      \
	X(FINISH, "finish")                                                    \
	X(PIECES, "pieces")

enum menu_column {
#define MENU_COLUMN_ENUM(NAME, word) MENU_##NAME,
	MENU_COLUMN_LIST(MENU_COLUMN_ENUM)
#undef MENU_COLUMN_ENUM
	    MENU_COLUMNS
};

#define DISH_CUTS_MAX 8

/* A dish as typed; NULL is empty.  The dish's own columns are the same for all
 * of its cuts. */
struct dish_in {
	const char *dish[MENU_SPECIES];
	const char
	    *cuts[DISH_CUTS_MAX][MENU_COLUMNS]; /* from MENU_SPECIES on */
	size_t cut_count;                       /* 1 and more */
	bool add; /* a new one; else change the one of this code */
	const char *by;
};

/* Where it is wrong: a column, and which cut; MENU_COLUMNS: not known. */
struct dish_wrong {
	enum menu_column column;
	size_t cut;
};

/*
 * menu_put - record a dish with all of its cuts and put it on the menu; cuts it
 * no longer has end.  `wrong` may be NULL.
 * RC_OK, also when nothing changed; RC_INVALID: `wrong` says where; RC_NOTFOUND
 * no such dish to change; RC_REFUSED: a new dish has an old one's code (`wrong`
 * says so), or the clock is in doubt.
 */
enum rc menu_put(struct dish_wrong *wrong, struct station *sn,
    const struct dish_in *in, struct err *err) MUST_CHECK;

/* menu_take - take a dish off the menu, or put it back as it was.
 * RC_OK, RC_NOTFOUND, RC_REFUSED. */
enum rc menu_take(struct station *sn, const char *dish, bool on, const char *by,
    struct err *err) MUST_CHECK;

/* --- the book --------------------------------------------------------------*/

/* A sitting of the settings on a day. */
struct covers_row {
	day_no day;
	int window;             /* of the settings' services */
	bool booked;            /* something is in the book */
	struct service service; /* id 0: nothing is */
};

struct covers_list {
	struct covers_row *items; /* owned; by day, then as in the settings */
	size_t count;
};

#define COVERS_DAYS_MAX 31

/* covers_list_open - every sitting of `days` days from `from`. */
enum rc covers_list_open(struct covers_list *out, struct station *sn,
    day_no from, int days, struct err *err) MUST_CHECK;
void covers_list_fini(struct covers_list *l);

/* As typed; NULL is empty. */
struct booking_in {
	day_no day;
	const char *service;
	const char *covers;  /* 0 to 5000 */
	const char *parties; /* core/parties.h; adds up to the covers */
	const char *by;
};

/*
 * booking_put - what the book says of a sitting, instead of what it said.
 * RC_OK, also when nothing changed; RC_INVALID: *at_parties tells which field
 * (may be NULL); RC_REFUSED.
 */
enum rc booking_put(bool *at_parties, struct station *sn,
    const struct booking_in *in, struct err *err) MUST_CHECK;

#endif /* OPS_MENU_EDIT_H */
