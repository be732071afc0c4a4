/* says_on_hand.h - messages of the On hand screen.  Private to src/screens. */
#ifndef SCREENS_SAYS_ON_HAND_H
#define SCREENS_SAYS_ON_HAND_H

#include "base/say.h"

#define SAY_HAND_TITLE N_("On hand")

/* --- the list -------------------------------------------------------------*/

#define SAY_HAND_COL_USE_BY N_("use by")
#define SAY_HAND_COL_WHAT N_("what")
#define SAY_HAND_COL_LEFT N_("left")
#define SAY_HAND_COL_CODE N_("code")
#define SAY_HAND_EMPTY                                                         \
	N_("Nothing is on hand. What comes in at Goods in (F3) stands here, "  \
	   "and what a breakdown (F5) makes of it.")
#define SAY_HAND_EMPTY_FILTER                                                  \
	N_("Nothing on hand is like that. x shows everything again.")
#define SAY_HAND_SHOWS N_("Shown: %s")
#define SAY_HAND_WHAT_BOTH N_("everything")
#define SAY_HAND_WHAT_BATCHES N_("batches")
#define SAY_HAND_WHAT_UNITS N_("portions and trays")
#define SAY_HAND_RAW N_("raw")
#define SAY_HAND_COOKED N_("cooked")
#define SAY_HAND_LIVE N_("live")
#define SAY_HAND_IS_FROZEN N_("frozen")
#define SAY_HAND_IS_THAWED N_("thawed")
#define SAY_HAND_IS_EXPIRED N_("expired")
#define SAY_HAND_IS_TODAY N_("expires today")
#define SAY_HAND_ANY_STATE N_("any state")
#define SAY_HAND_ANY_SPECIES N_("any species")
#define SAY_HAND_ANY_DISH N_("any dish, and batches")
#define SAY_HAND_CHOICE N_("%s (%d)") /* rows */
#define SAY_HAND_BATCHES NN_("%d batch", "%d batches")
#define SAY_HAND_UNITS NN_("%d unit", "%d units")
#define SAY_HAND_EXPIRED_N                                                     \
	NN_("EXPIRED: %d thing is past its use-by and must go: e",             \
	    "EXPIRED: %d things are past their use-by and must go: e")
#define SAY_HAND_TODAY_N                                                       \
	NN_("%d thing expires today: use it first",                            \
	    "%d things expire today: use them first")
#define SAY_HAND_MARKED                                                        \
	NN_("%d marked: f, h, d and l take it",                                \
	    "%d marked: f, h, d and l take them together")
#define SAY_HAND_MARKS_FULL N_("At most %d at once: do these first.")

/* --- the chosen one -------------------------------------------------------*/

#define SAY_HAND_UNIT_CODE N_("%s of batch %s, %s")
#define SAY_HAND_BATCH_CODE N_("batch %s, %s")
#define SAY_HAND_UNIT_LEFT N_("%lld of %lld, %s")
#define SAY_HAND_BATCH_LEFT N_("%s, %s")
#define SAY_HAND_HELD_BATCH N_("ON HOLD with its batch: %s")
#define SAY_HAND_OUT N_("Past its use-by: discard it.")
#define SAY_HAND_IS_UNTIL N_("%s, use by %s") /* raw; Sun 6 December, today */
#define SAY_HAND_UNTIL N_("until %02d:%02d")

/* --- keys -----------------------------------------------------------------*/

#define SAY_HAND_USE N_("use")
#define SAY_HAND_USE_HELP                                                      \
	N_("Scan out for the present service; the oldest goes first.")
#define SAY_HAND_DISCARD N_("discard")
#define SAY_HAND_DISCARD_HELP                                                  \
	N_("Throw away the chosen or the marked, with the reason.")
#define SAY_HAND_FREEZE N_("freeze")
#define SAY_HAND_FREEZE_HELP                                                   \
	N_("Into the freezer, with the temperature reached.")
#define SAY_HAND_THAW N_("thaw")
#define SAY_HAND_THAW_HELP N_("Out of the freezer, to thaw in the fridge.")
#define SAY_HAND_COUNT N_("count")
#define SAY_HAND_COUNT_HELP                                                    \
	N_("How many are really there; why, when the record differs.")
#define SAY_HAND_HOLD N_("hold")
#define SAY_HAND_HOLD_HELP                                                     \
	N_("Block it until somebody decides: not planned, not served.")
#define SAY_HAND_RELEASE N_("release")
#define SAY_HAND_RELEASE_HELP N_("Lift a hold, with the reason.")
#define SAY_HAND_LABEL N_("label")
#define SAY_HAND_LABEL_HELP                                                    \
	N_("Print its label: the first, a marked reprint, or a hold label.")
#define SAY_HAND_TRACE N_("trace")
#define SAY_HAND_TRACE_HELP N_("Back to the delivery, forward to the plate.")
#define SAY_HAND_EMPTY_KEY N_("empty expired")
#define SAY_HAND_EMPTY_HELP                                                    \
	N_("Go through what is past its use-by, one after the other.")
#define SAY_HAND_TOGETHER N_("put together")
#define SAY_HAND_TOGETHER_HELP                                                 \
	N_("What is left of the marked trays of one dish onto one new tray.")
#define SAY_HAND_TOGETHER_ASK N_("Put these trays together?")
#define SAY_HAND_TOGETHER_TEXT                                                 \
	N_("%d trays become one: %d x %s, use by %s, the earliest of them. "   \
	   "It gets a label of its own, the old labels come off. Enter does "  \
	   "it, Esc leaves them.")
#define SAY_HAND_TOGETHER_DONE                                                 \
	NN_("Tray %s: take the label off %d tray it came from.",               \
	    "Tray %s: take the labels off the %d trays it came from.")
#define SAY_HAND_TOGETHER_MOST N_("At most %d trays are put together at once.")
#define SAY_HAND_MARK N_("mark")
#define SAY_HAND_MARK_HELP                                                     \
	N_("Mark this row, to freeze, thaw, discard or label several.")
#define SAY_HAND_STATE N_("state")
#define SAY_HAND_STATE_HELP N_("Show only raw, frozen, on hold, expired ...")
#define SAY_HAND_SPECIES N_("species")
#define SAY_HAND_SPECIES_HELP N_("Show only one species.")
#define SAY_HAND_DISH N_("dish")
#define SAY_HAND_DISH_HELP N_("Show only what was made for one dish.")
#define SAY_HAND_KIND N_("batches")
#define SAY_HAND_KIND_HELP N_("Batches and units together, or one of them.")
#define SAY_HAND_ALL N_("all")
#define SAY_HAND_ALL_HELP N_("Show everything again, with nothing marked.")

/* what stands in the way */
#define SAY_BAR_CHOOSE N_("Choose something first.")
#define SAY_BAR_UNITS                                                          \
	N_("Only portions and trays are frozen or thawed: "                    \
	   "mark those alone.")
#define SAY_BAR_BATCH_HOLD                                                     \
	N_("The hold is on batch %s: release that one, and all made from it "  \
	   "is free.")
#define SAY_HAND_MOVE N_("move")
#define SAY_HAND_MOVE_HELP                                                     \
	N_("Say where the chosen or marked ones were put: a recall is pulled " \
	   "by place.")
#define SAY_HAND_MOVE_WHERE N_("Where was it put?")
#define SAY_HAND_MOVED                                                         \
	NN_("%ld thing was moved: %s", "%ld things were moved: %s")
#define SAY_HAND_PLACE N_("in: %s")
#define SAY_BAR_PREP_HOLD                                                      \
	N_("The hold is on the breakdown that made it, of batch %s: t shows "  \
	   "it, and releases it there.")
#define SAY_BAR_GONE N_("%s is not on hand any more.")
#define SAY_BAR_NOT_SHOWN                                                      \
	N_("%s is on hand, but not among what is shown: x "                    \
	   "shows everything.")

#endif /* SCREENS_SAYS_ON_HAND_H */
