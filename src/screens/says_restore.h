/* says_restore.h - messages of putting a backup in place, and of the screen
 * without a file.  Private to src/screens. */
#ifndef SCREENS_SAYS_RESTORE_H
#define SCREENS_SAYS_RESTORE_H

#include "base/say.h"

/* which backup */
#define SAY_RESTORE_WHERE N_("Backups are in which folder?")
#define SAY_RESTORE_FOLDER N_("Folder")
#define SAY_RESTORE_FOLDER_HINT N_("such as /media/pinbone")
#define SAY_RESTORE_PICK N_("Which backup?")
#define SAY_RESTORE_NONE                                                       \
	N_("No backup of this station is in %s: put the right stick in, or "   \
	   "name another folder.")
#define SAY_RESTORE_ROW N_("%s  until %s  row %lld")
#define SAY_RESTORE_APART N_("%s  until %s  row %lld, another copy")
#define SAY_RESTORE_LOOKS N_("Looking through %s  %s")
#define SAY_RESTORE_BUSY                                                       \
	N_("A backup is being looked through: wait, or stop it with s.")

/* what would be lost, and whether that is meant */
#define SAY_RESTORE_LOST                                                       \
	N_("This would be lost.  Enter goes on, Esc leaves all as it is.")
#define SAY_RESTORE_SURE N_("Put it in place of the file?")
#define SAY_RESTORE_NUMBER N_("Its number")
#define SAY_RESTORE_NUMBER_HINT N_("%d, as at the end of its name")
#define SAY_RESTORE_NUMBER_WRONG N_("not the number of that backup")
#define SAY_RESTORE_INITIALS N_("Initials")
#define SAY_RESTORE_INITIALS_HINT N_("who does it")
#define SAY_RESTORE_TITLE N_("Restore")
#define SAY_RESTORE_FINISHED                                                   \
	N_("A restore that had been cut off was finished.  The file before "   \
	   "is %s")
#define SAY_RESTORE_FAILED N_("The file is as it was: %s")

/* without a file */
#define SAY_RESCUE N_("The station file cannot be used")
#define SAY_RESCUE_FILE                                                        \
	N_("Nothing is written to it any more, and nothing of it is thrown "   \
	   "away.  Put a backup in its place with b.  Until then write down "  \
	   "on paper what comes in, is made and is thrown away.")
#define SAY_RESCUE_SCAN                                                        \
	N_("Labels can still be read: scan one, or type its code with t.  "    \
	   "The "                                                              \
	   "use-by stands in the square; a short code that is typed has "      \
	   "none, so read it on the label.")
#define SAY_RESCUE_ACT_BACKUP N_("put a backup in place")
#define SAY_RESCUE_ACT_BACKUP_HELP                                             \
	N_("Looks for backups, and shows what each would lose.")
#define SAY_RESCUE_ACT_TYPE N_("type a code")
#define SAY_RESCUE_ACT_TYPE_HELP N_("For a label the scanner cannot read.")
#define SAY_RESCUE_ACT_ASIDE N_("set aside")
#define SAY_RESCUE_ACT_ASIDE_HELP                                              \
	N_("Takes the damaged file out of its place, whole.")
#define SAY_RESCUE_ACT_STOP N_("stop")
#define SAY_RESCUE_ACT_STOP_HELP N_("No longer look through that backup.")
#define SAY_RESCUE_ASIDE_ASK N_("Set the file aside?")
#define SAY_RESCUE_ASIDE_TEXT                                                  \
	N_("It stays whole, under a name of its own, for somebody who can "    \
	   "mend it.  There is no station file then until a backup is put in " \
	   "place.  Enter does it, Esc does not.")
#define SAY_RESCUE_ASIDE_DONE N_("Set aside whole, as %s")
#define SAY_RESCUE_CODE N_("Code of the label")
#define SAY_RESCUE_CODE_HINT N_("all that stands in the code")
#define SAY_RESCUE_READ N_("The label says")

#endif /* SCREENS_SAYS_RESTORE_H */
