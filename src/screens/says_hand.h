/* says_hand.h - messages of what is done to stock, on On hand and in Service.
 * Private to src/screens. */
#ifndef SCREENS_SAYS_HAND_H
#define SCREENS_SAYS_HAND_H

#include "base/say.h"

/* --- words for a row ------------------------------------------------------*/

#define SAY_HAND_DATE N_("%s %d %s") /* Fri 27 Nov */
#define SAY_HAND_LEFT NN_("%d day left", "%d days left")
#define SAY_HAND_TODAY N_("today")
#define SAY_HAND_TODAY_UNTIL N_("today, to %02d:%02d")
#define SAY_HAND_TOMORROW N_("tomorrow")
#define SAY_HAND_EXPIRED N_("EXPIRED")
#define SAY_HAND_EXPIRED_HELD N_("EXPIRED, on hold")
#define SAY_HAND_HELD N_("on hold")
#define SAY_HAND_HELD_TODAY N_("on hold, today")
#define SAY_HAND_FROZEN N_("frozen, %d d")
#define SAY_HAND_FROZEN_HELD N_("frozen, on hold")
#define SAY_HAND_THAWED N_("thawed, %s")
#define SAY_HAND_PORTIONS NN_("%lld portion", "%lld portions")
#define SAY_HAND_FISH NN_("%lld fish", "%lld fish")
#define SAY_HAND_AND N_("%s, %s")
#define SAY_HAND_HELD_WHY N_("ON HOLD: %s")

/* --- what is done to stock ------------------------------------------------*/

#define SAY_DEED_USE N_("Use %s")
#define SAY_DEED_FREEZE NN_("Freeze %d unit", "Freeze %d units")
#define SAY_DEED_THAW                                                          \
	NN_("Take %d unit out to thaw", "Take %d units out to thaw")
#define SAY_DEED_DISCARD N_("Discard %s")
#define SAY_DEED_DISCARD_N NN_("Discard %d unit", "Discard %d units")
#define SAY_DEED_EXPIRED                                                       \
	NN_("Expired: %d thing to empty", "Expired: %d things to empty")
#define SAY_DEED_COUNT N_("Count %s")
#define SAY_DEED_HOLD N_("Put %s on hold")
#define SAY_DEED_RELEASE N_("Release %s")

#define SAY_DEED_HOW_MANY N_("How many portions")
#define SAY_DEED_SEEN N_("Portions seen")
#define SAY_DEED_TEMP N_("Temperature reached")
#define SAY_DEED_TEMP_HINT N_("C, core or freezer")
#define SAY_DEED_WHY N_("Why")
#define SAY_DEED_WHY_MAY N_("Why, if it needs it")
#define SAY_DEED_WHY_DIFFERS N_("Why, if it differs")
#define SAY_DEED_WHY_THIS N_("Why this one")
#define SAY_DEED_WHY_THIS_HINT                                                 \
	N_("Esc leaves it; with a reason it is used all the same.")
#define SAY_DEED_FISH N_("Fish")
#define SAY_DEED_WEIGHT N_("Weight")
#define SAY_DEED_ONE_HINT N_("Enter takes one")
#define SAY_DEED_ALL_HINT N_("empty: all that is left")
#define SAY_DEED_ONE_LINE N_("%s: %s")
#define SAY_DEED_MORE NN_("and %d more", "and %d more")
#define SAY_DEED_LEFT NN_("%lld left", "%lld left")
#define SAY_DEED_PAST N_("past its use-by")
#define SAY_DEED_DIFFERS N_("not as recorded: say why")
#define SAY_DEED_SKIP N_("Enter throws it away and shows the next; Esc stops.")

#define SAY_DID_USE N_("Used %lld of %s, %s: %lld left, use by %s.")
#define SAY_DID_DISCARD N_("Discarded %s of %s.")
#define SAY_DID_DISCARD_N NN_("Discarded %d unit.", "Discarded %d units.")
#define SAY_DID_EMPTIED N_("Nothing is past its use-by any more.")
#define SAY_DID_COUNT_SAME N_("%s: %lld, as recorded.")
#define SAY_DID_COUNT N_("%s: %lld now, %lld on record before.")
#define SAY_DID_HOLD                                                           \
	N_("%s is on hold: it is neither planned, broken down "                \
	   "nor served. l prints a hold label.")
#define SAY_DID_HOLD_LABELS                                                    \
	NN_("%s is on hold, and %d queued label of it will not print. l "      \
	    "prints a hold label.",                                            \
	    "%s is on hold, and %d queued labels of it will not print. l "     \
	    "prints a hold label.")
#define SAY_DID_RELEASE N_("%s is released.")
#define SAY_DID_RELEASE_LABELS                                                 \
	N_("%s is released. Labels the hold stopped, to print again: %s")
#define SAY_DEED_BREAKDOWN N_("Breakdown %lld")
#define SAY_DID_FREEZE                                                         \
	NN_("%d unit is frozen. Its label is void: l prints a new one.",       \
	    "%d units are frozen. Their labels are void: l prints new ones.")
#define SAY_DID_THAW                                                           \
	NN_("%d unit thaws. Its label is void: l prints a new one.",           \
	    "%d units thaw. Their labels are void: l prints new ones.")
#define SAY_DID_LABEL NN_("%d label is queued.", "%d labels are queued.")
#define SAY_DID_SOME N_("%d were discarded, then: ")

/* what became of dates */
#define SAY_KEPT_TITLE N_("New dates")
#define SAY_KEPT_FROZEN                                                        \
	N_("%s  %s, %lld left, frozen at %s\n  use by %s while frozen; "       \
	   "before "                                                           \
	   "%s\n")
#define SAY_KEPT_DAYS                                                          \
	NN_("  %d day left of its life in chill\n",                            \
	    "  %d days left of its life in chill\n")
#define SAY_KEPT_THAWED                                                        \
	N_("%s  %s, %lld left, out to thaw\n  use by %s (%s); before %s\n")
#define SAY_KEPT_CAUTION N_("  caution: %s\n")
#define SAY_KEPT_LABEL                                                         \
	N_("\nThe labels on these are void. Enter, then l prints new ones.\n")

/* labels */
#define SAY_LABEL_AGAIN N_("Print one more label?")
#define SAY_LABEL_AGAIN_TEXT                                                   \
	N_("%s has a label already, or one that may have come out. The next "  \
	   "is marked as reprint %d. Throw the old one away.")
#define SAY_LABEL_AGAIN_MORE                                                   \
	NN_("%d more has one as well.", "%d more have one as well.")

/* refusals in words, loud */
#define SAY_NO_EXPIRED N_("EXPIRED")
#define SAY_NO_EXPIRED_TEXT                                                    \
	N_("%s, %s, was to be used by %s. Do not serve it: discard it.")
#define SAY_NO_HELD N_("ON HOLD")
#define SAY_NO_HELD_TEXT                                                       \
	N_("%s, %s, is on hold. Do not serve it: put it back and ask who "     \
	   "holds it.")
#define SAY_NO_FROZEN N_("FROZEN")
#define SAY_NO_FROZEN_TEXT                                                     \
	N_("%s, %s, is frozen. Take it out to thaw first (On hand, h), and "   \
	   "use one that is thawed.")
#define SAY_NO_USED_UP N_("USED UP")
#define SAY_NO_ONTO_TEXT                                                       \
	N_("%s, %s: the rest of it is on tray %s. Take this label off.")
#define SAY_NO_USED_UP_TEXT                                                    \
	N_("By the record nothing is left of %s, %s. If it is there, count "   \
	   "it: it may be another tray with an old label.")
#define SAY_NO_TITLE N_("Not this one")
#define SAY_OLDER_TITLE N_("An older one first")
#define SAY_OLDER_TAKE N_("TAKE %s")
#define SAY_OLDER_TEXT                                                         \
	N_("%s, %s, use by %s: row %lld of On hand. It is older than %s, use " \
	   "by %s.")

#endif /* SCREENS_SAYS_HAND_H */
