/* says_today.h - messages of Today and of the fault line at the foot.  Private
 * to src/screens. */
#ifndef SCREENS_SAYS_TODAY_H
#define SCREENS_SAYS_TODAY_H

#include "base/say.h"

/* beside the date */
#define SAY_DAY_BIG N_("%s %d %s") /* weekday, day, month */
#define SAY_CLOCK_GOOD N_("Clock: in order")
#define SAY_CLOCK_BAD N_("CLOCK IN DOUBT: c confirms it")
#define SAY_CLOCK_DOUBT                                                        \
	N_("The clock reads %s, %s. Nothing is recorded or printed until "     \
	   "somebody has read the date on a telephone or a newspaper and "     \
	   "confirmed it here with c.")
#define SAY_PRINTER_IDLE N_("Printer %s: nothing waits")
#define SAY_PRINTER_WAITS                                                      \
	NN_("Printer %s: %ld label waits", "Printer %s: %ld labels wait")
#define SAY_PRINTER_UNSURE                                                     \
	NN_("Printer %s: %ld label unsure", "Printer %s: %ld labels unsure")
#define SAY_PRINTER_FAULT N_("Printer %s: %s")
#define SAY_SCALE_SET N_("Scale: set up")
#define SAY_SCALE_NONE N_("Scale: none, weights are typed")
#define SAY_FILE_GOOD N_("File: in order, space for years")
#define SAY_FILE_SPACE N_("File: in order, %s free")
#define SAY_FILE_LOW N_("FILE: ONLY %s FREE, make room")
#define SAY_FILE_UNKNOWN N_("File: in order, free space unknown")
#define SAY_MEGABYTES N_("%ld MB")
#define SAY_GIGABYTES N_("%ld.%ld GB")

/* services */
#define SAY_SERVICES N_("Services")
#define SAY_NO_SERVICES                                                        \
	N_("Nothing is booked in the next days. F9 Menu and covers takes "     \
	   "bookings.")
#define SAY_DAY_TODAY N_("today")
#define SAY_DAY_YESTERDAY N_("yesterday")
#define SAY_DAY_TOMORROW N_("tomorrow")
#define SAY_DAY_OTHER N_("%s %d") /* weekday, day of the month */
#define SAY_COVERS NN_("%ld cover", "%ld covers")
#define SAY_STAGE_CLOSED N_("closed")
#define SAY_STAGE_OVER N_("over: close it")
#define SAY_TO_MAKE NN_("%ld portion to make", "%ld portions to make")
#define SAY_ALL_MADE N_("all is made")
#define SAY_TO_MAKE_LATER N_("...")
#define SAY_TO_MAKE_AHEAD N_("see the prep list")

/* what wants a decision */
#define SAY_DECIDE N_("To empty or decide")
#define SAY_NOTHING                                                            \
	N_("Nothing is past its use-by, nothing expires today, nothing is on " \
	   "hold.")
#define SAY_COUNT_EXPIRED N_("%s expired")
#define SAY_COUNT_TODAY N_("%s for today only")
#define SAY_COUNT_HELD N_("%s on hold")
#define SAY_COUNT_COMPLAINTS NN_("%s complaint", "%s complaints")
#define SAY_COUNT_MORE N_("%ld or more")
#define SAY_COUNT N_("%ld")
#define SAY_ROW_UNSURE                                                         \
	NN_("%ld label: did it come out?", "%ld labels: did they come out?")
#define SAY_ROW_HALF N_("Half-typed breakdown: %s")
#define SAY_STATE_HALF N_("go on: Enter")
#define SAY_ROW_CLOSE N_("Service: %s, %s") /* its name, its day */
#define SAY_ROW_BATCH N_("%s, batch")
#define SAY_RECALL_MISSING                                                     \
	NN_("Recall %lld is open: %ld missing. F8 Trace.",                     \
	    "Recall %lld is open: %ld missing. F8 Trace.")
#define SAY_RECALL_FOUND                                                       \
	N_("Recall %lld is open: all is found. F8 Trace closes it.")
#define SAY_ROW_HELD N_("%s: %s") /* what, why it is held */
#define SAY_PORTIONS NN_("%ld portion", "%ld portions")
#define SAY_STATE_EXPIRED N_("EXPIRED %s")
#define SAY_STATE_EXPIRED_HELD N_("EXPIRED, on hold")
#define SAY_STATE_TODAY N_("today %02d:%02d")
#define SAY_STATE_TODAY_HELD N_("today, on hold")
#define SAY_STATE_HELD N_("ON HOLD")
#define SAY_STATE_ASKED N_("look for it")
#define SAY_SCREENS N_("Screens")
#define SAY_MENU_SHORT N_("Menu, covers")

/* a new file */
#define SAY_NEW N_("This station is new: nothing is in its file yet. Begin so:")
#define SAY_NEW_MENU                                                           \
	N_("F9 Menu and covers: the dishes, what they are cut to, and the "    \
	   "bookings. They can be brought in from files.")
#define SAY_NEW_LABEL                                                          \
	N_("F10 Printing: t prints a test label. Read it before you trust "    \
	   "the printer.")
#define SAY_NEW_GOODS                                                          \
	N_("F3 Goods in: the first delivery, by its label or by hand.")
#define SAY_NEW_LEARN                                                          \
	N_("F1 Help names every key. What is done on each screen stands at "   \
	   "its foot.")
#define SAY_MISSING_MENU N_("No dish is on the menu: F9 Menu and covers.")
#define SAY_MISSING_GOODS N_("No delivery was ever taken in: F3 Goods in.")

/* facts of the station */
#define SAY_FACTS N_("This station")
#define SAY_FACTS_KITCHEN N_("Kitchen: %s\n")
#define SAY_FACTS_FILE N_("File: %s\n")
#define SAY_FACTS_SIZE N_("Size: %s, with its log\n")
#define SAY_FACTS_FREE N_("Free where it lies: %s\n")
#define SAY_FACTS_SCHEMA N_("Form of the file: %d\n")
#define SAY_FACTS_LAST N_("Last record: %s\n")
#define SAY_FACTS_NONE N_("Last record: none yet\n")
#define SAY_FACTS_SETTINGS N_("Settings: %s\n")
#define SAY_FACTS_RULES N_("Rules: %s\n")
#define SAY_FACTS_PRINTER N_("Printer %s: %s, %s\n")
#define SAY_FACTS_SCALE N_("Scale: %s\n")

/* the date */
#define SAY_DATE_ASK N_("What day is it?")
#define SAY_DATE_FIELD N_("Day, with its year")
#define SAY_DATE_HINT N_("as a telephone or newspaper says it: 27.11.2026")
#define SAY_DATE_YEAR N_("write day, month and year, such as 27.11.2026")
#define SAY_DATE_CONFIRMED N_("The date is confirmed: %s.")

/* actions */
#define SAY_ACT_OPEN N_("open")
#define SAY_HELP_OPEN                                                          \
	N_("Show the chosen row where it is dealt with: stock on On hand, a "  \
	   "hold on Trace, labels on Printing.")
#define SAY_ACT_TRACE N_("trace")
#define SAY_HELP_TRACE                                                         \
	N_("Show where the chosen unit or batch came from and where it went.")
#define SAY_ACT_CLOCK N_("confirm the date")
#define SAY_HELP_CLOCK                                                         \
	N_("The clock is in doubt: say what day it is, read elsewhere.")
#define SAY_ACT_FACTS N_("station")
#define SAY_HELP_FACTS                                                         \
	N_("The file, its size and the free space, settings, printers, "       \
	   "scale.")

/* the line at the foot */
#define SAY_FOOT_HOME                                                          \
	N_("This file worked on another computer: nothing is recorded; see "   \
	   "Records, b.")
#define SAY_FOOT_CLOCK                                                         \
	N_("The clock is in doubt, nothing is recorded or printed: F2, then "  \
	   "c.")
#define SAY_FOOT_SPACE                                                         \
	N_("Only %s are free where the record lies: make room before it is "   \
	   "full.")
#define SAY_FOOT_PRINTER                                                       \
	NN_("Printer %s, %ld label waits: %s",                                 \
	    "Printer %s, %ld labels wait: %s")
#define SAY_FOOT_UNSURE                                                        \
	NN_("%ld label may be half printed: F10 asks about it.",               \
	    "%ld labels may be half printed: F10 asks about them.")

#endif /* SCREENS_SAYS_TODAY_H */
