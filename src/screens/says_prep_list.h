/* says_prep_list.h - messages of the prep list.  Private to src/screens. */
#ifndef SCREENS_SAYS_PREP_LIST_H
#define SCREENS_SAYS_PREP_LIST_H

#include "base/say.h"

#define SAY_PL_TITLE N_("Prep list")

/* footer and help */
#define SAY_PL_START N_("start")
#define SAY_PL_START_HELP                                                      \
	N_("Begin the breakdown of the chosen task; it is marked as started.")
#define SAY_PL_TICK N_("tick")
#define SAY_PL_TICK_HELP N_("Tick a task off, or open a ticked one again.")
#define SAY_PL_WHY N_("why")
#define SAY_PL_WHY_HELP                                                        \
	N_("Where the numbers of the chosen dish come from, and what was "     \
	   "left alone.")
#define SAY_PL_CUT N_("cut")
#define SAY_PL_CUT_HELP                                                        \
	N_("The cut plan, fish by fish, and how good it is proved to be.")
#define SAY_PL_ORDER N_("order")
#define SAY_PL_ORDER_HELP N_("What is missing, as suppliers sell it.")
#define SAY_PL_VIEW N_("dishes")
#define SAY_PL_VIEW_HELP N_("Show dishes instead of tasks, and back.")
#define SAY_PL_SERVICE N_("service")
#define SAY_PL_SERVICE_HELP N_("Prepare for another service.")
#define SAY_PL_EXPECT N_("expect")
#define SAY_PL_EXPECT_HELP                                                     \
	N_("Type what you expect: at least, at most, or exactly so many "      \
	   "portions or covers.")
#define SAY_PL_FISH N_("fish")
#define SAY_PL_FISH_HELP                                                       \
	N_("Say which batch or fish comes first, stays closed, is served "     \
	   "whole, or lies weighed on the board; for this plan only.")
#define SAY_PL_PRINT N_("list")
#define SAY_PL_PRINT_HELP N_("Print the prep list or the order list.")
#define SAY_PL_PLAN N_("plan")
#define SAY_PL_PLAN_HELP N_("Plan again now.")
#define SAY_PL_MIND N_("mind")
#define SAY_PL_MIND_HELP N_("What can hurt someone in this work.")

/* head */
#define SAY_PL_HEAD N_("%s, %s %d %s")
#define SAY_PL_COVERS N_("%d booked, %d.%d expected")
#define SAY_PL_COVERS_TYPED N_("%d booked, %d.%d expected (typed)")
#define SAY_PL_PLANNED N_("planned %02d:%02d")
#define SAY_PL_MAKING N_("planning again; planned %02d:%02d")
#define SAY_PL_STALE N_("the record changed: p plans again")
#define SAY_PL_WORK N_("%d min of work, %d when slow; begin by %02d:%02d")
#define SAY_PL_WORK_LATE                                                       \
	N_("%d min of work, %d when slow; it should have begun at %02d:%02d")
#define SAY_PL_LEFT NN_("%d of %d task to do", "%d of %d tasks to do")
#define SAY_PL_EARLIER                                                         \
	NN_("after %d earlier service took its share",                         \
	    "after %d earlier services took their share")
#define SAY_PL_SAID NN_("%d word of the chef's", "%d words of the chef's")
#define SAY_PL_SHORT                                                           \
	NN_("SHORT %d portion: o shows what to order",                         \
	    "SHORT %d portions: o shows what to order")

/* empty states */
#define SAY_PL_NO_SERVICE                                                      \
	N_("No service with bookings in the next %d days.\n\nF9 takes "        \
	   "bookings and covers; then this page plans the work.")
#define SAY_PL_FIRST N_("Planning...")
#define SAY_PL_NO_PLAN                                                         \
	N_("There is no plan: %s\n\np tries again, s chooses another "         \
	   "service.")
#define SAY_PL_NO_DISH                                                         \
	N_("No dish of the menu is on for this service.\n\nF9 gives dishes "   \
	   "their share of it.")
#define SAY_PL_NOTHING                                                         \
	N_("Nothing to prepare: all that is needed is on hand.\n\nv shows "    \
	   "the dishes, y why.")
#define SAY_PL_NO_FISH                                                         \
	N_("Nothing can be made: there is no fish for it.\n\no shows what to " \
	   "order, y why; F3 takes goods in.")

/* rows */
#define SAY_PL_CLEANDOWN N_("full clean-down")
#define SAY_PL_CHANGE N_("other board and knife")
#define SAY_PL_MIN N_("%d min")
#define SAY_PL_ABOUT_MIN N_("~%d min")
#define SAY_PL_PORTIONS N_("%d x %s")
#define SAY_PL_BY N_("%s %02d:%02d")
#define SAY_PL_SOURCE N_("%s, use by %s")
#define SAY_PL_STEP N_("%s: %s")
#define SAY_PL_RAW                                                             \
	N_("served raw: only with its freeze record or an exemption; the "     \
	   "breakdown asks for it")
#define SAY_PL_LATER N_("comes again further down")
#define SAY_PL_FROM_TRAY                                                       \
	NN_("from the trays first: %d portion",                                \
	    "from the trays first: %d portions")
#define SAY_PL_FISH_N NN_("%d fish", "%d fish")
#define SAY_PL_DISH_HEAD N_("dish")
#define SAY_PL_NEED N_("need")
#define SAY_PL_HAVE N_("on hand")
#define SAY_PL_MAKE N_("make")
#define SAY_PL_MISSING N_("short")
#define SAY_PL_FIXED N_("fixed by the chef")
#define SAY_PL_FLOOR N_("the chef's least")
#define SAY_PL_CEILING N_("the chef's most")
#define SAY_PL_NO_YIELD N_("no yield known: order by hand")
#define SAY_PL_BY_CHOICE N_("short by choice: f opens a fish for it")

/* what is asked and said */
#define SAY_PL_ASK_SERVICE N_("Prepare for which service?")
#define SAY_PL_SERVICE_ROW N_("%s %d %s, %s: %d covers")
#define SAY_PL_ASK_PRINT N_("Print what?")
#define SAY_PL_PRINT_PREP N_("prep list")
#define SAY_PL_PRINT_ORDER N_("order list")
#define SAY_PL_PRINTED                                                         \
	NN_("%d page of the list is on its way.",                              \
	    "%d pages of the list are on their way.")
#define SAY_PL_TICKED N_("Ticked: %s.")
#define SAY_PL_OPENED N_("Open again: %s.")
#define SAY_PL_ASK_OPEN N_("Open this task again?")
#define SAY_PL_ASK_OPEN_TEXT                                                   \
	N_("%s said it is done. Enter opens it again, Esc leaves it.")
#define SAY_PL_IS_DONE N_("Done already by %s: t opens it again.")
#define SAY_PL_FIRST_STEP                                                      \
	N_("Only the first step, t ticks it off: the breakdown is begun "      \
	   "here.")
#define SAY_PL_BENCH N_("Nothing to break down here: t ticks it off.")
#define SAY_PL_NO_ROW N_("There is no task to choose.")
#define SAY_PL_CHANGED                                                         \
	N_("The prep list has changed meanwhile: choose the task again.")
#define SAY_PL_TITLE_WHY N_("Why")
#define SAY_PL_TITLE_CUT N_("Cut plan")
#define SAY_PL_TITLE_ORDER N_("Order list")
#define SAY_PL_TITLE_MIND N_("Mind")
#define SAY_PL_NO_CUT N_("No fish is cut one by one in this plan.")
#define SAY_PL_ASK_EXPECT                                                      \
	N_("What do you expect? All empty takes back what was typed.")
#define SAY_PL_F_DISH N_("dish")
#define SAY_PL_F_DISH_HINT N_("a dish, or covers")
#define SAY_PL_F_LEAST N_("at least")
#define SAY_PL_F_MOST N_("at most")
#define SAY_PL_F_EXACT N_("exactly")
#define SAY_PL_COVERS_EXACT N_("Covers are typed as exactly so many.")
#define SAY_PL_EXPECTED N_("Noted: the plan is made again.")
#define SAY_PL_ASK_FISH N_("What about the fish? For this plan only.")
#define SAY_PL_F_WORD N_("what")
#define SAY_PL_F_BATCH N_("batch")
#define SAY_PL_F_FISH N_("fish number")
#define SAY_PL_F_FISH_HINT N_("empty: the whole batch")
#define SAY_PL_F_BOARD N_("pieces on board")
#define SAY_PL_F_BOARD_HINT N_("their weights: 240 236")
#define SAY_PL_W_FIRST N_("first")
#define SAY_PL_W_LEAVE N_("leave closed")
#define SAY_PL_W_WHOLE N_("serve whole")
#define SAY_PL_W_BOARD N_("on the board")
#define SAY_PL_W_CLEAR N_("take back")
#define SAY_PL_BOARD_WHICH N_("Give the weights of the pieces on the board.")
#define SAY_PL_SAYS_FULL                                                       \
	N_("No more than %d words for one plan: take some back first.")
#define SAY_PL_SAYS_NONE N_("Nothing was said of it.")

#endif /* SCREENS_SAYS_PREP_LIST_H */
