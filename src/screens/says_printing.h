/* says_printing.h - messages of Printing, and of the sender of labels.  Private
 * to src/screens. */
#ifndef SCREENS_SAYS_PRINTING_H
#define SCREENS_SAYS_PRINTING_H

#include "base/say.h"

/* the sender */
#define SAY_SENDER_ENDED N_("the program that sends labels ended by itself")
#define SAY_SENDER_FOOT                                                        \
	N_("Labels are not being sent, and it is tried again: %s")

/* printers */
#define SAY_PRINTERS N_("Printers")
#define SAY_PRINTER_PAPER N_("%s, %s") /* language, address */
#define SAY_PRINTER_NOTHING N_("nothing waits")
#define SAY_PRINTER_HAS NN_("%ld waits", "%ld wait")
#define SAY_PRINTER_DOUBTS NN_("%ld unsure", "%ld unsure")
#define SAY_ASKING N_("Asking the printers how they are, %s ...")
#define SAY_ASKED_NOTHING N_("The printers could not be asked: %s")
#define SAY_ASK_BUSY N_("The printers are being asked already.")

/* the queue */
#define SAY_LABELS N_("Labels")
#define SAY_LABELS_UNSURE NN_("%ld to look for", "%ld to look for")
#define SAY_LABELS_WAITING NN_("%ld waits", "%ld wait")
#define SAY_LABELS_SETTLED N_("newest settled below")
#define SAY_LABELS_NONE                                                        \
	N_("No label was ever asked for. t prints a test label: read it "      \
	   "before you trust the printer. Goods in and Breakdown print "       \
	   "theirs by themselves.")
#define SAY_COPY N_("%s, copy %d")
#define SAY_WHICH N_("%s of %s") /* "label of 000-01U" */
#define SAY_LABEL N_("label")
#define SAY_LABEL_HOLD N_("hold label")
#define SAY_LABEL_FROZEN N_("label, frozen")
#define SAY_LABEL_THAWED N_("label, thawed")
#define SAY_LABEL_TEST N_("test label")
#define SAY_LABEL_PAGE N_("page %d of %s")
#define SAY_JOB_QUEUED N_("waits")
#define SAY_JOB_SENDING N_("is being sent")
#define SAY_JOB_SENT N_("sent")
#define SAY_JOB_CONFIRMED N_("came out")
#define SAY_JOB_UNSURE N_("CAME OUT?")
#define SAY_JOB_FAILED N_("failed")
#define SAY_JOB_CANCELLED N_("cancelled")
#define SAY_UNSURE_HOW                                                         \
	N_("Look for each label that is unsure: y it came out, n it did not "  \
	   "and is printed again, l somebody looks later, x nobody will ever " \
	   "know.")

/* one job */
#define SAY_JOB_TITLE N_("Label %s")
#define SAY_JOB_WHAT N_("What: %s\n")
#define SAY_JOB_STATE N_("State: %s\n")
#define SAY_JOB_WHY N_("Why: %s\n")
#define SAY_JOB_ON N_("Printer: %s, %s, %s\n")
#define SAY_JOB_BY N_("Asked for: %s by %s\n")
#define SAY_JOB_SINCE N_("In this state since: %s\n")
#define SAY_JOB_SAID N_("Answered by: %s\n")
#define SAY_JOB_COPY N_("Copy: %d\n")

/* what was done */
#define SAY_DID_YES N_("Came out: %s.")
#define SAY_DID_NO N_("Printed again, marked as a copy: %s.")
#define SAY_DID_LATER N_("Unsure until somebody has looked: %s.")
#define SAY_DID_DROP                                                           \
	N_("Given up: %s. A label printed for it later is marked as a copy.")
#define SAY_DID_CANCEL N_("Taken out of the queue: %s.")
#define SAY_DID_AGAIN N_("Printed once more, marked as a copy: %s.")
#define SAY_DID_TEST                                                           \
	N_("A test label goes to printer %s. Read it: edges, darkness, both "  \
	   "codes.")
#define SAY_DROP_ASK N_("Give this label up?")
#define SAY_DROP_TEXT                                                          \
	N_("It may lie around somewhere with a date on it: %s. Nobody will "   \
	   "be asked for it again. Enter gives it up, Esc keeps the "          \
	   "question.")
#define SAY_CANCEL_ASK N_("Take this label out of the queue?")
#define SAY_CANCEL_TEXT                                                        \
	N_("It will not be printed: %s. Enter takes it out, Esc leaves it.")
#define SAY_TEST_ASK N_("Test label on which printer?")

/* actions */
#define SAY_ACT_YES N_("came out")
#define SAY_HELP_YES                                                           \
	N_("The unsure label was found: it came out whole and can be read.")
#define SAY_ACT_NO N_("no, again")
#define SAY_HELP_NO                                                            \
	N_("The unsure label did not come out: it is printed again, marked.")
#define SAY_ACT_LATER N_("later")
#define SAY_HELP_LATER N_("Somebody looks for the unsure label later.")
#define SAY_ACT_CANCEL N_("cancel")
#define SAY_HELP_CANCEL                                                        \
	N_("A waiting label is taken out. An unsure one is given up, which "   \
	   "may be the chef's to say.")
#define SAY_ACT_AGAIN N_("print again")
#define SAY_HELP_AGAIN                                                         \
	N_("Print a settled label once more, marked and counted.")
#define SAY_ACT_TEST N_("test label")
#define SAY_HELP_TEST                                                          \
	N_("A label that shows whether the printer is set up right.")
#define SAY_ACT_STATE N_("ask printers")
#define SAY_HELP_STATE                                                         \
	N_("Ask every printer how it is now; you can go on working "           \
	   "meanwhile.")
#define SAY_ACT_SHOW N_("all about it")
#define SAY_HELP_SHOW N_("Everything known of the chosen label.")

#endif /* SCREENS_SAYS_PRINTING_H */
