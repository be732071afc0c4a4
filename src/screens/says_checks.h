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
