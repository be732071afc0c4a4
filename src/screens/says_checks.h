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
#define SAY_VERIFY_CODE_HINT                                                   \
	N_("from the foot of a day sheet, 6 groups of 4; empty: none")
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

/* --- papers ----------------------------------------------------------------*/
#define SAY_CHECK_PAPERS N_("Papers")
#define SAY_CHECK_PAPERS_IS                                                    \
	N_("what each law asks of a delivery, and what is there")

/* --- drill -----------------------------------------------------------------*/
#define SAY_CHECK_DRILL N_("Drill")
#define SAY_CHECK_DRILL_IS N_("a recall in play, against the clock")

/* --- keeping ---------------------------------------------------------------*/
#define SAY_CHECK_KEEPING N_("Keeping")
#define SAY_CHECK_KEEPING_IS                                                   \
	N_("how long records must be kept, and what may go")

#endif /* SCREENS_SAYS_CHECKS_H */
