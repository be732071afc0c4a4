/* says_complaint.h - what a complaint says.  Private to src/screens. */
#ifndef SCREENS_SAYS_COMPLAINT_H
#define SCREENS_SAYS_COMPLAINT_H

#include "base/say.h"

/* the answer at the pass */
#define SAY_CO_TITLE N_("Complaint")
#define SAY_CO_KEYS                                                            \
	N_("Enter takes it down, l lists those on record, Esc leaves it.")
#define SAY_CO_USE_BY N_("use by")
#define SAY_CO_ON_HAND N_("on hand")
#define SAY_CO_SERVED N_("served")
#define SAY_CO_HELD N_("ON HOLD")
#define SAY_CO_NOT_HELD N_("not on hold")
#define SAY_CO_FROM N_("From")
#define SAY_CO_LOT N_("Lot")
#define SAY_CO_IN N_("In")
#define SAY_CO_CUT N_("Cut")
#define SAY_CO_THIS N_("This one")
#define SAY_CO_CALL N_("%s, call %s")
#define SAY_CO_PAPER N_("%s, document %s")
#define SAY_CO_RECEIVED N_("%s by %s at %s")
#define SAY_CO_CUT_BY N_("%s by %s")
#define SAY_CO_NOT_CUT N_("not yet")
#define SAY_CO_DISH N_("%s, %s")
#define SAY_CO_SURE N_("certain, %lld scanned out")
#define SAY_CO_LIKELY N_("may be, %lld on hand")
#define SAY_CO_NO_BATCH N_("No batch on record fits.")

/* the form */
#define SAY_CO_FORM N_("What is wrong with it?")
#define SAY_CO_WHAT N_("What")
#define SAY_CO_WHAT_HINT N_("what, how many guests")
#define SAY_CO_TABLE N_("Table")
#define SAY_CO_TABLE_HINT N_("not a guest's name")
#define SAY_CO_AT N_("Served at")
#define SAY_CO_AT_HINT N_("20:15, if known")
#define SAY_CO_HOLD N_("Hold the batch, y/n")
#define SAY_CO_YES N_("yes: nothing more of it goes out")
#define SAY_CO_NO N_("no")
#define SAY_CO_TAKEN N_("Complaint %lld taken down.")
#define SAY_CO_TAKEN_HELD                                                      \
	NN_("Complaint %lld taken down, %d batch on hold.",                    \
	    "Complaint %lld taken down, %d batches on hold.")

/* those on record */
#define SAY_CO_WHICH N_("Which complaint?")
#define SAY_CO_NONE                                                            \
	N_("No complaint is on record.  Trace a label, or a dish and its "     \
	   "service; there g takes one down.")
#define SAY_CO_ROW N_("%lld  %s  %s%s: %s")
#define SAY_CO_CLOSED N_("closed, ")
#define SAY_CO_DO N_("Complaint %lld")
#define SAY_CO_READ N_("Read it, with the chain then and now")
#define SAY_CO_NOTE N_("Add a note")
#define SAY_CO_CLOSE N_("Close it with an outcome")
#define SAY_CO_NOTE_ASK N_("What was found out?")
#define SAY_CO_CLOSE_ASK N_("How did it end?")
#define SAY_CO_NOTED N_("Noted.")
#define SAY_CO_CLOSED_NOW N_("Closed.")

#endif /* SCREENS_SAYS_COMPLAINT_H */
