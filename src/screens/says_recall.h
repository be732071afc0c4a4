/* says_recall.h - messages of recalls, on the Trace screen.  Private to
 * src/screens. */
#ifndef SCREENS_SAYS_RECALL_H
#define SCREENS_SAYS_RECALL_H

#include "base/say.h"

/* what is asked */
#define SAY_RC_AT N_("at (HH:MM)")
#define SAY_RC_AT_HINT N_("when it was served, if known")
#define SAY_RC_LOT N_("or lot")
#define SAY_RC_DOCUMENT N_("or document")
#define SAY_RC_SUPPLIER N_("supplier")
#define SAY_RC_SUPPLIER_HINT N_("code or name; with a day, all it brought")
#define SAY_RC_DAY N_("day it came")
#define SAY_RC_RECALL N_("or recall")
#define SAY_RC_RECALL_HINT N_("Enter lists them")
#define SAY_RC_WHICH N_("Which recall?")
#define SAY_RC_NO_RECALL                                                       \
	N_("No recall was ever opened. Trace what it is about, then x opens "  \
	   "one.")
#define SAY_RC_CHOICE_OPEN N_("recall %lld, OPEN, %lld missing: %s")
#define SAY_RC_CHOICE N_("recall %lld, closed: %s")

/* keys */
#define SAY_RC_K_OPEN N_("open recall")
#define SAY_RC_H_OPEN                                                          \
	N_("Block it, and list what to pull: of the batch, breakdown or unit " \
	   "shown, or of all batches listed.")
#define SAY_RC_K_FOUND N_("found")
#define SAY_RC_H_FOUND                                                         \
	N_("The chosen line was found, and its label cannot be scanned.")
#define SAY_RC_K_NOTE N_("add note")
#define SAY_RC_H_NOTE N_("Keep what was said, heard or done, with its time.")
#define SAY_RC_K_END N_("end")
#define SAY_RC_H_END N_("Close the recall: what became of the goods.")

/* lots */
#define SAY_RC_LOTS NN_("%s: %ld batch", "%s: %ld batches")
#define SAY_RC_LOTS_MORE N_("Only the newest %d are here: narrow it by a day.")
#define SAY_RC_LOTS_EMPTY                                                      \
	N_("Nothing is on record for it. Look at the paper of the delivery, "  \
	   "and ask the supplier how the lot is written.")
#define SAY_RC_LOT_ROW N_("%s, lot %s, %s") /* document, lot, supplier */
#define SAY_RC_LOT_LEFT N_("%s, %lld left, %lld used")
#define SAY_RC_LOT_HELD N_("ON HOLD")
#define SAY_RC_LOT_REFUSED N_("REFUSED")

/* the page */
#define SAY_RC_TITLE N_("Recall %lld  %s")
#define SAY_RC_OPEN N_("OPEN")
#define SAY_RC_CLOSED N_("CLOSED")
#define SAY_RC_OPENED N_("Opened %s by %s: %s")
#define SAY_RC_ENDED N_("Closed %s by %s, %s: %s")
#define SAY_RC_END_DISCARDED N_("thrown away")
#define SAY_RC_END_RETURNED N_("returned to the supplier")
#define SAY_RC_END_RELEASED N_("released")
#define SAY_RC_END_MISTAKE N_("opened by mistake")
#define SAY_RC_SCAN_NOW N_("Scan what is found. %lld of %lld, %lld missing.")
#define SAY_RC_STOOD N_("Closed with %lld of %lld found, %lld missing.")
#define SAY_RC_ALL_FOUND N_("All %lld are found. e closes the recall.")
#define SAY_RC_NOTHING N_("Nothing of it was on hand.")
#define SAY_RC_FOUND N_("FOUND %s %s: %lld")
#define SAY_RC_FOUND_PART N_("FOUND %s %s: %lld, %lld of it missing")
#define SAY_RC_AGAIN N_("%s %s was found before.")
#define SAY_RC_SURPRISE N_("%s %s WAS RECORDED AS GONE: %s")
#define SAY_RC_OTHER N_("%s %s IS NOT PART OF THIS RECALL: %s")
#define SAY_RC_UNKNOWN N_("%s IS NOT KNOWN HERE: %s")
#define SAY_RC_SERVED NN_("%ld time served", "%ld times served")
#define SAY_RC_NOTES NN_("%ld note", "%ld notes")
#define SAY_RC_FOOT N_("%s, %s: c reads all of it.")
#define SAY_RC_MISSING N_("missing")
#define SAY_RC_MISSING_PART N_("%lld missing")
#define SAY_RC_ROW_FOUND N_("found")
#define SAY_RC_GONE N_("thrown away")
#define SAY_RC_WHOLE N_("whole, %s")
#define SAY_RC_OF N_("%lld of %lld")
#define SAY_RC_MOVED N_("%s, now %s")

/* what is done */
#define SAY_RC_WHY N_("Why")
#define SAY_RC_FROM N_("From")
#define SAY_RC_FROM_HINT N_("a letter lists them")
#define SAY_RC_FROM_SUPPLIER N_("the supplier")
#define SAY_RC_FROM_AUTHORITY N_("the authority")
#define SAY_RC_FROM_GUEST N_("a guest")
#define SAY_RC_FROM_KITCHEN N_("this kitchen")
#define SAY_RC_ASK_OPEN N_("Open a recall of %s")
#define SAY_RC_DID_OPEN                                                        \
	NN_("Recall %lld is open, all of it on hold: %ld line to pull.",       \
	    "Recall %lld is open, all of it on hold: %ld lines to pull.")
#define SAY_RC_HOW_MANY N_("How many")
#define SAY_RC_HOW_MANY_HINT N_("empty: all of it")
#define SAY_RC_ASK_FOUND N_("%s was found")
#define SAY_RC_ASK_NOTE N_("Note at recall %lld")
#define SAY_RC_NOTE N_("Note")
#define SAY_RC_DID_NOTE N_("Noted at recall %lld.")
#define SAY_RC_ASK_END N_("Close recall %lld")
#define SAY_RC_OUTCOME N_("What became of it")
#define SAY_RC_OUTCOME_HINT N_("a letter lists them")
#define SAY_RC_MUST_WHY                                                        \
	NN_("%lld is missing: say why it is closed without.",                  \
	    "%lld are missing: say why it is closed without.")
#define SAY_RC_DID_END                                                         \
	N_("Recall %lld is closed. Thrown away: %lld; holds lifted: %lld, "    \
	   "kept: %lld.")
#define SAY_RC_DID_END_LABELS                                                  \
	N_("Recall %lld is closed, holds lifted: %lld. Labels to print "       \
	   "again: %s")
#define SAY_RC_READ N_("Recall %lld")
#define SAY_RC_CLOSED_SCAN                                                     \
	N_("Recall %lld is closed: hold what was found, and open another "     \
	   "recall if there may be more.")

#endif /* SCREENS_SAYS_RECALL_H */
