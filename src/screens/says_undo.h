/* says_undo.h - messages of the sheet that takes a step back.  Private to
 * src/screens. */
#ifndef SCREENS_SAYS_UNDO_H
#define SCREENS_SAYS_UNDO_H

#include "base/say.h"

#define SAY_UNDO_TITLE N_("Take the last record back?")
#define SAY_UNDO_OF N_("The last step of %s:")
#define SAY_UNDO_OF_STATION N_("The last step of the station:")
#define SAY_UNDO_THEN N_("What that does:")
#define SAY_UNDO_STAYS N_("It stays:")
#define SAY_UNDO_COLLECT                                                       \
	NN_("Collect %ld label and throw it away: %s",                         \
	    "Collect %ld labels and throw them away: %s")
#define SAY_UNDO_YES                                                           \
	N_("Enter takes it back, Esc leaves it. Nothing is deleted: the "      \
	   "record says that it was a mistake.")
#define SAY_UNDO_NO N_("Esc goes back.")
#define SAY_UNDO_DONE N_("Taken back: %s: %s.")
#define SAY_UNDO_DONE_COLLECT N_("Taken back: %s: %s. Collect the labels: %s")

#endif /* SCREENS_SAYS_UNDO_H */
