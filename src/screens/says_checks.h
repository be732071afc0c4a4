/*
 * says_checks.h - what the checks of Records say.
 */
#ifndef SCREENS_SAYS_CHECKS_H
#define SCREENS_SAYS_CHECKS_H

#include "base/say.h"

#define SAY_CHECKS_HEAD N_("What the record can be asked. Enter asks it.")

/* --- verify ----------------------------------------------------------------*/
#define SAY_CHECK_VERIFY N_("Verify")
#define SAY_CHECK_VERIFY_IS N_("was anything changed, removed or cut off")
#define SAY_VERIFY_ASK N_("Verify: the code from a day sheet, or nothing")
#define SAY_VERIFY_CODE N_("Code")
#define SAY_VERIFY_CODE_HINT N_("6 groups of 4, or none")
#define SAY_VERIFY_RUNS N_("Verify  %s  %s")
#define SAY_VERIFY_GOOD N_("Everything is as it was recorded")
#define SAY_VERIFY_BAD N_("Not as it was recorded")
#define SAY_VERIFY_GOOD_TEXT                                                   \
	N_("Every row of the record is as it was recorded. Somebody who "      \
	   "has this file and this program could still write all of it "       \
	   "anew: compare the code of a day sheet on paper now and then.")
#define SAY_VERIFY_BAD_TEXT                                                    \
	N_("Keep this file and every backup as they are, go on on paper if "   \
	   "in doubt, and tell who answers for the records. What is named "    \
	   "below was changed by another program, or the disk is failing.")
#define SAY_VERIFY_STOPPED                                                     \
	N_("stopped before all of it was looked at: nothing is said of it")

/* --- balance ---------------------------------------------------------------*/
#define SAY_CHECK_BALANCE N_("Balance")
#define SAY_CHECK_BALANCE_IS N_("grams in and out: a batch, a day, a supplier")

#define SAY_BAL_TODAY N_("Today: what came in, what was broken down")
#define SAY_BAL_DAY N_("Another day")
#define SAY_BAL_CODE N_("A batch, by any code of it")
#define SAY_BAL_SUPPLIER N_("What a supplier brought in the last 4 weeks")
#define SAY_BAL_GAPS N_("Grams nobody has explained")
#define SAY_BAL_CODE_ASK N_("Which batch?")
#define SAY_BAL_SUPPLIER_ASK N_("Which supplier, by code or name?")
#define SAY_BAL_NO_GAPS                                                        \
	N_("Every gram of the last 90 days has its place or its reason.")
#define SAY_BAL_WHICH N_("Enter says what became of them")
#define SAY_BAL_GAP_PREP N_("%lld g of %lld g, %s, breakdown %lld, %s by %s")
#define SAY_BAL_GAP_BATCH N_("%lld g of %lld g, %s, left when used up")
#define SAY_BAL_WHY N_("What became of them?")
#define SAY_BAL_WHY_HINT N_("such as drip on the board")
#define SAY_BAL_EXPLAINED N_("%lld g explained.")

/* --- papers ----------------------------------------------------------------*/
#define SAY_CHECK_PAPERS N_("Papers")
#define SAY_CHECK_PAPERS_IS                                                    \
	N_("what each law asks of a delivery, and what is there")

#define SAY_PAP_TODAY N_("Today's deliveries")
#define SAY_PAP_DAY N_("Those of another day")
#define SAY_PAP_ONE N_("A delivery by its document, or a batch by its code")
#define SAY_PAP_ALL N_("The same against every law, not only your own")
#define SAY_PAP_SAY N_("Write down what the papers say, or the supplier said")
#define SAY_PAP_ONE_ASK N_("Document or code")
#define SAY_PAP_SAY_ASK N_("What do the papers say?")
#define SAY_PAP_CODE N_("Batch")
#define SAY_PAP_DATUM N_("What")
#define SAY_PAP_DATUM_HINT N_("type its beginning")
#define SAY_PAP_VALUE N_("Value")
#define SAY_PAP_SAID N_("Written down: %s is %s.")

/* --- drill -----------------------------------------------------------------*/
#define SAY_CHECK_DRILL N_("Drill")
#define SAY_CHECK_DRILL_IS N_("a recall in play, against the clock")

#define SAY_DRILL_DRAW N_("Start: draw a batch and find it")
#define SAY_DRILL_CODE N_("Start with a batch of your choice")
#define SAY_DRILL_HELD N_("Drills that were held")
#define SAY_DRILL_PRINT N_("Print the report read last")
#define SAY_DRILL_CODE_ASK N_("Which batch?")
#define SAY_DRILL_WHICH N_("Which drill?")
#define SAY_DRILL_ROW N_("%lld  %s by %s  %s  %s")
#define SAY_DRILL_TITLE N_("Drill")
#define SAY_DRILL_FOUND N_("Found in %s, every gram has its place.")
#define SAY_DRILL_GAP N_("Found in %s; not all is accounted for: %s")
#define SAY_DRILL_NONE_READ N_("Start a drill or read one first.")
#define SAY_DRILL_PRINTED                                                      \
	NN_("The report goes to the printer, %d page.",                        \
	    "The report goes to the printer, %d pages.")

/* --- keeping ---------------------------------------------------------------*/
#define SAY_CHECK_KEEPING N_("Keeping")
#define SAY_CHECK_KEEPING_IS                                                   \
	N_("how long records must be kept, and what may go")
#define SAY_KEEPING_NEXT                                                       \
	N_("Enter: remove what may go.  Esc: leave it all as it is.")
#define SAY_KEEPING_ASK N_("Remove old records for good")
#define SAY_KEEPING_TODAY N_("today's date")
#define SAY_KEEPING_TODAY_HINT N_("from a calendar on the wall")
#define SAY_KEEPING_GONE                                                       \
	NN_("%lld batch removed with all that was made of it",                 \
	    "%lld batches removed with all that was made of them")
#define SAY_KEEPING_MORE N_("%s; there is more: ask again")

/* --- complaints ------------------------------------------------------------*/
#define SAY_CHECK_COMPLAINTS N_("Complaint")
#define SAY_CHECK_COMPLAINTS_IS                                                \
	N_("what guests said was wrong, and how it ended")

#endif /* SCREENS_SAYS_CHECKS_H */
