/* says_desk.h - messages of the frame around every screen, and of its small
 * questions.  Private to src/screens. */
#ifndef SCREENS_SAYS_DESK_H
#define SCREENS_SAYS_DESK_H

#include "base/say.h"

/* titles of screens without a table of their own */
#define SAY_HELP N_("Help")
#define SAY_TODAY N_("Today")
#define SAY_TRACE N_("Trace")
#define SAY_MENU N_("Menu and covers")
#define SAY_PRINTING N_("Printing")
#define SAY_RECORDS N_("Records")

/* the frame */
#define SAY_TRAINING N_("TRAINING, NOT FOR SERVICE")
#define SAY_NOBODY N_("nobody")
#define SAY_HEAD_TIME N_("%s %d %s  %02d:%02d")
#define SAY_LEVEL_NOTE N_("Note: %s")
#define SAY_LEVEL_WARN N_("Caution: %s")
#define SAY_LEVEL_REFUSED N_("Refused: %s")
#define SAY_SMALL N_("The window is small: 80 x 24 shows everything.")
#define SAY_FOOT_HELP N_("Help")
#define SAY_FOOT_TODAY N_("Today")
#define SAY_FOOT_OK N_("go on")
#define SAY_FOOT_BACK N_("back")
#define SAY_IDLE                                                               \
	N_("Nobody was here for a while: choose who works at the next "        \
	   "record.")

/* scans */
#define SAY_SCAN_NOT_NOW                                                       \
	N_("A label was scanned and not used: finish this first, or Esc.")
#define SAY_SCAN_UNKNOWN N_("This label is not known here: %s")
#define SAY_SCAN_CUT                                                           \
	N_("A label came without its end, so nothing of it is used: scan it "  \
	   "again. The scanner has to send Enter after each label.")
#define SAY_SCAN_TOO_LONG N_("A scan of more than %d characters was left out.")

/* small questions */
#define SAY_ASK_QUIT N_("Leave the station?")
#define SAY_ASK_QUIT_TEXT                                                      \
	N_("What was recorded is safe. Half-typed text of a breakdown is "     \
	   "kept. Enter leaves, Esc stays.")
#define SAY_PICK_NONE N_("There is nothing to choose from.")

/* help */
#define SAY_HELP_SCREENS N_("Screens, from everywhere")
#define SAY_HELP_EVERYWHERE N_("Keys that work everywhere")
#define SAY_HELP_ON N_("On %s")
#define SAY_HELP_F1 N_("This page: the keys of the screen you came from first.")
#define SAY_HELP_ENTER N_("Take what is typed or chosen.")
#define SAY_HELP_ESC N_("Back; what was typed stays.")
#define SAY_HELP_ARROWS                                                        \
	N_("Choose a row or a field; in lists a number chooses its row.")
#define SAY_HELP_UNDO N_("Take the last record back, where that is safe.")
#define SAY_HELP_WHO N_("Somebody else works now.")
#define SAY_HELP_ANEW N_("Paint the screen again.")
#define SAY_HELP_QUIT N_("Leave the station.")
#define SAY_HELP_SCAN                                                          \
	N_("Scan a label at any time, on any screen. A supplier's label "      \
	   "opens Goods in; a label of ours is used in Service and traced "    \
	   "elsewhere. Nothing changes before it is shown.")
#define SAY_HELP_TYPE                                                          \
	N_("Numbers take a comma or a point. Weights: 850 or 1,2kg. Dates: "   \
	   "fri, +2, 27.11.")
#define SAY_KEY_ARROWS N_("arrows")

#endif /* SCREENS_SAYS_DESK_H */
