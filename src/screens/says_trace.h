/* says_trace.h - messages of the Trace screen.  Private to src/screens. */
#ifndef SCREENS_SAYS_TRACE_H
#define SCREENS_SAYS_TRACE_H

#include "base/say.h"

/* what is asked */
#define SAY_TR_CODE N_("Code")
#define SAY_TR_DISH N_("or dish")
#define SAY_TR_DISH_HINT N_("Enter lists them")
#define SAY_TR_SERVICE N_("and service")
#define SAY_TR_SERVICE_HINT N_("Enter lists them")
#define SAY_TR_WHICH_DISH N_("Which dish?")
#define SAY_TR_WHICH_SERVICE N_("Served when?")
#define SAY_TR_EMPTY                                                           \
	N_("Where a thing came from, and what became of it. Scan a label on "  \
	   "any screen, or type its code here. Is the label gone, choose the " \
	   "dish and the service: the batches it may be of are listed.")
#define SAY_TR_NEED N_("Type a code, or choose a dish and a service.")
#define SAY_TR_NEED_SERVICE N_("Choose the service too.")
#define SAY_TR_NEED_DISH N_("Choose the dish too.")
#define SAY_TR_NO_SERVICE                                                      \
	N_("No service of the last %d days has begun: type a code.")

/* keys */
#define SAY_TR_K_OPEN N_("open")
#define SAY_TR_H_OPEN N_("Go to the chosen row: a unit, a breakdown, a batch.")
#define SAY_TR_K_BACK N_("back")
#define SAY_TR_H_BACK N_("Back to what was shown before; Backspace does too.")
#define SAY_TR_K_NEW N_("new")
#define SAY_TR_H_NEW N_("Trace another code.")
#define SAY_TR_K_HOLD N_("hold")
#define SAY_TR_H_HOLD N_("Block it with a reason: nothing of it goes out.")
#define SAY_TR_K_RELEASE N_("release")
#define SAY_TR_H_RELEASE N_("Lift the hold, with a reason.")
#define SAY_TR_K_LABEL N_("labels")
#define SAY_TR_H_LABEL                                                         \
	N_("Print the labels that say do not use: of the batch and every "     \
	   "unit on hand.")
#define SAY_TR_K_RECALL N_("recall")
#define SAY_TR_H_RECALL N_("The list to pull a batch by.")
#define SAY_TR_K_PRINT N_("print recall")
#define SAY_TR_H_PRINT N_("Print the recall list.")
#define SAY_TR_K_WHY N_("why")
#define SAY_TR_H_WHY N_("Every limit of its use-by, with its source.")
#define SAY_TR_K_COMPLAINT N_("complaint")
#define SAY_TR_H_COMPLAINT                                                     \
	N_("A guest complains: what it is and whose, and the complaint taken " \
	   "down.")

/* head */
#define SAY_TR_BATCH N_("Batch %s  %s, %s, use by %s")
#define SAY_TR_PORTION N_("%s  %s, use by %s")
#define SAY_TR_ON_HOLD N_("ON HOLD")
#define SAY_TR_STRUCK N_("STRUCK OUT")
#define SAY_TR_REFUSED N_("REFUSED")
#define SAY_TR_EXPIRED N_("EXPIRED")
#define SAY_TR_USED_UP N_("nothing left")
#define SAY_TR_FROZEN N_("frozen")
#define SAY_TR_THAWED N_("thawed")
#define SAY_TR_SPECIES N_("%s (%s)")
#define SAY_TR_HELD_BY N_("On hold since %s by %s: %s")
#define SAY_TR_HELD_PREP N_("Its breakdown is on hold since %s by %s: %s")
#define SAY_TR_HELD_BATCH N_("Its batch is on hold since %s by %s: %s")
#define SAY_TR_STRUCK_BY N_("Struck out %s by %s: %s")
#define SAY_TR_MADE N_("made")
#define SAY_TR_USED N_("used")
#define SAY_TR_ON_HAND N_("on hand")
#define SAY_TR_THROWN N_("thrown away")
#define SAY_TR_MISSING N_("missing")

/* back */
#define SAY_TR_L_MADE N_("Made")
#define SAY_TR_L_FROM N_("From")
#define SAY_TR_L_PAPER N_("Paper")
#define SAY_TR_L_IN N_("Goods in")
#define SAY_TR_L_WHERE N_("Now")
#define SAY_TR_MADE_OF N_("%s by %s, of batch %s, %s")
#define SAY_TR_MADE_NOTE N_("%s by %s, of batch %s, %s: %s")
#define SAY_TR_FROM N_("%s, %s")
#define SAY_TR_CALL N_("call %s")
#define SAY_TR_PAPER N_("document %s, lot %s")
#define SAY_TR_L_ORIGIN N_("Origin")
#define SAY_TR_ORIGIN N_("%s, %s")
#define SAY_TR_CAUGHT_ON N_("on %s")
#define SAY_TR_IN N_("%s by %s at %s, %s, %s")
#define SAY_TR_FISH N_("%lld fish, %s")
#define SAY_TR_WHOLE N_("%s not broken down yet")
#define SAY_TR_UNITS_ON_HAND                                                   \
	NN_("%lld portion on hand", "%lld portions on hand")
#define SAY_TR_OF_THEM_FROZEN N_("%lld of them frozen")
#define SAY_TR_OF_THEM_EXPIRED N_("%lld EXPIRED")
#define SAY_TR_NOTHING_LEFT N_("nothing of it is here any more")

/* rows */
#define SAY_TR_ROW_BATCH                                                       \
	N_("Batch %s: %lld made, %lld used, %lld on hand, %lld thrown away")
#define SAY_TR_ROW_BROUGHT N_("%lld of others")
#define SAY_TR_ROW_OTHER N_("Also of batch %s: %s, document %s, lot %s")
#define SAY_TR_JOINED                                                          \
	N_("put together %s by %s from other trays; oldest prepared %s")
#define SAY_TR_ROW_PREP N_("Breakdown %s by %s: %s, %s")
#define SAY_TR_ROW_PREP_STRUCK N_("Breakdown %s by %s: STRUCK OUT, %s")
#define SAY_TR_PORTIONS NN_("%lld portion", "%lld portions")
#define SAY_TR_ROW_EVENT N_("%s %lld, %s by %s")
#define SAY_TR_ROW_FOR N_("%s %lld for %s, %s by %s")
#define SAY_TR_ROW_REASON N_("%s: %s")
#define SAY_TR_ROW_FREEZE N_("%s, %s by %s")
#define SAY_TR_UNIT_HELD N_("ON HOLD")
#define SAY_TR_COUNT_USED N_("%lld used")
#define SAY_TR_COUNT_THROWN N_("%lld thrown away")
#define SAY_TR_COUNT_MISSING N_("%lld missing")
#define SAY_TR_COUNT_LEFT N_("%lld of %lld left")
#define SAY_TR_F_USED N_("used")
#define SAY_TR_F_DISCARDED N_("thrown away")
#define SAY_TR_F_MISSING N_("missing at a count")
#define SAY_TR_F_FOUND N_("found at a count")
#define SAY_TR_F_RETURNED N_("taken back:")
#define SAY_TR_F_WITHDRAWN N_("find taken back:")
#define SAY_TR_F_STRUCK N_("struck out")
#define SAY_TR_F_COMBINED N_("put onto another tray")
#define SAY_TR_NO_ROWS                                                         \
	N_("Nothing was made of it yet. Prep list and Breakdown work on it.")
#define SAY_TR_NO_ROWS_STRUCK N_("Nothing was made of it.")
#define SAY_TR_UNITS_OF N_("Units of the breakdown %s by %s")

/* not known here */
#define SAY_TR_UNKNOWN N_("No record here")
#define SAY_TR_UNKNOWN_CODE                                                    \
	N_("%s is well formed, but this station has no record of it: a label " \
	   "of another kitchen or of another station file. Hold what carries " \
	   "it until somebody knows.")
#define SAY_TR_UNKNOWN_LABEL                                                   \
	N_("This label is not one of this kitchen. Hold what carries it "      \
	   "until "                                                            \
	   "somebody knows.")
#define SAY_TR_ITSELF N_("The label itself says:")

/* dish and service */
#define SAY_TR_GUESS N_("%s, %s")
#define SAY_TR_SITTING N_("%s, %s")
#define SAY_TR_G_ALL                                                           \
	N_("Certain: all %lld sold were scanned out, of the batches marked "   \
	   "with how many.")
#define SAY_TR_G_SOME                                                          \
	N_("%lld of %lld sold were scanned out, of the batches marked with "   \
	   "how many: that much is certain. The others may be of any batch "   \
	   "here.")
#define SAY_TR_G_UNSURE                                                        \
	N_("%lld were scanned out, of the batches marked with how many: that " \
	   "much is certain. Whether others were served without a scan is "    \
	   "not "                                                              \
	   "known: then they may be of any batch here.")
#define SAY_TR_G_NONE                                                          \
	N_("Not certain: none was scanned out for it. These were in date and " \
	   "on hand then, in the order they should have gone out.")
#define SAY_TR_G_EMPTY                                                         \
	N_("No batch fits: none was scanned out, and nothing of this dish "    \
	   "was in date and on hand then. Try the services before and after, " \
	   "and ask who cooked.")
#define SAY_TR_COL_BATCH N_("batch")
#define SAY_TR_COL_FROM N_("from")
#define SAY_TR_COL_SCANNED N_("scanned")
#define SAY_TR_COL_THEN N_("on hand")
#define SAY_TR_COL_USE_BY N_("use by")

/* what is done */
#define SAY_TR_WHY N_("Why this date: %s")
#define SAY_TR_RECALL N_("Recall list of %s")
#define SAY_TR_PRINTED NN_("%d page is queued.", "%d pages are queued.")
#define SAY_TR_LABELS_WHICH N_("Which hold labels?")
#define SAY_TR_LABELS_BATCH N_("the batch's own label")
#define SAY_TR_LABELS_UNITS                                                    \
	NN_("the labels of %lld unit on hand",                                 \
	    "the labels of %lld units "                                        \
	    "on hand")
#define SAY_TR_LABELS_MANY                                                     \
	N_("%lld units are on hand, %d labels at a time: print these, then "   \
	   "the rest on their own pages.")
#define SAY_TR_PREP_HOLD                                                       \
	N_("The hold is on the breakdown that made it: open that one, and "    \
	   "release it there.")
#define SAY_TR_BREAKDOWN_OF N_("breakdown %lld of %s")
#define SAY_TR_BATCH_HOLD N_("The hold is on its batch %s: release it there.")

#endif /* SCREENS_SAYS_TRACE_H */
