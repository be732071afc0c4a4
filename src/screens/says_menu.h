/* says_menu.h - messages of the screen Menu and covers. */
#ifndef SCREENS_SAYS_MENU_H
#define SCREENS_SAYS_MENU_H

#include "base/say.h"

/* actions: words of the footer, sentences of Help */
#define SAY_MENU_CHANGE N_("change")
#define SAY_MENU_CHANGE_HELP N_("Change the dish or the booking chosen.")
#define SAY_MENU_NEW N_("new")
#define SAY_MENU_NEW_HELP N_("A new dish.")
#define SAY_MENU_OFF N_("off")
#define SAY_MENU_OFF_HELP                                                      \
	N_("Take the dish off the menu; portions made of it stay.")
#define SAY_MENU_BACK N_("put back")
#define SAY_MENU_BACK_HELP N_("Put the dish on the menu again, as it was.")
#define SAY_MENU_GONE N_("off the menu")
#define SAY_MENU_GONE_HELP N_("Dishes that are off the menu.")
#define SAY_MENU_MENU N_("menu")
#define SAY_MENU_MENU_HELP N_("The dishes on the menu.")
#define SAY_MENU_COVERS N_("covers")
#define SAY_MENU_COVERS_HELP N_("What is booked, two weeks at a time.")
#define SAY_MENU_FORECAST N_("forecast")
#define SAY_MENU_FORECAST_HELP                                                 \
	N_("Guests, walk-ins and portions the service is likely to ask for.")
#define SAY_MENU_LATER N_("later")
#define SAY_MENU_LATER_HELP N_("The two weeks after those shown.")
#define SAY_MENU_EARLIER N_("earlier")
#define SAY_MENU_EARLIER_HELP N_("The two weeks before those shown.")
#define SAY_MENU_IMPORT N_("file")
#define SAY_MENU_IMPORT_HELP                                                   \
	N_("Bring the menu or the bookings in from a CSV file.")
#define SAY_MENU_RECORD N_("record")
#define SAY_MENU_RECORD_HELP N_("Record the dish as it is typed.")
#define SAY_MENU_NEXT_CUT N_("next cut")
#define SAY_MENU_NEXT_CUT_HELP                                                 \
	N_("Another cut of the dish: a dish needs every one of its cuts.")
#define SAY_MENU_LAST_CUT N_("cut before")
#define SAY_MENU_LAST_CUT_HELP N_("The cut before this one.")

/* dishes */
#define SAY_MENU_COUNT NN_("%d dish on the menu", "%d dishes on the menu")
#define SAY_MENU_GONE_COUNT                                                    \
	NN_("%d dish off the menu", "%d dishes off the menu")
#define SAY_MENU_MORE N_("the first %d are shown")
#define SAY_MENU_EMPTY                                                         \
	N_("No dish is on the menu. Press n for a new dish, or i to bring in " \
	   "a file that holds the whole menu.")
#define SAY_MENU_GONE_EMPTY N_("No dish is off the menu. Press m for the menu.")
/* sums of the shares, a service and its percent each */
#define SAY_MENU_SHARES N_("Shares of the covers together:%s.")
#define SAY_MENU_SHARES_MEAN                                                   \
	N_("A share is how many of a hundred guests order the dish, as the "   \
	   "menu guesses; sales teach the forecast better. They need not "     \
	   "make "                                                             \
	   "100: a guest may order two of them or none.")
#define SAY_MENU_SKIN_ON N_("skin on")
#define SAY_MENU_SKIN_OFF N_("skin off")
/* species, cut, skin, bought, low, target, high in grams */
#define SAY_MENU_CUT_LINE N_("%s  %s, %s, bought %s: %d to %d g, target %d g")
#define SAY_MENU_CUT_YIELD N_("; house yield %s")
#define SAY_MENU_CUT_FINISH N_("; finish %s")
#define SAY_MENU_CUT_PIECES N_("; %d to a portion")
#define SAY_MENU_CUT_SHARED N_("; one makes %d")
#define SAY_MENU_CUTS_MORE N_("... and %d more cuts: Enter shows them")
#define SAY_MENU_TAKEN_OFF N_("%s is off the menu.")
#define SAY_MENU_PUT_BACK N_("%s is on the menu again.")

/* a dish being changed */
#define SAY_MENU_EDIT_NEW N_("A new dish")
/* name, code */
#define SAY_MENU_EDIT_OLD N_("%s (%s)")
#define SAY_MENU_EDIT_CUT N_("cut %d of %d")
#define SAY_MENU_EDIT_KEYS                                                     \
	N_("F12 records, PgDn next cut, Esc leaves and keeps what is typed.")
#define SAY_MENU_F_CODE N_("Code")
#define SAY_MENU_F_CODE_HINT N_("a-z, 0-9 and -, such as hake-beans")
#define SAY_MENU_F_NAME N_("Name")
#define SAY_MENU_F_NAME_HINT N_("as it stands on the label")
#define SAY_MENU_F_STATE N_("State")
#define SAY_MENU_F_STATE_HINT N_("raw is to be cooked")
#define SAY_MENU_F_ALLERGENS N_("Allergens")
#define SAY_MENU_F_ALLERGENS_HINT N_("beyond the fish's own; may be empty")
#define SAY_MENU_F_PRICE N_("Price")
#define SAY_MENU_F_PRICE_HINT N_("what the guest pays; may be empty")
/* a service */
#define SAY_MENU_F_SHARE N_("Share, %s")
#define SAY_MENU_F_SHARE_HINT N_("of 100 guests; empty: not served")
#define SAY_MENU_F_SPECIES N_("Made of")
#define SAY_MENU_F_SPECIES_HINT                                                \
	N_("HKE or Hake; HKE|COD: either; empty: no cut")
#define SAY_MENU_F_CUT N_("Cut")
#define SAY_MENU_F_SKIN N_("Skin")
#define SAY_MENU_F_BOUGHT N_("Bought")
#define SAY_MENU_F_LOW N_("Low")
#define SAY_MENU_F_LOW_HINT N_("of one portion, before cooking: 150")
#define SAY_MENU_F_TARGET N_("Target")
#define SAY_MENU_F_HIGH N_("High")
#define SAY_MENU_F_YIELD N_("House yield")
#define SAY_MENU_F_YIELD_HINT N_("percent of the bought weight; may be empty")
#define SAY_MENU_F_FINISH N_("Finish")
#define SAY_MENU_F_FINISH_HINT N_("percent left after trimming; may be empty")
#define SAY_MENU_F_PIECES N_("Pieces")
#define SAY_MENU_F_PIECES_HINT N_("shellfish: 6 to a portion, 1/2 of one")
#define SAY_MENU_CUTS_MOST N_("A dish has at most %d cuts.")
#define SAY_MENU_TOO_MANY                                                      \
	N_("%s has more cuts than fit here: change it in the menu's file and " \
	   "press i.")
#define SAY_MENU_WENT                                                          \
	N_("%s was taken off this list by somebody else: nothing was opened.")
#define SAY_MENU_EARLIER_CUT N_("This is the first cut.")
#define SAY_MENU_FILL_FIRST                                                    \
	N_("Say what this cut is made of before you begin another.")
#define SAY_MENU_DROP N_("Something typed is not recorded yet")
#define SAY_MENU_DROP_TEXT                                                     \
	N_("%s was changed and not recorded. Enter drops what was typed and "  \
	   "goes on; Esc leaves it.")
#define SAY_MENU_KEPT N_("What you typed is kept until the dish is recorded.")
#define SAY_MENU_RECORDED                                                      \
	N_("%s is recorded. Portions already made keep the cut they were "     \
	   "made "                                                             \
	   "to.")

/* covers */
/* weekday, day, month, weekday, day, month */
#define SAY_COVERS_HEAD N_("Covers, %s %d %s to %s %d %s")
#define SAY_COVERS_DAY N_("%s %2d %s")
#define SAY_COVERS_BOOKED N_("%4d booked")
#define SAY_COVERS_NOTHING N_("nothing in the book yet")
#define SAY_COVERS_EXPECTED N_("chef: %d")
#define SAY_COVERS_EMPTY                                                       \
	N_("The settings name no service, so there is nothing to book: add a " \
	   "section [service NAME].")
#define SAY_COVERS_EDIT N_("%s, %s")
#define SAY_COVERS_F_COVERS N_("Booked covers")
#define SAY_COVERS_F_COVERS_HINT N_("guests: 0 to 5000")
#define SAY_COVERS_F_PARTIES N_("Parties")
#define SAY_COVERS_F_PARTIES_HINT N_("2x8 4x5 6; may be empty")
#define SAY_COVERS_F_EXPECTED N_("Chef expects")
#define SAY_COVERS_F_EXPECTED_HINT N_("with walk-ins; empty: worked out")
#define SAY_COVERS_SAVED                                                       \
	NN_("%s, %s: %d cover is in the book.",                                \
	    "%s, %s: %d covers are in the book.")
#define SAY_COVERS_GUESTS NN_("guest in the book", "guests in the book")
#define SAY_COVERS_F_KEY N_("f shows the guests and walk-ins to expect")
#define SAY_COVERS_FORECAST N_("What to expect")

/* files */
#define SAY_MENU_FILE N_("Menu from a CSV file: what it lacks comes off")
#define SAY_COVERS_FILE N_("Bookings from a CSV file: the others stay")
#define SAY_FILE_PATH N_("Path")
#define SAY_FILE_DONE                                                          \
	N_("%s: %d added, %d changed, %d as before, %d taken off.")

#endif /* SCREENS_SAYS_MENU_H */
