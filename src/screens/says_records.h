/* says_records.h - messages of Records.  Private to src/screens. */
#ifndef SCREENS_SAYS_RECORDS_H
#define SCREENS_SAYS_RECORDS_H

#include "base/say.h"

/* its pages */
#define SAY_PAGE_KEY N_(" %s %s ") /* key, page */
#define SAY_PAGE_DAY N_("Day sheet")
#define SAY_PAGE_YIELDS N_("Yields")
#define SAY_PAGE_WASTE N_("Waste")
#define SAY_PAGE_EXPORT N_("Exports")
#define SAY_PAGE_BACKUP N_("Backup")
#define SAY_PAGE_CHECKS N_("Checks")
#define SAY_PAGE_TRAIL N_("Audit trail")

/* actions */
#define SAY_REC_DAY_HELP N_("The sheet of a day: what came in, was made, lost.")
#define SAY_REC_YIELDS_HELP N_("Yields week by week beside the published ones.")
#define SAY_REC_WASTE_HELP N_("What was thrown away, week by week.")
#define SAY_REC_EXPORT_HELP N_("Tables as CSV files in a folder.")
#define SAY_REC_BACKUP_HELP N_("Copies of the record on a stick.")
#define SAY_REC_CHECKS_HELP N_("Checks an inspector may ask for.")
#define SAY_REC_TRAIL_HELP N_("What was done, by whom, when.")
#define SAY_REC_GO N_("go to")
#define SAY_REC_GO_HELP N_("On the day sheet: another day.")
#define SAY_REC_PRINT N_("print")
#define SAY_REC_PRINT_HELP                                                     \
	N_("Print the day sheet, the yields or the waste on the roll.")
#define SAY_REC_OLDER N_("older")
#define SAY_REC_OLDER_HELP N_("Earlier weeks, an earlier day, older rows.")
#define SAY_REC_NEWER N_("newer")
#define SAY_REC_NEWER_HELP N_("Later weeks, a later day, newer rows.")
#define SAY_REC_OPEN N_("open")
#define SAY_REC_OPEN_HELP                                                      \
	N_("Choose a cut, begin an export or backup, read a row in full.")
#define SAY_REC_LOOK N_("look at the stick")
#define SAY_REC_LOOK_HELP N_("On Backup: which copies are there.")
#define SAY_REC_RESTORE N_("restore")
#define SAY_REC_RESTORE_HELP N_("On Backup: put a copy in place of the record.")
#define SAY_REC_MOVED N_("moved here")
#define SAY_REC_MOVED_HELP                                                     \
	N_("On Backup: the record was moved to this computer.")
#define SAY_REC_STOP N_("stop")
#define SAY_REC_STOP_HELP N_("End a backup or export that runs.")

/* day sheet */
#define SAY_DAY_GO N_("Which day?")
#define SAY_DAY_FIELD N_("Day")
#define SAY_DAY_HINT N_("today, yesterday, fri, 27.11 or -3")
#define SAY_DAY_PRINTED                                                        \
	NN_("The day sheet is on its way to the printer, %ld page.",           \
	    "The day sheet is on its way to the printer, %ld pages.")
#define SAY_REPORT_PRINTED                                                     \
	NN_("The report is on its way to the printer, %ld page.",              \
	    "The report is on its way to the printer, %ld pages.")

/* yields and waste */
#define SAY_WEEKS N_("%d weeks from %s")
#define SAY_WEEK N_("%2d %s") /* day and month of its Monday */
#define SAY_YIELDS_NONE                                                        \
	N_("No breakdown in these weeks that a yield can be read from.  The "  \
	   "first one recorded on F5 shows here.  o looks at earlier weeks.")
#define SAY_YIELD_OF N_("%s, %s to %s") /* species, bought form, cut */
#define SAY_YIELD_AT N_("%ld of %ld")
#define SAY_YIELD_WEEK                                                         \
	NN_("%7s  %ld breakdown, %s of %s", "%7s  %ld breakdowns, %s of %s")
#define SAY_YIELD_ASIDE                                                        \
	NN_("%ld breakdown not counted: too far from what was expected.",      \
	    "%ld breakdowns not counted: too far from what was expected.")
#define SAY_WEEK_EMPTY N_("none")
#define SAY_YIELD_PUBLISHED N_("published")
#define SAY_YIELD_PLANNED N_("planned")
#define SAY_YIELD_RANGE N_("%7s  (%s to %s)%s")
#define SAY_YIELD_UNVERIFIED N_("  unverified")
#define SAY_YIELD_NO_FIGURE N_("no published figure for this cut")
#define SAY_YIELD_LEARNED                                                      \
	NN_("%7s  learned from %ld breakdown in all",                          \
	    "%7s  learned from %ld breakdowns in all")
#define SAY_YIELD_SOURCE N_("Published: %s")
#define SAY_YIELD_PICK N_("Which cut?")
#define SAY_WASTE_NONE                                                         \
	N_("Nothing was broken down or thrown away in these weeks.  o looks "  \
	   "at earlier weeks.")
#define SAY_WASTE_BAR N_("thrown away; a full bar is %s")
#define SAY_WASTE_BOARD N_("at the board")
#define SAY_WASTE_SHARE N_("share")
#define SAY_WASTE_LATER N_("later")
#define SAY_WASTE_MISSING N_("missing")
#define SAY_WASTE_SUM                                                          \
	N_("In all %s of %s thrown away at the board (%s); kept trim %s and "  \
	   "frames %s; later %s discarded, %s missing.")

/* exports */
#define SAY_EXPORT_STOCK N_("what is on hand, first to expire first")
#define SAY_EXPORT_DAY N_("the day sheet")
#define SAY_EXPORT_TRACE N_("the chain of a batch or portion")
#define SAY_EXPORT_YIELDS N_("yields by week, species and cut, for a year")
#define SAY_EXPORT_WASTE N_("waste and discards by week, for a year")
#define SAY_EXPORT_AUDIT N_("the whole audit trail")
#define SAY_EXPORT_RECEIVING N_("what came in, with what each law asks for")
#define SAY_EXPORT_CHAIN N_("what happened to food, a row a thing")
#define SAY_EXPORT_EPCIS N_("the same as EPCIS 2.0, for other programs")
#define SAY_EXPORT_HEAD                                                        \
	N_("Tables as CSV files in a folder, such as that of a stick; epcis "  \
	   "is JSON.  A number or the arrows choose, Enter asks where to.")
#define SAY_EXPORT_ASK N_("Export")
#define SAY_EXPORT_FOLDER N_("Folder")
#define SAY_EXPORT_FOLDER_HINT N_("such as /media/pinbone")
#define SAY_EXPORT_DATE N_("Day")
#define SAY_EXPORT_SPAN N_("Days or code")
#define SAY_EXPORT_SPAN_HINT                                                   \
	N_("2026-11-30, 2026-11-01..2026-11-30, all, or a code")
#define SAY_EXPORT_CODE N_("Code")
#define SAY_EXPORT_CODE_HINT N_("of a batch or portion, typed or scanned")
#define SAY_EXPORT_THERE N_("Replace the file?")
#define SAY_EXPORT_THERE_TEXT                                                  \
	N_("%s is there already.  Enter replaces it, Esc leaves it as it is.")
#define SAY_EXPORT_RUNS N_("Export: %s  %s")
#define SAY_EXPORT_DONE N_("Exported: %s")
#define SAY_EXPORT_FAILED N_("The export was not made: %s")

/* backup */
#define SAY_BACKUP_NEVER                                                       \
	N_("There is no backup of this record yet.  Put a stick in, then "     \
	   "Enter.  Should this computer die tonight, all of it is gone.")
#define SAY_BACKUP_LAST N_("Last backup")
#define SAY_BACKUP_LAST_IN N_("%s in %s")
#define SAY_BACKUP_OLD                                                         \
	NN_("That is %ld day ago: make one, with Enter.",                      \
	    "That is %ld days ago: make one, with Enter.")
#define SAY_BACKUP_SIZE N_("The next one needs about %s.")
#define SAY_BACKUP_HOW                                                         \
	N_("Work may go on meanwhile.  A copy counts once it was read back "   \
	   "from the stick and is whole; a stick pulled before that leaves "   \
	   "the older ones as they were.")
#define SAY_BACKUP_ASK N_("Backup")
#define SAY_BACKUP_KEEP N_("Keep")
#define SAY_BACKUP_KEEP_HINT N_("so many copies stay there, the new one too")
#define SAY_BACKUP_KEEP_WRONG N_("1 to 999")
#define SAY_BACKUP_RUNS N_("Backup: %s  %s")
#define SAY_BACKUP_DONE N_("Backup made, read back and whole: %s")
#define SAY_BACKUP_FAILED N_("No backup was made: %s")
#define SAY_BACKUP_STICK N_("On the stick")
#define SAY_BACKUP_LOOKS N_("Looking at the stick  %s")
#define SAY_BACKUP_MB N_("%ld MB")

/* is the file whole, and at home */
#define SAY_WHOLE_NEVER N_("The file was not looked through yet.")
#define SAY_WHOLE_LAST N_("The file was found whole at the last look, %s.")
#define SAY_WHOLE_RUNS N_("The file is being looked through, beside.")
#define SAY_MOVED_FAULT                                                        \
	N_("This file worked on another computer.  Nothing is recorded here "  \
	   "until somebody says, with m, that the other one works no more.")
#define SAY_MOVED_ASK N_("Was the record moved here?")
#define SAY_MOVED_ASK_TEXT                                                     \
	N_("Two stations on copies of one record would give the same code to " \
	   "two trays.  Enter says that the other computer does not work "     \
	   "with "                                                             \
	   "it any more; Esc leaves all as it is.")
#define SAY_MOVED_DONE N_("The record works on this computer from now on.")

/* both */
#define SAY_RUN_BUSY N_("One is running already: wait, or stop it with s.")
#define SAY_RUN_STOPPED N_("stopped; nothing was kept")
#define SAY_RUN_DIED N_("it ended by itself")

/* audit trail */
#define SAY_TRAIL_HEAD N_("Rows %lld to %lld of %lld, newest first")
#define SAY_TRAIL_NONE N_("Nothing was recorded yet.")
#define SAY_TRAIL_ROW N_("Row %lld")

#endif /* SCREENS_SAYS_RECORDS_H */
