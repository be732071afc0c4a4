/* says_breakdown.h - messages of the breakdown screen.  Private to src/screens.
 */
#ifndef SCREENS_SAYS_BREAKDOWN_H
#define SCREENS_SAYS_BREAKDOWN_H

#include "base/say.h"

#define SAY_BD_TITLE N_("Breakdown")

/* footer and help */
#define SAY_BD_OPEN N_("open")
#define SAY_BD_OPEN_HELP                                                       \
	N_("Begin a breakdown of the chosen batch; or scan its label.")
#define SAY_BD_RESUME N_("go on")
#define SAY_BD_RESUME_HELP N_("Go on with the half-typed breakdown.")
#define SAY_BD_DROP N_("throw away")
#define SAY_BD_DROP_HELP N_("Throw the half-typed breakdown away.")
#define SAY_BD_RECORD N_("record")
#define SAY_BD_RECORD_HELP                                                     \
	N_("Record the breakdown; its labels are queued at once.")
#define SAY_BD_WEIGH N_("weigh")
#define SAY_BD_WEIGH_HELP                                                      \
	N_("Put the weight on the scale into the chosen field.")
#define SAY_BD_NEXT N_("next fish")
#define SAY_BD_NEXT_HELP N_("The next fish of the cut plan; b goes back one.")
#define SAY_BD_BACK_HELP N_("The fish of the cut plan before this one.")
#define SAY_BD_DISHES N_("dishes")
#define SAY_BD_DISHES_HELP                                                     \
	N_("Show every dish that can be made of this fish, or only those "     \
	   "planned.")
#define SAY_BD_WITH N_("add a batch")
#define SAY_BD_WITH_HELP                                                       \
	N_("Another batch of the same fish onto the board: choose it, or "     \
	   "scan its label.")
#define SAY_BD_OUT N_("take out")
#define SAY_BD_OUT_HELP N_("Take the batch added last off the board again.")
#define SAY_BD_DONE N_("done")
#define SAY_BD_DONE_HELP N_("Back to where the breakdown was begun.")

/* choosing a batch */
#define SAY_BD_CHOOSE N_("Which batch? Scan its label, or choose it here.")
#define SAY_BD_NO_BATCH                                                        \
	N_("There is no batch to break down: nothing is left of any.\n\nF3 "   \
	   "takes goods in.")
#define SAY_BD_WAITING N_("Half typed: %s (%s%s%s)")
#define SAY_BD_WAITING_HOW N_("r goes on with it, x throws it away.")
#define SAY_BD_FISH_LEFT NN_("%d fish", "%d fish")
#define SAY_BD_USE_BY N_("use by %s")
#define SAY_BD_HELD N_("ON HOLD")
#define SAY_BD_EXPIRED N_("EXPIRED: discard it")

/* fields */
#define SAY_BD_F_FISH N_("fish taken")
#define SAY_BD_F_WHICH N_("which of them")
#define SAY_BD_F_WHICH_HINT N_("numbers off the scale: 3,5")
#define SAY_BD_F_IN N_("weighed in")
#define SAY_BD_F_WEIGH_HINT N_("w weighs")
#define SAY_BD_F_PORTIONS N_("%.13s, portions")
#define SAY_BD_F_WEIGHT N_("%.13s, weight")
#define SAY_BD_F_LABEL N_("%.13s, per label")
#define SAY_BD_F_LABEL_HINT N_("empty: 1")
#define SAY_BD_F_PLANNED N_("planned %d")
#define SAY_BD_F_TARGET N_("%d g each")
#define SAY_BD_F_TRIM N_("trim kept")
#define SAY_BD_F_FRAMES N_("frames")
#define SAY_BD_F_WASTE N_("waste")
#define SAY_BD_F_MINUTES N_("minutes")
#define SAY_BD_F_MINUTES_HINT N_("0: not said")
#define SAY_BD_F_MINUTES_RUN N_("%d so far; 0: not said")
#define SAY_BD_F_NOTE N_("note")
#define SAY_BD_F_FROZEN N_("raw: frozen")
#define SAY_BD_F_TIME_HINT N_("fri 18:00")
#define SAY_BD_F_THAWED N_("raw: thawed")
#define SAY_BD_F_DEGREES N_("raw: degrees C")
#define SAY_BD_F_DEGREES_HINT N_("-20")
#define SAY_BD_F_FEED N_("raw: farm feed")
#define SAY_BD_F_FEED_HINT N_("supplier's statement")
#define SAY_BD_TIME_HOW                                                        \
	N_("type a day and a time as fri 18:00, 27.11 18:00 or "               \
	   "2026-11-27T18:00")
#define SAY_BD_TIME_READ N_("%s: %s")

/* another batch on the board */
#define SAY_BD_F_WITH_FISH N_("%s, fish")
#define SAY_BD_F_WITH_IN N_("%s, in")
#define SAY_BD_ASK_WITH N_("%s onto the same board?")
#define SAY_BD_ASK_WITH_TEXT                                                   \
	N_("What comes out is of both then: every label names both, and a "    \
	   "hold on either blocks it. The date is the earliest: %s, use by "   \
	   "%s. Enter adds it, Esc leaves it.")
#define SAY_BD_WITH_ON N_("%s is on the board: say how much of it.")
#define SAY_BD_WITH_OFF N_("%s is off the board.")
#define SAY_BD_WITH_FULL                                                       \
	N_("%d batches are on the board: record this one first.")
#define SAY_BD_WITH_NONE                                                       \
	N_("No other batch of this fish in this presentation may go with it.")
#define SAY_BD_WITH_WHICH N_("Which batch goes onto the same board?")
#define SAY_BD_WITH_ROW N_("%s  %s left, use by %s")
#define SAY_BD_WITH_HEAD N_("with %s: %s")
#define SAY_BD_WITH_FIRST                                                      \
	N_("Every label names all of them; first to expire is %s.")
#define SAY_BD_NEED_WITH_FISH                                                  \
	N_("Type how many fish of %s were taken, or o takes it out.")
#define SAY_BD_NEED_WITH_IN N_("Weigh what was taken of %s, or o takes it out.")

/* head of a breakdown */
#define SAY_BD_HEAD N_("%s  %s, %s")
#define SAY_BD_HEAD_LEFT N_("%s left, use by %s")
#define SAY_BD_HEAD_FISH                                                       \
	NN_("%d fish, %s left, use by %s", "%d fish, %s left, use by %s")
#define SAY_BD_KNIVES                                                          \
	N_("Knives: sharp blade, dry board, and the house's own training "     \
	   "first.")
#define SAY_BD_RAW                                                             \
	N_("Served raw: only with its freeze record or an exemption; local "   \
	   "rules decide.")

/* balance */
#define SAY_BD_UNEXPLAINED N_("unexplained, g")
#define SAY_BD_TOO_MUCH N_("MORE OUT THAN IN, g")
#define SAY_BD_YIELD N_("yield %s")
#define SAY_BD_YIELD_EXPECTED N_("yield %s, exp. %s")
#define SAY_BD_YIELD_MIXED N_("several cuts: no one yield")
#define SAY_BD_GOODS_IN N_("at goods in %s")
#define SAY_BD_RUNNING NN_("%d minute so far", "%d minutes so far")
#define SAY_BD_TARGET N_("cut at, g")
#define SAY_BD_SCALE N_("scale: %s")
#define SAY_BD_FISH_OF N_("fish %d of %d in the plan")

/* what is said */
#define SAY_BD_KEPT                                                            \
	N_("A breakdown is half typed: finish it, or go back and throw it "    \
	   "away with x.")
#define SAY_BD_ENTER N_("F12 records it.")
#define SAY_BD_ASK_DROP N_("Throw the half-typed breakdown away?")
#define SAY_BD_ASK_DROP_TEXT N_("%s: Enter throws it away, Esc keeps it.")
#define SAY_BD_DROPPED N_("Thrown away.")
#define SAY_BD_RESUMED                                                         \
	N_("Going on with it; the minutes are no longer counted.")
#define SAY_BD_NEED_FISH N_("Type how many fish were taken.")
#define SAY_BD_NEED_IN N_("Weigh what was taken in.")
#define SAY_BD_NEED_WEIGHT N_("Weigh the portions of %s.")
#define SAY_BD_NEED_PORTIONS N_("Type how many portions of %s were made.")
#define SAY_BD_NEED_OUT                                                        \
	N_("Nothing came out yet: portions, trim, frames or waste.")
#define SAY_BD_NOT_A_BATCH                                                     \
	N_("That is a portion's label: scan a batch to break down.")
#define SAY_BD_NO_SCALE_FIELD                                                  \
	N_("w weighs into a field for a weight: choose one first.")
#define SAY_BD_WEIGHING N_("Weighing... keep your hands off the scale.")
#define SAY_BD_WEIGHED N_("Weighed: %s.")
#define SAY_BD_NOT_WEIGHED N_("Not weighed: %s")
#define SAY_BD_DOUBT_YIELD                                                     \
	N_("%s came out where %s is expected: nothing is recorded yet.")
#define SAY_BD_DOUBT_MINUTES                                                   \
	N_("%d minutes where about %d are expected: nothing is recorded yet.")
#define SAY_BD_ASK_YIELD N_("Is this yield right?")
#define SAY_BD_ASK_YIELD_TEXT                                                  \
	N_("%s came out where %s is expected: weigh again. If it is right, "   \
	   "Enter records it and nothing is learned from it; Esc goes back "   \
	   "to the weights.")
#define SAY_BD_ASK_MINUTES N_("Are these minutes right?")
#define SAY_BD_ASK_MINUTES_TEXT                                                \
	N_("%d minutes where about %d are expected. If they are right, Enter " \
	   "keeps them and nothing is learned from them; Esc goes back.")

/* what was made */
#define SAY_BD_MADE NN_("%d labelled unit of %s", "%d labelled units of %s")
#define SAY_BD_MADE_NONE                                                       \
	N_("No portions: trim, frames and waste of %s are recorded.")
#define SAY_BD_MADE_IN N_("%s in, %d g unexplained")
#define SAY_BD_MADE_ALL N_("%s in, all explained")
#define SAY_BD_MADE_LEFT NN_("%d fish left", "%d fish left")
#define SAY_BD_MADE_LEFT_G N_("%s left")
#define SAY_BD_MADE_YIELD N_("Yield %s, %s expected.")
#define SAY_BD_MADE_YIELD_NEW N_("Yield %s.")
#define SAY_BD_MADE_ASIDE N_("Nothing is learned from it.")
#define SAY_BD_MADE_MINUTES                                                    \
	NN_("%d minute, about %d expected.", "%d minutes, about %d expected.")
#define SAY_BD_MADE_LOST N_("The fish left are no longer known one by one.")
#define SAY_BD_MADE_LOOK N_("Look again: %s.")
#define SAY_BD_MADE_USE_BY N_("USE BY")
#define SAY_BD_MADE_USE_BY_OF N_("USE BY, of batch %s")
#define SAY_BD_MADE_LEFT_OF N_("%s: %s")
#define SAY_BD_MADE_ROW N_("%s  %d x %s, %d g, use by %s")
#define SAY_BD_LABELS                                                          \
	NN_("%d label is on its way.", "%d labels are on their way.")
#define SAY_BD_NO_LABELS                                                       \
	N_("Recorded, but its labels are not queued (%s): print them on F10.")

#endif /* SCREENS_SAYS_BREAKDOWN_H */
